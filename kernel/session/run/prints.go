package run

import (
	"fmt"
	"log"
	"os"
	"strings"

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
	"log.Print": logged(func(l *log.Logger, fp pointer, a []uintptr) { l.Print(*at[[]any](fp, a[0])...) }),
	"log.Println": logged(func(l *log.Logger, fp pointer, a []uintptr) {
		l.Println(*at[[]any](fp, a[0])...)
	}),
	"log.Printf": logged(func(l *log.Logger, fp pointer, a []uintptr) {
		args := *at[[]any](fp, a[1])
		l.Printf(askBoxes(*at[string](fp, a[0]), args), args...)
	}),
}

func logged(write func(l *log.Logger, fp pointer, a []uintptr)) printedText {
	return func(fp pointer, a []uintptr) (string, string, bool) {
		if log.Writer() != os.Stderr {
			return "", "", false
		}
		var b strings.Builder
		write(log.New(&b, log.Prefix(), log.Flags()), fp, a)
		return "stderr", b.String(), true
	}
}

// printing lets a call that prints print to its own cell after another has begun: a goroutine may
// outlive the cell that started it.
func (c *compiler) printing(callee *ssa.Function, cc *ssa.CallCommon, to []uintptr, usual op) op {
	text := printers[callee.RelString(nil)]
	if text == nil {
		return usual
	}
	args := make([]uintptr, len(cc.Args))
	for i, v := range cc.Args {
		args[i] = c.offset(v)
	}
	return func(fp pointer) {
		run := head(fp).g.run
		if run.Own == nil {
			usual(fp)
			return
		}
		own := run.Own()
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
