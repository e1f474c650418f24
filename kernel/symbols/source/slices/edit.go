package slices

import "math/bits"

// Insert puts the values v before s[i]. It panics when i is outside s.
func Insert[S ~[]E, E any](s S, i int, v ...E) S {
	_ = s[i:] // the panic of an index out of range
	if len(v) == 0 {
		return s
	}
	return splice(s, i, i, v)
}

// Replace puts the values v in the place of s[i:j]. It panics when i:j is not
// a range of s.
func Replace[S ~[]E, E any](s S, i, j int, v ...E) S {
	_ = s[i:j] // the panic of a range out of bounds
	if i == j {
		return Insert(s, i, v...)
	}
	_ = s[j:] // j may be within the capacity, yet beyond the end
	replaced := splice(s, i, j, v)
	if len(replaced) < len(s) {
		clear(s[len(replaced):])
	}
	return replaced
}

// splice puts v in the place of s[i:j], in the same memory if it is large
// enough. v may lie in that memory itself, so there it is copied first.
func splice[S ~[]E, E any](s S, i, j int, v []E) S {
	total := len(s) - (j - i) + len(v)
	if total > cap(s) {
		grown := append(s[:i], make(S, total-i)...)
		copy(grown[i:], v)
		copy(grown[i+len(v):], s[j:])
		return grown
	}
	v = append([]E(nil), v...)
	moved := s[:total]
	copy(moved[i+len(v):], s[j:])
	copy(moved[i:], v)
	return moved
}

// Delete takes s[i:j] out, in place, and zeroes the elements left over. It
// panics when i:j is not a range of s.
func Delete[S ~[]E, E any](s S, i, j int) S {
	_ = s[i:j:len(s)] // the panic of a range out of bounds
	if i == j {
		return s
	}
	kept := i + copy(s[i:], s[j:])
	clear(s[kept:])
	return s[:kept]
}

// DeleteFunc takes out the elements for which del is true, in place, and
// zeroes those left over.
func DeleteFunc[S ~[]E, E any](s S, del func(E) bool) S {
	kept := IndexFunc(s, del)
	if kept < 0 {
		return s
	}
	for i := kept + 1; i < len(s); i++ {
		if v := s[i]; !del(v) {
			s[kept] = v
			kept++
		}
	}
	clear(s[kept:])
	return s[:kept]
}

// Compact keeps the first of each run of equal elements, in place, and zeroes
// the elements left over.
func Compact[S ~[]E, E comparable](s S) S {
	return CompactFunc(s, func(a, b E) bool { return a == b })
}

// CompactFunc is Compact with elements compared by eq: the later of two, then
// the one before it.
func CompactFunc[S ~[]E, E any](s S, eq func(E, E) bool) S {
	if len(s) < 2 {
		return s
	}
	kept, previous := 1, s[0]
	for _, v := range s[1:] {
		if !eq(v, previous) {
			s[kept] = v
			kept++
		}
		previous = v
	}
	clear(s[kept:])
	return s[:kept]
}

// Clone is a copy of s, one level deep. The clone of nil is nil.
func Clone[S ~[]E, E any](s S) S {
	return append(s[:0:0], s...)
}

// Grow makes room for n more elements. It panics when n is negative.
func Grow[S ~[]E, E any](s S, n int) S {
	if n < 0 {
		panic("cannot be negative")
	}
	if missing := n - (cap(s) - len(s)); missing > 0 {
		return append(s[:cap(s)], make([]E, missing)...)[:len(s)]
	}
	return s
}

// Clip takes the unused room away from s.
func Clip[S ~[]E, E any](s S) S {
	return s[:len(s):len(s)]
}

// Concat is a new slice of the elements of all slices.
func Concat[S ~[]E, E any](slices ...S) S {
	size := 0
	for _, s := range slices {
		size += len(s)
		if size < 0 {
			panic("len out of range")
		}
	}
	all := Grow[S](nil, size)
	for _, s := range slices {
		all = append(all, s...)
	}
	return all
}

// Repeat is a new slice of x count times over. It panics when count is
// negative or the result would be too long.
func Repeat[S ~[]E, E any](x S, count int) S {
	if count < 0 {
		panic("cannot be negative")
	}
	high, low := bits.Mul(uint(len(x)), uint(count))
	if high > 0 || int(low) < 0 {
		panic("the result of (len(x) * count) overflows")
	}
	repeated := make(S, int(low))
	for i := 0; i < len(repeated); i += len(x) {
		copy(repeated[i:], x)
	}
	return repeated
}
