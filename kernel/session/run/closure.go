package run

import (
	"go/types"
	"reflect"
	"sync"
	"sync/atomic"
	"unsafe"
)

// closure is a function value in a cell's memory: a function of a cell with what it captured, or a
// function of compiled code.
type closure struct {
	fn     *function
	words  []pointer // captured values of one pointer word, in order
	others []any     // *T of the layouts of the other captured values
	native reflect.Value

	fast   func(args, results []pointer) // native, called without reflection
	export atomic.Pointer[reflect.Value] // fn as compiled code calls it
}

// bind copies the captured values into a frame.
func (c *closure) bind(frame pointer) {
	for i := range c.fn.captured {
		v := &c.fn.captured[i]
		if v.pointer {
			*at[pointer](frame, v.offset) = c.words[v.index]
			continue
		}
		v.move(unsafe.Add(frame, v.offset), reflect.ValueOf(c.others[v.index]).UnsafePointer())
	}
}

// foreign wraps a function of compiled code.
func (m *Machine) foreign(f reflect.Value) *closure {
	if f.IsNil() {
		return nil
	}
	return &closure{native: f, fast: fastCall(f)}
}

// functionShape remembers how the parameters of one function type cross, worked out on first use.
type functionShape struct {
	once    sync.Once
	in, out []crossing
}

func (s *functionShape) prepare(m *Machine, signature *types.Signature, t reflect.Type) {
	s.once.Do(func() {
		m.compiling.Lock()
		defer m.compiling.Unlock()
		for i := range signature.Params().Len() {
			s.in = append(s.in, m.crossingTo(signature.Params().At(i).Type(), t.In(i)))
		}
		for i := range signature.Results().Len() {
			s.out = append(s.out, m.crossingTo(signature.Results().At(i).Type(), t.Out(i)))
		}
	})
}

// exported gives the function that compiled code calls.
func (m *Machine) exported(c *closure, t reflect.Type, signature *types.Signature, shape *functionShape) reflect.Value {
	switch {
	case c == nil:
		return reflect.Zero(t)
	case c.native.IsValid():
		return c.native.Convert(t)
	}
	if v := c.export.Load(); v != nil {
		return v.Convert(t)
	}
	v, ok := typedEntry(c, t)
	if !ok {
		shape.prepare(m, signature, t)
		v = reflect.MakeFunc(t, func(args []reflect.Value) []reflect.Value { return c.reflected(shape, t, args) })
	}
	c.export.Store(&v)
	return v.Convert(t)
}

// reflected runs the closure for a caller that came through reflection.
func (c *closure) reflected(shape *functionShape, t reflect.Type, args []reflect.Value) []reflect.Value {
	g, frame := c.begin()
	fn := head(frame).fn
	for i, a := range args {
		p := reflect.New(t.In(i))
		p.Elem().Set(a)
		shape.in[i].enter(unsafe.Add(frame, fn.params[i].offset), p.UnsafePointer())
	}
	fn.inside(g, frame)
	results := make([]reflect.Value, len(fn.results))
	for i := range results {
		p := reflect.New(t.Out(i))
		shape.out[i].leave(p.UnsafePointer(), unsafe.Add(frame, fn.results[i].offset))
		results[i] = p.Elem()
	}
	fn.leave(g, frame)
	return results
}

// ---- entering the executor from compiled code

func (c *closure) begin() (*routine, pointer) {
	g, frame := c.fn.enter()
	c.bind(frame)
	return g, frame
}

// enter takes a routine and a frame for a call that comes from compiled code.
func (f *function) enter() (*routine, pointer) {
	m := f.machine
	// Looking at the stack takes its time, so not every entry does.
	if n := m.entries.Add(1); n > maxEntries && n%32 == 0 && deepStack() {
		m.entries.Add(-1)
		overflow(m.current.Load())
	}
	run := m.current.Load()
	if run.overflowing.Load() { // compiled code has met the panic, as fmt does
		run.overflowing.Store(false)
	}
	g, _ := run.spare.Get().(*routine)
	if g == nil {
		g = newRoutine(run)
		g.entered = true
	}
	return g, f.get(g)
}

// inside runs the function. A panic goes on through compiled code, its calls noted, where a cell waits
// below; at the bottom of a goroutine of compiled code it must not.
func (f *function) inside(g *routine, frame pointer) {
	done := false
	defer func() {
		if done {
			return
		}
		if !g.run.overflowing.Load() && !ownGoroutine() {
			if value := recover(); value != nil { // nil: runtime.Goexit of compiled code
				f.strayed(g, frame, value)
				return
			}
		}
		f.machine.entries.Add(-1)
		calls := g.trace
		if calls == nil {
			calls = g.calls()
		}
		g.unwindTo(0)
		g.run.crossed.CompareAndSwap(nil, &calls)
	}()
	f.exec(frame)
	done = true
}

func (f *function) leave(g *routine, frame pointer) {
	f.machine.entries.Add(-1)
	f.put(g, frame)
	g.top, g.trace, g.depth = nil, nil, 0
	g.run.spare.Put(g)
}

// report tells the run of a panic at the bottom of a goroutine, and gives the error it amounts to.
func (g *routine) report(value any) error {
	if _, quiet := value.(goexit); quiet || value == nil {
		return nil
	}
	err := g.failure(value)
	switch e := err.(type) {
	case *Failure:
		if unrecoverable(value) { // it ends the cell, as it would the process
			g.run.ends.CompareAndSwap(nil, e)
			g.run.Stop()
		} else if g.run.Report != nil {
			g.run.Report(e)
		}
	case *Refused:
		if g.run.Report != nil {
			g.run.Report(&Failure{Message: e.Error(), Kind: "refused", Value: e, Calls: []Call{{Pos: e.Pos}}})
		}
	}
	return err
}

// atBottom runs a call at the bottom of a goroutine that the run has counted as live.
func (g *routine) atBottom(call func()) {
	defer func() {
		g.run.live.Add(-1)
		if r := recover(); r != nil {
			g.report(r)
		}
	}()
	call()
}
