package magnetic

import (
	"fmt"
	"math"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// WetDrum is a drum that turns in a tank of pulp and draws the magnetic grains
// through it to the shell. The pulp runs along the arc of the magnets in a gap of
// even depth below the drum; a grain is caught if it reaches the shell before the
// pulp has left.
type WetDrum struct {
	Radius, Width quantity.Quantity
	Field         Field
	Arc           quantity.Quantity // of magnets that the pulp passes, as in deg
	Gap           quantity.Quantity // between shell and tank
	Fluid         Fluid             // nothing for water of 20 °C
	Gravity       quantity.Quantity // nothing for the Earth's; it draws grains away from the drum

	Scatter quantity.Quantity // standard deviation of ln(gap crossed/gap), a plain number; nothing for even spread only
	Carried quantity.Quantity // share of what is not caught that goes with the magnetics all the same
	Water   quantity.Quantity // share of the water that goes with the magnetics
	Aspect  quantity.Quantity

	Materials []Material
	Idle      quantity.Quantity // power drawn
}

// tank is a wet drum in numbers.
type tank struct {
	field                   shape
	length, section, gap    float64 // of the way, m; of the flow, m²; m
	medium                  medium
	gravity                 float64
	scatter, carried, water float64
}

func (d WetDrum) tank() (tank, error) {
	r := fields.Of("magnetic: a wet drum")
	radius, width := r.Positive("Radius", d.Radius, "m"), r.Positive("Width", d.Width, "m")
	t := tank{field: d.Field.shape(r, radius), gap: r.Positive("Gap", d.Gap, "m")}
	t.length = (radius + t.gap/2) * r.Within("Arc", d.Arc, "rad", 0, math.Pi, math.NaN())
	if !(t.length > 0) {
		r.Fail("Arc, the angle of magnets in the pulp, is missing or 0")
	}
	t.section = width * t.gap
	t.medium = medium{998.2, 1.002e-3} // water of 20 °C, Perry's Chemical Engineers' Handbook
	if !d.Fluid.Density.IsNothing() || !d.Fluid.Viscosity.IsNothing() {
		t.medium = d.Fluid.medium(r)
		if r.Err == nil && t.medium.viscosity == 0 {
			r.Fail("a wet drum needs a liquid, and Fluid is a vacuum")
		}
	}
	t.gravity = r.AtLeast("Gravity", d.Gravity, "m/s2", standardGravity)
	t.scatter = r.Within("Scatter", d.Scatter, "1", 0, 3, 0)
	t.carried = r.Within("Carried", d.Carried, "1", 0, 1, 0)
	t.water = r.Within("Water", d.Water, "1", 0, 1, math.NaN())
	if math.IsNaN(t.water) {
		r.Fail("Water is missing; state the share of the water that goes with the magnetics")
	}
	return t, r.Err
}

// velocity is that of a grain drawn by a net force per mass, m/s; below 0 it moves
// away. It begins with Ferguson's and Church's equation, which needs no trial but is
// a fifth too fast about Re = 60, and comes to that of drag within some steps.
func (m medium) velocity(force, size, density float64) float64 {
	if force == 0 {
		return 0
	}
	drive := math.Abs(force) * density / m.density
	v := drive * size * size / (18*m.viscosity/m.density + math.Sqrt(0.75*0.4*drive*size*size*size))
	for range 8 {
		next := math.Abs(force) / m.drag(size, density, v)
		if math.Abs(next-v) < 1e-3*v {
			break
		}
		v = math.Sqrt(v * next)
	}
	return math.Copysign(v, force)
}

// layers are the steps in which a grain crosses the gap.
const layers = 64

// share is the share of a class that reaches the shell while the pulp passes.
func (t tank) share(b body, size, time float64) float64 {
	density := b.density()
	step := t.gap / layers
	reach := 0.0
	for k := range layers {
		pull := b.pull(t.field, (float64(k)+0.5)*step)
		v := t.medium.velocity(pull-t.gravity*(1-t.medium.density/density), size, density)
		if !(v > 0) {
			break
		}
		if need := step / v; need < time {
			time -= need
			reach += step
			continue
		}
		reach += v * time
		break
	}
	p := min(reach/t.gap, 1)
	if t.scatter > 0 {
		p = blurred(reach/t.gap, t.scatter)
	}
	return p + (1-p)*t.carried
}

// blurred is the mean of min(x·z, 1) for z with median 1 and ln z spread normally.
func blurred(x, scatter float64) float64 {
	if x <= 0 {
		return 0
	}
	normal := func(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
	edge := -math.Log(x) / scatter
	return x*math.Exp(scatter*scatter/2)*normal(edge-scatter) + normal(-edge)
}

// Share is the share of grains of a size that is caught from pulp that flows
// through the tank at a rate of volume. With the time t = A·L/Q in the tank,
// a grain at the height y reaches the shell if
//
//	∫ dy/v(y) ≤ t,  v(y) by f(y) − g·(1 − ρ/ρp) against drag
//
// and the grains come in at all heights of the gap alike.
//
// Units: size is a length, flow a volume per time; in %.
//
// Range: dilute pulps, grains as spheres; clusters of magnetised grains move
// faster than single ones, so fine magnetite does better than this says.
//
// Errors: a drum that lacks a field or has one out of range; a grain as Moment
// refuses; a size or flow not above 0.
//
// Source: balance of pull, weight and drag; drag: L. Schiller, A. Naumann, Z. VDI 77
// (1933) 318 (from memory), Newton's above Re = 1000.
func (d WetDrum) Share(g Grain, size, flow quantity.Quantity) (quantity.Quantity, error) {
	all := []quantity.Quantity{size, flow}
	for _, field := range d.fields() {
		all = append(all, *field)
	}
	return g.through(func(g Grain, v []quantity.Quantity) (quantity.Quantity, error) {
		one := d
		for i, field := range one.fields() {
			*field = fields.Keep(*field, v[2+i])
		}
		t, err := one.tank()
		if err != nil {
			return quantity.Quantity{}, err
		}
		b, err := g.body()
		if err != nil {
			return quantity.Quantity{}, err
		}
		r := fields.Of("magnetic: a wet drum")
		x, q := r.Positive("the size", v[0], "m"), r.Positive("the flow", v[1], "m3/s")
		return quantity.Of(100*t.share(b, x, t.section*t.length/q), "%"), r.Err
	}, all...)
}

func (d *WetDrum) fields() []*quantity.Quantity {
	return []*quantity.Quantity{&d.Radius, &d.Width, &d.Field.Surface, &d.Field.Pitch, &d.Field.Decay, &d.Arc, &d.Gap,
		&d.Fluid.Density, &d.Fluid.Viscosity, &d.Gravity, &d.Scatter, &d.Carried, &d.Water, &d.Aspect}
}

// Products are the names of the drum's products in the order of Apply.
func (d WetDrum) Products() []string { return []string{"magnetics", "non-magnetics"} }

// Apply parts a pulp into magnetics and non-magnetics, each class by Share with
// the time the pulp has in the tank.
//
// Units: a stream for each product.
//
// Range: as Share; uncertain fields count with their means.
//
// Errors: as Share; a feed without water; minerals without magnetic figures, which
// Materials can state.
//
// Source: as Share; mass is conserved.
func (d WetDrum) Apply(feed stream.Stream) ([]stream.Stream, error) {
	c := feed.Classes()
	if c == nil {
		return nil, fmt.Errorf("magnetic: a wet drum: the feed is no stream yet")
	}
	t, err := d.tank()
	if err != nil {
		return nil, err
	}
	all, err := bodies(c, d.Materials, d.Aspect)
	if err != nil {
		return nil, err
	}
	if feed.IsDry() {
		if feed.Solids().SI() > 0 {
			return nil, fmt.Errorf("magnetic: a wet drum: %s has no water; add some (stream.Stream.WithWater), or take a Drum", feed.Name())
		}
		return parted(feed, d.Products(), func(i, j int) float64 { return 0 }, t.water)
	}
	flow, err := feed.VolumeFlow()
	if err != nil {
		return nil, fmt.Errorf("magnetic: a wet drum: %w", err)
	}
	time := t.section * t.length / flow.SI()
	return parted(feed, d.Products(), func(i, j int) float64 { return t.share(all[j], c.Metres(i), time) }, t.water)
}

// Power is what the drum draws, which Idle states: it hardly depends on the feed.
//
// Units: in kW.
//
// Range: as measured.
//
// Errors: Idle is missing or below 0.
//
// Source: the figure stated.
func (d WetDrum) Power(stream.Stream) (quantity.Quantity, error) {
	r := fields.Of("magnetic: a wet drum")
	if r.Number("Idle", d.Idle, "W") < 0 {
		r.Fail("Idle is 0 or above, and %v is not", d.Idle)
	}
	if r.Err != nil {
		return quantity.Quantity{}, r.Err
	}
	return d.Idle.To("kW"), nil
}
