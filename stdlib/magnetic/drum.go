package magnetic

import (
	"math"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
)

// Drum is a dry drum or roll with fixed magnets or poles, fed on its top and
// turning with the grains. Angles are taken from the top in the direction of
// turning. A belt over a roll is part of it: Field is that on the belt.
//
// A grain of pull f at the height y above the shell stays on it at the angle θ as
// long as
//
//	f(y) + g·cos θ ≥ ω²·(R + y)
//
// so that grains that are not pulled leave early and the strongest are carried to
// the end of the magnets. The splitter parts those that left before its angle from
// those that left after it.
type Drum struct {
	Radius, Width quantity.Quantity
	Speed         quantity.Quantity // of turning, as in rpm
	Field         Field
	Arc           quantity.Quantity // from the top to where the magnets end; nothing for 180°
	Splitter      quantity.Quantity // angle at which grains that go either way leave the shell; SplitterPosition tells where its edge then stands
	Edge, Drop    quantity.Quantity // in place of Splitter: how far from the axis, and how far below it, the splitter's edge stands
	Gas           Fluid             // that grains fly through to Edge; nothing for a vacuum, which coarse grains hardly notice
	Friction      quantity.Quantity // coefficient between grain and shell; nothing for a grain that does not slip

	Gravity quantity.Quantity // nothing for the Earth's
	Bulk    quantity.Quantity // bulk density of the feed; nothing for 0.6 times that of its solids
	Burden  quantity.Quantity // greatest depth of feed on the shell; nothing for no limit

	Scatter quantity.Quantity // standard deviation of ln(pull/pull needed), a plain number; nothing for a sharp cut
	Carried quantity.Quantity // share of what is not held that goes with the magnetics all the same
	Aspect  quantity.Quantity // of magnetic parts, as in Grain

	Stages    int  // times the feed passes such drums; 0 for once
	Cleaning  bool // later stages treat the magnetics again; else they treat the non-magnetics
	Materials []Material
	Idle      quantity.Quantity // power drawn without feed; nothing for 0
}

// turning is a drum in numbers.
type turning struct {
	radius, width, speed float64
	field                shape
	arc, splitter        float64
	edge, level          float64 // m from the axis and above it; edge NaN where the splitter is an angle
	gas                  medium
	friction             float64 // +Inf where nothing slips
	gravity              float64
	scatter, carried     float64
}

func (d Drum) turning() (turning, error) {
	r := fields.Of("magnetic: a drum")
	t := turning{
		radius: r.Positive("Radius", d.Radius, "m"),
		speed:  r.Turns("Speed", d.Speed),
		arc:    r.Within("Arc", d.Arc, "rad", 0, math.Pi, math.Pi),
	}
	t.field = d.Field.shape(r, t.radius)
	t.friction = math.Inf(1)
	if !d.Friction.IsNothing() {
		t.friction = r.Positive("Friction", d.Friction, "1")
	}
	t.gravity = r.AtLeast("Gravity", d.Gravity, "m/s2", standardGravity)
	t.scatter = r.Within("Scatter", d.Scatter, "1", 0, 3, 0)
	t.carried = r.Within("Carried", d.Carried, "1", 0, 1, 0)
	return t, r.Err
}

// split also reads what only a separation needs.
func (d Drum) split() (turning, error) {
	t, err := d.turning()
	if err != nil {
		return t, err
	}
	r := fields.Of("magnetic: a drum")
	t.width = r.Positive("Width", d.Width, "m")
	t.aim(r, d)
	if !(t.splitter > 0 && t.splitter <= t.arc) {
		r.Fail("Splitter stands between the top and the end of the magnets at %s, and %s does not", quantity.Of(t.arc, "rad").To("deg"), quantity.Of(t.splitter, "rad").To("deg"))
	}
	if r.Err == nil && !(t.needed(t.splitter, 0) > 0) {
		r.Fail("at %s gravity still holds on the shell what no magnet pulls; set the splitter beyond %s, or turn faster", quantity.Of(t.splitter, "rad").To("deg"), quantity.Of(t.leaving(0, 0), "rad").To("deg"))
	}
	if d.Stages < 0 {
		r.Fail("Stages is 1 or more, and %d is not", d.Stages)
	}
	return t, r.Err
}

// needed is the pull per mass without which a grain at a height has left the
// shell before an angle.
func (t turning) needed(angle, height float64) float64 {
	throw := t.speed * t.speed * (t.radius + height)
	if math.IsInf(t.friction, 1) {
		return throw - t.gravity*math.Cos(angle)
	}
	// A grain slips where f + g·cos θ − ω²r < g·sin θ/µ; that is worst at π − atan(1/µ).
	worst := min(angle, math.Pi-math.Atan(1/t.friction))
	return throw - t.gravity*math.Cos(worst) + t.gravity*math.Sin(worst)/t.friction
}

// leaving is the angle at which a grain of a pull leaves the shell: 0 where it
// is thrown off at once, the end of the magnets where it is held.
func (t turning) leaving(pull, height float64) float64 {
	if t.needed(0, height) > pull {
		return 0
	}
	if t.needed(t.arc, height) <= pull {
		return t.arc
	}
	return root(func(angle float64) float64 { return t.needed(angle, height) - pull }, 0, t.arc)
}

// root is where a function that rises from below 0 at low to above 0 at high
// passes 0, by halving.
func root(of func(float64) float64, low, high float64) float64 {
	for range 100 {
		middle := (low + high) / 2
		if middle == low || middle == high {
			break
		}
		if of(middle) <= 0 {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// heights are how many layers of a burden the share of a class is averaged over.
const heights = 12

// level is a height in the burden, with the field there and the pull that is
// needed to stay.
type level struct{ density, gradient, needed float64 }

// levels are the heights of grains of a size and density in a burden of a depth.
func (t turning) levels(size, density, depth float64) []level {
	splitter := t.parting(size, density)
	low, high := size/2, max(size/2, depth-size/2)
	all := make([]level, heights)
	if high == low {
		all = all[:1]
	}
	for k := range all {
		y := low + (high-low)*(float64(k)+0.5)/float64(len(all))
		all[k].density, all[k].gradient = t.field.at(y)
		all[k].needed = t.needed(splitter, y)
	}
	return all
}

// share is the share of the grains of a body, spread evenly over levels, that
// goes with the magnetics in one pass.
func (t turning) share(b body, levels []level) float64 {
	sum := 0.0
	for _, l := range levels {
		sum += held(b.moment(l.density/vacuumPermeability)*l.gradient, l.needed, t.scatter)
	}
	p := sum / float64(len(levels))
	return p + (1-p)*t.carried
}

// held is the chance that a pull suffices, with ln(pull/needed) scattered
// normally.
func held(pull, needed, scatter float64) float64 {
	switch {
	case needed <= 0:
		return 1
	case pull <= 0:
		return 0
	case scatter == 0:
		if pull >= needed {
			return 1
		}
		return 0
	}
	return math.Erfc(-math.Log(pull/needed)/scatter/math.Sqrt2) / 2
}

// repeated is the share after passes that treat one of the products again.
func repeated(share float64, stages int, cleaning bool) float64 {
	n := float64(max(stages, 1))
	if cleaning {
		return math.Pow(share, n)
	}
	return -math.Expm1(n * math.Log1p(-share))
}

// fields are the quantities of a drum, for samples to be put in one by one.
func (d *Drum) fields() []*quantity.Quantity {
	return []*quantity.Quantity{&d.Radius, &d.Width, &d.Speed, &d.Field.Surface, &d.Field.Pitch, &d.Field.Decay, &d.Arc, &d.Splitter,
		&d.Edge, &d.Drop, &d.Gas.Density, &d.Gas.Viscosity,
		&d.Friction, &d.Gravity, &d.Bulk, &d.Burden, &d.Scatter, &d.Carried, &d.Aspect, &d.Idle}
}

// through carries the uncertainty of a drum's fields and of a grain.
func (d Drum) through(g Grain, f func(Drum, Grain, []quantity.Quantity) (quantity.Quantity, error), others ...quantity.Quantity) (quantity.Quantity, error) {
	n := len(others)
	all := append([]quantity.Quantity(nil), others...)
	for _, field := range d.fields() {
		all = append(all, *field)
	}
	return g.through(func(g Grain, v []quantity.Quantity) (quantity.Quantity, error) {
		one := d
		for i, field := range one.fields() {
			*field = fields.Keep(*field, v[n+i])
		}
		return f(one, g, v[:n])
	}, all...)
}

// on is through with the drum read by read and the grain as a body; r is for what
// is read of the others.
func (d Drum) on(g Grain, read func(Drum) (turning, error), f func(d Drum, t turning, b body, r *fields.Reader, v []quantity.Quantity) (quantity.Quantity, error), others ...quantity.Quantity) (quantity.Quantity, error) {
	return d.through(g, func(d Drum, g Grain, v []quantity.Quantity) (quantity.Quantity, error) {
		t, err := read(d)
		if err != nil {
			return quantity.Quantity{}, err
		}
		b, err := g.body()
		if err != nil {
			return quantity.Quantity{}, err
		}
		return f(d, t, b, fields.Of("magnetic: a drum"), v)
	}, others...)
}

// Release is the angle from the top at which a grain at a height above the shell
// leaves the drum. Grains that the magnets hold leave where these end.
//
//	cos θ = (ω²·(R + y) − f(y))/g
//
// Where Friction is stated, a grain also leaves where it would slip,
// f + g·cos θ − ω²·(R + y) < g·sin θ/µ.
//
// Units: height is that of the grain's middle, half its size on the shell; an
// angle in deg.
//
// Range: dry grains, slow enough that gas does not lift them off. 0 is a grain
// thrown off at the top.
//
// Errors: a drum that lacks a field, or with one out of its range; a grain as Moment
// refuses; a height below 0.
//
// Source: balance of magnetic pull, weight and centrifugal force on the shell;
// common practice.
func (d Drum) Release(g Grain, height quantity.Quantity) (quantity.Quantity, error) {
	return d.on(g, Drum.turning, func(d Drum, t turning, b body, r *fields.Reader, v []quantity.Quantity) (quantity.Quantity, error) {
		y := r.AtLeast("the height", v[0], "m", 0)
		return quantity.Of(t.leaving(b.pull(t.field, y), y), "rad").To("deg"), r.Err
	}, height)
}

// Holding is the force per mass that holds a grain on the shell at an angle from
// the top; below 0 the grain leaves:
//
//	f(y) + g·cos θ − ω²·(R + y)
//
// Units: angle as in deg, height that of the grain's middle above the shell; in
// N/kg.
//
// Range: angles up to 180°; beyond the end of the magnets there is no pull.
//
// Errors: as Release; an angle outside 0 to 180°.
//
// Source: as Release.
func (d Drum) Holding(g Grain, angle, height quantity.Quantity) (quantity.Quantity, error) {
	return d.on(g, Drum.turning, func(d Drum, t turning, b body, r *fields.Reader, v []quantity.Quantity) (quantity.Quantity, error) {
		theta, y := r.Within("the angle", v[0], "rad", 0, math.Pi, math.NaN()), r.AtLeast("the height", v[1], "m", 0)
		pull := 0.0
		if theta <= t.arc {
			pull = b.pull(t.field, y)
		}
		return quantity.Of(pull+t.gravity*math.Cos(theta)-t.speed*t.speed*(t.radius+y), "N/kg"), r.Err
	}, angle, height)
}

// Share is the share of grains of a size that goes with the magnetics, from a
// burden of a depth, with Scatter, Carried and Stages in it. The grains lie at all
// heights of the burden alike.
//
// Units: size and depth are lengths, depth nothing or less than the size for a
// single layer; a share in %.
//
// Range: as Release. Thick burdens also hold back what is under them, which is
// not in it.
//
// Errors: as Release; a splitter that is missing, beyond the magnets, or so high
// that nothing would pass it.
//
// Source: as Release; a lognormal scatter of pulls: an assumption of this library.
func (d Drum) Share(g Grain, size, depth quantity.Quantity) (quantity.Quantity, error) {
	return d.on(g, Drum.split, func(d Drum, t turning, b body, r *fields.Reader, v []quantity.Quantity) (quantity.Quantity, error) {
		x, h := r.Positive("the size", v[0], "m"), r.AtLeast("the depth", fields.Keep(depth, v[1]), "m", 0)
		return quantity.Of(100*repeated(t.share(b, t.levels(x, b.density(), h)), d.Stages, d.Cleaning), "%"), r.Err
	}, size, depth)
}

// CutField is the flux density at the surface with which just half the grains
// of a size in a burden of a depth go with the magnetics in one pass.
//
// Units: as Share; in T.
//
// Range: flux densities from 0.1 mT to 10 T. It is found for grains in the middle
// of the burden; above them less than half, below them more are held.
//
// Errors: as Share; grains of which no such field holds half.
//
// Source: Share solved for Field.Surface.
func (d Drum) CutField(g Grain, size, depth quantity.Quantity) (quantity.Quantity, error) {
	d.Carried, d.Stages = quantity.Quantity{}, 1
	d.Field.Surface = quantity.Of(1, "T")
	return d.on(g, Drum.split, func(d Drum, t turning, b body, r *fields.Reader, v []quantity.Quantity) (quantity.Quantity, error) {
		x, h := r.Positive("the size", v[0], "m"), r.AtLeast("the depth", fields.Keep(depth, v[1]), "m", 0)
		if r.Err != nil {
			return quantity.Quantity{}, r.Err
		}
		splitter := t.parting(x, b.density())
		over := func(logarithm float64) float64 {
			t.field.surface = math.Exp(logarithm)
			y := max(x, h) / 2 // the middle of the burden
			return b.pull(t.field, y) - t.needed(splitter, y)
		}
		low, high := math.Log(1e-4), math.Log(10)
		if !(over(low) < 0 && over(high) > 0) {
			r.Fail("no flux density between 0.1 mT and 10 T holds just half of these grains")
			return quantity.Quantity{}, r.Err
		}
		return quantity.Of(math.Exp(root(over, low, high)), "T"), nil
	}, size, depth)
}
