package numeric

import "gonum.org/v1/gonum/stat/distuv"

// NormalQuantile is the z below which a standard normal variable lies with
// probability p.
//
// It panics unless p lies between 0 and 1.
func NormalQuantile(p float64) float64 {
	return distuv.UnitNormal.Quantile(inside(p))
}

// StudentQuantile is the t below which Student's variable with that many
// degrees of freedom lies with probability p.
//
// It panics unless p lies between 0 and 1 and freedom is above 0.
func StudentQuantile(p, freedom float64) float64 {
	if !(freedom > 0) {
		panic("numeric: degrees of freedom are above 0")
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: freedom}.Quantile(inside(p))
}

// ChiSquareQuantile is the χ² below which a variable with that many degrees of
// freedom lies with probability p.
//
// It panics as StudentQuantile does.
func ChiSquareQuantile(p, freedom float64) float64 {
	if !(freedom > 0) {
		panic("numeric: degrees of freedom are above 0")
	}
	return distuv.ChiSquared{K: freedom}.Quantile(inside(p))
}

// ChiSquareAbove is the probability that a χ² variable with that many degrees
// of freedom lies above x.
//
// It panics unless freedom is above 0.
func ChiSquareAbove(x, freedom float64) float64 {
	if !(freedom > 0) {
		panic("numeric: degrees of freedom are above 0")
	}
	return distuv.ChiSquared{K: freedom}.Survival(x)
}

func inside(p float64) float64 {
	if !(p > 0 && p < 1) {
		panic("numeric: a probability lies between 0 and 1")
	}
	return p
}
