package quantity

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// FirstOrder is what the law of propagation of uncertainty gives for a quantity
// (JCGM 100:2008, 5): the value of the formula at the means of the inputs, and
// its standard uncertainty from the derivatives there.
type FirstOrder struct {
	Value       Quantity
	Uncertainty Quantity
	Freedom     float64 // effective degrees of freedom (Welch and Satterthwaite); +Inf if all are
}

// FirstOrder gives first-order results to put beside the sampled ones. Where the
// two differ much, the formula bends over the width of its inputs, and the
// sampled results are the better. A certain quantity has no uncertainty.
func (q Quantity) FirstOrder() FirstOrder {
	variance := varianceOf(q.shares())
	u := Quantity{value: math.Sqrt(variance), unit: q.differenceOf()}
	value := Quantity{value: q.nominal(), unit: q.unit}
	return FirstOrder{value, u, effectiveFreedom(q.shares(), variance)}
}

// Expanded is k times the uncertainty, with k from Student's t for the effective
// degrees of freedom cut to a whole number (JCGM 100:2008, G.4.1), so that
// Value ± Expanded holds the stated level. The error is for a level outside 0
// to 1, and for fewer than one degree of freedom.
func (f FirstOrder) Expanded(level float64) (Quantity, error) {
	if err := checkLevel("Expanded", level); err != nil {
		return Quantity{}, err
	}
	freedom := math.Floor(f.Freedom + 1e-9)
	if !(freedom >= 1) {
		return Quantity{}, fmt.Errorf("Expanded: %.2g degrees of freedom are too few for an interval", f.Freedom)
	}
	return Quantity{value: coverage(level, freedom) * f.Uncertainty.value, unit: f.Uncertainty.unit}, nil
}

// String is the value ± the standard uncertainty.
func (f FirstOrder) String() string {
	value, digits := matched(f.Value.value, f.Uncertainty.value)
	return f.Value.withUnit(value + " ± " + digits(f.Uncertainty.value))
}

func correlationOf(a, b *input) float64 {
	switch {
	case a.id == b.id:
		return 1
	case a.group == nil || a.group != b.group:
		return 0
	}
	return a.group.correlation[a.row][b.row]
}

// covarianceOf is Σ Σ cᵢ dⱼ rᵢⱼ over two lists of shares.
func covarianceOf(a, b []share) float64 {
	sum := 0.0
	for _, s := range a {
		for _, t := range b {
			if r := correlationOf(s.input, t.input); r != 0 {
				sum += s.size * t.size * r
			}
		}
	}
	return sum
}

// varianceOf is never below zero, which rounding may put it.
func varianceOf(shares []share) float64 { return max(0, covarianceOf(shares, shares)) }

func effectiveFreedom(shares []share, variance float64) float64 {
	sum := 0.0
	for _, s := range shares {
		sum += math.Pow(s.size, 4) / s.input.freedom
	}
	if sum == 0 {
		return math.Inf(1)
	}
	return variance * variance / sum
}

// FirstOrderCorrelation is the correlation of two quantities to first order
// (JCGM 100:2008, F.1.2.3); 0 if one of them is certain.
func FirstOrderCorrelation(q, r Quantity) float64 {
	size := math.Sqrt(varianceOf(q.shares()) * varianceOf(r.shares()))
	if size == 0 {
		return 0
	}
	return covarianceOf(q.shares(), r.shares()) / size
}

// Influence says how much one uncertain input matters to a result.
type Influence struct {
	Name            string   // as given by Named; without it "input 3" for the third of the inputs of the result, in the order in which they were made
	Contribution    Quantity // derivative × standard uncertainty of the input, signed
	Share           float64  // of the first-order variance; below 0 where correlation offsets another input
	RankCorrelation float64  // of the samples of the input and of the result (Spearman)
}

// String is one line about the input.
func (i Influence) String() string {
	return fmt.Sprintf("%s: %.1f %% of the variance, rank correlation %.2f", i.Name, 100*i.Share, i.RankCorrelation)
}

// Influences lists the inputs of q by what they add to its first-order variance,
// greatest first; none for a certain quantity. With correlated inputs the share
// of one is its part in the sums with the others, and all add to 1.
func (q Quantity) Influences() Influences {
	shares := q.shares()
	variance := varianceOf(shares)
	out := make(Influences, len(shares))
	for i, s := range shares {
		name := s.input.name
		if name == "" {
			name = fmt.Sprintf("input %d", i+1)
		}
		part := 0.0
		if variance > 0 {
			part = covarianceOf(shares[i:i+1], shares) / variance
		}
		rank := rankCorrelation(s.input.body.draw().samples, q.cloud.samples())
		out[i] = Influence{name, Quantity{value: s.size, unit: q.differenceOf()}, part, rank}
	}
	slices.SortStableFunc(out, func(a, b Influence) int { return cmp.Compare(math.Abs(b.Share), math.Abs(a.Share)) })
	return out
}

// Correlation is Pearson's correlation of the samples of two uncertain
// quantities; not-a-number if one of them does not vary.
func Correlation(q, r Quantity) float64 {
	if setOf(q, r); q.cloud == nil || r.cloud == nil {
		return math.NaN()
	}
	return correlation(q.cloud.samples(), r.cloud.samples())
}

// RankCorrelation is Spearman's rank correlation of the samples of two uncertain
// quantities; not-a-number if one of them does not vary.
func RankCorrelation(q, r Quantity) float64 {
	if setOf(q, r); q.cloud == nil || r.cloud == nil {
		return math.NaN()
	}
	return rankCorrelation(q.cloud.samples(), r.cloud.samples())
}

func rankCorrelation(x, y []float64) float64 { return correlation(ranksOf(x), ranksOf(y)) }

// correlation is Pearson's, of two series.
func correlation(x, y []float64) float64 {
	a, b := mean(x), mean(y)
	var xx, yy, xy float64
	for i, v := range x {
		xx += (v - a) * (v - a)
		yy += (y[i] - b) * (y[i] - b)
		xy += (v - a) * (y[i] - b)
	}
	return xy / math.Sqrt(xx*yy)
}

// ranksOf gives equal values the mean of their ranks.
func ranksOf(x []float64) []float64 {
	order := make([]int, len(x))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(x[a], x[b]) })
	out := make([]float64, len(x))
	for i := 0; i < len(order); {
		j := i
		for j < len(order) && x[order[j]] == x[order[i]] {
			j++
		}
		j = max(j, i+1) // not-a-number equals nothing
		for _, k := range order[i:j] {
			out[k] = float64(i+j-1) / 2
		}
		i = j
	}
	return out
}
