package session

import (
	"context"
	"fmt"
	"strings"
	"sync"
	"testing"

	"cobber/kernel/source"
	"cobber/stdlib/bound"
	"cobber/stdlib/show"
)

// notes gathers what the session says beside the output of cells.
type notes struct {
	mu   sync.Mutex
	list []string
}

func (n *notes) Stream(string, string) {}

func (n *notes) Event(e show.Event) {
	n.mu.Lock()
	defer n.mu.Unlock()
	for _, value := range e.Values {
		if note, ok := value.(bound.Note); ok {
			n.list = append(n.list, string(note))
		}
	}
}

// A visit is one run of a cell: id is by what the front end knows it.
type visit struct{ id, text string }

// visited runs cells one after the other, and returns what the last one noted
// and which cells are out of date at the end.
func visited(t *testing.T, cells ...visit) (note, outdated string) {
	t.Helper()
	s := New()
	defer s.Close()
	for i, cell := range cells {
		out := &notes{}
		outcome := s.Run(context.Background(), source.Cell{Name: fmt.Sprintf("cell %d", i+1), Count: i + 1, Text: cell.text, ID: cell.id}, out)
		if outcome.Err != nil {
			t.Fatalf("%s: %v", cell.text, outcome.Err)
		}
		note = strings.Join(out.list, "\n")
	}
	var list []string
	for _, c := range (names{s}).Stale() {
		list = append(list, c.Cell+": "+c.Why)
	}
	return note, strings.Join(list, "; ")
}

func TestOutdatedCells(t *testing.T) {
	tests := []struct {
		name     string
		cells    []visit
		outdated string
		noted    string // part of the last note; empty for none
	}{
		{"nothing has changed", []visit{{"a", "feed := 36.5`t/h`"}, {"b", "feed * 8`h`"}}, "", ""},
		{"an edited cell", []visit{{"a", "feed := 36.5`t/h`"}, {"b", "feed * 8`h`"}, {"a", "feed := 40`t/h`"}},
			"cell 2: feed was changed by cell 3", "Out of date now: cell 2 (feed was changed by cell 3)."},
		{"run again with the same value", []visit{{"a", "feed := 36.5`t/h`"}, {"b", "feed * 8`h`"}, {"a", "feed := 36.5`t/h`"}}, "", ""},
		{"brought up to date", []visit{{"a", "feed := 36.5`t/h`"}, {"b", "feed * 8`h`"}, {"a", "feed := 40`t/h`"}, {"b", "feed * 8`h`"}}, "", ""},
		{"by way of another cell", []visit{{"a", "x := 1"}, {"b", "y := 2 * x"}, {"c", "y + 1"}, {"a", "x := 2"}},
			"cell 2: x was changed by cell 4; cell 3: y is of cell 2, which is out of date", "cell 3 (y is of cell 2"},
		{"values that are out of date are used", []visit{{"a", "x := 1"}, {"b", "y := 2 * x"}, {"a", "x := 2"}, {"c", "y + 1"}},
			"cell 2: x was changed by cell 3; cell 4: y is of cell 2, which is out of date", "This cell has used values that are out of date: y is of cell 2"},
		{"through a function", []visit{{"a", "x := 1"}, {"b", "func f() int { return x }"}, {"c", "func g() int { return f() }"}, {"d", "g()"}, {"a", "x := 2"}},
			"cell 4: x was changed by cell 5", "cell 4"},
		{"a function is another", []visit{{"a", "func f() int { return 1 }"}, {"b", "f()"}, {"a", "func f() int { return 2 }"}},
			"cell 2: f was changed by cell 3", "cell 2"},
		{"through a method", []visit{{"a", "x := 1"}, {"b", "type T struct{}\nfunc (T) M() int { return x }\nvar v T"}, {"c", "v.M()"}, {"a", "x := 2"}},
			"cell 3: x was changed by cell 4", "cell 3"},
		{"an element", []visit{{"a", "list := []int{1, 2}"}, {"b", "list[0]"}, {"c", "list[0] = 5"}}, "cell 2: list was changed by cell 3", ""},
		{"a function assigns", []visit{{"a", "x := 1"}, {"b", "x + 1"}, {"c", "func set() { x = 5 }"}, {"d", "set()"}}, "cell 2: x was changed by cell 4", ""},
		{"a cell changes what it reads", []visit{{"a", "x := 1"}, {"b", "x = x + 1\nx"}}, "", ""},
		{"a name bound and read in the same cell", []visit{{"a", "err := 1\n_ = err"}, {"b", "err := 2\n_ = err"}}, "", ""},
		{"what is only assigned is not read", []visit{{"a", "x := 1"}, {"b", "x = 2"}, {"a", "x := 3"}}, "", ""},
		{"no identity, the same names bound", []visit{{"", "feed := 1"}, {"", "feed + 1"}, {"", "feed := 2"}}, "cell 2: feed was changed by cell 3", "cell 2"},
		{"a later cell is no edited one", []visit{{"a", "n := 1"}, {"b", "n + 1"}, {"c", "n := 2"}}, "cell 2: n was changed by cell 3", ""},
		{"a pointer method", []visit{{"a", "import \"strings\"\nvar b strings.Builder"}, {"b", "b.Len()"}, {"a2", "b.WriteString(\"x\")"}}, "cell 2: b was changed by cell 3", ""},
		{"an earlier meaning", []visit{{"a", "x := 1"}, {"b", "x := float64(x) / 2\nx"}, {"a", "x := 3"}}, "cell 2: x was changed by cell 3", "cell 2"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			note, outdated := visited(t, test.cells...)
			if outdated != test.outdated {
				t.Errorf("out of date: %q, want %q", outdated, test.outdated)
			}
			if (note == "") != (test.noted == "") || !strings.Contains(note, test.noted) {
				t.Errorf("the last cell noted %q, want %q", note, test.noted)
			}
		})
	}
}

func TestForgottenNamesMakeNothingOutOfDate(t *testing.T) {
	_, outdated := visited(t, visit{"a", "x := []int{1}"}, visit{"b", "len(x)"}, visit{"a", "x := []int{2}"}, visit{"c", `bound.Forget("x")`})
	if outdated != "" {
		t.Errorf("out of date: %s", outdated)
	}
}

func TestACellAsksWhatIsOutOfDate(t *testing.T) {
	s := New()
	defer s.Close()
	var last Outcome
	for i, cell := range []visit{{"a", "x := 1"}, {"b", "x + 1"}, {"a", "x := 2"}, {"c", "bound.Names().String()"}} {
		last = s.Run(context.Background(), source.Cell{Name: fmt.Sprintf("cell %d", i+1), Count: i + 1, Text: cell.text, ID: cell.id}, &notes{})
	}
	if last.Err != nil {
		t.Fatal(last.Err)
	}
	list := (names{s}).Stale()
	if len(list) != 1 || list[0].Code != "x + 1" {
		t.Errorf("out of date: %+v", list)
	}
}
