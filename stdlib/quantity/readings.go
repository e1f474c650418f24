package quantity

import (
	"fmt"
	"math"
	"slices"
)

// Readings is the mean of repeated readings of one thing. Its standard
// uncertainty is s/√n with n-1 degrees of freedom, and its samples are Student's
// t about the mean (JCGM 100:2008, 4.2; JCGM 101:2008, 6.4.9), whose own
// deviation is greater by √((n-1)/(n-3)), and is not finite for n of 2 or 3. The
// error is for fewer than two readings, for readings that are all the same or
// that do not measure the same.
func Readings(values ...Quantity) (Quantity, error) {
	x, u, err := numbers("Readings", values)
	if err != nil {
		return Quantity{}, err
	}
	s := 0.0
	if len(x) > 1 {
		s = deviation(x)
	}
	if !(s > 0) {
		return Quantity{}, fmt.Errorf("Readings of %d values: give at least two that differ", len(x))
	}
	centre, size, freedom := mean(x), s/math.Sqrt(float64(len(x))), float64(len(x)-1)
	return student(centre, size, freedom, u), nil
}

// Student is an estimate with a standard uncertainty that is itself known only
// with the given degrees of freedom, as calibration certificates state it. Errors
// as for Normal, and for degrees of freedom below 1.
func Student(estimate, uncertainty Quantity, freedom float64) (Quantity, error) {
	size, u, err := centreAndWidth("Student", estimate, uncertainty)
	if err != nil {
		return Quantity{}, err
	}
	if !(freedom >= 1) {
		return Quantity{}, fmt.Errorf("Student: %g degrees of freedom cannot be used; give 1 or more", freedom)
	}
	return student(estimate.value, size, freedom, u), nil
}

func student(centre, size, freedom float64, u *unit) Quantity {
	q := drawAll(u, func(ps []float64) []float64 {
		var ts []float64
		if freedom > 1e6 {
			ts = make([]float64, len(ps))
			for i, p := range ps {
				ts[i] = normalQuantile(p)
			}
		} else {
			ts = studentQuantiles(freedom, ps)
		}
		for i, t := range ts {
			ts[i] = centre + size*t
		}
		return ts
	})
	// To first order the uncertainty is the stated one, not that of the t.
	q.cloud.shares[0].size = size
	q.cloud.shares[0].input.freedom = freedom
	return q
}

// Empirical is any of the values with equal chance: measured values taken as
// they are. The error is for none, and for values that do not measure the same.
func Empirical(values ...Quantity) (Quantity, error) {
	x, u, err := numbers("Empirical", values)
	if err != nil {
		return Quantity{}, err
	}
	return weighted(x, slices.Repeat([]float64{1}, len(x)), u), nil
}

// Discrete is one of the values, each with its weight; the weights need not add
// to 1. The error is for none, for as many weights as there are not values, for
// weights that are negative or all zero, and for values that do not measure the
// same.
func Discrete(values []Quantity, weights []float64) (Quantity, error) {
	x, u, err := numbers("Discrete", values)
	if err != nil {
		return Quantity{}, err
	}
	if len(weights) != len(x) {
		return Quantity{}, fmt.Errorf("Discrete: %d values and %d weights; give one for each", len(x), len(weights))
	}
	total := 0.0
	for i, w := range weights {
		if !(w >= 0) || math.IsInf(w, 0) {
			return Quantity{}, fmt.Errorf("Discrete: weight %d is %g; weights are zero or more", i+1, w)
		}
		total += w
	}
	if !(total > 0) {
		return Quantity{}, fmt.Errorf("Discrete: the weights add to %g; one must be above zero", total)
	}
	return weighted(x, weights, u), nil
}

func weighted(x, weights []float64, u *unit) Quantity {
	order := make([]int, len(x))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case x[a] < x[b]:
			return -1
		case x[a] > x[b]:
			return 1
		}
		return 0
	})
	below := make([]float64, len(x)) // weight up to and with each value
	total := 0.0
	for k, i := range order {
		total += weights[i]
		below[k] = total
	}
	return drawAll(u, func(ps []float64) []float64 {
		k := 0
		for i, p := range ps {
			for k < len(order)-1 && below[k] < p*total {
				k++
			}
			ps[i] = x[order[k]]
		}
		return ps
	})
}

// numbers brings quantities to the unit of the first.
func numbers(name string, values []Quantity) ([]float64, *unit, error) {
	if len(values) == 0 {
		return nil, nil, fmt.Errorf("%s of no values: give at least one", name)
	}
	out := make([]float64, len(values))
	for i, q := range values {
		if err := plain(name, q); err != nil {
			return nil, nil, fmt.Errorf("value %d: %w", i+1, err)
		}
		r, err := q.InUnit(values[0].Unit())
		if err != nil {
			return nil, nil, fmt.Errorf("value %d: %w", i+1, err)
		}
		out[i] = r.val()
	}
	return out, values[0].unit, nil
}
