package comminution

import (
	"errors"
	"fmt"
	"math"

	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// Behaviour is what becomes of particles of one class under impact. Just one of Impact,
// Malleable and Stays says so; Releases goes with Impact.
type Behaviour struct {
	Impact    Impact    // it breaks
	Family    Family    // and its fragments follow this family
	Malleable Malleable // it flattens
	Stays     bool      // it does neither
	Releases  []Release // what it falls apart into where it breaks; none: fragments like itself
}

// Release is one kind of pieces of a particle that falls apart along the borders of its
// grains. Grains of a given size come out whole; pieces without one follow the family.
type Release struct {
	Particle string            // the name of the class of particles that the pieces belong to
	Share    quantity.Quantity // of the mass of the particle
	Grain    quantity.Quantity // size of the grains; left out: fragments
}

// behaviour is a Behaviour in numbers, on the classes of a stream.
type behaviour struct {
	of        Behaviour
	impact    impact
	family    family
	perEnergy float64 // strain per J/kg
	most      float64 // greatest strain
	limit     float64 // passing size of the largest disc, m; 0: none
	releases  []release
}

type release struct {
	particle     int
	share, grain float64
}

func (b Behaviour) breaks() bool    { return !b.Impact.Most.IsNothing() || !b.Impact.Ease.IsNothing() }
func (b Behaviour) flattens() bool  { return !b.Malleable.FlowStress.IsNothing() }
func (b Behaviour) isNothing() bool { return !b.breaks() && !b.flattens() && !b.Stays }

// numbers checks a behaviour and reads it.
func (b Behaviour) numbers(c *stream.Classes) (n behaviour, err error) {
	ways := 0
	for _, is := range []bool{b.breaks(), b.flattens(), b.Stays} {
		if is {
			ways++
		}
	}
	if ways != 1 {
		return n, errors.New("comminution: a particle either breaks (Impact), flattens (Malleable) or stays (Stays: true); say just one")
	}
	n.of = b
	if b.flattens() {
		if n.perEnergy, n.most, err = strainOf(b.Malleable.inputs()); err != nil {
			return n, err
		}
		largest, err := notNegative(or(b.Malleable.Largest, quantity.Of(0, length)), length, "largest grain of a Malleable")
		if err != nil {
			return n, err
		}
		n.limit = largest * growth(n.most)
	}
	if !b.breaks() {
		if len(b.Releases) > 0 {
			err = errors.New("comminution: only a particle that breaks releases pieces")
		}
		return n, err
	}
	if n.impact, err = numbersOf(b.Impact.inputs()); err != nil {
		return n, err
	}
	if n.family, err = b.Family.certain(); err != nil {
		return n, err
	}
	total := 0.0
	for _, r := range b.Releases {
		var piece release
		if piece.particle, err = c.FindParticle(r.Particle); err != nil {
			return n, fmt.Errorf("comminution: a piece: %w", err)
		}
		if piece.share, err = share(r.Share, "share of a piece"); err != nil {
			return n, err
		}
		if piece.grain, err = notNegative(or(r.Grain, quantity.Of(0, length)), length, "grain of a piece"); err != nil {
			return n, err
		}
		total += piece.share
		n.releases = append(n.releases, piece)
	}
	if len(n.releases) > 0 && (total < 1-1e-9 || total > 1+1e-9) {
		return n, fmt.Errorf("comminution: the pieces of a particle add up to %.7g of it, not 1", total)
	}
	return n, nil
}

// uppersOf are the upper sizes of a stream's classes in m.
func uppersOf(c *stream.Classes) []float64 {
	all := make([]float64, c.Sizes())
	for i := range all {
		all[i] = c.Upper(i).SI()
	}
	return all
}

// shatter is one mill's impacts on all classes of a stream.
type shatter struct {
	uppers []float64
	of     []behaviour // by particle
	blows  []blows     // by particle, for those that break and release nothing
	energy float64
	number float64
}

func newShatter(c *stream.Classes, behaviours []behaviour, energy, number float64) *shatter {
	s := &shatter{uppersOf(c), behaviours, make([]blows, len(behaviours)), energy, number}
	for j, b := range behaviours {
		if b.of.breaks() && len(b.releases) == 0 {
			s.blows[j] = newBlows(s.uppers, b.impact, b.family, energy)
		}
	}
	return s
}

// run strikes flows, sizes by particles. Malleable grains wait in cohorts, by the impacts
// that are still before them, and flatten at the end.
func (s *shatter) run(flows [][]float64) ([][]float64, error) {
	columns := make([][]float64, len(s.of))
	for j := range columns {
		columns[j] = make([]float64, len(s.uppers))
		for i := range s.uppers {
			columns[j][i] = flows[i][j]
		}
	}
	type cohort struct {
		particle int
		flows    []float64
		impacts  float64
	}
	var waiting []cohort
	for left := s.number; ; left-- {
		for j, b := range s.of {
			if b.of.flattens() {
				waiting = append(waiting, cohort{j, columns[j], max(left, 0)})
				columns[j] = make([]float64, len(s.uppers))
			}
		}
		if left <= 0 {
			break
		}
		columns = s.strike(columns, min(left, 1))
	}
	for _, w := range waiting {
		b := s.of[w.particle]
		grown, err := coarsen(s.uppers, w.flows, growth(min(w.impacts*s.energy*b.perEnergy, b.most)), b.limit)
		if err != nil {
			return nil, err
		}
		for i := range grown {
			columns[w.particle][i] += grown[i]
		}
	}
	for i := range flows {
		for j := range columns {
			flows[i][j] = columns[j][i]
		}
	}
	return flows, nil
}

// strike is one impact on a share of what breaks.
func (s *shatter) strike(columns [][]float64, share float64) [][]float64 {
	out := make([][]float64, len(columns))
	for j := range out {
		out[j] = make([]float64, len(s.uppers))
	}
	for j, b := range s.of {
		switch {
		case b.of.breaks() && len(b.releases) > 0:
			s.release(columns[j], out, j, share)
		case b.of.breaks():
			for i, flow := range s.blows[j].strike(columns[j], share) {
				out[j][i] += flow
			}
		default:
			for i, flow := range columns[j] {
				out[j][i] += flow
			}
		}
	}
	return out
}

// release lets the broken share of particles fall apart.
func (s *shatter) release(flows []float64, out [][]float64, j int, struck float64) {
	b := s.of[j]
	for i, flow := range flows {
		if flow == 0 {
			continue
		}
		size := middle(s.uppers, i)
		x := b.impact.effective(size, s.energy)
		if x == 0 {
			out[j][i] += flow
			continue
		}
		broken := 1 - math.Exp(-x)
		out[j][i] += flow * (1 - struck*broken)
		rest := fragments(s.uppers, i, size, b.family, b.impact.t10(size, s.energy)/broken)
		for _, r := range b.releases {
			mass := flow * struck * broken * r.share
			if r.grain > 0 {
				k := i
				for k+1 < len(s.uppers) && s.uppers[k+1] >= r.grain {
					k++
				}
				out[r.particle][k] += mass
				continue
			}
			for k := i; k < len(rest); k++ {
				out[r.particle][k] += mass * rest[k]
			}
		}
	}
}
