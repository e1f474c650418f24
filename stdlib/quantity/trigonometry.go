package quantity

import "math"

func radian() *unit {
	u, err := ParseUnit("rad")
	if err != nil {
		panic(err) // in the table
	}
	return u.u
}

// Sin is the sine of an angle, in any unit of angles; a pure number counts
// radians. It panics with a *DimensionError for what is no angle.
func Sin(angle Quantity) Quantity {
	return angle.inRadians("take the sine of").function(math.Sin, math.Cos)
}

// Cos is the cosine of an angle; see Sin.
func Cos(angle Quantity) Quantity {
	return angle.inRadians("take the cosine of").function(math.Cos, func(x float64) float64 { return -math.Sin(x) })
}

// Tan is the tangent of an angle; see Sin.
func Tan(angle Quantity) Quantity {
	return angle.inRadians("take the tangent of").function(math.Tan, func(x float64) float64 { return 1 / (math.Cos(x) * math.Cos(x)) })
}

// Asin is the angle, in rad, of the given sine, a quantity without dimension.
func Asin(q Quantity) Quantity {
	return q.number("take the arc sine of").function(math.Asin, func(x float64) float64 { return 1 / math.Sqrt(1-x*x) }).asAngle()
}

// Acos is the angle, in rad, of the given cosine, a quantity without dimension.
func Acos(q Quantity) Quantity {
	return q.number("take the arc cosine of").function(math.Acos, func(x float64) float64 { return -1 / math.Sqrt(1-x*x) }).asAngle()
}

// Atan is the angle, in rad, of the given tangent, a quantity without dimension:
// the slope of a ramp, 8 %, gives its angle.
func Atan(q Quantity) Quantity {
	return q.number("take the arc tangent of").function(math.Atan, func(x float64) float64 { return 1 / (1 + x*x) }).asAngle()
}

// Atan2 is the angle, in rad, of the point x, y, seen from the origin. It panics
// with a *DimensionError if the two do not measure the same.
func Atan2(y, x Quantity) Quantity {
	y.compared(x) // refuses what does not measure the same
	u := x.unit
	if u == nil {
		u = y.unit
	}
	if u != nil && u.reading {
		panic(&DimensionError{"divide", y, x, readingInProduct})
	}
	y, x = y.bare(u), x.bare(u)
	if y.cloud == nil && x.cloud == nil {
		return Quantity{value: math.Atan2(y.value, x.value), unit: one}.asAngle()
	}
	return apply2(y, x, math.Atan2, func(y, x float64) (float64, float64) {
		square := x*x + y*y
		return x / square, -y / square
	}).asAngle()
}

// bare is the number of q in u as a pure number.
func (q Quantity) bare(u *unit) Quantity {
	if q.unit != nil && u != nil {
		q, _ = q.InUnit(Unit{u}) // compared before
	}
	q.unit = one
	return q
}

// Sinh is the hyperbolic sine of a quantity without dimension.
func Sinh(q Quantity) Quantity {
	return q.number("take the hyperbolic sine of").function(math.Sinh, math.Cosh)
}

// Cosh is the hyperbolic cosine of a quantity without dimension.
func Cosh(q Quantity) Quantity {
	return q.number("take the hyperbolic cosine of").function(math.Cosh, math.Sinh)
}

// Tanh is the hyperbolic tangent of a quantity without dimension.
func Tanh(q Quantity) Quantity {
	return q.number("take the hyperbolic tangent of").function(math.Tanh, func(x float64) float64 {
		return 1 / (math.Cosh(x) * math.Cosh(x))
	})
}

// inRadians is an angle as the pure number of its radians.
func (q Quantity) inRadians(doing string) Quantity {
	if q.unit == nil || q.unit.angle.isZero() {
		return q.number(doing)
	}
	r, err := q.InUnit(Unit{radian()})
	if err != nil {
		panic(&DimensionError{Op: doing, Left: q, Reason: "it is no angle"})
	}
	r.unit = one
	return r
}

// asAngle shows a number of radians as such.
func (q Quantity) asAngle() Quantity {
	q.unit = radian()
	return q
}
