package session

import (
	"errors"
	"fmt"
	"go/token"
	"strings"

	"cobber/kernel/diag"
	"cobber/kernel/session/check"
	"cobber/kernel/session/run"
)

// Failure is how a cell that had begun to run ended: by a panic, an exit or an interrupt.
type Failure struct {
	diagnostic diag.Diagnostic
	Cause      error
}

// Error prints what happened, the line, and the calls that led there.
func (f *Failure) Error() string { return strings.TrimPrefix(f.diagnostic.String(), ": ") }

// Unwrap gives the cause: a *run.Failure, a *run.Refused or run.ErrInterrupted.
func (f *Failure) Unwrap() error { return f.Cause }

// Diagnostic is the failure as it is shown: Code is its class, Related the calls, innermost first.
func (f *Failure) Diagnostic() diag.Diagnostic { return f.diagnostic }

func (s *Session) failure(program *check.Program, err error, bound []string) *Failure {
	f := &Failure{Cause: err}
	var failed *run.Failure
	var refused *run.Refused
	switch {
	case errors.Is(err, run.ErrInterrupted):
		f.diagnostic = diag.Diagnostic{Code: "interrupted", Summary: "interrupted"}
	case errors.As(err, &refused):
		f.diagnostic = s.located(refused.Pos, "refused", refused.Reason)
		f.diagnostic.Detail = refused.Instead
	case errors.As(err, &failed):
		f.diagnostic = s.traced(failed)
		if _, ok := failed.Value.(*inputError); ok {
			f.diagnostic.Code = "input"
		}
	default:
		f.diagnostic = diag.Diagnostic{Code: "panic", Summary: err.Error()}
	}
	if len(bound) > 0 {
		f.diagnostic.Detail = joinLines(f.diagnostic.Detail, "Bound before it stopped: "+strings.Join(bound, ", ")+".")
	}
	return f
}

func joinLines(a, b string) string {
	if a == "" {
		return b
	}
	return a + "\n" + b
}

// traced places a panic at the innermost line of a cell, and lists the calls that led there.
func (s *Session) traced(failed *run.Failure) diag.Diagnostic {
	calls := failed.Calls
	for len(calls) > 0 {
		if _, ok := s.now().Set.Position(calls[0].Pos); ok {
			break
		}
		calls = calls[1:]
	}
	if len(calls) == 0 {
		return diag.Diagnostic{Code: failed.Kind, Summary: failed.Message}
	}
	d := s.located(calls[0].Pos, failed.Kind, failed.Message)
	for i, call := range calls[1:] {
		cell, offset, ok := s.now().Set.Cell(call.Pos)
		if !ok {
			continue
		}
		text := "called " + shown(calls[i].Function)
		if n := calls[i].Repeated; n > 0 {
			text += fmt.Sprintf(", which had called itself %d times", n)
		}
		pos := cell.At(offset)
		d.Related = append(d.Related, diag.Related{Pos: pos, Text: text, SourceLine: cell.Line(pos.Line)})
	}
	return d
}

// shown is the name of a function as the user knows it; the dot is in names no cell can write.
func shown(function string) string {
	name, _, anonymous := strings.Cut(function, "$")
	name = strings.ReplaceAll(name, "·", "")
	if anonymous && name == "cell" {
		return "a function literal"
	}
	if anonymous {
		return "a function literal in " + name
	}
	return name
}

func (s *Session) located(pos token.Pos, code, summary string) diag.Diagnostic {
	cell, offset, ok := s.now().Set.Cell(pos)
	if !ok {
		return diag.Diagnostic{Code: code, Summary: summary}
	}
	return diag.New(code, cell, offset, 1, summary)
}
