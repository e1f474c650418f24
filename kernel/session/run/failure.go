package run

import (
	"errors"
	"fmt"
	"go/token"
	"reflect"
	"runtime"
	"strings"

	"golang.org/x/tools/go/ssa"

	"cobber/stdlib/quantity"
)

// Call is one of the user's own calls: the function, and the place in it that was reached.
type Call struct {
	Function string
	Pos      token.Pos
	Repeated int // how many more calls follow from the same place, as in a recursion
}

// Failure is a panic that ended a run: Go's message, and the calls that led there, innermost first.
type Failure struct {
	Message string
	Kind    string // "panic", "runtime error", "dimension", "unit" or "exit"
	Value   any
	Calls   []Call
	// ExitCode is what a program would have ended with, where Kind is "exit".
	ExitCode int
}

func (f *Failure) Error() string { return f.Message }

// runtimeError is a runtime error that the executor finds itself; the texts are Go's.
type runtimeError string

func (e runtimeError) Error() string { return string(e) }
func (e runtimeError) RuntimeError() {}

// exitRequest is the panic of os.Exit and its kin.
type exitRequest struct {
	code int
	via  string
}

// goexit is the panic of runtime.Goexit: it ends the goroutine quietly.
type goexit struct{}

const maxTrace = 40

// calls lists the frames under way, innermost first.
func (g *routine) calls() []Call {
	var list []Call
	for fp := g.top; fp != nil && len(list) < maxTrace; fp = head(fp).parent {
		h := head(fp)
		if h.fn.synthetic && len(list) > 0 {
			continue
		}
		call := Call{Function: h.fn.name, Pos: token.Pos(h.pos)}
		if n := len(list) - 1; n >= 0 && list[n].Function == call.Function && list[n].Pos == call.Pos {
			list[n].Repeated++
			continue
		}
		list = append(list, call)
	}
	return list
}

func functionName(f *ssa.Function) string {
	name := f.Name()
	if r := f.Signature.Recv(); r != nil {
		of := strings.Replace(typeName(r.Type()), "main.", "", 1)
		if strings.HasPrefix(of, "*") {
			of = "(" + of + ")"
		}
		name = of + "." + name
	}
	return name
}

// failure turns a recovered panic into the error of the run.
func (g *routine) failure(value any) error {
	if value == error(ErrInterrupted) {
		return ErrInterrupted
	}
	if refused, ok := value.(*Refused); ok {
		if refused.Pos == token.NoPos && g.top != nil {
			refused.Pos = token.Pos(head(g.top).pos)
		}
		return refused
	}
	calls := g.trace
	if calls == nil {
		calls = g.calls()
	}
	if crossed := g.run.crossed.Swap(nil); crossed != nil {
		calls = append(append([]Call{}, *crossed...), calls...)
	}
	f := &Failure{Value: value, Calls: calls, Kind: "panic"}
	var rt runtime.Error
	switch v := value.(type) {
	case exitRequest:
		f.Kind, f.ExitCode, f.Message = "exit", v.code, fmt.Sprintf("%s ended the cell with code %d; the session goes on", v.via, v.code)
		return f
	case error:
		var dimension *quantity.DimensionError
		var unit *quantity.UnitError
		switch {
		case errors.As(v, &rt) && strings.HasPrefix(rt.Error(), "runtime error"):
			f.Kind = "runtime error"
		case errors.As(v, &dimension):
			f.Kind = "dimension"
		case errors.As(v, &unit):
			f.Kind = "unit"
		}
	}
	f.Message = panicText(value)
	return f
}

// panicText is what Go prints after "panic: ".
func panicText(value any) string {
	if b, ok := boxOf(value); ok {
		if err := b.asError(); err != nil {
			return err.Error()
		}
		if s, ok := b.callString("String"); ok {
			return s
		}
		return fmt.Sprintf(boxedPanic(b), b.record().name, value)
	}
	switch v := value.(type) {
	case error:
		return v.Error()
	case fmt.Stringer:
		return v.String()
	case string:
		return v
	case bool, int, int8, int16, int32, int64, uint, uint8, uint16, uint32, uint64, uintptr,
		float32, float64, complex64, complex128:
		return fmt.Sprint(v)
	}
	return fmt.Sprintf("%T(%v)", value, value)
}

// boxedPanic is how Go prints a panic with a value of a named basic type.
func boxedPanic(b box) string {
	if b.record().layout.Kind() == reflect.String {
		return "%s(%q)"
	}
	return "%s(%v)"
}
