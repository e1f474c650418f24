package run

import (
	"fmt"
	"go/types"
	"reflect"
	"unsafe"

	"golang.org/x/tools/go/ssa"
)

// setSlice writes a slice header: length and capacity count elements of any size.
func setSlice(to pointer, base pointer, length, capacity, size int) {
	switch {
	case base == nil:
		*(*[]byte)(to) = nil
	case size == 0:
		*(*[]struct{})(to) = unsafe.Slice((*struct{})(base), capacity)[:length]
	default:
		*(*[]byte)(to) = unsafe.Slice((*byte)(base), capacity)[:length]
	}
}

func (c *compiler) slice(in *ssa.Slice, d uintptr) op {
	a, pos := c.offset(in.X), int64(in.Pos())
	bounds := sliceBounds{c.bound(in.Low), c.bound(in.High), c.bound(in.Max), "capacity"}
	t := c.layout(in.X.Type())
	if t.Kind() == reflect.String {
		bounds.of = "length"
		return func(fp pointer) {
			head(fp).pos = pos
			s := *at[string](fp, a)
			l, r := bounds.low.value(fp, 0), bounds.high.value(fp, len(s))
			bounds.check(len(s), l, r, 0)
			*at[string](fp, d) = s[l:r]
		}
	}
	load, size := c.sliceSource(t, a), c.element(in.X.Type()).Size()
	if t.Kind() == reflect.Pointer {
		bounds.of = "length"
	}
	if made, ok := in.X.(*ssa.Alloc); ok && made.Comment == "makeslice" {
		return c.makeSliceOf(made, in, d)
	}
	return func(fp pointer) {
		head(fp).pos = pos
		base, length, capacity := load(fp)
		l, r, m := bounds.low.value(fp, 0), bounds.high.value(fp, length), bounds.max.value(fp, capacity)
		bounds.check(capacity, l, r, m)
		if m > l {
			base = unsafe.Add(base, uintptr(l)*size)
		}
		setSlice(unsafe.Add(fp, d), base, r-l, m-l, int(size))
	}
}

// sliceSource loads what is sliced: a slice, or an array behind a pointer.
func (c *compiler) sliceSource(t reflect.Type, a uintptr) func(fp pointer) (pointer, int, int) {
	if t.Kind() == reflect.Pointer {
		n := t.Elem().Len()
		return func(fp pointer) (pointer, int, int) {
			p := *at[pointer](fp, a)
			if p == nil {
				nilDereference()
			}
			return p, n, n
		}
	}
	return func(fp pointer) (pointer, int, int) {
		s := *at[[]byte](fp, a)
		return pointer(unsafe.SliceData(s)), len(s), cap(s)
	}
}

// makeSliceOf is make with a constant capacity, which the builder turns into slicing a new array.
func (c *compiler) makeSliceOf(made *ssa.Alloc, in *ssa.Slice, d uintptr) op {
	n := c.layout(made.Type().(*types.Pointer).Elem()).Len()
	size := int(c.element(in.X.Type()).Size())
	length, a, pos := c.bound(in.High), c.offset(in.X), int64(in.Pos())
	return func(fp pointer) {
		head(fp).pos = pos
		k := length.value(fp, n)
		checkRange(k, n, size)
		setSlice(unsafe.Add(fp, d), *at[pointer](fp, a), k, n, size)
	}
}

func (c *compiler) sliceToArrayPointer(in *ssa.SliceToArrayPointer, d uintptr) op {
	a, pos := c.offset(in.X), int64(c.latest)
	n := c.layout(in.Type()).Elem().Len()
	return func(fp pointer) {
		s := *at[[]byte](fp, a)
		if len(s) < n {
			head(fp).pos = pos
			panic(runtimeError(fmt.Sprintf("runtime error: cannot convert slice with length %d to array or pointer to array with length %d", len(s), n)))
		}
		*at[pointer](fp, d) = pointer(unsafe.SliceData(s))
	}
}

func (c *compiler) makeSlice(in *ssa.MakeSlice, d uintptr) op {
	t, pos := c.sliceLayout(in.Type()), int64(in.Pos())
	length, capacity := c.bound(in.Len), c.bound(in.Cap)
	size := int(t.Elem().Size())
	word8 := classOf(t.Elem()) == class8
	return func(fp pointer) {
		head(fp).pos = pos
		n, k := length.value(fp, 0), capacity.value(fp, 0)
		checkSize(n, k, size)
		if word8 {
			*at[[]uint64](fp, d) = make([]uint64, n, k)
			return
		}
		setSlice(unsafe.Add(fp, d), reflect.MakeSlice(t, n, k).UnsafePointer(), n, k, size)
	}
}

func checkSize(n, k, size int) {
	checkRange(n, k, size)
	room(k, size)
}

func checkRange(n, k, size int) {
	switch {
	case n < 0 || size > 0 && n > largest/size:
		panic(runtimeError("runtime error: makeslice: len out of range"))
	case k < n || size > 0 && k > largest/size:
		panic(runtimeError("runtime error: makeslice: cap out of range"))
	}
}

// largest is what Go calls out of range.
const largest = 1 << 48

func (c *compiler) appends(t reflect.Type, text bool, d, a, b uintptr) op {
	if text {
		return func(fp pointer) {
			s, more := *at[[]byte](fp, a), *at[string](fp, b)
			if len(s)+len(more) > cap(s) {
				roomToGrow(len(s), len(more), 1)
			}
			*at[[]byte](fp, d) = append(s, more...)
		}
	}
	switch classOf(t.Elem()) {
	case class1:
		return appendOf[uint8](d, a, b)
	case class2:
		return appendOf[uint16](d, a, b)
	case class4:
		return appendOf[uint32](d, a, b)
	case class8:
		return appendOf[uint64](d, a, b)
	case class16:
		return appendOf[[2]uint64](d, a, b)
	case classPointer:
		return appendOf[pointer](d, a, b)
	case classString:
		return appendOf[string](d, a, b)
	case classInterface:
		return appendOf[any](d, a, b)
	case classSlice:
		return appendOf[[]pointer](d, a, b)
	}
	return func(fp pointer) {
		s, more := *at[[]byte](fp, a), *at[[]byte](fp, b)
		if uint(len(s)+len(more)) > uint(cap(s)) {
			roomToGrow(len(s), len(more), int(t.Elem().Size()))
		}
		r := reflect.AppendSlice(reflect.NewAt(t, unsafe.Add(fp, a)).Elem(), reflect.NewAt(t, unsafe.Add(fp, b)).Elem())
		reflect.NewAt(t, unsafe.Add(fp, d)).Elem().Set(r)
	}
}

// roomToGrow looks at the memory for more elements, of which append may reserve twice as many.
func roomToGrow(n, more, size int) {
	if n+more < n {
		panic(runtimeError("runtime error: growslice: len out of range"))
	}
	room(n+more, 2*size)
}

func sizeOf[T any]() int {
	var zero T
	return int(unsafe.Sizeof(zero))
}

func appendOf[T any](d, a, b uintptr) op {
	size := sizeOf[T]()
	return func(fp pointer) {
		s, more := *at[[]T](fp, a), *at[[]T](fp, b)
		if len(s)+len(more) > cap(s) {
			roomToGrow(len(s), len(more), size)
		}
		*at[[]T](fp, d) = append(s, more...)
	}
}
