package quantity

import "math"

// Quantity is a number with a unit. It is a small value, copied freely, and
// arithmetic on it does not allocate.
//
// The zero value is "nothing yet": it may be added to any quantity, whatever
// its dimension, and is shown as 0, so that a sum can start from
//
//	var total quantity.Quantity
//
// A quantity may be uncertain (Normal, Uniform, Triangular, ...): then it carries
// samples, arithmetic goes sample by sample, and its value, by which it is
// compared and converted to a float, is their mean.
//
// Use Equal, not ==, to compare quantities: == tells 1 t from 1000 kg.
type Quantity struct {
	value float64 // in unit; of an uncertain quantity see val
	unit  *unit   // nil only for what has no dimension yet: 0, an infinity or not a number
	cloud *cloud  // nil unless uncertain
}

// New is value in the given unit, for example New(36.5, "t/h").
// The error is a *UnitError with the nearest known units.
func New(value float64, unit string) (Quantity, error) {
	u, err := ParseUnit(unit)
	if err != nil {
		return Quantity{}, err
	}
	return u.Quantity(value), nil
}

// Of is value in the given unit. It is for units written in a program and
// panics with a *UnitError if there is no such unit; use New for others.
func Of(value float64, unit string) Quantity {
	q, err := New(value, unit)
	if err != nil {
		panic(err)
	}
	return q
}

// val is the number in the unit; for an uncertain quantity the mean of its samples.
func (q Quantity) val() float64 {
	if q.cloud != nil {
		return q.cloud.body.draw().mean
	}
	return q.value
}

// Number is a quantity without dimension.
func Number(x float64) Quantity { return Quantity{value: x, unit: one} }

// In is the same quantity shown in another unit. The error is a *UnitError for
// a text that is no unit and a *DimensionError for one that measures something
// else.
func (q Quantity) In(unit string) (Quantity, error) {
	u, err := ParseUnit(unit)
	if err != nil {
		return Quantity{}, err
	}
	return q.InUnit(u)
}

// InUnit is In for a unit already read.
func (q Quantity) InUnit(u Unit) (Quantity, error) {
	to := u.real()
	if q.unit == nil {
		if to.reading {
			return Quantity{}, &DimensionError{Op: "show", Left: q, Right: Quantity{unit: to}, Reason: readingZero}
		}
		return Quantity{value: q.value, unit: to}, nil
	}
	if q.unit == to {
		return q, nil
	}
	k := conversions.find(q.unit, to)
	if k.refused {
		return Quantity{}, &DimensionError{"show", q, Quantity{unit: to}, k.reason}
	}
	if q.cloud != nil {
		return q.rescaled(k.left, to), nil
	}
	return Quantity{value: k.left.apply(q.value), unit: to}, nil
}

// To is In for a unit written in a program: it panics where In returns an error.
func (q Quantity) To(unit string) Quantity {
	r, err := q.In(unit)
	if err != nil {
		panic(err)
	}
	return r
}

// Value is the number of the quantity in the given unit; errors as for In.
func (q Quantity) Value(unit string) (float64, error) {
	r, err := q.In(unit)
	if err != nil {
		return math.NaN(), err
	}
	return r.val(), nil
}

// Float is the number of a quantity without dimension: 0.05 for 5 %. The error
// is a *DimensionError for any other, and for degrees and revolutions.
func (q Quantity) Float() (float64, error) {
	r, err := q.InUnit(Unit{one})
	if err != nil {
		return math.NaN(), err
	}
	return r.val(), nil
}

// SI is the number of the quantity in coherent SI units: kg, m, s, A, K, mol,
// cd, and for money the currency itself. A reading in °C or °F is in kelvin.
func (q Quantity) SI() float64 {
	if q.unit == nil {
		return q.val()
	}
	return q.val()*q.unit.num/q.unit.den + q.unit.shift
}

// Shown is the number of the quantity in the unit in which it is shown.
func (q Quantity) Shown() float64 { return q.val() }

// Dimension is what the quantity measures; a pure number for the zero Quantity.
func (q Quantity) Dimension() Dimension { return q.Unit().Dimension() }

// Unit is the unit in which the quantity is shown.
func (q Quantity) Unit() Unit { return Unit{q.unit} }

// IsNaN reports whether the value is not a number.
func (q Quantity) IsNaN() bool { x := q.val(); return x != x }

// IsNothing reports whether q has no dimension yet, as the zero Quantity.
func (q Quantity) IsNothing() bool { return q.unit == nil }
