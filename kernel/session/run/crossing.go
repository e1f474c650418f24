package run

import (
	"go/token"
	"go/types"
	"reflect"
)

// crossing converts values of one static type between a cell's memory and compiled code's.
type crossing struct {
	native reflect.Type // the type in compiled code
	enter  mover        // compiled -> cell
	leave  mover        // cell -> compiled
}

func (m *Machine) crossings(t *types.Tuple) []crossing {
	list := make([]crossing, t.Len())
	for i := range list {
		list[i] = m.crossing(t.At(i).Type())
	}
	return list
}

// crossing of a type that compiled code gives the reflect type its static type suggests.
func (m *Machine) crossing(t types.Type) crossing {
	native, ok := m.compiledParameter(t)
	if !ok {
		native = m.layout(t)
	}
	return m.crossingTo(t, native)
}

// crossingTo a known type of compiled code.
func (m *Machine) crossingTo(t types.Type, native reflect.Type) crossing {
	l := m.layout(t)
	switch {
	case l == closureType && native.Kind() == reflect.Func:
		return m.functionCrossing(t, native)
	case types.IsInterface(t) && native.Kind() == reflect.Interface && l != native:
		load, store := m.loadInterface(t), m.storeInterface(t)
		return crossing{native,
			func(to, from pointer) { store(to, unadapted(dynamic(reflect.NewAt(native, from).Elem()))) },
			func(to, from pointer) { setInterface(reflect.NewAt(native, to).Elem(), load(from)) }}
	}
	if l != native && holdsFunctions(l) {
		refuse(token.NoPos, "pass the functions one by one", "a value of type %s cannot be passed to a compiled package, which has functions of another kind", typeName(t))
	}
	move := moverOf(l)
	return crossing{native, move, move}
}

// holdsFunctions reports whether memory of a layout leads to functions of cells.
func holdsFunctions(l reflect.Type) bool {
	switch l.Kind() {
	case reflect.Pointer:
		return l == closureType || l.Elem().Name() == "" && holdsFunctions(l.Elem())
	case reflect.Slice, reflect.Array, reflect.Chan:
		return holdsFunctions(l.Elem())
	case reflect.Map:
		return holdsFunctions(l.Key()) || holdsFunctions(l.Elem())
	case reflect.Struct:
		if l.Name() != "" {
			return false
		}
		for i := range l.NumField() {
			if holdsFunctions(l.Field(i).Type) {
				return true
			}
		}
	}
	return false
}

func (m *Machine) functionCrossing(t types.Type, native reflect.Type) crossing {
	signature, ok := t.Underlying().(*types.Signature)
	if !ok {
		refuse(token.NoPos, "", "type %s cannot be passed to compiled code", typeName(t))
	}
	shape := &functionShape{}
	return crossing{native,
		func(to, from pointer) {
			*(**closure)(to) = m.foreign(reflect.NewAt(native, from).Elem())
		},
		func(to, from pointer) {
			c := *(**closure)(from)
			reflect.NewAt(native, to).Elem().Set(m.exported(c, native, signature, shape))
		}}
}

// dynamic gives the value in an interface, or nil.
func dynamic(v reflect.Value) any {
	if v.IsNil() {
		return nil
	}
	return v.Elem().Interface()
}

// setInterface stores a cell's interface value in a compiled interface without a name in the tables.
func setInterface(to reflect.Value, v any) {
	if v == nil {
		to.SetZero()
		return
	}
	to.Set(reflect.ValueOf(v))
}
