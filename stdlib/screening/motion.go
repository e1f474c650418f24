package screening

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// Motion is how a deck shakes: to and fro along a line at an angle to the deck, or on a
// circle, which throws as a line across the deck would (90°).
type Motion struct {
	Stroke  quantity.Quantity // the whole way from end to end, twice the amplitude
	Speed   quantity.Quantity // turns of the drive, as in rpm
	Throw   quantity.Quantity // angle of the line to the deck; left out: 90°
	Slope   quantity.Quantity // of the deck, downwards the way of travel; left out: 0
	Gravity quantity.Quantity // left out: the Earth's
}

func (m Motion) inputs() []quantity.Quantity {
	return []quantity.Quantity{m.Stroke, m.Speed, or(m.Throw, quantity.Of(90, "deg")), or(m.Slope, quantity.Of(0, "deg")), or(m.Gravity, earth)}
}

// motion is a Motion in numbers.
type motion struct{ amplitude, turning, throw, slope, gravity float64 }

func readMotion(v []quantity.Quantity) (m motion, err error) {
	stroke, err := positive(v[0], "m", "stroke")
	if err != nil {
		return m, err
	}
	m.amplitude = stroke / 2
	rpm, err := positive(v[1], "rpm", "speed of the drive, as in rpm,")
	if err != nil {
		return m, err
	}
	m.turning = rpm * math.Pi / 30
	if m.throw, err = angle(v[2], "angle of throw", 1, 90); err != nil {
		return m, err
	}
	if m.slope, err = angle(v[3], "slope", 0, 60); err != nil {
		return m, err
	}
	m.gravity, err = positive(v[4], "m/s²", "gravity")
	return m, err
}

// number is the throw number, acceleration across the deck over that of gravity.
func (m motion) number() float64 {
	return m.amplitude * m.turning * m.turning * math.Sin(m.throw) / (m.gravity * math.Cos(m.slope))
}

// flight is the phase through which the drive turns while a particle that has left the
// deck is in the air: the first τ above 0 with
//
//	K·(sin(φ+τ) − sin φ − τ·cos φ) + τ²/2 = 0,  sin φ = 1/K
func flight(k float64) float64 {
	if k <= 1 {
		return 0
	}
	phase := math.Asin(1 / k)
	above := func(t float64) float64 { // of the particle over the deck, in units of g·cos α/ω²
		return -k*(math.Sin(phase+t)-math.Sin(phase)-t*math.Cos(phase)) - t*t/2
	}
	// It rises from 0 as t³ and falls through 0 where the particle lands, near
	// 4·√(K² − 1) for weak throws.
	step := min(0.01, math.Sqrt(k*k-1))
	t := step
	for above(t) > 0 {
		t += step
	}
	low, high := t-step, t
	for range 60 {
		if middle := (low + high) / 2; above(middle) > 0 {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}

// travel is the way along the deck of one throw, and how many turns of the drive go by
// from throw to throw.
func (m motion) travel() (way, turns float64) {
	t := flight(m.number())
	time := t / m.turning
	way = m.gravity / 2 * time * time * (math.Cos(m.slope)/math.Tan(m.throw) + math.Sin(m.slope))
	return way, max(math.Ceil(t/(2*math.Pi)-1e-9), 1)
}

func (m Motion) by(of func(n motion) (quantity.Quantity, error)) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		n, err := readMotion(v)
		if err != nil {
			return quantity.Quantity{}, err
		}
		return of(n)
	}, m.inputs()...)
}

// ThrowNumber is the acceleration of the deck across itself over that of gravity,
//
//	K = A·ω²·sin β/(g·cos α)
//
// with amplitude A, angle of throw β and slope α. Below 1 nothing leaves the deck; at 3.3 a
// throw lasts a turn of the drive.
//
// Units: a plain number.
//
// Range: screens run at 3 to 5 (common practice).
//
// Errors: fields of another kind, not above 0 or, for angles, outside 1 to 90° (throw) and
// 0 to 60° (slope).
//
// Source: mechanics; common practice in the design of vibrating screens.
func (m Motion) ThrowNumber() (quantity.Quantity, error) {
	return m.by(func(n motion) (quantity.Quantity, error) { return quantity.Number(n.number()), nil })
}

// Flight is the time of one throw as a share of a turn of the drive.
//
// Units: a plain number; 1 is a whole turn.
//
// Range: particles that leave with the deck, do not bounce and meet no air.
//
// Errors: as ThrowNumber.
//
// Source: as ThrowNumber; solved by halving.
func (m Motion) Flight() (quantity.Quantity, error) {
	return m.by(func(n motion) (quantity.Quantity, error) {
		return quantity.Number(flight(n.number()) / (2 * math.Pi)), nil
	})
}

// Travel is the mean speed along the deck of particles that are thrown,
//
//	L = g/2·t²·(cos α·cot β + sin α)  per throw of the time t
//
// Units: in m/s.
//
// Range: throw numbers above 1: what slides without being thrown is not in it. Above 3.3 a
// throw is taken to end on the next whole turn. Deep beds travel slower, by a fifth to a
// half. At like throw numbers it goes as the root of gravity.
//
// Errors: as ThrowNumber; a throw number of 1 or less.
//
// Source: as ThrowNumber.
func (m Motion) Travel() (quantity.Quantity, error) {
	return m.by(func(n motion) (quantity.Quantity, error) {
		if k := n.number(); k <= 1 {
			return quantity.Quantity{}, tooWeak(k)
		}
		way, turns := n.travel()
		return quantity.Of(way*n.turning/(2*math.Pi*turns), "m/s"), nil
	})
}

func tooWeak(k float64) error {
	return fmt.Errorf("screening: with a throw number of %.3g nothing leaves the deck; it must be above 1: raise the speed or the stroke", k)
}

// SpeedFor is the speed of the drive for a wanted throw number,
//
//	ω = √(K·g·cos α/(A·sin β))
//
// so that a screen on a small world shakes slower, as the root of gravity.
//
// Units: number is a plain number; in rpm. The Speed of the Motion does not count.
//
// Range: numbers above 0.
//
// Errors: as ThrowNumber.
//
// Source: as ThrowNumber.
func (m Motion) SpeedFor(number quantity.Quantity) (quantity.Quantity, error) {
	inputs := m.inputs()
	inputs[1] = quantity.Of(1, "rpm")
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		n, err := readMotion(v)
		if err != nil {
			return quantity.Quantity{}, err
		}
		k, err := positive(v[5], "1", "throw number")
		return quantity.Of(math.Sqrt(k/n.number()), "rpm"), err
	}, append(inputs, number)...)
}
