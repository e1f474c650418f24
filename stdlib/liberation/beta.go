package liberation

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// Beta is the parameters of the beta distribution that has a mean and a standard
// deviation, by which grades of locked particles are often described,
//
//	γ = ḡ·(1 − ḡ)/σ² − 1,  a = ḡ·γ,  b = (1 − ḡ)·γ
//
// Units: mean and deviation are shares; plain numbers.
//
// Range: mean between 0 and 100 %, a variance below ḡ·(1 − ḡ), which is that of particles
// that are all free.
//
// Errors: values outside the range.
//
// Source: R.P. King, Modeling and Simulation of Mineral Processing Systems (2001), ch. 3
// (from memory).
func Beta(mean, deviation quantity.Quantity) (a, b quantity.Quantity, err error) {
	parameter := func(pick func(a, b float64) float64) (quantity.Quantity, error) {
		return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
			x, y, err := betaFor(v[0], v[1])
			return quantity.Number(pick(x, y)), err
		}, mean, deviation)
	}
	if a, err = parameter(func(a, _ float64) float64 { return a }); err != nil {
		return a, b, err
	}
	b, err = parameter(func(_, b float64) float64 { return b })
	return a, b, err
}

func betaFor(mean, deviation quantity.Quantity) (a, b float64, err error) {
	m, err := volumeShare(mean, "mean grade")
	if err != nil {
		return 0, 0, err
	}
	s, err := volumeShare(deviation, "standard deviation of grades")
	if err != nil {
		return 0, 0, err
	}
	if !(m > 0 && m < 1 && s > 0 && s*s < m*(1-m)) {
		return 0, 0, fmt.Errorf("liberation: a mean grade of %v with a deviation of %v is no distribution between 0 and 100 %% other than one of free particles", mean, deviation)
	}
	a, b = betaOf(m, s*s)
	return a, b, nil
}

func betaOf(mean, variance float64) (a, b float64) {
	g := mean*(1-mean)/variance - 1
	return mean * g, (1 - mean) * g
}

// below is the incomplete beta function I_x(a, b), by its continued fraction (DLMF
// 8.17.22) evaluated after Lentz.
func below(x, a, b float64) float64 {
	switch {
	case x <= 0:
		return 0
	case x >= 1:
		return 1
	case x > (a+1)/(a+b+2):
		return 1 - below(1-x, b, a)
	}
	la, _ := math.Lgamma(a)
	lb, _ := math.Lgamma(b)
	lab, _ := math.Lgamma(a + b)
	front := math.Exp(lab - la - lb + a*math.Log(x) + b*math.Log1p(-x))
	const tiny = 1e-300
	c, d := 1.0, 1/guard(1-(a+b)*x/(a+1), tiny)
	f := d
	for m := 1.0; m < 500; m++ {
		for _, term := range [2]float64{
			m * (b - m) * x / ((a + 2*m - 1) * (a + 2*m)),
			-(a + m) * (a + b + m) * x / ((a + 2*m) * (a + 2*m + 1)),
		} {
			d = 1 / guard(1+term*d, tiny)
			c = guard(1+term/c, tiny)
			f *= c * d
		}
		if math.Abs(c*d-1) < 1e-15 {
			break
		}
	}
	return front * f / a
}

func guard(x, tiny float64) float64 {
	if math.Abs(x) < tiny {
		return tiny
	}
	return x
}

// spread deals out particles with the grades g over classes that stand at stated
// grades, rising from 0 to 1: each particle goes to the two classes beside it, so that
// the mean stays what it is.
func (g grades) spread(at []float64) []float64 {
	out := make([]float64, len(at))
	out[0], out[len(at)-1] = g.barren, g.free
	locked := g.locked()
	mean, variance := g.ofLocked()
	if locked == 0 {
		return out
	}
	if variance < 1e-12 || variance > mean*(1-mean)*(1-1e-9) || mean <= 0 || mean >= 1 {
		deal(out, at, min(max(mean, 0), 1), locked) // as good as one grade
		return out
	}
	a, b := betaOf(mean, variance)
	for k := range len(at) - 1 {
		low, high := at[k], at[k+1]
		mass := below(high, a, b) - below(low, a, b)
		metal := mean * (below(high, a+1, b) - below(low, a+1, b))
		up := (metal - low*mass) / (high - low)
		out[k+1] += locked * up
		out[k] += locked * (mass - up)
	}
	return out
}

// deal puts an amount of one grade into the classes beside it.
func deal(out, at []float64, grade, amount float64) {
	k := 0
	for k+2 < len(at) && at[k+1] <= grade {
		k++
	}
	up := (grade - at[k]) / (at[k+1] - at[k])
	out[k+1] += amount * up
	out[k] += amount * (1 - up)
}
