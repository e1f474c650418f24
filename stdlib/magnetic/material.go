package magnetic

import (
	"fmt"
	"math"
	"strings"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/mineral"
	"cobber/stdlib/quantity"
)

// Material is how one substance magnetises. A grain of it has no remanence: it
// consists of many domains, as grains above some micrometres do.
type Material struct {
	Name           string
	Density        quantity.Quantity
	Susceptibility quantity.Quantity // of the volume, SI, a plain number: what the substance itself has in weak fields, without the effect of a grain's shape; in a cell, 0`%` for one that is not magnetic
	Saturation     quantity.Quantity // the most it magnetises, as in kA/m; nothing if it does not saturate in fields of separators
	Source         string            // where the figures are from
}

// saturating are the substances of which the magnetisation ends. Their
// susceptibility is that of the substance; as it is large against 1/N, the pull on
// a compact grain hardly depends on it.
var saturating = []struct {
	name                       string
	susceptibility, saturation float64 // SI; kA/m
	source                     string
}{
	{"iron", 200, 1714, "saturation: 217.6 A·m²/kg at 293 K times 7874 kg/m³, handbook value from memory; initial susceptibility of soft iron: order of magnitude from memory"},
	{"magnetite", 12, 480, "saturation: 480 kA/m, D.J. Dunlop, Ö. Özdemir, Rock Magnetism (1997), as quoted in glossaries of rock magnetism; intrinsic susceptibility of large grains: the same book, from memory"},
	{"maghemite", 12, 380, "saturation: 380 kA/m, D.J. Dunlop, Ö. Özdemir, Rock Magnetism (1997), as quoted in glossaries of rock magnetism; susceptibility taken as that of magnetite"},
	{"nickel", 100, 508, "saturation: 0.60 Bohr magnetons an atom, W.D. Callister, Materials Science and Engineering, ex. 18.1; initial susceptibility: order of magnitude from memory"},
}

// widest is the range of a susceptibility, high over low, whose middle is still
// taken.
const widest = 10

// OfMineral is the material of a mineral. Iron, magnetite, maghemite and nickel
// have a saturation from a small table here; every other mineral has the middle of
// the susceptibility in its own figures and no saturation; one that is called
// diamagnetic without a figure has 0.
//
// Units: a density and a plain number.
//
// Range: a susceptibility known within a factor of ten. Natural minerals vary
// with impurities and intergrowths; a measured figure is better than any table's.
//
// Errors: a mineral without density or susceptibility, or with one that spans
// more than a factor of ten, as ilmenite's and hematite's do: state a Material.
//
// Source: that of each figure, in the field Source; "diamagnetic is 0" is common
// practice, as their pull is a hundredth of a paramagnetic grain's.
func OfMineral(m mineral.Mineral) (Material, error) {
	if !m.Density.Known() {
		return Material{}, fmt.Errorf("magnetic: %s has no density in its figures; state a Material of that name with a density", m.Name)
	}
	density := m.Density.Low.Add(m.Density.High).Mul(quantity.Number(0.5))
	for _, s := range saturating {
		if strings.EqualFold(s.name, m.Name) {
			return Material{m.Name, density, quantity.Number(s.susceptibility), quantity.Of(s.saturation, "kA/m"), s.source}, nil
		}
	}
	kappa := m.Susceptibility
	if !kappa.Known() {
		if m.Magnetism.Class == "diamagnetic" {
			return Material{Name: m.Name, Density: density, Susceptibility: quantity.Number(0), Source: m.Magnetism.Source}, nil
		}
		return Material{}, fmt.Errorf("magnetic: there is no susceptibility with a source for %s; measure it and state a Material of that name", m.Name)
	}
	low, high := kappa.Low.SI(), kappa.High.SI()
	if low > 0 && high > widest*low {
		return Material{}, fmt.Errorf("magnetic: the susceptibility of %s is given as %v, too wide for its middle to mean anything; measure it and state a Material of that name", m.Name, kappa)
	}
	return Material{Name: m.Name, Density: density, Susceptibility: quantity.Number((low + high) / 2), Source: kappa.Source}, nil
}

// Find is OfMineral for a name in the table of minerals.
//
// Units: as OfMineral.
//
// Range: as OfMineral.
//
// Errors: a name that the table lacks; as OfMineral.
//
// Source: as OfMineral.
func Find(name string) (Material, error) {
	m, err := mineral.Find(name)
	if err != nil {
		return Material{}, err
	}
	return OfMineral(m)
}

// law is a material in numbers.
type law struct {
	density, chi, saturation float64 // kg/m³, 1, A/m; saturation +Inf if there is none
}

func (m Material) law() (law, error) {
	r := fields.Of("magnetic: " + m.Name)
	l := law{r.Positive("Density", m.Density, "kg/m³"), r.Number("Susceptibility", m.Susceptibility, "1"), math.Inf(1)}
	if !m.Saturation.IsNothing() {
		l.saturation = r.Positive("Saturation", m.Saturation, "A/m")
	}
	if !(l.chi > -1) {
		r.Fail("Susceptibility is above −1, which a superconductor has, and %v is not", m.Susceptibility)
	}
	return l, r.Err
}

// magnetisation is M in A/m of a grain with the demagnetising factor n in the
// field h outside. With H = h − n·M inside, Fröhlich's and Kennelly's law
// M = χH/(1 + χH/Ms) is a quadratic equation for M.
func (l law) magnetisation(h, n float64) float64 {
	if l.chi <= 0 || math.IsInf(l.saturation, 1) {
		return l.chi * h / (1 + n*l.chi)
	}
	b := 1 + l.chi*h/l.saturation + l.chi*n
	return 2 * l.chi * h / (b + math.Sqrt(b*b-4*l.chi*l.chi*n*h/l.saturation))
}

// Magnetisation is the magnetic moment per volume of a grain of the material in
// a field H₀, by the law of Fröhlich and Kennelly with the field inside:
//
//	M = χ·H/(1 + χ·H/Ms),  H = H₀ − N·M
//
// Units: field as in A/m or kA/m, and so is the result; factor is the
// demagnetising factor N, a plain number, 1/3 for a sphere; nothing for 0.
//
// Range: large grains without remanence. Without saturation M = χ·H₀/(1 + N·χ).
// The law rises somewhat too slowly towards saturation; between a tenth and
// nine tenths of it, real materials may differ by some ten per cent.
//
// Errors: a material that lacks a figure; a field that is none or below 0; a
// factor outside 0 to 1.
//
// Source: O. Fröhlich 1881 and A.E. Kennelly 1891, as in R.M. Bozorth,
// Ferromagnetism (1951), ch. 11 (from memory); uniformly magnetised ellipsoid: J.C.
// Maxwell, Treatise, art. 437.
func (m Material) Magnetisation(field, factor quantity.Quantity) (quantity.Quantity, error) {
	if factor.IsNothing() {
		factor = quantity.Number(0)
	}
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		l, err := Material{m.Name, v[2], v[3], m.certainSaturation(v[4]), ""}.law()
		if err != nil {
			return quantity.Quantity{}, err
		}
		r := fields.Of("magnetic: " + m.Name)
		h := r.AtLeast("the field", v[0], "A/m", 0)
		n := r.Within("the demagnetising factor", v[1], "1", 0, 1, 0)
		return quantity.Of(l.magnetisation(h, n), "A/m").To("kA/m"), r.Err
	}, field, factor, m.Density, m.Susceptibility, m.Saturation)
}

// certainSaturation keeps a missing saturation missing on its way through samples.
func (m Material) certainSaturation(v quantity.Quantity) quantity.Quantity {
	if m.Saturation.IsNothing() {
		return quantity.Quantity{}
	}
	return v
}

// Apparent is the susceptibility that a grain seems to have from outside,
//
//	χ′ = χ/(1 + N·χ)
//
// which never exceeds 1/N however large χ is.
//
// Units: factor is the demagnetising factor N; plain numbers.
//
// Range: far below saturation; N from 0 to 1.
//
// Errors: a susceptibility of −1 or below; a factor outside 0 to 1.
//
// Source: H = H₀ − N·M; J.A. Osborn, Phys. Rev. 67 (1945) 351.
func (m Material) Apparent(factor quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("magnetic: " + m.Name)
		chi, n := r.Number("Susceptibility", v[0], "1"), r.Within("the demagnetising factor", v[1], "1", 0, 1, 0)
		if !(chi > -1) {
			r.Fail("Susceptibility is above −1, and %v is not", v[0])
		}
		return quantity.Number(chi / (1 + n*chi)), r.Err
	}, m.Susceptibility, factor)
}

// PerMass is the susceptibility per mass, χ/ρ, as in m³/kg.
//
// Units: a volume per mass.
//
// Range: any density above 0.
//
// Errors: a density or susceptibility that is missing or of another kind.
//
// Source: the definition, as in ISO 80000-6 for the susceptibility of volume.
func (m Material) PerMass() (quantity.Quantity, error) {
	if _, err := m.law(); err != nil {
		return quantity.Quantity{}, err
	}
	return m.Susceptibility.Div(m.Density).To("m3/kg"), nil
}

// AtTemperature is the paramagnetic material at another temperature, by Curie's
// and Weiss's law:
//
//	χ(T) = χ(T₀)·(T₀ − θ)/(T − θ)
//
// Units: from and to are temperatures; weiss is θ, as in K, below 0 where ions
// oppose one another; nothing for 0, Curie's law.
//
// Range: paramagnetic minerals above their ordering temperature. Cold places
// make weakly magnetic minerals stronger.
//
// Errors: a material that saturates; temperatures not above 0 K and θ.
//
// Source: P. Curie 1895, P. Weiss 1907; C. Kittel, Introduction to Solid State
// Physics, ch. 11.
func (m Material) AtTemperature(from, to, weiss quantity.Quantity) (Material, error) {
	if !m.Saturation.IsNothing() {
		return Material{}, fmt.Errorf("magnetic: %s saturates; the law of Curie and Weiss is for paramagnetic materials", m.Name)
	}
	if weiss.IsNothing() {
		weiss = quantity.Of(0, "K")
	}
	chi, err := quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("magnetic: " + m.Name)
		chi, first, second, theta := r.Number("Susceptibility", v[0], "1"), r.Positive("the temperature", v[1], "K"), r.Positive("the temperature", v[2], "K"), r.Number("the Weiss temperature", v[3], "K")
		if !(first > theta && second > theta) {
			r.Fail("the law holds above the Weiss temperature, %v, and %v or %v is not", v[3], v[1], v[2])
		}
		return quantity.Number(chi * (first - theta) / (second - theta)), r.Err
	}, m.Susceptibility, from, to, weiss)
	m.Susceptibility = chi
	return m, err
}
