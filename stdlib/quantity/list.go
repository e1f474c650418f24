package quantity

import (
	"fmt"
	"math"
	"slices"
)

// The functions of this file take any number of quantities, or a slice as
// Mean(lots...), and work in the unit of the first. As Sum, they panic with a
// *DimensionError if the quantities do not measure the same. Where some are
// uncertain, so is the result, sample by sample. They are about several values;
// for the one uncertain value see StdDev, Median and Quantile, which are methods.

// Mean is the arithmetic mean; not-a-number for no quantities.
func Mean(quantities ...Quantity) Quantity {
	if len(quantities) == 0 {
		return Quantity{value: math.NaN()}
	}
	if quantities[0].Unit().IsReading() {
		return meanReading(quantities)
	}
	return Sum(quantities...).Mul(Number(1 / float64(len(quantities))))
}

// meanReading goes by the differences from the first reading, as readings of a
// temperature scale have no sum.
func meanReading(quantities []Quantity) Quantity {
	differences := make([]Quantity, len(quantities))
	for i, q := range quantities {
		differences[i] = q.Sub(quantities[0])
	}
	return quantities[0].Add(Mean(differences...))
}

// WeightedMean is the mean of values with weights, such as grades of lots by
// their masses: Σ w x / Σ w. The error is for slices of unlike lengths, for none,
// for a weight below zero, and for weights that are all zero.
func WeightedMean(values, weights []Quantity) (Quantity, error) {
	if len(values) == 0 || len(values) != len(weights) {
		return Quantity{}, fmt.Errorf("WeightedMean: %d values and %d weights; give one for each", len(values), len(weights))
	}
	for i, w := range weights {
		if !(w.val() >= 0) || math.IsInf(w.val(), 0) || w.Unit().IsReading() {
			return Quantity{}, fmt.Errorf("WeightedMean: weight %d is %s; weights are zero or more", i+1, w)
		}
		if values[i].Unit().IsReading() {
			return Quantity{}, fmt.Errorf("WeightedMean: value %d: %s: %s", i+1, values[i], readingInProduct)
		}
		if !values[i].mixes(values[0]) || !w.mixes(weights[0]) {
			return Quantity{}, fmt.Errorf("WeightedMean: %s by %s and %s by %s do not measure the same", values[0], weights[0], values[i], w)
		}
	}
	total := Sum(weights...)
	if !(total.val() > 0) {
		return Quantity{}, fmt.Errorf("WeightedMean: the weights add to %s; one must be above zero", total)
	}
	var sum Quantity
	for i, q := range values {
		sum = sum.Add(q.Mul(weights[i].Div(total)))
	}
	if u := values[0].unit; u != nil {
		return sum.InUnit(Unit{u})
	}
	return sum, nil
}

// mixes tells whether q and r can be added.
func (q Quantity) mixes(r Quantity) bool {
	return q.unit == nil || r.unit == nil || q.Unit().Compatible(r.Unit())
}

// MedianOf is the middle value, or the mean of the two in the middle;
// not-a-number for no quantities.
func MedianOf(quantities ...Quantity) Quantity { return middleOf(quantities, 0.5) }

// QuantileOf is the value below which the share p of the quantities lies,
// between values by straight lines from the least (0) to the greatest (1). The
// error is for p outside 0 to 1 and for no quantities.
func QuantileOf(p float64, quantities ...Quantity) (Quantity, error) {
	if !(p >= 0 && p <= 1) {
		return Quantity{}, fmt.Errorf("quantile %g: give a share from 0 to 1", p)
	}
	if len(quantities) == 0 {
		return Quantity{}, fmt.Errorf("quantile %g of no values: give at least one", p)
	}
	return middleOf(quantities, p), nil
}

func middleOf(quantities []Quantity, p float64) Quantity {
	return gathered(quantities, func(x []float64) float64 {
		if len(x) == 0 || slices.ContainsFunc(x, math.IsNaN) {
			return math.NaN()
		}
		slices.Sort(x)
		at := p * float64(len(x)-1)
		i := min(int(at), len(x)-1)
		if i == len(x)-1 || at == float64(i) {
			return x[i]
		}
		return x[i] + (at-float64(i))*(x[i+1]-x[i])
	})
}

// Deviation is the sample standard deviation, with n-1 below the stroke;
// not-a-number for fewer than two quantities. That of readings in °C is in K.
func Deviation(quantities ...Quantity) Quantity {
	d := gathered(quantities, func(x []float64) float64 {
		if len(x) < 2 {
			return math.NaN()
		}
		return deviation(x)
	})
	d.unit = d.differenceOf()
	return d
}

// gathered is f of the numbers of quantities in the unit of the first that has
// one, sample by sample if one is uncertain. f may reorder its argument.
func gathered(quantities []Quantity, f func(x []float64) float64) Quantity {
	same, u := inOneUnit(quantities)
	x := make([]float64, len(same))
	set := setOfAll(same)
	for i, q := range same {
		x[i] = q.nominal()
	}
	if set == nil {
		return Quantity{value: f(x), unit: u}
	}
	nominal := f(slices.Clone(x))
	samples := make([]float64, set.count)
	row := make([]float64, len(same))
	for s := range samples {
		for i, q := range same {
			row[i] = q.val()
			if q.cloud != nil {
				row[i] = q.cloud.samples()[s]
			}
		}
		samples[s] = f(row)
	}
	return uncertain(&cloud{set, finished(samples), nominal, sharesOf(same, x, f)}, u)
}

// sharesOf takes derivatives over a small part of each width.
func sharesOf(quantities []Quantity, x []float64, f func([]float64) float64) []share {
	var shares []share
	for i, q := range quantities {
		if q.cloud == nil {
			continue
		}
		step := smallStep * deviation(q.cloud.samples())
		if step == 0 {
			continue
		}
		ends := [2]float64{}
		for side, sign := range []float64{-1, 1} {
			moved := slices.Clone(x)
			moved[i] += sign * step
			ends[side] = f(moved)
		}
		shares = mergeShares(1, shares, (ends[1]-ends[0])/(2*step), q.cloud.shares)
	}
	return shares
}

// inOneUnit brings quantities to the unit of the first that has one.
func inOneUnit(quantities []Quantity) ([]Quantity, *unit) {
	var first Quantity
	for _, q := range quantities {
		if first.unit == nil {
			first = q
		}
	}
	out := make([]Quantity, len(quantities))
	for i, q := range quantities {
		q.compared(first) // refuses what does not measure the same
		if q.unit != nil && q.unit != first.unit {
			q, _ = q.InUnit(first.Unit())
		}
		q.unit = first.unit
		out[i] = q
	}
	return out, first.unit
}

// Sort puts quantities in rising order, in place; equal ones keep theirs, and
// not-a-number stands first. Uncertain ones go by their means.
func Sort(quantities []Quantity) { slices.SortStableFunc(quantities, Quantity.Compare) }

// Sorted is a sorted copy; see Sort.
func Sorted(quantities []Quantity) []Quantity {
	out := slices.Clone(quantities)
	Sort(out)
	return out
}

// Slice is a quantity for each number, in the given unit. The error is a
// *UnitError.
func Slice(unit string, numbers ...float64) ([]Quantity, error) {
	u, err := ParseUnit(unit)
	if err != nil {
		return nil, err
	}
	out := make([]Quantity, len(numbers))
	for i, x := range numbers {
		out[i] = u.Quantity(x)
	}
	return out, nil
}

// Values is the number of each quantity in the given unit. The error is as for
// In, with the place of the quantity.
func Values(unit string, quantities ...Quantity) ([]float64, error) {
	out := make([]float64, len(quantities))
	for i, q := range quantities {
		x, err := q.Value(unit)
		if err != nil {
			return nil, fmt.Errorf("value %d: %w", i+1, err)
		}
		out[i] = x
	}
	return out, nil
}

// Cumulative is the sums of the first quantity, the first two, and so on. It
// panics as Add does.
func Cumulative(quantities ...Quantity) []Quantity {
	out := make([]Quantity, len(quantities))
	var total Quantity
	for i, q := range quantities {
		total = total.Add(q)
		out[i] = total
	}
	return out
}
