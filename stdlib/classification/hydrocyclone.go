package classification

import (
	"fmt"
	"math"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// standardGravity is that of the Earth, m/s² (ISO 80000-3).
const standardGravity = 9.80665

// Hydrocyclone is a cluster of like hydrocyclones by Plitt's model.
type Hydrocyclone struct {
	Diameter     quantity.Quantity
	Inlet        quantity.Quantity // diameter, or that of a circle of its area
	VortexFinder quantity.Quantity // inner diameter
	Apex         quantity.Quantity // diameter
	Height       quantity.Quantity // free height, from the end of the vortex finder to the apex
	Number       int               // of cyclones side by side; 0 for one
	Liquid       quantity.Quantity // density; nothing for water, 1000 kg/m³

	// Factors that a survey of the plant gives; nothing for 1.
	CutFactor, SharpnessFactor, PressureFactor, SplitFactor quantity.Quantity

	PumpEfficiency quantity.Quantity // for Power; nothing for 1, the power in the pulp
}

func (h *Hydrocyclone) fields() []*quantity.Quantity {
	return []*quantity.Quantity{&h.Diameter, &h.Inlet, &h.VortexFinder, &h.Apex, &h.Height, &h.Liquid,
		&h.CutFactor, &h.SharpnessFactor, &h.PressureFactor, &h.SplitFactor, &h.PumpEfficiency}
}

// cyclone is a hydrocyclone in the units of Plitt's equations: cm.
type cyclone struct {
	dc, di, do, du, h               float64
	number                          float64
	liquid                          float64 // kg/m³
	cut, sharpness, pressure, split float64
	efficiency                      float64
}

func (h Hydrocyclone) read() (cyclone, error) {
	r := fields.Of("classification: a hydrocyclone")
	c := cyclone{dc: 100 * r.Positive("Diameter", h.Diameter, "m"), di: 100 * r.Positive("Inlet", h.Inlet, "m"),
		do: 100 * r.Positive("VortexFinder", h.VortexFinder, "m"), du: 100 * r.Positive("Apex", h.Apex, "m"),
		h: 100 * r.Positive("Height", h.Height, "m"), number: float64(max(h.Number, 1)),
		liquid: r.AtLeast("Liquid", h.Liquid, "kg/m3", 1000),
		cut:    r.Within("CutFactor", h.CutFactor, "1", 0.1, 10, 1), sharpness: r.Within("SharpnessFactor", h.SharpnessFactor, "1", 0.1, 10, 1),
		pressure: r.Within("PressureFactor", h.PressureFactor, "1", 0.1, 10, 1), split: r.Within("SplitFactor", h.SplitFactor, "1", 0.1, 10, 1),
		efficiency: r.Within("PumpEfficiency", h.PumpEfficiency, "1", 0.01, 1, 1)}
	if r.Err == nil && !(c.dc >= smallest && c.dc <= largest) {
		r.Fail("the model was fitted to cyclones of %d to %d cm, and %v is outside", smallest, largest, h.Diameter)
	}
	if h.Number < 0 {
		r.Fail("Number is 1 or more, and %d is not", h.Number)
	}
	if !(c.du < c.dc && c.do < c.dc && c.di < c.dc) {
		r.Fail("Inlet, VortexFinder and Apex are smaller than Diameter, and %v, %v, %v beside %v are not", h.Inlet, h.VortexFinder, h.Apex, h.Diameter)
	}
	return c, r.Err
}

// Diameters of the cyclones for which the model serves, cm; the tests went from 3.2
// to 60 (from memory).
const smallest, largest = 3, 66

// flow is what runs through one cyclone: litres a minute, per cent of solids by
// volume, density of the pulp.
type flow struct{ litres, solids, pulp float64 }

// drop is the pressure drop in kPa.
func (c cyclone) drop(f flow) float64 {
	return c.pressure * 1.88 * math.Pow(f.litres, 1.78) * math.Exp(0.0055*f.solids) /
		(math.Pow(c.dc, 0.37) * math.Pow(c.di, 0.94) * math.Pow(c.h, 0.28) * math.Pow(c.du*c.du+c.do*c.do, 0.87))
}

// ratio is S, the volume of pulp in the underflow over that in the overflow.
func (c cyclone) ratio(f flow) float64 {
	head := c.drop(f) * 1000 / (f.pulp * standardGravity) // m of pulp
	return c.split * 1.9 * math.Pow(c.du/c.do, 3.31) * math.Pow(c.h, 0.54) * math.Pow(c.du*c.du+c.do*c.do, 0.36) * math.Exp(0.0054*f.solids) /
		(math.Pow(head, 0.24) * math.Pow(c.dc, 1.11))
}

// exponent is m of the reduced efficiency curve.
func (c cyclone) exponent(f flow) float64 {
	s := c.ratio(f)
	return c.sharpness * 1.94 * math.Exp(-1.58*s/(1+s)) * math.Pow(c.dc*c.dc*c.h/f.litres, 0.15)
}

// d50 is the corrected cut size in m of grains of a density.
func (c cyclone) d50(f flow, density float64) float64 {
	return 1e-6 * c.cut * 50.5 * math.Pow(c.dc, 0.46) * math.Pow(c.di, 0.6) * math.Pow(c.do, 1.21) * math.Exp(0.063*f.solids) /
		(math.Pow(c.du, 0.71) * math.Pow(c.h, 0.38) * math.Pow(f.litres, 0.45) * math.Sqrt((density-c.liquid)/1000))
}

// Working is how a hydrocyclone runs with a feed.
type Working struct {
	Cut      quantity.Quantity // corrected cut size of the grains asked for
	Exponent quantity.Quantity // m of 1 − exp(−ln 2·(d/Cut)^m)
	Pressure quantity.Quantity // drop from the feed to the overflow
	Split    quantity.Quantity // volume of pulp in the underflow over that in the overflow
}

// Run is how the hydrocyclone runs with a flow of pulp, by Plitt's equations, in
// cm, L/min, kPa, µm, % by volume and m of pulp:
//
//	d50 = 50.5·Dc^0.46·Di^0.6·Do^1.21·exp(0.063·φ)/(Du^0.71·h^0.38·Q^0.45·(ρs − ρl)^0.5)
//	P = 1.88·Q^1.78·exp(0.0055·φ)/(Dc^0.37·Di^0.94·h^0.28·(Du² + Do²)^0.87)
//	S = 1.9·(Du/Do)^3.31·h^0.54·(Du² + Do²)^0.36·exp(0.0054·φ)/(H^0.24·Dc^1.11)
//	m = 1.94·exp(−1.58·S/(1 + S))·(Dc²·h/Q)^0.15
//
// Units: pulp is a volume per time, for all cyclones together; solids their share of
// its volume; density is that of the grains whose cut is wanted; mean that of all
// solids.
//
// Range: cyclones of 3 to 66 cm in diameter, water; the density difference is in
// g/cm³. It is a fit to 297 tests with up to some 30 % of solids by volume; above 50 %
// it is refused.
//
// Errors: a cyclone that lacks a dimension or has one out of range; flows and
// densities not above 0; grains that are not denser than the liquid; more than 50 %
// of solids.
//
// Source: L.R. Plitt, A mathematical model of the hydrocyclone classifier, CIM Bull.
// 69 (Dec. 1976) 114 (constants from memory).
func (h Hydrocyclone) Run(pulp, solids, density, mean quantity.Quantity) (Working, error) {
	var w Working
	for i, into := range []*quantity.Quantity{&w.Cut, &w.Exponent, &w.Pressure, &w.Split} {
		q, err := fields.Through(h.fields(), func(put func([]*quantity.Quantity), v []quantity.Quantity) (quantity.Quantity, error) {
			one := h
			put(one.fields())
			c, err := one.read()
			if err != nil {
				return quantity.Quantity{}, err
			}
			r := fields.Of("classification: a hydrocyclone")
			volume, share := r.Positive("the flow of pulp", v[0], "m3/s"), r.Within("the volume share of solids", v[1], "1", 0, 0.5, 0)
			grain, all := r.Positive("the density", v[2], "kg/m3"), r.Positive("the mean density", v[3], "kg/m3")
			if r.Err == nil && !(grain > c.liquid) {
				r.Fail("grains of %v do not sink in a liquid of %s", v[2], quantity.Of(c.liquid, "kg/m3"))
			}
			if r.Err != nil {
				return quantity.Quantity{}, r.Err
			}
			f := flow{volume * 60000 / c.number, 100 * share, share*all + (1-share)*c.liquid}
			return [...]quantity.Quantity{quantity.Of(c.d50(f, grain)*1e6, "µm"), quantity.Number(c.exponent(f)),
				quantity.Of(c.drop(f), "kPa"), quantity.Number(c.ratio(f))}[i], nil
		}, pulp, solids, density, mean)
		if err != nil {
			return Working{}, err
		}
		*into = q
	}
	return w, nil
}

// running reads the flow of a stream through one cyclone.
func (c cyclone) running(feed stream.Stream) (flow, error) {
	if feed.IsDry() {
		return flow{}, fmt.Errorf("classification: a hydrocyclone: %s has no water; add some (stream.Stream.WithWater)", feed.Name())
	}
	volume, err := feed.VolumeFlow()
	if err != nil {
		return flow{}, fmt.Errorf("classification: a hydrocyclone: %w", err)
	}
	share, err := feed.PercentSolidsByVolume()
	if err != nil {
		return flow{}, fmt.Errorf("classification: a hydrocyclone: %w", err)
	}
	density, err := feed.PulpDensity()
	if err != nil {
		return flow{}, fmt.Errorf("classification: a hydrocyclone: %w", err)
	}
	if share.SI() > 0.5 {
		return flow{}, fmt.Errorf("classification: a hydrocyclone: %s has %v of solids by volume, and the model holds to about 30 %%; add water", feed.Name(), share)
	}
	return flow{volume.SI() * 60000 / c.number, 100 * share.SI(), density.SI()}, nil
}

// thickest is the volume share of solids above which no pulp leaves an apex; the
// packing of grains, common practice. Ropes form from about 0.5.
const thickest = 0.6

// Products are the names of the products in the order of Apply.
func (h Hydrocyclone) Products() []string { return []string{"underflow", "overflow"} }

// Apply parts a pulp into underflow and overflow. Each class has the cut of its
// density and goes to the underflow by
//
//	R = Rf + (1 − Rf)·(1 − exp(−ln 2·(d/d50)^m))
//
// where the share Rf of the water in the underflow follows from the split of
// volumes S.
//
// Units: a stream for each product.
//
// Range: as Run; uncertain fields count with their means.
//
// Errors: as Run; a dry feed; particles without a density, or that float; an apex too
// small for its solids, or so large that the split of volumes takes all water.
//
// Source: as Run; R: D.F. Kelsall 1953, L.R. Plitt 1971 (from memory).
func (h Hydrocyclone) Apply(feed stream.Stream) ([]stream.Stream, error) {
	grid := feed.Classes()
	if grid == nil {
		return nil, fmt.Errorf("classification: a hydrocyclone: the feed is no stream yet")
	}
	c, err := h.read()
	if err != nil {
		return nil, err
	}
	n := grid.Particles()
	reduced := make([]float64, grid.Sizes()*n)
	if !(feed.Solids().SI() > 0) && feed.IsDry() {
		return feed.Split(h.Products(), func(i, j int) []float64 { return []float64{0} }, nil)
	}
	f, err := c.running(feed)
	if err != nil {
		return nil, err
	}
	m := c.exponent(f)
	solids, classified := 0.0, 0.0 // m³/s
	for j := range n {
		density, err := grid.Particle(j).Density()
		if err != nil {
			return nil, fmt.Errorf("classification: a hydrocyclone: %w", err)
		}
		rho := density.SI()
		if !(rho > c.liquid) {
			return nil, fmt.Errorf("classification: a hydrocyclone: %s, %v, does not sink in the liquid", grid.Particle(j).Name, density)
		}
		cut := c.d50(f, rho)
		for i := range grid.Sizes() {
			y := -math.Expm1(-math.Ln2 * math.Pow(grid.Metres(i)/cut, m))
			reduced[i*n+j] = y
			solids += feed.Flow(i, j) / rho
			classified += y * feed.Flow(i, j) / rho
		}
	}
	water, err := c.waterShare(f, solids, classified)
	if err != nil {
		return nil, err
	}
	one := []float64{0}
	return feed.Split(h.Products(), func(i, j int) []float64 {
		one[0] = water + (1-water)*reduced[i*n+j]
		return one
	}, []float64{water})
}

// waterShare is Rf: with the share v of all volume in the underflow, v·Q is its
// water, Rf·(Q − V), its unclassified solids and its classified ones.
func (c cyclone) waterShare(f flow, solids, classified float64) (float64, error) {
	s := c.ratio(f)
	total := f.litres * c.number / 60000
	under := s / (1 + s) * total
	rf := (under - classified) / (total - classified)
	if !(rf > 0) {
		return 0, fmt.Errorf("classification: a hydrocyclone: the apex would rope: %.3g %% of the volume goes to the underflow, and the coarse solids alone are %.3g %% of it; open Apex or feed less solids", 100*under/total, 100*classified/total)
	}
	coarse := classified + rf*(solids-classified)
	if coarse/under > thickest {
		return 0, fmt.Errorf("classification: a hydrocyclone: the apex would rope: its underflow would have %.3g %% of solids by volume; open Apex or feed less solids", 100*coarse/under)
	}
	return rf, nil
}

// Power is what the pressure drop takes,
//
//	N = P·Q/η
//
// Units: in kW.
//
// Range: as Run; lifting the pulp is not in it.
//
// Errors: as Apply.
//
// Source: work of a flow against a pressure.
func (h Hydrocyclone) Power(feed stream.Stream) (quantity.Quantity, error) {
	c, err := h.read()
	if err != nil {
		return quantity.Quantity{}, err
	}
	if feed.Classes() == nil || feed.WaterFlow() == 0 && feed.Solids().SI() == 0 {
		return quantity.Of(0, "kW"), nil
	}
	f, err := c.running(feed)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return quantity.Of(c.drop(f)*f.litres*c.number/60000/c.efficiency, "kW"), nil
}
