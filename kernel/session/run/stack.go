package run

import (
	"reflect"
	"runtime"
	"strings"
)

// The stack of a goroutine has a limit beyond which the Go runtime ends the process, so recursion is
// bounded here. A frame of a cell takes up to 1 KB of it, an entry from compiled code up to 9 KB;
// the limits together stay below the 1 GB that the runtime allows.
const (
	maxDepth   = 400_000 // calls of one routine
	maxEntries = 1_000   // entries under way; with more, a goroutine may be only so deep:
	maxFrames  = 15_000  // calls of Go's own
	maxEntered = 200_000 // calls of all such routines together, counted in steps
	depthStep  = 32
)

var errDepth = runtimeError("stack overflow: the recursion is too deep")

// deepStack tells whether the goroutine has come through many calls. Entries are counted together, and
// thousands of goroutines may have one each.
func deepStack() bool {
	var pcs [1]uintptr
	return runtime.Callers(maxFrames, pcs[:]) > 0
}

// deeper counts a step of calls; shallower takes it back.
func (g *routine) deeper() {
	tooDeep := g.depth > maxDepth
	if g.entered {
		tooDeep = g.run.entered.Add(depthStep) > maxEntered || tooDeep
	}
	if tooDeep {
		overflow(g.run)
	}
}

// overflow panics. Whether the panic will be met is found out once, not at each of the entries it passes.
func overflow(run *Run) {
	run.overflowing.Store(ownGoroutine())
	panic(errDepth)
}

func (g *routine) shallower() {
	if g.entered {
		g.run.entered.Add(-depthStep)
	}
}

// unwindTo sets the depth after a panic, which passes the calls by.
func (g *routine) unwindTo(depth int) {
	if g.entered {
		g.run.entered.Add(int64(depth/depthStep-g.depth/depthStep) * depthStep)
	}
	g.depth = depth
}

// ---- the bottom of a goroutine

// bottoms are the functions of this package that recover at the bottom of a goroutine.
var bottoms = []string{".(*Machine).atBottom", ".(*routine).atBottom"}

var ownPackage = reflect.TypeFor[routine]().PkgPath()

// ownGoroutine reports whether this package started the goroutine or called the first of its cells, so
// that a panic that goes on is recovered there. Otherwise a panic would end the process.
func ownGoroutine() bool {
	pcs := make([]uintptr, 1<<10)
	n := runtime.Callers(1, pcs)
	for n == len(pcs) {
		pcs = make([]uintptr, 8*len(pcs))
		n = runtime.Callers(1, pcs)
	}
	for _, pc := range pcs[max(0, n-6):n] { // the bottom comes last, with wrappers of the compiler
		rest, ours := strings.CutPrefix(functionAt(pc), ownPackage)
		for _, bottom := range bottoms {
			if ours && strings.HasPrefix(rest, bottom) {
				return true
			}
		}
	}
	return false
}

func functionAt(pc uintptr) string {
	frame, _ := runtime.CallersFrames([]uintptr{pc}).Next()
	return frame.Function
}

// strayed handles a panic in a call from compiled code at the bottom of a goroutine that nobody here
// watches. It is reported, and the goroutine ends in quiet; where compiled code waits for an error, it
// gets one instead, and can go on.
func (f *function) strayed(g *routine, frame pointer, value any) {
	err := g.report(value)
	g.unwindTo(0)
	g.top, g.trace = nil, nil
	if n := len(f.results); n > 0 && f.results[n-1].layout == errorType {
		*at[error](frame, f.results[n-1].offset) = err
		return
	}
	f.machine.entries.Add(-1)
	runtime.Goexit()
}
