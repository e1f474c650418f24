package session

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"cobber/kernel/diag"
	"cobber/kernel/session/check"
	"cobber/kernel/session/run"
	"cobber/kernel/source"
)

var updateRefusals = flag.Bool("update-refusals", false, "write refusals.md again, from what the session says")

const refusalsFile = "refusals.md"

// engineRefusals are what the executor refuses, beside what check refuses: cells, the last of which is
// refused, and what the refusal begins with.
var engineRefusals = []struct {
	begins string
	cells  []string
}{
	{"a finalizer cannot be set", []string{"import \"runtime\"\nruntime.SetFinalizer(new(int), func(*int) {})"}},
	{"the stack of cells has a limit", []string{"import \"runtime/debug\"\ndebug.SetMaxStack(1 << 20)"}},
	{"a limit on threads", []string{"import \"runtime/debug\"\ndebug.SetMaxThreads(10)"}},
	{"testing.Main would end", []string{"import \"testing\"\ntesting.Main(nil, nil, nil, nil)"}},
	{"reflect.NewAt reaches memory", []string{"import \"reflect\"\nv := reflect.ValueOf(new(int))\nreflect.NewAt(v.Type(), v.UnsafePointer())"}},
	{"package reflect cannot look into", []string{"type Sample struct{ Mass float64 }", "import \"reflect\"\nreflect.ValueOf(Sample{}).Field(0)"}},
	{"main.Job cannot be handed to a package", []string{"type Job struct{ Do func() }", "import \"encoding/json\"\n_, err := json.Marshal([]any{Job{}})"}},
	{"main.Grade cannot be handed to a package", []string{"type Grade float64\nfunc (g Grade) Percent() float64 { return 100 * float64(g) }", "import (\"os\"; \"text/template\")\ntemplate.Must(template.New(\"a\").Parse(\"{{.Percent}}\")).Execute(os.Stdout, Grade(0.1))"}},
	{"type atomic.Pointer[int] cannot be used", []string{"import \"sync/atomic\"\nvar p atomic.Pointer[int]"}},
	{"the generic function hash/maphash.Comparable", []string{"import \"hash/maphash\"\nmaphash.Comparable(maphash.MakeSeed(), 1)"}},
	{"an array of", []string{"var a [1 << 50]float64"}},
	{"a quantity cannot be the key of a map", []string{"func set[K comparable](x K) map[K]bool { return map[K]bool{x: true} }\nset(3`t`)"}},
	{"the address of a function variable", []string{"func try(f *func()) { (*f)() }", "import \"flag\"\ntry(&flag.Usage)"}},
}

// TestRefusals holds each refusal to an example, and the list of all of them to what the session says.
func TestRefusals(t *testing.T) {
	var out strings.Builder
	out.WriteString("# What Go allows and a cell refuses\n\nEach is said before the cell runs, where that can be known by then, and what to write instead. Written by `go test ./kernel/session -run Refusals -update-refusals`.\n")
	out.WriteString("\n## For what a cell is\n")
	for _, r := range check.Refusals {
		refused(t, &out, r.Example, "")
	}
	out.WriteString("\n## For what the executor cannot do as the Go compiler would\n")
	for _, r := range engineRefusals {
		refused(t, &out, r.cells, r.begins)
	}
	if *updateRefusals {
		if err := os.WriteFile(refusalsFile, []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	have, err := os.ReadFile(refusalsFile)
	if err != nil || string(have) != out.String() {
		t.Errorf("%s is stale (%v): run with -update-refusals", refusalsFile, err)
	}
}

// refused runs the cells and writes down what the last one is told.
func refused(t *testing.T, out *strings.Builder, cells []string, begins string) {
	t.Helper()
	s := New()
	defer s.Close()
	tell(t, s, cells[:len(cells)-1]...)
	last := source.Cell{Name: "cell", Count: len(cells), Text: cells[len(cells)-1]}
	d, ok := refusalIn(s.Run(context.Background(), last, &page{}).Err)
	if !ok || !strings.HasPrefix(d.Summary, begins) {
		t.Errorf("%q: told %q (refused: %v), want %q", last.Text, d.Summary, ok, begins)
		return
	}
	fmt.Fprintf(out, "\n**%s** %s\n\n```go\n%s\n```\n", d.Summary, strings.ReplaceAll(d.Detail, "\n", " "), strings.Join(cells, "\n"))
}

func refusalIn(err error) (diag.Diagnostic, bool) {
	var list diag.List
	if errors.As(err, &list) {
		for _, d := range list {
			if strings.HasPrefix(d.Code, "refused") {
				return d, true
			}
		}
	}
	var failed *Failure
	var why *run.Refused
	if errors.As(err, &failed) && errors.As(err, &why) {
		return failed.Diagnostic(), true
	}
	return diag.Diagnostic{Summary: fmt.Sprint(err)}, false
}
