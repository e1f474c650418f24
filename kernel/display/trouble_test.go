package display

import (
	"errors"
	"fmt"
	"reflect"
	"testing"

	"cobber/kernel/diag"
	"cobber/kernel/source"
)

type failing struct{ d diag.Diagnostic }

func (f failing) Error() string               { return f.d.Summary }
func (f failing) Diagnostic() diag.Diagnostic { return f.d }

func TestExplain(t *testing.T) {
	cell := source.Cell{Name: "cell 3", Text: "m := 3\nx := m + y"}
	unknown := diag.New("name", cell, 16, 1, "undefined: y")
	unknown.Detail = "did you mean m?"
	tests := []struct {
		name string
		err  error
		want Trouble
	}{
		{"one fault", diag.List{unknown}, Trouble{"name error", "undefined: y", []string{
			"\x1b[1mcell 3, line 2, column 10: undefined: y\x1b[0m",
			"    x := m + y",
			"             ^",
			"    did you mean m?",
		}}},
		{"two faults", fmt.Errorf("wrapped: %w", diag.List{unknown, {Code: "syntax", Summary: "s", Pos: source.Position{Cell: "cell 3"}}}),
			Trouble{"name error", "undefined: y (and 1 more)", []string{
				"\x1b[1mcell 3, line 2, column 10: undefined: y\x1b[0m",
				"    x := m + y",
				"             ^",
				"    did you mean m?",
				"",
				"\x1b[1mcell 3: s\x1b[0m",
			}}},
		{"failed while running", failing{diag.Diagnostic{
			Code: "panic", Summary: "integer divide by zero", Pos: source.Position{Cell: "cell 1", Line: 2, Column: 3},
			SourceLine: "\treturn a / b", Detail: "m is bound", Width: 1,
			Related: []diag.Related{{Pos: source.Position{Cell: "cell 2", Line: 1, Column: 1}, Text: "called from here", SourceLine: "f(1, 0)"}},
		}}, Trouble{"panic", "integer divide by zero", []string{
			"\x1b[1mcell 1, line 2, column 3: integer divide by zero\x1b[0m",
			"    \treturn a / b",
			"    \t ^",
			"    m is bound",
			"cell 2, line 1, column 1: called from here",
			"    f(1, 0)",
		}}},
		{"interrupted", failing{diag.Diagnostic{Code: Interrupted, Summary: "the cell was stopped"}},
			Trouble{"interrupted", "the cell was stopped", []string{"\x1b[1mthe cell was stopped\x1b[0m"}}},
		{"any other", errors.New("first\nsecond"), Trouble{"error", "first", []string{"\x1b[1mfirst\x1b[0m", "second"}}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := Explain(test.err); !reflect.DeepEqual(got, test.want) {
				t.Errorf("got\n%q, want\n%q", got, test.want)
			}
			if got := WasInterrupted(test.err); got != (test.name == "interrupted") {
				t.Errorf("WasInterrupted is %v", got)
			}
		})
	}
}
