package fields

import (
	"fmt"
	"math"
	"reflect"
	"strings"

	"cobber/stdlib/quantity"
)

// Reader takes numbers out of the fields of something, and keeps the first
// complaint. After one, what it returns is of no use.
type Reader struct {
	of  string
	Err error
}

// Of is a reader whose complaints begin with what they are about, as in
// "magnetic: a drum".
func Of(what string) *Reader { return &Reader{of: what} }

// Fail keeps a complaint if it is the first.
func (r *Reader) Fail(format string, arguments ...any) {
	if r.Err == nil {
		r.Err = fmt.Errorf("%s: %s", r.of, fmt.Sprintf(format, arguments...))
	}
}

// Number reads a field that must be there.
func (r *Reader) Number(field string, q quantity.Quantity, unit string) float64 {
	if q.IsNothing() {
		// A bare 0 in a cell makes a quantity that says nothing.
		r.Fail("%s is missing; it is given in units such as %s, and 0 with a unit too", field, example(unit))
		return math.NaN()
	}
	x, err := q.Value(unit)
	if err != nil {
		r.Fail("%s is given in units such as %s, and %v is not", field, example(unit), q)
		return math.NaN()
	}
	if math.IsNaN(x) || math.IsInf(x, 0) {
		r.Fail("%s is a number, and %v is not", field, q)
	}
	return x
}

// example is the unit that people would write where a number is wanted in unit.
func example(unit string) string {
	switch unit {
	case "1":
		return "% or a plain number"
	case "rad/s":
		return "rpm"
	case "rad":
		return "deg"
	case "kg/m3":
		return "g/cm³"
	}
	return unit
}

// Positive reads a field that must be there and above 0.
func (r *Reader) Positive(field string, q quantity.Quantity, unit string) float64 {
	x := r.Number(field, q, unit)
	if !(x > 0) {
		r.Fail("%s is above 0, and %v is not", field, q)
	}
	return x
}

// Within reads a field that may be left out, from low to high.
func (r *Reader) Within(field string, q quantity.Quantity, unit string, low, high, absent float64) float64 {
	if q.IsNothing() {
		return absent
	}
	x := r.Number(field, q, unit)
	if !(x >= low && x <= high) {
		r.Fail("%s lies between %s and %s, and %v does not", field, quantity.Of(low, unit), quantity.Of(high, unit), q)
	}
	return x
}

// AtLeast reads a field that may be left out, 0 or above.
func (r *Reader) AtLeast(field string, q quantity.Quantity, unit string, absent float64) float64 {
	if q.IsNothing() {
		return absent
	}
	x := r.Number(field, q, unit)
	if !(x >= 0) {
		r.Fail("%s is 0 or above, and %v is not", field, q)
	}
	return x
}

// Turns reads a speed of rotation in rad/s. One in hertz is refused, since it
// would be taken for radians where turns are meant.
func (r *Reader) Turns(field string, q quantity.Quantity) float64 {
	x := r.Positive(field, q, "rad/s")
	if r.Err == nil && strings.Contains(q.Unit().String(), "Hz") {
		r.Fail("%s is a speed of rotation, as in rpm or rad/s, and %v might mean turns or radians", field, q)
	}
	return x
}

// Keep hands on the value of a sample, or nothing where nothing was stated.
func Keep(stated, value quantity.Quantity) quantity.Quantity {
	if stated.IsNothing() {
		return quantity.Quantity{}
	}
	return value
}

// Through is quantity.Through for something with fields: f gets a function that
// puts the values of a sample into the fields of a copy, and those of the others.
func Through(fields []*quantity.Quantity, f func(put func(into []*quantity.Quantity), v []quantity.Quantity) (quantity.Quantity, error), others ...quantity.Quantity) (quantity.Quantity, error) {
	n := len(others)
	all := append([]quantity.Quantity(nil), others...)
	for _, field := range fields {
		all = append(all, *field)
	}
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		return f(func(into []*quantity.Quantity) {
			for i, field := range into {
				*field = Keep(*field, v[n+i])
			}
		}, v[:n])
	}, all...)
}

// Stated is what is stated in the exported fields of a struct, a field a line.
// Fields that hold nothing are left out.
func Stated(of any) string {
	var lines []string
	v := reflect.ValueOf(of)
	for i := range v.NumField() {
		name, field := v.Type().Field(i), v.Field(i)
		if !name.IsExported() || field.IsZero() {
			continue
		}
		if q, ok := field.Interface().(quantity.Quantity); ok && q.IsNothing() {
			continue
		}
		text := ""
		if _, quantity := field.Interface().(fmt.Stringer); field.Kind() == reflect.Struct && !quantity {
			text = strings.ReplaceAll(Stated(field.Interface()), "\n", ", ")
		} else {
			text = fmt.Sprint(field.Interface())
		}
		if field.Kind() == reflect.Slice {
			text = fmt.Sprintf("%d stated", field.Len())
		}
		if text != "" {
			lines = append(lines, name.Name+" "+text)
		}
	}
	return strings.Join(lines, "\n")
}
