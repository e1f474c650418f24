package place

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"cobber/stdlib/quantity"
)

// Gas is a mixture of gases by volume. Make one with NewGas; the zero Gas is
// none.
type Gas struct{ parts []Part }

// Part is one gas of a mixture with its share by volume.
type Part struct {
	Formula string
	Share   quantity.Quantity
}

// species is what is known of one gas, in SI units.
type species struct {
	molar, viscosity, at, sutherland float64
	source                           string
}

const gasConstant = 8.31446261815324 // J/(mol·K), exact since 2019 (SI brochure, 9th edition)

// NewGas is a mixture of known gases: N2, O2, Ar, CO2. What is missing to the
// whole is shared out among them, as traces are left out of tables.
//
// Units: shares by volume, as 96 %.
//
// Range: shares that add up to between 98 % and 100.1 %.
//
// Errors: a gas that is not known; shares that are no numbers, below 0, or add up
// to something else, or are uncertain; no gas at all.
//
// Source: common practice.
func NewGas(parts ...Part) (Gas, error) {
	var sum float64
	for _, part := range parts {
		if _, ok := gases[part.Formula]; !ok {
			return Gas{}, fmt.Errorf("place: the gas %q is not known; known are %s", part.Formula, strings.Join(slices.Sorted(maps.Keys(gases)), ", "))
		}
		x := part.Share.SI()
		if !part.Share.Dimension().IsOne() || !(x >= 0) {
			return Gas{}, fmt.Errorf("place: the share of %s is a number not below 0, and %v is not", part.Formula, part.Share)
		}
		if part.Share.IsUncertain() {
			return Gas{}, fmt.Errorf("place: the share of %s, %v, is uncertain: a gas is made of plain shares; make one for each end", part.Formula, part.Share)
		}
		sum += x
	}
	if sum < 0.98 || sum > 1.001 {
		return Gas{}, fmt.Errorf("place: the shares of a gas add up to %.4g, not to 1 (at least 0.98, the rest being traces)", sum)
	}
	return Gas{slices.Clone(parts)}, nil
}

// String lists the gases with their shares.
func (g Gas) String() string {
	if len(g.parts) == 0 {
		return "none"
	}
	var texts []string
	for _, part := range g.parts {
		texts = append(texts, fmt.Sprintf("%s %v", part.Formula, part.Share))
	}
	return strings.Join(texts, ", ")
}

// shares add up to 1.
func (g Gas) shares() []float64 {
	shares := make([]float64, len(g.parts))
	var sum float64
	for i, part := range g.parts {
		shares[i] = part.Share.SI()
		sum += shares[i]
	}
	for i := range shares {
		shares[i] /= sum
	}
	return shares
}

// MolarMass is the mean mass of a mole of the gas, in g/mol; 0 for none.
func (g Gas) MolarMass() quantity.Quantity {
	var molar float64
	for i, x := range g.shares() {
		molar += x * gases[g.parts[i].Formula].molar
	}
	return quantity.Of(1000*molar, "g/mol")
}

// viscosity at a temperature in K: each gas by Sutherland, mixed by Wilke.
func (g Gas) viscosity(kelvin float64) float64 {
	shares := g.shares()
	pure := make([]float64, len(shares))
	for i, part := range g.parts {
		s := gases[part.Formula]
		pure[i] = s.viscosity * math.Pow(kelvin/s.at, 1.5) * (s.at + s.sutherland) / (kelvin + s.sutherland)
	}
	var mixed float64
	for i := range shares {
		var weight float64
		for j := range shares {
			mi, mj := gases[g.parts[i].Formula].molar, gases[g.parts[j].Formula].molar
			root := 1 + math.Sqrt(pure[i]/pure[j])*math.Pow(mj/mi, 0.25)
			weight += shares[j] * root * root / math.Sqrt(8*(1+mi/mj))
		}
		mixed += shares[i] * pure[i] / weight
	}
	return mixed
}

// Viscosity is the dynamic viscosity of the gas at a temperature,
//
//	µ = µ₀·(T/T₀)^1.5·(T₀ + S)/(T + S)
//
// for each gas, mixed by Wilke's rule.
//
// Units: a temperature; the result in Pa·s.
//
// Range: 100 to 700 K and pressures up to some 10 bar, where viscosity does not
// depend on pressure; within 2 % of tables. Hotter, Sutherland's law falls behind
// them (4 % for nitrogen at 1000 K).
//
// Errors: no gas; a temperature outside the range.
//
// Source: W. Sutherland, Phil. Mag. 36 (1893) 507, constants of F.M. White,
// Viscous Fluid Flow, table 1-2; C.R. Wilke, J. Chem. Phys. 18 (1950) 517.
func (g Gas) Viscosity(temperature quantity.Quantity) (quantity.Quantity, error) {
	if len(g.parts) == 0 {
		return quantity.Quantity{}, fmt.Errorf("place: a vacuum has no viscosity")
	}
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		kelvin, err := kelvins(v[0])
		if err != nil {
			return quantity.Quantity{}, err
		}
		if kelvin < 100 || kelvin > 700 {
			return quantity.Quantity{}, fmt.Errorf("place: viscosities are known from 100 to 700 K, and %v lies outside", v[0])
		}
		return quantity.Of(g.viscosity(kelvin), "Pa·s"), nil
	}, temperature)
}

// kelvins is a temperature above absolute zero, in K.
func kelvins(temperature quantity.Quantity) (float64, error) {
	kelvin, err := temperature.Value("K")
	if err != nil || !(kelvin > 0) || math.IsInf(kelvin, 0) {
		return 0, fmt.Errorf("place: a temperature above absolute zero, and %v is none", temperature)
	}
	return kelvin, nil
}

// GasDensity is the density of the gas of a place at a temperature, 0 in a
// vacuum:
//
//	ρ = p·M/(R·T)
//
// Units: a temperature; the result in kg/m³.
//
// Range: dilute gases: all of those here.
//
// Errors: what is no temperature; a place with a pressure but no gas; a pressure
// that is none or below 0.
//
// Source: the law of ideal gases.
func (p Place) GasDensity(temperature quantity.Quantity) (quantity.Quantity, error) {
	if err := p.hasGas(temperature); err != nil {
		return quantity.Quantity{}, err
	}
	if p.IsVacuum() {
		return quantity.Of(0, "kg/m³"), nil
	}
	absolute := temperature.To("K")
	constant := quantity.Of(gasConstant, "J/(mol·K)")
	return p.Pressure.Mul(p.Gas.MolarMass()).Div(constant.Mul(absolute)).To("kg/m³"), nil
}

// hasGas is what the methods of gases ask of a place.
func (p Place) hasGas(temperature quantity.Quantity) error {
	if _, err := kelvins(temperature); err != nil {
		return err
	}
	if p.IsVacuum() {
		return nil
	}
	if x, err := p.Pressure.Value("Pa"); err != nil || !(x > 0) || math.IsInf(x, 0) {
		return fmt.Errorf("place: the pressure of %s, %v, is none", p.Name, p.Pressure)
	}
	if len(p.Gas.parts) == 0 {
		return fmt.Errorf("place: %s has a pressure of %v but no gas; give it one with NewGas", p.Name, p.Pressure)
	}
	return nil
}

// FreePath is the mean free path of the gas of a place at a temperature:
//
//	λ = µ/p·√(π·R·T/(2·M))
//
// Units: a temperature; the result in m.
//
// Range: as Viscosity.
//
// Errors: as Viscosity and GasDensity; a vacuum, where paths end at the walls.
//
// Source: kinetic theory of gases, in the form used for the slip of small
// particles (W.C. Hinds, Aerosol Technology).
func (p Place) FreePath(temperature quantity.Quantity) (quantity.Quantity, error) {
	if err := p.hasGas(temperature); err != nil {
		return quantity.Quantity{}, err
	}
	viscosity, err := p.Gas.Viscosity(temperature)
	if err != nil {
		return quantity.Quantity{}, err
	}
	half := quantity.Of(math.Pi/2*gasConstant, "J/(mol·K)")
	speed := half.Mul(temperature.To("K")).Div(p.Gas.MolarMass()).Sqrt()
	return viscosity.Div(p.Pressure).Mul(speed).To("m"), nil
}
