package quantity

import (
	"fmt"
	"slices"
)

// Through carries uncertainty through any function: it calls f for each sample,
// with certain quantities, and gathers what f returns. It is for functions that
// work on plain numbers, decide by comparing or repeat until something holds;
// arithmetic needs no help. First-order results come from differences over a
// small part of the width of each argument. With no uncertain argument f is called
// once. The errors are f's, with the number of the sample, and a *DimensionError
// if results for two samples do not measure the same.
func Through(f func(arguments []Quantity) (Quantity, error), arguments ...Quantity) (Quantity, error) {
	set := setOfAll(arguments)
	if set == nil {
		return f(slices.Clone(arguments))
	}
	middle := make([]Quantity, len(arguments))
	for i, q := range arguments {
		middle[i] = Quantity{value: q.nominal(), unit: q.unit}
	}
	centre, err := f(slices.Clone(middle))
	if err != nil {
		return Quantity{}, fmt.Errorf("at the means: %w", err)
	}
	samples := make([]float64, 0, set.count)
	eachSample(arguments, func(values []Quantity) {
		var r Quantity
		if err == nil {
			if r, err = f(slices.Clone(values)); err == nil {
				r, err = r.InUnit(centre.Unit())
			}
			if err != nil {
				err = fmt.Errorf("sample %d: %w", len(samples)+1, err)
			}
			samples = append(samples, r.val())
		}
	})
	if err != nil {
		return Quantity{}, err
	}
	shares, err := throughShares(f, middle, arguments, centre)
	if err != nil {
		return Quantity{}, fmt.Errorf("near the means: %w", err)
	}
	return uncertain(&cloud{set, finished(samples), centre.val(), shares}, centre.unit), nil
}

// smallStep is over which part of an argument's standard deviation a derivative
// is taken.
const smallStep = 1e-3

func throughShares(f func([]Quantity) (Quantity, error), middle, arguments []Quantity, centre Quantity) ([]share, error) {
	var shares []share
	for i, q := range arguments {
		step := smallStep * q.StdDev().value
		if q.cloud == nil || step == 0 {
			continue
		}
		var ends [2]float64
		for side, sign := range []float64{-1, 1} {
			moved := slices.Clone(middle)
			moved[i].value += sign * step
			r, err := f(moved)
			if err == nil {
				r, err = r.InUnit(centre.Unit())
			}
			if err != nil {
				return nil, err
			}
			ends[side] = r.val()
		}
		shares = mergeShares(1, shares, (ends[1]-ends[0])/(2*step), q.cloud.shares)
	}
	return shares, nil
}
