// Package reflect holds the generic functions of Go's package reflect, for the
// executor.
package reflect

import "reflect"

// TypeFor is the reflect.Type of T.
func TypeFor[T any]() reflect.Type {
	return reflect.TypeOf((*T)(nil)).Elem()
}

// TypeAssert is v.Interface().(T), with whether it holds.
func TypeAssert[T any](v reflect.Value) (T, bool) {
	value, ok := v.Interface().(T)
	return value, ok
}
