package comminution

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
)

// Family is the family of size distributions that fragments follow: for each t10 one
// curve of tn, the share finer than an n-th of the particle's size. Make one with
// TruncatedRosinRammler or MeasuredFamily.
type Family struct {
	alpha    quantity.Quantity
	measured []numeric.Curve // tn by t10, one for each ratio
	logs     []float64       // logarithms of the ratios n, falling sizes of fragments
}

// TruncatedRosinRammler is the family
//
//	1 − tn = (1 − t10)^((9/(n − 1))^α)
//
// Units: α is a plain number.
//
// Range: α above 0, near 1 for many ores. It gives nothing coarser than the particle.
//
// Errors: an α with a unit or not above 0.
//
// Source: R.P. King, Modeling and Simulation of Mineral Processing Systems (2001),
// ch. 5, after S.S. Narayanan (1985); form from memory.
func TruncatedRosinRammler(alpha quantity.Quantity) (Family, error) {
	if _, err := positive(alpha, "1", "exponent α of the family"); err != nil {
		return Family{}, err
	}
	return Family{alpha: alpha}, nil
}

// MeasuredFamily is the family in a table of one's own tests: for some values of t10,
// the shares finer than the particle's size over some ratios n. Between the values of
// t10, and between the ratios by the logarithm of fragment size, it runs straight.
//
// Units: ratios are plain numbers; t10s are shares; passing[i][k] is the share tn for
// t10s[i] and ratios[k].
//
// Range: ratios rising from above 1; t10s rising; at t10 = 0 nothing is finer than
// the particle, which need not be given. Above the last t10, and for fragments finer
// than the last ratio, shares go on in proportion.
//
// Errors: lengths that differ; values that do not rise or lie outside their range;
// passing that rises with n or falls with t10.
//
// Source: S.S. Narayanan, W.J. Whiten, Trans. Inst. Min. Metall. C 97 (1988) 115, for
// the use of such tables.
func MeasuredFamily(ratios, t10s []quantity.Quantity, passing [][]quantity.Quantity) (Family, error) {
	if len(ratios) == 0 || len(t10s) == 0 || len(passing) != len(t10s) {
		return Family{}, fmt.Errorf("comminution: a family needs ratios, values of t10 and a row of shares for each; there are %d, %d and %d", len(ratios), len(t10s), len(passing))
	}
	var f Family
	ts := []float64{0}
	for _, q := range t10s {
		t, err := share(q, "t10")
		if err != nil {
			return Family{}, err
		}
		if t <= ts[len(ts)-1] {
			return Family{}, fmt.Errorf("comminution: values of t10 rise from above 0, and %v does not", q)
		}
		ts = append(ts, t)
	}
	above := make([]float64, len(ts))
	for i := range above {
		above[i] = 1
	}
	for k, q := range ratios {
		n, err := q.Float()
		if err != nil || !(n > 1) || k > 0 && math.Log(n) <= f.logs[k-1] {
			return Family{}, fmt.Errorf("comminution: ratios are plain numbers that rise from above 1, and %v does not", q)
		}
		f.logs = append(f.logs, math.Log(n))
		column := []float64{0}
		for i, row := range passing {
			if len(row) != len(ratios) {
				return Family{}, fmt.Errorf("comminution: row %d of the family has %d shares for %d ratios", i+1, len(row), len(ratios))
			}
			x, err := share(row[k], "share tn")
			if err != nil {
				return Family{}, err
			}
			if x < column[i] || x > above[i+1] {
				return Family{}, fmt.Errorf("comminution: shares tn rise with t10 and fall with n, and %v at n = %v, t10 = %v does not", row[k], q, t10s[i])
			}
			above[i+1] = x
			column = append(column, x)
		}
		f.measured = append(f.measured, numeric.Straight(ts, column))
	}
	return f, nil
}

// Passing is tn, the share of the fragments finer than an n-th of the particle.
//
// Units: t10 is a share, n a plain number; in %.
//
// Range: t10 from 0 to below 100 %, n of 1 or more; t1 is 100 %.
//
// Errors: an empty Family, a t10 or n outside its range.
//
// Source: as the family's.
func (f Family) Passing(t10, n quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		t, err := share(v[0], "t10")
		if err != nil {
			return quantity.Quantity{}, err
		}
		ratio, err := v[1].Float()
		if err != nil || !(ratio >= 1) || t == 1 {
			return quantity.Quantity{}, fmt.Errorf("comminution: t10 is below 100 %% and n is a plain number of 1 or more; here %v and %v", v[0], v[1])
		}
		g, err := f.numbers(v[2])
		if err != nil {
			return quantity.Quantity{}, err
		}
		return percent(g.passing(t, ratio)), nil
	}, t10, n, or(f.alpha, quantity.Number(0)))
}

// family is a Family in numbers.
type family struct {
	Family
	exponent float64
}

func (f Family) numbers(alpha quantity.Quantity) (family, error) {
	if len(f.measured) > 0 {
		return family{Family: f}, nil
	}
	a, err := alpha.Float()
	if err != nil || !(a > 0) {
		return family{}, errors.New("comminution: an empty Family, or one whose α is not above 0; make one with TruncatedRosinRammler or MeasuredFamily")
	}
	return family{f, a}, nil
}

// certain is the family with its mean α.
func (f Family) certain() (family, error) { return f.numbers(or(f.alpha, quantity.Number(0))) }

// passing is tn for n of 1 or more.
func (f family) passing(t10, n float64) float64 {
	switch {
	case n <= 1:
		return 1
	case t10 <= 0:
		return 0
	case len(f.measured) == 0:
		return -math.Expm1(math.Log1p(-t10) * math.Pow(9/(n-1), f.exponent))
	}
	at := func(k int) float64 {
		if k < 0 {
			return 1 // nothing is coarser than the particle
		}
		return f.tabled(k, t10)
	}
	x := math.Log(n)
	k, _ := slices.BinarySearch(f.logs, x)
	if k == len(f.logs) {
		return at(k-1) * math.Exp(f.logs[k-1]-x)
	}
	low := 0.0
	if k > 0 {
		low = f.logs[k-1]
	}
	part := (x - low) / (f.logs[k] - low)
	return at(k-1) + part*(at(k)-at(k-1))
}

func (f family) tabled(k int, t10 float64) float64 {
	if y := f.measured[k].At(t10); !math.IsNaN(y) {
		return y
	}
	top := 1.0
	for !(f.measured[k].At(top) >= 0) { // back to the last value of t10 in the table
		top -= 1e-3
	}
	return min(f.measured[k].At(top)*t10/top, 1)
}

// Fragments is one reading of a breakage test: what share of the fragments is finer
// than an n-th of the particle, in a test with a known t10.
type Fragments struct {
	T10, Ratio, Passing quantity.Quantity
}

// FittedFamily is a family whose α was fitted.
type FittedFamily struct {
	Family    Family
	Alpha     quantity.Quantity
	Deviation quantity.Quantity // standard error of α
	Scatter   quantity.Quantity // standard deviation of the shares about the family, in %
}

// FitFamily is the TruncatedRosinRammler that comes nearest to readings by least
// squares of the shares.
//
// Units: as Fragments.
//
// Range: two readings or more; those with n = 10 say nothing. Uncertain ones count
// with their means.
//
// Errors: fewer readings; values outside their range; readings that do not tell α.
//
// Source: least squares.
func FitFamily(readings ...Fragments) (FittedFamily, error) {
	var ts, ns, ps []float64
	for i, r := range readings {
		t, errT := share(r.T10, "t10")
		p, errP := share(r.Passing, "share tn")
		n, errN := r.Ratio.Float()
		if err := errors.Join(errT, errP, errN); err != nil || !(n > 1) || t == 0 || t == 1 {
			return FittedFamily{}, fmt.Errorf("comminution: reading %d: t10 and the share lie between 0 and 100 %%, n above 1; here %v, %v and %v", i+1, r.T10, r.Passing, r.Ratio)
		}
		if n != 10 {
			ts, ns, ps = append(ts, t), append(ns, n), append(ps, p)
		}
	}
	if len(ts) < 2 {
		return FittedFamily{}, fmt.Errorf("comminution: a fit of a family needs two readings or more with n other than 10, and here are %d", len(ts))
	}
	fit := numeric.Fit(func(x, into []float64) {
		f := family{exponent: math.Exp(x[0])}
		for i := range ts {
			into[i] = ps[i] - f.passing(ts[i], ns[i])
		}
	}, []float64{0}, len(ts))
	if !fit.Settled || math.IsNaN(fit.Deviations[0]) || math.Abs(fit.Parameters[0]) > 3 {
		return FittedFamily{}, errors.New("comminution: the readings do not tell the exponent of the family")
	}
	alpha := math.Exp(fit.Parameters[0])
	made, err := TruncatedRosinRammler(quantity.Number(alpha))
	return FittedFamily{made, quantity.Number(alpha), quantity.Number(alpha * fit.Deviations[0]),
		percent(math.Sqrt(fit.Sum / float64(fit.Freedom)))}, err
}
