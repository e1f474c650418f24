package run

import (
	"go/token"
	"go/types"
	"reflect"
	"unsafe"

	"cobber/kernel/symbols"
)

// sessionType is the reflect.Type of a type that reflect cannot name. What it says of itself comes
// from the static type; the embedded type is that of its memory. Two are equal where the types are
// identical. Package reflect itself would see only the memory, so its functions are not given one.
type sessionType struct {
	reflect.Type
	rec *record
}

func init() {
	add(map[string]intrinsic{
		"reflect.TypeOf":                 func(fp pointer, a, r []uintptr) { *at[reflect.Type](fp, r[0]) = typeOf(*at[any](fp, a[0])) },
		"(*reflect.rtype).Implements":    comparing(reflect.Type.Implements),
		"(*reflect.rtype).AssignableTo":  comparing(reflect.Type.AssignableTo),
		"(*reflect.rtype).ConvertibleTo": comparing(reflect.Type.ConvertibleTo),
	})
}

var runtimeType = reflect.TypeOf(reflect.TypeOf(0))

func typeOf(v any) reflect.Type {
	if b, ok := boxOf(v); ok {
		return sessionType{b.record().layout, b.record()}
	}
	return reflect.TypeOf(v)
}

// comparing is a method of Go's own reflect.Type that looks into another type.
func comparing(method func(t, u reflect.Type) bool) intrinsic {
	return func(fp pointer, a, r []uintptr) {
		u := *at[reflect.Type](fp, a[1])
		refuseType(u)
		// The receiver is what the interface held.
		t := reflect.NewAt(runtimeType, unsafe.Add(fp, a[0])).Elem().Interface().(reflect.Type)
		*at[bool](fp, r[0]) = method(t, u)
	}
}

// refuseType refuses to hand a session type to package reflect.
func refuseType(t reflect.Type) {
	if s, ok := t.(sessionType); ok {
		refuse(token.NoPos, insteadReflection, noReflection, s.rec.name)
	}
}

// of is the reflect.Type of a type that the session type mentions.
func (s sessionType) of(t types.Type) reflect.Type {
	m := s.rec.machine
	if m.natural(t) {
		return m.locked(func() any { return m.layout(t) }).(reflect.Type)
	}
	r := m.locked(func() any { return m.record(t) }).(*record)
	return sessionType{r.layout, r}
}

func (s sessionType) named() *types.Named {
	n, _ := s.rec.t.(*types.Named)
	return n
}

func (s sessionType) String() string { return s.rec.name }

func (s sessionType) Name() string {
	n := s.named()
	if n == nil {
		return ""
	}
	return s.rec.name[len(n.Obj().Pkg().Name())+1:]
}

func (s sessionType) PkgPath() string {
	if n := s.named(); n != nil {
		return n.Obj().Pkg().Path()
	}
	return ""
}

func (s sessionType) Kind() reflect.Kind {
	switch s.rec.t.Underlying().(type) {
	case *types.Signature:
		return reflect.Func
	case *types.Pointer:
		return reflect.Pointer // where a cycle is closed, the memory has an unsafe.Pointer
	}
	return s.Type.Kind()
}

func (s sessionType) Comparable() bool {
	return types.Comparable(s.rec.t)
}

func (s sessionType) Elem() reflect.Type {
	if e, ok := s.rec.t.Underlying().(interface{ Elem() types.Type }); ok {
		return s.of(e.Elem())
	}
	panic("reflect: Elem of invalid type " + s.rec.name)
}

func (s sessionType) Key() reflect.Type {
	if m, ok := s.rec.t.Underlying().(*types.Map); ok {
		return s.of(m.Key())
	}
	panic("reflect: Key of non-map type " + s.rec.name)
}

// ---- functions

func (s sessionType) signature(asked string) *types.Signature {
	f, ok := s.rec.t.Underlying().(*types.Signature)
	if !ok {
		panic("reflect: " + asked + " of non-func type " + s.rec.name)
	}
	return f
}

func (s sessionType) NumIn() int            { return s.signature("NumIn").Params().Len() }
func (s sessionType) NumOut() int           { return s.signature("NumOut").Results().Len() }
func (s sessionType) IsVariadic() bool      { return s.signature("IsVariadic").Variadic() }
func (s sessionType) In(i int) reflect.Type { return s.of(s.signature("In").Params().At(i).Type()) }
func (s sessionType) Out(i int) reflect.Type {
	return s.of(s.signature("Out").Results().At(i).Type())
}

// ---- methods

// methods are the exported ones, in the order of their names.
func (s sessionType) methods() []*types.Func {
	var list []*types.Func
	set := types.NewMethodSet(s.rec.t)
	for i := range set.Len() {
		if f := set.At(i).Obj().(*types.Func); f.Exported() {
			list = append(list, f)
		}
	}
	return list
}

func (s sessionType) NumMethod() int {
	if i, ok := s.rec.t.Underlying().(*types.Interface); ok {
		return i.NumMethods()
	}
	return len(s.methods())
}

func (s sessionType) Method(int) reflect.Method {
	refuse(token.NoPos, "call the method by its name", "package reflect cannot give the methods of %s, a type declared in a cell", s.rec.name)
	return reflect.Method{}
}

func (s sessionType) MethodByName(name string) (reflect.Method, bool) {
	for _, f := range s.methods() {
		if f.Name() == name {
			return s.Method(0), true
		}
	}
	return reflect.Method{}, false
}

func (s sessionType) Implements(u reflect.Type) bool {
	if u == nil {
		panic("reflect: nil type passed to Type.Implements")
	}
	if other, ok := u.(sessionType); ok {
		if i, ok := other.rec.t.Underlying().(*types.Interface); ok {
			return types.Implements(s.rec.t, i)
		}
	}
	if u.Kind() != reflect.Interface {
		panic("reflect: non-interface type passed to Type.Implements")
	}
	return s.implements(u)
}

// implements holds the methods to those of an interface that compiled code declares.
func (s sessionType) implements(u reflect.Type) bool {
	if u.NumMethod() == 0 {
		return true
	}
	zero := reflect.New(s.rec.layout)
	holds, known := symbols.Implements(u.PkgPath(), u.Name(), s.rec.boxed(zero.UnsafePointer()).(symbols.Receiver))
	if !known {
		refuseType(s)
	}
	return holds
}

func (s sessionType) AssignableTo(u reflect.Type) bool {
	return s.related("AssignableTo", u, types.AssignableTo)
}

func (s sessionType) ConvertibleTo(u reflect.Type) bool {
	return s.related("ConvertibleTo", u, types.ConvertibleTo)
}

// related asks of two types of cells; of a compiled type the session cannot tell.
func (s sessionType) related(asked string, u reflect.Type, holds func(t, u types.Type) bool) bool {
	if u == nil {
		panic("reflect: nil type passed to Type." + asked)
	}
	if other, ok := u.(sessionType); ok {
		return holds(s.rec.t, other.rec.t)
	}
	refuseType(s)
	return false
}

// ---- fields

func (s sessionType) structure(asked string) *types.Struct {
	t, ok := s.rec.t.Underlying().(*types.Struct)
	if !ok {
		panic("reflect: " + asked + " of non-struct type " + s.rec.name)
	}
	return t
}

func (s sessionType) NumField() int { return s.structure("NumField").NumFields() }

func (s sessionType) Field(i int) reflect.StructField {
	t := s.structure("Field")
	if i < 0 || i >= t.NumFields() {
		panic("reflect: Field index out of bounds")
	}
	f := t.Field(i)
	field := reflect.StructField{
		Name: f.Name(), Type: s.of(f.Type()), Tag: reflect.StructTag(t.Tag(i)),
		Offset: s.Type.Field(i).Offset, Index: []int{i}, Anonymous: f.Embedded(),
	}
	if !f.Exported() {
		field.PkgPath = f.Pkg().Path()
	}
	return field
}

func (s sessionType) FieldByIndex(index []int) reflect.StructField {
	var f reflect.StructField
	t := reflect.Type(s)
	for i, x := range index {
		if i > 0 {
			if t = f.Type; t.Kind() == reflect.Pointer && t.Elem().Kind() == reflect.Struct {
				t = t.Elem()
			}
		}
		f = t.Field(x)
	}
	return f
}

func (s sessionType) FieldByName(name string) (reflect.StructField, bool) {
	s.structure("FieldByName")
	object, index, _ := types.LookupFieldOrMethod(s.rec.t, false, s.pkg(), name)
	if v, ok := object.(*types.Var); !ok || !v.IsField() {
		return reflect.StructField{}, false
	}
	f := s.FieldByIndex(index)
	f.Index = index
	return f, true
}

func (s sessionType) FieldByNameFunc(func(string) bool) (reflect.StructField, bool) {
	refuse(token.NoPos, "go through Field(i)", "FieldByNameFunc is not available for %s, a type declared in a cell", s.rec.name)
	return reflect.StructField{}, false
}

// pkg is where unexported names of the type are looked up.
func (s sessionType) pkg() *types.Package {
	if n := s.named(); n != nil {
		return n.Obj().Pkg()
	}
	if t, ok := s.rec.t.Underlying().(*types.Struct); ok && t.NumFields() > 0 {
		return t.Field(0).Pkg()
	}
	return nil
}
