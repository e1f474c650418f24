package comminution

import (
	"errors"
	"fmt"

	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// BallMill is a tumbling mill in steady running, a unit operation of one product. Where
// the rate of its Selection is per time, HoldUp gives the time that solids stay; where it
// is per energy, power over feed gives the energy. It works with the means of its fields.
type BallMill struct {
	Selection Selection
	Breakage  Breakage
	Tumbler   Tumbler                      // dimensions and charge, for its power; may be left out where rates are per time
	HoldUp    quantity.Quantity            // mass of solids inside, for rates per time
	Tanks     int                          // equal mixed tanks that its mixing is like; left out: 1
	Ease      map[string]quantity.Quantity // what the rate is multiplied by for a class of particles, such as 0 for metal that does not break; left out: 1
}

// Products is the name of the one product.
func (m BallMill) Products() []string { return []string{"ground"} }

// Apply is the product of a feed. Water stays with the solids.
//
// Units: as the feed.
//
// Range: as Grinding.Mixed. Classes of particles are ground side by side, and no class
// becomes another: package liberation says what composition the finer particles have.
//
// Errors: fields of another kind or outside their range; a name in Ease that is no class;
// an empty feed.
//
// Source: as Grinding.Mixed; rates per energy J.A. Herbst, D.W. Fuerstenau, Int. J.
// Miner. Process. 7 (1980) 1.
func (m BallMill) Apply(feed stream.Stream) ([]stream.Stream, error) {
	c := feed.Classes()
	if c == nil {
		return nil, errors.New("comminution: ball mill: the feed is an empty stream")
	}
	s, err := m.Selection.numbers()
	if err != nil {
		return nil, err
	}
	b, err := m.Breakage.numbers()
	if err != nil {
		return nil, err
	}
	if c.Sizes() < 2 {
		return nil, errors.New("comminution: ball mill: the feed has one size class; grinding needs two or more")
	}
	dose, err := m.dose(feed, s.perEnergy)
	if err != nil {
		return nil, err
	}
	ease, err := m.ease(c)
	if err != nil {
		return nil, err
	}
	if m.Tanks < 0 {
		return nil, fmt.Errorf("comminution: ball mill: its mixing is like that of one tank or more, not of %d", m.Tanks)
	}
	tanks := max(m.Tanks, 1)
	g := kinetics(uppersOf(c), s, b)
	product, err := feed.Transform("ground", func(flows [][]float64) ([][]float64, error) {
		column := make([]float64, len(flows))
		for j := range ease {
			for i := range flows {
				column[i] = flows[i][j]
			}
			for i, x := range g.mixed(column, dose*ease[j], tanks) {
				flows[i][j] = x
			}
		}
		return flows, nil
	})
	if err != nil {
		return nil, fmt.Errorf("comminution: ball mill: %w", err)
	}
	return []stream.Stream{product}, nil
}

// dose is the mean time in s or the energy per mass in J/kg.
func (m BallMill) dose(feed stream.Stream, perEnergy bool) (float64, error) {
	rate := feed.Solids().SI()
	if rate == 0 {
		return 0, nil
	}
	if perEnergy {
		power, err := m.Tumbler.Power()
		if err != nil {
			return 0, fmt.Errorf("comminution: the rate of breakage is per energy, so the ball mill needs its Tumbler: %w", err)
		}
		return power.SI() / rate, nil
	}
	mass, err := positive(m.HoldUp, "kg", "hold-up (HoldUp), which rates per time need,")
	return mass / rate, err
}

func (m BallMill) ease(c *stream.Classes) ([]float64, error) {
	all := make([]float64, c.Particles())
	for j := range all {
		all[j] = 1
	}
	for name, q := range m.Ease {
		j, err := c.FindParticle(name)
		if err != nil {
			return nil, fmt.Errorf("comminution: ball mill: %w", err)
		}
		if all[j], err = notNegative(q, "1", "ease of "+name); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// Power is that of the Tumbler, whatever the feed: a mill turns its balls.
//
// Units: in kW.
//
// Range: as Tumbler.Power.
//
// Errors: as Tumbler.Power.
//
// Source: as Tumbler.Power.
func (m BallMill) Power(stream.Stream) (quantity.Quantity, error) { return m.Tumbler.Power() }
