package flowsheet

import (
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// Unit is one step of a plant: it turns what it is fed into its products. Apply
// gives one stream for each name of Products, in that order, on the classes of
// the feed; masses close.
type Unit interface {
	Products() []string
	Apply(feed stream.Stream) ([]stream.Stream, error)
}

// Powered is a Unit that knows what power it draws.
type Powered interface {
	Unit
	Power(feed stream.Stream) (quantity.Quantity, error)
}

// Step is a unit in its place: its name and the streams it takes.
type Step struct {
	Name string
	Unit Unit
	From []string
}

// Do is a Step: a unit, called name, that takes the streams from.
func Do(name string, unit Unit, from ...string) Step { return Step{name, unit, from} }

// Splitter parts a stream into streams that are alike, as a pipe that forks.
type Splitter struct {
	Names  []string
	Shares []quantity.Quantity // one for each name, adding up to 1; or one fewer, the last gets the rest
}

// Products are its names.
func (s Splitter) Products() []string { return s.Names }

// Apply parts the feed.
//
// Units: shares are plain numbers or per cent.
//
// Range: 0 to 1.
//
// Errors: what stream.Split refuses: shares that do not add up, names given twice.
//
// Source: mass is conserved.
func (s Splitter) Apply(feed stream.Stream) ([]stream.Stream, error) {
	shares := make([]float64, len(s.Shares))
	for k, share := range s.Shares {
		x, err := share.Float()
		if err != nil {
			return nil, fmt.Errorf("flowsheet: Shares of a splitter are plain numbers, and %v is not", share)
		}
		shares[k] = x
	}
	return feed.Split(s.Names, func(int, int) []float64 { return shares }, shares)
}

// Separation is a separator known by its partition numbers alone: Share is the
// share of a size and a particle class that goes to the first product.
type Separation struct {
	First, Second string // names of the products
	Share         func(size quantity.Quantity, particle stream.Particle) float64
	Water         quantity.Quantity // share of the water that goes to the first product; nothing for none
	Energy        quantity.Quantity // drawn per mass of feed, as in kWh/t; nothing where it is not counted
}

// Products are First and Second.
func (s Separation) Products() []string { return []string{s.First, s.Second} }

// Apply parts the feed.
//
// Units: Share is asked for the middle of each size class and gives a plain
// number; Water is a plain number.
//
// Range: shares from 0 to 1; partition numbers that do not depend on the feed.
//
// Errors: no Share; shares outside 0 to 1.
//
// Source: the definition of a partition number.
func (s Separation) Apply(feed stream.Stream) ([]stream.Stream, error) {
	if s.Share == nil {
		return nil, fmt.Errorf("flowsheet: a Separation needs its Share")
	}
	water, err := s.Water.Float()
	if err != nil {
		return nil, fmt.Errorf("flowsheet: Water of a separation is a share, and %v is not", s.Water)
	}
	c := feed.Classes()
	sizes := make([]quantity.Quantity, c.Sizes())
	for i := range sizes {
		sizes[i] = c.Middle(i)
	}
	particles := make([]stream.Particle, c.Particles())
	for j := range particles {
		particles[j] = c.Particle(j)
	}
	share := make([]float64, 1)
	return feed.Split(s.Products(), func(i, j int) []float64 {
		share[0] = s.Share(sizes[i], particles[j])
		return share
	}, []float64{water})
}

// Power is Energy times the rate of solids.
//
// Units: in kW.
//
// Range: as Energy holds.
//
// Errors: an Energy that is none per mass, or below 0.
//
// Source: the definition of a specific energy.
func (s Separation) Power(feed stream.Stream) (quantity.Quantity, error) {
	return specificPower("Energy of a separation", s.Energy, feed)
}

// specificPower is a specific energy times a rate of solids.
func specificPower(what string, energy quantity.Quantity, feed stream.Stream) (quantity.Quantity, error) {
	if energy.IsNothing() {
		return quantity.Of(0, "kW"), nil
	}
	if x, err := energy.Value("kWh/t"); err != nil || !(x >= 0) || math.IsInf(x, 0) {
		return quantity.Quantity{}, fmt.Errorf("flowsheet: %s is one per mass, not below 0, and %v is not", what, energy)
	}
	return energy.Mul(feed.Solids()).To("kW"), nil
}

// Driven is a unit with a power of its own, for one that states none or where
// another is known: so much energy per mass of its feed, and so much without any.
type Driven struct {
	Unit
	Energy quantity.Quantity // per mass of feed, as in kWh/t; nothing for none
	Idle   quantity.Quantity // a power; nothing for none
}

// Power is that of the two together.
//
// Units: in kW.
//
// Range: as its figures hold.
//
// Errors: an Energy that is none per mass, an Idle that is no power, either below 0.
//
// Source: common practice.
func (d Driven) Power(feed stream.Stream) (quantity.Quantity, error) {
	power, err := specificPower("Energy of a driven unit", d.Energy, feed)
	if err != nil || d.Idle.IsNothing() {
		return power, err
	}
	if x, err := d.Idle.Value("kW"); err != nil || !(x >= 0) {
		return quantity.Quantity{}, fmt.Errorf("flowsheet: Idle of a driven unit is a power not below 0, and %v is not", d.Idle)
	}
	return power.Add(d.Idle), nil
}

// only is the product of a unit that has one.
func only(u Unit) (string, bool) {
	names := u.Products()
	if len(names) != 1 {
		return "", false
	}
	return names[0], true
}

// checkProducts refuses units whose products cannot be told apart.
func checkProducts(step Step) error {
	names := step.Unit.Products()
	if len(names) == 0 {
		return fmt.Errorf("flowsheet: %s has no products", step.Name)
	}
	for k, name := range names {
		if name == "" || slices.Contains(names[:k], name) {
			return fmt.Errorf("flowsheet: %s: product %d is called %q; names are not empty and differ", step.Name, k+1, name)
		}
	}
	return nil
}
