package flowsheet

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// Find answers a question of design: which input between low and high makes the
// answer what is wanted? Answer builds and solves the plant for an input, and
// returns the figure that matters, such as a purity or a rate.
//
//	feed, err := flowsheet.Find(func(rate quantity.Quantity) (quantity.Quantity, error) {
//		result, err := plant(rate)
//		…
//		return product.Solids(), nil
//	}, wanted, low, high)
//
// The stretch is looked at in eight steps, on a scale of ratios where high is more
// than ten times low; the first step across which the answer passes what is
// wanted is searched (bisection and secant, ITP).
//
// Units: low and high measure the same, and so do wanted and the answers.
//
// Range: answers that change steadily; the input is found to one part in 10⁷ of
// the stretch. Of several inputs that answer alike, that nearest to low.
//
// Errors: what answer refuses; a stretch that does not rise; a wanted figure that
// the answers do not pass, with the least and the greatest that were met.
//
// Source: I.F.D. Oliveira, R.H.C. Takahashi, ACM Trans. Math. Softw. 47 (2020) 5.
func Find(answer func(input quantity.Quantity) (quantity.Quantity, error), wanted, low, high quantity.Quantity) (quantity.Quantity, error) {
	unit := low.Unit()
	to, err := high.InUnit(unit)
	if err != nil || !(low.Shown() < to.Shown()) || math.IsInf(to.Shown(), 0) {
		return quantity.Quantity{}, fmt.Errorf("flowsheet: a search goes from a lower to a higher input, and %v to %v is no such stretch", low, high)
	}
	s := search{answer: answer, wanted: wanted, unit: unit, low: low.Shown(), high: to.Shown()}
	if s.low > 0 && s.high > 10*s.low {
		s.ratio = true
	}
	from, fromOff := 0.0, 0.0
	least, greatest := quantity.Quantity{}, quantity.Quantity{}
	for k := range 9 {
		at := float64(k) / 8
		off, got, err := s.off(at)
		if err != nil {
			return quantity.Quantity{}, err
		}
		if k == 0 || got.Less(least) {
			least = got
		}
		if k == 0 || greatest.Less(got) {
			greatest = got
		}
		if off == 0 {
			return s.input(at), nil
		}
		if k > 0 && (off > 0) != (fromOff > 0) {
			return s.between(from, at, fromOff, off)
		}
		from, fromOff = at, off
	}
	return quantity.Quantity{}, fmt.Errorf("flowsheet: no input from %v to %v gives %v: the answers met lie between %v and %v", low, high, wanted, least, greatest)
}

// search is a stretch of inputs, numbered from 0 to 1.
type search struct {
	answer    func(input quantity.Quantity) (quantity.Quantity, error)
	wanted    quantity.Quantity
	unit      quantity.Unit
	low, high float64
	ratio     bool
}

func (s search) input(at float64) quantity.Quantity {
	if s.ratio {
		return s.unit.Quantity(s.low * math.Pow(s.high/s.low, at))
	}
	return s.unit.Quantity(s.low + at*(s.high-s.low))
}

// off is the answer less what is wanted, in SI units.
func (s search) off(at float64) (float64, quantity.Quantity, error) {
	input := s.input(at)
	got, err := s.answer(input)
	if err != nil {
		return 0, got, fmt.Errorf("flowsheet: at %v: %w", input, err)
	}
	if !got.Unit().Compatible(s.wanted.Unit()) {
		return 0, got, fmt.Errorf("flowsheet: the answer at %v is %v, which cannot be compared with the wanted %v", input, got, s.wanted)
	}
	off := got.SI() - s.wanted.SI()
	if math.IsNaN(off) {
		return 0, got, fmt.Errorf("flowsheet: the answer at %v is not a number", input)
	}
	return off, got, nil
}

// between narrows a step across which the answer passes what is wanted.
func (s search) between(a, b, fa, fb float64) (quantity.Quantity, error) {
	const close, slack = 1e-7, 0.2
	most := int(math.Ceil(math.Log2((b-a)/close))) + 1
	for k := 0; b-a > close && k < 100; k++ {
		middle := (a + b) / 2
		secant := (fb*a - fa*b) / (fb - fa)
		side := math.Copysign(1, middle-secant)
		toward := secant
		if shift := slack * (b - a) * (b - a) / (1.0 / 8); shift <= math.Abs(middle-secant) {
			toward = secant + side*shift
		} else {
			toward = middle
		}
		room := close/2*math.Pow(2, float64(most-k)) - (b-a)/2
		at := toward
		if math.Abs(toward-middle) > room {
			at = middle - side*max(room, 0)
		}
		off, _, err := s.off(at)
		switch {
		case err != nil:
			return quantity.Quantity{}, err
		case off == 0:
			return s.input(at), nil
		case (off > 0) == (fa > 0):
			a, fa = at, off
		default:
			b, fb = at, off
		}
	}
	return s.input((a + b) / 2), nil
}
