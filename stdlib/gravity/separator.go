package gravity

import (
	"fmt"
	"math"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/partition"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// standardGravity is that of the Earth, m/s² (ISO 80000-3).
const standardGravity = 9.80665

// Separator parts grains by density, by a curve for each size:
//
//	share to the heavies = b + (1 − b − s)/(1 + exp(ln 3·(ρ50 − ρ)/Ep))
//
// With the size d₀ for which Cut and the error hold,
//
//	ρ50 − ρf = (Cut − ρf)·(d₀/d)^CutExponent,  Ep = Ep₀·(d₀/d)^ErrorExponent
type Separator struct {
	Cut           quantity.Quantity // density at which grains of Size go either way
	ProbableError quantity.Quantity // Ep of grains of Size, a density; or else
	Imperfection  quantity.Quantity // Ep/(Cut − Fluid), a plain number
	Fluid         quantity.Quantity // density of what grains are parted in; nothing for water, 1000 kg/m³
	Size          quantity.Quantity // for which Cut and the error hold; nothing where they do not change with size

	CutExponent      quantity.Quantity // nothing for 0, a cut by density alone; 1 is equal settling in Newton's range, 2 in Stokes'
	ErrorExponent    quantity.Quantity // nothing for 0
	Finest, Coarsest quantity.Quantity // sizes beyond which nothing is parted; nothing for no limit

	HeavyBypass quantity.Quantity // share of all grains that goes to the heavies unparted
	LightBypass quantity.Quantity // share of all grains that goes to the lights unparted
	Water       quantity.Quantity // share of the water, and of grains beyond the sizes, that goes to the heavies

	Gravity quantity.Quantity // nothing for the Earth's
	Form    partition.Form    // Whiten, the zero value, or Gaussian
	Idle    quantity.Quantity // power drawn; nothing for 0
}

func (s *Separator) fields() []*quantity.Quantity {
	return []*quantity.Quantity{&s.Cut, &s.ProbableError, &s.Imperfection, &s.Fluid, &s.Size, &s.CutExponent, &s.ErrorExponent,
		&s.Finest, &s.Coarsest, &s.HeavyBypass, &s.LightBypass, &s.Water, &s.Gravity}
}

// curves is a separator in numbers.
type curves struct {
	cut, err, fluid, size      float64 // kg/m³, kg/m³, kg/m³, m; size NaN where nothing changes with it
	cutExponent, errorExponent float64
	finest, coarsest           float64
	heavy, light, water        float64
	equivalent                 float64 // size on the Earth of the same Galileo number over the size here
	form                       partition.Form
}

func (s Separator) read() (curves, error) {
	r := fields.Of("gravity: a separator")
	c := curves{cut: r.Positive("Cut", s.Cut, "kg/m3"), fluid: r.AtLeast("Fluid", s.Fluid, "kg/m3", 1000), size: math.NaN(), form: s.Form,
		cutExponent: r.Within("CutExponent", s.CutExponent, "1", 0, 2, 0), errorExponent: r.Within("ErrorExponent", s.ErrorExponent, "1", 0, 3, 0),
		finest: r.AtLeast("Finest", s.Finest, "m", 0), coarsest: r.AtLeast("Coarsest", s.Coarsest, "m", math.Inf(1)),
		heavy: r.Within("HeavyBypass", s.HeavyBypass, "1", 0, 1, 0), light: r.Within("LightBypass", s.LightBypass, "1", 0, 1, 0),
		water: r.Within("Water", s.Water, "1", 0, 1, math.NaN())}
	if s.Form != partition.Whiten && s.Form != partition.Gaussian {
		r.Fail("Form is partition.Whiten or partition.Gaussian, and %v is not", s.Form)
	}
	switch {
	case s.ProbableError.IsNothing() == s.Imperfection.IsNothing():
		r.Fail("give either ProbableError or Imperfection")
	case s.Imperfection.IsNothing():
		c.err = r.Positive("ProbableError", s.ProbableError, "kg/m3")
	default:
		c.err = r.Positive("Imperfection", s.Imperfection, "1") * (c.cut - c.fluid)
	}
	if !(c.cut > c.fluid) && (s.ProbableError.IsNothing() || c.cutExponent > 0) {
		r.Fail("Cut, %v, lies above the density of the fluid, %s", s.Cut, quantity.Of(c.fluid, "kg/m3"))
	}
	if !s.Size.IsNothing() {
		c.size = r.Positive("Size", s.Size, "m")
	} else if c.cutExponent != 0 || c.errorExponent != 0 {
		r.Fail("Size, for which Cut and the error hold, is missing, and they change with size")
	}
	if c.heavy+c.light >= 1 {
		r.Fail("the bypasses, %v and %v, leave nothing to part", s.HeavyBypass, s.LightBypass)
	}
	if !(c.finest < c.coarsest) {
		r.Fail("Finest is below Coarsest, and %v and %v are not", s.Finest, s.Coarsest)
	}
	if math.IsNaN(c.water) {
		r.Fail("Water is missing; state the share of the water that goes to the heavies")
	}
	g := r.Positive("Gravity", orEarth(s.Gravity), "m/s2")
	c.equivalent = math.Cbrt(g / standardGravity)
	return c, r.Err
}

func orEarth(g quantity.Quantity) quantity.Quantity {
	if g.IsNothing() {
		return quantity.Of(standardGravity, "m/s2")
	}
	return g
}

// at is the cut and the probable error for a size.
func (c curves) at(size float64) (cut, err float64) {
	if math.IsNaN(c.size) {
		return c.cut, c.err
	}
	ratio := c.size / (size * c.equivalent)
	return c.fluid + (c.cut-c.fluid)*math.Pow(ratio, c.cutExponent), c.err * math.Pow(ratio, c.errorExponent)
}

// parts reports whether grains of a size are parted at all.
func (c curves) parts(size float64) bool {
	like := size * c.equivalent
	return like >= c.finest && like <= c.coarsest
}

// model is the partition over density for a size.
func (c curves) model(size float64) (partition.Model, error) {
	cut, spread := c.at(size)
	m, err := partition.NewModel(c.form, quantity.Of(cut, "kg/m3").To("g/cm3"), quantity.Of(spread, "kg/m3").To("g/cm3"))
	if err != nil {
		return m, fmt.Errorf("gravity: a separator, grains of %s: %w", quantity.Of(size, "m").To("mm"), err)
	}
	return m.WithBypass(quantity.Number(c.heavy), quantity.Number(c.light))
}

// Model is the partition curve over density for grains of a size, to be drawn,
// asked for its sharpness, or held to a test.
//
// Units: size is a length; the model's densities are in g/cm³.
//
// Range: sizes between Finest and Coarsest.
//
// Errors: a separator that lacks a field or has one out of range; a size not above
// 0, or outside the sizes that are parted.
//
// Source: T.J. Napier-Munn, Minerals Engineering 4 (1991) 357 (from memory) for
// Whiten's form; the powers of size: equal settling, J.M. Coulson, J.F. Richardson,
// Chemical Engineering, vol. 2, ch. 1.
func (s Separator) Model(size quantity.Quantity) (partition.Model, error) {
	c, err := s.read()
	if err != nil {
		return partition.Model{}, err
	}
	r := fields.Of("gravity: a separator")
	d := r.Positive("the size", size, "m")
	if r.Err == nil && !c.parts(d) {
		r.Fail("grains of %v lie outside the sizes it parts, %v to %v", size, s.Finest, s.Coarsest)
	}
	if r.Err != nil {
		return partition.Model{}, r.Err
	}
	return c.model(d)
}

// Share is the share of grains of a size and density that goes to the heavies.
//
// Units: size a length, a density; in %.
//
// Range: grains beyond Finest and Coarsest go as Water says.
//
// Errors: a separator that lacks a field or has one out of range; a size or density
// not above 0.
//
// Source: as Model.
func (s Separator) Share(size, density quantity.Quantity) (quantity.Quantity, error) {
	all := []quantity.Quantity{size, density}
	for _, field := range s.fields() {
		all = append(all, *field)
	}
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		one := s
		for i, field := range one.fields() {
			*field = fields.Keep(*field, v[2+i])
		}
		c, err := one.read()
		if err != nil {
			return quantity.Quantity{}, err
		}
		r := fields.Of("gravity: a separator")
		d := r.Positive("the size", v[0], "m")
		r.Positive("the density", v[1], "kg/m3")
		if r.Err != nil {
			return quantity.Quantity{}, r.Err
		}
		share, err := c.share(d, v[1])
		return quantity.Of(100*share, "%"), err
	}, all...)
}

func (c curves) share(size float64, density quantity.Quantity) (float64, error) {
	if !c.parts(size) {
		return c.water, nil
	}
	m, err := c.model(size)
	if err != nil {
		return 0, err
	}
	share, err := m.Share(density)
	return share.SI(), err
}

// Products are the names of the products in the order of Apply.
func (s Separator) Products() []string { return []string{"heavies", "lights"} }

// Apply parts a stream into heavies and lights, each class by Share at its middle
// size and the density of its particles.
//
// Units: a stream for each product.
//
// Range: as Share; uncertain fields count with their means.
//
// Errors: as Share; particles of which a density is missing.
//
// Source: as Model; mass is conserved.
func (s Separator) Apply(feed stream.Stream) ([]stream.Stream, error) {
	grid := feed.Classes()
	if grid == nil {
		return nil, fmt.Errorf("gravity: a separator: the feed is no stream yet")
	}
	c, err := s.read()
	if err != nil {
		return nil, err
	}
	n := grid.Particles()
	shares := make([]float64, grid.Sizes()*n)
	for j := range n {
		density, err := grid.Particle(j).Density()
		if err != nil {
			return nil, fmt.Errorf("gravity: a separator: %w", err)
		}
		density = density.Certain()
		for i := range grid.Sizes() {
			if shares[i*n+j], err = c.share(grid.Metres(i), density); err != nil {
				return nil, err
			}
		}
	}
	one := []float64{0}
	return feed.Split(s.Products(), func(i, j int) []float64 {
		one[0] = shares[i*n+j]
		return one
	}, []float64{c.water})
}

// Power is what the separator draws, which Idle states; pumps and water are apart.
//
// Units: in kW.
//
// Range: as measured.
//
// Errors: Idle below 0 or no power.
//
// Source: the figure stated.
func (s Separator) Power(stream.Stream) (quantity.Quantity, error) {
	r := fields.Of("gravity: a separator")
	watts := r.AtLeast("Idle", s.Idle, "W", 0)
	return quantity.Of(watts, "W").To("kW"), r.Err
}
