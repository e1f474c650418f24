package run

import (
	"errors"
	"fmt"
)

// block is a basic block: steps, then where to go, with the moves that feed the next block's phis.
type block struct {
	ops       []op
	kind      uint8
	condition func(fp pointer) bool
	to        [2]*block
	moves     [2][]op
	back      [2]bool // a jump back: where interrupts are noticed
}

const (
	jump uint8 = iota
	branch
	leave
)

// ErrInterrupted is the panic and the error of a run that was stopped.
var ErrInterrupted = errors.New("interrupted")

// ErrLeft is an interrupt of a run that is still in a call of a compiled package, and was left there.
var ErrLeft = fmt.Errorf("%w, but a call of a compiled package did not stop: it was left to itself", ErrInterrupted)

// ErrGoexit is the end of a run whose own goroutine called runtime.Goexit.
var ErrGoexit error = &Failure{Kind: "exit", Message: "runtime.Goexit ended the cell; the session goes on"}

func (f *function) exec(fp pointer) {
	h := head(fp)
	g := h.g
	h.parent = g.top
	g.top = fp
	g.depth++
	if g.depth%depthStep == 0 {
		g.deeper()
	}
	if f.hasDefer {
		f.execDeferring(fp)
		g.depth--
		g.top = h.parent
		return
	}
	// The loop of steps, once more: a call less for each call of a cell's function.
	stopped := &g.run.stopped
	if stopped.Load() {
		panic(ErrInterrupted)
	}
	b := f.entry
	for {
		for _, o := range b.ops {
			o(fp)
		}
		way := 0
		switch b.kind {
		case branch:
			if !b.condition(fp) {
				way = 1
			}
		case leave:
			g.depth--
			g.top = h.parent
			return
		}
		for _, o := range b.moves[way] {
			o(fp)
		}
		if b.back[way] && stopped.Load() {
			panic(ErrInterrupted)
		}
		b = b.to[way]
	}
}

func (f *function) steps(fp pointer, b *block) {
	stopped := &head(fp).g.run.stopped
	if stopped.Load() {
		panic(ErrInterrupted)
	}
	for {
		for _, o := range b.ops {
			o(fp)
		}
		way := 0
		switch b.kind {
		case branch:
			if !b.condition(fp) {
				way = 1
			}
		case leave:
			return
		}
		for _, o := range b.moves[way] {
			o(fp)
		}
		if b.back[way] && stopped.Load() {
			panic(ErrInterrupted)
		}
		b = b.to[way]
	}
}

type deferStack struct {
	calls     []func()
	panicking bool
	value     any
	sites     []site // the calls under way when the panic began
	exiting   bool   // runtime.Goexit: deferred calls run, recover sees nothing
}

func (d *deferStack) pop() func() {
	last := len(d.calls) - 1
	call := d.calls[last]
	d.calls = d.calls[:last]
	return call
}

// attempt runs body and reports whether it panicked.
func attempt(body func()) (panicked bool, value any) {
	defer func() {
		if panicked {
			value = recover()
		}
	}()
	panicked = true
	body()
	panicked = false
	return
}

// unrecoverable panics end the run whatever a cell defers.
func unrecoverable(v any) bool {
	if v == error(ErrInterrupted) {
		return true
	}
	switch v.(type) {
	case exitRequest, *Refused, fatal:
		return true
	}
	return false
}

func (f *function) execDeferring(fp pointer) {
	h := head(fp)
	g := h.g
	d := &deferStack{}
	h.defers = d
	depth := g.depth
	panicked, value := attempt(func() {
		f.steps(fp, f.blocks[0])
		for len(d.calls) > 0 {
			d.pop()()
		}
	})
	if !panicked {
		return
	}
	f.unwind(fp, d, depth, value)
	g.trace = nil
	g.run.crossed.Store(nil)
	g.run.overflowing.Store(false)
	if f.recovered != nil {
		f.steps(fp, f.recovered)
		return
	}
	for _, r := range f.results {
		zeroOf(r.layout)(pointer(at[byte](fp, r.offset)))
	}
}

// unwind runs the deferred calls of a panicking function; it returns if one of them recovered.
func (f *function) unwind(fp pointer, d *deferStack, depth int, value any) {
	g := head(fp).g
	note := func(v any) {
		if g.trace == nil {
			g.trace, g.sites = g.calls(), sites(g.top)
		}
		d.sites = g.sites
		g.top = fp
		g.unwindTo(depth)
		if unrecoverable(v) {
			panic(v)
		}
		d.panicking, d.value = true, v
		_, d.exiting = v.(goexit)
	}
	note(value)
	for len(d.calls) > 0 {
		if panicked, v := attempt(d.pop()); panicked {
			g.trace = nil
			note(v)
		}
	}
	if d.panicking {
		panic(d.value)
	}
}
