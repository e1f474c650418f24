package run

import (
	"math/big"
	"reflect"

	"golang.org/x/tools/go/ssa"
)

// sized are compiled functions that allocate as much as their arguments say. Each gives the number of
// bytes, which is looked at before the call.
var sized = map[string]func(fp pointer, a []uintptr) (n, size int){
	"strings.Repeat": func(fp pointer, a []uintptr) (int, int) { return *at[int](fp, a[1]), len(*at[string](fp, a[0])) },
	"bytes.Repeat":   func(fp pointer, a []uintptr) (int, int) { return *at[int](fp, a[1]), len(*at[[]byte](fp, a[0])) },

	"(*strings.Builder).Grow": bytesIn[int](1, 1),
	"(*bytes.Buffer).Grow":    bytesIn[int](1, 1),
	"bufio.NewReaderSize":     bytesIn[int](1, 1),
	"bufio.NewWriterSize":     bytesIn[int](1, 1),
	"(*math/big.Int).SetBit":  bytesIn[int](2, 8),
	"(*math/big.Int).Lsh":     bytesIn[uint](2, 8),
	"(*math/big.Int).Exp":     powerSize,
}

// bytesIn reads the size from an argument that counts bytes, or parts of bytes.
func bytesIn[T int | uint](argument int, parts T) func(fp pointer, a []uintptr) (n, size int) {
	return func(fp pointer, a []uintptr) (int, int) {
		return int(min(*at[T](fp, a[argument])/parts, 1<<62)), 1
	}
}

// powerSize is the size of x**y; with a modulus it is that of the modulus.
func powerSize(fp pointer, a []uintptr) (n, size int) {
	x, y, m := *at[*big.Int](fp, a[1]), *at[*big.Int](fp, a[2]), *at[*big.Int](fp, a[3])
	if x == nil || y == nil || m != nil && m.Sign() != 0 || y.Sign() <= 0 || x.BitLen() < 2 {
		return 0, 1
	}
	if !y.IsInt64() {
		return 1 << 62, 1
	}
	return int(y.Int64()/8 + 1), x.BitLen()
}

// measured puts the look at the size before a call of such a function.
func (c *compiler) measured(callee *ssa.Function, cc *ssa.CallCommon, call op, pos int64) op {
	size, ok := sized[callee.RelString(nil)]
	if !ok {
		return call
	}
	args := c.offsets(cc.Args)
	return func(fp pointer) {
		head(fp).pos = pos
		if n, of := size(fp, args); n > 0 {
			room(n, of)
		}
		call(fp)
	}
}

// measuredValue is the same for a function that is used as a value.
func (m *Machine) measuredValue(f *ssa.Function, compiled reflect.Value) reflect.Value {
	size, ok := sized[f.RelString(nil)]
	if !ok {
		return compiled
	}
	t := compiled.Type()
	look := func(fp pointer, a, _ []uintptr) {
		if n, of := size(fp, a); n > 0 {
			room(n, of)
		}
	}
	return reflect.MakeFunc(t, func(args []reflect.Value) []reflect.Value {
		callIntrinsic(m, look, t, args)
		return compiled.Call(args)
	})
}
