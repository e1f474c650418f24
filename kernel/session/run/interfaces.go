package run

import (
	"fmt"
	"go/types"
	"reflect"
	"sync"
	"unsafe"

	"golang.org/x/tools/go/ssa"

	"cobber/kernel/symbols"
)

// loadInterface gives the value in an interface of static type t as cells see it: nil, a value of
// compiled code, or a box.
func (m *Machine) loadInterface(t types.Type) func(p pointer) any {
	switch l := m.layout(t); l {
	case anyType:
		return func(p pointer) any { return *(*any)(p) }
	case errorType:
		return func(p pointer) any { return unadapted(any(*(*error)(p))) }
	default:
		return func(p pointer) any { return unadapted(dynamic(reflect.NewAt(l, p).Elem())) }
	}
}

// storeInterface puts such a value where an interface of static type t lies. The value has the
// methods of t.
func (m *Machine) storeInterface(t types.Type) func(p pointer, v any) {
	l := m.layout(t)
	if l == anyType {
		return func(p pointer, v any) { *(*any)(p) = v }
	}
	path, name := "", "error"
	if n, ok := types.Unalias(t).(*types.Named); ok && n.Obj().Pkg() != nil {
		path, name = n.Obj().Pkg().Path(), n.Obj().Name()
	}
	return func(p pointer, v any) {
		if b, ok := v.(symbols.Receiver); ok {
			if _, ok := v.(box); ok {
				v = adapted(path, name, b)
			}
		}
		if l == errorType {
			*(*error)(p), _ = v.(error)
			return
		}
		setInterface(reflect.NewAt(l, p).Elem(), v)
	}
}

func adapted(path, name string, r symbols.Receiver) any {
	a, ok := symbols.NewAdapter(path, name, r)
	if !ok {
		panic(&Refused{Reason: fmt.Sprintf("a type declared in a cell cannot stand behind the interface %s.%s", path, name)})
	}
	return a
}

// intoInterface makes an interface value of memory of static type t.
func (m *Machine) intoInterface(t types.Type) func(p pointer) any {
	l := m.layout(t)
	switch {
	case types.IsInterface(t):
		return m.loadInterface(t)
	case l == closureType:
		return m.functionIntoInterface(t)
	case m.natural(t):
		return naturalValue(l)
	}
	r := m.record(t)
	return r.boxed
}

func (m *Machine) functionIntoInterface(t types.Type) func(p pointer) any {
	if native, ok := m.compiledParameter(t); ok && m.nameless(t) {
		cross := m.functionCrossing(t, native)
		return func(p pointer) any {
			v := reflect.New(native)
			cross.leave(v.UnsafePointer(), p)
			return v.Elem().Interface()
		}
	}
	return m.record(t).boxed
}

// nameless reports whether no name of the session would be lost when compiled code sees t.
func (m *Machine) nameless(t types.Type) bool {
	n, ok := types.Unalias(t).(*types.Named)
	if !ok {
		return true
	}
	_, compiled := compiledType(n)
	return compiled
}

func naturalValue(l reflect.Type) func(p pointer) any {
	switch l {
	case reflect.TypeFor[int]():
		return func(p pointer) any { return *(*int)(p) }
	case reflect.TypeFor[float64]():
		return func(p pointer) any { return *(*float64)(p) }
	case reflect.TypeFor[string]():
		return func(p pointer) any { return *(*string)(p) }
	case reflect.TypeFor[bool]():
		return func(p pointer) any { return *(*bool)(p) }
	}
	return func(p pointer) any { return reflect.NewAt(l, p).Elem().Interface() }
}

func (c *compiler) makeInterface(in *ssa.MakeInterface, d uintptr) op {
	a, value, store := c.offset(in.X), c.intoInterface(in.X.Type()), c.storeInterface(in.Type())
	if c.layout(in.Type()) == anyType {
		return func(fp pointer) { *at[any](fp, d) = value(unsafe.Add(fp, a)) }
	}
	return func(fp pointer) { store(unsafe.Add(fp, d), value(unsafe.Add(fp, a))) }
}

func (c *compiler) interfaceToInterface(from, to types.Type, d, a uintptr) op {
	if c.layout(from) == c.layout(to) {
		return moveOp(c.layout(to), d, a)
	}
	load, store := c.loadInterface(from), c.storeInterface(to)
	return func(fp pointer) { store(unsafe.Add(fp, d), load(unsafe.Add(fp, a))) }
}

// ---- assertions

type assertion struct {
	*Machine
	from, to  types.Type
	value, ok uintptr
	comma     bool
	pos       int64
	zero      func(pointer)
}

func (c *compiler) assert(in *ssa.TypeAssert, d uintptr) op {
	s := &assertion{Machine: c.Machine, from: in.X.Type(), to: in.AssertedType, value: d, comma: in.CommaOk,
		pos: int64(in.Pos()), zero: zeroOf(c.layout(in.AssertedType))}
	if in.CommaOk {
		t := c.tuple(in)
		s.value, s.ok = t[0], t[1]
	}
	load, a := c.loadInterface(in.X.Type()), c.offset(in.X)
	if types.IsInterface(in.AssertedType) {
		return s.toInterface(load, a)
	}
	if c.layout(in.AssertedType) == closureType {
		return s.toFunction(load, a)
	}
	if c.natural(in.AssertedType) {
		return s.toNatural(load, a)
	}
	return s.toSession(load, a)
}

func (s *assertion) done(fp pointer) {
	if s.comma {
		*at[bool](fp, s.ok) = true
	}
}

// fail is a failed assertion: false, or Go's panic.
func (s *assertion) fail(fp pointer, v any, missing string) {
	if s.comma {
		s.zero(unsafe.Add(fp, s.value))
		*at[bool](fp, s.ok) = false
		return
	}
	head(fp).pos = s.pos
	to := typeName(s.to)
	switch {
	case v == nil && types.IsInterface(s.to):
		panic(runtimeError("interface conversion: interface is nil, not " + to))
	case v == nil:
		panic(runtimeError(fmt.Sprintf("interface conversion: %s is nil, not %s", typeName(s.from), to)))
	case missing != "":
		panic(runtimeError(fmt.Sprintf("interface conversion: %s is not %s: missing method %s", dynamicName(v), to, missing)))
	}
	scopes := ""
	if dynamicName(v) == to {
		scopes = " (types from different scopes)"
	}
	panic(runtimeError(fmt.Sprintf("interface conversion: %s is %s, not %s%s", typeName(s.from), dynamicName(v), to, scopes)))
}

func dynamicName(v any) string {
	if b, ok := boxOf(v); ok {
		return b.record().name
	}
	return reflect.TypeOf(v).String()
}

func (s *assertion) toNatural(load func(pointer) any, a uintptr) op {
	want := s.layout(s.to)
	switch want {
	case reflect.TypeFor[int]():
		return naturalAssertion[int](s, load, a)
	case reflect.TypeFor[float64]():
		return naturalAssertion[float64](s, load, a)
	case reflect.TypeFor[string]():
		return naturalAssertion[string](s, load, a)
	}
	return func(fp pointer) {
		v := load(unsafe.Add(fp, a))
		if v == nil || reflect.TypeOf(v) != want {
			s.fail(fp, v, "")
			return
		}
		reflect.NewAt(want, unsafe.Add(fp, s.value)).Elem().Set(reflect.ValueOf(v))
		s.done(fp)
	}
}

func naturalAssertion[T any](s *assertion, load func(pointer) any, a uintptr) op {
	return func(fp pointer) {
		v := load(unsafe.Add(fp, a))
		x, ok := v.(T)
		if !ok {
			s.fail(fp, v, "")
			return
		}
		*at[T](fp, s.value) = x
		s.done(fp)
	}
}

func (s *assertion) toSession(load func(pointer) any, a uintptr) op {
	want := s.record(s.to)
	return func(fp pointer) {
		v := load(unsafe.Add(fp, a))
		switch b := v.(type) {
		case pointerBox:
			if b.rec == want {
				*at[pointer](fp, s.value) = b.p
				s.done(fp)
				return
			}
		case valueBox:
			if b.rec == want {
				b.load(unsafe.Add(fp, s.value))
				s.done(fp)
				return
			}
		}
		s.fail(fp, v, "")
	}
}

func (s *assertion) toFunction(load func(pointer) any, a uintptr) op {
	native, ok := s.compiledParameter(s.to)
	if !ok || !s.nameless(s.to) {
		return s.toSession(load, a)
	}
	return func(fp pointer) {
		v := load(unsafe.Add(fp, a))
		if v == nil || reflect.TypeOf(v) != native {
			s.fail(fp, v, "")
			return
		}
		*at[*closure](fp, s.value) = s.foreign(reflect.ValueOf(v))
		s.done(fp)
	}
}

func (s *assertion) toInterface(load func(pointer) any, a uintptr) op {
	store := s.storeInterface(s.to)
	var known sync.Map // dynamic type -> name of a missing method
	return func(fp pointer) {
		v := load(unsafe.Add(fp, a))
		if v == nil {
			s.fail(fp, nil, "")
			return
		}
		var key any = reflect.TypeOf(v)
		if b, ok := v.(box); ok {
			key = b.record()
		}
		missing, ok := known.Load(key)
		if !ok {
			missing = s.missingMethod(v)
			known.Store(key, missing)
		}
		if missing != "" {
			s.fail(fp, v, missing.(string))
			return
		}
		store(unsafe.Add(fp, s.value), v)
		s.done(fp)
	}
}

// missingMethod names a method that the value lacks for the interface asserted, or "".
func (s *assertion) missingMethod(v any) string {
	s.compiling.Lock()
	defer s.compiling.Unlock()
	want := s.to.Underlying().(*types.Interface)
	if b, ok := v.(box); ok {
		if missing, _ := types.MissingMethod(b.record().t, want, true); missing != nil {
			return missing.Name()
		}
		return ""
	}
	dynamic := reflect.TypeOf(v)
	if l := s.layout(s.to); l.Kind() == reflect.Interface && l != anyType {
		if dynamic.Implements(l) {
			return ""
		}
	}
	for i := range want.NumMethods() {
		m := want.Method(i)
		have, ok := dynamic.MethodByName(m.Name())
		if !ok {
			return m.Name()
		}
		signature, ok := s.compiledSignature(m.Type().(*types.Signature))
		if !ok || !sameSignature(have.Type, signature) {
			return m.Name()
		}
	}
	return ""
}

// sameSignature compares a method, receiver first, with a signature.
func sameSignature(method, signature reflect.Type) bool {
	if method.NumIn() != signature.NumIn()+1 || method.NumOut() != signature.NumOut() ||
		method.IsVariadic() != signature.IsVariadic() {
		return false
	}
	for i := range signature.NumIn() {
		if method.In(i+1) != signature.In(i) {
			return false
		}
	}
	for i := range signature.NumOut() {
		if method.Out(i) != signature.Out(i) {
			return false
		}
	}
	return true
}
