package run

import (
	"go/token"
	"reflect"

	"cobber/stdlib/quantity"
)

type integer interface {
	~int | ~int8 | ~int16 | ~int32 | ~int64 | ~uint | ~uint8 | ~uint16 | ~uint32 | ~uint64 | ~uintptr
}

type number interface {
	integer | ~float32 | ~float64 | ~complex64 | ~complex128
}

func arithmetic[T number](operator token.Token, d, a, b uintptr) op {
	switch operator {
	case token.ADD:
		return func(fp pointer) { *at[T](fp, d) = *at[T](fp, a) + *at[T](fp, b) }
	case token.SUB:
		return func(fp pointer) { *at[T](fp, d) = *at[T](fp, a) - *at[T](fp, b) }
	case token.MUL:
		return func(fp pointer) { *at[T](fp, d) = *at[T](fp, a) * *at[T](fp, b) }
	case token.QUO:
		return func(fp pointer) { *at[T](fp, d) = *at[T](fp, a) / *at[T](fp, b) }
	}
	return nil
}

func integerArithmetic[T integer](operator token.Token, d, a, b uintptr) op {
	switch operator {
	case token.REM:
		return func(fp pointer) { *at[T](fp, d) = *at[T](fp, a) % *at[T](fp, b) }
	case token.AND:
		return func(fp pointer) { *at[T](fp, d) = *at[T](fp, a) & *at[T](fp, b) }
	case token.OR:
		return func(fp pointer) { *at[T](fp, d) = *at[T](fp, a) | *at[T](fp, b) }
	case token.XOR:
		return func(fp pointer) { *at[T](fp, d) = *at[T](fp, a) ^ *at[T](fp, b) }
	case token.AND_NOT:
		return func(fp pointer) { *at[T](fp, d) = *at[T](fp, a) &^ *at[T](fp, b) }
	}
	return arithmetic[T](operator, d, a, b)
}

func quantityArithmetic(operator token.Token, d, a, b uintptr) op {
	var f func(x, y quantity.Quantity) quantity.Quantity
	switch operator {
	case token.ADD:
		f = quantity.Quantity.Add
	case token.SUB:
		f = quantity.Quantity.Sub
	case token.MUL:
		f = quantity.Quantity.Mul
	case token.QUO:
		f = quantity.Quantity.Div
	default:
		return nil
	}
	return func(fp pointer) {
		*at[quantity.Quantity](fp, d) = f(*at[quantity.Quantity](fp, a), *at[quantity.Quantity](fp, b))
	}
}

func moveQuantity(to, from pointer) { *(*quantity.Quantity)(to) = *(*quantity.Quantity)(from) }

// binary compiles an arithmetic operator; nil if the type has no such operator.
func binary(t reflect.Type, operator token.Token, d, a, b uintptr) op {
	if t == quantityType {
		return quantityArithmetic(operator, d, a, b)
	}
	switch t.Kind() {
	case reflect.Int:
		return integerArithmetic[int](operator, d, a, b)
	case reflect.Int8:
		return integerArithmetic[int8](operator, d, a, b)
	case reflect.Int16:
		return integerArithmetic[int16](operator, d, a, b)
	case reflect.Int32:
		return integerArithmetic[int32](operator, d, a, b)
	case reflect.Int64:
		return integerArithmetic[int64](operator, d, a, b)
	case reflect.Uint:
		return integerArithmetic[uint](operator, d, a, b)
	case reflect.Uint8:
		return integerArithmetic[uint8](operator, d, a, b)
	case reflect.Uint16:
		return integerArithmetic[uint16](operator, d, a, b)
	case reflect.Uint32:
		return integerArithmetic[uint32](operator, d, a, b)
	case reflect.Uint64:
		return integerArithmetic[uint64](operator, d, a, b)
	case reflect.Uintptr:
		return integerArithmetic[uintptr](operator, d, a, b)
	case reflect.Float32:
		return arithmetic[float32](operator, d, a, b)
	case reflect.Float64:
		return arithmetic[float64](operator, d, a, b)
	case reflect.Complex64:
		return arithmetic[complex64](operator, d, a, b)
	case reflect.Complex128:
		return arithmetic[complex128](operator, d, a, b)
	case reflect.String:
		return func(fp pointer) {
			x, y := *at[string](fp, a), *at[string](fp, b)
			room(len(x)+len(y), 1)
			*at[string](fp, d) = x + y
		}
	}
	return nil
}

func shiftOf[T integer](left bool, d, a uintptr, count func(fp pointer) uint64) op {
	if left {
		return func(fp pointer) { *at[T](fp, d) = *at[T](fp, a) << count(fp) }
	}
	return func(fp pointer) { *at[T](fp, d) = *at[T](fp, a) >> count(fp) }
}

func shift(t, by reflect.Type, left bool, d, a, b uintptr) op {
	count := shiftCount(by, b)
	switch t.Kind() {
	case reflect.Int:
		return shiftOf[int](left, d, a, count)
	case reflect.Int8:
		return shiftOf[int8](left, d, a, count)
	case reflect.Int16:
		return shiftOf[int16](left, d, a, count)
	case reflect.Int32:
		return shiftOf[int32](left, d, a, count)
	case reflect.Int64:
		return shiftOf[int64](left, d, a, count)
	case reflect.Uint:
		return shiftOf[uint](left, d, a, count)
	case reflect.Uint8:
		return shiftOf[uint8](left, d, a, count)
	case reflect.Uint16:
		return shiftOf[uint16](left, d, a, count)
	case reflect.Uint32:
		return shiftOf[uint32](left, d, a, count)
	case reflect.Uintptr:
		return shiftOf[uintptr](left, d, a, count)
	}
	return shiftOf[uint64](left, d, a, count)
}

func shiftCount(by reflect.Type, b uintptr) func(fp pointer) uint64 {
	load := loadInt(by, b)
	if !isSigned(by.Kind()) {
		return func(fp pointer) uint64 { return uint64(load(fp)) }
	}
	return func(fp pointer) uint64 {
		n := load(fp)
		if n < 0 {
			panic(runtimeError("runtime error: negative shift amount"))
		}
		return uint64(n)
	}
}

// loadInt loads any integer, extended to 64 bits as its sign asks.
func loadInt(t reflect.Type, a uintptr) func(fp pointer) int64 {
	switch t.Kind() {
	case reflect.Int:
		return func(fp pointer) int64 { return int64(*at[int](fp, a)) }
	case reflect.Int8:
		return func(fp pointer) int64 { return int64(*at[int8](fp, a)) }
	case reflect.Int16:
		return func(fp pointer) int64 { return int64(*at[int16](fp, a)) }
	case reflect.Int32:
		return func(fp pointer) int64 { return int64(*at[int32](fp, a)) }
	case reflect.Int64:
		return func(fp pointer) int64 { return *at[int64](fp, a) }
	case reflect.Uint:
		return func(fp pointer) int64 { return int64(*at[uint](fp, a)) }
	case reflect.Uint8:
		return func(fp pointer) int64 { return int64(*at[uint8](fp, a)) }
	case reflect.Uint16:
		return func(fp pointer) int64 { return int64(*at[uint16](fp, a)) }
	case reflect.Uint32:
		return func(fp pointer) int64 { return int64(*at[uint32](fp, a)) }
	case reflect.Uint64:
		return func(fp pointer) int64 { return int64(*at[uint64](fp, a)) }
	case reflect.Uintptr:
		return func(fp pointer) int64 { return int64(*at[uintptr](fp, a)) }
	}
	return nil
}

// storeInt stores the low bits of an integer.
func storeInt(t reflect.Type, d uintptr, load func(fp pointer) int64) op {
	switch t.Size() {
	case 1:
		return func(fp pointer) { *at[int8](fp, d) = int8(load(fp)) }
	case 2:
		return func(fp pointer) { *at[int16](fp, d) = int16(load(fp)) }
	case 4:
		return func(fp pointer) { *at[int32](fp, d) = int32(load(fp)) }
	}
	return func(fp pointer) { *at[int64](fp, d) = load(fp) }
}

func isSigned(k reflect.Kind) bool  { return k >= reflect.Int && k <= reflect.Int64 }
func isInteger(k reflect.Kind) bool { return k >= reflect.Int && k <= reflect.Uintptr }
func isFloat(k reflect.Kind) bool   { return k == reflect.Float32 || k == reflect.Float64 }
func isComplex(k reflect.Kind) bool { return k == reflect.Complex64 || k == reflect.Complex128 }

// negate compiles unary minus; nil if the type has none.
func negate(t reflect.Type, d, a uintptr) op {
	switch {
	case t == quantityType:
		return func(fp pointer) { *at[quantity.Quantity](fp, d) = at[quantity.Quantity](fp, a).Neg() }
	case t.Kind() == reflect.Float32:
		return func(fp pointer) { *at[float32](fp, d) = -*at[float32](fp, a) }
	case t.Kind() == reflect.Float64:
		return func(fp pointer) { *at[float64](fp, d) = -*at[float64](fp, a) }
	case t.Kind() == reflect.Complex64:
		return func(fp pointer) { *at[complex64](fp, d) = -*at[complex64](fp, a) }
	case t.Kind() == reflect.Complex128:
		return func(fp pointer) { *at[complex128](fp, d) = -*at[complex128](fp, a) }
	case isInteger(t.Kind()):
		load := loadInt(t, a)
		return storeInt(t, d, func(fp pointer) int64 { return -load(fp) })
	}
	return nil
}
