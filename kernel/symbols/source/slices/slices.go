// Package slices is what cells get when they import slices: the same names and
// the same results as Go's package, in plain code for the executor.
package slices

import "cmp"

// Equal reports whether both slices have the same length and equal elements.
func Equal[S ~[]E, E comparable](s1, s2 S) bool {
	if len(s1) != len(s2) {
		return false
	}
	for i, v := range s1 {
		if v != s2[i] {
			return false
		}
	}
	return true
}

// EqualFunc is Equal with elements compared by eq.
func EqualFunc[S1 ~[]E1, S2 ~[]E2, E1, E2 any](s1 S1, s2 S2, eq func(E1, E2) bool) bool {
	if len(s1) != len(s2) {
		return false
	}
	for i, v := range s1 {
		if !eq(v, s2[i]) {
			return false
		}
	}
	return true
}

// Compare compares element by element, the first difference deciding; of two
// slices that agree so far the shorter comes first.
func Compare[S ~[]E, E cmp.Ordered](s1, s2 S) int {
	return CompareFunc(s1, s2, cmp.Compare[E])
}

// CompareFunc is Compare with elements compared by cmp.
func CompareFunc[S1 ~[]E1, S2 ~[]E2, E1, E2 any](s1 S1, s2 S2, cmp func(E1, E2) int) int {
	for i, v := range s1 {
		if i == len(s2) {
			return +1
		}
		if c := cmp(v, s2[i]); c != 0 {
			return c
		}
	}
	if len(s1) < len(s2) {
		return -1
	}
	return 0
}

// Index is the place of the first v in s, or -1.
func Index[S ~[]E, E comparable](s S, v E) int {
	for i := range s {
		if s[i] == v {
			return i
		}
	}
	return -1
}

// IndexFunc is the place of the first element for which f is true, or -1.
func IndexFunc[S ~[]E, E any](s S, f func(E) bool) int {
	for i := range s {
		if f(s[i]) {
			return i
		}
	}
	return -1
}

// Contains reports whether v is in s.
func Contains[S ~[]E, E comparable](s S, v E) bool {
	return Index(s, v) >= 0
}

// ContainsFunc reports whether f is true for an element of s.
func ContainsFunc[S ~[]E, E any](s S, f func(E) bool) bool {
	return IndexFunc(s, f) >= 0
}

// Reverse turns the order of s round, in place.
func Reverse[S ~[]E, E any](s S) {
	for i, j := 0, len(s)-1; i < j; i, j = i+1, j-1 {
		s[i], s[j] = s[j], s[i]
	}
}

// Min is the least element; NaN if one is NaN. It panics when x is empty.
func Min[S ~[]E, E cmp.Ordered](x S) E {
	if len(x) < 1 {
		panic("slices.Min: empty list")
	}
	least := x[0]
	for _, v := range x[1:] {
		least = min(least, v)
	}
	return least
}

// MinFunc is the first of the least elements by cmp. It panics when x is empty.
func MinFunc[S ~[]E, E any](x S, cmp func(a, b E) int) E {
	if len(x) < 1 {
		panic("slices.MinFunc: empty list")
	}
	least := x[0]
	for _, v := range x[1:] {
		if cmp(v, least) < 0 {
			least = v
		}
	}
	return least
}

// Max is the greatest element; NaN if one is NaN. It panics when x is empty.
func Max[S ~[]E, E cmp.Ordered](x S) E {
	if len(x) < 1 {
		panic("slices.Max: empty list")
	}
	greatest := x[0]
	for _, v := range x[1:] {
		greatest = max(greatest, v)
	}
	return greatest
}

// MaxFunc is the first of the greatest elements by cmp. It panics when x is empty.
func MaxFunc[S ~[]E, E any](x S, cmp func(a, b E) int) E {
	if len(x) < 1 {
		panic("slices.MaxFunc: empty list")
	}
	greatest := x[0]
	for _, v := range x[1:] {
		if cmp(v, greatest) > 0 {
			greatest = v
		}
	}
	return greatest
}
