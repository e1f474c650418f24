package classification

import (
	"math"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// GasCyclone is a cyclone, or some side by side, that takes dust out of a gas, of a
// design whose Stokes and Euler numbers are known: 1.4·10⁻⁴ and 320 for Stairmand's
// high-efficiency design, 6·10⁻³ and 46 for his high-rate design.
type GasCyclone struct {
	Diameter  quantity.Quantity
	Stokes    quantity.Quantity // Stk50, a plain number
	Euler     quantity.Quantity // a plain number
	Gas       quantity.Quantity // flow of gas, volume per time, for all cyclones together
	Density   quantity.Quantity // of the gas
	Viscosity quantity.Quantity // of the gas
	Number    int               // of cyclones side by side; 0 for one

	FanEfficiency quantity.Quantity // for Power; nothing for 1
}

func (g *GasCyclone) fields() []*quantity.Quantity {
	return []*quantity.Quantity{&g.Diameter, &g.Stokes, &g.Euler, &g.Gas, &g.Density, &g.Viscosity, &g.FanEfficiency}
}

// whirl is a gas cyclone in numbers; velocity is the flow over the section of the
// body.
type whirl struct{ diameter, stokes, euler, gas, velocity, density, viscosity, efficiency float64 }

func (g GasCyclone) read() (whirl, error) {
	r := fields.Of("classification: a gas cyclone")
	w := whirl{diameter: r.Positive("Diameter", g.Diameter, "m"), stokes: r.Positive("Stokes", g.Stokes, "1"), euler: r.Positive("Euler", g.Euler, "1"),
		gas: r.Positive("Gas", g.Gas, "m3/s"), density: r.Positive("Density", g.Density, "kg/m3"), viscosity: r.Positive("Viscosity", g.Viscosity, "Pa s"),
		efficiency: r.Within("FanEfficiency", g.FanEfficiency, "1", 0.01, 1, 1)}
	if g.Number < 0 {
		r.Fail("Number is 1 or more, and %d is not", g.Number)
	}
	w.velocity = 4 * w.gas / float64(max(g.Number, 1)) / (math.Pi * w.diameter * w.diameter)
	return w, r.Err
}

func (w whirl) cut(density float64) (float64, error) {
	return math.Sqrt(w.stokes * 18 * w.viscosity * w.diameter / (density * w.velocity)), nil
}

// collected is the grade efficiency of designs of usual sharpness.
func collected(size, cut float64) float64 {
	x := size / cut * size / cut
	return x / (1 + x)
}

// Cut is the size of grains of a density of which half are collected,
//
//	x50 = √(Stk50·18·µ·D/(ρp·v)),  v = 4·Q/(π·D²)
//
// Units: a density; in µm.
//
// Range: up to some 5 g of dust in a m³ of gas; more is collected better.
//
// Errors: a cyclone that lacks a field or has one out of range.
//
// Source: M. Rhodes, Introduction to Particle Technology, 2nd ed., ch. 9.
func (g GasCyclone) Cut(density quantity.Quantity) (quantity.Quantity, error) {
	return fields.Through(g.fields(), func(put func([]*quantity.Quantity), v []quantity.Quantity) (quantity.Quantity, error) {
		one := g
		put(one.fields())
		w, err := one.read()
		if err != nil {
			return quantity.Quantity{}, err
		}
		r := fields.Of("classification: a gas cyclone")
		rho := r.Positive("the density", v[0], "kg/m3")
		x, _ := w.cut(rho)
		return quantity.Of(x*1e6, "µm"), r.Err
	}, density)
}

// Drop is the pressure drop,
//
//	P = Eu·ρ·v²/2
//
// Units: in Pa.
//
// Range: as Cut.
//
// Errors: a cyclone that lacks a field or has one out of range.
//
// Source: as Cut.
func (g GasCyclone) Drop() (quantity.Quantity, error) {
	return fields.Through(g.fields(), func(put func([]*quantity.Quantity), _ []quantity.Quantity) (quantity.Quantity, error) {
		one := g
		put(one.fields())
		w, err := one.read()
		return quantity.Of(w.euler*w.density*w.velocity*w.velocity/2, "Pa"), err
	})
}

// Products are the names of the products in the order of Apply.
func (g GasCyclone) Products() []string { return []string{"collected", "carried over"} }

// Apply parts the dust of a gas into what is collected and what is carried over,
// each class by
//
//	share = (x/x50)²/(1 + (x/x50)²)
//
// with the cut of its density.
//
// Units: a stream for each product; moisture goes with the solids.
//
// Range: as Cut; uncertain fields count with their means.
//
// Errors: as Cut; a damp feed; particles without a density.
//
// Source: as Cut.
func (g GasCyclone) Apply(feed stream.Stream) ([]stream.Stream, error) {
	w, err := g.read()
	if err != nil {
		return nil, err
	}
	return dryParts(feed, "a gas cyclone", g.Products(), w.cut, collected)
}

// Power is what the pressure drop takes of the fan, P·Q/η.
//
// Units: in kW.
//
// Range: ducts and filters are not in it.
//
// Errors: as Drop.
//
// Source: work of a flow against a pressure.
func (g GasCyclone) Power(stream.Stream) (quantity.Quantity, error) {
	drop, err := g.Drop()
	if err != nil {
		return quantity.Quantity{}, err
	}
	power := drop.Mul(g.Gas)
	if !g.FanEfficiency.IsNothing() {
		power = power.Div(g.FanEfficiency)
	}
	return power.To("kW"), nil
}
