// Package cmp is what cells get when they import cmp: the same names and the
// same results as Go's package, in plain code for the executor.
package cmp

// Ordered is every type whose values the operator < puts in order.
type Ordered interface {
	~int | ~int8 | ~int16 | ~int32 | ~int64 |
		~uint | ~uint8 | ~uint16 | ~uint32 | ~uint64 | ~uintptr |
		~float32 | ~float64 |
		~string
}

// Less reports whether x comes before y. NaN comes before every other number.
func Less[T Ordered](x, y T) bool {
	return x < y || x != x && y == y
}

// Compare is -1, 0 or +1 as x comes before y, with it, or after it. NaN equals
// NaN and comes before every other number.
func Compare[T Ordered](x, y T) int {
	switch {
	case x < y:
		return -1
	case x > y:
		return +1
	case x == y:
		return 0
	case x == x: // so y is NaN
		return +1
	case y == y:
		return -1
	}
	return 0
}

// Or is the first of vals that is not its type's zero value, or else zero.
func Or[T comparable](vals ...T) T {
	var zero T
	for _, val := range vals {
		if val != zero {
			return val
		}
	}
	return zero
}
