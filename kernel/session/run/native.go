package run

import (
	"go/token"
	"go/types"
	"reflect"
	"strings"
	"unsafe"

	"golang.org/x/tools/go/ssa"

	"cobber/kernel/symbols"
)

// compiledFunction finds the function or method of compiled code behind an ssa.Function without body.
func (m *Machine) compiledFunction(f *ssa.Function) reflect.Value {
	name := f.RelString(nil)
	refuseForbidden(name)
	if len(f.TypeArgs()) > 0 || f.TypeParams().Len() > 0 {
		instead := symbols.Refused()[genericName(f)]
		refuse(token.NoPos, instead, "the generic function %s of a compiled package cannot run in a cell", name)
	}
	if r := f.Signature.Recv(); r != nil {
		return m.compiledMethod(f, r.Type())
	}
	if f.Pkg != nil {
		if v, ok := symbols.Lookup(f.Pkg.Pkg.Path(), f.Name()); ok && v.Kind() == reflect.Func {
			return v
		}
	}
	refuse(token.NoPos, "", "function %s is not available in cells", name)
	return reflect.Value{}
}

func genericName(f *ssa.Function) string {
	o := f
	if f.Origin() != nil {
		o = f.Origin()
	}
	if o.Pkg == nil {
		return o.Name()
	}
	return o.Pkg.Pkg.Path() + "." + o.Name()
}

func (m *Machine) compiledMethod(f *ssa.Function, receiver types.Type) reflect.Value {
	base := receiver
	if e, ok := isPointerTo(receiver); ok {
		base = e
	}
	if n, ok := types.Unalias(base).(*types.Named); ok && n.Obj().Pkg() != nil {
		if n.TypeArgs().Len() > 0 {
			refuse(token.NoPos, symbols.Refused()[n.Obj().Pkg().Path()+"."+n.Obj().Name()],
				"the generic type %s of a compiled package cannot be used in a cell", typeName(n))
		}
		if v, ok := symbols.Method(n.Obj().Pkg().Path(), n.Obj().Name(), f.Name()); ok {
			if isPointer := v.Type().In(0).Kind() == reflect.Pointer; isPointer == (base != receiver) {
				return v
			}
		}
		if l, ok := compiledType(n); ok && l.Kind() == reflect.Func && base == receiver {
			if method, ok := l.MethodByName(f.Name()); ok {
				return method.Func
			}
		}
	}
	if method, ok := m.layout(receiver).MethodByName(f.Name()); ok {
		return method.Func
	}
	refuse(token.NoPos, "", "method %s is not available in cells", f.RelString(nil))
	return reflect.Value{}
}

// nativeCall converts the arguments of a call and its results between a cell's memory and compiled code.
type nativeCall struct {
	args    []nativeSlot
	results []nativeSlot
}

type nativeSlot struct {
	crossing
	offset uintptr
	same   bool // the memory can be handed over as it is
}

// crossingCall describes a call with the given types in compiled code; in skips a receiver.
func (c *compiler) crossingCall(values []ssa.Value, results *types.Tuple, to []uintptr, t reflect.Type, skip int) *nativeCall {
	n := &nativeCall{}
	for i, v := range values {
		n.args = append(n.args, c.nativeSlot(v.Type(), t.In(i+skip), c.offset(v)))
	}
	for i, d := range to {
		n.results = append(n.results, c.nativeSlot(results.At(i).Type(), t.Out(i), d))
	}
	return n
}

func (m *Machine) nativeSlot(t types.Type, native reflect.Type, offset uintptr) nativeSlot {
	l := m.layout(t)
	same := l == native || native.Kind() != reflect.Func && native.Kind() != reflect.Interface && l.Size() == native.Size()
	return nativeSlot{m.crossingTo(t, native), offset, same}
}

func (n *nativeCall) values(fp pointer) []reflect.Value {
	list := make([]reflect.Value, len(n.args))
	for i := range n.args {
		a := &n.args[i]
		if a.same {
			list[i] = reflect.NewAt(a.native, unsafe.Add(fp, a.offset)).Elem()
			continue
		}
		v := reflect.New(a.native)
		a.leave(v.UnsafePointer(), unsafe.Add(fp, a.offset))
		list[i] = v.Elem()
	}
	return list
}

func (n *nativeCall) take(fp pointer, results []reflect.Value) {
	for i := range n.results {
		r := &n.results[i]
		if r.same {
			reflect.NewAt(r.native, unsafe.Add(fp, r.offset)).Elem().Set(results[i])
			continue
		}
		v := reflect.New(r.native)
		v.Elem().Set(results[i])
		r.enter(unsafe.Add(fp, r.offset), v.UnsafePointer())
	}
}

func (n *nativeCall) allSame() bool {
	for _, list := range [][]nativeSlot{n.args, n.results} {
		for _, s := range list {
			if !s.same {
				return false
			}
		}
	}
	return true
}

func callValue(f reflect.Value, args []reflect.Value) []reflect.Value {
	if f.Type().IsVariadic() {
		return f.CallSlice(args)
	}
	return f.Call(args)
}

// compiledCall calls a function or method of a compiled package.
func (c *compiler) compiledCall(callee *ssa.Function, cc *ssa.CallCommon, to []uintptr, pos int64) op {
	return c.printing(callee, cc, to, c.plainCall(callee, cc, to, pos))
}

func (c *compiler) plainCall(callee *ssa.Function, cc *ssa.CallCommon, to []uintptr, pos int64) op {
	f := c.compiledFunction(callee)
	c.refuseReflection(callee, cc.Args)
	if parallelPackages[packageOf(callee)] {
		c.parallel.Store(true)
	}
	n := c.crossingCall(cc.Args, cc.Signature().Results(), to, f.Type(), 0)
	unbox := c.unboxing(callee)
	slow := c.reflectedCall(callee, f, n, pos)
	if unbox || probeOf(callee) != nil || !n.allSame() || len(to) != f.Type().NumOut() {
		return slow
	}
	bound, ok := symbols.BindCall(f, n.offsets(n.args), n.offsets(n.results))
	if !ok {
		return slow
	}
	if !takesFormat(callee) {
		return func(fp pointer) { head(fp).pos = pos; bound(fp) }
	}
	list := n.args[len(n.args)-1].offset
	return func(fp pointer) {
		if anyBox(*at[[]any](fp, list)) {
			slow(fp)
			return
		}
		head(fp).pos = pos
		bound(fp)
	}
}

func (c *compiler) reflectedCall(callee *ssa.Function, f reflect.Value, n *nativeCall, pos int64) op {
	unbox, starts, formats := c.unboxing(callee), startsGoroutine(callee), takesFormat(callee)
	template := strings.HasSuffix(packageOf(callee), "/template")
	probe, json, looks := probeOf(callee), namesJSONErrors(callee), packageOf(callee) == "reflect"
	return func(fp pointer) {
		head(fp).pos = pos
		if starts {
			n.refuseNilFunctions(fp)
		}
		args := n.values(fp)
		if probe != nil {
			probe.adapt(args)
		}
		switch {
		case looks:
			refuseBoxes(args)
		case unbox:
			unboxAll(args, template)
		}
		if formats {
			prepareFormat(args)
		}
		results := callValue(f, args)
		if looks {
			refuseBoxTypes(results)
		}
		if json {
			nameJSONError(*at[any](fp, n.args[len(n.args)-1].offset), results)
		}
		n.take(fp, results)
	}
}

func (n *nativeCall) offsets(list []nativeSlot) []uintptr {
	out := make([]uintptr, len(list))
	for i, s := range list {
		out[i] = s.offset
	}
	return out
}

// fastOp calls without reflection: arguments and results are handed over in place.
func (n *nativeCall) fastOp(fast func(args, results []pointer), pos int64) op {
	in, out := len(n.args), len(n.results)
	if in+out > len(routine{}.scratch) {
		return nil
	}
	return func(fp pointer) {
		h := head(fp)
		h.pos = pos
		s := h.g.scratch[: in+out : in+out]
		for i := range n.args {
			s[i] = unsafe.Add(fp, n.args[i].offset)
		}
		for i := range n.results {
			s[in+i] = unsafe.Add(fp, n.results[i].offset)
		}
		fast(s[:in:in], s[in:])
	}
}

func fastCall(f reflect.Value) func(args, results []pointer) {
	fast, ok := symbols.FastCall(f)
	if !ok {
		return nil
	}
	return fast
}

// foreignCall calls a function value of compiled code.
func (c *compiler) foreignCall(cc *ssa.CallCommon, to []uintptr) func(fp pointer, k *closure) {
	t, ok := c.compiledParameter(cc.Value.Type())
	if !ok {
		return func(pointer, *closure) { panic("cobber: a function of compiled code with a type of the session") }
	}
	n := c.crossingCall(cc.Args, cc.Signature().Results(), to, t, 0)
	quick := n.allSame()
	return func(fp pointer, k *closure) {
		if quick && k.fast != nil && len(n.results) == k.native.Type().NumOut() {
			n.fastOp(k.fast, head(fp).pos)(fp)
			return
		}
		n.take(fp, callValue(k.native, n.values(fp)))
	}
}

// ---- methods of compiled types behind interfaces

type nativeMethod struct {
	name  string
	index int
	typ   reflect.Type // of the method without its receiver

	machine   *Machine
	intrinsic intrinsic    // what stands for the method, or nil
	whole     reflect.Type // of the method with its receiver
}

func (m *Machine) nativeMethod(t reflect.Type, method *types.Func) *nativeMethod {
	found, ok := t.MethodByName(method.Name())
	if !ok {
		panic(runtimeError("method " + method.Name() + " of " + t.String() + " is not available in cells"))
	}
	return &nativeMethod{name: method.Name(), index: found.Index, typ: reflect.Zero(t).Method(found.Index).Type(),
		machine: m, intrinsic: intrinsics[methodName(t, method.Name())], whole: found.Type}
}

// methodName names a method of a compiled type as ssa.Function.RelString(nil) does.
func methodName(t reflect.Type, name string) string {
	star := ""
	if t.Kind() == reflect.Pointer {
		star, t = "*", t.Elem()
	}
	return "(" + star + t.PkgPath() + "." + t.Name() + ")." + name
}

func (n *nativeMethod) invoke(receiver reflect.Value, args []reflect.Value) []reflect.Value {
	if n.intrinsic != nil {
		return callIntrinsic(n.machine, n.intrinsic, n.whole, append([]reflect.Value{receiver}, args...))
	}
	return callValue(receiver.Method(n.index), args)
}

// invokeCall converts for a method call whose native types are those of the interface's method.
type invokeCall struct {
	*nativeCall
	text bool // func() string
}

func (c *compiler) invokeCrossing(cc *ssa.CallCommon, to []uintptr) *invokeCall {
	s := cc.Signature()
	t, ok := c.compiledSignature(s)
	if !ok { // a compiled type cannot have such a method
		return &invokeCall{nativeCall: &nativeCall{}}
	}
	return &invokeCall{c.crossingCall(cc.Args, s.Results(), to, t, 0),
		t == reflect.TypeFor[func() string]() && len(to) == 1}
}

func (n *invokeCall) call(fp pointer, receiver reflect.Value, m *nativeMethod) {
	if n.text {
		switch v := receiver.Interface().(type) {
		case error:
			if m.name == "Error" {
				*at[string](fp, n.results[0].offset) = v.Error()
				return
			}
		}
	}
	n.take(fp, m.invoke(receiver, n.values(fp)))
}

func (n *invokeCall) arguments(fp pointer) []reflect.Value {
	list := n.values(fp)
	for i, v := range list { // the frame will be used again before the call is made
		kept := reflect.New(v.Type()).Elem()
		kept.Set(v)
		list[i] = kept
	}
	return list
}
