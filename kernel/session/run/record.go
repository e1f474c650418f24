package run

import (
	"go/types"
	"reflect"
	"strconv"
	"strings"
	"sync"

	"golang.org/x/tools/go/ssa"

	"cobber/kernel/symbols/signature"
)

// record stands for a type that reflect cannot name: one record per identical type.
type record struct {
	machine *Machine
	t       types.Type
	name    string // as %T shows it
	layout  reflect.Type
	word    bool // one pointer word: kept in a pointerBox
	floats  int  // so many float64 fields and nothing else: kept as an array, which needs no reflection
	methods sync.Map
	equals  func(a, b pointer) bool
	once    sync.Once
}

// record finds or makes the record of a type; the caller holds m.compiling.
func (m *Machine) record(t types.Type) *record {
	t = types.Unalias(t)
	m.recording.Lock()
	defer m.recording.Unlock()
	if r, ok := m.records.At(t).(*record); ok {
		return r
	}
	l := m.layout(t)
	r := &record{machine: m, t: t, name: typeName(t), layout: l, word: classOf(l) == classPointer, floats: floatsIn(t, l)}
	m.records.Set(t, r)
	return r
}

// floatsIn counts the fields of a struct of at most four float64 fields; 0 for every other type.
func floatsIn(t types.Type, l reflect.Type) int {
	s, ok := t.Underlying().(*types.Struct)
	if !ok || s.NumFields() > 4 {
		return 0
	}
	for i := range s.NumFields() {
		if l.Field(i).Type.Kind() != reflect.Float64 || s.Field(i).Name() == "_" {
			return 0
		}
	}
	return s.NumFields()
}

// method finds a method by name: nil if the type has none.
func (r *record) method(pkg *types.Package, name string) *method {
	if v, ok := r.methods.Load(name); ok {
		return v.(*method)
	}
	r.machine.compiling.Lock()
	found := r.find(pkg, name)
	r.machine.compiling.Unlock()
	v, _ := r.methods.LoadOrStore(name, found)
	return v.(*method)
}

// method is a method of a session type, with what it takes to call it from compiled code.
type method struct {
	fn        *function
	signature *types.Signature
	text      string // the signature as package signature writes it
	in, out   []crossing
}

func (r *record) find(pkg *types.Package, name string) *method {
	selection := types.NewMethodSet(r.t).Lookup(pkg, name)
	if selection == nil {
		return (*method)(nil)
	}
	var f *ssa.Function
	if !types.IsInterface(r.t) {
		f = r.machine.Program.MethodValue(selection)
	}
	if f == nil {
		return (*method)(nil)
	}
	s := selection.Type().(*types.Signature)
	return &method{fn: r.machine.function(f), signature: s, text: signature.Of(s),
		in: r.machine.crossings(s.Params()), out: r.machine.crossings(s.Results())}
}

// equal compares two values of the type in memory.
func (r *record) equal(a, b pointer) bool {
	r.once.Do(func() {
		r.machine.compiling.Lock()
		defer r.machine.compiling.Unlock()
		r.equals = r.machine.equality(r.t)
	})
	return r.equals(a, b)
}

// typeName writes a type as %T does.
func typeName(t types.Type) string {
	switch t := t.(type) {
	case *types.Alias:
		return typeName(types.Unalias(t))
	case *types.Basic:
		switch t.Kind() {
		case types.UnsafePointer:
			return "unsafe.Pointer"
		case types.Uint8:
			return "uint8"
		case types.Int32:
			return "int32"
		}
		return t.Name()
	case *types.Named:
		return namedName(t)
	case *types.Pointer:
		return "*" + typeName(t.Elem())
	case *types.Slice:
		return "[]" + typeName(t.Elem())
	case *types.Array:
		return "[" + strconv.FormatInt(t.Len(), 10) + "]" + typeName(t.Elem())
	case *types.Map:
		return "map[" + typeName(t.Key()) + "]" + typeName(t.Elem())
	case *types.Chan:
		return chanName(t)
	case *types.Signature:
		return "func" + signatureName(t)
	case *types.Struct:
		return structName(t)
	case *types.Interface:
		return interfaceName(t)
	}
	return t.String()
}

func namedName(t *types.Named) string {
	name := t.Obj().Name()
	if pkg := t.Obj().Pkg(); pkg != nil {
		name = pkg.Name() + "." + name
	}
	if args := t.TypeArgs(); args.Len() > 0 {
		list := make([]string, args.Len())
		for i := range list {
			list[i] = typeName(args.At(i))
		}
		name += "[" + strings.Join(list, ",") + "]"
	}
	return name
}

func chanName(t *types.Chan) string {
	elem := typeName(t.Elem())
	switch t.Dir() {
	case types.SendOnly:
		return "chan<- " + elem
	case types.RecvOnly:
		return "<-chan " + elem
	}
	if strings.HasPrefix(elem, "<-") {
		return "chan (" + elem + ")"
	}
	return "chan " + elem
}

func signatureName(s *types.Signature) string {
	list := func(t *types.Tuple, variadic bool) []string {
		out := make([]string, t.Len())
		for i := range out {
			p := t.At(i).Type()
			if variadic && i == len(out)-1 {
				out[i] = "..." + typeName(p.(*types.Slice).Elem())
				continue
			}
			out[i] = typeName(p)
		}
		return out
	}
	text := "(" + strings.Join(list(s.Params(), s.Variadic()), ", ") + ")"
	switch out := list(s.Results(), false); len(out) {
	case 0:
	case 1:
		text += " " + out[0]
	default:
		text += " (" + strings.Join(out, ", ") + ")"
	}
	return text
}

func structName(t *types.Struct) string {
	if t.NumFields() == 0 {
		return "struct {}"
	}
	fields := make([]string, t.NumFields())
	for i := range fields {
		f := t.Field(i)
		fields[i] = typeName(f.Type())
		if !f.Embedded() {
			fields[i] = f.Name() + " " + fields[i]
		}
		if tag := t.Tag(i); tag != "" {
			fields[i] += " " + strconv.Quote(tag)
		}
	}
	return "struct { " + strings.Join(fields, "; ") + " }"
}

func interfaceName(t *types.Interface) string {
	if t.NumMethods() == 0 {
		return "interface {}"
	}
	methods := make([]string, t.NumMethods())
	for i := range methods {
		m := t.Method(i)
		methods[i] = m.Name() + signatureName(m.Type().(*types.Signature))
	}
	return "interface { " + strings.Join(methods, "; ") + " }"
}
