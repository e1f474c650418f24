package quantity

import (
	"strconv"
	"strings"
)

// exponent is a small rational power. Its zero value is 0, so that a zero
// Dimension is that of a pure number and dimensions compare with ==.
type exponent struct {
	num      int16
	denLess1 int16
}

// largestExponent bounds numerator and denominator: no real unit comes near,
// and sums and products of two such numbers cannot overflow an int.
const largestExponent = 999

func newExponent(num, den int) (exponent, bool) {
	if den < 0 {
		num, den = -num, -den
	}
	if den == 0 {
		return exponent{}, false
	}
	if g := greatestCommonDivisor(num, den); g > 1 {
		num, den = num/g, den/g
	}
	if num > largestExponent || num < -largestExponent || den > largestExponent {
		return exponent{}, false
	}
	return exponent{int16(num), int16(den - 1)}, true
}

func greatestCommonDivisor(a, b int) int {
	if a < 0 {
		a = -a
	}
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func whole(n int) exponent { return mustExponent(n, 1) }

// mustExponent panics with a *DimensionError, as the arithmetic above it does.
func mustExponent(num, den int) exponent {
	e, ok := newExponent(num, den)
	if !ok {
		panic(&DimensionError{Reason: "the power " + strconv.Itoa(num) + "/" + strconv.Itoa(den) + " of a unit is out of range; powers go up to " + strconv.Itoa(largestExponent)})
	}
	return e
}

func (e exponent) parts() (num, den int) { return int(e.num), int(e.denLess1) + 1 }
func (e exponent) sign() int {
	switch {
	case e.num > 0:
		return 1
	case e.num < 0:
		return -1
	}
	return 0
}
func (e exponent) isZero() bool { return e.num == 0 }
func (e exponent) isOne() bool  { return e.num == 1 && e.denLess1 == 0 }
func (e exponent) neg() exponent {
	return exponent{-e.num, e.denLess1}
}

func (e exponent) add(f exponent) exponent {
	a, b := e.parts()
	c, d := f.parts()
	return mustExponent(a*d+c*b, b*d)
}

func (e exponent) mul(f exponent) exponent {
	a, b := e.parts()
	c, d := f.parts()
	return mustExponent(a*c, b*d)
}

func (e exponent) float() float64 {
	n, d := e.parts()
	return float64(n) / float64(d)
}

func (e exponent) String() string {
	n, d := e.parts()
	if d == 1 {
		return strconv.Itoa(n)
	}
	return strconv.Itoa(n) + "/" + strconv.Itoa(d)
}

// superscript is the power as it follows a unit in plain text: nothing for 1,
// raised digits for whole powers, ^(1/2) for others.
func (e exponent) superscript() string {
	switch {
	case e.isOne():
		return ""
	case e.denLess1 != 0:
		return "^(" + e.String() + ")"
	}
	return raiseDigits.Replace(e.String())
}

var raiseDigits = strings.NewReplacer("-", "⁻", "0", "⁰", "1", "¹", "2", "²", "3", "³", "4", "⁴",
	"5", "⁵", "6", "⁶", "7", "⁷", "8", "⁸", "9", "⁹")
