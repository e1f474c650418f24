package size

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
)

// Counts is numbers of particles by size class, as a microscope or a counter
// gives them. Classes are bounded on both sides.
type Counts struct {
	edges  []quantity.Quantity // falling; one more than the counts
	metres []float64
	counts []float64
}

// NewCounts is a distribution by number.
//
// Units: edges are lengths, coarsest first; class i lies between edge i and
// edge i+1. counts are plain numbers, one fewer than the edges.
//
// Range: two edges or more; the finest may be 0.
//
// Errors: edges that are no lengths, do not fall, or lie below 0; counts below
// 0, all 0, or not one fewer than the edges.
//
// Source: the definition of a number distribution, ISO 9276-1.
func NewCounts(edges []quantity.Quantity, counts []float64) (Counts, error) {
	if len(edges) < 2 || len(counts) != len(edges)-1 {
		return Counts{}, fmt.Errorf("size: %d edges bound %d classes; there are %d counts", len(edges), max(0, len(edges)-1), len(counts))
	}
	c := Counts{edges: slices.Clone(edges), counts: slices.Clone(counts), metres: make([]float64, len(edges))}
	for i, edge := range edges {
		x, err := edge.Value("m")
		if err != nil {
			return Counts{}, fmt.Errorf("size: edge %d: a size is a length, and %v is not", i+1, edge)
		}
		if !(x >= 0) || i > 0 && !(x < c.metres[i-1]) {
			return Counts{}, fmt.Errorf("size: edge %d: edges fall from the coarsest to one not below 0, and %v breaks that", i+1, edge)
		}
		c.metres[i] = x
	}
	for i, n := range counts {
		if !(n >= 0) || math.IsInf(n, 0) {
			return Counts{}, fmt.Errorf("size: class %d: a number of particles cannot be %v", i+1, n)
		}
	}
	if numeric.Sum(counts...) == 0 {
		return Counts{}, errors.New("size: there is no particle in any class")
	}
	return c, nil
}

// moment is Σ n · mean of d^p over the class, the particles of a class being
// spread evenly over its width: ∫ d^p dd / Δd. A power below 0 has no moment in
// a class that reaches down to 0.
func (c Counts) moment(power int) float64 {
	terms := make([]float64, len(c.counts))
	for i, n := range c.counts {
		if n == 0 {
			continue
		}
		terms[i] = n * meanPower(c.metres[i+1], c.metres[i], power)
	}
	return numeric.Sum(terms...)
}

// meanPower is the mean of d^power over low < d < high.
func meanPower(low, high float64, power int) float64 {
	if power == -1 {
		return math.Log(high/low) / (high - low)
	}
	next := float64(power + 1)
	return (math.Pow(high, next) - math.Pow(low, next)) / (next * (high - low))
}

// Mean is the moment mean D[p,q] = (Σn·dᵖ / Σn·d^q)^(1/(p−q)): D[1,0] is the
// mean by number, D[3,2] the surface (Sauter) mean, D[4,3] the mean by volume.
//
// Units: p and q are plain integers; the mean is a length in the unit of the
// coarsest edge.
//
// Range: p and q differ. Within a class particles are spread evenly over its
// width.
//
// Errors: p equal to q; a negative power where a class with particles reaches
// down to 0.
//
// Source: ISO 9276-2; integration over each class as in ASTM E799.
func (c Counts) Mean(p, q int) (quantity.Quantity, error) {
	if p == q {
		return quantity.Quantity{}, fmt.Errorf("size: D[%d,%d]: the two powers must differ", p, q)
	}
	mean := math.Pow(c.moment(p)/c.moment(q), 1/float64(p-q))
	if math.IsNaN(mean) || math.IsInf(mean, 0) || mean == 0 {
		return quantity.Quantity{}, fmt.Errorf("size: D[%d,%d] has no value, because the finest class reaches down to 0", p, q)
	}
	return metresIn(c.edges[0], mean), nil
}

// metresIn is a length in metres, shown in the unit of another.
func metresIn(like quantity.Quantity, metres float64) quantity.Quantity {
	shown, err := quantity.Of(metres, "m").In(like.Unit().String())
	if err != nil {
		panic("size: " + err.Error()) // like is a length, which its reader has made sure of
	}
	return shown
}

// ByVolume is the distribution by volume, which for particles of one density is
// that by mass. Shares stand for masses; there is nothing above the coarsest
// edge and nothing in the pan.
//
// Units: shares in %.
//
// Range: the finest edge is above 0.
//
// Errors: the finest edge is 0.
//
// Source: integration of d³ over each class as in ASTM E799.
func (c Counts) ByVolume() (Distribution, error) {
	total := c.moment(3)
	shares := []quantity.Quantity{percent(0)}
	for i, n := range c.counts {
		shares = append(shares, percent(n*meanPower(c.metres[i+1], c.metres[i], 3)/total))
	}
	return New(c.edges, append(shares, percent(0)))
}
