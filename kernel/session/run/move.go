package run

import (
	"reflect"
	"unsafe"
)

const word = unsafe.Sizeof(uintptr(0))

// class says how a value is moved: how many bytes, and which of its words are pointers.
type class uint8

const (
	classNone class = iota
	class1
	class2
	class4
	class8
	class16
	classPointer
	classString
	classInterface
	classSlice
	classOther
)

func hasPointers(t reflect.Type) bool {
	switch t.Kind() {
	case reflect.Array:
		return t.Len() > 0 && hasPointers(t.Elem())
	case reflect.Struct:
		for i := range t.NumField() {
			if hasPointers(t.Field(i).Type) {
				return true
			}
		}
		return false
	case reflect.Pointer, reflect.UnsafePointer, reflect.Map, reflect.Chan, reflect.Func, reflect.Slice,
		reflect.String, reflect.Interface:
		return true
	}
	return false
}

func classOf(t reflect.Type) class {
	switch t.Kind() {
	case reflect.String:
		return classString
	case reflect.Interface:
		return classInterface
	case reflect.Slice:
		return classSlice
	}
	if hasPointers(t) {
		if t.Size() == word {
			return classPointer
		}
		return classOther
	}
	switch t.Size() {
	case 0:
		return classNone
	case 1:
		return class1
	case 2:
		return class2
	case 4:
		return class4
	case 8:
		return class8
	case 16:
		return class16
	}
	return classOther
}

func at[T any](frame pointer, offset uintptr) *T { return (*T)(unsafe.Add(frame, offset)) }

type mover func(to, from pointer)

func moverOf(t reflect.Type) mover {
	switch classOf(t) {
	case classNone:
		return func(to, from pointer) {}
	case class1:
		return func(to, from pointer) { *(*uint8)(to) = *(*uint8)(from) }
	case class2:
		return func(to, from pointer) { *(*uint16)(to) = *(*uint16)(from) }
	case class4:
		return func(to, from pointer) { *(*uint32)(to) = *(*uint32)(from) }
	case class8:
		return func(to, from pointer) { *(*uint64)(to) = *(*uint64)(from) }
	case class16:
		return func(to, from pointer) { *(*[2]uint64)(to) = *(*[2]uint64)(from) }
	case classPointer:
		return func(to, from pointer) { *(*pointer)(to) = *(*pointer)(from) }
	case classString:
		return func(to, from pointer) { *(*string)(to) = *(*string)(from) }
	case classInterface:
		return func(to, from pointer) { *(*any)(to) = *(*any)(from) }
	case classSlice:
		return func(to, from pointer) { *(*[]pointer)(to) = *(*[]pointer)(from) }
	}
	if t == quantityType {
		return moveQuantity
	}
	size := t.Size()
	if !hasPointers(t) {
		return func(to, from pointer) {
			copy(unsafe.Slice((*byte)(to), size), unsafe.Slice((*byte)(from), size))
		}
	}
	if list, ok := segmentsOf(t, 0, nil); ok && len(list) <= mostSegments {
		return moveSegments(list)
	}
	return func(to, from pointer) { reflect.NewAt(t, to).Elem().Set(reflect.NewAt(t, from).Elem()) }
}

// moveOp moves within a frame; nil when there is nothing to move.
func moveOp(t reflect.Type, to, from uintptr) op {
	switch classOf(t) {
	case classNone:
		return nil
	case class1:
		return func(fp pointer) { *at[uint8](fp, to) = *at[uint8](fp, from) }
	case class4:
		return func(fp pointer) { *at[uint32](fp, to) = *at[uint32](fp, from) }
	case class8:
		return func(fp pointer) { *at[uint64](fp, to) = *at[uint64](fp, from) }
	case classPointer:
		return func(fp pointer) { *at[pointer](fp, to) = *at[pointer](fp, from) }
	case classString:
		return func(fp pointer) { *at[string](fp, to) = *at[string](fp, from) }
	}
	move := moverOf(t)
	return func(fp pointer) { move(unsafe.Add(fp, to), unsafe.Add(fp, from)) }
}

func zeroOf(t reflect.Type) func(to pointer) {
	switch classOf(t) {
	case classNone:
		return func(pointer) {}
	case class8:
		return func(to pointer) { *(*uint64)(to) = 0 }
	case classPointer:
		return func(to pointer) { *(*pointer)(to) = nil }
	}
	move, zero := moverOf(t), reflect.New(t).UnsafePointer()
	return func(to pointer) { move(to, zero) }
}

// newOf allocates a zero value.
func newOf(t reflect.Type) func() pointer {
	switch classOf(t) {
	case class8:
		return func() pointer { return pointer(new(uint64)) }
	case classPointer:
		return func() pointer { return pointer(new(pointer)) }
	case classString:
		return func() pointer { return pointer(new(string)) }
	case classInterface:
		return func() pointer { return pointer(new(any)) }
	case classSlice:
		return func() pointer { return pointer(new([]pointer)) }
	}
	return func() pointer { return reflect.New(t).UnsafePointer() }
}
