package run

import (
	"cmp"
	"fmt"
	"go/token"
	"go/types"
	"reflect"
	"unsafe"

	"cobber/stdlib/quantity"
)

type predicate func(fp pointer) bool

func isComparison(t token.Token) bool {
	switch t {
	case token.EQL, token.NEQ, token.LSS, token.LEQ, token.GTR, token.GEQ:
		return true
	}
	return false
}

func ordered[T cmp.Ordered](operator token.Token, a, b uintptr) predicate {
	switch operator {
	case token.LSS:
		return func(fp pointer) bool { return *at[T](fp, a) < *at[T](fp, b) }
	case token.LEQ:
		return func(fp pointer) bool { return *at[T](fp, a) <= *at[T](fp, b) }
	case token.GTR:
		return func(fp pointer) bool { return *at[T](fp, a) > *at[T](fp, b) }
	case token.GEQ:
		return func(fp pointer) bool { return *at[T](fp, a) >= *at[T](fp, b) }
	}
	return same[T](operator, a, b)
}

func same[T comparable](operator token.Token, a, b uintptr) predicate {
	if operator == token.EQL {
		return func(fp pointer) bool { return *at[T](fp, a) == *at[T](fp, b) }
	}
	return func(fp pointer) bool { return *at[T](fp, a) != *at[T](fp, b) }
}

func compareQuantities(operator token.Token, a, b uintptr) predicate {
	load := func(fp pointer) (x, y quantity.Quantity) {
		return *at[quantity.Quantity](fp, a), *at[quantity.Quantity](fp, b)
	}
	switch operator {
	case token.LSS:
		return func(fp pointer) bool { x, y := load(fp); return x.Less(y) }
	case token.GTR:
		return func(fp pointer) bool { x, y := load(fp); return y.Less(x) }
	case token.LEQ:
		return func(fp pointer) bool { x, y := load(fp); return x.Less(y) || x.Equal(y) }
	case token.GEQ:
		return func(fp pointer) bool { x, y := load(fp); return y.Less(x) || x.Equal(y) }
	case token.EQL:
		return func(fp pointer) bool { x, y := load(fp); return x.Equal(y) }
	}
	return func(fp pointer) bool { x, y := load(fp); return !x.Equal(y) }
}

// compare compiles a comparison of two values of one type.
func (m *Machine) compare(t types.Type, operator token.Token, a, b uintptr) predicate {
	l := m.layout(t)
	if l == quantityType {
		return compareQuantities(operator, a, b)
	}
	switch l.Kind() {
	case reflect.Int:
		return ordered[int](operator, a, b)
	case reflect.Int8:
		return ordered[int8](operator, a, b)
	case reflect.Int16:
		return ordered[int16](operator, a, b)
	case reflect.Int32:
		return ordered[int32](operator, a, b)
	case reflect.Int64:
		return ordered[int64](operator, a, b)
	case reflect.Uint:
		return ordered[uint](operator, a, b)
	case reflect.Uint8:
		return ordered[uint8](operator, a, b)
	case reflect.Uint16:
		return ordered[uint16](operator, a, b)
	case reflect.Uint32:
		return ordered[uint32](operator, a, b)
	case reflect.Uint64:
		return ordered[uint64](operator, a, b)
	case reflect.Uintptr:
		return ordered[uintptr](operator, a, b)
	case reflect.Float32:
		return ordered[float32](operator, a, b)
	case reflect.Float64:
		return ordered[float64](operator, a, b)
	case reflect.String:
		return ordered[string](operator, a, b)
	case reflect.Bool:
		return same[bool](operator, a, b)
	case reflect.Complex64:
		return same[complex64](operator, a, b)
	case reflect.Complex128:
		return same[complex128](operator, a, b)
	case reflect.Pointer, reflect.UnsafePointer, reflect.Map, reflect.Chan:
		return same[pointer](operator, a, b)
	case reflect.Slice: // only against nil
		isNil := func(fp pointer) bool { return *at[[]byte](fp, a) == nil && *at[[]byte](fp, b) == nil }
		return negated(operator, isNil)
	}
	equal := m.equality(t)
	return negated(operator, func(fp pointer) bool { return equal(unsafe.Add(fp, a), unsafe.Add(fp, b)) })
}

func negated(operator token.Token, p predicate) predicate {
	if operator == token.EQL {
		return p
	}
	return func(fp pointer) bool { return !p(fp) }
}

// equality compares memory of one static type: by the session's types, blank fields passed over.
func (m *Machine) equality(t types.Type) func(a, b pointer) bool {
	l := m.layout(t)
	if l == quantityType {
		return func(a, b pointer) bool { return (*quantity.Quantity)(a).Equal(*(*quantity.Quantity)(b)) }
	}
	switch u := t.Underlying().(type) {
	case *types.Interface:
		load := m.loadInterface(t)
		return func(a, b pointer) bool { return equalInterfaces(load(a), load(b)) }
	case *types.Struct:
		if n, ok := types.Unalias(t).(*types.Named); ok {
			if _, compiled := compiledType(n); compiled {
				break
			}
		}
		return m.equalFields(u, l)
	case *types.Array:
		equal, size := m.equality(u.Elem()), l.Elem().Size()
		return func(a, b pointer) bool {
			for i := range uintptr(l.Len()) {
				if !equal(unsafe.Add(a, i*size), unsafe.Add(b, i*size)) {
					return false
				}
			}
			return true
		}
	}
	return func(a, b pointer) bool {
		return reflect.NewAt(l, a).Elem().Interface() == reflect.NewAt(l, b).Elem().Interface()
	}
}

func (m *Machine) equalFields(s *types.Struct, l reflect.Type) func(a, b pointer) bool {
	type field struct {
		offset uintptr
		equal  func(a, b pointer) bool
	}
	var fields []field
	for i := range s.NumFields() {
		if s.Field(i).Name() != "_" {
			fields = append(fields, field{l.Field(i).Offset, m.equality(s.Field(i).Type())})
		}
	}
	return func(a, b pointer) bool {
		for _, f := range fields {
			if !f.equal(unsafe.Add(a, f.offset), unsafe.Add(b, f.offset)) {
				return false
			}
		}
		return true
	}
}

// equalInterfaces is == on interface values, with Go's panic for what cannot be compared.
func equalInterfaces(a, b any) bool {
	x, boxed := boxOf(a)
	if !boxed {
		if qa, ok := a.(quantity.Quantity); ok {
			qb, ok := b.(quantity.Quantity)
			return ok && qa.Dimension().Equal(qb.Dimension()) && qa.Equal(qb)
		}
		return equalCompiled(a, b)
	}
	y, boxed := boxOf(b)
	if !boxed || x.record() != y.record() {
		return false
	}
	if r := x.record(); !types.Comparable(r.t) {
		panic(runtimeError("runtime error: comparing uncomparable type " + r.name))
	}
	return x.equal(y)
}

// equalCompiled compares values of compiled types, which may hold boxes in interfaces.
func equalCompiled(a, b any) bool {
	if a != nil {
		if k := reflect.TypeOf(a).Kind(); k == reflect.Array || k == reflect.Struct {
			defer func() {
				if r := recover(); r != nil {
					if name := uncomparable(reflect.ValueOf(a)); name != "" {
						r = runtimeError("runtime error: comparing uncomparable type " + name)
					}
					panic(r)
				}
			}()
		}
	}
	return a == b
}

// uncomparable names the session type that cannot be compared inside a value.
func uncomparable(v reflect.Value) string {
	switch v.Kind() {
	case reflect.Interface:
		if v.IsNil() || !v.CanInterface() {
			return ""
		}
		if b, ok := v.Interface().(box); ok && !types.Comparable(b.record().t) {
			return b.record().name
		}
		return uncomparable(v.Elem())
	case reflect.Array:
		for i := range v.Len() {
			if name := uncomparable(v.Index(i)); name != "" {
				return name
			}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if name := uncomparable(v.Field(i)); name != "" {
				return name
			}
		}
	}
	return ""
}

// hashable panics as Go does when a map key in an interface cannot be hashed.
func hashable(key any) {
	if b, ok := boxOf(key); ok && !types.Comparable(b.record().t) {
		panic(runtimeError(fmt.Sprintf("runtime error: hash of unhashable type %s", b.record().name)))
	}
}
