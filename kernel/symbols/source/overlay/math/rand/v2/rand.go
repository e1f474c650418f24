// Package rand holds the generic functions of Go's package math/rand/v2, for
// the executor.
package rand

import "math/rand/v2"

type intType interface {
	~int | ~int8 | ~int16 | ~int32 | ~int64 |
		~uint | ~uint8 | ~uint16 | ~uint32 | ~uint64 | ~uintptr
}

// N is a random number of any integer type in [0,n). It panics if n <= 0.
func N[Int intType](n Int) Int {
	if n <= 0 {
		panic("invalid argument to N")
	}
	return Int(rand.Uint64N(uint64(n)))
}
