package run

import (
	"go/types"
	"reflect"
	"unsafe"

	"golang.org/x/tools/go/ssa"
)

// Size is how many bytes the value of a session variable takes: its own memory, and what it refers to,
// one reference deep. It goes no deeper, and into no map, because goroutines may be changing what is
// there.
func (m *Machine) Size(v *ssa.Global) int64 {
	m.compiling.Lock()
	defer m.compiling.Unlock()
	t := v.Type().(*types.Pointer).Elem()
	return int64(m.layout(t).Size()) + m.behind(t, m.global(v), true)
}

// behind counts what a value refers to; with deeper, also the texts and slices in that.
func (m *Machine) behind(t types.Type, p pointer, deeper bool) int64 {
	l := m.layout(t)
	switch {
	case !hasPointers(l), l == quantityType: // units are shared
		return 0
	case types.IsInterface(t):
		return m.inInterface(m.loadInterface(t)(p), deeper)
	case m.natural(t):
		return behindCompiled(reflect.NewAt(l, p).Elem(), deeper)
	}
	switch u := t.Underlying().(type) {
	case *types.Slice:
		s := *(*[]byte)(p)
		e := m.element(t)
		total := int64(cap(s)) * int64(e.Size())
		if deeper {
			total += m.all(u.Elem(), pointer(unsafe.SliceData(s)), min(len(s), most), e.Size(), false)
		}
		return total
	case *types.Array:
		return m.all(u.Elem(), p, int(u.Len()), l.Elem().Size(), deeper)
	case *types.Struct:
		total := int64(0)
		for i := range u.NumFields() {
			total += m.behind(u.Field(i).Type(), unsafe.Add(p, l.Field(i).Offset), deeper)
		}
		return total
	case *types.Map:
		t := m.mapLayout(t)
		return int64(reflect.NewAt(t, p).Elem().Len()) * int64(t.Key().Size()+t.Elem().Size())
	case *types.Pointer:
		inner := *(*pointer)(p)
		if inner == nil || !deeper {
			return 0
		}
		return int64(m.layout(u.Elem()).Size()) + m.behind(u.Elem(), inner, false)
	}
	return 0
}

// most is how many elements are looked into; beyond it they are counted without what is behind them.
const most = 1 << 20

func (m *Machine) all(t types.Type, base pointer, n int, size uintptr, deeper bool) (total int64) {
	if !hasPointers(m.layout(t)) {
		return 0
	}
	for i := range n {
		total += m.behind(t, unsafe.Add(base, uintptr(i)*size), deeper)
	}
	return total
}

func (m *Machine) inInterface(v any, deeper bool) int64 {
	b, ok := v.(box)
	switch {
	case v == nil:
		return 0
	case !ok:
		return int64(reflect.TypeOf(v).Size()) + behindCompiled(reflect.ValueOf(v), deeper)
	}
	p := reflect.New(b.record().layout)
	b.load(p.UnsafePointer())
	return int64(b.record().layout.Size()) + m.behind(b.record().t, p.UnsafePointer(), deeper)
}

// behindCompiled is behind for types that compiled code knows.
func behindCompiled(v reflect.Value, deeper bool) (total int64) {
	if v.Type() == quantityType {
		return 0
	}
	switch v.Kind() {
	case reflect.String:
		return int64(v.Len())
	case reflect.Slice:
		total = int64(v.Cap()) * int64(v.Type().Elem().Size())
		if !deeper || !hasPointers(v.Type().Elem()) {
			return total
		}
		for i := range min(v.Len(), most) {
			total += behindCompiled(v.Index(i), false)
		}
	case reflect.Array:
		for i := range min(v.Len(), most) {
			total += behindCompiled(v.Index(i), deeper)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			total += behindCompiled(v.Field(i), deeper)
		}
	case reflect.Map:
		return int64(v.Len()) * int64(v.Type().Key().Size()+v.Type().Elem().Size())
	case reflect.Pointer:
		if deeper && !v.IsNil() {
			return int64(v.Type().Elem().Size()) + behindCompiled(v.Elem(), false)
		}
	case reflect.Interface:
		if !v.IsNil() {
			return int64(v.Elem().Type().Size()) + behindCompiled(v.Elem(), deeper)
		}
	}
	return total
}
