package run

import (
	"bytes"
	"fmt"
	"go/token"
	"os"
	"runtime"
	"strings"
	"sync"

	"golang.org/x/tools/go/ssa"
)

// Package runtime's view of the stack, in the terms of a cell: the functions and lines of cells, and
// none of the executor's. A place gets a number that stands for its program counter.

type site struct {
	fn  *ssa.Function
	pos token.Pos
}

func (s site) entry() site {
	if s.fn == nil {
		return s
	}
	return site{s.fn, s.fn.Pos()}
}

// counters number the places that programs have asked for. A number leaves room for what programs
// add and subtract to come from the place of a return to that of its call.
type counters struct {
	mu     sync.Mutex
	sites  []site
	number map[site]uintptr
	funcs  map[*ssa.Function]*ownFunc
	known  map[*runtime.Func]*ownFunc
	frames map[*runtime.Frames][]uintptr
}

const (
	counterBase = ^uintptr(0)>>1 + 1
	counterStep = 16
)

// ownFunc gives a *runtime.Func an address of its own; what it says is said here.
type ownFunc struct {
	runtime.Func
	fn *ssa.Function
}

func newCounters() *counters {
	return &counters{number: map[site]uintptr{}, funcs: map[*ssa.Function]*ownFunc{},
		known: map[*runtime.Func]*ownFunc{}, frames: map[*runtime.Frames][]uintptr{}}
}

func (c *counters) counter(s site) uintptr {
	c.mu.Lock()
	defer c.mu.Unlock()
	pc, ok := c.number[s]
	if !ok {
		pc = counterBase + uintptr(len(c.sites))*counterStep + counterStep/2
		c.sites = append(c.sites, s)
		c.number[s] = pc
	}
	return pc
}

func (c *counters) site(pc uintptr) (site, bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if i := (pc - counterBase) / counterStep; pc >= counterBase && i < uintptr(len(c.sites)) {
		return c.sites[i], true
	}
	return site{}, false
}

func (c *counters) function(fn *ssa.Function) *runtime.Func {
	c.mu.Lock()
	defer c.mu.Unlock()
	f := c.funcs[fn]
	if f == nil {
		f = &ownFunc{fn: fn}
		c.funcs[fn], c.known[&f.Func] = f, f
	}
	return &f.Func
}

func (c *counters) own(f *runtime.Func) (*ssa.Function, bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if own := c.known[f]; own != nil {
		return own.fn, true
	}
	return nil, false
}

// maxSites is how many calls are told.
const maxSites = 256

// sites lists the calls under way from a frame outwards. A deferred function sees the calls of the
// panic that it runs for, behind Go's own function that runs it.
func sites(fp pointer) []site {
	var list []site
	for ; fp != nil && len(list) < maxSites; fp = head(fp).parent {
		h := head(fp)
		if h.defers != nil && h.defers.sites != nil {
			return append(append(list, site{}), h.defers.sites...)
		}
		if !h.fn.synthetic {
			list = append(list, site{h.fn.source, token.Pos(h.pos)})
		}
	}
	return list
}

// stackText is the stack as a trace writes it.
func stackText(fp pointer) []byte {
	var b bytes.Buffer
	b.WriteString("goroutine 1 [running]:\n")
	m := head(fp).fn.machine
	for _, s := range sites(fp) {
		if s.fn == nil {
			continue
		}
		file, line := m.place(s.pos)
		fmt.Fprintf(&b, "%s(...)\n\t%s:%d +0x0\n", symbolName(s.fn), file, line)
	}
	return b.Bytes()
}

func init() {
	add(map[string]intrinsic{
		"runtime/debug.Stack":      func(fp pointer, a, r []uintptr) { *at[[]byte](fp, r[0]) = stackText(fp) },
		"runtime/debug.PrintStack": func(fp pointer, a, r []uintptr) { os.Stderr.Write(stackText(fp)) },
		"runtime.Stack": func(fp pointer, a, r []uintptr) {
			*at[int](fp, r[0]) = copy(*at[[]byte](fp, a[0]), stackText(fp))
		},
	})
	add(map[string]intrinsic{
		"runtime.Caller": func(fp pointer, a, r []uintptr) {
			list, skip := sites(fp), *at[int](fp, a[0])
			known := skip >= 0 && skip < len(list)
			*at[bool](fp, r[3]) = known
			*at[uintptr](fp, r[0]), *at[string](fp, r[1]), *at[int](fp, r[2]) = 0, "", 0
			if !known {
				return
			}
			m := head(fp).fn.machine
			*at[uintptr](fp, r[0]) = m.counters.counter(list[skip])
			*at[string](fp, r[1]), *at[int](fp, r[2]) = m.place(list[skip].pos)
		},
		"runtime.Callers": func(fp pointer, a, r []uintptr) {
			list, into := sites(fp), *at[[]uintptr](fp, a[1])
			c := head(fp).fn.machine.counters
			n := 0
			for i := max(0, *at[int](fp, a[0])-1); i < len(list) && n < len(into); i++ {
				into[n] = c.counter(list[i])
				n++
			}
			*at[int](fp, r[0]) = n
		},
		"runtime.CallersFrames": func(fp pointer, a, r []uintptr) {
			c, frames := head(fp).fn.machine.counters, new(runtime.Frames)
			c.mu.Lock()
			c.frames[frames] = append([]uintptr(nil), *at[[]uintptr](fp, a[0])...)
			c.mu.Unlock()
			*at[*runtime.Frames](fp, r[0]) = frames
		},
		"(*runtime.Frames).Next": func(fp pointer, a, r []uintptr) {
			*at[runtime.Frame](fp, r[0]), *at[bool](fp, r[1]) = head(fp).fn.machine.nextFrame(*at[*runtime.Frames](fp, a[0]))
		},
		"runtime.FuncForPC": func(fp pointer, a, r []uintptr) {
			pc := *at[uintptr](fp, a[0])
			c := head(fp).fn.machine.counters
			if s, ok := c.site(pc); ok {
				*at[*runtime.Func](fp, r[0]) = c.function(s.fn)
				return
			}
			*at[*runtime.Func](fp, r[0]) = runtime.FuncForPC(pc)
		},
		"(*runtime.Func).Name": func(fp pointer, a, r []uintptr) {
			f := *at[*runtime.Func](fp, a[0])
			if fn, ok := head(fp).fn.machine.counters.own(f); ok {
				*at[string](fp, r[0]) = symbolName(fn)
				return
			}
			*at[string](fp, r[0]) = f.Name()
		},
		"(*runtime.Func).Entry": func(fp pointer, a, r []uintptr) {
			f := *at[*runtime.Func](fp, a[0])
			c := head(fp).fn.machine.counters
			if fn, ok := c.own(f); ok {
				*at[uintptr](fp, r[0]) = c.counter(site{fn: fn}.entry())
				return
			}
			*at[uintptr](fp, r[0]) = f.Entry()
		},
		"(*runtime.Func).FileLine": func(fp pointer, a, r []uintptr) {
			f, pc := *at[*runtime.Func](fp, a[0]), *at[uintptr](fp, a[1])
			m := head(fp).fn.machine
			if _, own := m.counters.own(f); own {
				s, _ := m.counters.site(pc)
				*at[string](fp, r[0]), *at[int](fp, r[1]) = m.place(s.pos)
				return
			}
			*at[string](fp, r[0]), *at[int](fp, r[1]) = f.FileLine(pc)
		},
	})
}

// place is the cell and the line of a position.
func (m *Machine) place(pos token.Pos) (file string, line int) {
	p := m.Program.Fset.Position(pos)
	if !p.IsValid() {
		return "??", 0
	}
	return p.Filename, p.Line
}

func (m *Machine) nextFrame(f *runtime.Frames) (frame runtime.Frame, more bool) {
	c := m.counters
	c.mu.Lock()
	list := c.frames[f]
	if len(list) == 0 {
		c.mu.Unlock()
		return frame, false
	}
	pc := list[0]
	c.frames[f] = list[1:]
	if len(list) == 1 {
		delete(c.frames, f)
	}
	c.mu.Unlock()
	frame.PC = pc
	if s, ok := c.site(pc); ok {
		frame.Func, frame.Function = c.function(s.fn), symbolName(s.fn)
		frame.File, frame.Line = m.place(s.pos)
		frame.Entry = c.counter(s.entry())
	}
	return frame, len(list) > 1
}

// symbolName is the name that package runtime has for a function.
func symbolName(f *ssa.Function) string {
	if f == nil {
		return "runtime.gopanic"
	}
	if outer := f.Parent(); outer != nil {
		number := f.Name()[strings.LastIndexByte(f.Name(), '$')+1:]
		if outer.Parent() == nil {
			number = "func" + number
		}
		return symbolName(outer) + "." + number
	}
	pkg := "main"
	if path := packageOf(f); path != "" {
		pkg = path
	}
	name := strings.ReplaceAll(functionName(f), "·", "")
	return pkg + "." + name
}
