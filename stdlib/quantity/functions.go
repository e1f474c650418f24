package quantity

import "math"

// The functions of this file take quantities without dimension: numbers,
// percentages, quotients of like quantities. As arithmetic does, they panic with
// a *DimensionError for any other, give not-a-number where Go's functions of the
// same names do, and carry samples through.

// Exp is e to the power q.
func Exp(q Quantity) Quantity {
	return q.number("raise e to").function(math.Exp, math.Exp)
}

// Expm1 is Exp less 1, exact to the last digits where q is near zero.
func Expm1(q Quantity) Quantity {
	return q.number("raise e to").function(math.Expm1, math.Exp)
}

// Log is the natural logarithm.
func Log(q Quantity) Quantity {
	return q.number("take the logarithm of").function(math.Log, func(x float64) float64 { return 1 / x })
}

// Log1p is the natural logarithm of 1 plus q, exact to the last digits where q
// is near zero.
func Log1p(q Quantity) Quantity {
	return q.number("take the logarithm of 1 plus").function(math.Log1p, func(x float64) float64 { return 1 / (1 + x) })
}

// Log10 is the logarithm to the base 10.
func Log10(q Quantity) Quantity {
	return q.number("take the logarithm of").function(math.Log10, func(x float64) float64 { return 1 / (x * math.Ln10) })
}

// Log2 is the logarithm to the base 2.
func Log2(q Quantity) Quantity {
	return q.number("take the logarithm of").function(math.Log2, func(x float64) float64 { return 1 / (x * math.Ln2) })
}

// Sqrt is the square root of q, of any dimension, as the method.
func Sqrt(q Quantity) Quantity { return q.Pow(1, 2) }

// Cbrt is the cube root of q, of any dimension: that of 8 m³ is 2 m. That of a
// negative quantity is negative.
func Cbrt(q Quantity) Quantity {
	if q.cloud == nil && q.val() < 0 {
		return q.Neg().Pow(1, 3).Neg()
	}
	return q.Pow(1, 3)
}

// Hypot is the square root of q² + r², without overflow in between. It panics
// with a *DimensionError if the two do not measure the same.
func Hypot(q, r Quantity) Quantity {
	if q.cloud != nil || r.cloud != nil {
		return q.Pow(2, 1).Add(r.Pow(2, 1)).Sqrt()
	}
	if r.unit != nil && r.unit.reading || q.unit != nil && q.unit.reading {
		panic(&DimensionError{"add", q, r, readingInProduct})
	}
	k := q.Add(r) // refuses what does not measure the same, and chooses the unit
	if k.unit != nil {
		q, _ = q.InUnit(k.Unit())
		r, _ = r.InUnit(k.Unit())
	}
	return Quantity{value: math.Hypot(q.val(), r.val()), unit: k.unit}
}

// Power is q to any power. With a dimension q takes powers that are fractions of
// small numbers, such as 0.5 or 1.0/3; the power itself is a pure number, and may
// be uncertain if q is one too. It panics with a *DimensionError for others.
func Power(q, power Quantity) Quantity {
	p := power.number("raise to")
	if q.unit != nil && !q.Unit().isPlain() {
		num, den, ok := smallFraction(p.val())
		if p.cloud != nil || !ok {
			panic(&DimensionError{Op: "raise to the power " + power.String(), Left: q,
				Reason: "with a unit, powers are fractions of small numbers, such as 3/2; " + byReference(q)})
		}
		return q.Pow(num, den)
	}
	q = q.number("raise")
	if p.cloud == nil {
		e := p.val()
		return q.function(func(x float64) float64 { return math.Pow(x, e) },
			func(x float64) float64 { return e * math.Pow(x, e-1) })
	}
	return apply2(q, p, math.Pow,
		func(x, y float64) (float64, float64) {
			if x == 0 {
				return y * math.Pow(x, y-1), 0
			}
			return y * math.Pow(x, y-1), math.Log(x) * math.Pow(x, y)
		})
}

// Apply is f of a quantity without dimension, for functions that are not here,
// such as math.Erf. For an uncertain one f is called for each sample; the
// derivative for first-order results is taken over a small part of its width.
func Apply(f func(float64) float64, q Quantity) Quantity {
	q = q.number("apply a function of numbers to")
	if q.cloud == nil {
		return q.function(f, nil)
	}
	samples := make([]float64, 0, q.cloud.set.count)
	for _, v := range q.cloud.samples() {
		samples = append(samples, f(v))
	}
	step := smallStep * deviation(q.cloud.samples())
	slope := 0.0
	if x := q.cloud.nominal; step != 0 {
		slope = (f(x+step) - f(x-step)) / (2 * step)
	}
	c := q.cloud
	return uncertain(&cloud{c.set, finished(samples), f(c.nominal), mergeShares(slope, c.shares, 0, nil)}, one)
}

// number is q as a pure number. It panics with a *DimensionError that says what
// cannot be done with a q that has a dimension.
func (q Quantity) number(doing string) Quantity {
	if q.unit == one {
		return q
	}
	r, err := q.InUnit(Unit{one})
	if err == nil {
		return r
	}
	reason := "it has the dimension of " + q.Dimension().String() + " and not of a pure number; " + byReference(q)
	if q.unit.reading {
		reason = readingInProduct
	} else if q.Dimension().IsOne() {
		reason = unlike(q.unit, one)
	}
	panic(&DimensionError{Op: doing, Left: q, Reason: reason})
}

// isPlain reports whether numbers in the unit are pure numbers, or shares.
func (u Unit) isPlain() bool {
	return u.real() == one || u.Dimension().IsOne() && u.Compatible(Unit{one})
}

func byReference(q Quantity) string {
	return "divide by a reference first, such as 1`" + q.Unit().Symbol() + "`"
}

// function is f of a pure number; slope is the derivative of f.
func (q Quantity) function(f, slope func(float64) float64) Quantity {
	if q.cloud == nil {
		return Quantity{value: f(q.val()), unit: one}
	}
	return q.mapped(f, slope(q.cloud.nominal), one)
}

// apply2 is f of two pure numbers, of which one is uncertain; slopes are the
// derivatives by each.
func apply2(q, r Quantity, f func(x, y float64) float64, slopes func(x, y float64) (float64, float64)) Quantity {
	set := setOf(q, r)
	x, y := q.spreadOut(set.count), r.spreadOut(set.count)
	out := make([]float64, set.count)
	for i, v := range x {
		out[i] = f(v, y[i])
	}
	a, b := q.nominal(), r.nominal()
	p, s := slopes(a, b)
	return uncertain(&cloud{set, finished(out), f(a, b), mergeShares(p, q.shares(), s, r.shares())}, one)
}

// largestRoot bounds the roots that are recognised in a power written as a float.
const largestRoot = 12

// smallFraction is the fraction that a power stands for, if it is one of small
// numbers: 0.5 is 1/2, and 1.0/3 is 1/3 although a float only comes near it.
func smallFraction(p float64) (num, den int, ok bool) {
	for den = 1; den <= largestRoot; den++ {
		n := math.Round(p * float64(den))
		if math.Abs(n) <= largestPower && math.Abs(p-n/float64(den)) <= 1e-12 {
			return int(n), den, true
		}
	}
	return 0, 0, false
}
