package cost

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// SixTenths is the exponent of the rule of six-tenths, for equipment about which
// nothing better is known (C.H. Chilton, Chem. Eng. 57 (April 1950) 112, reference
// from memory).
const SixTenths = 0.6

// mostScaled is the ratio of capacities beyond which the rule says nothing.
const mostScaled = 10

// Scale is a cost at another capacity:
//
//	cost·(wanted/known)^n
//
// Units: a cost in a currency, or a factor; capacities that measure the same; n a
// plain number.
//
// Range: capacities up to ten times apart, one machine for one: a plant of two mills
// costs twice a plant of one. Exponents from 0 to 1.5.
//
// Errors: a cost that is not above 0; capacities that do not measure the same, are not
// above 0 or lie further apart; an exponent outside its range.
//
// Source: R. Williams, Chem. Eng. 54 (December 1947) 124 (reference from memory);
// common practice.
func Scale(cost, known, wanted, exponent quantity.Quantity) (quantity.Quantity, error) {
	if !known.Unit().Compatible(wanted.Unit()) {
		return quantity.Quantity{}, fmt.Errorf("cost: the capacities %v and %v do not measure the same", known, wanted)
	}
	if !(cost.SI() > 0) || math.IsInf(cost.SI(), 0) {
		return quantity.Quantity{}, fmt.Errorf("cost: a cost to be scaled is above 0, and %v is not", cost)
	}
	factor, err := quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		a, b := v[0].SI(), v[1].SI()
		n, err := v[2].Float()
		switch {
		case err != nil || !(n >= 0 && n <= 1.5):
			return quantity.Quantity{}, fmt.Errorf("cost: an exponent of capacity lies between 0 and 1.5, and %v does not", v[2])
		case !(a > 0) || !(b > 0):
			return quantity.Quantity{}, fmt.Errorf("cost: capacities are above 0, and of %v and %v one is not", v[0], v[1])
		case b > mostScaled*a*(1+1e-12) || a > mostScaled*b*(1+1e-12):
			return quantity.Quantity{}, fmt.Errorf("cost: %v and %v are more than ten times apart; find a price nearer by, or count machines", v[0], v[1])
		}
		return quantity.Number(math.Pow(b/a, n)), nil
	}, known, wanted, exponent)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return cost.Mul(factor), nil
}

// Exponent is the exponent of capacity that prices of like machines show: the slope
// of the straight line through the logarithms.
//
// Units: capacities that measure the same, costs in one currency and of one year,
// one for each; the result a plain number, uncertain by its standard error where
// there are more than two prices.
//
// Range: the capacities given.
//
// Errors: fewer than two prices, unlike numbers, one capacity only; what is not above
// 0, does not measure the same, or is uncertain.
//
// Source: least squares on logarithms; common practice.
func Exponent(capacities, costs []quantity.Quantity) (quantity.Quantity, error) {
	if len(capacities) != len(costs) || len(costs) < 2 {
		return quantity.Quantity{}, fmt.Errorf("cost: an exponent takes two prices at least, each with its capacity; there are %d capacities and %d costs", len(capacities), len(costs))
	}
	xs, err := logarithms("capacity", capacities)
	if err != nil {
		return quantity.Quantity{}, err
	}
	ys, err := logarithms("cost", costs)
	if err != nil {
		return quantity.Quantity{}, err
	}
	n := float64(len(xs))
	var mx, my, sxx, sxy, rest float64
	for k := range xs {
		mx, my = mx+xs[k]/n, my+ys[k]/n
	}
	for k := range xs {
		sxx += (xs[k] - mx) * (xs[k] - mx)
		sxy += (xs[k] - mx) * (ys[k] - my)
	}
	if sxx == 0 {
		return quantity.Quantity{}, fmt.Errorf("cost: all prices are of one capacity, %v", capacities[0])
	}
	slope := sxy / sxx
	for k := range xs {
		d := ys[k] - my - slope*(xs[k]-mx)
		rest += d * d
	}
	if len(xs) == 2 || rest <= 1e-24 {
		return quantity.Number(slope), nil
	}
	return quantity.Student(quantity.Number(slope), quantity.Number(math.Sqrt(rest/(n-2)/sxx)), n-2)
}

func logarithms(what string, values []quantity.Quantity) ([]float64, error) {
	logs := make([]float64, len(values))
	for k, q := range values {
		if !q.Unit().Compatible(values[0].Unit()) {
			return nil, fmt.Errorf("cost: %s %d, %v, does not measure what the first does, %v", what, k+1, q, values[0])
		}
		if !(q.SI() > 0) {
			return nil, fmt.Errorf("cost: %s %d is %v, not above 0", what, k+1, q)
		}
		if q.IsUncertain() {
			return nil, fmt.Errorf("cost: %s %d, %v, is uncertain: give the figures as they were paid, the scatter of the prices tells how sure the exponent is", what, k+1, q)
		}
		logs[k] = math.Log(q.SI())
	}
	return logs, nil
}
