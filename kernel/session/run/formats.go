package run

import (
	"cmp"
	"reflect"
	"slices"
	"strings"
	"unicode/utf8"
)

// askBoxes rewrites the %T and %p of a format that are for boxes, so that fmt asks the box.
func askBoxes(format string, args []any) string {
	if !strings.ContainsAny(format, "Tp") || !anyBox(args) {
		return format
	}
	var b strings.Builder
	arg := 0
	for i := 0; i < len(format); {
		if format[i] != '%' {
			b.WriteByte(format[i])
			i++
			continue
		}
		end, verb, index, next := directive(format, i, arg)
		arg = next
		_, size := utf8.DecodeLastRuneInString(format[i:end])
		b.WriteString(format[i : end-size])
		boxed := false
		if index >= 0 && index < len(args) {
			_, boxed = args[index].(box)
		}
		switch {
		case boxed && verb == 'T':
			b.WriteRune(verbType)
		case boxed && verb == 'p':
			b.WriteRune(verbPointer)
		default:
			b.WriteString(format[end-size : end])
		}
		i = end
	}
	return b.String()
}

func anyBox(args []any) bool {
	return slices.ContainsFunc(args, func(v any) bool { _, ok := v.(box); return ok })
}

// directive reads one directive: where it ends, its verb, which argument it shows (-1 for %%), and
// the argument that the next one shows.
func directive(format string, i, arg int) (end int, verb rune, index, next int) {
	i++
	for i < len(format) {
		switch ch := format[i]; {
		case strings.IndexByte("+-# 0123456789.", ch) >= 0:
			i++
		case ch == '*':
			arg++
			i++
		case ch == '[':
			close := strings.IndexByte(format[i:], ']')
			if close < 0 {
				return len(format), 0, -1, arg
			}
			n := 0
			for _, d := range format[i+1 : i+close] {
				n = n*10 + int(d-'0')
			}
			arg = n - 1
			i += close + 1
		default:
			r, size := utf8.DecodeRuneInString(format[i:])
			if r == '%' {
				return i + size, r, -1, arg
			}
			return i + size, r, arg, arg + 1
		}
	}
	return len(format), 0, -1, arg
}

// sortedKeys lists the keys of a map in the order in which fmt prints them.
func sortedKeys(m reflect.Value) []reflect.Value {
	keys := m.MapKeys()
	slices.SortStableFunc(keys, compareKeys)
	return keys
}

func compareKeys(a, b reflect.Value) int {
	switch k := a.Kind(); {
	case isSigned(k):
		return cmp.Compare(a.Int(), b.Int())
	case isInteger(k):
		return cmp.Compare(a.Uint(), b.Uint())
	case isFloat(k):
		return cmp.Compare(a.Float(), b.Float())
	case isComplex(k):
		return cmp.Or(cmp.Compare(real(a.Complex()), real(b.Complex())), cmp.Compare(imag(a.Complex()), imag(b.Complex())))
	case k == reflect.String:
		return strings.Compare(a.String(), b.String())
	case k == reflect.Bool:
		return cmp.Compare(truth(a), truth(b))
	case k == reflect.Pointer, k == reflect.UnsafePointer, k == reflect.Chan:
		return cmp.Compare(a.Pointer(), b.Pointer())
	case k == reflect.Struct:
		for i := range a.NumField() {
			if c := compareKeys(a.Field(i), b.Field(i)); c != 0 {
				return c
			}
		}
	case k == reflect.Array:
		for i := range a.Len() {
			if c := compareKeys(a.Index(i), b.Index(i)); c != 0 {
				return c
			}
		}
	case k == reflect.Interface:
		return compareInterfaceKeys(a, b)
	}
	return 0
}

func truth(v reflect.Value) int {
	if v.Bool() {
		return 1
	}
	return 0
}

func compareInterfaceKeys(a, b reflect.Value) int {
	if a.IsNil() || b.IsNil() {
		return cmp.Compare(truth(reflect.ValueOf(!a.IsNil())), truth(reflect.ValueOf(!b.IsNil())))
	}
	x, y := a.Elem(), b.Elem()
	if bx, ok := x.Interface().(valueBox); ok {
		if by, ok := y.Interface().(valueBox); ok && bx.rec == by.rec {
			return compareKeys(reflect.ValueOf(bx.v), reflect.ValueOf(by.v))
		}
	}
	if x.Type() != y.Type() {
		return cmp.Compare(typeAddress(x), typeAddress(y))
	}
	return compareKeys(x, y)
}

func typeAddress(v reflect.Value) uintptr { return reflect.ValueOf(v.Type()).Pointer() }
