package magnetic

import (
	"fmt"
	"math"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// Depth is the depth of the burden that a rate makes on the shell,
//
//	h = m/(ρ·w·ω·R)
//
// with the bulk density ρ and the width w.
//
// Units: rate as in t/h, bulk a density; a length.
//
// Range: feed that moves with the shell and is spread evenly.
//
// Errors: a drum that lacks Radius, Width or Speed; a rate or density not above 0.
//
// Source: mass balance of the layer.
func (d Drum) Depth(rate, bulk quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("magnetic: a drum")
		depth := r.Positive("the rate", v[0], "kg/s") / perDepth(r, v)
		return quantity.Of(depth, "m").To("mm"), r.Err
	}, rate, d.Radius, d.Width, d.Speed, bulk)
}

// Rate is the rate that makes a burden of a depth, the inverse of Depth.
//
// Units: depth is a length, bulk a density; in t/h.
//
// Range: as Depth.
//
// Errors: as Depth.
//
// Source: as Depth.
func (d Drum) Rate(depth, bulk quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("magnetic: a drum")
		rate := r.Positive("the depth", v[0], "m") * perDepth(r, v)
		return quantity.Of(rate, "kg/s").To("t/h"), r.Err
	}, depth, d.Radius, d.Width, d.Speed, bulk)
}

// perDepth is the rate per depth of burden, kg/(s·m).
func perDepth(r *fields.Reader, v []quantity.Quantity) float64 {
	return r.Positive("Radius", v[1], "m") * r.Positive("Width", v[2], "m") * r.Turns("Speed", v[3]) * r.Positive("the bulk density", v[4], "kg/m3")
}

// packing is the share of volume that loose grains fill; 0.6 is a value from memory
// for grains of mixed size.
const packing = 0.6

// burden is the depth of a feed on the shell in m, within what Burden allows.
func (d Drum) burden(feed stream.Stream) (float64, error) {
	bulk := d.Bulk
	if bulk.IsNothing() {
		solids, err := feed.SolidsDensity()
		if err != nil {
			return 0, fmt.Errorf("magnetic: a drum: Bulk is not stated, and %w", err)
		}
		bulk = solids.Mul(quantity.Number(packing))
	}
	depth, err := d.Depth(feed.Solids(), bulk)
	if err != nil {
		return 0, err
	}
	if !d.Burden.IsNothing() {
		r := fields.Of("magnetic: a drum")
		if limit := r.Positive("Burden", d.Burden, "m"); r.Err == nil && depth.SI() > limit {
			r.Fail("the feed lies %v deep, deeper than Burden, %v, allows; feed less, turn faster or take a wider drum", depth, d.Burden)
		}
		if r.Err != nil {
			return 0, r.Err
		}
	}
	return depth.SI(), nil
}

// dampest is the most water, by mass of solids, that a dry drum takes; common
// practice, no published limit.
const dampest = 0.10

// Products are the names of the drum's products in the order of Apply.
func (d Drum) Products() []string { return []string{"magnetics", "non-magnetics"} }

// Apply parts a dry feed into magnetics and non-magnetics, each class by Share with
// the burden that the feed makes. Later stages are taken to have the burden of
// the first.
//
// Units: a stream for each product; moisture goes with the solids.
//
// Range: as Share, up to a tenth of water by mass of solids; uncertain fields
// count with their means.
//
// Errors: as Share; a wet feed; a burden deeper than Burden; minerals without
// magnetic figures, which Materials can state.
//
// Source: as Share; mass is conserved.
func (d Drum) Apply(feed stream.Stream) ([]stream.Stream, error) {
	c := feed.Classes()
	if c == nil {
		return nil, fmt.Errorf("magnetic: a drum: the feed is no stream yet")
	}
	if water := feed.WaterFlow(); water > dampest*feed.Solids().To("kg/s").Shown() {
		return nil, fmt.Errorf("magnetic: a drum: %s is too wet for a dry drum, %v of water with %v of solids; damp grains cling above some per cents. Dry it, or take a WetDrum", feed.Name(), feed.Water(), feed.Solids())
	}
	t, err := d.split()
	if err != nil {
		return nil, err
	}
	all, err := bodies(c, d.Materials, d.Aspect)
	if err != nil {
		return nil, err
	}
	depth := 0.0
	if feed.Solids().SI() > 0 {
		if depth, err = d.burden(feed); err != nil {
			return nil, err
		}
	}
	levels := make([][]level, c.Sizes())
	return parted(feed, d.Products(), func(i, j int) float64 {
		if j == 0 || t.gas.viscosity > 0 { // else the levels are those of all densities
			levels[i] = t.levels(c.Metres(i), all[j].density(), depth)
		}
		return repeated(t.share(all[j], levels[i]), d.Stages, d.Cleaning)
	}, -1)
}

// parted splits a stream by the share of each class that goes to the first product.
// Water goes by its own share, or with the solids where that is below 0.
func parted(feed stream.Stream, names []string, share func(i, j int) float64, water float64) ([]stream.Stream, error) {
	c := feed.Classes()
	shares := make([]float64, c.Sizes()*c.Particles())
	first, total := 0.0, 0.0
	for i := range c.Sizes() {
		for j := range c.Particles() {
			p := share(i, j)
			shares[i*c.Particles()+j] = p
			first, total = first+p*feed.Flow(i, j), total+feed.Flow(i, j)
		}
	}
	if water < 0 {
		water = first / max(total, math.SmallestNonzeroFloat64)
	}
	one := []float64{0}
	return feed.Split(names, func(i, j int) []float64 {
		one[0] = shares[i*c.Particles()+j]
		return one
	}, []float64{water})
}

// Power is what the drum draws: Idle, and what brings the feed to the speed of
// the shell,
//
//	P = m·(ω·R)²
//
// of which half is lost in slip.
//
// Units: in kW.
//
// Range: losses of bearings, seals and gears are Idle's, and eddy currents of the
// shell too.
//
// Errors: a drum that lacks Radius or Speed.
//
// Source: momentum; common practice.
func (d Drum) Power(feed stream.Stream) (quantity.Quantity, error) {
	idle := d.Idle
	if idle.IsNothing() {
		idle = quantity.Of(0, "W")
	}
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("magnetic: a drum")
		v0 := r.Positive("Radius", v[0], "m") * r.Turns("Speed", v[1])
		power := r.AtLeast("Idle", v[2], "W", 0) + v[3].SI()*v0*v0
		return quantity.Of(power, "W").To("kW"), r.Err
	}, d.Radius, d.Speed, idle, feed.Solids())
}
