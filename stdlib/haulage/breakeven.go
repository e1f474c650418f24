package haulage

import (
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/plot"
	"cobber/stdlib/quantity"
)

// BreakEven is the distance from which the plant that travels takes less energy
// than the one that stands: at least the first, up to a longest one, at which the two
// take the same.
//
// Units: longest a length; the result in km.
//
// Range: energies change evenly with distance, so that there is one such distance
// or none.
//
// Errors: one plant that takes less at every distance from 0 to the longest, with
// what both take there; fields as of At.
//
// Source: as At; bisection.
func (j Journey) BreakEven(longest quantity.Quantity) (quantity.Quantity, error) {
	return j.even(longest, func(standing, travelling way) float64 { return standing.energy() - travelling.energy() }, absolute)
}

// even is the distance at which a difference between the two plants is nothing.
func (j Journey) even(longest quantity.Quantity, difference func(standing, travelling way) float64, shown func(float64) quantity.Quantity) (quantity.Quantity, error) {
	return j.through(func(j Journey, v []quantity.Quantity) (quantity.Quantity, error) {
		metres, err := number(v[0], "m", "longest distance", least, infinite)
		if err != nil {
			return quantity.Quantity{}, err
		}
		at, err := crossing(0, metres, func(x float64) (float64, error) {
			standing, travelling, err := j.ways(x)
			return difference(standing, travelling), err
		}, shown)
		if err != nil {
			return quantity.Quantity{}, fmt.Errorf("haulage: from 0 to %v: %w", v[0], err)
		}
		return quantity.Of(at/1000, "km"), nil
	}, longest)
}

// BreakEvenTime is the distance from which the plant that travels takes less time
// for all the ore: where the vehicles of the other no longer keep up.
//
// Units: longest a length; the result in km.
//
// Range: the number of vehicles stays as it is.
//
// Errors: one plant that takes less at every distance from 0 to the longest;
// fields as of At.
//
// Source: as At; bisection.
func (j Journey) BreakEvenTime(longest quantity.Quantity) (quantity.Quantity, error) {
	return j.even(longest, func(standing, travelling way) float64 { return standing.time - travelling.time },
		func(seconds float64) quantity.Quantity { return quantity.Of(math.Abs(seconds)/86400, "d") })
}

// BreakEvenShare is the share that must be rejected at the face so that the plant
// that travels takes no more energy than the one that stands, with the product
// wanted at a distance. The by-product stays a share of the ore.
//
// Units: distance a length; the result in %.
//
// Range: from the by-product's share to 100 %.
//
// Errors: one plant that takes less whatever is rejected; fields as of At.
//
// Source: as At; bisection.
func (j Journey) BreakEvenShare(distance quantity.Quantity) (quantity.Quantity, error) {
	return j.through(func(j Journey, v []quantity.Quantity) (quantity.Quantity, error) {
		metres, err := number(v[0], "m", "distance", 0, infinite)
		if err != nil {
			return quantity.Quantity{}, err
		}
		low := 0.0
		if !j.ByProduct.IsNothing() {
			low = j.ByProduct.SI()
		}
		at, err := crossing(low, 1, func(x float64) (float64, error) {
			j.Rejected = quantity.Number(x)
			standing, travelling, err := j.ways(metres)
			return standing.energy() - travelling.energy(), err
		}, absolute)
		if err != nil {
			return quantity.Quantity{}, fmt.Errorf("haulage: whatever is rejected: %w", err)
		}
		return quantity.Of(100*at, "%"), nil
	}, distance)
}

// crossing is where what travelling saves turns from below 0 to above, or back.
func crossing(low, high float64, saved func(x float64) (float64, error), shown func(saved float64) quantity.Quantity) (float64, error) {
	first, err := saved(low)
	if err != nil {
		return 0, err
	}
	last, err := saved(high)
	if err != nil {
		return 0, err
	}
	switch {
	case first == 0:
		return low, nil
	case last == 0:
		return high, nil
	case (first > 0) == (last > 0):
		which := "travels"
		if first < 0 {
			which = "stands"
		}
		return 0, fmt.Errorf("the plant that %s takes less throughout, by %v at the one end and %v at the other", which, shown(first), shown(last))
	}
	for range 100 {
		middle := (low + high) / 2
		if middle == low || middle == high {
			break
		}
		s, err := saved(middle)
		if err != nil {
			return 0, err
		}
		if (s > 0) == (first > 0) {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2, nil
}

func absolute(joules float64) quantity.Quantity { return megawatthours(joules).Abs() }

// Figure draws the energy of both plants for each tonne of ore against the
// distance, and where they cross.
//
// Units: longest a length; the axes in km and kWh/t.
//
// Range: as BreakEven; where the lines do not cross none is marked.
//
// Errors: as At.
//
// Source: as At.
func (j Journey) Figure(longest quantity.Quantity) (*plot.Figure, error) {
	return j.figure(longest, "energy per tonne of ore", "kWh/t", Journey.BreakEven, func(w Way) quantity.Quantity { return w.PerTonne })
}

// TimeFigure draws the time of both plants against the distance, and where they
// cross.
//
// Units: longest a length; the axes in km and d.
//
// Range: as At.
//
// Errors: as At.
//
// Source: as At.
func (j Journey) TimeFigure(longest quantity.Quantity) (*plot.Figure, error) {
	return j.figure(longest, "time for all ore", "d", Journey.BreakEvenTime, func(w Way) quantity.Quantity { return w.Time })
}

func (j Journey) figure(longest quantity.Quantity, name, unit string, breakEven func(j Journey, longest quantity.Quantity) (quantity.Quantity, error), of func(w Way) quantity.Quantity) (*plot.Figure, error) {
	const steps = 40
	var x, standing, travelling []quantity.Quantity
	certain := j.certain()
	for k := range steps + 1 {
		distance := longest.Certain().Mul(quantity.Number(float64(k) / steps))
		ways, err := certain.At(distance)
		if err != nil {
			return nil, err
		}
		x, standing, travelling = append(x, distance), append(standing, of(ways.Standing)), append(travelling, of(ways.Travelling))
	}
	marks := []plot.Mark{plot.Line{Name: "plant that stands", X: x, Y: standing}, plot.Line{Name: "plant that travels", X: x, Y: travelling}}
	if even, err := breakEven(certain, longest.Certain()); err == nil {
		ways, err := certain.At(even)
		if err != nil {
			return nil, err
		}
		marks = append(marks, plot.Points{Name: fmt.Sprintf("break-even, %.3v", even), X: []quantity.Quantity{even}, Y: []quantity.Quantity{of(ways.Standing)}})
	}
	return plot.Draw(plot.Axes{X: plot.Axis{Name: "distance", Unit: "km", Zero: true}, Y: plot.Axis{Name: name, Unit: unit, Zero: true}}, marks...)
}

// certain is the journey at the means of its fields.
func (j Journey) certain() Journey {
	j.Haul.Legs = slices.Clone(j.Haul.Legs)
	for _, field := range j.fields() {
		*field = field.Certain()
	}
	return j
}

// RailsPay is the tonnage from which rails are worth building beside a road that is
// there:
//
//	M = build/(road − rail)
//
// Units: build per length of track, as in MWh/km or USD/km; road and rail per mass
// and distance, as in kWh/(t·km) or USD/(t·km), all in one kind; the result in t. It
// does not depend on the distance. Over a rate it is the time after which they pay;
// over a life, the rate at which they do.
//
// Range: what is spent on locomotives and wagons belongs into rail or build.
//
// Errors: rails that take as much as the road, or more; quantities whose quotient
// is no mass; a build below 0.
//
// Source: fixed and running costs, as in any text on engineering economics.
func RailsPay(build, road, rail quantity.Quantity) (quantity.Quantity, error) {
	if !road.Unit().Compatible(rail.Unit()) {
		return quantity.Quantity{}, fmt.Errorf("haulage: what a road takes, %v, cannot be compared with what rails take, %v", road, rail)
	}
	if !(rail.SI() < road.SI()) {
		return quantity.Quantity{}, fmt.Errorf("haulage: rails take %v, no less than the road with %v: they never pay", rail, road)
	}
	if !(build.SI() >= 0) {
		return quantity.Quantity{}, fmt.Errorf("haulage: what rails take to build is not below 0, and %v is", build)
	}
	mass, err := build.Div(road.Sub(rail)).In("t")
	if err != nil {
		return quantity.Quantity{}, fmt.Errorf("haulage: %v over %v is no mass: give build per length, road and rail per mass and length", build, road)
	}
	return mass, nil
}
