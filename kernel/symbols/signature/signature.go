// Package signature writes the type of a method as a text that is the same for
// identical types, so that generated tables and a running session can compare
// signatures without sharing types.
//
// In goes a *types.Signature, out comes a text such as
// "func([]uint8) (int, error)". It never compares receivers or names of
// parameters, which do not belong to the identity of a signature.
package signature

import (
	"go/types"
	"strconv"
	"strings"
)

// Of writes a signature: no names of parameters, packages by their full path,
// uint8 and int32 for byte and rune, any for the empty interface, and no
// aliases.
func Of(sig *types.Signature) string {
	var w writer
	w.signature(sig)
	return w.String()
}

type writer struct{ strings.Builder }

func (w *writer) signature(sig *types.Signature) {
	w.WriteString("func(")
	w.tuple(sig.Params(), sig.Variadic())
	w.WriteString(")")
	switch sig.Results().Len() {
	case 0:
	case 1:
		w.WriteString(" ")
		w.tuple(sig.Results(), false)
	default:
		w.WriteString(" (")
		w.tuple(sig.Results(), false)
		w.WriteString(")")
	}
}

func (w *writer) tuple(tuple *types.Tuple, variadic bool) {
	for i := range tuple.Len() {
		if i > 0 {
			w.WriteString(", ")
		}
		t := tuple.At(i).Type()
		if slice, ok := t.(*types.Slice); ok && variadic && i == tuple.Len()-1 {
			w.WriteString("...")
			t = slice.Elem()
		}
		w.write(t)
	}
}

func (w *writer) write(t types.Type) {
	switch t := types.Unalias(t).(type) {
	case *types.Basic:
		w.WriteString(types.Typ[t.Kind()].Name()) // not byte or rune
	case *types.Named:
		w.named(t)
	case *types.Pointer:
		w.prefixed("*", t.Elem())
	case *types.Slice:
		w.prefixed("[]", t.Elem())
	case *types.Array:
		w.prefixed("["+strconv.FormatInt(t.Len(), 10)+"]", t.Elem())
	case *types.Map:
		w.prefixed("map[", t.Key())
		w.prefixed("]", t.Elem())
	case *types.Chan:
		w.prefixed([...]string{"chan ", "chan<- ", "<-chan "}[t.Dir()]+"(", t.Elem())
		w.WriteString(")")
	case *types.Signature:
		w.signature(t)
	case *types.Interface:
		w.inter(t)
	default:
		w.WriteString(types.TypeString(t, (*types.Package).Path))
	}
}

func (w *writer) prefixed(prefix string, elem types.Type) {
	w.WriteString(prefix)
	w.write(elem)
}

func (w *writer) named(t *types.Named) {
	if pkg := t.Obj().Pkg(); pkg != nil {
		w.WriteString(pkg.Path() + ".")
	}
	w.WriteString(t.Obj().Name())
	for i := range t.TypeArgs().Len() {
		w.prefixed([...]string{"[", ","}[min(i, 1)], t.TypeArgs().At(i))
	}
	if t.TypeArgs().Len() > 0 {
		w.WriteString("]")
	}
}

func (w *writer) inter(t *types.Interface) {
	if t.NumMethods() == 0 && t.IsMethodSet() {
		w.WriteString("any")
		return
	}
	w.WriteString("interface{")
	for i := range t.NumMethods() {
		w.WriteString(" " + t.Method(i).Name())
		w.WriteString(strings.TrimPrefix(Of(t.Method(i).Signature()), "func"))
	}
	w.WriteString(" }")
}
