package run

import (
	"fmt"
	"io"
	"os"

	"golang.org/x/tools/go/ssa"
)

// printedText gives the text that a call prints; ok is false where it goes somewhere else.
type printedText func(fp pointer, a []uintptr) (stream, text string, ok bool)

// printers are the functions by which most goroutines print.
var printers = map[string]printedText{
	"fmt.Print": func(fp pointer, a []uintptr) (string, string, bool) {
		return "stdout", fmt.Sprint(*at[[]any](fp, a[0])...), true
	},
	"fmt.Println": func(fp pointer, a []uintptr) (string, string, bool) {
		return "stdout", fmt.Sprintln(*at[[]any](fp, a[0])...), true
	},
	"fmt.Printf": func(fp pointer, a []uintptr) (string, string, bool) {
		args := *at[[]any](fp, a[1])
		return "stdout", fmt.Sprintf(askBoxes(*at[string](fp, a[0]), args), args...), true
	},
	"fmt.Fprint":   printedTo(func(fp pointer, a []uintptr) string { return fmt.Sprint(*at[[]any](fp, a[1])...) }),
	"fmt.Fprintln": printedTo(func(fp pointer, a []uintptr) string { return fmt.Sprintln(*at[[]any](fp, a[1])...) }),
	"fmt.Fprintf": printedTo(func(fp pointer, a []uintptr) string {
		args := *at[[]any](fp, a[2])
		return fmt.Sprintf(askBoxes(*at[string](fp, a[1]), args), args...)
	}),
	"io.WriteString": func(fp pointer, a []uintptr) (string, string, bool) {
		stream, ok := standard(*at[io.Writer](fp, a[0]))
		return stream, *at[string](fp, a[1]), ok
	},
	"(*os.File).WriteString": func(fp pointer, a []uintptr) (string, string, bool) {
		stream, ok := standard(*at[*os.File](fp, a[0]))
		return stream, *at[string](fp, a[1]), ok
	},
	"(*os.File).Write": func(fp pointer, a []uintptr) (string, string, bool) {
		stream, ok := standard(*at[*os.File](fp, a[0]))
		return stream, string(*at[[]byte](fp, a[1])), ok
	},
}

// printedTo is the text of a call whose first argument says where it goes.
func printedTo(text func(fp pointer, a []uintptr) string) printedText {
	return func(fp pointer, a []uintptr) (string, string, bool) {
		stream, ok := standard(*at[io.Writer](fp, a[0]))
		if !ok {
			return "", "", false
		}
		return stream, text(fp, a), true
	}
}

// standard tells which of the process's streams a writer is.
func standard(w io.Writer) (stream string, ok bool) {
	switch w {
	case io.Writer(os.Stdout):
		return "stdout", true
	case io.Writer(os.Stderr):
		return "stderr", true
	}
	return "", false
}

// printing lets a call that prints print to its own cell after another has begun: a goroutine may
// outlive the cell that started it.
func (c *compiler) printing(callee *ssa.Function, cc *ssa.CallCommon, to []uintptr, usual op) op {
	name := callee.RelString(nil)
	if log := loggers[name]; log != nil {
		return c.logging(log, cc, usual)
	}
	text := printers[name]
	if text == nil {
		return usual
	}
	args := c.offsets(cc.Args)
	return func(fp pointer) {
		own := head(fp).g.run.own()
		if own == nil {
			usual(fp)
			return
		}
		stream, s, ok := text(fp, args)
		if !ok {
			usual(fp)
			return
		}
		own(stream, s)
		if len(to) == 2 {
			*at[int](fp, to[0]), *at[error](fp, to[1]) = len(s), nil
		}
	}
}
