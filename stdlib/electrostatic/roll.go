package electrostatic

import (
	"fmt"
	"math"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// Conduction is how fast grains of a mineral lose charge on an earthed roll.
type Conduction struct {
	Name         string            // of the mineral
	Relaxation   quantity.Quantity // time to a share of 1/e, as Relaxation gives or as measured
	Permittivity quantity.Quantity // relative; nothing for 5, the order of oxides and silicates
}

// Roll is an earthed roll with a corona that charges what lies on it and, beyond,
// an electrode of the corona's sign that presses charged grains on and lifts
// those that have lost their charge. Angles are taken from the top in the direction
// of turning.
type Roll struct {
	Radius, Width quantity.Quantity
	Speed         quantity.Quantity // of turning, as in rpm
	Corona        quantity.Quantity // field in which grains are charged, as in kV/cm; nothing for no corona
	Charged       quantity.Quantity // share of Pauthenier's charge that grains get; ChargingShare helps
	From          quantity.Quantity // angle at which corona ends and the electrode begins; nothing for the top
	Voltage, Gap  quantity.Quantity // of the electrode, to the roll
	Conductors    quantity.Quantity // angle of the first splitter: what leaves before it is conductors
	Insulators    quantity.Quantity // angle of the second: what leaves after it is non-conductors
	Gravity       quantity.Quantity // nothing for the Earth's
	Atmosphere    Atmosphere

	Spread  quantity.Quantity // relative standard deviation of the charge; nothing for 0
	Carried quantity.Quantity // share of what leaves early that goes with the non-conductors all the same

	Conduction []Conduction      // of minerals; the class of the table of minerals for others
	Idle       quantity.Quantity // power drawn; corona current included
}

func (d *Roll) fields() []*quantity.Quantity {
	return append([]*quantity.Quantity{&d.Radius, &d.Width, &d.Speed, &d.Corona, &d.Charged, &d.From, &d.Voltage, &d.Gap,
		&d.Conductors, &d.Insulators, &d.Gravity, &d.Spread, &d.Carried}, d.Atmosphere.fields()...)
}

// turning is a roll in numbers.
type turning struct {
	radius, speed, corona, charged, from, field, first, second, gravity, spread, carried float64
}

func (d Roll) turning() (turning, error) {
	around, err := d.Atmosphere.read("a roll")
	if err != nil {
		return turning{}, err
	}
	r := fields.Of("electrostatic: a roll")
	t := turning{radius: r.Positive("Radius", d.Radius, "m"), speed: r.Turns("Speed", d.Speed),
		from:    r.Within("From", d.From, "rad", 0, math.Pi, 0),
		gravity: r.AtLeast("Gravity", d.Gravity, "m/s2", standardGravity),
		spread:  r.Within("Spread", d.Spread, "1", 0, 3, 0), carried: r.Within("Carried", d.Carried, "1", 0, 1, 0)}
	gap := r.Positive("Gap", d.Gap, "m")
	t.field = r.Positive("Voltage", d.Voltage, "V") / gap
	if !d.Corona.IsNothing() {
		t.corona = r.Positive("Corona", d.Corona, "V/m")
		t.charged = r.Within("Charged", d.Charged, "1", 0, 1, math.NaN())
		if math.IsNaN(t.charged) {
			r.Fail("Charged, the share of Pauthenier's charge that grains get, is missing")
		}
		if around.vacuum {
			r.Fail("there is no corona in a vacuum: no gas, no ions. Charge grains by rubbing and take Plates")
		}
	}
	t.first, t.second = r.Number("Conductors", d.Conductors, "rad"), r.Number("Insulators", d.Insulators, "rad")
	if !(t.from < t.first && t.first <= t.second && t.second <= math.Pi) {
		r.Fail("the splitters stand at rising angles beyond From and up to 180°, and %v and %v do not", d.Conductors, d.Insulators)
	}
	if r.Err != nil {
		return t, r.Err
	}
	bears, err := around.bears(gap)
	if err != nil {
		return t, err
	}
	if t.field > bears {
		r.Fail("%v over %v would break down; the gap bears %s", d.Voltage, d.Gap, inVolts(bears*gap))
	}
	return t, r.Err
}

// coat is what a class of particles shows the roll: its density, and for each
// mineral the share of the surface, its relaxation time and how much charge ions
// give it.
type coat struct {
	density float64
	patches []patch
}

type patch struct{ share, time, permittivity float64 }

// hold is the force per mass that holds a grain of a size at an angle with k times
// its charge by the corona, as a polynomial in k: weight and the electrode's lift,
// as far as the grain has come to the potential of the roll; the electrode on the
// charge; the charge's image.
func (t turning) hold(c coat, size, angle float64) (free, linear, square float64) {
	time := (angle - t.from) / t.speed
	kept, charge := 0.0, 0.0
	for _, p := range c.patches {
		still := p.share
		if p.time == 0 {
			still = 0
		} else if !math.IsInf(p.time, 1) {
			still *= math.Exp(-time / p.time)
		}
		kept += still
		if t.corona > 0 {
			charge += still * t.charged * pauthenier(size, t.corona, p.permittivity)
		}
	}
	mass := c.density * math.Pi * size * size * size / 6
	lift := liftingForce * math.Pi * vacuumPermittivity * size * size * t.field * t.field * (1 - kept) * (1 - kept)
	free = t.gravity*math.Cos(angle) - t.speed*t.speed*(t.radius+size/2) - lift/mass
	return free, charge * t.field / mass, charge * charge / (4 * math.Pi * vacuumPermittivity * size * size * mass)
}

// lying is that force for a grain with its mean charge.
func (t turning) lying(c coat, size, angle float64) float64 {
	free, linear, square := t.hold(c, size, angle)
	return free + linear + square
}

// angles are at how many places on the way a grain is looked at.
const angles = 24

// leaves is the angle at which a grain with its mean charge leaves the roll, or
// 180°.
func (t turning) leaves(c coat, size float64) float64 {
	before := t.from
	for n := range angles + 1 {
		angle := t.from + (math.Pi-t.from)*float64(n)/angles
		if t.lying(c, size, angle) >= 0 {
			before = angle
			continue
		}
		low, high := before, angle
		for range 50 {
			if middle := (low + high) / 2; t.lying(c, size, middle) >= 0 {
				low = middle
			} else {
				high = middle
			}
		}
		return low
	}
	return math.Pi
}

// stays is the chance that a grain is still on the roll at an angle: that its
// charge, normally spread, is the one that just holds it all the way, or more.
func (t turning) stays(c coat, size, end float64) float64 {
	needed := 0.0 // times the mean charge
	for n := range angles + 1 {
		free, linear, square := t.hold(c, size, t.from+(end-t.from)*float64(n)/angles)
		if free < 0 {
			needed = max(needed, -2*free/(linear+math.Sqrt(linear*linear-4*free*square)))
		}
	}
	switch {
	case needed == 0:
		return 1
	case math.IsInf(needed, 1) || math.IsNaN(needed):
		return 0
	case t.spread == 0 && needed <= 1:
		return 1
	case t.spread == 0:
		return 0
	}
	return math.Erfc((needed-1)/t.spread/math.Sqrt2) / 2
}

// Release is the angle from the top at which a grain of one mineral with its mean
// charge leaves the roll. It stays as long as
//
//	m·(g·cos θ − ω²·(R + d/2)) + Q²/(4π·ε₀·d²) + Q·E − 1.37·π·ε₀·d²·E²·(1 − e)² ≥ 0
//
// with Q = e·Q₀, the corona's charge Q₀ and e = exp(−t/τ) after the time t since it.
//
// Units: size a length, density, conduction of the mineral; in deg. 180° is a grain
// that must be brushed off.
//
// Range: single grains in the even field E of the electrode; charges and lifts of
// half-relaxed grains are taken as shares of those of insulators and conductors.
//
// Errors: a roll that lacks a field or has one out of range; a voltage that the gas
// does not bear; a corona in a vacuum; a size or density not above 0.
//
// Source: balance of forces; Pauthenier, Lebedev and Skal'skaya as in Saturation and
// Induced; E.G. Kelly, D.J. Spottiswood, Minerals Engineering 2 (1989) 337, for the
// part that relaxation has.
func (d Roll) Release(size, density quantity.Quantity, mineral Conduction) (quantity.Quantity, error) {
	return fields.Through(d.fields(), func(put func([]*quantity.Quantity), v []quantity.Quantity) (quantity.Quantity, error) {
		one := d
		put(one.fields())
		t, err := one.turning()
		if err != nil {
			return quantity.Quantity{}, err
		}
		p, err := Conduction{mineral.Name, v[2], fields.Keep(mineral.Permittivity, v[3])}.patch(1)
		if err != nil {
			return quantity.Quantity{}, err
		}
		r := fields.Of("electrostatic: a roll")
		x, c := r.Positive("the size", v[0], "m"), coat{r.Positive("the density", v[1], "kg/m3"), []patch{p}}
		return quantity.Of(t.leaves(c, x), "rad").To("deg"), r.Err
	}, size, density, mineral.Relaxation, mineral.Permittivity)
}

func (m Conduction) patch(share float64) (patch, error) {
	r := fields.Of("electrostatic: conduction of " + m.Name)
	p := patch{share, r.AtLeast("Relaxation", m.Relaxation, "s", math.NaN()), 5}
	if math.IsNaN(p.time) {
		r.Fail("Relaxation is missing")
	}
	if !m.Permittivity.IsNothing() {
		p.permittivity = relative(r, m.Permittivity)
	}
	return p, r.Err
}

// coats are the particle classes as the roll sees them.
func coats(c *stream.Classes, stated []Conduction) ([]coat, error) {
	all := make([]coat, c.Particles())
	for j := range all {
		p := c.Particle(j)
		density, err := p.Density()
		if err != nil {
			return nil, fmt.Errorf("electrostatic: a roll: %w", err)
		}
		all[j].density = density.SI()
		for _, part := range p.Parts {
			share, err := p.VolumeShare(part.Mineral.Name)
			if err != nil {
				return nil, fmt.Errorf("electrostatic: a roll: %w", err)
			}
			one, err := patchOf(part, stated, share)
			if err != nil {
				return nil, fmt.Errorf("%w (in %s)", err, p.Name)
			}
			all[j].patches = append(all[j].patches, one)
		}
	}
	return all, nil
}

func patchOf(part stream.Part, stated []Conduction, share float64) (patch, error) {
	for _, m := range stated {
		if m.Name == part.Mineral.Name {
			return m.patch(share)
		}
	}
	switch part.Mineral.Conductivity.Class {
	case "conductor":
		return patch{share, 0, math.Inf(1)}, nil
	case "non-conductor":
		return patch{share, math.Inf(1), 5}, nil
	}
	return patch{}, fmt.Errorf("electrostatic: a roll: nothing is known of how %s conducts; state a Conduction of that name", part.Mineral.Name)
}

// Products are the names of the products in the order of Apply.
func (d Roll) Products() []string { return []string{"conductors", "middlings", "non-conductors"} }

// Apply parts a dry feed into conductors, middlings and non-conductors, each class
// by the chance that it leaves before the first, between, or after both splitters.
// Minerals that Conduction does not name are taken as conductors or non-conductors
// by the class that their figures give. A grain of several minerals shows each in
// proportion to its volume.
//
// Units: a stream for each product.
//
// Range: as Release, and a single layer on the roll; less than 1 % of moisture;
// uncertain fields count with their means.
//
// Errors: as Release; splitters that do not stand at rising angles; minerals of which
// nothing is known; a damp feed.
//
// Source: as Release; normal spread of charges: common practice.
func (d Roll) Apply(feed stream.Stream) ([]stream.Stream, error) {
	if err := ready(feed, "a roll"); err != nil {
		return nil, err
	}
	t, err := d.turning()
	if err != nil {
		return nil, err
	}
	c := feed.Classes()
	all, err := coats(c, d.Conduction)
	if err != nil {
		return nil, err
	}
	return parted(feed, d.Products(), func(i, j int) (float64, float64) {
		first := t.stays(all[j], c.Metres(i), t.first)
		second := min(t.stays(all[j], c.Metres(i), t.second), first)
		return (1 - first) * (1 - t.carried), (first - second) * (1 - t.carried)
	})
}

// Layer is the rate at which grains of a size cover the roll in a single layer:
//
//	m = c·(2/3)·ρ·d·w·ω·R
//
// since a sphere's volume over the disc it covers is two thirds of its diameter.
//
// Units: size a length, density, cover c the share of the roll's surface under
// grains, as in %; in t/h.
//
// Range: cover up to about 80 %; more makes grains lie on one another and spoils
// the separation.
//
// Errors: a roll that lacks Radius, Width or Speed; quantities not above 0; a cover
// above 91 %, which spheres cannot reach.
//
// Source: mass balance of the layer; densest packing of discs π/√12.
func (d Roll) Layer(size, density, cover quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("electrostatic: a roll")
		x, rho := r.Positive("the size", v[3], "m"), r.Positive("the density", v[4], "kg/m3")
		c := r.Within("the cover", v[5], "1", 0, math.Pi/math.Sqrt(12), math.NaN())
		rate := c * 2.0 / 3 * rho * x * r.Positive("Width", v[1], "m") * r.Turns("Speed", v[2]) * r.Positive("Radius", v[0], "m")
		return quantity.Of(rate, "kg/s").To("t/h"), r.Err
	}, d.Radius, d.Width, d.Speed, size, density, cover)
}

// Power is what the roll draws, which Idle states: drive, corona current and
// losses hardly depend on the feed.
//
// Units: in kW.
//
// Range: as measured.
//
// Errors: Idle is missing or below 0.
//
// Source: the figure stated.
func (d Roll) Power(stream.Stream) (quantity.Quantity, error) {
	r := fields.Of("electrostatic: a roll")
	if r.Number("Idle", d.Idle, "W") < 0 {
		r.Fail("Idle is 0 or above, and %v is not", d.Idle)
	}
	if r.Err != nil {
		return quantity.Quantity{}, r.Err
	}
	return d.Idle.To("kW"), nil
}
