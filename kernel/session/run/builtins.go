package run

import (
	"cmp"
	"fmt"
	"go/token"
	"go/types"
	"reflect"
	"runtime"
	"strconv"
	"strings"
	"unsafe"

	"golang.org/x/tools/go/ssa"

	"cobber/stdlib/quantity"
)

// builtin compiles a call of a predeclared function; in is nil when the result is not wanted.
func (c *compiler) builtin(name string, args []ssa.Value, in ssa.Value, d uintptr, pos int64) op {
	a := make([]uintptr, len(args))
	ts := make([]types.Type, len(args))
	for i, v := range args {
		a[i], ts[i] = c.offset(v), v.Type()
	}
	switch name {
	case "len", "cap":
		return c.length(ts[0], name == "cap", d, a[0])
	case "append":
		text := c.layout(ts[1]).Kind() == reflect.String
		return positioned(c.appends(c.sliceLayout(ts[0]), text, d, a[0], a[1]), token.Pos(pos))
	case "copy":
		return c.copies(ts, in != nil, d, a)
	case "delete":
		t, check := c.mapLayout(ts[0]), c.keyCheck(ts[0])
		return c.announced(a[0], concurrentWrite, func(fp pointer) {
			head(fp).pos = pos
			key := unsafe.Add(fp, a[1])
			check(key)
			if m := reflect.NewAt(t, unsafe.Add(fp, a[0])).Elem(); !m.IsNil() {
				m.SetMapIndex(reflect.NewAt(t.Key(), key).Elem(), reflect.Value{})
			}
		})
	case "clear":
		return c.clears(ts[0], a[0])
	case "close":
		t := c.chanLayout(ts[0])
		return func(fp pointer) { head(fp).pos = pos; channelAt(t, fp, a[0]).Close() }
	case "print", "println":
		return c.prints(name == "println", ts, a)
	case "complex", "real", "imag":
		return c.complexPart(name, c.layout(ts[0]), d, a)
	case "min", "max":
		return positioned(c.extreme(name == "min", c.layout(ts[0]), d, a), token.Pos(pos))
	case "panic": // under go and defer; elsewhere it is a step of its own
		return c.panicOf(args[0], pos)
	case "recover":
		return func(fp pointer) {
			v := recovered(fp)
			if in != nil {
				*at[any](fp, d) = v
			}
		}
	case "ssa:wrapnilchk":
		return func(fp pointer) {
			p := *at[pointer](fp, a[0])
			if p == nil {
				t, method := *at[string](fp, a[1]), *at[string](fp, a[2])
				panic(runtimeError(fmt.Sprintf("value method %s.%s called using nil *%s pointer", t, method, t[strings.LastIndex(t, ".")+1:])))
			}
			*at[pointer](fp, d) = p
		}
	case "ssa:deferstack":
		return func(fp pointer) { *at[pointer](fp, d) = fp }
	case "Sizeof", "Alignof": // of what a type parameter stands for; elsewhere they are constants
		n := gcSizes.Alignof(ts[0])
		if name == "Sizeof" {
			n = gcSizes.Sizeof(ts[0])
		}
		return func(fp pointer) { *at[uintptr](fp, d) = uintptr(n) }
	case "Offsetof":
		if n, ok := offsetOf(args[0]); ok {
			return func(fp pointer) { *at[uintptr](fp, d) = uintptr(n) }
		}
	}
	refuse(token.Pos(pos), "", "unsafe.%s cannot run in a cell", name)
	return nil
}

var gcSizes = types.SizesFor("gc", runtime.GOARCH)

// offsetOf is the place of a field in its struct. A field of a field is left alone, for the form does
// not tell whether the outer one was written.
func offsetOf(v ssa.Value) (int64, bool) {
	if load, ok := v.(*ssa.UnOp); ok {
		v = load.X
	}
	var x ssa.Value
	var field int
	switch v := v.(type) {
	case *ssa.Field:
		x, field = v.X, v.Field
	case *ssa.FieldAddr:
		x, field = v.X, v.Field
	default:
		return 0, false
	}
	if load, ok := x.(*ssa.UnOp); ok {
		x = load.X
	}
	switch x.(type) {
	case *ssa.Field, *ssa.FieldAddr:
		return 0, false
	}
	t := x.Type().Underlying()
	if p, ok := t.(*types.Pointer); ok {
		t = p.Elem().Underlying()
	}
	s, ok := t.(*types.Struct)
	if !ok {
		return 0, false
	}
	list := make([]*types.Var, s.NumFields())
	for i := range list {
		list[i] = s.Field(i)
	}
	return gcSizes.Offsetsof(list)[field], true
}

// recovered is the value of recover() in a deferred function.
func recovered(fp pointer) any {
	owner := head(fp).owner
	if owner == nil {
		return nil
	}
	s := head(owner).defers
	if s == nil || !s.panicking || s.exiting {
		return nil
	}
	v := s.value
	s.panicking, s.value = false, nil
	return unadapted(v)
}

// recoverDeferred is defer recover() in the function whose frame is given. It stands for a call in
// that function: it sees a panic that the function was deferred against, never the function's own.
func recoverDeferred(fp pointer) {
	if fp == nil {
		return
	}
	if s := head(fp).defers; s != nil && s.panicking {
		return
	}
	recovered(fp)
}

func (c *compiler) length(t types.Type, capacity bool, d, a uintptr) op {
	l := c.layout(t)
	switch u := t.Underlying().(type) {
	case *types.Slice:
		if capacity {
			return func(fp pointer) { *at[int](fp, d) = cap(*at[[]byte](fp, a)) }
		}
		return func(fp pointer) { *at[int](fp, d) = len(*at[[]byte](fp, a)) }
	case *types.Array:
		n := int(u.Len())
		return func(fp pointer) { *at[int](fp, d) = n }
	case *types.Pointer:
		n := l.Elem().Len()
		return func(fp pointer) { *at[int](fp, d) = n }
	case *types.Map:
		m := c.mapLayout(t)
		return func(fp pointer) { *at[int](fp, d) = reflect.NewAt(m, unsafe.Add(fp, a)).Elem().Len() }
	case *types.Chan:
		ch := c.chanLayout(t)
		if capacity {
			return func(fp pointer) { *at[int](fp, d) = channelAt(ch, fp, a).Cap() }
		}
		return func(fp pointer) { *at[int](fp, d) = channelAt(ch, fp, a).Len() }
	}
	return func(fp pointer) { *at[int](fp, d) = len(*at[string](fp, a)) }
}

func (c *compiler) copies(ts []types.Type, wanted bool, d uintptr, a []uintptr) op {
	done := func(fp pointer, n int) {
		if wanted {
			*at[int](fp, d) = n
		}
	}
	if c.layout(ts[1]).Kind() == reflect.String {
		return func(fp pointer) { done(fp, copy(*at[[]byte](fp, a[0]), *at[string](fp, a[1]))) }
	}
	t := c.sliceLayout(ts[0])
	return func(fp pointer) {
		done(fp, reflect.Copy(reflect.NewAt(t, unsafe.Add(fp, a[0])).Elem(), reflect.NewAt(t, unsafe.Add(fp, a[1])).Elem()))
	}
}

func (c *compiler) clears(t types.Type, a uintptr) op {
	if _, ok := t.Underlying().(*types.Map); ok {
		return c.announced(a, concurrentWrite, clearOp(c.mapLayout(t), a))
	}
	return clearOp(c.sliceLayout(t), a)
}

func clearOp(l reflect.Type, a uintptr) op {
	return func(fp pointer) {
		if v := reflect.NewAt(l, unsafe.Add(fp, a)).Elem(); !v.IsNil() {
			v.Clear()
		}
	}
}

func (c *compiler) prints(spaced bool, ts []types.Type, a []uintptr) op {
	values := make([]func(pointer) string, len(ts))
	for i, t := range ts {
		values[i] = c.printed(t)
	}
	return func(fp pointer) {
		var b strings.Builder
		for i, text := range values {
			if spaced && i > 0 {
				b.WriteByte(' ')
			}
			b.WriteString(text(unsafe.Add(fp, a[i])))
		}
		if spaced {
			b.WriteByte('\n')
		}
		if write := head(fp).g.run.Stderr; write != nil {
			write(b.String())
		}
	}
}

// printed is the text of the print builtin, which has formats of its own.
func (c *compiler) printed(t types.Type) func(p pointer) string {
	l := c.layout(t)
	switch k := l.Kind(); {
	case types.IsInterface(t):
		return func(p pointer) string {
			w := (*[2]uintptr)(p)
			return fmt.Sprintf("(%#x,%#x)", w[0], w[1])
		}
	case k == reflect.Slice:
		return func(p pointer) string {
			s := *(*[]byte)(p)
			return fmt.Sprintf("[%d/%d]%#x", len(s), cap(s), uintptr(pointer(unsafe.SliceData(s))))
		}
	case isFloat(k):
		return func(p pointer) string { return printedFloat(reflect.NewAt(l, p).Elem().Float()) }
	case isComplex(k):
		return func(p pointer) string {
			z := reflect.NewAt(l, p).Elem().Complex()
			im := printedFloat(imag(z))
			if im[0] != '-' && im[0] != '+' {
				im = "+" + im
			}
			return "(" + printedFloat(real(z)) + im + "i)"
		}
	case l.Size() == word && classOf(l) == classPointer:
		return func(p pointer) string { return fmt.Sprintf("%#x", *(*uintptr)(p)) }
	}
	return func(p pointer) string { return fmt.Sprint(reflect.NewAt(l, p).Elem().Interface()) }
}

// printedFloat is the shortest form, as Go prints it since 1.26.
func printedFloat(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

func (c *compiler) complexPart(name string, l reflect.Type, d uintptr, a []uintptr) op {
	switch {
	case name == "complex" && l.Kind() == reflect.Float64:
		return func(fp pointer) { *at[complex128](fp, d) = complex(*at[float64](fp, a[0]), *at[float64](fp, a[1])) }
	case name == "complex":
		return func(fp pointer) { *at[complex64](fp, d) = complex(*at[float32](fp, a[0]), *at[float32](fp, a[1])) }
	case l.Kind() == reflect.Complex128 && name == "real":
		return func(fp pointer) { *at[float64](fp, d) = real(*at[complex128](fp, a[0])) }
	case l.Kind() == reflect.Complex128:
		return func(fp pointer) { *at[float64](fp, d) = imag(*at[complex128](fp, a[0])) }
	case name == "real":
		return func(fp pointer) { *at[float32](fp, d) = real(*at[complex64](fp, a[0])) }
	}
	return func(fp pointer) { *at[float32](fp, d) = imag(*at[complex64](fp, a[0])) }
}

func extremeOf[T cmp.Ordered](smallest bool, d uintptr, a []uintptr) op {
	return func(fp pointer) {
		v := *at[T](fp, a[0])
		for _, o := range a[1:] {
			if smallest {
				v = min(v, *at[T](fp, o))
			} else {
				v = max(v, *at[T](fp, o))
			}
		}
		*at[T](fp, d) = v
	}
}

func (c *compiler) extreme(smallest bool, l reflect.Type, d uintptr, a []uintptr) op {
	if l == quantityType {
		return extremeQuantity(smallest, d, a)
	}
	switch l.Kind() {
	case reflect.Int:
		return extremeOf[int](smallest, d, a)
	case reflect.Int8:
		return extremeOf[int8](smallest, d, a)
	case reflect.Int16:
		return extremeOf[int16](smallest, d, a)
	case reflect.Int32:
		return extremeOf[int32](smallest, d, a)
	case reflect.Int64:
		return extremeOf[int64](smallest, d, a)
	case reflect.Uint:
		return extremeOf[uint](smallest, d, a)
	case reflect.Uint8:
		return extremeOf[uint8](smallest, d, a)
	case reflect.Uint16:
		return extremeOf[uint16](smallest, d, a)
	case reflect.Uint32:
		return extremeOf[uint32](smallest, d, a)
	case reflect.Uint64:
		return extremeOf[uint64](smallest, d, a)
	case reflect.Uintptr:
		return extremeOf[uintptr](smallest, d, a)
	case reflect.Float32:
		return extremeOf[float32](smallest, d, a)
	case reflect.Float64:
		return extremeOf[float64](smallest, d, a)
	}
	return extremeOf[string](smallest, d, a)
}

// extremeQuantity: a NaN among the arguments is the result, as with floats.
func extremeQuantity(smallest bool, d uintptr, a []uintptr) op {
	return func(fp pointer) {
		v := *at[quantity.Quantity](fp, a[0])
		for _, o := range a[1:] {
			w := *at[quantity.Quantity](fp, o)
			if less := w.Less(v); w.IsNaN() || !v.IsNaN() && less == smallest && !w.Equal(v) {
				v = w
			}
		}
		*at[quantity.Quantity](fp, d) = v
	}
}
