package quantity

import "math"

// Add is q + r, shown in the unit of q (in that of r if q is a plain number and
// r a percentage). It panics with a *DimensionError if the two do not measure
// the same, and for two readings of a temperature scale.
func (q Quantity) Add(r Quantity) Quantity {
	if q.unit == r.unit && q.unit != nil && !q.unit.reading && q.cloud == nil && r.cloud == nil {
		return Quantity{value: q.value + r.value, unit: q.unit}
	}
	return q.addUnlike(r)
}

func (q Quantity) addUnlike(r Quantity) Quantity {
	switch {
	case q.unit == nil && r.cloud != nil:
		return r.shifted(q.value)
	case r.unit == nil && q.cloud != nil:
		return q.shifted(r.value)
	case q.unit == nil:
		return Quantity{value: q.value + r.value, unit: r.unit}
	case r.unit == nil:
		return Quantity{value: q.value + r.value, unit: q.unit}
	}
	k := sums.find(q.unit, r.unit)
	if k.refused {
		panic(&DimensionError{"add", q, r, k.reason})
	}
	if q.cloud != nil || r.cloud != nil {
		return addClouds(q, r, 1, k)
	}
	return Quantity{value: k.left.apply(q.value) + k.right.apply(r.value), unit: k.unit}
}

// Sub is q - r, shown as Add shows the sum. The difference of two temperature
// readings is a temperature difference, in K or Δ°F. It panics with a
// *DimensionError if the two do not measure the same.
func (q Quantity) Sub(r Quantity) Quantity {
	if q.unit == r.unit && q.unit != nil && !q.unit.reading && q.cloud == nil && r.cloud == nil {
		return Quantity{value: q.value - r.value, unit: q.unit}
	}
	return q.subUnlike(r)
}

func (q Quantity) subUnlike(r Quantity) Quantity {
	switch {
	case r.unit == nil && q.cloud != nil:
		return q.shifted(-r.value)
	case r.unit == nil:
		return Quantity{value: q.value - r.value, unit: q.unit}
	case q.unit == nil && r.unit.reading:
		panic(&DimensionError{"subtract", q, r, readingZero})
	case q.unit == nil && r.cloud != nil:
		return r.negated().shifted(q.value)
	case q.unit == nil:
		return Quantity{value: q.value - r.value, unit: r.unit}
	}
	k := differences.find(q.unit, r.unit)
	if k.refused {
		panic(&DimensionError{"subtract", q, r, k.reason})
	}
	if q.cloud != nil || r.cloud != nil {
		return addClouds(q, r, -1, k)
	}
	return Quantity{value: k.left.apply(q.value) - k.right.apply(r.value), unit: k.unit}
}

// Mul is q × r, in the unit that the two suggest: t/h × h is t, kWh/t × t/h is
// kW, 3 % of a flow in t/h is in t/h. It panics with a *DimensionError for a reading of a
// temperature scale.
func (q Quantity) Mul(r Quantity) Quantity {
	if q.unit == nil || r.unit == nil {
		return Quantity{value: q.val() * r.val()}
	}
	k := products.find(q.unit, r.unit)
	if k.refused {
		panic(&DimensionError{"multiply", q, r, k.reason})
	}
	if q.cloud != nil || r.cloud != nil {
		return multiplyClouds(q, r, k)
	}
	return Quantity{value: k.left.apply(q.value * r.value), unit: k.unit}
}

// Div is q ÷ r, in the unit that the two suggest: kg ÷ t is kg/t, t ÷ t a
// number, t ÷ (t/h) h. Division by zero gives an infinity or not-a-number, as
// for floats. It panics with a *DimensionError for a reading of a temperature
// scale.
func (q Quantity) Div(r Quantity) Quantity {
	if q.unit == nil || r.unit == nil {
		return Quantity{value: q.val() / r.val()}
	}
	k := quotients.find(q.unit, r.unit)
	if k.refused {
		panic(&DimensionError{"divide", q, r, k.reason})
	}
	if q.cloud != nil || r.cloud != nil {
		return divideClouds(q, r, k)
	}
	return Quantity{value: k.left.apply(q.value / r.value), unit: k.unit}
}

// Neg is -q. The sign of a temperature reading is that of the reading: -5 °C.
func (q Quantity) Neg() Quantity {
	if q.cloud != nil {
		return q.negated()
	}
	return Quantity{value: -q.value, unit: q.unit}
}

// Abs is q without its sign. It panics with a *DimensionError for a reading of
// a temperature scale.
func (q Quantity) Abs() Quantity {
	if q.unit != nil && q.unit.reading {
		panic(&DimensionError{Op: "take the magnitude of", Left: q, Reason: readingNegated})
	}
	if q.cloud != nil {
		return q.magnitude()
	}
	return Quantity{value: math.Abs(q.value), unit: q.unit}
}

// Pow is q to the power num/den, for example Pow(3, 2). It panics with a
// *DimensionError if den is 0, if the powers of the units leave the range, and
// for a reading of a temperature scale.
func (q Quantity) Pow(num, den int) Quantity {
	e := mustExponent(num, den)
	if q.unit == nil {
		if num == 0 {
			return Number(1)
		}
		return Quantity{value: power(q.value, e)}
	}
	if e.isOne() {
		return q
	}
	if q.unit.reading {
		panic(&DimensionError{Op: "raise", Left: q, Reason: readingInProduct})
	}
	k := findPower(q.unit, e)
	if q.cloud != nil {
		return q.toPower(e, k)
	}
	return Quantity{value: k.value.apply(power(q.value, e)), unit: k.unit}
}

// Sqrt is the square root of q: that of m²/s² is m/s.
func (q Quantity) Sqrt() Quantity { return q.Pow(1, 2) }

func power(x float64, e exponent) float64 {
	switch n, d := e.parts(); {
	case n == 1 && d == 2:
		return math.Sqrt(x)
	case n == 2 && d == 1:
		return x * x
	}
	return math.Pow(x, e.float())
}

// Sum adds quantities; that of none is the zero Quantity. It panics as Add does.
func Sum(quantities ...Quantity) Quantity {
	var total Quantity
	for _, q := range quantities {
		total = total.Add(q)
	}
	return total
}
