package stream

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"cobber/stdlib/mineral"
	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
)

// shareTolerance is how far shares of a whole may be from adding up to 1, for
// rounding of the figures they came from.
const shareTolerance = 1e-6

// Part is one mineral of a particle.
type Part struct {
	Mineral mineral.Mineral
	Share   quantity.Quantity // of the particle's mass
}

// Particle is a class of particles that are alike in what they consist of: free
// grains of one mineral, grains locked in others in given shares, barren ones.
type Particle struct {
	Name  string
	Parts []Part
}

// NewParticle is the class of particles of a name and parts.
//
// Units: shares of mass, as in % or plain fractions.
//
// Range: shares from 0 to 100 % that add up to 100 % within one part in a
// million; they are not rescaled.
//
// Errors: no name; no part; a mineral without a name or given twice; a share
// outside the range or with a dimension; shares that do not add up, with their
// sum.
//
// Source: the definition of a mass fraction, ISO 80000-9.
func NewParticle(name string, parts ...Part) (Particle, error) {
	p := Particle{Name: name, Parts: append([]Part(nil), parts...)}
	if strings.TrimSpace(name) == "" {
		return Particle{}, errors.New("stream: a class of particles needs a name")
	}
	if _, err := p.shares(); err != nil {
		return Particle{}, err
	}
	return p, nil
}

// Free is the class of particles that are wholly of one mineral, and has its
// name.
//
// Units: none.
//
// Range: any mineral.
//
// Errors: the mineral has no name.
//
// Source: the definition of a free (liberated) particle; common practice.
func Free(m mineral.Mineral) (Particle, error) {
	return NewParticle(m.Name, Part{m, quantity.Number(1)})
}

// Locked is the class of particles of two minerals, with the given share of the
// first by mass. Its name says so: "ilmenite 30 % in plagioclase".
//
// Units: share is one of mass, as in %.
//
// Range: above 0 and below 100 %.
//
// Errors: a share outside the range; minerals that are the same or lack a name.
//
// Source: the definition of a binary (locked) particle; common practice.
func Locked(first mineral.Mineral, share quantity.Quantity, rest mineral.Mineral) (Particle, error) {
	value, err := share.Value("wt%")
	if err != nil || !(value > 0 && value < 100) {
		return Particle{}, fmt.Errorf("stream: %s in %s: the share of a locked mineral is one of mass above 0 and below 100 %%, and %v is not", first.Name, rest.Name, share)
	}
	name := fmt.Sprintf("%s %.4g %% in %s", first.Name, value, rest.Name)
	return NewParticle(name, Part{first, share}, Part{rest, quantity.Number(1).Sub(share.To(""))})
}

// shares reads and checks the parts' shares as numbers.
func (p Particle) shares() ([]float64, error) {
	if len(p.Parts) == 0 {
		return nil, fmt.Errorf("stream: %s: a class of particles needs at least one mineral", p.Name)
	}
	shares := make([]float64, len(p.Parts))
	for i, part := range p.Parts {
		if part.Mineral.Name == "" {
			return nil, fmt.Errorf("stream: %s: part %d is a mineral without a name", p.Name, i+1)
		}
		for _, before := range p.Parts[:i] {
			if strings.EqualFold(before.Mineral.Name, part.Mineral.Name) {
				return nil, fmt.Errorf("stream: %s: %s is given twice; add its shares up", p.Name, part.Mineral.Name)
			}
		}
		value, err := part.Share.Value("wt%")
		if err != nil {
			return nil, fmt.Errorf("stream: %s: the share of %s is one of mass, as in %%, and %v is not", p.Name, part.Mineral.Name, part.Share)
		}
		if !(value >= 0 && value <= 100*(1+shareTolerance)) {
			return nil, fmt.Errorf("stream: %s: the share of %s lies between 0 and 100 %%, and %v does not", p.Name, part.Mineral.Name, part.Share)
		}
		shares[i] = value / 100
	}
	if total := numeric.Sum(shares...); math.Abs(total-1) > shareTolerance {
		return nil, fmt.Errorf("stream: %s: the shares of its minerals add up to %.6g %%, not 100 %%", p.Name, 100*total)
	}
	return shares, nil
}

// Density is the density of the particles, from the middle of each mineral's
// range,
//
//	1/ρ = Σ w/ρ
//
// with w the mass share of a mineral of density ρ.
//
// Units: a mass per volume, in g/cm³.
//
// Range: particles without pores. Uncertain shares give an uncertain density;
// DensityRange tells what the spread of the minerals makes of it.
//
// Errors: a mineral without a density, with what to do; shares that do not add
// up.
//
// Source: volumes add up; common practice.
func (p Particle) Density() (quantity.Quantity, error) {
	return p.density(func(f mineral.Figure) quantity.Quantity {
		return f.Low.Add(f.High).Mul(quantity.Number(0.5))
	})
}

// density is the density with one value taken from each mineral's range.
func (p Particle) density(take func(mineral.Figure) quantity.Quantity) (quantity.Quantity, error) {
	if _, err := p.shares(); err != nil {
		return quantity.Quantity{}, err
	}
	var volume quantity.Quantity
	for _, part := range p.Parts {
		if !part.Mineral.Density.Known() {
			return quantity.Quantity{}, noDensity(p.Name, part.Mineral.Name)
		}
		volume = volume.Add(part.Share.Div(take(part.Mineral.Density)).To("cm3/g"))
	}
	return quantity.Number(1).Div(volume).To("g/cm3"), nil
}

func noDensity(particle, of string) error {
	return fmt.Errorf("stream: %s: there is no density of %s with a source; set the mineral's Density, with Low, High and Source", particle, of)
}

// DensityRange is the lowest and the highest density the particles can have
// within the ranges of their minerals.
//
// Units: a mass per volume, in g/cm³.
//
// Range: as Density; all minerals at the low end, then all at the high end.
//
// Errors: as Density.
//
// Source: volumes add up; the sources of the minerals' figures.
func (p Particle) DensityRange() (low, high quantity.Quantity, err error) {
	if low, err = p.density(func(f mineral.Figure) quantity.Quantity { return f.Low }); err != nil {
		return low, high, err
	}
	high, err = p.density(func(f mineral.Figure) quantity.Quantity { return f.High })
	return low, high, err
}

// Share is the mass share of a mineral as a plain number; 0 if there is none of
// it.
func (p Particle) Share(name string) float64 {
	for _, part := range p.Parts {
		if sameMineral(part.Mineral, name) {
			return part.Share.SI()
		}
	}
	return 0
}

// sameMineral reports whether a mineral goes by a name, the other names of the
// table included.
func sameMineral(m mineral.Mineral, name string) bool {
	if strings.EqualFold(m.Name, strings.TrimSpace(name)) {
		return true
	}
	known, err := mineral.Find(name)
	return err == nil && known.Name == m.Name
}

// VolumeShare is the share of a mineral in the particle's volume as a plain
// number; 0 if there is none of it.
//
// Units: a plain number.
//
// Range: from 0 to 1; densities at the middle of their ranges.
//
// Errors: as Density.
//
// Source: v = w·ρ/ρₘ with ρ the particle's density and ρₘ the mineral's.
func (p Particle) VolumeShare(name string) (float64, error) {
	whole, err := p.Density()
	if err != nil {
		return 0, err
	}
	for _, part := range p.Parts {
		if sameMineral(part.Mineral, name) {
			own, err := part.Mineral.Density.Middle()
			if err != nil {
				return 0, err
			}
			return part.Share.Mul(whole).Div(own).SI(), nil
		}
	}
	return 0, nil
}

// Content is the mass share in the particle of a mineral, an element, or an
// oxide or other formula with one element beside oxygen and hydrogen: Content("Ti")
// is the titanium, Content("TiO2") the same titanium told as oxide.
//
// Units: in %. Uncertain shares give an uncertain content.
//
// Range: minerals hold what their ideal formula says.
//
// Errors: a text that names none of these; a formula with several elements that
// is no mineral of the particle; shares that do not add up.
//
// Source: atomic weights of IUPAC 2021.
func (p Particle) Content(what string) (quantity.Quantity, error) {
	if _, err := p.shares(); err != nil {
		return quantity.Quantity{}, err
	}
	c, err := findComponent(what, []Particle{p})
	if err != nil {
		return quantity.Quantity{}, err
	}
	total := quantity.Of(0, "%")
	for _, part := range p.Parts {
		total = total.Add(part.Share.Mul(quantity.Number(c.in(part.Mineral))).To("%"))
	}
	return total, nil
}

// String is the name, and the minerals with their mass shares.
func (p Particle) String() string {
	texts := make([]string, len(p.Parts))
	for i, part := range p.Parts {
		texts[i] = fmt.Sprintf("%s %.4g", part.Mineral.Name, part.Share.Certain().To("%"))
	}
	return p.Name + ": " + strings.Join(texts, ", ")
}
