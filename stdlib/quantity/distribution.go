package quantity

import (
	"errors"
	"fmt"
	"math"
)

// Must is q, or a panic with err: it lets an uncertain input stand in a formula,
// as Must(Normal(feed, spread)).
func Must(q Quantity, err error) Quantity {
	if err != nil {
		panic(err)
	}
	return q
}

// Normal is a normal distribution of the given mean and standard deviation. For
// a temperature in °C the deviation is a difference, in K. The error says which
// of the two cannot be used, or is a *DimensionError.
func Normal(mean, deviation Quantity) (Quantity, error) {
	s, u, err := centreAndWidth("Normal", mean, deviation)
	if err != nil {
		return Quantity{}, err
	}
	return draw(u, func(p float64) float64 { return mean.value + s*normalQuantile(p) }), nil
}

// PlusMinus is the normal distribution that lies within mean ± half with the
// stated level of confidence, such as 0.95. Errors as for Normal, and for a
// level outside 0 to 1.
func PlusMinus(mean, half Quantity, level float64) (Quantity, error) {
	if err := checkLevel("PlusMinus", level); err != nil {
		return Quantity{}, err
	}
	s, u, err := centreAndWidth("PlusMinus", mean, half)
	if err != nil {
		return Quantity{}, err
	}
	s /= coverage(level, math.Inf(1))
	return draw(u, func(p float64) float64 { return mean.value + s*normalQuantile(p) }), nil
}

// Lognormal is the distribution whose logarithm is normal, given by its median
// and by its factor, the geometric standard deviation: 68 % of it lies between
// median ÷ factor and median × factor. The error is for a median that is not
// positive and a factor that is not above 1.
func Lognormal(median Quantity, factor float64) (Quantity, error) {
	if err := plain("Lognormal", median); err != nil {
		return Quantity{}, err
	}
	if !(median.value > 0) || !(factor > 1) || math.IsInf(factor, 1) || median.Unit().IsReading() {
		return Quantity{}, fmt.Errorf("Lognormal of median %s and factor %g: give a median above zero and a factor above 1", median, factor)
	}
	s := math.Log(factor)
	return draw(median.unit, func(p float64) float64 { return median.value * math.Exp(s*normalQuantile(p)) }), nil
}

// Uniform is equally likely anywhere from low to high: what is known only by a
// range. The errors are for limits that do not rise or do not measure the same.
func Uniform(low, high Quantity) (Quantity, error) {
	x, u, err := rising("Uniform", low, high)
	if err != nil {
		return Quantity{}, err
	}
	return draw(u, func(p float64) float64 { return x[0] + p*(x[1]-x[0]) }), nil
}

// ArcSine is the distribution between low and high of what swings between them
// as a sine, such as a temperature that cycles. Errors as for Uniform.
func ArcSine(low, high Quantity) (Quantity, error) {
	x, u, err := rising("ArcSine", low, high)
	if err != nil {
		return Quantity{}, err
	}
	return draw(u, func(p float64) float64 { return (x[0]+x[1])/2 - (x[1]-x[0])/2*math.Cos(math.Pi*p) }), nil
}

// Triangular rises from low to likely and falls to high. The errors are for
// values that do not rise (likely may equal one of the limits) or do not measure
// the same.
func Triangular(low, likely, high Quantity) (Quantity, error) {
	x, u, err := rising("Triangular", low, high)
	if err != nil {
		return Quantity{}, err
	}
	middle, err := inside("Triangular", likely, u, x)
	if err != nil {
		return Quantity{}, err
	}
	width := x[1] - x[0]
	turn := (middle - x[0]) / width
	return draw(u, func(p float64) float64 {
		if p < turn {
			return x[0] + width*math.Sqrt(p*turn)
		}
		return x[1] - width*math.Sqrt((1-p)*(1-turn))
	}), nil
}

// Count is the expected number behind n events counted, such as grains: a gamma
// distribution of mean and variance n + 1 (JCGM 101:2008, 6.4.11). The error is
// for a negative n.
func Count(n int) (Quantity, error) {
	if n < 0 {
		return Quantity{}, fmt.Errorf("Count of %d: a count cannot be negative", n)
	}
	return drawAll(one, func(ps []float64) []float64 { return gammaQuantiles(float64(n)+1, ps) }), nil
}

// Proportion is the share behind k found among n counted, where before the count
// every share was equally likely: a beta distribution of mean (k+1)/(n+2). The
// error is for numbers that are negative and for k above n.
func Proportion(k, n int) (Quantity, error) {
	if k < 0 || n < k {
		return Quantity{}, fmt.Errorf("Proportion of %d among %d: give a count from 0 to the whole", k, n)
	}
	return drawAll(one, func(ps []float64) []float64 { return betaQuantiles(float64(k)+1, float64(n-k)+1, ps) }), nil
}

// checkLevel refuses what is no level of confidence.
func checkLevel(name string, level float64) error {
	if !(level > 0 && level < 1) {
		return fmt.Errorf("%s: a level of %g cannot be used; give it between 0 and 1, such as 0.95", name, level)
	}
	return nil
}

// plain refuses what cannot be a parameter of a distribution.
func plain(name string, q Quantity) error {
	switch {
	case q.cloud != nil:
		return fmt.Errorf("%s: %s is uncertain already; give a certain quantity", name, q)
	case q.unit == nil:
		return fmt.Errorf("%s: %s has no unit yet; give a quantity with a unit, or Number for a plain number", name, q)
	case math.IsNaN(q.value) || math.IsInf(q.value, 0):
		return fmt.Errorf("%s: %s is not a finite number", name, q)
	}
	return nil
}

// centreAndWidth checks a centre and a width, and gives the width in the centre's unit.
func centreAndWidth(name string, centre, width Quantity) (float64, *unit, error) {
	if err := errors.Join(plain(name, centre), plain(name, width)); err != nil {
		return 0, nil, err
	}
	u := centre.unit
	if u.reading {
		u = differenceUnit(u)
	}
	w, err := width.InUnit(Unit{u})
	if err != nil {
		return 0, nil, err
	}
	if !(w.value > 0) {
		return 0, nil, fmt.Errorf("%s: a width of %s cannot be used; it must be above zero", name, width)
	}
	return w.value, centre.unit, nil
}

// rising checks two limits, and gives them in the unit of the first.
func rising(name string, low, high Quantity) ([2]float64, *unit, error) {
	if err := errors.Join(plain(name, low), plain(name, high)); err != nil {
		return [2]float64{}, nil, err
	}
	top, err := high.InUnit(low.Unit())
	if err != nil {
		return [2]float64{}, nil, err
	}
	if !(low.value < top.value) {
		return [2]float64{}, nil, fmt.Errorf("%s from %s to %s: the second must be above the first", name, low, high)
	}
	return [2]float64{low.value, top.value}, low.unit, nil
}

func inside(name string, q Quantity, u *unit, limits [2]float64) (float64, error) {
	if err := plain(name, q); err != nil {
		return 0, err
	}
	r, err := q.InUnit(Unit{u})
	if err != nil {
		return 0, err
	}
	if r.value < limits[0] || r.value > limits[1] {
		return 0, fmt.Errorf("%s: the likely value %s is not between the limits", name, q)
	}
	return r.value, nil
}

// draw makes an input from the function that gives its quantiles.
func draw(u *unit, quantile func(p float64) float64) Quantity {
	return drawAll(u, func(ps []float64) []float64 {
		for i, p := range ps {
			ps[i] = quantile(p)
		}
		return ps
	})
}

// drawAll makes an input from the function that gives quantiles for rising p:
// one from the middle of each stratum, dealt out in the order of a new input.
func drawAll(u *unit, quantiles func(ps []float64) []float64) Quantity {
	set := drawing.Load()
	ps := make([]float64, set.count)
	for i := range ps {
		ps[i] = (float64(i) + 0.5) / float64(set.count)
	}
	sorted := quantiles(ps)
	samples := make([]float64, set.count)
	for i, rank := range set.ranks() {
		samples[i] = sorted[rank]
	}
	return newInput(set, samples, u, deviation(samples), math.Inf(1))
}

// newInput is an input of the given standard uncertainty.
func newInput(set *sampling, samples []float64, u *unit, size, freedom float64) Quantity {
	b := finished(samples)
	in := &input{id: lastInput.Add(1), body: b, freedom: freedom}
	return uncertain(&cloud{set, b, b.draw().mean, []share{{in, size}}}, u)
}
