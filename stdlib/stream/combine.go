package stream

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/quantity"
)

// closureTolerance is by how much of the whole a mass may be off after a
// transformation, for rounding.
const closureTolerance = 1e-9

// Mix is what streams make together: flows of like classes and water add up.
//
// Units: rates are shown in the unit of the first.
//
// Range: one stream or more, all on the same Classes.
//
// Errors: no stream; streams of other classes, also where these are alike.
//
// Source: mass is conserved.
func Mix(name string, streams ...Stream) (Stream, error) {
	if len(streams) == 0 {
		return Stream{}, fmt.Errorf("stream: %s: there is nothing to mix", name)
	}
	first := streams[0]
	if err := first.check(); err != nil {
		return Stream{}, err
	}
	out := Stream{name: name, classes: first.classes, flows: slices.Clone(first.flows), water: first.water, unit: first.unit}
	for _, s := range streams[1:] {
		if err := s.sameClasses(first); err != nil {
			return Stream{}, err
		}
		for k, flow := range s.flows {
			out.flows[k] += flow
		}
		out.water += s.water
	}
	return out, nil
}

func (s Stream) sameClasses(other Stream) error {
	if err := s.check(); err != nil {
		return err
	}
	if s.classes != other.classes {
		return fmt.Errorf("stream: %s and %s are told on different classes; make all streams of a flowsheet on one *Classes", other.name, s.name)
	}
	return nil
}

// Scaled is the stream times a factor, water included.
//
// Units: factor is a plain number.
//
// Range: 0 or above.
//
// Errors: a factor below 0, or that is no plain number.
//
// Source: common practice.
func (s Stream) Scaled(factor quantity.Quantity) (Stream, error) {
	f, err := factor.Float()
	if err != nil || !(f >= 0) || math.IsInf(f, 0) {
		return Stream{}, fmt.Errorf("stream: %s: a stream is scaled by a plain number, 0 or above, and %v is not", s.name, factor)
	}
	s.flows = slices.Clone(s.flows)
	for k := range s.flows {
		s.flows[k] *= f
	}
	s.water *= f
	return s, nil
}

// Split is the stream parted into products: share says for size class i and
// particle class j which share of it goes to each product, water which share of
// the water does.
//
// Units: plain numbers from 0 to 1. Both give one for each name, which add up to
// 1; or one fewer, and the last product gets the rest.
//
// Range: two products or more. The last product always gets what remains, so
// that mass closes to the last digit. water may be nil where the stream is dry.
//
// Errors: fewer than two names, or one given twice; shares outside 0 to 1, not a number, too
// few, too many, or not adding up, with size and particle; water that nothing is said
// of.
//
// Source: the definition of a partition number; mass is conserved.
func (s Stream) Split(names []string, share func(i, j int) []float64, water []float64) ([]Stream, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if len(names) < 2 {
		return nil, fmt.Errorf("stream: %s: a split needs at least two products; there are %d", s.name, len(names))
	}
	products := make([]Stream, len(names))
	for k, name := range names {
		if slices.Contains(names[:k], name) {
			return nil, fmt.Errorf("stream: %s: two products are called %s", s.name, name)
		}
		products[k] = Stream{name: name, classes: s.classes, flows: make([]float64, len(s.flows)), unit: s.unit}
	}
	n := s.classes.Particles()
	parts := make([]float64, len(names))
	for at, flow := range s.flows {
		if err := divide(flow, share(at/n, at%n), parts); err != nil {
			return nil, fmt.Errorf("stream: %s, size %s, %s: %w", s.name, s.classes.Size(at/n), s.classes.particles[at%n].Name, err)
		}
		for k := range products {
			products[k].flows[at] = parts[k]
		}
	}
	if water == nil && s.water == 0 {
		return products, nil
	}
	if err := divide(s.water, water, parts); err != nil {
		return nil, fmt.Errorf("stream: %s, water: %w", s.name, err)
	}
	for k := range products {
		products[k].water = parts[k]
	}
	return products, nil
}

// divide parts a flow by shares; the last part is what remains.
func divide(flow float64, shares, parts []float64) error {
	last := len(parts) - 1
	if len(shares) != last && len(shares) != last+1 {
		return fmt.Errorf("%d products need %d shares, or one fewer; there are %d", last+1, last+1, len(shares))
	}
	total, rest := 0.0, flow
	for k, share := range shares {
		if !(share >= -1e-12 && share <= 1+1e-12) {
			return fmt.Errorf("a share to a product lies between 0 and 1, and %g does not", share)
		}
		total += share
		if k < last {
			parts[k] = flow * min(max(share, 0), 1)
			rest -= parts[k]
		}
	}
	if total > 1+closureTolerance || (len(shares) == last+1 && total < 1-closureTolerance) {
		return fmt.Errorf("the shares to the products add up to %.9g, not 1", total)
	}
	if rest < 1e-14*flow || (len(shares) == last+1 && shares[last] == 0) { // rounding, which the largest part takes
		largest := 0
		for k := range last {
			if parts[k] > parts[largest] {
				largest = k
			}
		}
		parts[largest] += rest
		rest = 0
	}
	parts[last] = rest
	return nil
}

// Transform is the stream after its particles have changed, as by breakage: move
// gets the flows in kg/s, sizes by particles, and returns the new ones. Water
// stays.
//
// Units: plain numbers in kg/s.
//
// Range: solids and the mass of each mineral stay the same, within one part in
// 10⁹ of the solids.
//
// Errors: what move refuses; flows that are missing, below 0 or not a number;
// solids or a mineral that were lost or made, with how much.
//
// Source: mass is conserved; comminution and liberation change no mineral.
func (s Stream) Transform(name string, move func(flows [][]float64) ([][]float64, error)) (Stream, error) {
	if err := s.check(); err != nil {
		return Stream{}, err
	}
	if move == nil {
		return Stream{}, errors.New("stream: " + name + ": Transform needs a function")
	}
	moved, err := move(s.Flows())
	if err != nil {
		return Stream{}, err
	}
	whole := s.solids()
	for i := range moved {
		for j, flow := range moved[i] {
			if flow < 0 && flow > -closureTolerance*whole { // rounding of a difference
				moved[i] = slices.Clone(moved[i])
				moved[i][j] = 0
			}
		}
	}
	out := Stream{name: name, classes: s.classes, water: s.water, unit: s.unit}
	if out.flows, err = s.classes.flatten(name, moved); err != nil {
		return Stream{}, err
	}
	return out, s.closes(out)
}

// closes compares solids and minerals before and after.
func (s Stream) closes(after Stream) error {
	whole := s.solids()
	if off := after.solids() - whole; math.Abs(off) > closureTolerance*whole {
		return fmt.Errorf("stream: %s: mass does not close: %.6g kg/s of solids became %.6g", after.name, whole, after.solids())
	}
	for k, name := range s.classes.minerals {
		before, now := s.massOf(s.classes.content[k]), after.massOf(s.classes.content[k])
		if math.Abs(now-before) > closureTolerance*whole {
			return fmt.Errorf("stream: %s: mass does not close: %.6g kg/s of %s became %.6g", after.name, before, name, now)
		}
	}
	return nil
}
