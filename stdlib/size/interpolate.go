package size

import (
	"fmt"
	"math"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
)

// Interpolation is how the cumulative curve runs from one sieve to the next. It
// changes sizes such as d80 by a few per cent, so a report should say which was
// used; a Distribution says so in its table.
type Interpolation int

// The ways from one sieve to the next.
const (
	// SemiLog is straight in passing against the logarithm of size: the line
	// one draws on paper with a logarithmic size axis. It is used unless By
	// says otherwise.
	SemiLog Interpolation = iota
	// Linear is straight in passing against size.
	Linear
	// LogLog is straight in the logarithms of both, as on the plot of Gates,
	// Gaudin and Schuhmann. It needs some passing at each of the two sieves.
	LogLog
	// Smooth is a monotone cubic in passing against the logarithm of size.
	Smooth
)

// String is the interpolation in words.
func (way Interpolation) String() string {
	switch way {
	case SemiLog:
		return "semi-logarithmic"
	case Linear:
		return "linear"
	case LogLog:
		return "log-log"
	case Smooth:
		return "monotone cubic, semi-logarithmic"
	}
	return fmt.Sprintf("interpolation %d", int(way))
}

// By is the distribution read with another interpolation between sieves.
func (d Distribution) By(way Interpolation) Distribution {
	d.between = way
	return d
}

// Interpolation is how the distribution is read between sieves.
func (d Distribution) Interpolation() Interpolation { return d.between }

// D is the size that a given percentage of the mass passes: D(80) is d80, D(50)
// the median size. Where several sizes pass the same share, it is the smallest.
//
// Units: percent is a plain number from 0 to 100; the size is a length in the
// unit of the sieve below it.
//
// Range: between the shares passing the finest and the coarsest sieve. It does
// not extrapolate into the pan or above the stack.
//
// Errors: a percentage outside that range; a LogLog reading next to a sieve
// that nothing passes.
//
// Source: ISO 9276-1 for the notation; interpolation is common practice.
func (d Distribution) D(percent float64) (quantity.Quantity, error) {
	if !(percent >= 0 && percent <= 100) {
		return quantity.Quantity{}, fmt.Errorf("size: d%g: the percentage passing lies between 0 and 100", percent)
	}
	return d.through(func(d Distribution) (quantity.Quantity, error) { return d.sizePassing(percent) })
}

// sizePassing is D for certain masses.
func (d Distribution) sizePassing(percent float64) (quantity.Quantity, error) {
	passing := d.passing()
	coarsest, finest := passing[0], passing[len(passing)-1]
	wanted := percent / 100
	switch {
	case wanted > coarsest && !numeric.AlmostEqual(wanted, coarsest, 1e-12):
		return quantity.Quantity{}, fmt.Errorf("size: d%g lies above the coarsest sieve: only %.4g %% passes %v; a coarser sieve is needed",
			percent, 100*coarsest, d.openings[0])
	case wanted < finest && !numeric.AlmostEqual(wanted, finest, 1e-12):
		return quantity.Quantity{}, fmt.Errorf("size: d%g lies below the finest sieve: %.4g %% passes %v; a finer sieve is needed",
			percent, 100*finest, d.openings[len(d.openings)-1])
	case len(passing) == 1:
		return d.openings[0], nil
	}
	lower := d.classReaching(wanted, passing)
	way, curve, err := d.curve(passing, lower)
	if err != nil {
		return quantity.Quantity{}, fmt.Errorf("size: d%g: %w", percent, err)
	}
	x := curve.Where(min(max(way.share(wanted), curve.At(way.low)), curve.At(way.high)))
	return metresIn(d.openings[lower], way.unsize(x)), nil
}

// PassingAt is the mass share in % that passes a given opening.
//
// Units: opening is a length.
//
// Range: from the finest to the coarsest sieve. It does not extrapolate.
//
// Errors: an opening that is no length or outside that range; a LogLog reading
// next to a sieve that nothing passes.
//
// Source: interpolation is common practice.
func (d Distribution) PassingAt(opening quantity.Quantity) (quantity.Quantity, error) {
	metres, err := opening.Value("m")
	if err != nil {
		return quantity.Quantity{}, fmt.Errorf("size: an opening is a length, and %v is not", opening)
	}
	last := len(d.openings) - 1
	if !(metres >= d.metres[last] && metres <= d.metres[0]) {
		return quantity.Quantity{}, fmt.Errorf("size: %v lies outside the sieves used, %v to %v", opening, d.openings[last], d.openings[0])
	}
	return d.through(func(d Distribution) (quantity.Quantity, error) { return d.passingAt(opening, metres) })
}

// passingAt is PassingAt for certain masses.
func (d Distribution) passingAt(opening quantity.Quantity, metres float64) (quantity.Quantity, error) {
	passing := d.passing()
	for i := range d.metres {
		if d.metres[i] == metres {
			return percent(passing[i]), nil
		}
	}
	lower := 1
	for metres < d.metres[lower] {
		lower++
	}
	way, curve, err := d.curve(passing, lower)
	if err != nil {
		return quantity.Quantity{}, fmt.Errorf("size: passing %v: %w", opening, err)
	}
	return percent(way.unshare(curve.At(way.size(metres)))), nil
}

// classReaching is the index of the lower sieve of the interval in which the
// wanted share is first reached, coming from the fine end.
func (d Distribution) classReaching(wanted float64, passing []float64) int {
	lower := len(passing) - 1
	for lower > 1 && passing[lower-1] < wanted && !numeric.AlmostEqual(passing[lower-1], wanted, 1e-12) {
		lower--
	}
	return lower
}

// axes are the coordinates in which an interpolation is straight, and the part
// of the size axis that is asked for.
type axes struct {
	size, unsize, share, unshare func(float64) float64
	low, high                    float64
}

// curve is the cumulative curve near the interval whose finer sieve is lower.
// Straight interpolations need its two ends only; the cubic needs all sieves.
func (d Distribution) curve(passing []float64, lower int) (axes, numeric.Curve, error) {
	same := func(x float64) float64 { return x }
	way := axes{size: math.Log, unsize: math.Exp, share: same, unshare: same}
	if d.between == Linear {
		way.size, way.unsize = same, same
	}
	if d.between == LogLog {
		way.share, way.unshare = math.Log, math.Exp
		if passing[lower] == 0 {
			return way, numeric.Curve{}, fmt.Errorf("nothing passes %v, so the log-log line has no end there; use another interpolation", d.openings[lower])
		}
	}
	first, last := lower-1, lower
	if d.between == Smooth {
		first, last = 0, len(passing)-1
	}
	var xs, ys []float64
	for i := last; i >= first; i-- {
		xs = append(xs, way.size(d.metres[i]))
		ys = append(ys, way.share(passing[i]))
	}
	way.low, way.high = way.size(d.metres[lower]), way.size(d.metres[lower-1])
	if d.between == Smooth {
		return way, numeric.Smooth(xs, ys), nil
	}
	return way, numeric.Straight(xs, ys), nil
}
