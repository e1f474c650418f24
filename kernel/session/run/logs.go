package run

import (
	"go/token"
	"io"
	"log"
	"path/filepath"
	"strconv"
	"strings"

	"golang.org/x/tools/go/ssa"
)

// logCall is a call of a logger: the logger, and the call on another that writes elsewhere.
type logCall struct {
	logger func(fp pointer, a []uintptr) *log.Logger
	write  func(l *log.Logger, fp pointer, a []uintptr)
}

// loggers are the functions of package log that print; those that also end a program are in exits.go.
var loggers = map[string]*logCall{}

func init() {
	standard := func(pointer, []uintptr) *log.Logger { return log.Default() }
	given := func(fp pointer, a []uintptr) *log.Logger { return *at[*log.Logger](fp, a[0]) }
	for _, of := range []struct {
		name   string
		first  int
		logger func(pointer, []uintptr) *log.Logger
	}{{"log.", 0, standard}, {"(*log.Logger).", 1, given}} {
		loggers[of.name+"Print"] = &logCall{of.logger, func(l *log.Logger, fp pointer, a []uintptr) {
			l.Print(*at[[]any](fp, a[of.first])...)
		}}
		loggers[of.name+"Println"] = &logCall{of.logger, func(l *log.Logger, fp pointer, a []uintptr) {
			l.Println(*at[[]any](fp, a[of.first])...)
		}}
		loggers[of.name+"Printf"] = &logCall{of.logger, func(l *log.Logger, fp pointer, a []uintptr) {
			args := *at[[]any](fp, a[of.first+1])
			l.Printf(askBoxes(*at[string](fp, a[of.first]), args), args...)
		}}
	}
}

// logging lets a call of a logger tell the line of the cell, and print to the cell that it belongs to.
func (c *compiler) logging(call *logCall, cc *ssa.CallCommon, usual op) op {
	args := c.offsets(cc.Args)
	pos := int64(cc.Pos())
	return func(fp pointer) {
		l := call.logger(fp, args)
		if l == nil {
			usual(fp)
			return
		}
		own := head(fp).g.run.own()
		stream, ours := standard(l.Writer())
		ours = ours && own != nil
		if !ours && l.Flags()&(log.Lshortfile|log.Llongfile) == 0 {
			usual(fp)
			return
		}
		head(fp).pos = pos
		if !ours {
			call.write(inPlace(fp, l), fp, args)
			return
		}
		var b strings.Builder
		call.write(located(fp, l, &b), fp, args)
		own(stream, b.String())
	}
}

// inPlace is located where l writes.
func inPlace(fp pointer, l *log.Logger) *log.Logger { return located(fp, l, l.Writer()) }

// located is a logger like l, which writes the place of the cell where l would write that of the
// executor.
func located(fp pointer, l *log.Logger, w io.Writer) *log.Logger {
	const places = log.Lshortfile | log.Llongfile
	flags, prefix := l.Flags(), l.Prefix()
	if flags&places == 0 {
		return log.New(w, prefix, flags)
	}
	file, line := head(fp).fn.machine.place(token.Pos(head(fp).pos))
	if flags&log.Lshortfile != 0 {
		file = filepath.Base(file)
	}
	text := file + ":" + strconv.Itoa(line) + ": "
	if flags&log.Lmsgprefix != 0 {
		return log.New(w, text+prefix, flags&^places)
	}
	return log.New(prefixed{prefix, w}, text, flags&^places|log.Lmsgprefix)
}

// prefixed puts a text before each line that a logger writes, which it does at once.
type prefixed struct {
	prefix string
	w      io.Writer
}

func (p prefixed) Write(line []byte) (int, error) {
	_, err := p.w.Write(append([]byte(p.prefix), line...))
	return len(line), err
}
