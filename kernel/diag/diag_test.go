package diag

import (
	"testing"

	"cobber/kernel/source"
)

func TestTexts(t *testing.T) {
	cell := source.Cell{Name: "cell 3", Text: "x := 1\n\tµ := fead * 2\nfeed"}
	related := New("name", cell, 8, 4, "undefined: fead")
	related.Related = []Related{{Pos: cell.At(23), Text: "feed is here", SourceLine: "feed"}}
	detailed := New("name", cell, 14, 4, "undefined: fead")
	detailed.Detail = "Did you mean feed?\nOr not?"
	tests := []struct {
		name string
		d    Diagnostic
		want string
	}{
		{"mark under a tab and letters of several bytes", detailed,
			"cell 3, line 2, column 7: undefined: fead\n    \tµ := fead * 2\n    \t     ^^^^\n    Did you mean feed?\n    Or not?"},
		{"no longer than the line", New("syntax", cell, 4, 99, "wrong"), "cell 3, line 1, column 5: wrong\n    x := 1\n        ^^"},
		{"at the end of the line", New("syntax", cell, 6, 0, "wrong"), "cell 3, line 1, column 7: wrong\n    x := 1\n          ^"},
		{"related place", related,
			"cell 3, line 2, column 2: undefined: fead\n    \tµ := fead * 2\n    \t^^^^\ncell 3, line 3, column 1: feed is here"},
		{"no line to show", Diagnostic{Summary: "wrong", Pos: source.Position{Cell: "cell 3"}}, "cell 3: wrong"},
	}
	for _, test := range tests {
		if got := test.d.String(); got != test.want {
			t.Errorf("%s: got\n%s\nwant\n%s", test.name, got, test.want)
		}
	}
}

func TestSorted(t *testing.T) {
	cell := source.Cell{Name: "cell 1", Text: "a\nb c"}
	list := List{New("x", cell, 4, 1, "third"), New("x", cell, 0, 1, "first"), New("x", cell, 2, 1, "second"), New("x", cell, 0, 1, "first")}
	var got []string
	for _, d := range list.Sorted(0) {
		got = append(got, d.Summary)
	}
	if len(got) != 3 || got[0] != "first" || got[1] != "second" || got[2] != "third" {
		t.Errorf("sorted: %q", got)
	}
	if n := len(list.Sorted(2)); n != 2 {
		t.Errorf("%d faults, want 2", n)
	}
	if list[0].Summary != "third" {
		t.Error("the list itself has been changed")
	}
	if List(nil).OrNil() != nil || list.OrNil() == nil {
		t.Error("an empty list is no error, any other is")
	}
}
