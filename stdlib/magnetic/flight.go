package magnetic

import (
	"math"

	"cobber/stdlib/quantity"
)

// Fluid is the gas around a dry drum, or the liquid in a wet one. The zero Fluid
// is a vacuum.
type Fluid struct {
	Density, Viscosity quantity.Quantity // viscosity is the dynamic one, as in Pa·s
}

// medium is a fluid in numbers.
type medium struct{ density, viscosity float64 }

func (f Fluid) medium(r *reader) medium {
	if f.Density.SI() == 0 && f.Viscosity.SI() == 0 {
		return medium{}
	}
	return medium{r.positive("Fluid.Density", f.Density, "kg/m3"), r.positive("Fluid.Viscosity", f.Viscosity, "Pa s")}
}

// drag is the deceleration per velocity, 1/s, of a sphere at a speed through the
// fluid, by Schiller's and Naumann's law, and Newton's above Re = 1000.
func (m medium) drag(size, density, speed float64) float64 {
	if m.viscosity == 0 {
		return 0
	}
	re := m.density * speed * size / m.viscosity
	factor := 1 + 0.15*math.Pow(re, 0.687)
	if re > 1000 {
		factor = 0.44 * re / 24
	}
	return 18 * m.viscosity * factor / (density * size * size)
}

// Flight is how far from the drum's axis, to the side to which its top moves, a
// grain lands that left the shell at an angle and falls to a level below the axis.
//
// Units: angle from the top as in deg; drop, the depth of the level below the axis,
// and the grain's size are lengths, density its own; a length.
//
// Range: what flies free of magnets and of other grains, in a gas at rest or in
// a vacuum; drag is that of spheres. Fine grains in a gas go with its draughts.
//
// Errors: a drum that lacks Radius or Speed; an angle outside 0 to 180°; a level
// above the place of leaving; gravity 0; a fluid with one figure only.
//
// Source: motion under gravity; L. Schiller, A. Naumann, Z. VDI 77 (1933) 318 (from
// memory).
func (d Drum) Flight(angle, drop, size, density quantity.Quantity, gas Fluid) (quantity.Quantity, error) {
	if gas.Density.IsNothing() && gas.Viscosity.IsNothing() {
		gas = Fluid{quantity.Of(0, "kg/m3"), quantity.Of(0, "Pa s")}
	}
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := &reader{of: "a flight"}
		radius, speed := r.positive("Radius", v[0], "m"), r.turns("Speed", v[1])
		gravity := r.positive("Gravity", orEarth(d.Gravity, v[2]), "m/s2")
		theta, level := r.within("the angle", v[3], "rad", 0, math.Pi, 0), -r.number("the drop", v[4], "m")
		x, heavy := r.positive("the size", v[5], "m"), r.positive("the density", v[6], "kg/m3")
		m := Fluid{v[7], v[8]}.medium(r)
		if r.err == nil && level > radius*math.Cos(theta) {
			r.fail("the level, %v below the axis, lies above the place where the grain leaves", v[4])
		}
		if r.err != nil {
			return quantity.Quantity{}, r.err
		}
		sin, cos := math.Sincos(theta)
		p := flying{radius * sin, radius * cos, speed * radius * cos, -speed * radius * sin}
		return quantity.Of(p.fall(level, gravity, func(v float64) float64 { return m.drag(x, heavy, v) }), "m"), nil
	}, d.Radius, d.Speed, d.Gravity, angle, drop, size, density, gas.Density, gas.Viscosity)
}

func orEarth(stated, value quantity.Quantity) quantity.Quantity {
	if stated.IsNothing() {
		return quantity.Of(standardGravity, "m/s2")
	}
	return value
}

// flying is a grain's place and velocity, across and up.
type flying struct{ x, y, vx, vy float64 }

// fall is where the grain comes to a level. Without drag it is the parabola, with
// it steps of a thousandth of the parabola's time.
func (p flying) fall(level, gravity float64, drag func(speed float64) float64) float64 {
	time := (p.vy + math.Sqrt(p.vy*p.vy+2*gravity*(p.y-level))) / gravity
	if drag(1) == 0 {
		return p.x + p.vx*time
	}
	for step := time / 1000; ; {
		before := p
		p = p.step(step, gravity, drag)
		if p.y <= level {
			part := (before.y - level) / (before.y - p.y)
			return before.x + part*(p.x-before.x)
		}
	}
}

// step moves the grain on. The drag is taken at the speed before, and its decay
// over the step exactly, so that a strong drag does not overshoot.
func (p flying) step(time, gravity float64, drag func(speed float64) float64) flying {
	k := drag(math.Hypot(p.vx, p.vy))
	if k*time < 1e-9 {
		return flying{p.x + p.vx*time, p.y + p.vy*time - gravity*time*time/2, p.vx, p.vy - gravity*time}
	}
	decay := -math.Expm1(-k * time)
	end := -gravity / k
	return flying{
		p.x + p.vx*decay/k,
		p.y + end*time + (p.vy-end)*decay/k,
		p.vx * (1 - decay),
		p.vy + (end-p.vy)*decay,
	}
}

// SplitterPosition is the distance from the axis at which the edge of the
// splitter stands at a level below the axis, so that it parts the grains that
// leave the shell before the angle Splitter from those that leave after it.
//
// Units: drop is the depth of the level below the axis; a length.
//
// Range: coarse grains, on which gas has little hold; Flight tells what gas does.
//
// Errors: as Flight; a splitter that is missing.
//
// Source: as Flight, in a vacuum.
func (d Drum) SplitterPosition(drop quantity.Quantity) (quantity.Quantity, error) {
	return d.Flight(d.Splitter, drop, quantity.Of(1, "mm"), quantity.Of(1, "g/cm3"), Fluid{})
}

// LiftOff is the speed at which grains that nothing pulls are thrown off the
// top of a drum,
//
//	ω = √(g/R)
//
// below which they travel with the shell for a while. In low gravity it is low.
//
// Units: as in rpm.
//
// Range: any radius and gravity above 0.
//
// Errors: no radius; a gravity of 0.
//
// Source: centrifugal force equals weight.
func (d Drum) LiftOff() (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := &reader{of: "a drum"}
		radius, gravity := r.positive("Radius", v[0], "m"), r.positive("Gravity", orEarth(d.Gravity, v[1]), "m/s2")
		return quantity.Of(math.Sqrt(gravity/radius), "rad/s").To("rpm"), r.err
	}, d.Radius, d.Gravity)
}
