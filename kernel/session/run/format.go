package run

import (
	"fmt"
	"go/types"
	"io"
	"reflect"
	"unsafe"
)

// Verbs that only this package sees: fmt answers %T and %p itself, by the type of the box, so formats
// are rewritten to ask the box (formats.go).
const (
	verbType    = '\uE000'
	verbPointer = '\uE001'
)

// printer writes values of session types as package fmt would, from their static types.
type printer struct {
	state fmt.State
	verb  rune
	*Machine
}

// format is the Format method of boxes.
func format(state fmt.State, verb rune, b box) {
	r := b.record()
	p := &printer{state, verb, r.machine}
	value := reflect.New(r.layout).UnsafePointer()
	b.load(value)
	switch verb {
	case verbType:
		fmt.Fprintf(state, fmt.FormatString(state, 's'), r.name)
		return
	case verbPointer:
		if r.word {
			fmt.Fprintf(state, fmt.FormatString(state, 'p'), *(*pointer)(value))
		} else {
			fmt.Fprintf(state, "%%!p(%s=%v)", r.name, b)
		}
		return
	}
	p.value(r.t, value, 0, true)
}

func (p *printer) text(s string) { io.WriteString(p.state, s) }

func (p *printer) sharp() bool { return p.verb == 'v' && p.state.Flag('#') }
func (p *printer) plus() bool  { return p.verb == 'v' && p.state.Flag('+') }

// leaf hands a value that fmt knows to fmt, with the same directive.
func (p *printer) leaf(v any) { fmt.Fprintf(p.state, fmt.FormatString(p.state, p.verb), v) }

// value prints memory of type t. Values reached through unexported fields have no methods for fmt.
func (p *printer) value(t types.Type, at pointer, depth int, exported bool) {
	if exported && !types.IsInterface(t) && p.methods(t, at) {
		return
	}
	switch u := t.Underlying().(type) {
	case *types.Interface:
		p.interfaceValue(t, at, depth, exported)
	case *types.Pointer:
		p.pointerValue(t, u, at, depth, exported)
	case *types.Signature:
		p.address(t, *(*pointer)(at))
	case *types.Chan:
		p.address(t, *(*pointer)(at))
	case *types.Struct:
		if p.opaque(t) {
			p.natural(t, at, exported)
			return
		}
		p.structValue(t, u, at, depth, exported)
	case *types.Map:
		p.mapValue(t, u, at, depth, exported)
	case *types.Slice:
		p.sliceValue(t, u, at, depth, exported)
	case *types.Array:
		p.elements(t, u.Elem(), at, int(u.Len()), depth, exported)
	default:
		p.basic(t, at, exported)
	}
}

// opaque reports whether the fields of t belong to compiled code.
func (p *printer) opaque(t types.Type) bool {
	n, ok := types.Unalias(t).(*types.Named)
	if !ok {
		return false
	}
	_, compiled := compiledType(n)
	return compiled
}

func (p *printer) at(t types.Type, at pointer) reflect.Value {
	return reflect.NewAt(p.locked(func() any { return p.layout(t) }).(reflect.Type), at).Elem()
}

// natural prints a value of a compiled type; without its methods if it came from an unexported field.
func (p *printer) natural(t types.Type, at pointer, exported bool) {
	v := p.at(t, at)
	if exported {
		p.leaf(v.Interface())
		return
	}
	hidden := reflect.StructOf([]reflect.StructField{{Name: "f", PkgPath: "main", Type: v.Type()}})
	p.leaf(reflect.NewAt(hidden, at).Elem().Field(0))
}

func (p *printer) basic(t types.Type, at pointer, exported bool) {
	if p.opaque(t) {
		p.natural(t, at, exported)
		return
	}
	p.leaf(p.at(t, at).Interface())
}

func (p *printer) interfaceValue(t types.Type, at pointer, depth int, exported bool) {
	load := p.locked(func() any { return p.loadInterface(t) }).(func(pointer) any)
	v := load(at)
	switch b, boxed := v.(box); {
	case v == nil && p.sharp():
		p.text(typeName(t) + "(nil)")
	case v == nil:
		p.text("<nil>")
	case boxed:
		held := reflect.New(b.record().layout).UnsafePointer()
		b.load(held)
		p.value(b.record().t, held, depth+1, exported)
	case reflect.TypeOf(v).Kind() == reflect.Pointer && !p.hasText(v):
		p.addressNamed(reflect.TypeOf(v).String(), reflect.ValueOf(v).UnsafePointer())
	default:
		p.leaf(v)
	}
}

// hasText reports whether fmt would call a method of the value rather than print an address.
func (p *printer) hasText(v any) bool {
	switch v.(type) {
	case fmt.Formatter, fmt.Stringer, error:
		return true
	}
	return false
}

func (p *printer) pointerValue(t types.Type, u *types.Pointer, at pointer, depth int, exported bool) {
	target := *(*pointer)(at)
	if p.opaque(u.Elem()) && exported && (depth == 0 || p.hasText(p.at(t, at).Interface())) {
		p.leaf(p.at(t, at).Interface())
		return
	}
	if depth == 0 && target != nil {
		switch u.Elem().Underlying().(type) {
		case *types.Array, *types.Slice, *types.Struct, *types.Map:
			p.text("&")
			p.value(u.Elem(), target, depth+1, exported)
			return
		}
	}
	p.address(t, target)
}

func (p *printer) address(t types.Type, target pointer) { p.addressNamed(typeName(t), target) }

func (p *printer) addressNamed(name string, target pointer) {
	switch {
	case p.sharp() && target == nil:
		p.text("(" + name + ")(nil)")
	case p.sharp():
		fmt.Fprintf(p.state, "(%s)(%#x)", name, uintptr(target))
	case p.verb != 'v':
		p.leaf(uintptr(target))
	case target == nil:
		p.leaf(nil)
	default:
		p.leaf(target)
	}
}

func (p *printer) structValue(t types.Type, u *types.Struct, at pointer, depth int, exported bool) {
	if p.sharp() {
		p.text(typeName(t))
	}
	p.text("{")
	l := p.at(t, at).Type()
	for i := range u.NumFields() {
		f := u.Field(i)
		if i > 0 && p.sharp() {
			p.text(", ")
		} else if i > 0 {
			p.text(" ")
		}
		if p.plus() || p.sharp() {
			p.text(f.Name() + ":")
		}
		p.value(f.Type(), unsafe.Add(at, l.Field(i).Offset), depth+1, exported && f.Exported())
	}
	p.text("}")
}

func (p *printer) sliceValue(t types.Type, u *types.Slice, at pointer, depth int, exported bool) {
	if p.sharp() && *(*[]byte)(at) == nil {
		p.text(typeName(t) + "(nil)")
		return
	}
	if e, ok := u.Elem().Underlying().(*types.Basic); ok && e.Kind() == types.Uint8 {
		switch p.verb {
		case 's', 'q', 'x', 'X':
			p.leaf(*(*[]byte)(at))
			return
		}
	}
	s := *(*[]byte)(at)
	p.elements(t, u.Elem(), pointer(unsafe.SliceData(s)), len(s), depth, exported)
}

func (p *printer) elements(t, elem types.Type, base pointer, n, depth int, exported bool) {
	opening, separator, closing := "[", " ", "]"
	if p.sharp() {
		opening, separator, closing = typeName(t)+"{", ", ", "}"
	}
	size := p.locked(func() any { return p.layout(elem) }).(reflect.Type).Size()
	p.text(opening)
	for i := range n {
		if i > 0 {
			p.text(separator)
		}
		p.value(elem, unsafe.Add(base, uintptr(i)*size), depth+1, exported)
	}
	p.text(closing)
}

func (p *printer) mapValue(t types.Type, u *types.Map, at pointer, depth int, exported bool) {
	if p.sharp() && *(*pointer)(at) == nil {
		p.text(typeName(t) + "(nil)")
		return
	}
	opening, separator, closing := "map[", " ", "]"
	if p.sharp() {
		opening, separator, closing = typeName(t)+"{", ", ", "}"
	}
	l := p.locked(func() any { return p.mapLayout(t) }).(reflect.Type)
	m := reflect.NewAt(l, at).Elem()
	p.text(opening)
	for i, key := range sortedKeys(m) {
		if i > 0 {
			p.text(separator)
		}
		p.copied(u.Key(), key, depth+1, exported)
		p.text(":")
		p.copied(u.Elem(), m.MapIndex(key), depth+1, exported)
	}
	p.text(closing)
}

// copied prints a value that has no address.
func (p *printer) copied(t types.Type, v reflect.Value, depth int, exported bool) {
	c := reflect.New(v.Type())
	c.Elem().Set(v)
	p.value(t, c.UnsafePointer(), depth, exported)
}

// methods prints by a method of the session's type, as fmt looks for them; false if it has none.
func (p *printer) methods(t types.Type, at pointer) (handled bool) {
	n, ok := types.Unalias(t).(*types.Named)
	if e, isPointer := isPointerTo(t); isPointer && !ok {
		n, ok = types.Unalias(e).(*types.Named)
	}
	if _, isStruct := t.Underlying().(*types.Struct); !ok && !isStruct {
		return false
	}
	if n != nil && p.opaque(n) {
		return false
	}
	r := p.locked(func() any { return p.record(t) }).(*record)
	b, ok := r.boxed(at).(box)
	if !ok {
		return false
	}
	method, call := p.chosenMethod(b)
	if call == nil {
		return false
	}
	defer p.caught(method, r, at)
	handled = true
	call()
	return handled
}

func (p *printer) chosenMethod(b box) (string, func()) {
	if hasMethod(b, "Format", "func(fmt.State, int32)") {
		return "Format", func() {
			state, verb := p.state, p.verb
			callMethod(b, "Format", []pointer{pointer(&state), pointer(&verb)}, nil)
		}
	}
	if p.sharp() {
		if hasMethod(b, "GoString", "func() string") {
			return "GoString", func() { s, _ := callString(b, "GoString"); p.text(s) }
		}
		return "", nil
	}
	switch p.verb {
	case 'v', 's', 'x', 'X', 'q':
		for _, name := range []string{"Error", "String"} {
			if hasMethod(b, name, "func() string") {
				return name, func() { s, _ := callString(b, name); p.leaf(s) }
			}
		}
	}
	return "", nil
}

// caught writes what fmt writes when a method panics.
func (p *printer) caught(method string, r *record, at pointer) {
	v := recover()
	if v == nil {
		return
	}
	if unrecoverable(v) {
		panic(v)
	}
	if current := r.machine.current.Load(); current != nil {
		current.crossed.Store(nil)
	}
	if _, isPointer := isPointerTo(r.t); isPointer && *(*pointer)(at) == nil {
		p.text("<nil>")
		return
	}
	fmt.Fprintf(p.state, "%%!%c(PANIC=%s method: %v)", p.verb, method, unadapted(v))
}
