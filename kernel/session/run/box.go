package run

import (
	"errors"
	"fmt"
	"go/types"
	"reflect"
	"unsafe"

	"cobber/kernel/symbols"
)

// box is a value in an interface whose type only the session knows. Both kinds are comparable, so
// that == and map keys mean what they mean in Go.
type box interface {
	record() *record
	load(to pointer)
	equal(other box) bool
	asError() error
	callString(method string) (string, bool)
}

// pointerBox holds pointers, maps, channels and functions.
type pointerBox struct {
	rec *record
	p   pointer
}

// valueBox holds everything else; v has the layout of the type, or is an array of its floats.
type valueBox struct {
	rec *record
	v   any
}

// boxOf looks for a box, behind an adapter too.
func boxOf(v any) (box, bool) {
	switch v := v.(type) {
	case pointerBox:
		return v, true
	case valueBox:
		return v, true
	case interface{ SessionValue() symbols.Receiver }:
		b, ok := v.SessionValue().(box)
		return b, ok
	}
	return nil, false
}

// unadapted gives the value as cells see it in an interface of their own.
func unadapted(v any) any {
	if a, ok := v.(interface{ SessionValue() symbols.Receiver }); ok {
		if b, ok := a.SessionValue().(box); ok {
			return b
		}
	}
	return v
}

func (b pointerBox) record() *record { return b.rec }
func (b valueBox) record() *record   { return b.rec }

func (b pointerBox) load(to pointer) { *(*pointer)(to) = b.p }
func (b valueBox) load(to pointer) {
	switch v := b.v.(type) {
	case int:
		*(*int)(to) = v
	case float64:
		*(*float64)(to) = v
	case string:
		*(*string)(to) = v
	case [1]float64:
		*(*[1]float64)(to) = v
	case [2]float64:
		*(*[2]float64)(to) = v
	case [3]float64:
		*(*[3]float64)(to) = v
	case [4]float64:
		*(*[4]float64)(to) = v
	default:
		reflect.NewAt(b.rec.layout, to).Elem().Set(reflect.ValueOf(b.v))
	}
}

func (b pointerBox) equal(other box) bool { return b.p == other.(pointerBox).p }

func (b valueBox) equal(other box) bool {
	o := other.(valueBox)
	switch b.rec.layout.Kind() {
	case reflect.Struct, reflect.Array, reflect.Interface:
	default:
		return b.v == o.v
	}
	return b.rec.equal(b.memory(), o.memory())
}

func (b valueBox) memory() pointer {
	p := reflect.New(b.rec.layout).UnsafePointer()
	b.load(p)
	return p
}

// boxed wraps memory of the record's type.
func (r *record) boxed(p pointer) any {
	if r.word {
		return pointerBox{r, *(*pointer)(p)}
	}
	switch r.floats {
	case 1:
		return valueBox{r, *(*[1]float64)(p)}
	case 2:
		return valueBox{r, *(*[2]float64)(p)}
	case 3:
		return valueBox{r, *(*[3]float64)(p)}
	case 4:
		return valueBox{r, *(*[4]float64)(p)}
	}
	return valueBox{r, reflect.NewAt(r.layout, p).Elem().Interface()}
}

// plain gives the value as reflect sees its layout: the name and the methods are lost.
func plain(b box) reflect.Value {
	p := reflect.New(b.record().layout)
	b.load(p.UnsafePointer())
	return p.Elem()
}

// ---- called by compiled code

func (b pointerBox) CallMethod(name string, in, out []pointer) { callMethod(b, name, in, out) }
func (b valueBox) CallMethod(name string, in, out []pointer)   { callMethod(b, name, in, out) }

func callMethod(b box, name string, in, out []pointer) {
	m := b.record().method(nil, name)
	if m == nil {
		panic(runtimeError("type " + b.record().name + " has no method " + name))
	}
	g, frame := m.fn.enter()
	fn := head(frame).fn
	b.load(unsafe.Add(frame, fn.params[0].offset))
	for i, p := range in {
		m.in[i].enter(unsafe.Add(frame, fn.params[i+1].offset), p)
	}
	fn.inside(g, frame)
	for i, p := range out {
		m.out[i].leave(p, unsafe.Add(frame, fn.results[i].offset))
	}
	fn.leave(g, frame)
}

func hasMethod(b box, name, signature string) bool {
	m := b.record().method(nil, name)
	return m != nil && m.text == signature
}

func (b pointerBox) HasMethod(name, signature string) bool { return hasMethod(b, name, signature) }
func (b valueBox) HasMethod(name, signature string) bool   { return hasMethod(b, name, signature) }

func (b pointerBox) Format(s fmt.State, verb rune) { format(s, verb, b) }
func (b valueBox) Format(s fmt.State, verb rune)   { format(s, verb, b) }

func (b pointerBox) asError() error { return asError(b) }
func (b valueBox) asError() error   { return asError(b) }

func asError(b box) error {
	if !hasMethod(b, "Error", "func() string") {
		return nil
	}
	if e, ok := symbols.NewAdapter("", "error", b.(symbols.Receiver)); ok {
		return e.(error)
	}
	return errors.New("cobber: no adapter for error")
}

func (b pointerBox) callString(m string) (string, bool) { return callString(b, m) }
func (b valueBox) callString(m string) (string, bool)   { return callString(b, m) }

// callString calls a method that takes nothing and returns a string, if there is one.
func callString(b box, name string) (text string, ok bool) {
	if !hasMethod(b, name, "func() string") {
		return "", false
	}
	callMethod(b, name, nil, []pointer{pointer(&text)})
	return text, true
}

// SessionMethod gives a method of the value as a function of compiled code, for those who show values.
func (b pointerBox) SessionMethod(name string) (reflect.Value, bool) { return sessionMethod(b, name) }

// SessionMethod: see pointerBox.
func (b valueBox) SessionMethod(name string) (reflect.Value, bool) { return sessionMethod(b, name) }

func sessionMethod(b box, name string) (reflect.Value, bool) {
	m := b.record().method(nil, name)
	if m == nil {
		return reflect.Value{}, false
	}
	mach := b.record().machine
	mach.compiling.Lock()
	t, ok := mach.compiledSignature(m.signature)
	mach.compiling.Unlock()
	if !ok {
		return reflect.Value{}, false
	}
	return reflect.MakeFunc(t, func(args []reflect.Value) []reflect.Value {
		in := make([]pointer, len(args))
		for i, a := range args {
			p := reflect.New(t.In(i))
			p.Elem().Set(a)
			in[i] = p.UnsafePointer()
		}
		out := make([]pointer, t.NumOut())
		results := make([]reflect.Value, len(out))
		for i := range out {
			p := reflect.New(t.Out(i))
			out[i], results[i] = p.UnsafePointer(), p.Elem()
		}
		callMethod(b, name, in, out)
		return results
	}), true
}

// TypeName is the name of the value's type, as %T shows it.
func (b pointerBox) TypeName() string { return b.rec.name }

// TypeName is the name of the value's type, as %T shows it.
func (b valueBox) TypeName() string { return b.rec.name }

// MarshalJSON lets encoding/json write session values.
func (b pointerBox) MarshalJSON() ([]byte, error) { return marshalJSON(b) }

// MarshalJSON lets encoding/json write session values.
func (b valueBox) MarshalJSON() ([]byte, error) { return marshalJSON(b) }

func isPointerTo(t types.Type) (types.Type, bool) {
	p, ok := t.Underlying().(*types.Pointer)
	if !ok {
		return nil, false
	}
	return p.Elem(), true
}
