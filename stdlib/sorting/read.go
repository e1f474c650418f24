package sorting

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// reader takes numbers out of the fields of something, and keeps the first
// complaint.
type reader struct {
	of  string
	err error
}

func (r *reader) fail(format string, arguments ...any) {
	if r.err == nil {
		r.err = fmt.Errorf("sorting: %s: %s", r.of, fmt.Sprintf(format, arguments...))
	}
}

// number reads a field that must be there.
func (r *reader) number(field string, q quantity.Quantity, unit string) float64 {
	if q.IsNothing() {
		r.fail("%s is missing; it is given in units such as %s", field, named(unit))
		return math.NaN()
	}
	x, err := q.Value(unit)
	if err != nil {
		r.fail("%s is given in units such as %s, and %v is not", field, named(unit), q)
		return math.NaN()
	}
	if math.IsNaN(x) || math.IsInf(x, 0) {
		r.fail("%s is a number, and %v is not", field, q)
	}
	return x
}

func named(unit string) string {
	switch unit {
	case "1":
		return "% or a plain number"
	}
	return unit
}

// positive reads a field that must be there and above 0.
func (r *reader) positive(field string, q quantity.Quantity, unit string) float64 {
	x := r.number(field, q, unit)
	if !(x > 0) {
		r.fail("%s is above 0, and %v is not", field, q)
	}
	return x
}

// within reads a field that may be left out, from low to high.
func (r *reader) within(field string, q quantity.Quantity, unit string, low, high, absent float64) float64 {
	if q.IsNothing() {
		return absent
	}
	x := r.number(field, q, unit)
	if !(x >= low && x <= high) {
		r.fail("%s lies between %s and %s, and %v does not", field, quantity.Of(low, unit), quantity.Of(high, unit), q)
	}
	return x
}

// atLeast reads a field that may be left out, 0 or above.
func (r *reader) atLeast(field string, q quantity.Quantity, unit string, absent float64) float64 {
	if q.IsNothing() {
		return absent
	}
	x := r.number(field, q, unit)
	if !(x >= 0) {
		r.fail("%s is 0 or above, and %v is not", field, q)
	}
	return x
}

// keep hands on the value of a sample, or nothing where nothing was stated.
func keep(stated, value quantity.Quantity) quantity.Quantity {
	if stated.IsNothing() {
		return quantity.Quantity{}
	}
	return value
}
