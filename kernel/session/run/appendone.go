package run

import (
	"go/types"
	"reflect"
	"unsafe"

	"golang.org/x/tools/go/ssa"
)

// single recognises append(s, x): the builder makes an array of one for x and slices it. None of
// that is needed when nothing else sees the array. It returns x and the steps to leave out.
func (c *compiler) single(in *ssa.Call) (x ssa.Value, unneeded []ssa.Instruction) {
	b, ok := in.Call.Value.(*ssa.Builtin)
	if !ok || b.Name() != "append" {
		return nil, nil
	}
	slice, ok := in.Call.Args[1].(*ssa.Slice)
	if !ok || slice.Low != nil || slice.High != nil || len(*slice.Referrers()) != 1 {
		return nil, nil
	}
	array, ok := slice.X.(*ssa.Alloc)
	if !ok || array.Comment != "varargs" || array.Block() != in.Block() || len(*array.Referrers()) != 2 {
		return nil, nil
	}
	address, ok := (*array.Referrers())[0].(*ssa.IndexAddr)
	if !ok || len(*address.Referrers()) != 1 || arrayLength(array) != 1 {
		return nil, nil
	}
	store, ok := (*address.Referrers())[0].(*ssa.Store)
	if !ok || store.Addr != address || c.sliceLayout(in.Type()).Elem().Kind() == reflect.Func {
		return nil, nil
	}
	return store.Val, []ssa.Instruction{array, address, store, slice}
}

func arrayLength(array *ssa.Alloc) int64 {
	return array.Type().(*types.Pointer).Elem().Underlying().(*types.Array).Len()
}

// leaveOut finds the steps that appends of one element make unnecessary.
func (c *compiler) leaveOut(b *ssa.BasicBlock) map[ssa.Instruction]bool {
	var out map[ssa.Instruction]bool
	for _, in := range b.Instrs {
		call, ok := in.(*ssa.Call)
		if !ok {
			continue
		}
		if _, list := c.single(call); list != nil {
			if out == nil {
				out = map[ssa.Instruction]bool{}
			}
			for _, unneeded := range list {
				out[unneeded] = true
			}
		}
	}
	return out
}

func (c *compiler) appendOne(t reflect.Type, d, a, x uintptr) op {
	switch classOf(t.Elem()) {
	case class1:
		return appendOneOf[uint8](d, a, x)
	case class4:
		return appendOneOf[uint32](d, a, x)
	case class8:
		return appendOneOf[uint64](d, a, x)
	case class16:
		return appendOneOf[[2]uint64](d, a, x)
	case classPointer:
		return appendOneOf[pointer](d, a, x)
	case classString:
		return appendOneOf[string](d, a, x)
	case classInterface:
		return appendOneOf[any](d, a, x)
	case classSlice:
		return appendOneOf[[]pointer](d, a, x)
	}
	size, move := int(t.Elem().Size()), moverOf(t.Elem())
	return func(fp pointer) {
		s := *at[[]byte](fp, a)
		if n := len(s); n < cap(s) {
			base := pointer(unsafe.SliceData(s))
			move(unsafe.Add(base, n*size), unsafe.Add(fp, x))
			setSlice(unsafe.Add(fp, d), base, n+1, cap(s), size)
			return
		}
		roomToGrow(len(s), 1, size)
		r := reflect.Append(reflect.NewAt(t, unsafe.Add(fp, a)).Elem(), reflect.NewAt(t.Elem(), unsafe.Add(fp, x)).Elem())
		reflect.NewAt(t, unsafe.Add(fp, d)).Elem().Set(r)
	}
}

func appendOneOf[T any](d, a, x uintptr) op {
	size := sizeOf[T]()
	return func(fp pointer) {
		s := *at[[]T](fp, a)
		if len(s) == cap(s) {
			roomToGrow(len(s), 1, size)
		}
		*at[[]T](fp, d) = append(s, *at[T](fp, x))
	}
}
