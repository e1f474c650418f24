package program

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"cobber/kernel/display"
	"cobber/kernel/session"
	"cobber/kernel/source"
	"cobber/stdlib/show"
)

func cellsOf(texts []string) []Cell {
	var cells []Cell
	for i, text := range texts {
		cells = append(cells, Cell{Cell: source.Cell{Name: fmt.Sprintf("cell %d", i+1), Count: i + 1, Text: text}})
	}
	return cells
}

// stories are runs of cells; the program must print what the session shows.
var stories = map[string][]string{
	"operators": {
		"feed := 36.5`t/h` // wet\n\n// The grade is by assay.\ngrade := 6.2`%`\nmetal := feed * grade\nmetal * 8`h`",
		"x := 3.0\nn := 2\n(feed + 1`kg/s`) / 2 * x * n - -feed",
		"feed > 10`t/h`",
		"feed == 36.5`t/h` && feed != 1`t/h` && !(feed <= 1`t/h`) && feed >= 36500`kg/h`",
		"feed += 1`t/h`\nfeed *= 2\nr := grade\nr++\nshow.Value(feed, r)",
	},
	"functions": {
		"import \"math\"\nk, t := 0.5`1/min`, 2`min`\nmath.Exp(-k*t)",
		"math.Sin(30`°`)",
		"math.Pow(k*t, 2)",
		"min(3`t`, 2000`kg`)",
		"// twice is one more\nfunc twice(q quantity.Quantity) quantity.Quantity {\n\tif q > 1`t` { // large\n\t\treturn q * 2\n\t}\n\treturn 0\n}\ntwice(2`t`)",
		"twice(0.5`t`)",
	},
	"zero": {
		"func none() quantity.Quantity { return 0 }\nnone() + 5`t`",
		"5`t` > 0 && 0 < 5`t` && 0 != 5`t`",
		"r := 5`t`\nr = 0\nr + 1`h`",
		"list := []quantity.Quantity{0, 2`t`}\nmax(0, list[0]+list[1]) - 0",
		"for r = 0; r < 2`h`; r += 1`h` {\n\tshow.Value(r)\n}",
	},
	"names": {
		"x := 1\nx",
		"x := 2.5\nx",
		"x := x * 2\nx",
		"x := fmt.Sprint(x, \"!\")\n_ = x\nimport \"fmt\"",
		"x",
		"len := 3\nlen + 1",
		"plot := 4`t`\nplot",
		"func f(size float64) float64 { return size + 1 }\nf(2)",
		"y := 1", "y := \"a\"", "func g() string { y2 := 5; return fmt.Sprint(y, y2) }\ng()",
		"type ore struct{ Grade quantity.Quantity }\nlist := []ore{{2`%`}, {3`%`}}\nfor i := range list {\n\tlist[i].Grade *= 2\n}\nlist",
		"var total quantity.Quantity\nvar name, count = \"a\", 3\ncount",
		"fmt.Println(name, count, total.IsNothing())",
	},
	"values": {
		"func two() (int, error) { return 1, nil }\ntwo()",
		"\"text\"", "[]string{\"a\", \"b\"}", "map[string]float64{\"b\": 1, \"a\": 2}", "nil", "show.Value(3`t`, \"x\")", "1 / 3.0",
		"quantity.Seed(1)\nq, err := quantity.Normal(5`t`, 1`t`)\nshow.Check(err)\nq * 2",
		"for i := 0; i < 3; i++ {\n\tshow.Live(\"a\", i)\n}\n\"behind\"",
		"for i := 0; i < 3; i++ {\n\tdefer show.Value(i)\n}",
	},
}

type recorder struct {
	mu   sync.Mutex
	text strings.Builder
	live string // the last state of the one place that changes
}

func (r *recorder) Stream(name, text string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if name == "stdout" {
		r.text.WriteString(text)
	}
}

func (r *recorder) Event(e show.Event) {
	for _, value := range e.Values {
		if e.ID != "" {
			r.live = display.Text(value) + "\n"
			continue
		}
		r.Stream("stdout", display.Text(value)+"\n")
	}
}

// shown is what a session prints and shows.
func shown(t *testing.T, texts []string) string {
	t.Helper()
	s := session.New()
	defer s.Close()
	var out recorder
	for _, cell := range cellsOf(texts) {
		outcome := s.Run(context.Background(), cell.Cell, &out)
		if outcome.Err != nil {
			t.Fatalf("%s: %v", cell.Text, outcome.Err)
		}
		out.Stream("stdout", out.live)
		out.live = ""
		if data, _ := display.Bundles(outcome.Values...); data != nil {
			out.Stream("stdout", data["text/plain"].(string)+"\n")
		}
	}
	return out.text.String()
}

func needsGo(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("compiling the programs takes a while: not in -short runs")
	}
	if _, err := exec.LookPath("go"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("the go command is missing: install Go")
		}
		t.Skip("the go command is missing, so programs cannot be compiled")
	}
}

// compiled builds programs in one go, and returns where they lie.
func compiled(t *testing.T, programs map[string]map[string][]byte) string {
	t.Helper()
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	overlay := map[string]string{}
	args := []string{"build", "-overlay", filepath.Join(folder, "overlay.json"), "-o", filepath.Join(folder, "bin") + string(filepath.Separator)}
	for name, files := range programs {
		for file, text := range files {
			real := filepath.Join(folder, name+"-"+file)
			if err := os.WriteFile(real, text, 0o666); err != nil {
				t.Fatal(err)
			}
			overlay[filepath.Join(root, "kernel", "program", "written", name, file)] = real
		}
		args = append(args, "./kernel/program/written/"+name)
	}
	text, _ := json.Marshal(map[string]any{"Replace": overlay})
	if err := os.WriteFile(filepath.Join(folder, "overlay.json"), text, 0o666); err != nil {
		t.Fatal(err)
	}
	command := exec.Command("go", args...)
	command.Dir = root
	if said, err := command.CombinedOutput(); err != nil {
		for name, files := range programs {
			t.Logf("%s\n%s", name, files["main.go"])
		}
		t.Fatalf("go build: %v\n%s", err, said)
	}
	return filepath.Join(folder, "bin")
}

func run(t *testing.T, folder, program string, args ...string) (stdout, stderr string, err error) {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	command := exec.CommandContext(ctx, program, args...)
	command.Dir = folder
	var out, errs strings.Builder
	command.Stdout, command.Stderr = &out, &errs
	err = command.Run()
	return out.String(), errs.String(), err
}

// TestProgramsPrintWhatSessionsShow compiles the programs with the Go compiler.
func TestProgramsPrintWhatSessionsShow(t *testing.T) {
	needsGo(t)
	programs := map[string]map[string][]byte{}
	for name, texts := range stories {
		files, err := Write(name, cellsOf(texts))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		programs[name] = files
	}
	inputs := []string{"//cobber:inputs\nfeed := 36.5`t/h`\nname, n, on := \"a\", 3, false", "_ = feed * n\nname", "q, err := quantity.Normal(5`t`, 1`t`)\nshow.Check(err)"}
	files, err := Write("inputs", cellsOf(inputs))
	if err != nil {
		t.Fatal(err)
	}
	programs["inputs"] = files
	bin := compiled(t, programs)
	for name, texts := range stories {
		got, stderr, err := run(t, t.TempDir(), filepath.Join(bin, name))
		if err != nil {
			t.Errorf("%s: %v\n%s", name, err, stderr)
		}
		if diff := cmp.Diff(shown(t, texts), got); diff != "" {
			t.Errorf("%s: the program prints something else (-session +program):\n%s\n%s", name, diff, programs[name]["main.go"])
		}
	}
	t.Run("inputs", func(t *testing.T) { testInputs(t, filepath.Join(bin, "inputs")) })
}

func testInputs(t *testing.T, program string) {
	folder := t.TempDir()
	out, stderr, err := run(t, folder, program, "-feed=40 t/h", "-name", "b", "-n=2", "-on=true", "-results", "r.csv")
	if err != nil || out != "\"b\"\n" {
		t.Errorf("%q, %s, %v", out, stderr, err)
	}
	data, err := os.ReadFile(filepath.Join(folder, "r.csv"))
	if want := "feed (t/h),name,n,on,q (t),q standard deviation (t)\n40,b,2,true,"; err != nil || !strings.HasPrefix(string(data), want) {
		t.Errorf("results %s, %v, want %s…", data, err, want)
	}
	if out, _, err = run(t, folder, program, "-quiet"); err != nil || out != "" {
		t.Errorf("with -quiet: %q, %v", out, err)
	}
	for _, args := range [][]string{{"-feed=40 t"}, {"-feed=much"}, {"-feed=NaN t/h"}, {"-n=x"}, {"-other=1"}, {"argument"}} {
		if _, stderr, err := run(t, folder, program, args...); err == nil || stderr == "" {
			t.Errorf("%v is accepted", args)
		}
	}
}

func TestWhatAProgramCannotSay(t *testing.T) {
	tests := []struct {
		name  string
		cells []string
		want  string
	}{
		{"a function again", []string{"func f() int { return 1 }", "func f() int { return 2 }"}, "cell 2: it declares the function f anew"},
		{"a program", []string{"package main\n\nfunc main() {}"}, "it is a whole program"},
		{"init", []string{"func init() {}"}, "func init"},
		{"switch", []string{"q := 1`t`\nswitch q {\ncase 1`t`:\n}"}, "it switches on a quantity"},
		{"a place found by a call", []string{"l := []quantity.Quantity{1`t`}\nfunc i() int { return 0 }\nl[i()] += 1`t`"}, "the call would be made twice"},
		{"a type again", []string{"type T struct{ a int }\nvar x T", "type T struct{ b string }\nvar y T"}, "the type T"},
	}
	for _, test := range tests {
		_, err := Write("p", cellsOf(test.cells))
		var unwritable *Unwritable
		if !errors.As(err, &unwritable) || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: error %v, want one with %q", test.name, err, test.want)
		}
	}
	if _, err := Write("p", cellsOf([]string{"x := y"})); err == nil || !strings.Contains(err.Error(), "undefined: y") {
		t.Errorf("a cell that does not check: %v", err)
	}
}

func TestCommentsAreKept(t *testing.T) {
	cells := cellsOf([]string{"// Before.\nfeed := 36.5`t/h` // beside\n\n// f does something.\nfunc f() int {\n\t// inside\n\treturn 1\n}\n// at the end"})
	cells[0].Heading = "The feed"
	files, err := Write("p", cells)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"// The feed\n", "// Before.\n", "// beside", "// f does something.\nfunc f() int {\n\t// inside\n", "// at the end", "feed = quantity.Of(36.5, `t/h`)"} {
		if !strings.Contains(string(files["main.go"]), want) {
			t.Errorf("no %q in\n%s", want, files["main.go"])
		}
	}
}

// A flag sets what an input begins with, as run -set does: what the cell makes of
// it afterwards stays the cell's.
func TestFlagsSetDefinitionsOnly(t *testing.T) {
	files, err := Write("x", cellsOf([]string{"//cobber:inputs\nfeed := 40`t/h`\nfeed = 2 * feed\nvar n = 3\nn++\nn = n + 1"}))
	if err != nil {
		t.Fatal(err)
	}
	main := string(files["main.go"])
	for _, name := range []string{"feed", "n"} {
		if got := strings.Count(main, fmt.Sprintf("setInput(%q", name)); got != 1 {
			t.Errorf("%s is set %d times, want once:\n%s", name, got, main)
		}
	}
}
