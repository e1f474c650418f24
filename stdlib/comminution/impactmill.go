package comminution

import (
	"fmt"

	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// ImpactMill is a mill with a rotor, a unit operation of one product. Each class of
// particles breaks, flattens or stays by its Behaviour. It works with the means of its
// fields.
//
// A rotor throws pieces and stores energy; see the cautions of the package.
type ImpactMill struct {
	Rotor      Rotor
	Blow       Blow
	Impacts    quantity.Quantity    // number of impacts that each particle meets; left out: 1
	Behaviours map[string]Behaviour // by the name of the class of particles
	Default    Behaviour            // of classes that are not named
	Idle       quantity.Quantity    // power without feed; left out: 0
	Efficiency quantity.Quantity    // of the drive; left out: 100 %
}

// Products is the name of the one product.
func (m ImpactMill) Products() []string { return []string{"broken"} }

// Apply is the product of a feed. Water stays with the solids.
//
// Units: as the feed.
//
// Range: as Rotor.ProductSize and Malleable.Strain. Grains released in an impact take
// part in those after it, so an Impact should know its size At. A malleable grain enters
// round: where discs pass again and again, their growth ends only at that of the
// Largest grain.
//
// Errors: fields of another kind or outside their range; a class of particles that
// neither Behaviours nor Default speaks of, or a name that is no class; pieces that do
// not hold what their particle held; grains that flatten beyond the coarsest opening.
//
// Source: Impact, Family and Malleable, impact by impact.
func (m ImpactMill) Apply(feed stream.Stream) ([]stream.Stream, error) {
	speed, number, err := m.read()
	if err != nil {
		return nil, err
	}
	c := feed.Classes()
	if c == nil {
		return nil, fmt.Errorf("comminution: impact mill: the feed is an empty stream")
	}
	behaviours, err := m.behaviours(c)
	if err != nil {
		return nil, err
	}
	s := newShatter(c, behaviours, m.Blow.energy(speed), number)
	product, err := feed.Transform("broken", s.run)
	if err != nil {
		return nil, fmt.Errorf("comminution: impact mill: %w", err)
	}
	return []stream.Stream{product}, nil
}

// read is the tip speed in m/s and the number of impacts.
func (m ImpactMill) read() (speed, number float64, err error) {
	if m.Blow != Struck && m.Blow != Thrown {
		return 0, 0, fmt.Errorf("comminution: there is no %v", m.Blow)
	}
	tip, err := m.Rotor.TipSpeed()
	if err != nil {
		return 0, 0, err
	}
	number, err = positive(or(m.Impacts, quantity.Number(1)), "1", "number of impacts")
	if err == nil && number > 1000 {
		err = fmt.Errorf("comminution: %v impacts are more than the 1000 that are followed", m.Impacts)
	}
	return tip.SI(), number, err
}

func (m ImpactMill) behaviours(c *stream.Classes) ([]behaviour, error) {
	for name := range m.Behaviours {
		if _, err := c.FindParticle(name); err != nil {
			return nil, fmt.Errorf("comminution: impact mill: %w", err)
		}
	}
	all := make([]behaviour, c.Particles())
	for j := range all {
		name := c.Particle(j).Name
		b, ok := m.Behaviours[name]
		if !ok {
			b = m.Default
		}
		if b.isNothing() {
			return nil, fmt.Errorf("comminution: impact mill: nothing says what becomes of %s; name it in Behaviours, or set Default", name)
		}
		n, err := b.numbers(c)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		all[j] = n
	}
	return all, nil
}

// Power is the power drawn with a feed,
//
//	P = (P0 + F·k·v²)/η
//
// since the rotor gives each particle v² of work per impact: half of it is speed of the
// particle, the other half the impact itself (Struck), or both are speed (Thrown).
//
// Units: in kW.
//
// Range: solids only; air and water that the rotor moves are part of Idle.
//
// Errors: as Apply; a power below 0, an efficiency outside 0 to 100 %.
//
// Source: moment of momentum (Euler); common practice for Idle and Efficiency.
func (m ImpactMill) Power(feed stream.Stream) (quantity.Quantity, error) {
	speed, number, err := m.read()
	if err != nil {
		return quantity.Quantity{}, err
	}
	return drawn(m.Idle, m.Efficiency, feed.Solids().SI()*number*speed*speed)
}

// drawn is (idle + work)/efficiency, with work in W.
func drawn(idle, efficiency quantity.Quantity, work float64) (quantity.Quantity, error) {
	empty, err := notNegative(or(idle, quantity.Of(0, "W")), "W", "power without feed (Idle)")
	if err != nil {
		return quantity.Quantity{}, err
	}
	eta, err := share(or(efficiency, quantity.Number(1)), "efficiency")
	if err != nil || eta == 0 {
		return quantity.Quantity{}, fmt.Errorf("comminution: an efficiency is above 0 up to 100 %%, and %v is not", efficiency)
	}
	return quantity.Of((empty+work)/eta, "W").To("kW"), nil
}
