package run

import (
	"encoding/json"
	"fmt"
	"go/token"
	"go/types"
	"reflect"
	"strings"

	"golang.org/x/tools/go/ssa"

	"cobber/kernel/symbols"
)

// What compiled packages that look inside values are shown of a cell's types.

// goroutineStarters are the compiled functions that call a function on a goroutine of their own, where
// one that is nil would end the process.
var goroutineStarters = map[string]bool{
	"time.AfterFunc": true, "context.AfterFunc": true, "(*sync.WaitGroup).Go": true,
}

func startsGoroutine(f *ssa.Function) bool { return goroutineStarters[f.RelString(nil)] }

func (n *nativeCall) refuseNilFunctions(fp pointer) {
	for _, a := range n.args {
		if a.native.Kind() == reflect.Func && *at[*closure](fp, a.offset) == nil {
			nilDereference()
		}
	}
}

// takesFormat reports whether the last two parameters are a format and its arguments.
func takesFormat(f *ssa.Function) bool {
	s := f.Signature
	n := s.Params().Len()
	if !s.Variadic() || n < 2 || !isAnySlice(s.Params().At(n-1).Type()) {
		return false
	}
	b, ok := s.Params().At(n - 2).Type().(*types.Basic)
	return ok && b.Kind() == types.String && strings.HasSuffix(strings.TrimSuffix(f.Name(), "ln"), "f")
}

func isAnySlice(t types.Type) bool {
	s, ok := t.(*types.Slice)
	return ok && types.Identical(s.Elem(), types.NewInterfaceType(nil, nil))
}

// prepareFormat lets %T and %p see session types, and %w session errors.
func prepareFormat(args []reflect.Value) {
	n := len(args)
	list, ok := args[n-1].Interface().([]any)
	if !ok || !anyBox(list) {
		return
	}
	args[n-2] = reflect.ValueOf(askBoxes(args[n-2].String(), list))
	kept := append([]any{}, list...)
	for i, v := range kept {
		if b, ok := v.(box); ok {
			if e := b.asError(); e != nil {
				kept[i] = e
			}
		}
	}
	args[n-1] = reflect.ValueOf(kept)
}

// probe is an interface that a package looks for in values it gets as any.
type probe struct{ path, name, method, signature string }

var probes = map[string]probe{
	"log/slog": {"log/slog", "LogValuer", "LogValue", "func() log/slog.Value"},
	"fmt":      {"fmt", "Scanner", "Scan", "func(fmt.ScanState, int32) error"},
}

// probeOf is what a function probes its arguments for, or nil.
func probeOf(f *ssa.Function) *probe {
	p, ok := probes[packageOf(f)]
	if !ok || !takesAny(f.Signature) || p.path == "fmt" && !strings.Contains(f.Name(), "can") {
		return nil
	}
	return &p
}

// adapt puts an adapter in the place of every box that has the method looked for.
func (p probe) adapt(args []reflect.Value) {
	last := len(args) - 1
	if last < 0 {
		return
	}
	list, ok := args[last].Interface().([]any)
	if !ok || !anyBox(list) {
		return
	}
	kept := append([]any{}, list...)
	for i, v := range kept {
		if b, ok := v.(box); ok && hasMethod(b, p.method, p.signature) {
			kept[i] = adapted(p.path, p.name, b.(symbols.Receiver))
		}
	}
	args[last] = reflect.ValueOf(kept)
}

// lookers are packages whose functions take a value apart by reflection: they are handed the plain
// value instead of the box.
var lookers = map[string]bool{
	"encoding/json": true, "encoding/xml": true, "encoding/gob": true, "encoding/binary": true,
	"text/template": true, "html/template": true, "sort": true, "encoding/asn1": true,
	"cobber/stdlib/table": true,
}

// unboxing reports whether a call must unbox its arguments of type any.
func (c *compiler) unboxing(f *ssa.Function) bool {
	pkg := packageOf(f)
	if pkg == "reflect" {
		return true
	}
	if lookers[pkg] || pkg == "fmt" && strings.Contains(f.Name(), "can") {
		switch f.Name() {
		case "Marshal", "MarshalIndent", "Encode": // the box marshals itself
			return pkg != "encoding/json"
		}
		return takesAny(f.Signature)
	}
	return false
}

// refuseReflection refuses to hand values of session types to package reflect, which would see neither
// their names nor their methods.
func (c *compiler) refuseReflection(f *ssa.Function, args []ssa.Value) {
	if packageOf(f) != "reflect" {
		return
	}
	for _, v := range args {
		if made, ok := v.(*ssa.MakeInterface); ok && !c.natural(made.X.Type()) && c.layout(made.X.Type()) != closureType {
			refuse(made.Pos(), insteadReflection, noReflection, typeName(made.X.Type()))
		}
	}
}

const (
	noReflection      = "package reflect cannot look into %s, a type declared in a cell"
	insteadReflection = "look at it with %T, %+v or %#v"
)

// refuseBoxes is the same for what only a run can tell: values that come to package reflect in interfaces.
func refuseBoxes(args []reflect.Value) {
	for _, a := range args {
		if !a.CanInterface() {
			continue
		}
		var list []any
		switch v := a.Interface().(type) {
		case []any:
			list = v
		case []reflect.Type:
			for _, t := range v {
				refuseType(t)
			}
		case []reflect.StructField:
			for _, f := range v {
				refuseType(f.Type)
			}
		case sessionType:
			refuseType(v)
		default:
			list = []any{v}
		}
		for _, v := range list {
			if b, ok := boxOf(v); ok {
				refuse(token.NoPos, insteadReflection, noReflection, b.record().name)
			}
		}
	}
}

// refuseBoxTypes: a walk through a value by package reflect has come to a value of a session type.
func refuseBoxTypes(results []reflect.Value) {
	for _, r := range results {
		t, _ := r.Interface().(reflect.Type)
		if v, ok := r.Interface().(reflect.Value); ok && v.IsValid() {
			t = v.Type()
		}
		if t == reflect.TypeFor[pointerBox]() || t == reflect.TypeFor[valueBox]() {
			refuse(token.NoPos, insteadReflection, noReflection, "this value")
		}
	}
}

func packageOf(f *ssa.Function) string {
	if f.Pkg != nil {
		return f.Pkg.Pkg.Path()
	}
	if o := f.Object(); o != nil && o.Pkg() != nil {
		return o.Pkg().Path()
	}
	return ""
}

func takesAny(s *types.Signature) bool {
	for i := range s.Params().Len() {
		t := s.Params().At(i).Type()
		if i, ok := t.Underlying().(*types.Interface); ok && i.NumMethods() == 0 || isAnySlice(t) {
			return true
		}
	}
	return false
}

func unboxAll(args []reflect.Value, forTemplate bool) {
	for i, a := range args {
		if a.Kind() == reflect.Interface && !a.IsNil() {
			if b, ok := a.Interface().(box); ok {
				args[i] = unboxed(b, forTemplate)
			}
		}
		if list, ok := a.Interface().([]any); ok && anyBox(list) {
			plainList := make([]any, len(list))
			for j, v := range list {
				plainList[j] = v
				if b, ok := v.(box); ok {
					plainList[j] = unboxed(b, forTemplate).Interface()
				}
			}
			args[i] = reflect.ValueOf(plainList)
		}
	}
}

// unboxed gives a value that reflection can take apart, with the fields of the session's type but
// without its name and methods; it refuses types for which that would be wrong.
func unboxed(b box, forTemplate bool) reflect.Value {
	r := b.record()
	if why := unfitForReflection(r.t, map[types.Type]bool{}, forTemplate); why != "" {
		panic(&Refused{Reason: fmt.Sprintf("%s cannot be handed to a package that takes values apart: %s", r.name, why)})
	}
	return plain(b)
}

// textMethods are methods by which encoders ask a value for its own form.
var textMethods = []string{"MarshalJSON", "UnmarshalJSON", "MarshalText", "UnmarshalText", "MarshalXML", "UnmarshalXML",
	"GobEncode", "GobDecode", "MarshalBinary", "UnmarshalBinary"}

func unfitForReflection(t types.Type, seen map[types.Type]bool, anyMethod bool) string {
	if seen[t] {
		return "it refers to itself"
	}
	if n, ok := types.Unalias(t).(*types.Named); ok {
		if _, compiled := compiledType(n); compiled {
			return ""
		}
		seen[t] = true
		defer delete(seen, t)
		methods := types.NewMethodSet(types.NewPointer(n))
		if anyMethod && methods.Len() > 0 {
			return fmt.Sprintf("its method %s would not be found", methods.At(0).Obj().Name())
		}
		for _, name := range textMethods {
			if methods.Lookup(n.Obj().Pkg(), name) != nil {
				return fmt.Sprintf("its method %s would not be called", name)
			}
		}
	}
	switch u := t.Underlying().(type) {
	case *types.Pointer:
		return unfitForReflection(u.Elem(), seen, anyMethod)
	case *types.Slice:
		return unfitForReflection(u.Elem(), seen, anyMethod)
	case *types.Array:
		return unfitForReflection(u.Elem(), seen, anyMethod)
	case *types.Map:
		return unfitForReflection(u.Elem(), seen, anyMethod)
	case *types.Signature:
		return "it holds a function"
	case *types.Struct:
		for i := range u.NumFields() {
			f := u.Field(i)
			if !f.Exported() && f.Embedded() {
				return fmt.Sprintf("its embedded field %s is not exported", f.Name())
			}
			if !f.Exported() {
				continue
			}
			if why := unfitForReflection(f.Type(), seen, anyMethod); why != "" {
				return why
			}
		}
	}
	return ""
}

// marshalJSON is encoding/json for a box: by the type's own method, or by its fields.
func marshalJSON(b box) ([]byte, error) {
	for _, name := range []string{"MarshalJSON", "MarshalText"} {
		if !hasMethod(b, name, "func() ([]uint8, error)") {
			continue
		}
		var out []byte
		var err error
		callMethod(b, name, nil, []pointer{pointer(&out), pointer(&err)})
		if err == nil && name == "MarshalText" {
			return json.Marshal(string(out))
		}
		return out, err
	}
	if p, ok := b.(pointerBox); ok {
		if e, isPointer := isPointerTo(p.rec.t); isPointer && p.p != nil {
			inner := p.rec.machine.locked(func() any { return p.rec.machine.record(e) }).(*record)
			if inner.layout.Kind() == reflect.Struct {
				return marshalJSON(inner.boxed(p.p).(box))
			}
		}
	}
	if r := b.record(); r.layout.Kind() == reflect.Interface {
		return nil, fmt.Errorf("json: unsupported type: %s", r.name)
	}
	return json.Marshal(unboxed(b, false).Interface())
}
