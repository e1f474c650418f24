package quantity

import "math"

// The functions of this file note what is to be done to samples; body.go does it.

// spreadOut is the samples of q, one number repeated if it is certain.
func (q Quantity) spreadOut(count int) []float64 {
	if q.cloud != nil {
		return q.cloud.samples()
	}
	out := make([]float64, count)
	for i := range out {
		out[i] = q.value
	}
	return out
}

// slope is by how much the result of apply moves with its argument.
func (r ratio) slope() float64 { return r.num / r.den }

// rescaled is q brought to another unit.
func (q Quantity) rescaled(r ratio, u *unit) Quantity {
	if q.cloud == nil {
		return Quantity{value: r.apply(q.value), unit: u}
	}
	c := q.cloud
	if r.same {
		return uncertain(c, u)
	}
	b := later(formula{op: scaling, a: c.body, scale: r, count: c.set.count})
	return uncertain(&cloud{c.set, b, r.apply(c.nominal), mergeShares(r.slope(), c.shares, 0, nil)}, u)
}

// shifted is q, of a cloud, plus a certain number in its unit.
func (q Quantity) shifted(by float64) Quantity {
	if by == 0 {
		return q
	}
	return q.rescaled(ratio{num: 1, den: 1, shift: by}, q.unit)
}

// operand is the body of q, or the number that stands for it.
func (q Quantity) operand() (*body, float64) {
	if q.cloud == nil {
		return nil, q.value
	}
	return q.cloud.body, 0
}

// addClouds is q + sign × r where at least one is uncertain.
func addClouds(q, r Quantity, sign float64, k *link) Quantity {
	set := setOf(q, r)
	q, r = q.rescaled(k.left, k.unit), r.rescaled(k.right, k.unit)
	f := formula{op: adding, sign: sign, scale: ratio{same: true}, count: set.count}
	f.a, f.numA = q.operand()
	f.b, f.numB = r.operand()
	nominal := q.nominal() + sign*r.nominal()
	return uncertain(&cloud{set, later(f), nominal, mergeShares(1, q.shares(), sign, r.shares())}, k.unit)
}

func multiplyClouds(q, r Quantity, k *link) Quantity {
	set := setOf(q, r)
	if r.cloud == nil {
		q, r = r, q
	}
	f := formula{op: multiplying, scale: k.left, count: set.count}
	f.a, f.numA = q.operand()
	f.b, f.numB = r.operand()
	a, b, s := q.nominal(), r.nominal(), k.left.slope()
	return uncertain(&cloud{set, later(f), k.left.apply(a * b), mergeShares(s*b, q.shares(), s*a, r.shares())}, k.unit)
}

func divideClouds(q, r Quantity, k *link) Quantity {
	set := setOf(q, r)
	f := formula{op: dividing, scale: k.left, count: set.count}
	f.a, f.numA = q.operand()
	f.b, f.numB = r.operand()
	a, b, s := q.nominal(), r.nominal(), k.left.slope()
	return uncertain(&cloud{set, later(f), k.left.apply(a / b), mergeShares(s/b, q.shares(), -s*a/(b*b), r.shares())}, k.unit)
}

func (r ratio) inPlace(x []float64) {
	if r.same {
		return
	}
	for i, v := range x {
		x[i] = v*r.num/r.den + r.shift
	}
}

// mapped is f of each sample; slope is the derivative of f at the nominal value.
// f must not depend on anything that changes, and must not panic.
func (q Quantity) mapped(f func(float64) float64, slope float64, u *unit) Quantity {
	c := q.cloud
	b := later(formula{op: function, a: c.body, f: f, count: c.set.count})
	return uncertain(&cloud{c.set, b, f(c.nominal), mergeShares(slope, c.shares, 0, nil)}, u)
}

func (q Quantity) negated() Quantity {
	return q.rescaled(ratio{num: -1, den: 1}, q.unit)
}

func (q Quantity) magnitude() Quantity {
	return q.mapped(math.Abs, math.Copysign(1, q.cloud.nominal), q.unit)
}

func (q Quantity) toPower(e exponent, k *powerLink) Quantity {
	p, x := e.float(), q.cloud.nominal
	slope := p * math.Pow(x, p-1) * k.value.slope()
	return q.mapped(func(v float64) float64 { return k.value.apply(power(v, e)) }, slope, k.unit)
}

// greater is the greater of two quantities sample by sample (sign 1), or the
// lesser (-1), in the unit of q.
func greater(q, r Quantity, sign float64) Quantity {
	set := setOf(q, r)
	if converted, err := r.InUnit(q.Unit()); err == nil && r.unit != nil && q.unit != nil {
		r = converted
	} else if q.unit == nil {
		q.unit = r.unit
	}
	x, y := q.spreadOut(set.count), r.spreadOut(set.count)
	out := make([]float64, set.count)
	for i, v := range x {
		switch {
		case v != v || sign*v > sign*y[i]:
			out[i] = v
		default:
			out[i] = y[i]
		}
	}
	chosen := r
	if sign*q.nominal() > sign*r.nominal() {
		chosen = q
	}
	return uncertain(&cloud{set, finished(out), chosen.nominal(), chosen.shares()}, q.unit)
}
