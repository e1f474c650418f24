package magnetic

import (
	"math"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
)

// Fluid is the gas around a dry drum, or the liquid in a wet one. The zero Fluid
// is a vacuum.
type Fluid struct {
	Density, Viscosity quantity.Quantity // viscosity is the dynamic one, as in Pa·s
}

// medium is a fluid in numbers.
type medium struct{ density, viscosity float64 }

func (f Fluid) medium(r *fields.Reader) medium {
	if f.Density.SI() == 0 && f.Viscosity.SI() == 0 {
		return medium{}
	}
	return medium{r.Positive("Fluid.Density", f.Density, "kg/m3"), r.Positive("Fluid.Viscosity", f.Viscosity, "Pa s")}
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
		r := fields.Of("magnetic: a flight")
		radius, speed := r.Positive("Radius", v[0], "m"), r.Turns("Speed", v[1])
		gravity := r.Positive("Gravity", orEarth(d.Gravity, v[2]), "m/s2")
		theta, level := r.Within("the angle", v[3], "rad", 0, math.Pi, 0), -r.Number("the drop", v[4], "m")
		x, heavy := r.Positive("the size", v[5], "m"), r.Positive("the density", v[6], "kg/m3")
		m := Fluid{v[7], v[8]}.medium(r)
		if r.Err == nil && level > radius*math.Cos(theta) {
			r.Fail("the level, %v below the axis, lies above the place where the grain leaves", v[4])
		}
		if r.Err != nil {
			return quantity.Quantity{}, r.Err
		}
		sin, cos := math.Sincos(theta)
		p := flying{radius * sin, radius * cos, speed * radius * cos, -speed * radius * sin}
		return quantity.Of(p.fall(level, gravity, 1000, func(v float64) float64 { return m.drag(x, heavy, v) }), "m"), nil
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
// it so many steps in the parabola's time, until the gas has stopped all but the
// last nanometre of its way across: fine grains would sink for millions of steps.
func (p flying) fall(level, gravity, steps float64, drag func(speed float64) float64) float64 {
	time := (p.vy + math.Sqrt(p.vy*p.vy+2*gravity*(p.y-level))) / gravity
	if drag(1) == 0 {
		return p.x + p.vx*time
	}
	for step := time / steps; ; {
		before := p
		p = p.step(step, gravity, drag)
		if p.y <= level {
			part := (before.y - level) / (before.y - p.y)
			return before.x + part*(p.x-before.x)
		}
		if rest := p.vx / drag(0); math.Abs(rest) < 1e-9 { // drag is least at rest, so that the way left is less
			return p.x + rest
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

// aim reads where the splitter stands: its angle, or the angle that its edge
// stands for in a vacuum.
func (t *turning) aim(r *fields.Reader, d Drum) {
	t.edge = math.NaN()
	if d.Edge.IsNothing() {
		t.splitter = r.Number("Splitter", d.Splitter, "rad")
		return
	}
	if !d.Splitter.IsNothing() {
		r.Fail("give either Splitter, an angle, or Edge and Drop, a place")
	}
	edge, level := r.Positive("Edge", d.Edge, "m"), -r.Number("Drop", d.Drop, "m")
	if t.gravity == 0 {
		r.Fail("without gravity grains do not fall to Edge; give the angle Splitter")
	}
	if r.Err != nil {
		return
	}
	t.edge, t.level = edge, level
	if t.splitter = t.parting(0, 0); t.splitter == 0 {
		r.Fail("no grain lands as far from the axis as Edge, %v, or all do; move it, or turn faster", d.Edge)
	}
	if !d.Gas.Density.IsNothing() || !d.Gas.Viscosity.IsNothing() {
		t.gas = d.Gas.medium(r)
	}
}

// parting is the angle at which grains of a size and density leave the shell that
// land on the edge of the splitter; 0 if they all fall short of it. It is the
// greatest such angle: grains that leave later land nearer.
func (t turning) parting(size, density float64) float64 {
	if math.IsNaN(t.edge) {
		return t.splitter
	}
	short := func(angle float64) float64 {
		sin, cos := math.Sincos(angle)
		v := t.speed * t.radius
		p := flying{t.radius * sin, t.radius * cos, v * cos, -v * sin}
		return t.edge - p.fall(t.level, t.gravity, 150, func(v float64) float64 { return t.gas.drag(size, density, v) })
	}
	last := t.arc
	if -t.level < t.radius { // the drum reaches below the edge
		last = min(last, math.Acos(t.level/t.radius)-1e-9)
	}
	const steps = 48
	for k := range steps {
		angle := last * (1 - float64(k+1)/steps)
		if short(angle) < 0 {
			if k == 0 && short(last) < 0 {
				return 0
			}
			return root(short, angle, last*(1-float64(k)/steps))
		}
	}
	return 0
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

// MovedTo is the drum at another gravity, turned so much faster or slower that
// grains that nothing pulls leave it at the angles they left it before,
//
//	ω′ = ω·√(g′/g)
//
// It then carries √(g′/g) of the rate at the same depth of burden, and in lower
// gravity it holds grains of a g′/g-th of the pull: what was left behind may come
// along, unless the field is weakened too.
//
// Units: gravity is an acceleration.
//
// Range: the splitter as an angle; flights to an Edge scale too.
//
// Errors: a gravity, or the drum's own, not above 0; a drum without Speed.
//
// Source: the balance of Release, in which only ω²·R/g and f/g matter.
func (d Drum) MovedTo(gravity quantity.Quantity) (Drum, error) {
	speed, err := quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("magnetic: a drum")
		here, there := r.Positive("Gravity", orEarth(d.Gravity, v[1]), "m/s2"), r.Positive("the other gravity", v[2], "m/s2")
		return quantity.Of(r.Turns("Speed", v[0])*math.Sqrt(there/here), "rad/s").To("rpm"), r.Err
	}, d.Speed, d.Gravity, gravity)
	if err != nil {
		return Drum{}, err
	}
	d.Speed, d.Gravity = speed, gravity
	return d, nil
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
		r := fields.Of("magnetic: a drum")
		radius, gravity := r.Positive("Radius", v[0], "m"), r.Positive("Gravity", orEarth(d.Gravity, v[1]), "m/s2")
		return quantity.Of(math.Sqrt(gravity/radius), "rad/s").To("rpm"), r.Err
	}, d.Radius, d.Gravity)
}
