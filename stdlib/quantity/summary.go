package quantity

import (
	"fmt"
	"math"
	"slices"
)

// DefaultLevel is the level of the interval shown with an uncertain quantity.
const DefaultLevel = 0.95

// differenceOf is the unit in which distances between values of q are given.
func (q Quantity) differenceOf() *unit {
	if q.unit != nil && q.unit.reading {
		return differenceUnit(q.unit)
	}
	return q.unit
}

// StdDev is the standard deviation of the samples, the standard uncertainty of
// q; zero for a certain quantity. That of a temperature in °C is in K.
func (q Quantity) StdDev() Quantity {
	if q.cloud == nil {
		return Quantity{unit: q.differenceOf()}
	}
	return Quantity{value: deviation(q.cloud.samples()), unit: q.differenceOf()}
}

// Quantile is the value below which the share p of the samples lies; a certain
// quantity is all its quantiles. The error is for p outside 0 to 1.
func (q Quantity) Quantile(p float64) (Quantity, error) {
	if !(p >= 0 && p <= 1) {
		return Quantity{}, fmt.Errorf("quantile %g: give a share from 0 to 1", p)
	}
	if q.cloud == nil {
		return q, nil
	}
	return Quantity{value: quantileOf(q.sorted(), p), unit: q.unit}, nil
}

// Median is the value that half the samples lie below.
func (q Quantity) Median() Quantity {
	if q.cloud == nil {
		return q
	}
	return Quantity{value: quantileOf(q.sorted(), 0.5), unit: q.unit}
}

// Interval is the interval that holds the share level of the samples and leaves
// as many below as above (JCGM 101:2008, 7.7). The error is for a level outside
// 0 to 1.
func (q Quantity) Interval(level float64) (low, high Quantity, err error) {
	if err := checkLevel("Interval", level); err != nil {
		return Quantity{}, Quantity{}, err
	}
	if q.cloud == nil {
		return q, q, nil
	}
	x := q.sorted()
	low = Quantity{value: quantileOf(x, (1-level)/2), unit: q.unit}
	high = Quantity{value: quantileOf(x, (1+level)/2), unit: q.unit}
	return low, high, nil
}

// Shortest is the shortest interval that holds the share level of the samples
// (JCGM 101:2008, 5.3.4). The error is for a level outside 0 to 1.
func (q Quantity) Shortest(level float64) (low, high Quantity, err error) {
	if err := checkLevel("Shortest", level); err != nil {
		return Quantity{}, Quantity{}, err
	}
	if q.cloud == nil {
		return q, q, nil
	}
	x := q.sorted()
	held := min(int(math.Round(level*float64(len(x)))), len(x)-1)
	best := 0
	for i := 1; i+held < len(x); i++ {
		if x[i+held]-x[i] < x[best+held]-x[best] {
			best = i
		}
	}
	return Quantity{value: x[best], unit: q.unit}, Quantity{value: x[best+held], unit: q.unit}, nil
}

func (q Quantity) sorted() []float64 {
	x := slices.Clone(q.cloud.samples())
	slices.Sort(x)
	return x
}

// quantileOf reads between samples, each of which stands in the middle of its
// share.
func quantileOf(sorted []float64, p float64) float64 {
	at := p*float64(len(sorted)) - 0.5
	if at <= 0 {
		return sorted[0]
	}
	i := int(at)
	if i >= len(sorted)-1 {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}

// ChanceBelow is the probability that q is less than limit, which may be
// uncertain too. It panics with a *DimensionError if the two do not measure the
// same.
func (q Quantity) ChanceBelow(limit Quantity) float64 { return chanceLess(q, limit) }

// ChanceAbove is the probability that q is greater than limit; as ChanceBelow.
func (q Quantity) ChanceAbove(limit Quantity) float64 { return chanceLess(limit, q) }

func chanceLess(q, r Quantity) float64 {
	q.compared(r) // refuses what does not measure the same
	set := setOf(q, r)
	if set == nil {
		if q.Less(r) {
			return 1
		}
		return 0
	}
	if q.unit != nil && r.unit != nil {
		r, _ = r.InUnit(q.Unit()) // compared has not refused
	}
	x, y := q.spreadOut(set.count), r.spreadOut(set.count)
	count := 0
	for i, v := range x {
		if v < y[i] {
			count++
		}
	}
	return float64(count) / float64(set.count)
}

// Chance is the probability that a condition on some quantities holds: holds is
// called for each sample with a certain quantity for each of them. With none
// uncertain it is 0 or 1.
func Chance(holds func(values []Quantity) bool, quantities ...Quantity) float64 {
	count, total := 0, 0
	eachSample(quantities, func(values []Quantity) {
		total++
		if holds(values) {
			count++
		}
	})
	return float64(count) / float64(total)
}

// eachSample calls visit with sample after sample, once if all are certain.
func eachSample(quantities []Quantity, visit func(values []Quantity)) {
	set := setOfAll(quantities)
	values := slices.Clone(quantities)
	if set == nil {
		visit(values)
		return
	}
	for i := range set.count {
		for k, q := range quantities {
			if q.cloud != nil {
				values[k] = Quantity{value: q.cloud.samples()[i], unit: q.unit}
			}
		}
		visit(values)
	}
}

// setOfAll is the set of inputs of several quantities, nil if all are certain.
func setOfAll(quantities []Quantity) *sampling {
	var first Quantity
	for _, q := range quantities {
		if setOf(first, q); first.cloud == nil {
			first = q
		}
	}
	return setOf(first, Quantity{})
}
