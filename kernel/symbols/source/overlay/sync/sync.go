// Package sync holds the generic functions of Go's package sync, for the
// executor: compiled code has no body for a type that only a cell knows.
package sync

import "sync"

// OnceValue is a function that calls f once and gives its value ever after. If
// f panics, so does every call, with the same value.
func OnceValue[T any](f func() T) func() T {
	var result T
	once := sync.OnceFunc(func() {
		result = f()
		f = nil
	})
	return func() T {
		once()
		return result
	}
}

// OnceValues is OnceValue for two results.
func OnceValues[T1, T2 any](f func() (T1, T2)) func() (T1, T2) {
	var first T1
	var second T2
	once := sync.OnceFunc(func() {
		first, second = f()
		f = nil
	})
	return func() (T1, T2) {
		once()
		return first, second
	}
}
