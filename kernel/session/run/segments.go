package run

import (
	"reflect"
	"unsafe"
)

// segment is a stretch of a struct or array that moves as one value of a known shape.
type segment struct {
	class  class // classNone: bytes without pointers
	offset uintptr
	size   uintptr
}

// mostSegments is where moving piece by piece stops being quicker than reflection.
const mostSegments = 16

// segmentsOf cuts a type into what moves by plain assignments; ok is false for what does not.
func segmentsOf(t reflect.Type, offset uintptr, list []segment) (_ []segment, ok bool) {
	if len(list) > mostSegments {
		return nil, false
	}
	if !hasPointers(t) {
		if n := len(list); n > 0 && list[n-1].class == classNone {
			list[n-1].size = offset + t.Size() - list[n-1].offset
			return list, true
		}
		return append(list, segment{classNone, offset, t.Size()}), true
	}
	switch k := classOf(t); {
	case t.Kind() == reflect.Struct:
		for i := range t.NumField() {
			f := t.Field(i)
			if list, ok = segmentsOf(f.Type, offset+f.Offset, list); !ok {
				return nil, false
			}
		}
		return list, true
	case t.Kind() == reflect.Array:
		for i := range t.Len() {
			if list, ok = segmentsOf(t.Elem(), offset+uintptr(i)*t.Elem().Size(), list); !ok {
				return nil, false
			}
		}
		return list, true
	case k == classPointer, k == classString, k == classInterface, k == classSlice:
		return append(list, segment{k, offset, t.Size()}), true
	}
	return nil, false
}

// moveSegments moves a struct or array that holds pointers.
func moveSegments(list []segment) mover {
	return func(to, from pointer) {
		for i := range list {
			s := &list[i]
			d, f := unsafe.Add(to, s.offset), unsafe.Add(from, s.offset)
			switch s.class {
			case classPointer:
				*(*pointer)(d) = *(*pointer)(f)
			case classString:
				*(*string)(d) = *(*string)(f)
			case classInterface:
				*(*any)(d) = *(*any)(f)
			case classSlice:
				*(*[]pointer)(d) = *(*[]pointer)(f)
			default:
				moveBytes(d, f, s.size)
			}
		}
	}
}

func moveBytes(to, from pointer, size uintptr) {
	if size == 8 {
		*(*uint64)(to) = *(*uint64)(from)
		return
	}
	copy(unsafe.Slice((*byte)(to), size), unsafe.Slice((*byte)(from), size))
}
