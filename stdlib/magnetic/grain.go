package magnetic

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// Grain is a grain of one or more materials. Each magnetises by itself, as an
// inclusion of the shape Aspect says, which is exact for round inclusions in a
// round grain as long as they do not touch.
type Grain struct {
	Materials []Material
	Shares    []quantity.Quantity // by mass, one for each material, adding up to 1; nothing for a grain of one
	Aspect    quantity.Quantity   // length over width of the magnetic parts, lengthwise in the field; nothing for 1, round
}

// body is a grain in numbers.
type body struct {
	laws   []law
	shares []float64
	factor float64 // demagnetising
}

func (g Grain) body() (body, error) {
	r := fields.Of("magnetic: a grain")
	b := body{factor: 1.0 / 3}
	if !g.Aspect.IsNothing() {
		b.factor = demagnetising(r.Positive("Aspect", g.Aspect, "1"))
	}
	shares := g.Shares
	if len(g.Materials) == 1 && len(shares) == 0 {
		shares = []quantity.Quantity{quantity.Number(1)}
	}
	if len(g.Materials) == 0 || len(shares) != len(g.Materials) {
		r.Fail("it needs materials, and a share for each; there are %d materials and %d shares", len(g.Materials), len(g.Shares))
		return b, r.Err
	}
	total := 0.0
	for i, m := range g.Materials {
		l, err := m.law()
		if err != nil {
			return b, err
		}
		share := r.Within("the share of "+m.Name, shares[i], "1", 0, 1, 0)
		b.laws, b.shares, total = append(b.laws, l), append(b.shares, share), total+share
	}
	if math.Abs(total-1) > 1e-6 {
		r.Fail("the shares of its materials add up to %.6g %%, not 100 %%", 100*total)
	}
	return b, r.Err
}

// moment is the magnetisation per mass, A·m²/kg, in a field outside.
func (b body) moment(h float64) float64 {
	sum := 0.0
	for i, l := range b.laws {
		sum += b.shares[i] * l.magnetisation(h, b.factor) / l.density
	}
	return sum
}

func (b body) density() float64 {
	volume := 0.0
	for i, l := range b.laws {
		volume += b.shares[i] / l.density
	}
	return 1 / volume
}

// pull is the force per mass towards the poles, N/kg, at a height.
func (b body) pull(s shape, height float64) float64 {
	density, gradient := s.at(height)
	return b.moment(density/vacuumPermeability) * gradient
}

// through carries the uncertainty of a grain's figures, and of others.
func (g Grain) through(f func(Grain, []quantity.Quantity) (quantity.Quantity, error), others ...quantity.Quantity) (quantity.Quantity, error) {
	all := append([]quantity.Quantity(nil), others...)
	all = append(all, g.Aspect)
	all = append(all, g.Shares...)
	for _, m := range g.Materials {
		all = append(all, m.Density, m.Susceptibility, m.Saturation)
	}
	if err := g.sumsUp(); err != nil {
		return quantity.Quantity{}, err
	}
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		one := Grain{Aspect: fields.Keep(g.Aspect, v[len(others)])}
		rest := v[len(others)+1:]
		one.Shares, rest = rest[:len(g.Shares)], rest[len(g.Shares):]
		if n := len(one.Shares); n > 1 { // so that a step in one share, for its influence, is taken from the last
			one.Shares[n-1] = quantity.Number(1).Sub(quantity.Sum(one.Shares[:n-1]...))
		}
		for i, m := range g.Materials {
			one.Materials = append(one.Materials, Material{m.Name, rest[3*i], rest[3*i+1], fields.Keep(m.Saturation, rest[3*i+2]), m.Source})
		}
		return f(one, v[:len(others)])
	}, all...)
}

// sumsUp refuses shares that do not add up in every sample.
func (g Grain) sumsUp() error {
	if _, err := g.body(); err != nil || len(g.Shares) < 2 {
		return err
	}
	if spread := quantity.Sum(g.Shares...).StdDev().SI(); spread > 1e-6 {
		return fmt.Errorf("magnetic: a grain: its uncertain shares add up to 1 only on average; write the last as 1 minus the others")
	}
	return nil
}

// Moment is the magnetisation per mass of the grain,
//
//	σ = Σ w·M(H₀)/ρ
//
// over its materials with their mass shares w, each magnetised in the field H₀ as
// Material says.
//
// Units: field as in kA/m; in A·m²/kg, which is emu/g.
//
// Range: as Material and MaxwellGarnett.
//
// Errors: a grain without materials, with shares that do not add up, or with a
// material that lacks a figure; a field below 0.
//
// Source: moments add up; J.C. Maxwell Garnett for the inclusions.
func (g Grain) Moment(field quantity.Quantity) (quantity.Quantity, error) {
	return g.through(func(g Grain, v []quantity.Quantity) (quantity.Quantity, error) {
		b, err := g.body()
		if err != nil {
			return quantity.Quantity{}, err
		}
		r := fields.Of("magnetic: a grain")
		return quantity.Of(b.moment(r.AtLeast("the field", v[0], "A/m", 0)), "A m2/kg"), r.Err
	}, field)
}

// Pull is the force per mass on the grain at a place where the flux density is B
// and changes by dB/dx:
//
//	f = σ(B/µ₀)·dB/dx,  for a paramagnetic grain χ/ρ·B/µ₀·dB/dx
//
// Units: flux density as in T, gradient as in T/m; in N/kg, to be compared with
// gravity in m/s².
//
// Range: grains small against the length over which the field changes.
//
// Errors: as Moment; a flux density or gradient below 0.
//
// Source: force on a dipole; J. Svoboda, Magnetic Techniques for the Treatment of
// Materials (2004), ch. 1 (from memory).
func (g Grain) Pull(density, gradient quantity.Quantity) (quantity.Quantity, error) {
	return g.through(func(g Grain, v []quantity.Quantity) (quantity.Quantity, error) {
		b, err := g.body()
		if err != nil {
			return quantity.Quantity{}, err
		}
		r := fields.Of("magnetic: a grain")
		t, dt := r.AtLeast("the flux density", v[0], "T", 0), r.AtLeast("the gradient", v[1], "T/m", 0)
		return quantity.Of(b.moment(t/vacuumPermeability)*dt, "N/kg"), r.Err
	}, density, gradient)
}

// Force is the force on a volume of a linear material,
//
//	F = V·χ·(dB²/dx)/(2µ₀)
//
// from the susceptibility it shows from outside.
//
// Units: volume, susceptibility as a plain number, and dB²/dx as in T²/m; in N.
//
// Range: far below saturation. Pass Apparent's result for what magnetises
// strongly.
//
// Errors: a volume not above 0; quantities of another kind.
//
// Source: J.C. Maxwell; I.E. Irodov, Problems in General Physics.
func Force(volume, susceptibility, gradientOfSquare quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("magnetic: a force")
		space, chi, slope := r.Positive("the volume", v[0], "m3"), r.Number("the susceptibility", v[1], "1"), r.Number("the gradient of B²", v[2], "T2/m")
		return quantity.Of(space*chi*slope/(2*vacuumPermeability), "N"), r.Err
	}, volume, susceptibility, gradientOfSquare)
}

// bodies are the grains of a stream's particle classes, with stated materials
// before those of the table.
func bodies(c *stream.Classes, stated []Material, aspect quantity.Quantity) ([]body, error) {
	if err := known(c, stated); err != nil {
		return nil, err
	}
	all := make([]body, c.Particles())
	for j := range all {
		p := c.Particle(j)
		g := Grain{Aspect: aspect}
		for _, part := range p.Parts {
			m, err := materialOf(part, stated)
			if err != nil {
				return nil, fmt.Errorf("%w (in %s)", err, p.Name)
			}
			g.Materials, g.Shares = append(g.Materials, m), append(g.Shares, part.Share)
		}
		var err error
		if all[j], err = g.body(); err != nil {
			return nil, fmt.Errorf("%w (in %s)", err, p.Name)
		}
	}
	return all, nil
}

// known refuses a stated material that no particle holds: its figures would be
// passed over without a word.
func known(c *stream.Classes, stated []Material) error {
	var held []string
	for j := range c.Particles() {
		for _, part := range c.Particle(j).Parts {
			if !slices.Contains(held, part.Mineral.Name) {
				held = append(held, part.Mineral.Name)
			}
		}
	}
	for _, m := range stated {
		if !slices.ContainsFunc(held, func(name string) bool { return strings.EqualFold(name, m.Name) }) {
			return fmt.Errorf("magnetic: material %q is no mineral of the stream, which holds %s", m.Name, strings.Join(held, ", "))
		}
	}
	return nil
}

func materialOf(part stream.Part, stated []Material) (Material, error) {
	for _, m := range stated {
		if strings.EqualFold(m.Name, part.Mineral.Name) {
			if m.Density.IsNothing() && part.Mineral.Density.Known() {
				m.Density = part.Mineral.Density.Low.Add(part.Mineral.Density.High).Mul(quantity.Number(0.5))
			}
			return m, nil
		}
	}
	return OfMineral(part.Mineral)
}
