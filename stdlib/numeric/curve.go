package numeric

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/interp"
)

// Curve is a line through measured points, x strictly rising and y never
// falling, as a cumulative size distribution is.
type Curve struct {
	xs, ys  []float64
	between interp.Predictor
}

// Straight joins the points (xs[i], ys[i]) by straight lines.
//
// It panics if there are fewer than two points, if the lengths differ, if xs
// does not rise strictly or if ys falls.
func Straight(xs, ys []float64) Curve {
	checkPoints(xs, ys)
	line := new(interp.PiecewiseLinear)
	return fitted(xs, ys, line)
}

// Smooth joins the points by a cubic with a continuous slope that never
// overshoots: the curve is monotone wherever the points are (Fritsch and
// Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300).
//
// It panics as Straight does.
func Smooth(xs, ys []float64) Curve {
	checkPoints(xs, ys)
	if len(xs) == 2 {
		return Straight(xs, ys)
	}
	cubic := new(interp.FritschButland)
	return fitted(xs, ys, cubic)
}

func fitted(xs, ys []float64, line interp.FittablePredictor) Curve {
	if err := line.Fit(xs, ys); err != nil {
		panic("numeric: " + err.Error())
	}
	return Curve{xs: append([]float64(nil), xs...), ys: append([]float64(nil), ys...), between: line}
}

func checkPoints(xs, ys []float64) {
	if len(xs) != len(ys) {
		panic("numeric: xs and ys differ in length")
	}
	if len(xs) < 2 {
		panic("numeric: a curve needs two points or more")
	}
	for i := 1; i < len(xs); i++ {
		if !(xs[i] > xs[i-1]) {
			panic("numeric: xs does not rise strictly")
		}
		if !(ys[i] >= ys[i-1]) {
			panic("numeric: ys falls")
		}
	}
}

// At is the height of the curve at x, NaN outside the measured points: a curve
// does not extrapolate.
func (c Curve) At(x float64) float64 {
	if !(x >= c.xs[0] && x <= c.xs[len(c.xs)-1]) {
		return math.NaN()
	}
	return c.between.Predict(x)
}

// Where is the smallest x at which the curve reaches y, NaN if it never does.
// On a level stretch that is its left end.
func (c Curve) Where(y float64) float64 {
	last := len(c.ys) - 1
	if !(y >= c.ys[0] && y <= c.ys[last]) {
		return math.NaN()
	}
	right := sort.SearchFloat64s(c.ys, y)
	if c.ys[right] == y {
		return c.xs[right]
	}
	return c.bisect(y, c.xs[right-1], c.xs[right])
}

// bisect narrows [low, high] until its ends are neighbours, which about sixty
// halvings do; a monotone piece needs nothing cleverer.
func (c Curve) bisect(y, low, high float64) float64 {
	for {
		middle := low + (high-low)/2
		if middle <= low || middle >= high {
			return high
		}
		if c.between.Predict(middle) < y {
			low = middle
		} else {
			high = middle
		}
	}
}
