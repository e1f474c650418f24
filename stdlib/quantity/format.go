package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// A number that somebody may have written, one of up to six significant digits,
// is shown as it is; any other comes out of arithmetic and is shown with four
// and its whole integer part. Outside the range in which people read them,
// numbers have a power of ten.
const (
	writtenDigits     = 6
	significantDigits = 4
	noiseDigits       = 12 // beyond these is what binary fractions leave behind
	leastPlain        = 1e-4
	greatestPlain     = 1e15
)

// sensible writes a number for people: 0.1 + 0.2 is 0.3.
func sensible(x float64) string {
	size := math.Abs(x)
	switch {
	case x == 0:
		return "0"
	case math.IsNaN(x) || math.IsInf(x, 0):
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	digits := significantDigits
	if written, _, _ := strings.Cut(strconv.FormatFloat(size, 'e', noiseDigits-1, 64), "e"); len(trimZeros(written)) <= writtenDigits+1 {
		digits = writtenDigits
	}
	rounded := strconv.FormatFloat(x, 'e', digits-1, 64)
	mantissa, exponent, _ := strings.Cut(rounded, "e")
	if size < leastPlain || size >= greatestPlain {
		return trimZeros(mantissa) + "e" + exponent
	}
	power, _ := strconv.Atoi(exponent) // written by FormatFloat
	decimals := max(0, digits-1-power)
	return trimZeros(strconv.FormatFloat(x, 'f', decimals, 64))
}

func trimZeros(number string) string {
	if !strings.Contains(number, ".") {
		return number
	}
	return strings.TrimRight(strings.TrimRight(number, "0"), ".")
}

// withUnit puts the unit after a number that is already written.
func (q Quantity) withUnit(number string) string {
	if symbol := q.Unit().Symbol(); symbol != "" {
		return number + " " + symbol
	}
	return number
}

// String is the number and the unit: "36.5 t/h". What has up to six significant
// digits is shown whole, as it may have been written so; longer results of
// arithmetic are shown to four, with their whole integer part. Parse reads it
// back, to those digits. An uncertain quantity is its mean ± its standard
// deviation, the unit, and the interval of 95 %, in matching digits.
func (q Quantity) String() string {
	if q.cloud != nil {
		return q.uncertainText()
	}
	return q.withUnit(sensible(q.val()))
}

// GoString is the quantity as Go source, with every digit; an uncertain one is
// its mean, and a comment with its standard deviation.
func (q Quantity) GoString() string {
	if q.cloud != nil {
		return fmt.Sprintf("%s /* ± %s */", q.Certain().GoString(), strconv.FormatFloat(deviation(q.cloud.samples()), 'g', -1, 64))
	}
	number := strconv.FormatFloat(q.val(), 'g', -1, 64)
	switch {
	case q.unit == nil && q.val() == 0:
		return "quantity.Quantity{}"
	case math.IsNaN(q.val()):
		number = "math.NaN()"
	case math.IsInf(q.val(), 0):
		number = fmt.Sprintf("math.Inf(%d)", int(math.Copysign(1, q.val())))
	}
	if symbol := q.Unit().Symbol(); symbol != "" {
		return fmt.Sprintf("quantity.Of(%s, %q)", number, symbol)
	}
	return "quantity.Number(" + number + ")"
}

// exact is the quantity with every digit of its number.
func (q Quantity) exact() string {
	if q.cloud != nil {
		value, interval := q.plusMinus(func(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) })
		return q.withUnit(value) + " " + interval
	}
	return q.withUnit(strconv.FormatFloat(q.val(), 'g', -1, 64))
}

// Format keeps the unit with every verb: %v and %s print as String does, %+v
// with every digit, %#v as Go source, and %f, %e, %g with their flags, width and
// precision print the number so and the unit after it. The width is that of the
// number, so that columns align; with the flag - it is that of the whole. With a precision or one of the verbs
// for numbers, an uncertain quantity is its mean ± its standard deviation.
func (q Quantity) Format(s fmt.State, verb rune) {
	precision, hasPrecision := s.Precision()
	switch verb {
	case 'v', 's':
		switch {
		case verb == 'v' && s.Flag('#'):
			pad(s, q.GoString())
		case verb == 'v' && s.Flag('+'):
			pad(s, q.exact())
		case hasPrecision && q.cloud != nil:
			value, _ := q.plusMinus(func(x float64) string { return strconv.FormatFloat(x, 'g', precision, 64) })
			pad(s, q.withUnit(value))
		case hasPrecision:
			pad(s, q.withUnit(strconv.FormatFloat(q.val(), 'g', precision, 64)))
		default:
			pad(s, q.String())
		}
	case 'q':
		pad(s, strconv.Quote(q.String()))
	case 'e', 'E', 'f', 'F', 'g', 'G':
		q.formatNumber(s, verb)
	default:
		fmt.Fprintf(s, "%%!%c(quantity.Quantity=%s)", verb, q.String())
	}
}

func (q Quantity) formatNumber(s fmt.State, verb rune) {
	form := "%"
	for _, flag := range "+# 0" {
		if s.Flag(int(flag)) {
			form += string(flag)
		}
	}
	width, hasWidth := s.Width()
	if hasWidth && !s.Flag('-') {
		form += strconv.Itoa(width)
	}
	if precision, ok := s.Precision(); ok {
		form += "." + strconv.Itoa(precision)
	}
	number := fmt.Sprintf(form+string(verb), q.val())
	if q.cloud != nil {
		number += " ± " + fmt.Sprintf(form+string(verb), deviation(q.cloud.samples()))
	}
	text := q.withUnit(number)
	if s.Flag('-') {
		pad(s, text)
		return
	}
	fmt.Fprint(s, text)
}

// pad writes text to the width asked for, counted in characters.
func pad(s fmt.State, text string) {
	width, ok := s.Width()
	switch {
	case !ok:
		fmt.Fprint(s, text)
	case s.Flag('-'):
		fmt.Fprintf(s, "%-*s", width, text)
	default:
		fmt.Fprintf(s, "%*s", width, text)
	}
}
