package stream

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"cobber/stdlib/quantity"
)

// Classes is the grid on which all streams of a flowsheet are told: size classes
// times particle classes. It does not change; streams share it by pointer.
type Classes struct {
	openings  []quantity.Quantity // coarse to fine; the upper bounds of the size classes
	metres    []float64           // the openings
	middles   []float64           // the middle sizes, in metres
	particles []Particle
	density   []float64 // kg/m³; 0 where a mineral lacks one
	minerals  []string
	content   [][]float64 // mineral × particle
	known     sync.Map    // name of a component -> []float64, its content by particle
}

// NewClasses is the grid of the given openings and particles. Size class i lies
// between opening i and the next; the first opening is the top size, above which
// there is nothing, and the last class runs from the last opening down to 0.
//
// Units: openings are lengths.
//
// Range: one opening or more, coarse to fine, and one class of particles or more.
//
// Errors: openings that are no lengths above 0 or do not fall; no particles; two
// of one name; particles whose shares do not add up; one name of a mineral with
// two formulas.
//
// Source: the definition of a size class, ISO 9276-1.
func NewClasses(openings []quantity.Quantity, particles ...Particle) (*Classes, error) {
	if len(openings) == 0 || len(particles) == 0 {
		return nil, fmt.Errorf("stream: classes need at least one opening and one class of particles; there are %d and %d", len(openings), len(particles))
	}
	c := &Classes{openings: slices.Clone(openings), particles: slices.Clone(particles)}
	if err := c.readOpenings(); err != nil {
		return nil, err
	}
	if err := c.readParticles(); err != nil {
		return nil, err
	}
	return c, nil
}

func (c *Classes) readOpenings() error {
	for i, opening := range c.openings {
		x, err := opening.Value("m")
		if err != nil || !(x > 0) || math.IsInf(x, 0) {
			return fmt.Errorf("stream: opening %d is a length above 0, and %v is not", i+1, opening)
		}
		if i > 0 && !(x < c.metres[i-1]) {
			return fmt.Errorf("stream: openings stand coarse to fine, and %v is not finer than %v before it", opening, c.openings[i-1])
		}
		c.metres = append(c.metres, x)
	}
	for i, x := range c.metres {
		if i+1 < len(c.metres) {
			c.middles = append(c.middles, math.Sqrt(x*c.metres[i+1]))
			continue
		}
		c.middles = append(c.middles, x/2)
	}
	return nil
}

func (c *Classes) readParticles() error {
	formulas := map[string]string{}
	for j, p := range c.particles {
		if strings.TrimSpace(p.Name) == "" {
			return fmt.Errorf("stream: class of particles %d needs a name", j+1)
		}
		if i, _ := c.FindParticle(p.Name); i < j {
			return fmt.Errorf("stream: there are two classes of particles called %s", p.Name)
		}
		if _, err := p.shares(); err != nil {
			return err
		}
		for _, part := range p.Parts {
			name, formula := part.Mineral.Name, part.Mineral.Formula.String()
			if before, ok := formulas[name]; ok && before != formula {
				return fmt.Errorf("stream: %s is a mineral of two formulas, %s and %s; give them two names", name, before, formula)
			}
			formulas[name] = formula
		}
		density := 0.0
		if rho, err := p.Density(); err == nil {
			density = rho.SI()
		}
		c.density = append(c.density, density)
	}
	c.minerals = mineralsOf(c.particles)
	for _, name := range c.minerals {
		row := make([]float64, len(c.particles))
		for j, p := range c.particles {
			row[j] = p.Share(name)
		}
		c.content = append(c.content, row)
	}
	return nil
}

// Sizes is the number of size classes.
func (c *Classes) Sizes() int { return len(c.openings) }

// Particles is the number of particle classes.
func (c *Classes) Particles() int { return len(c.particles) }

// Openings are the openings that bound the size classes from above, coarse to
// fine.
func (c *Classes) Openings() []quantity.Quantity { return slices.Clone(c.openings) }

// Minerals are the names of all minerals, in the order in which particles name
// them.
func (c *Classes) Minerals() []string { return slices.Clone(c.minerals) }

// Upper is the upper bound of size class i. It is for i from 0 to Sizes()-1, as
// an index of a slice is, and so are the methods below.
func (c *Classes) Upper(i int) quantity.Quantity { return c.openings[i] }

// Lower is the lower bound of size class i; 0 for the last.
func (c *Classes) Lower(i int) quantity.Quantity {
	if i == len(c.openings)-1 {
		return c.openings[i].Unit().Quantity(0)
	}
	return c.openings[i+1]
}

// Middle is the geometric mean of the bounds of size class i; half the upper
// bound for the last, which reaches down to 0.
func (c *Classes) Middle(i int) quantity.Quantity {
	return c.openings[i].Mul(quantity.Number(c.middles[i] / c.metres[i]))
}

// Metres is Middle as a plain number, in metres.
func (c *Classes) Metres(i int) float64 { return c.middles[i] }

// Size is the name of size class i, as the trade writes it: "−300 +212 µm".
func (c *Classes) Size(i int) string {
	upper := c.openings[i]
	if i == len(c.openings)-1 {
		return "−" + upper.String()
	}
	lower := c.openings[i+1]
	value, err := upper.Value(lower.Unit().String())
	if err != nil {
		return "−" + upper.String() + " +" + lower.String()
	}
	return fmt.Sprintf("−%.6g +%v", value, lower)
}

// Particle is particle class j.
func (c *Classes) Particle(j int) Particle { return c.particles[j] }

// ParticleNames are the names of all particle classes.
func (c *Classes) ParticleNames() []string {
	names := make([]string, len(c.particles))
	for j, p := range c.particles {
		names[j] = p.Name
	}
	return names
}

// FindParticle is the index of the particle class of a name.
//
// Units: a plain index, from 0.
//
// Range: upper and lower case are alike.
//
// Errors: there is none of that name, with the names there are.
//
// Source: the classes as given.
func (c *Classes) FindParticle(name string) (int, error) {
	for j, p := range c.particles {
		if strings.EqualFold(p.Name, name) {
			return j, nil
		}
	}
	return len(c.particles), fmt.Errorf("stream: no class of particles called %q; there are %s", name, strings.Join(c.ParticleNames(), ", "))
}

// Content is the mass share of a mineral, element or oxide in each particle
// class.
//
// Units: plain numbers, one for each particle class.
//
// Range: as Particle.Content, for the minerals of all particles.
//
// Errors: as Particle.Content.
//
// Source: atomic weights of IUPAC 2021.
func (c *Classes) Content(what string) ([]float64, error) {
	shares, err := c.contentOf(what)
	return slices.Clone(shares), err
}

// contentOf is Content, remembered.
func (c *Classes) contentOf(what string) ([]float64, error) {
	if shares, ok := c.known.Load(what); ok {
		return shares.([]float64), nil
	}
	found, err := findComponent(what, c.particles)
	if err != nil {
		return nil, err
	}
	shares := make([]float64, len(c.particles))
	for j, p := range c.particles {
		for _, part := range p.Parts {
			shares[j] += part.Share.SI() * found.in(part.Mineral)
		}
	}
	c.known.Store(what, shares)
	return shares, nil
}

// densities are the densities of the particles in kg/m³, once all are known.
func (c *Classes) densities() ([]float64, error) {
	for j, p := range c.particles {
		if c.density[j] > 0 {
			continue
		}
		if _, err := p.Density(); err != nil {
			return nil, err
		}
		return nil, errors.New("stream: " + p.Name + ": its density is not above 0")
	}
	return c.density, nil
}
