package run

import (
	"errors"
	"fmt"
	"go/types"
	"reflect"

	"golang.org/x/tools/go/ssa"

	"cobber/kernel/symbols"
)

// intrinsic stands for a compiled function that would end the process, or that an interrupt could
// not end, or that must see session types. It gets the call's frame, the places of its arguments and
// of its results.
type intrinsic func(fp pointer, args, results []uintptr)

// intrinsics by the name that ssa.Function.RelString(nil) gives. To add one: write the function, and
// a story among the test cells that would fail without it.
var intrinsics = map[string]intrinsic{}

func add(list map[string]intrinsic) {
	for name, do := range list {
		intrinsics[name] = do
	}
}

func init() {
	add(map[string]intrinsic{
		"errors.As": errorsAs,
		"errors.Is": func(fp pointer, a, r []uintptr) {
			*at[bool](fp, r[0]) = errorsIs(*at[error](fp, a[0]), *at[error](fp, a[1]))
		},
		"reflect.DeepEqual": func(fp pointer, a, r []uintptr) {
			*at[bool](fp, r[0]) = deepEqual(*at[any](fp, a[0]), *at[any](fp, a[1]))
		},
		"fmt.Sprintf": func(fp pointer, a, r []uintptr) {
			args := *at[[]any](fp, a[1])
			*at[string](fp, r[0]) = fmt.Sprintf(askBoxes(*at[string](fp, a[0]), args), args...)
		},
	})
}

// offsets are the places of values in the frame.
func (c *compiler) offsets(values []ssa.Value) []uintptr {
	list := make([]uintptr, len(values))
	for i, v := range values {
		list[i] = c.offset(v)
	}
	return list
}

// intrinsic compiles a call of one of them.
func (c *compiler) intrinsic(f *ssa.Function, cc *ssa.CallCommon, to []uintptr, pos int64) (op, bool) {
	if f.Blocks != nil {
		return nil, false
	}
	do, ok := intrinsics[f.RelString(nil)]
	if !ok {
		return nil, false
	}
	args := c.offsets(cc.Args)
	if len(to) != f.Signature.Results().Len() {
		to = nil
		for _, p := range c.unwanted[cc] {
			to = append(to, c.region.offset(p))
		}
	}
	return func(fp pointer) { head(fp).pos = pos; do(fp, args, to) }, true
}

// reserveUnwanted makes room for the results of an intrinsic under go or defer, which nobody takes.
func (c *compiler) reserveUnwanted(cc *ssa.CallCommon) {
	if f, ok := cc.Value.(*ssa.Function); ok && f.Blocks == nil && intrinsics[f.RelString(nil)] != nil {
		for i := range f.Signature.Results().Len() {
			c.unwanted[cc] = append(c.unwanted[cc], c.region.reserve(c.layout(f.Signature.Results().At(i).Type())))
		}
	}
}

// intrinsicValue is an intrinsic as a function value.
func (c *compiler) intrinsicValue(f *ssa.Function) *closure {
	do, ok := intrinsics[f.RelString(nil)]
	if !ok {
		return nil
	}
	compiled := c.compiledFunction(f)
	t := compiled.Type()
	m := c.Machine
	wrapped := reflect.MakeFunc(t, func(args []reflect.Value) []reflect.Value {
		return callIntrinsic(m, do, t, args)
	})
	return m.foreign(wrapped)
}

func callIntrinsic(m *Machine, do intrinsic, t reflect.Type, args []reflect.Value) []reflect.Value {
	fields := []reflect.StructField{{Name: "H", Type: reflect.TypeFor[header]()}}
	for i := range t.NumIn() {
		fields = append(fields, reflect.StructField{Name: "A" + itoa(i), Type: t.In(i)})
	}
	for i := range t.NumOut() {
		fields = append(fields, reflect.StructField{Name: "R" + itoa(i), Type: t.Out(i)})
	}
	frame := reflect.New(reflect.StructOf(fields))
	fp := frame.UnsafePointer()
	head(fp).g = newRoutine(m.current.Load())
	var in, out []uintptr
	var results []reflect.Value
	for i, a := range args {
		frame.Elem().Field(i + 1).Set(a)
		in = append(in, frame.Elem().Type().Field(i+1).Offset)
	}
	for i := range t.NumOut() {
		f := frame.Elem().Type().Field(1 + len(args) + i)
		out = append(out, f.Offset)
		results = append(results, frame.Elem().Field(1+len(args)+i))
	}
	do(fp, in, out)
	return results
}

// ---- package errors over session types

// chain visits an error and all it wraps, in the order of errors.Is, until visit says it is done.
func chain(err error, visit func(error) bool) bool {
	for err != nil {
		if visit(err) {
			return true
		}
		switch x := err.(type) {
		case interface{ Unwrap() error }:
			err = x.Unwrap()
		case interface{ Unwrap() []error }:
			for _, inner := range x.Unwrap() {
				if chain(inner, visit) {
					return true
				}
			}
			return false
		default:
			return false
		}
	}
	return false
}

func errorsIs(err, target error) bool {
	if err == nil || target == nil {
		return errors.Is(err, target)
	}
	wanted := unadapted(target)
	b, boxed := wanted.(box)
	comparable := boxed && types.Comparable(b.record().t) || !boxed && reflect.TypeOf(target).Comparable()
	return chain(err, func(e error) bool {
		if comparable && sameDynamicType(unadapted(e), wanted) && equalInterfaces(unadapted(e), wanted) {
			return true
		}
		x, ok := e.(interface{ Is(error) bool })
		return ok && x.Is(target)
	})
}

func sameDynamicType(a, b any) bool {
	x, boxed := a.(box)
	y, alsoBoxed := b.(box)
	if boxed || alsoBoxed {
		return boxed && alsoBoxed && x.record() == y.record()
	}
	return reflect.TypeOf(a) == reflect.TypeOf(b)
}

// errorsAs is errors.As, whose target may point to a type of the session.
func errorsAs(fp pointer, a, r []uintptr) {
	err, target := *at[error](fp, a[0]), *at[any](fp, a[1])
	p, ok := target.(pointerBox)
	if !ok {
		*at[bool](fp, r[0]) = errors.As(err, target)
		return
	}
	want, isPointer := isPointerTo(p.rec.t)
	if !isPointer || p.p == nil {
		panic("errors: target must be a non-nil pointer")
	}
	*at[bool](fp, r[0]) = p.rec.machine.asSession(err, want, p.p, target)
}

func (m *Machine) asSession(err error, want types.Type, to pointer, target any) bool {
	var store func(pointer, any)
	if types.IsInterface(want) {
		store = m.locked(func() any { return m.storeInterface(want) }).(func(pointer, any))
	}
	return chain(err, func(e error) bool {
		v := unadapted(e)
		if b, ok := v.(box); ok && store == nil && types.Identical(b.record().t, want) {
			b.load(to)
			return true
		}
		if store != nil {
			s := &assertion{Machine: m, to: want}
			if s.missingMethod(v) == "" {
				store(to, v)
				return true
			}
		}
		b, ok := v.(symbols.Methods)
		if ok && b.HasMethod("As", "func(any) bool") {
			var as bool
			callMethod(v.(box), "As", []pointer{pointer(&target)}, []pointer{pointer(&as)})
			return as
		}
		return false
	})
}

func deepEqual(a, b any) bool {
	x, boxed := a.(box)
	y, alsoBoxed := b.(box)
	if boxed != alsoBoxed {
		return false
	}
	if !boxed {
		return reflect.DeepEqual(a, b)
	}
	return x.record() == y.record() && reflect.DeepEqual(plain(x).Interface(), plain(y).Interface())
}
