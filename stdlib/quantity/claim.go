package quantity

import (
	"fmt"
	"math"
)

// Claim is the comparison of an uncertain value with a claimed one.
type Claim struct {
	Difference  Quantity // the value less the claimed one, uncertain
	Deviations  float64  // mean of the difference over its standard deviation
	ChanceBelow float64  // probability that the value is less than the claimed one
	ChanceAbove float64  // probability that it is greater
	Agrees      bool     // no difference lies within the interval of 95 % of the difference
}

// Against compares q with a claimed value, certain or uncertain. The error is a
// *DimensionError if the two do not measure the same, and for two certain
// quantities, of which one cannot say how far they may differ.
func (q Quantity) Against(claimed Quantity) (Claim, error) {
	if !q.Unit().Compatible(claimed.Unit()) {
		return Claim{}, &DimensionError{Op: "compare", Left: q, Right: claimed}
	}
	set := setOf(q, claimed)
	if set == nil {
		return Claim{}, fmt.Errorf("neither %s nor %s is uncertain: there is nothing to judge their difference by", q, claimed)
	}
	difference := q.Sub(claimed)
	below, above := chanceLess(q, claimed), chanceLess(claimed, q)
	size := deviation(difference.cloud.samples())
	low, high, err := difference.Interval(DefaultLevel)
	if err != nil {
		return Claim{}, err
	}
	deviations := 0.0
	if difference.val() != 0 {
		deviations = difference.val() / size
	}
	return Claim{difference, deviations, below, above, low.val() <= 0 && high.val() >= 0}, nil
}

// String says in one line whether the two agree.
func (c Claim) String() string {
	verdict := "differs from the claim"
	if c.Agrees {
		verdict = "agrees with the claim"
	}
	side, chance := "above", c.ChanceAbove
	if c.ChanceBelow > c.ChanceAbove {
		side, chance = "below", c.ChanceBelow
	}
	return fmt.Sprintf("%s: difference %s, %.1f standard deviations; %.1f %% of the samples lie %s it",
		verdict, c.Difference, math.Abs(c.Deviations), 100*chance, side)
}
