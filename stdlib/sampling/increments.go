package sampling

import (
	"fmt"
	"math"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
)

// Increments is how many increments a lot needs so that their mean lies within a
// margin of the lot's grade with a stated confidence:
//
//	n = (z·s/E)², rounded up
//
// Units: spread s is the standard deviation of single increments, margin E the
// half width that is wanted, of the same kind; level a plain share such as 0.95.
//
// Range: increments taken at random or evenly over a lot without period; s known
// from experience. If s comes from a few increments, use IncrementsFromPilot.
//
// Errors: spread and margin of unlike kinds or not above 0, a level outside 0 to 1.
//
// Source: the normal distribution of a mean; common practice.
func Increments(spread, margin quantity.Quantity, level float64) (int, error) {
	ratio, err := ratioOf(spread, margin, level)
	if err != nil {
		return 0, err
	}
	return rounded(math.Pow(numeric.NormalQuantile((1+level)/2)*ratio, 2))
}

// IncrementsFromPilot is Increments where the spread was found from a pilot of a
// few increments, whose own uncertainty Student's t carries:
//
//	n = (t·s/E)², rounded up, t for pilot − 1 degrees of freedom
//
// Units: as Increments; pilot is how many increments the spread comes from.
//
// Range: pilots of 2 or more. The pilot's increments count among the n.
//
// Errors: as Increments; a pilot of fewer than two.
//
// Source: C. Stein, Ann. Math. Statist. 16 (1945) 243 (from memory), in its
// simple form.
func IncrementsFromPilot(spread quantity.Quantity, pilot int, margin quantity.Quantity, level float64) (int, error) {
	if pilot < 2 {
		return 0, fmt.Errorf("sampling: a spread needs a pilot of two increments at least, and %d is fewer", pilot)
	}
	ratio, err := ratioOf(spread, margin, level)
	if err != nil {
		return 0, err
	}
	n, err := rounded(math.Pow(numeric.StudentQuantile((1+level)/2, float64(pilot-1))*ratio, 2))
	return max(n, pilot), err
}

func ratioOf(spread, margin quantity.Quantity, level float64) (float64, error) {
	if !(level > 0 && level < 1) {
		return 0, fmt.Errorf("sampling: a level of confidence lies between 0 and 1, as 0.95 does, and %v does not", level)
	}
	s, err := spread.Value(margin.Unit().String())
	if err != nil || !(s > 0) {
		return 0, fmt.Errorf("sampling: the spread between increments is above 0 and of the kind of the margin, %v, and %v is not", margin, spread)
	}
	if !(margin.Shown() > 0) {
		return 0, fmt.Errorf("sampling: the margin is above 0, and %v is not", margin)
	}
	return s / margin.Shown(), nil
}

// rounded is a count, rounded up but for the rounding of floats.
func rounded(n float64) (int, error) {
	if !(n < 1e9) {
		return 0, fmt.Errorf("sampling: that would take %.3g increments; widen the margin", n)
	}
	return max(1, int(math.Ceil(n*(1-1e-12)))), nil
}

// IncrementsPerSubLot is how many increments each of m sub-lots needs where
// preparation and testing have an error too: with a precision P of two standard
// deviations,
//
//	n = 4·sI²/(m·P² − 4·sT²), rounded up
//
// Units: spread sI is the standard deviation of single increments, testing sT
// that of preparing and testing one sub-lot's sample, precision P; all of one
// kind.
//
// Range: one sample for each sub-lot. The standard asks for 10 increments at
// least.
//
// Errors: quantities of unlike kinds, below 0, no sub-lot; testing so poor that no
// number of increments reaches the precision: more sub-lots do.
//
// Source: ISO 13909-2, hard coal and coke (formula from memory).
func IncrementsPerSubLot(spread, testing, precision quantity.Quantity, subLots int) (int, error) {
	unit := precision.Unit().String()
	s, err := spread.Value(unit)
	if err != nil || !(s >= 0) {
		return 0, fmt.Errorf("sampling: the spread between increments is 0 or more and of the kind of the precision, %v, and %v is not", precision, spread)
	}
	t, err := testing.Value(unit)
	if err != nil || !(t >= 0) {
		return 0, fmt.Errorf("sampling: the error of testing is 0 or more and of the kind of the precision, %v, and %v is not", precision, testing)
	}
	p := precision.Shown()
	if !(p > 0) || subLots < 1 {
		return 0, fmt.Errorf("sampling: the precision is above 0 and there is one sub-lot at least; they are %v and %d", precision, subLots)
	}
	room := float64(subLots)*p*p - 4*t*t
	if room <= 0 {
		return 0, fmt.Errorf("sampling: testing alone leaves an error of %v at two standard deviations; %d sub-lots or more are needed",
			precision.Unit().Quantity(2*t/math.Sqrt(float64(subLots))), int(4*t*t/(p*p))+1)
	}
	return rounded(4 * s * s / room)
}
