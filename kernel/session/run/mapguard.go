package run

import (
	"runtime"
	"sync/atomic"
)

// The Go runtime ends the process when it sees one goroutine write a map that another uses. Once a cell
// has started goroutines, uses of maps are therefore announced: two that meet fail the cell instead.
// Maps that compiled packages use at the same moment, as fmt does to print one, are not covered.

// stripe is where maps with like addresses are announced.
type stripe struct {
	state   atomic.Int32   // how many read, or -1 while one writes
	written atomic.Uintptr // the map that is written
	_       [48]byte       // a cache line each
}

var stripes [256]stripe

const (
	concurrentRead      = "concurrent map read and map write"
	concurrentWrite     = "concurrent map writes"
	concurrentIteration = "concurrent map iteration and map write"
)

// announced makes a step of one that uses the map in slot m; clash is Go's text for two that meet.
func (c *compiler) announced(m uintptr, clash string, step op) op {
	parallel := &c.Machine.parallel
	return func(fp pointer) {
		if parallel.Load() {
			announce(fp, m, clash, step)
			return
		}
		step(fp)
	}
}

func announce(fp pointer, m uintptr, clash string, step op) {
	key := *at[uintptr](fp, m)
	if key == 0 {
		step(fp)
		return
	}
	s := &stripes[key>>5%uintptr(len(stripes))]
	if clash == concurrentWrite {
		s.beginWriting(key)
		defer s.endWriting()
	} else {
		s.beginReading(key, clash)
		defer s.state.Add(-1)
	}
	step(fp)
}

func (s *stripe) beginWriting(key uintptr) {
	for !s.state.CompareAndSwap(0, -1) {
		if s.state.Load() < 0 && s.written.Load() == key {
			panic(fatal(concurrentWrite))
		}
		runtime.Gosched()
	}
	s.written.Store(key)
}

// endWriting forgets the map first: the next writer has the stripe before it says which map it writes.
func (s *stripe) endWriting() {
	s.written.Store(0)
	s.state.Store(0)
}

func (s *stripe) beginReading(key uintptr, clash string) {
	for {
		n := s.state.Load()
		if n >= 0 && s.state.CompareAndSwap(n, n+1) {
			return
		}
		if n < 0 && s.written.Load() == key {
			panic(fatal(clash))
		}
		runtime.Gosched()
	}
}

// parallelPackages call functions of cells on goroutines of their own.
var parallelPackages = map[string]bool{
	"net": true, "net/http": true, "net/http/httptest": true, "net/http/httputil": true, "net/rpc": true,
	"os/exec": true, "time": true, "context": true, "testing": true,
}
