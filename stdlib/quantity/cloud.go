package quantity

import (
	"math"
	"sync/atomic"
)

// cloud is what an uncertain quantity carries. A cloud is never changed once made.
type cloud struct {
	set     *sampling
	body    *body   // the samples, in the unit of the quantity
	nominal float64 // what the formula gives for the means of the inputs
	shares  []share // to first order, by rising id of the input
}

func (c *cloud) samples() []float64 { return c.body.draw().samples }

// share is the part of one input in a result, to first order: the derivative of
// the result by the input, times the standard uncertainty of the input.
type share struct {
	input *input
	size  float64
}

// input is one uncertain input. Two with the same id are the same.
type input struct {
	id      int64
	name    string
	body    *body
	freedom float64 // degrees of freedom of its standard uncertainty
	group   *group  // of inputs correlated with it; nil for none
	row     int     // in the group
}

// group holds the correlations among some inputs.
type group struct{ correlation [][]float64 }

var lastInput atomic.Int64

// IsUncertain reports whether q carries samples.
func (q Quantity) IsUncertain() bool { return q.cloud != nil }

// Certain is the mean of q without its uncertainty; a certain q as it is.
func (q Quantity) Certain() Quantity { return Quantity{value: q.val(), unit: q.unit} }

// Samples is a copy of the samples of q, numbers in the unit in which it is
// shown; nil for a certain quantity. Sample i of one quantity belongs to sample
// i of every other.
func (q Quantity) Samples() []float64 {
	if q.cloud == nil {
		return nil
	}
	return append([]float64(nil), q.cloud.samples()...)
}

// Named gives an uncertain input a name, by which Influences lists it. The input
// may have been shown in another unit since. A result of arithmetic on several
// inputs and a certain quantity stay as they are; what depends on one input alone
// names that input, if it has no name yet.
func (q Quantity) Named(name string) Quantity {
	if q.isInput() || q.inputName() == "" {
		return q.renamed(name)
	}
	return q
}

// NamedOnce is Named, but an input that has a name already keeps it.
func (q Quantity) NamedOnce(name string) Quantity {
	if q.inputName() == "" {
		return q.renamed(name)
	}
	return q
}

// inputName is the name of the input that q depends on, if it depends on one.
func (q Quantity) inputName() string {
	if len(q.shares()) != 1 {
		return ""
	}
	return q.cloud.shares[0].input.name
}

func (q Quantity) renamed(name string) Quantity {
	if len(q.shares()) != 1 {
		return q
	}
	c := *q.cloud
	in := *c.shares[0].input
	in.name = name
	c.shares = []share{{&in, c.shares[0].size}}
	q.cloud = &c
	return q
}

// uncertain makes a quantity of a finished cloud.
func uncertain(c *cloud, u *unit) Quantity { return Quantity{unit: u, cloud: c} }

func mean(x []float64) float64 {
	return sumOf(x) / float64(len(x))
}

// sumOf keeps four sums, so that a sum does not wait for the one before.
func sumOf(x []float64) float64 {
	var a, b, c, d float64
	i := 0
	for ; i+4 <= len(x); i += 4 {
		p := x[i : i+4 : i+4]
		a, b, c, d = a+p[0], b+p[1], c+p[2], d+p[3]
	}
	for ; i < len(x); i++ {
		a += x[i]
	}
	return a + b + (c + d)
}

// deviation is the standard deviation of samples about their mean.
func deviation(x []float64) float64 {
	centre := mean(x)
	var sum float64
	for _, v := range x {
		sum += (v - centre) * (v - centre)
	}
	return math.Sqrt(sum / float64(len(x)-1))
}

// nominal is the number that the formula gives for the means of the inputs.
func (q Quantity) nominal() float64 {
	if q.cloud == nil {
		return q.value
	}
	return q.cloud.nominal
}

func (q Quantity) shares() []share {
	if q.cloud == nil {
		return nil
	}
	return q.cloud.shares
}

// setOf is the set of inputs of two quantities; it panics if there are two.
func setOf(q, r Quantity) *sampling {
	switch {
	case q.cloud == nil && r.cloud == nil:
		return nil
	case q.cloud == nil:
		return r.cloud.set
	case r.cloud != nil && q.cloud.set != r.cloud.set:
		panic(&SampleError{q, r})
	}
	return q.cloud.set
}

// mergeShares is a×left + b×right.
func mergeShares(a float64, left []share, b float64, right []share) []share {
	out := make([]share, 0, len(left)+len(right))
	for len(left) > 0 || len(right) > 0 {
		switch {
		case len(right) == 0 || len(left) > 0 && left[0].input.id < right[0].input.id:
			out = append(out, share{left[0].input, a * left[0].size})
			left = left[1:]
		case len(left) == 0 || right[0].input.id < left[0].input.id:
			out = append(out, share{right[0].input, b * right[0].size})
			right = right[1:]
		default:
			in := left[0].input
			if in.name == "" {
				in = right[0].input
			}
			out = append(out, share{in, a*left[0].size + b*right[0].size})
			left, right = left[1:], right[1:]
		}
	}
	return out
}
