// Package iter holds the functions of Go's package iter, for the executor. An
// iterator that is pulled runs in a goroutine of its own, and only while the
// puller waits for it.
package iter

import (
	"iter"
	"runtime"
)

// Pull turns an iterator into a function that gives its next value, and one
// that ends it. They may be called by several goroutines, but not at once.
func Pull[V any](seq iter.Seq[V]) (next func() (V, bool), stop func()) {
	pulled, stop := pull(func(yield func(V) bool) { seq(yield) })
	return pulled, stop
}

// Pull2 is Pull for an iterator over pairs.
func Pull2[K, V any](seq iter.Seq2[K, V]) (next func() (K, V, bool), stop func()) {
	type pair struct {
		key   K
		value V
	}
	pulled, stop := pull(func(yield func(pair) bool) {
		seq(func(k K, v V) bool { return yield(pair{k, v}) })
	})
	next = func() (K, V, bool) {
		p, ok := pulled()
		return p.key, p.value, ok
	}
	return next, stop
}

// turn is what passes between the puller and the iterator.
type turn[V any] struct {
	value    V
	ok       bool
	panicked any
	exited   bool // by runtime.Goexit
}

// puller is the state of one pulled iterator.
type puller[V any] struct {
	seq     func(yield func(V) bool)
	resume  chan bool // to the iterator: true for another value, false to end
	turns   chan turn[V]
	started bool
	done    bool
	running bool
}

func pull[V any](seq func(yield func(V) bool)) (next func() (V, bool), stop func()) {
	p := &puller[V]{seq: seq, resume: make(chan bool), turns: make(chan turn[V])}
	return p.next, p.stop
}

func (p *puller[V]) next() (V, bool) {
	if p.running {
		panic("iter.Pull: next called again before yield")
	}
	var none V
	if p.done {
		return none, false
	}
	return p.take(true)
}

func (p *puller[V]) stop() {
	if p.running {
		panic("iter.Pull: stop called again before yield")
	}
	if p.done {
		return
	}
	p.done = true
	if p.started {
		p.take(false)
	}
}

// take lets the iterator run until it yields or ends, and passes on how.
func (p *puller[V]) take(more bool) (V, bool) {
	p.running = true
	if !p.started {
		p.started = true
		go p.run()
	} else {
		p.resume <- more
	}
	got := <-p.turns
	p.running = false
	if got.panicked != nil {
		panic(got.panicked)
	}
	if got.exited {
		runtime.Goexit()
	}
	return got.value, got.ok
}

// run is the iterator's goroutine.
func (p *puller[V]) run() {
	last := turn[V]{exited: true}
	defer func() {
		if cause := recover(); cause != nil {
			last = turn[V]{panicked: cause}
		}
		p.done = true
		p.turns <- last
	}()
	p.seq(func(v V) bool {
		if p.done {
			return false
		}
		p.turns <- turn[V]{value: v, ok: true}
		return <-p.resume
	})
	last = turn[V]{}
}
