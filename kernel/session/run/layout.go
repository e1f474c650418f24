package run

import (
	"go/token"
	"go/types"
	"reflect"
	"strings"
	"sync"
	"unsafe"

	"cobber/kernel/symbols"
	"cobber/stdlib/quantity"
)

var (
	quantityType = reflect.TypeFor[quantity.Quantity]()
	closureType  = reflect.TypeFor[*closure]()
	anyType      = reflect.TypeFor[any]()
	errorType    = reflect.TypeFor[error]()
	pointerType  = reflect.TypeFor[unsafe.Pointer]()
	sliceShape   = reflect.TypeFor[[]byte]()
)

var basicLayouts = map[types.BasicKind]reflect.Type{
	types.Bool: reflect.TypeFor[bool](), types.String: reflect.TypeFor[string](),
	types.Int: reflect.TypeFor[int](), types.Int8: reflect.TypeFor[int8](), types.Int16: reflect.TypeFor[int16](),
	types.Int32: reflect.TypeFor[int32](), types.Int64: reflect.TypeFor[int64](),
	types.Uint: reflect.TypeFor[uint](), types.Uint8: reflect.TypeFor[uint8](), types.Uint16: reflect.TypeFor[uint16](),
	types.Uint32: reflect.TypeFor[uint32](), types.Uint64: reflect.TypeFor[uint64](), types.Uintptr: reflect.TypeFor[uintptr](),
	types.Float32: reflect.TypeFor[float32](), types.Float64: reflect.TypeFor[float64](),
	types.Complex64: reflect.TypeFor[complex64](), types.Complex128: reflect.TypeFor[complex128](),
	types.UnsafePointer: pointerType,
	types.UntypedBool:   reflect.TypeFor[bool](), types.UntypedInt: reflect.TypeFor[int](), types.UntypedRune: reflect.TypeFor[rune](),
	types.UntypedFloat: reflect.TypeFor[float64](), types.UntypedComplex: reflect.TypeFor[complex128](),
	types.UntypedString: reflect.TypeFor[string](), types.UntypedNil: pointerType,
}

// layout gives the type whose memory a value of type t has in a cell. Named types of the session lose
// their name; a reference that closes a cycle becomes a bare pointer (or a slice of the same shape),
// so that two layouts of one type may differ in the types of pointers but never in memory.
// The caller holds m.compiling.
func (m *Machine) layout(t types.Type) reflect.Type {
	if l, ok := m.layouts[t]; ok {
		return l
	}
	b := layoutBuilder{machine: m, open: map[*types.Named]bool{}}
	l := b.build(t)
	m.layouts[t] = l
	return l
}

type layoutBuilder struct {
	machine *Machine
	open    map[*types.Named]bool
	cut     bool // a reference was cut: the result must not be kept for inner types
}

func (b *layoutBuilder) build(t types.Type) reflect.Type {
	if l, ok := b.machine.layouts[t]; ok {
		return l
	}
	switch t := t.(type) {
	case *types.Alias:
		return b.build(types.Unalias(t))
	case *types.Named:
		return b.named(t)
	case *types.Basic:
		if l := basicLayouts[t.Kind()]; l != nil {
			return l
		}
		return reflect.TypeFor[struct{}]()
	case *types.Pointer:
		if e := b.element(t.Elem()); e != nil {
			return reflect.PointerTo(e)
		}
		return pointerType
	case *types.Slice:
		if e := b.element(t.Elem()); e != nil {
			return reflect.SliceOf(e)
		}
		return sliceShape
	case *types.Map:
		k, e := b.element(t.Key()), b.element(t.Elem())
		if k != nil && e != nil {
			return reflect.MapOf(k, e)
		}
		return pointerType
	case *types.Chan:
		if e := b.element(t.Elem()); e != nil {
			return reflect.ChanOf(reflect.BothDir, e)
		}
		return pointerType
	case *types.Array:
		e := b.build(t.Elem())
		if size := int64(e.Size()); size > 0 && t.Len() >= largest/size {
			refuse(token.NoPos, "make it smaller", "an array of %d elements is larger than the address space", t.Len())
		}
		return reflect.ArrayOf(int(t.Len()), e)
	case *types.Struct:
		return b.structure(t)
	case *types.Signature:
		return closureType
	case *types.Interface:
		return anyType
	case *types.Tuple, *types.TypeParam:
	}
	refuse(token.NoPos, "", "the engine has no layout for type %v", t)
	return nil
}

// deepest bounds how far references are followed: types that refer to each other in a large web
// would otherwise be laid out once per path.
const deepest = 5

// element builds the type behind a reference, or nil where it would close a cycle.
func (b *layoutBuilder) element(t types.Type) reflect.Type {
	if b.reaches(t) || len(b.open) >= deepest && !b.machine.natural(t) {
		b.cut = true
		return nil
	}
	return b.build(t)
}

// reaches reports whether t holds, by value, a type whose layout is being built.
func (b *layoutBuilder) reaches(t types.Type) bool {
	switch t := types.Unalias(t).(type) {
	case *types.Named:
		if b.open[t] {
			return true
		}
		if _, ok := compiledType(t); ok {
			return false
		}
		return b.byValue(t) && len(b.open) > 0 && b.reaches(t.Underlying())
	case *types.Array:
		return b.reaches(t.Elem())
	case *types.Struct:
		for i := range t.NumFields() {
			if f := types.Unalias(t.Field(i).Type()); b.byValue(f) && b.reaches(f) {
				return true
			}
		}
	}
	return false
}

func (b *layoutBuilder) byValue(t types.Type) bool {
	switch t.Underlying().(type) {
	case *types.Struct, *types.Array:
		return true
	}
	return false
}

func (b *layoutBuilder) named(t *types.Named) reflect.Type {
	if l, ok := compiledType(t); ok {
		if l.Kind() == reflect.Func {
			return closureType
		}
		return l
	}
	if pkg := t.Obj().Pkg(); pkg == nil || pkg.Path() == "$ssa" {
		return pointerType // the builder's own opaque types
	} else if !b.machine.FromSource(pkg) {
		return b.unnamed(t)
	}
	if b.open[t] {
		b.cut = true
		return b.opaque(t.Underlying())
	}
	b.open[t] = true
	l := b.build(t.Underlying())
	delete(b.open, t)
	if len(b.open) == 0 {
		b.machine.layouts[t] = l
	}
	return l
}

// unnamed lays out a type of a compiled package that the tables do not have: one that is not exported,
// or an instance of a generic type.
func (b *layoutBuilder) unnamed(t *types.Named) reflect.Type {
	switch u := t.Underlying().(type) {
	case *types.Interface:
		return anyType
	case *types.Signature:
		return closureType
	case *types.Struct, *types.Array:
	default:
		return b.build(u)
	}
	name := t.Obj().Pkg().Path() + "." + t.Obj().Name()
	instead := symbols.Refused()[name]
	refuse(token.NoPos, instead, "type %s cannot be used in a cell", typeName(t))
	return nil
}

// typeOfVariable finds a type that is not exported by an exported variable of it.
func typeOfVariable(t *types.Named) reflect.Type {
	key := t.Obj().Pkg().Path() + "." + t.Obj().Name()
	if l, ok := hiddenTypes.Load(key); ok {
		found, _ := l.(reflect.Type)
		return found
	}
	l := searchVariables(t)
	hiddenTypes.Store(key, l)
	return l
}

var hiddenTypes sync.Map // "encoding/binary.bigEndian" -> reflect.Type, or nil

func searchVariables(t *types.Named) reflect.Type {
	if strings.HasPrefix(t.Obj().Pkg().Path(), "cobber/overlay/") {
		return nil
	}
	scope := t.Obj().Pkg().Scope()
	for _, name := range scope.Names() {
		v, ok := scope.Lookup(name).(*types.Var)
		if !ok || !v.Exported() || !types.Identical(v.Type(), t) {
			continue
		}
		if value, ok := symbols.Lookup(v.Pkg().Path(), name); ok {
			return value.Type()
		}
	}
	return nil
}

// opaque is the shape of a reference type that refers to itself: type T []T, type F func(F).
func (b *layoutBuilder) opaque(u types.Type) reflect.Type {
	switch u.(type) {
	case *types.Slice:
		return sliceShape
	case *types.Signature:
		return closureType
	case *types.Interface:
		return anyType
	}
	return pointerType
}

func (b *layoutBuilder) structure(t *types.Struct) reflect.Type {
	fields := make([]reflect.StructField, t.NumFields())
	for i := range fields {
		f := t.Field(i)
		l := b.build(f.Type())
		fields[i] = reflect.StructField{Name: f.Name(), Type: l, Tag: reflect.StructTag(t.Tag(i))}
		if !f.Exported() {
			fields[i].PkgPath = "main"
		} else if f.Embedded() && l.Kind() == reflect.Struct && l.Name() == "" {
			fields[i].Anonymous = true // so that encoders see the promoted fields
		}
	}
	return reflect.StructOf(fields)
}

// element gives the layout of what a slice, array, map, channel or pointer to an array holds.
func (m *Machine) element(t types.Type) reflect.Type {
	switch u := t.Underlying().(type) {
	case *types.Slice:
		return m.layout(u.Elem())
	case *types.Array:
		return m.layout(u.Elem())
	case *types.Map:
		return m.layout(u.Elem())
	case *types.Chan:
		return m.layout(u.Elem())
	case *types.Pointer:
		return m.element(u.Elem())
	}
	refuse(token.NoPos, "", "type %s has no elements", typeName(t))
	return nil
}

// The layouts of whole containers, for types whose own layout was cut because they hold themselves.

func (m *Machine) sliceLayout(t types.Type) reflect.Type { return reflect.SliceOf(m.element(t)) }

func (m *Machine) mapLayout(t types.Type) reflect.Type {
	return reflect.MapOf(m.layout(t.Underlying().(*types.Map).Key()), m.element(t))
}

func (m *Machine) chanLayout(t types.Type) reflect.Type {
	return reflect.ChanOf(reflect.BothDir, m.element(t))
}

// compiledType finds the type of a compiled package in the tables.
func compiledType(t *types.Named) (reflect.Type, bool) {
	o := t.Obj()
	if o.Pkg() == nil {
		switch o.Name() {
		case "error":
			return errorType, true
		case "any", "comparable":
			return anyType, true
		}
		return nil, false
	}
	if t.TypeArgs().Len() > 0 || o.Pkg().Path() == "main" {
		return nil, false
	}
	if !o.Exported() {
		l := typeOfVariable(t)
		return l, l != nil
	}
	if v, ok := symbols.Lookup(o.Pkg().Path(), o.Name()); ok && v.Kind() == reflect.Pointer && v.IsNil() {
		return v.Type().Elem(), true
	}
	return nil, false
}

// natural reports whether compiled code gives the type the same reflect type as its layout here, so
// that a value may enter an interface as it is.
func (m *Machine) natural(t types.Type) bool {
	switch t := t.(type) {
	case *types.Alias:
		return m.natural(types.Unalias(t))
	case *types.Basic:
		return true
	case *types.Named:
		l, ok := compiledType(t)
		return ok && l.Kind() != reflect.Func
	case *types.Pointer:
		return m.natural(t.Elem())
	case *types.Slice:
		return m.natural(t.Elem())
	case *types.Array:
		return m.natural(t.Elem())
	case *types.Chan:
		return t.Dir() == types.SendRecv && m.natural(t.Elem())
	case *types.Map:
		return m.natural(t.Key()) && m.natural(t.Elem())
	case *types.Interface:
		return t.NumMethods() == 0
	case *types.Struct:
		for i := range t.NumFields() {
			if f := t.Field(i); !m.natural(f.Type()) || f.Embedded() || f.Name() == "_" {
				return false
			}
		}
		return true
	}
	return false
}

// compiledSignature gives the reflect type of a function whose parameters and results compiled code
// can handle.
func (m *Machine) compiledSignature(s *types.Signature) (reflect.Type, bool) {
	list := func(t *types.Tuple) ([]reflect.Type, bool) {
		out := make([]reflect.Type, t.Len())
		for i := range out {
			l, ok := m.compiledParameter(t.At(i).Type())
			if !ok {
				return nil, false
			}
			out[i] = l
		}
		return out, true
	}
	in, ok := list(s.Params())
	out, ok2 := list(s.Results())
	if !ok || !ok2 {
		return nil, false
	}
	return reflect.FuncOf(in, out, s.Variadic()), true
}

func (m *Machine) compiledParameter(t types.Type) (reflect.Type, bool) {
	if n, ok := types.Unalias(t).(*types.Named); ok {
		if l, ok := compiledType(n); ok {
			return l, true
		}
	}
	if s, ok := types.Unalias(t).(*types.Signature); ok {
		return m.compiledSignature(s)
	}
	if n, ok := types.Unalias(t).(*types.Named); ok && n.TypeArgs().Len() > 0 && !m.FromSource(n.Obj().Pkg()) {
		if s, ok := n.Underlying().(*types.Signature); ok { // iter.Seq
			return m.compiledSignature(s)
		}
	}
	if c, ok := types.Unalias(t).(*types.Chan); ok && m.natural(c.Elem()) {
		return reflect.ChanOf(directions[c.Dir()], m.layout(c.Elem())), true
	}
	if !m.natural(t) {
		return nil, false
	}
	return m.layout(t), true
}

var directions = map[types.ChanDir]reflect.ChanDir{
	types.SendRecv: reflect.BothDir, types.SendOnly: reflect.SendDir, types.RecvOnly: reflect.RecvDir,
}
