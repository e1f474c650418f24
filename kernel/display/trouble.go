package display

import (
	"errors"
	"fmt"
	"strings"

	"cobber/kernel/diag"
)

// Trouble is an error of a cell in the three parts that front ends know.
type Trouble struct {
	Name      string   // the class of the error, such as "syntax error"
	Value     string   // what is wrong, one line
	Traceback []string // what is shown: place, source line, what to do
}

// Interrupted is the code of the diagnostic of a cell that was stopped.
const Interrupted = "interrupted"

// Unclassified is the name of the trouble of an error that says nothing of its
// class and place.
const Unclassified = "error"

// diagnosed is an error that happened while a cell ran and knows its place.
// Code is the class of the error, Related the calls that led there, innermost
// first, and Detail what the user should know or do.
type diagnosed interface {
	error
	Diagnostic() diag.Diagnostic
}

// Explain says what went wrong with a cell. err is what the session gave as the
// error of the cell: a diag.List of faults found before it ran, an error with
// the method Diagnostic() diag.Diagnostic, or any other error, which is shown
// by its text.
func Explain(err error) Trouble {
	if list, ok := errors.AsType[diag.List](err); ok && len(list) > 0 {
		return explainList(list)
	}
	if located, ok := errors.AsType[diagnosed](err); ok {
		return explainFailure(located.Diagnostic())
	}
	return Trouble{Name: Unclassified, Value: firstLine(err.Error()), Traceback: boldFirst(err.Error())}
}

// WasInterrupted says whether a cell ended because the user stopped it.
func WasInterrupted(err error) bool {
	located, ok := errors.AsType[diagnosed](err)
	return ok && located.Diagnostic().Code == Interrupted
}

func explainList(list diag.List) Trouble {
	t := Trouble{Name: className(list[0].Code), Value: list[0].Summary}
	if more := len(list) - 1; more > 0 {
		t.Value += fmt.Sprintf(" (and %d more)", more)
	}
	for i, d := range list {
		if i > 0 {
			t.Traceback = append(t.Traceback, "")
		}
		t.Traceback = append(t.Traceback, boldFirst(d.String())...)
	}
	return t
}

// explainFailure prints the calls below what happened, where a diagnostic of
// its own accord would print them too, but without their source lines.
func explainFailure(d diag.Diagnostic) Trouble {
	t := Trouble{Name: className(d.Code), Value: firstLine(d.Summary)}
	calls := d.Related
	d.Related = nil
	if d.Pos.Cell == "" {
		t.Traceback = boldFirst(strings.TrimPrefix(d.String(), ": "))
	} else {
		t.Traceback = boldFirst(d.String())
	}
	for _, call := range calls {
		line := call.Pos.String() + ": " + call.Text
		if source := strings.TrimSpace(call.SourceLine); source != "" {
			line += "\n    " + source
		}
		t.Traceback = append(t.Traceback, strings.Split(line, "\n")...)
	}
	return t
}

// className makes the name of an error's class from a diagnostic's code.
func className(code string) string {
	switch {
	case code == "":
		return Unclassified
	case code == Interrupted || strings.HasSuffix(code, "error"):
		return code
	case strings.ContainsRune(code, ' '), code == "panic":
		return code
	}
	return code + " error"
}

// Weights of a terminal, which notebooks understand: bold for what is wrong. No
// colour, as a terminal's red cannot be read on the red ground that front ends
// give to errors.
const bold, plain = "\x1b[1m", "\x1b[0m"

// boldFirst cuts a text into lines with the first one bold.
func boldFirst(text string) []string {
	lines := strings.Split(strings.ToValidUTF8(strings.TrimRight(text, "\n"), "\ufffd"), "\n")
	lines[0] = bold + lines[0] + plain
	return lines
}

func firstLine(text string) string {
	line, _, _ := strings.Cut(text, "\n")
	return strings.ToValidUTF8(line, "\ufffd")
}
