package check_test

import (
	"errors"
	"fmt"
	"go/scanner"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"cobber/kernel/diag"
	"cobber/kernel/session/check"
	"cobber/kernel/session/parse"
	"cobber/kernel/session/rewrite"
	"cobber/kernel/source"
	"cobber/stdlib/quantity"
)

// wanted is an error that a cell of testdata must give.
type wanted struct {
	pos  source.Position
	text string
	met  bool
}

func TestWantedErrors(t *testing.T) {
	files, err := filepath.Glob("testdata/*.txt")
	if err != nil || len(files) < 4 {
		t.Fatalf("%d files found, error %v", len(files), err)
	}
	for _, file := range files {
		if filepath.Base(file) == "README.txt" {
			continue
		}
		t.Run(filepath.Base(file), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			state := check.NewState(source.NewSet())
			for i, cell := range strings.Split(string(text), "\n---\n") {
				runWanted(t, state, source.Cell{Name: fmt.Sprintf("cell %d", i+1), Text: cell})
			}
		})
	}
}

func runWanted(t *testing.T, state *check.State, cell source.Cell) {
	t.Helper()
	want := wantedIn(t, cell)
	list := faultsOf(t, state, cell)
	for _, d := range list {
		text := fmt.Sprintf("[%s] %s", d.Code, d.Summary)
		if d.Detail != "" {
			text += " " + strings.ReplaceAll(d.Detail, "\n", " ")
		}
		found := false
		for i := range want {
			w := &want[i]
			if !w.met && w.pos == d.Pos && strings.Contains(text, w.text) {
				w.met, found = true, true
				break
			}
		}
		if !found {
			t.Errorf("not wanted at %v: %s", d.Pos, text)
		}
		for _, leak := range []string{"·", "float64 type", "main."} {
			if strings.Contains(d.String(), leak) {
				t.Errorf("%q in the text of an error:\n%v", leak, d)
			}
		}
	}
	for _, w := range want {
		if !w.met {
			t.Errorf("not reported at %v: %q", w.pos, w.text)
		}
	}
}

func faultsOf(t *testing.T, state *check.State, cell source.Cell) diag.List {
	t.Helper()
	tree, err := parse.Parse(state.Set, cell)
	var program *check.Program
	if err == nil {
		program, err = rewrite.Cell(state, tree, rewrite.Options{Dimension: presentDimension})
	}
	var list diag.List
	if err != nil && !errors.As(err, &list) {
		t.Fatalf("%s: %v", cell.Name, err)
	}
	if err == nil {
		state.Commit(program, program.Statements)
	}
	return list
}

// presentDimension plays a running session in which every variable whose name
// ends in "Mass" holds a mass.
func presentDimension(name string) (quantity.Dimension, bool) {
	return quantity.Of(1, "t").Dimension(), strings.HasSuffix(name, "Mass")
}

// wantedIn reads the WANT comments of a cell.
func wantedIn(t *testing.T, cell source.Cell) []wanted {
	t.Helper()
	file := token.NewFileSet().AddFile("", -1, len(cell.Text))
	var sc scanner.Scanner
	sc.Init(file, []byte(cell.Text), nil, scanner.ScanComments)
	var list []wanted
	last := 0
	for {
		pos, kind, lit := sc.Scan()
		switch {
		case kind == token.EOF:
			return list
		case kind == token.COMMENT && strings.HasPrefix(lit, "/* WANT"):
			shiftText, quoted, _ := strings.Cut(strings.TrimSuffix(strings.TrimPrefix(lit, "/* WANT"), " */"), " ")
			shift := 0
			if shiftText != "" {
				n, err := strconv.Atoi(strings.TrimPrefix(shiftText, "+"))
				if err != nil {
					t.Fatalf("%s: %s: %v", cell.Name, lit, err)
				}
				shift = n
			}
			text, err := strconv.Unquote(quoted)
			if err != nil {
				t.Fatalf("%s: %s: %v", cell.Name, lit, err)
			}
			at := cell.At(last)
			at.Column += shift
			list = append(list, wanted{pos: at, text: text})
		case kind != token.COMMENT && !(kind == token.SEMICOLON && lit == "\n"):
			last = file.Offset(pos)
		}
	}
}
