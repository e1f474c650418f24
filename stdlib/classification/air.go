package classification

import (
	"fmt"
	"math"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// AirClassifier parts grains in a gas that draws them one way while gravity or a
// rotor draws them the other: grains that fall faster than the gas flows are
// coarse. With Radius and Speed the field is a rotor's, ω²·r; without, it is that
// of gravity.
type AirClassifier struct {
	Velocity      quantity.Quantity // of the gas against the field: upward, or inward at the rotor
	Radius, Speed quantity.Quantity // of the rotor; nothing for a classifier by gravity
	Gravity       quantity.Quantity // nothing for the Earth's
	Density       quantity.Quantity // of the gas; nothing for air of 20 °C and 101.325 kPa, 1.204 kg/m³
	Viscosity     quantity.Quantity // of the gas; nothing for air of 20 °C, 18.2 µPa·s

	Sharpness quantity.Quantity // d25/d75, a plain number from 0 to 1: 0.3 to 0.6 is usual, 0.9 very sharp
	Bypass    quantity.Quantity // share of all grains that goes to the coarse product unclassified
	Idle      quantity.Quantity // power drawn, fan included
}

func (a *AirClassifier) fields() []*quantity.Quantity {
	return []*quantity.Quantity{&a.Velocity, &a.Radius, &a.Speed, &a.Gravity, &a.Density, &a.Viscosity, &a.Sharpness, &a.Bypass}
}

// counterflow is a classifier in numbers.
type counterflow struct{ velocity, field, density, viscosity, exponent, bypass float64 }

func (a AirClassifier) read() (counterflow, error) {
	r := fields.Of("classification: an air classifier")
	c := counterflow{velocity: r.Positive("Velocity", a.Velocity, "m/s"),
		bypass: r.Within("Bypass", a.Bypass, "1", 0, 0.999, 0)}
	if !a.Density.IsNothing() && a.Density.SI() == 0 {
		r.Fail("in a vacuum nothing carries grains; sieve them")
	}
	c.density, c.viscosity = 1.204, 1.82e-5
	if !a.Density.IsNothing() || !a.Viscosity.IsNothing() {
		c.density, c.viscosity = r.Positive("Density", a.Density, "kg/m3"), r.Positive("Viscosity", a.Viscosity, "Pa s")
	}
	if a.Radius.IsNothing() != a.Speed.IsNothing() {
		r.Fail("a rotor has both Radius and Speed")
	}
	if a.Radius.IsNothing() {
		g := a.Gravity
		if g.IsNothing() {
			g = quantity.Of(standardGravity, "m/s2")
		}
		c.field = r.Positive("Gravity", g, "m/s2")
	} else {
		omega := r.Turns("Speed", a.Speed)
		c.field = omega * omega * r.Positive("Radius", a.Radius, "m")
	}
	c.exponent = math.Inf(1)
	if !a.Sharpness.IsNothing() {
		sharp := r.Number("Sharpness", a.Sharpness, "1")
		if r.Err == nil && !(sharp > 0 && sharp < 1) {
			r.Fail("Sharpness, d25/d75, lies between 0 and 1, and %v does not", a.Sharpness)
		}
		c.exponent = math.Log(math.Log(4.0/3)/math.Log(4)) / math.Log(sharp)
	}
	return c, r.Err
}

// cut is the size in m that the gas just holds in the field: its drag, by Schiller
// and Naumann, is its weight there.
func (c counterflow) cut(density float64) (float64, error) {
	weight := c.field * (density - c.density)
	if !(weight > 0) {
		return 0, fmt.Errorf("classification: an air classifier: grains of %s do not fall in the gas", quantity.Of(density, "kg/m3"))
	}
	low, high := math.Log(1e-9), math.Log(10.0)
	for range 80 {
		middle := (low + high) / 2
		d := math.Exp(middle)
		re := c.density * c.velocity * d / c.viscosity
		if drag := 18 * c.viscosity * c.velocity / (d * d) * (1 + 0.15*math.Pow(re, 0.687)); drag > weight {
			low = middle
		} else {
			high = middle
		}
	}
	d := math.Exp(low)
	if re := c.density * c.velocity * d / c.viscosity; re > 1000 {
		return 0, fmt.Errorf("classification: an air classifier: the law of drag holds up to Re = 1000, and at the cut, %s, Re = %.3g; it is too fast for it", quantity.Of(d, "m").To("mm"), re)
	}
	return d, nil
}

// share is the share of a class that goes to the coarse product.
func (c counterflow) share(size, cut float64) float64 {
	if math.IsInf(c.exponent, 1) {
		if size >= cut {
			return 1
		}
		return c.bypass
	}
	return c.bypass + (1-c.bypass)*-math.Expm1(-math.Ln2*math.Pow(size/cut, c.exponent))
}

// Cut is the size of the sphere of a density that the gas just holds against the
// field a, g or ω²·r:
//
//	18·µ·u/d²·(1 + 0.15·Re^0.687) = a·(ρp − ρ)
//
// In Stokes' range it is √(18·µ·u/(a·(ρp − ρ))). Lower gravity makes it coarser, a
// thinner gas hardly changes it until Re matters.
//
// Units: a density; in µm.
//
// Range: Re up to 1000; spheres; a gas dense enough that its molecules are much
// closer than the grains are large, so above some tens of µm in Mars' air.
//
// Errors: a classifier that lacks a field or has one out of range; a vacuum; grains
// lighter than the gas.
//
// Source: balance of drag and field; L. Schiller, A. Naumann, Z. VDI 77 (1933) 318
// (from memory).
func (a AirClassifier) Cut(density quantity.Quantity) (quantity.Quantity, error) {
	return fields.Through(a.fields(), func(put func([]*quantity.Quantity), v []quantity.Quantity) (quantity.Quantity, error) {
		one := a
		put(one.fields())
		c, err := one.read()
		if err != nil {
			return quantity.Quantity{}, err
		}
		r := fields.Of("classification: an air classifier")
		rho := r.Positive("the density", v[0], "kg/m3")
		if r.Err != nil {
			return quantity.Quantity{}, r.Err
		}
		d, err := c.cut(rho)
		return quantity.Of(d, "m").To("µm"), err
	}, density)
}

// Products are the names of the products in the order of Apply.
func (a AirClassifier) Products() []string { return []string{"coarse", "fines"} }

// Apply parts a dry feed into coarse grains and fines, each class by
//
//	share = b + (1 − b)·(1 − exp(−ln 2·(d/d50)^m)),  m from Sharpness
//
// with the cut of its density; sharply where Sharpness is not stated.
//
// Units: a stream for each product; moisture goes with the solids.
//
// Range: as Cut; less than 2 % of moisture; uncertain fields count with their means.
//
// Errors: as Cut; a damp feed; particles without a density.
//
// Source: as Cut; the curve: L.R. Plitt 1971; common practice for classifiers of
// both kinds.
func (a AirClassifier) Apply(feed stream.Stream) ([]stream.Stream, error) {
	c, err := a.read()
	if err != nil {
		return nil, err
	}
	return dryParts(feed, "an air classifier", a.Products(), c.cut, c.share)
}

// dampest is the most water, by mass of solids, with which grains still fly singly;
// common practice, no published limit.
const dampest = 0.02

// dryParts splits a dry stream by a cut for each density and a share by size and
// cut, water with the solids.
func dryParts(feed stream.Stream, of string, names []string, cut func(density float64) (float64, error), share func(size, cut float64) float64) ([]stream.Stream, error) {
	grid := feed.Classes()
	if grid == nil {
		return nil, fmt.Errorf("classification: %s: the feed is no stream yet", of)
	}
	if feed.WaterFlow() > dampest*feed.Solids().SI() {
		return nil, fmt.Errorf("classification: %s: %s has %v of water with %v of solids; damp grains cling together. Dry it below 2 %%", of, feed.Name(), feed.Water(), feed.Solids())
	}
	n := grid.Particles()
	shares := make([]float64, grid.Sizes()*n)
	coarse, total := 0.0, 0.0
	for j := range n {
		density, err := grid.Particle(j).Density()
		if err != nil {
			return nil, fmt.Errorf("classification: %s: %w", of, err)
		}
		at, err := cut(density.SI())
		if err != nil {
			return nil, err
		}
		for i := range grid.Sizes() {
			p := share(grid.Metres(i), at)
			shares[i*n+j] = p
			coarse, total = coarse+p*feed.Flow(i, j), total+feed.Flow(i, j)
		}
	}
	if total == 0 {
		total = 1
	}
	one := []float64{0}
	return feed.Split(names, func(i, j int) []float64 {
		one[0] = shares[i*n+j]
		return one
	}, []float64{coarse / total})
}

// Power is what the classifier draws, which Idle states.
//
// Units: in kW.
//
// Range: as measured.
//
// Errors: Idle is missing or below 0.
//
// Source: the figure stated.
func (a AirClassifier) Power(stream.Stream) (quantity.Quantity, error) {
	r := fields.Of("classification: an air classifier")
	if r.Number("Idle", a.Idle, "W") < 0 {
		r.Fail("Idle is 0 or above, and %v is not", a.Idle)
	}
	if r.Err != nil {
		return quantity.Quantity{}, r.Err
	}
	return a.Idle.To("kW"), nil
}
