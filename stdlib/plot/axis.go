package plot

import (
	"errors"
	"fmt"
	"math"

	"cobber/stdlib/quantity"

	"gonum.org/v1/plot"
)

// Axis is one axis.
type Axis struct {
	Name  string // what it shows, as in "sieve opening"; its unit is added
	Unit  string // empty: the unit of the first value drawn
	Log   bool   // logarithmic; short for Scale: Logarithmic
	Zero  bool   // starts at 0 where all values lie above it; for linear axes
	Scale Scale  // Linear unless said otherwise
	Down  bool   // runs from the top downwards, or from the right to the left

	// Ticks are the values to be labelled, such as the openings of sieves, in
	// place of round numbers. Where two labels would touch, the later is left
	// out, and its tick stays.
	Ticks []quantity.Quantity

	// Names are what stands at 1, 2, 3, … of an axis of things rather than
	// numbers. A list along Y begins at the top.
	Names []string

	// From and To are the ends of the axis; the zero Quantity leaves an end to
	// the data. What lies beyond them is cut off.
	From, To quantity.Quantity

	at       []float64 // Ticks on the axis
	from, to float64   // From and To; not a number where left to the data
}

// Scale is how values are spread along an axis.
type Scale int

// The scales.
const (
	Linear Scale = iota
	Logarithmic

	// Probability spreads shares between 0 and 1 by the quantiles of the normal
	// distribution, so that a normal distribution, and on a logarithmic axis of
	// sizes a lognormal one, is a straight line.
	Probability

	// RosinRammler spreads shares passing P between 0 and 1 by ln(−ln(1 − P)),
	// so that the distribution P = 1 − exp(−(x/x′)ⁿ) is a straight line of slope
	// n against the logarithm of the size.
	RosinRammler
)

// String is the name of the scale.
func (s Scale) String() string {
	switch s {
	case Linear:
		return "linear"
	case Logarithmic:
		return "logarithmic"
	case Probability:
		return "probability"
	case RosinRammler:
		return "Rosin–Rammler"
	}
	return fmt.Sprintf("scale %d", int(s))
}

// ofShares reports whether the scale holds shares between 0 and 1 only.
func (s Scale) ofShares() bool { return s == Probability || s == RosinRammler }

// resolve reads what the axis says of itself and refuses contradictions.
func (a *Axis) resolve() error {
	if a.Log {
		if a.Scale != Linear && a.Scale != Logarithmic {
			return fmt.Errorf("it is to be logarithmic and %v at once", a.Scale)
		}
		a.Scale = Logarithmic
	}
	if a.Scale < Linear || a.Scale > RosinRammler {
		return fmt.Errorf("there is no %v", a.Scale)
	}
	unit, err := quantity.ParseUnit(a.Unit)
	if err != nil {
		return err
	}
	if a.Scale.ofShares() && !unit.Compatible(quantity.Of(1, "%").Unit()) && !unit.Dimension().IsOne() {
		return fmt.Errorf("a %v axis holds shares, and %s is none", a.Scale, a.Unit)
	}
	if len(a.Names) > 0 && (a.Scale != Linear || len(a.Ticks) > 0) {
		return errors.New("an axis of names has neither a scale nor ticks")
	}
	return a.resolveEnds()
}

func (a *Axis) resolveEnds() error {
	a.from, a.to, a.at = nan, nan, nil
	for _, end := range []struct {
		q  quantity.Quantity
		to *float64
	}{{a.From, &a.from}, {a.To, &a.to}} {
		if end.q.IsNothing() {
			continue
		}
		x, err := a.number(end.q)
		if err != nil {
			return err
		}
		*end.to = x
	}
	if a.from >= a.to {
		return fmt.Errorf("it cannot run from %v to %v; set Down to turn it round", a.From, a.To)
	}
	for _, q := range a.Ticks {
		x, err := a.number(q)
		if err != nil {
			return err
		}
		if !math.IsNaN(x) {
			a.at = append(a.at, x)
		}
	}
	return nil
}

// number is the number of a quantity on the axis.
func (a Axis) number(q quantity.Quantity) (float64, error) {
	if q.IsNaN() {
		return nan, nil
	}
	x, err := q.Value(a.Unit)
	switch {
	case err != nil:
		return 0, fmt.Errorf("%v cannot be shown in %s, the unit of axis %q", q, a.Unit, a.Name)
	case math.IsInf(x, 0):
		return 0, fmt.Errorf("%v cannot be drawn", q)
	case a.Scale == Logarithmic && x <= 0:
		return 0, fmt.Errorf("%v has no place on a logarithmic axis; leave it out or set Log to false", q)
	case a.Scale.ofShares() && !(x > 0 && x < a.whole()):
		return 0, fmt.Errorf("%v has no place on a %v axis, which never reaches 0 or 100 %%; leave it out", q, a.Scale)
	}
	return x, nil
}

// within is a number where the scale has a place for it, and not a number
// elsewhere: the interval of an uncertain value may leave the scale.
func (a Axis) within(x float64) float64 {
	if a.Scale == Logarithmic && x <= 0 || a.Scale.ofShares() && !(x > 0 && x < a.whole()) {
		return nan
	}
	return x
}

// whole is the number of 1 in the axis's unit: 100 for %.
func (a Axis) whole() float64 {
	x, err := quantity.Number(1).Value(a.Unit)
	if err != nil {
		return 1 // resolve lets no other unit through
	}
	return x
}

// label is the axis's name with its unit.
func (a Axis) label() string {
	switch {
	case a.Unit == "" || a.Unit == "1":
		return a.Name
	case a.Name == "":
		return a.Unit
	}
	return a.Name + " (" + a.Unit + ")"
}

// prepare gives an axis of gonum/plot its range, ticks and looks.
func prepare(axis *plot.Axis, s scale, ticks []plot.Tick) {
	axis.Min, axis.Max = s.low, s.high
	axis.Padding = 0
	axis.Tick.Label = textStyle(tickSize)
	axis.Tick.Length = 5
	axis.Tick.LineStyle.Color = ink
	axis.LineStyle.Color = ink
	axis.LineStyle.Width = 0.8
	axis.Tick.Marker = plot.ConstantTicks(ticks)
	axis.Scale = s
}
