package run

import (
	"fmt"
	"strconv"

	"golang.org/x/tools/go/ssa"
)

// bound is an operand that an index or a slice expression is held to.
type bound struct {
	load     func(fp pointer) int64 // nil if it was left out
	unsigned bool
}

func (c *compiler) bound(v ssa.Value) bound {
	if v == nil {
		return bound{}
	}
	l := c.layout(v.Type())
	return bound{loadInt(l, c.offset(v)), !isSigned(l.Kind())}
}

func (b bound) value(fp pointer, otherwise int) int {
	if b.load == nil {
		return otherwise
	}
	return int(b.load(fp))
}

// text writes a number that had 64 bits; one that is too large for an int is told as it was.
func (b bound) text(x int) string {
	if b.unsigned {
		return strconv.FormatUint(uint64(x), 10)
	}
	return strconv.Itoa(x)
}

func (b bound) negative(x int) bool { return x < 0 && !b.unsigned }

// outOfRange panics with Go's own text.
func (b bound) outOfRange(i, n int) {
	text := "runtime error: index out of range [" + b.text(i) + "]"
	if !b.negative(i) {
		text += fmt.Sprintf(" with length %d", n)
	}
	panic(runtimeError(text))
}

// sliceBounds are the operands of a slice expression.
type sliceBounds struct {
	low, high, max bound
	of             string // what Go calls the limit: the length of arrays and strings, else the capacity
}

// check panics with Go's own text if l, r and m do not lie in order within the limit.
func (s *sliceBounds) check(limit, l, r, m int) {
	if s.max.load != nil {
		switch {
		case uint(m) > uint(limit):
			s.beyond(s.max, "::", m, limit)
		case uint(r) > uint(m):
			s.crossed(s.high, r, ":"+s.high.text(r)+":", s.max.text(m), "")
		case uint(l) > uint(r):
			s.crossed(s.low, l, s.low.text(l)+":", s.high.text(r), ":")
		}
		return
	}
	switch {
	case uint(r) > uint(limit):
		s.beyond(s.high, ":", r, limit)
	case uint(l) > uint(r):
		s.crossed(s.low, l, s.low.text(l)+":", s.high.text(r), "")
	}
}

func (s *sliceBounds) beyond(b bound, before string, x, limit int) {
	text := "runtime error: slice bounds out of range [" + before + b.text(x) + "]"
	if !b.negative(x) {
		text += fmt.Sprintf(" with %s %d", s.of, limit)
	}
	panic(runtimeError(text))
}

// crossed tells of two operands in the wrong order; the second is left out beside a negative first.
func (s *sliceBounds) crossed(b bound, x int, first, second, after string) {
	if b.negative(x) {
		second = ""
	}
	panic(runtimeError("runtime error: slice bounds out of range [" + first + second + after + "]"))
}
