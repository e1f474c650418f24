package run

import (
	"go/types"
	"reflect"
	"strings"
	"sync/atomic"
	"unsafe"

	"golang.org/x/tools/go/ssa"
)

// argument is how one argument of a call moves from the caller's frame to the callee's.
type argument struct {
	class class
	from  uintptr
	move  mover
}

func (c *compiler) arguments(values []ssa.Value) []argument {
	list := make([]argument, len(values))
	for i, v := range values {
		l := c.layout(v.Type())
		list[i] = argument{classOf(l), c.offset(v), moverOf(l)}
	}
	return list
}

func pass(to pointer, params []slot, from pointer, args []argument) {
	for i := range args {
		a := &args[i]
		switch a.class {
		case class8:
			*at[uint64](to, params[i].offset) = *at[uint64](from, a.from)
		case classPointer:
			*at[pointer](to, params[i].offset) = *at[pointer](from, a.from)
		default:
			a.move(unsafe.Add(to, params[i].offset), unsafe.Add(from, a.from))
		}
	}
}

// destinations lists where the results of a call go.
func (c *compiler) destinations(v ssa.Value, d uintptr) []uintptr {
	if t, ok := v.Type().(*types.Tuple); ok {
		if t.Len() == 0 {
			return nil
		}
		return c.tuple(v)
	}
	return []uintptr{d}
}

func (f *function) take(to pointer, destinations []uintptr, from pointer) {
	for i, d := range destinations {
		switch r := &f.results[i]; r.class {
		case class8:
			*at[uint64](to, d) = *at[uint64](from, r.offset)
		case classPointer:
			*at[pointer](to, d) = *at[pointer](from, r.offset)
		default:
			r.move(unsafe.Add(to, d), unsafe.Add(from, r.offset))
		}
	}
}

func (c *compiler) call(in *ssa.Call, d uintptr) op {
	cc := &in.Call
	pos := int64(in.Pos())
	if b, ok := cc.Value.(*ssa.Builtin); ok {
		if x, unneeded := c.single(in); unneeded != nil {
			return positioned(c.appendOne(c.sliceLayout(in.Type()), d, c.offset(cc.Args[0]), c.offset(x)), in.Pos())
		}
		return c.builtin(b.Name(), cc.Args, in, d, pos)
	}
	to := c.destinations(in, d)
	switch callee := cc.Value.(type) {
	case *ssa.Function:
		if !cc.IsInvoke() {
			return c.static(callee, cc, to, pos)
		}
	}
	if cc.IsInvoke() {
		return c.invoke(cc, to, pos)
	}
	return c.dynamicCall(cc, to, pos)
}

func (c *compiler) static(callee *ssa.Function, cc *ssa.CallCommon, to []uintptr, pos int64) op {
	if o := c.literal(callee, cc, to); o != nil {
		return o
	}
	if o, ok := c.intrinsic(callee, cc, to, pos); ok {
		return o
	}
	if callee.Blocks == nil {
		if callee.Name() == "init" && callee.Synthetic != "" {
			return nil // packages of compiled code are initialised
		}
		return c.measured(callee, cc, c.compiledCall(callee, cc, to, pos), pos)
	}
	fn := c.function(callee)
	args := c.arguments(cc.Args)
	if len(args) == 1 && args[0].class == class8 && len(to) == 1 && !c.isWrapper() &&
		classOf(c.layout(callee.Signature.Results().At(0).Type())) == class8 {
		return staticWord(fn, args[0].from, to[0], pos)
	}
	wrapper := c.isWrapper()
	return func(fp pointer) {
		h := head(fp)
		h.pos = pos
		fn := fn
		if fn.redirect.Load() != nil {
			fn = fn.current()
		}
		frame := fn.get(h.g)
		pass(frame, fn.params, fp, args)
		if wrapper {
			head(frame).owner = h.owner // recover works through a wrapper
			fn.exec(frame)
			head(frame).owner = nil
		} else {
			fn.exec(frame)
		}
		fn.take(fp, to, frame)
		fn.put(h.g, frame)
	}
}

// staticWord is the call of a function from one word to one word, the shape of most recursions.
func staticWord(fn *function, from, to uintptr, pos int64) op {
	return func(fp pointer) {
		h := head(fp)
		h.pos = pos
		fn := fn
		if fn.redirect.Load() != nil {
			fn = fn.current()
		}
		frame := fn.get(h.g)
		*at[uint64](frame, fn.params[0].offset) = *at[uint64](fp, from)
		fn.exec(frame)
		*at[uint64](fp, to) = *at[uint64](frame, fn.results[0].offset)
		fn.put(h.g, frame)
	}
}

func (c *compiler) isWrapper() bool {
	s := c.fn.source.Synthetic
	return strings.Contains(s, "wrapper") || strings.Contains(s, "thunk") || strings.Contains(s, "bound")
}

// dynamicCall calls a function value.
func (c *compiler) dynamicCall(cc *ssa.CallCommon, to []uintptr, pos int64) op {
	a := c.offset(cc.Value)
	args := c.arguments(cc.Args)
	foreign := c.foreignCall(cc, to)
	return func(fp pointer) {
		h := head(fp)
		h.pos = pos
		k := *at[*closure](fp, a)
		if k == nil {
			nilDereference()
		}
		if k.fn == nil {
			foreign(fp, k)
			return
		}
		fn := k.fn // a function value stays what it was when its name is defined again
		frame := fn.get(h.g)
		if len(fn.captured) > 0 {
			k.bind(frame)
		}
		pass(frame, fn.params, fp, args)
		fn.exec(frame)
		fn.take(fp, to, frame)
		fn.put(h.g, frame)
	}
}

// target is what a method call on an interface leads to for one dynamic type.
type target struct {
	rec    *record // of a session type, or else
	key    reflect.Type
	fn     *function
	native *nativeMethod
}

func (c *compiler) invoke(cc *ssa.CallCommon, to []uintptr, pos int64) op {
	a, load := c.offset(cc.Value), c.loadInterface(cc.Value.Type())
	args := c.arguments(cc.Args)
	m := c.Machine
	cross := c.invokeCrossing(cc, to)
	direct := c.layout(cc.Value.Type()) == anyType
	var cache atomic.Pointer[target]
	return func(fp pointer) {
		h := head(fp)
		h.pos = pos
		var v any
		if direct {
			v = *at[any](fp, a)
		} else {
			v = load(unsafe.Add(fp, a))
		}
		t := cache.Load()
		var fn *function
		var frame pointer
		switch b := v.(type) {
		case nil:
			nilDereference()
		case pointerBox:
			t = m.cached(t, &cache, b.rec, cc.Method)
			fn = t.fn
			frame = fn.get(h.g)
			*at[pointer](frame, fn.params[0].offset) = b.p
		case valueBox:
			t = m.cached(t, &cache, b.rec, cc.Method)
			fn = t.fn
			frame = fn.get(h.g)
			b.load(unsafe.Add(frame, fn.params[0].offset))
		default:
			if key := reflect.TypeOf(v); t == nil || t.key != key {
				t = &target{key: key, native: m.nativeMethod(key, cc.Method)}
				cache.Store(t)
			}
			cross.call(fp, reflect.ValueOf(v), t.native)
			return
		}
		pass(frame, fn.params[1:], fp, args)
		fn.exec(frame)
		fn.take(fp, to, frame)
		fn.put(h.g, frame)
	}
}

// cached is where the method of a session type is, found anew when the type is another than last time.
func (m *Machine) cached(t *target, cache *atomic.Pointer[target], rec *record, method *types.Func) *target {
	if t == nil || t.rec != rec {
		t = &target{rec: rec, fn: m.targetOf(rec, method)}
		cache.Store(t)
	}
	return t
}

func (m *Machine) targetOf(r *record, method *types.Func) *function {
	found := r.method(method.Pkg(), method.Name())
	if found == nil {
		panic(runtimeError("type " + r.name + " has no method " + method.Name()))
	}
	found.fn.ensure()
	return found.fn
}

// ---- go and defer: the function and its arguments are evaluated now, the call is made later

type prepared func(fp pointer, g *routine, owner pointer) func()

func (c *compiler) prepare(cc *ssa.CallCommon, pos int64) prepared {
	if cc.IsInvoke() {
		return c.prepareInvoke(cc)
	}
	args := c.arguments(cc.Args)
	switch callee := cc.Value.(type) {
	case *ssa.Builtin:
		return c.prepareBuiltin(callee, cc, pos)
	case *ssa.Function:
		if o, ok := c.intrinsic(callee, cc, nil, pos); ok {
			return c.later(cc, o)
		}
		if callee.Blocks == nil {
			return c.later(cc, c.measured(callee, cc, c.compiledCall(callee, cc, nil, pos), pos))
		}
		fn := c.function(callee)
		return func(fp pointer, g *routine, owner pointer) func() {
			fn := fn.current()
			frame := fn.get(g)
			pass(frame, fn.params, fp, args)
			return finish(fn, g, frame, owner)
		}
	}
	a := c.offset(cc.Value)
	foreign := c.foreignCall(cc, nil)
	native := c.later(cc, func(fp pointer) { foreign(fp, *at[*closure](fp, a)) }, a)
	return func(fp pointer, g *routine, owner pointer) func() {
		k := *at[*closure](fp, a)
		switch {
		case k == nil:
			return nilDereference
		case k.fn == nil:
			return native(fp, g, owner)
		}
		fn := k.fn
		frame := fn.get(g)
		k.bind(frame)
		pass(frame, fn.params, fp, args)
		return finish(fn, g, frame, owner)
	}
}

func finish(fn *function, g *routine, frame, owner pointer) func() {
	return func() {
		head(frame).owner = owner
		fn.exec(frame)
		head(frame).owner = nil
		fn.put(g, frame)
	}
}

func (c *compiler) prepareInvoke(cc *ssa.CallCommon) prepared {
	load, a := c.loadInterface(cc.Value.Type()), c.offset(cc.Value)
	args := c.arguments(cc.Args)
	m := c.Machine
	cross := c.invokeCrossing(cc, nil)
	return func(fp pointer, g *routine, owner pointer) func() {
		v := load(unsafe.Add(fp, a))
		if v == nil {
			nilDereference()
		}
		b, ok := v.(box)
		if !ok {
			native := m.nativeMethod(reflect.TypeOf(v), cc.Method)
			values := cross.arguments(fp)
			return func() { native.invoke(reflect.ValueOf(v), values) }
		}
		fn := m.targetOf(b.record(), cc.Method)
		frame := fn.get(g)
		b.load(unsafe.Add(frame, fn.params[0].offset))
		pass(frame, fn.params[1:], fp, args)
		return finish(fn, g, frame, owner)
	}
}

// later keeps the argument slots as they are now, and runs the step on them when the time comes, in
// a frame of its own.
func (c *compiler) later(cc *ssa.CallCommon, step op, more ...uintptr) prepared {
	fn := c.fn
	var slots []slot
	for _, v := range cc.Args {
		l := c.layout(v.Type())
		slots = append(slots, slot{c.offset(v), l, moverOf(l)})
	}
	for _, o := range more {
		slots = append(slots, slot{o, closureType, moverOf(closureType)})
	}
	return func(fp pointer, g *routine, owner pointer) func() {
		frame := reflect.New(fn.frame).UnsafePointer()
		h := head(frame)
		h.g, h.fn, h.pos, h.owner = g, fn, head(fp).pos, owner
		for _, s := range slots {
			s.move(unsafe.Add(frame, s.offset), unsafe.Add(fp, s.offset))
		}
		return func() {
			if step != nil {
				step(frame)
			}
		}
	}
}

func (c *compiler) prepareBuiltin(b *ssa.Builtin, cc *ssa.CallCommon, pos int64) prepared {
	if b.Name() == "recover" {
		return func(fp pointer, _ *routine, owner pointer) func() { return func() { recoverDeferred(owner) } }
	}
	return c.later(cc, c.builtin(b.Name(), cc.Args, nil, 0, pos))
}

func (c *compiler) deferStatement(in *ssa.Defer) op {
	prepare, pos := c.prepare(&in.Call, int64(in.Pos())), int64(in.Pos())
	if in.DeferStack == nil {
		return func(fp pointer) {
			h := head(fp)
			h.pos = pos
			h.defers.calls = append(h.defers.calls, prepare(fp, h.g, fp))
		}
	}
	stack := c.offset(in.DeferStack)
	return func(fp pointer) {
		h := head(fp)
		h.pos = pos
		owner := *at[pointer](fp, stack)
		d := head(owner).defers
		d.calls = append(d.calls, prepare(fp, h.g, owner))
	}
}

func (c *compiler) goStatement(in *ssa.Go) op {
	prepare, pos := c.prepare(&in.Call, int64(in.Pos())), int64(in.Pos())
	return func(fp pointer) {
		head(fp).pos = pos
		if !c.parallel.Load() {
			c.parallel.Store(true)
		}
		g := newRoutine(head(fp).g.run)
		call := prepare(fp, g, nil)
		g.run.live.Add(1)
		go g.atBottom(call)
	}
}

func (c *compiler) makeClosure(in *ssa.MakeClosure, d uintptr) op {
	fn := c.function(in.Fn.(*ssa.Function))
	type source struct {
		from    uintptr
		layout  reflect.Type
		pointer bool
	}
	var sources []source
	words, others := 0, 0
	for _, b := range in.Bindings {
		l := c.layout(b.Type())
		s := source{c.offset(b), l, classOf(l) == classPointer}
		if s.pointer {
			words++
		} else {
			others++
		}
		sources = append(sources, s)
	}
	return func(fp pointer) {
		k := &closure{fn: fn}
		if words > 0 {
			k.words = make([]pointer, 0, words)
		}
		for _, s := range sources {
			if s.pointer {
				k.words = append(k.words, *at[pointer](fp, s.from))
				continue
			}
			v := reflect.New(s.layout)
			v.Elem().Set(reflect.NewAt(s.layout, unsafe.Add(fp, s.from)).Elem())
			k.others = append(k.others, v.Interface())
		}
		*at[*closure](fp, d) = k
	}
}

// functionValue is a declared function as a value.
func (c *compiler) functionValue(f *ssa.Function) *closure {
	if f.Blocks == nil {
		if f.Name() == "init" && f.Synthetic != "" {
			return nil
		}
		if isHook(f) {
			return nil // it is called, and nothing else
		}
		if k := c.intrinsicValue(f); k != nil {
			return k
		}
		return c.foreign(c.measuredValue(f, c.compiledFunction(f)))
	}
	fn := c.function(f)
	fn.makePlain.Do(func() { fn.plain = &closure{fn: fn} })
	return fn.plain
}
