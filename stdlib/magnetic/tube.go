package magnetic

import (
	"fmt"
	"math"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// Tube is a batch tube tester: a sloping tube between the points of two poles,
// shaken while water washes through it. Grains that the poles pull harder than
// water and weight stay; the others are washed out.
type Tube struct {
	Field   Field             // at the wall between the poles, and its decay into the tube
	Bore    quantity.Quantity // inner diameter
	Water   quantity.Quantity // velocity of the wash water past the grains
	Slope   quantity.Quantity // of the tube to the level, as in deg
	Fluid   Fluid             // nothing for water of 20 °C
	Gravity quantity.Quantity // nothing for the Earth's
	Scatter quantity.Quantity // standard deviation of ln(pull/pull needed); nothing for a sharp cut

	Aspect    quantity.Quantity
	Materials []Material
}

func (d Tube) read() (s shape, m medium, bore, water, along, scatter float64, err error) {
	r := fields.Of("magnetic: a tube")
	s = d.Field.shape(r, math.Inf(1))
	bore, water = r.Positive("Bore", d.Bore, "m"), r.Positive("Water", d.Water, "m/s")
	m = medium{998.2, 1.002e-3}
	if !d.Fluid.Density.IsNothing() || !d.Fluid.Viscosity.IsNothing() {
		m = d.Fluid.medium(r)
	}
	along = r.AtLeast("Gravity", d.Gravity, "m/s2", standardGravity) * math.Sin(r.Within("Slope", d.Slope, "rad", 0, math.Pi/2, math.Pi/4))
	return s, m, bore, water, along, r.Within("Scatter", d.Scatter, "1", 0, 3, 0), r.Err
}

// Share is the share of grains of a size that stays in the tube. A grain at the
// distance y from the wall stays if its pull exceeds the drag of the water and its
// weight along the tube,
//
//	f(y) ≥ 18·µ·u·φ(Re)/(ρp·d²) + g·(1 − ρ/ρp)·sin α
//
// and grains lie at all distances up to half the bore alike, since the tube is
// shaken.
//
// Units: size is a length; a share in %.
//
// Range: small samples, so that grains do not hold one another; φ is Schiller's and
// Naumann's, and 0.44·Re/24 above Re = 1000.
//
// Errors: a tube that lacks a field or has one out of range; a grain as Moment
// refuses; a size not above 0.
//
// Source: balance of forces; the procedure is common practice, and no published case
// with numbers was at hand.
func (d Tube) Share(g Grain, size quantity.Quantity) (quantity.Quantity, error) {
	all := []quantity.Quantity{size}
	for _, field := range d.fields() {
		all = append(all, *field)
	}
	return g.through(func(g Grain, v []quantity.Quantity) (quantity.Quantity, error) {
		one := d
		for i, field := range one.fields() {
			*field = fields.Keep(*field, v[1+i])
		}
		b, err := g.body()
		if err != nil {
			return quantity.Quantity{}, err
		}
		r := fields.Of("magnetic: a tube")
		x := r.Positive("the size", v[0], "m")
		share, err := one.share(b, x)
		if r.Err != nil {
			err = r.Err
		}
		return quantity.Of(100*share, "%"), err
	}, all...)
}

func (d *Tube) fields() []*quantity.Quantity {
	return []*quantity.Quantity{&d.Field.Surface, &d.Field.Pitch, &d.Field.Decay, &d.Bore, &d.Water, &d.Slope,
		&d.Fluid.Density, &d.Fluid.Viscosity, &d.Gravity, &d.Scatter}
}

func (d Tube) share(b body, size float64) (float64, error) {
	s, m, bore, water, along, scatter, err := d.read()
	if err != nil {
		return 0, err
	}
	density := b.density()
	needed := m.drag(size, density, water)*water + along*(1-m.density/density)
	sum := 0.0
	for k := range heights {
		y := bore / 2 * (float64(k) + 0.5) / heights
		sum += held(b.pull(s, y), needed, scatter)
	}
	return sum / heights, nil
}

// Products are the names of the products in the order of Apply.
func (d Tube) Products() []string { return []string{"magnetics", "non-magnetics"} }

// Apply parts a sample, told as a stream, into magnetics and non-magnetics by
// Share. All water goes with the non-magnetics.
//
// Units: a stream for each product.
//
// Range: as Share; uncertain fields count with their means.
//
// Errors: as Share; minerals without magnetic figures, which Materials can state.
//
// Source: as Share; mass is conserved.
func (d Tube) Apply(feed stream.Stream) ([]stream.Stream, error) {
	c := feed.Classes()
	if c == nil {
		return nil, fmt.Errorf("magnetic: a tube: the feed is no stream yet")
	}
	all, err := bodies(c, d.Materials, d.Aspect)
	if err != nil {
		return nil, err
	}
	if _, _, _, _, _, _, err := d.read(); err != nil {
		return nil, err
	}
	return parted(feed, d.Products(), func(i, j int) float64 {
		share, _ := d.share(all[j], c.Metres(i)) // the fields were read above
		return share
	}, 0)
}

// Test is the arithmetic of a tube test.
type Test struct {
	Yield     quantity.Quantity // share of the mass that is magnetic
	Recovery  quantity.Quantity // share of what was assayed that is in the magnetics
	Remainder quantity.Quantity // grade of the non-magnetics
}

// NewTest is what a tube test says: of a sample of a grade, so much was
// magnetic with a grade of its own.
//
//	yield = m/M,  recovery = m·c/(M·f),  rest = (M·f − m·c)/(M − m)
//
// Units: masses and grades, as in g and %; shares in %.
//
// Range: magnetics less than the sample.
//
// Errors: masses not above 0 or magnetics of the sample's mass or more; grades
// outside 0 to 100 %, a feed grade of 0; more in the magnetics than in the sample.
//
// Source: mass balance of two products; common practice.
func NewTest(sample, feedGrade, magnetics, grade quantity.Quantity) (Test, error) {
	r := fields.Of("magnetic: a tube test")
	all, part := r.Positive("the sample", sample, "kg"), r.Positive("the magnetics", magnetics, "kg")
	f, c := r.Within("the grade of the sample", feedGrade, "1", 0, 1, math.NaN()), r.Within("the grade of the magnetics", grade, "1", 0, 1, math.NaN())
	if !(f > 0) {
		r.Fail("the grade of the sample is above 0, and %v is not", feedGrade)
	}
	if !(part < all) {
		r.Fail("the magnetics, %v, are less than the sample, %v", magnetics, sample)
	}
	if part*c > all*f {
		r.Fail("there is more in the magnetics, %v at %v, than in the sample, %v at %v; check masses and assays", magnetics, grade, sample, feedGrade)
	}
	if r.Err != nil {
		return Test{}, r.Err
	}
	inFeed, inPart := sample.Mul(feedGrade), magnetics.Mul(grade)
	return Test{
		Yield:     magnetics.Div(sample).To("%"),
		Recovery:  inPart.Div(inFeed).To("%"),
		Remainder: inFeed.Sub(inPart).Div(sample.Sub(magnetics)).To("%"),
	}, nil
}
