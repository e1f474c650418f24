package mineral

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"cobber/stdlib/quantity"
)

// End is an end-member of a solid solution and its share of the formula units.
type End struct {
	Mineral Mineral
	Moles   quantity.Quantity // mole fraction
}

// Solution is a mineral between end-members, such as an olivine of 90 % forsterite
// and 10 % fayalite, or a plagioclase. Its formula is the mean of theirs; its
// density follows from their molar volumes,
//
//	ρ = Σ x·M / Σ (x·M/ρᵢ)
//
// with x the mole fraction of an end-member of molar mass M and density ρᵢ.
// Hardness is the range that the ends span. Susceptibilities of dia- and
// paramagnetic ends add up by volume; those of ordered ones do not, and are left out.
// A behaviour is taken over where the ends share it.
//
// Units: mole fractions, as in mol% or plain %, of formula units that hold the same
// number of sites: Mg2SiO4 with Fe2SiO4, not with MgSi0.5O2.
//
// Range: fractions that add up to 100 % within one part in a million. Volumes add
// up in an ideal solution; those of olivines and plagioclases do so within a
// per cent.
//
// Errors: no name; fewer than two ends; one given twice; a fraction outside 0 to
// 100 % or of mass or volume; fractions that do not add up.
//
// Source: the definition of an ideal solution; the sources of the ends' figures.
func Solution(name string, ends ...End) (Mineral, error) {
	if strings.TrimSpace(name) == "" || len(ends) < 2 {
		return Mineral{}, fmt.Errorf("mineral: a solid solution needs a name and at least two end-members; %q has %d", name, len(ends))
	}
	moles, err := fractionsOf(name, ends)
	if err != nil {
		return Mineral{}, err
	}
	formula, err := meanFormula(ends, moles)
	if err != nil {
		return Mineral{}, fmt.Errorf("mineral: %s: %w", name, err)
	}
	m := Mineral{Name: name, Formula: formula, names: []string{strings.ToLower(name)}}
	m.Density = mixedDensity(ends, moles)
	m.Hardness = spannedHardness(ends)
	m.Magnetism = sharedBehaviour(ends, func(m Mineral) Behaviour { return m.Magnetism })
	m.Conductivity = sharedBehaviour(ends, func(m Mineral) Behaviour { return m.Conductivity })
	if weak, source := weaklyMagnetic(ends); weak {
		m.Susceptibility = mixedSusceptibility(ends, moles)
		if m.Magnetism.Class == "" {
			m.Magnetism = Behaviour{"paramagnetic", source}
		}
	}
	return m, nil
}

// fractionsOf reads the mole fractions.
func fractionsOf(name string, ends []End) ([]float64, error) {
	moles := make([]float64, len(ends))
	total := 0.0
	for i, end := range ends {
		for _, before := range ends[:i] {
			if before.Mineral.Name == end.Mineral.Name {
				return nil, fmt.Errorf("mineral: %s: the end-member %s is given twice", name, end.Mineral.Name)
			}
		}
		x, err := end.Moles.Value("mol%")
		if err != nil || !(x >= 0 && x <= 100) {
			return nil, fmt.Errorf("mineral: %s: the share of %s is a mole fraction from 0 to 100 %%, and %v is not", name, end.Mineral.Name, end.Moles)
		}
		moles[i] = x / 100
		total += x
	}
	if math.Abs(total-100) > 1e-4 {
		return nil, fmt.Errorf("mineral: %s: the mole fractions add up to %.6g %%, not 100 %%", name, total)
	}
	return moles, nil
}

// meanFormula adds the atoms up, in the order in which the ends name them.
func meanFormula(ends []End, moles []float64) (Formula, error) {
	counts := map[string]float64{}
	var order []string
	for i, end := range ends {
		for _, symbol := range end.Mineral.Formula.Elements() {
			if counts[symbol] == 0 && moles[i] > 0 {
				order = append(order, symbol)
			}
			counts[symbol] += moles[i] * end.Mineral.Formula.Atoms(symbol)
		}
	}
	for _, last := range []string{"O", "H", "F"} { // anions stand behind
		for k, symbol := range order {
			if symbol == last {
				order = append(append(order[:k:k], order[k+1:]...), last)
				break
			}
		}
	}
	if len(order) == 0 {
		return Formula{}, errors.New("the end-members have no formula")
	}
	var text strings.Builder
	for _, symbol := range order {
		text.WriteString(counted(symbol, counts[symbol]))
	}
	return ParseFormula(text.String())
}

// counted is an element with the number of its atoms, as a formula writes it. A
// fraction behind oxygen could be read as the dot of a compound, so oxygen then
// stands in brackets.
func counted(symbol string, count float64) string {
	count = math.Round(count*1e9) / 1e9
	text := strconv.FormatFloat(count, 'f', -1, 64)
	switch {
	case count == 0:
		return ""
	case count == 1:
		return symbol
	case symbol == "O" && count != math.Trunc(count):
		return "(O)" + text
	}
	return symbol + text
}

// volumeOf is what x moles of an end-member take, in cm³, at one end of its range
// of densities.
func volumeOf(end End, x float64, density quantity.Quantity) float64 {
	return x * end.Mineral.Formula.MolarMass().SI() / density.SI()
}

func mixedDensity(ends []End, moles []float64) Figure {
	var mass, light, dense float64
	sources := make([]string, 0, len(ends))
	for i, end := range ends {
		f := end.Mineral.Density
		if !f.Known() {
			return Figure{}
		}
		mass += moles[i] * end.Mineral.Formula.MolarMass().SI()
		light += volumeOf(end, moles[i], f.Low)
		dense += volumeOf(end, moles[i], f.High)
		sources = append(sources, f.Source)
	}
	of := func(volume float64) quantity.Quantity { return quantity.Of(mass/volume, "kg/m3").To("g/cm3") }
	return Figure{of(light), of(dense), "molar volumes add up; " + strings.Join(distinct(sources), "; ")}
}

func mixedSusceptibility(ends []End, moles []float64) Figure {
	var low, high, volume float64
	var sources []string
	for i, end := range ends {
		f, density := end.Mineral.Susceptibility, end.Mineral.Density
		if !f.Known() || !density.Known() {
			return Figure{}
		}
		middle, err := density.Middle()
		if err != nil {
			return Figure{}
		}
		v := volumeOf(end, moles[i], middle)
		low, high, volume = low+v*f.Low.SI(), high+v*f.High.SI(), volume+v
		sources = append(sources, f.Source)
	}
	return Figure{quantity.Number(low / volume), quantity.Number(high / volume), "adds up by volume; " + strings.Join(distinct(sources), "; ")}
}

func spannedHardness(ends []End) Figure {
	span := ends[0].Mineral.Hardness
	sources := []string{span.Source}
	for _, end := range ends[1:] {
		f := end.Mineral.Hardness
		if !f.Known() || !span.Known() {
			return Figure{}
		}
		span.Low, span.High = quantity.Min(span.Low, f.Low), quantity.Max(span.High, f.High)
		sources = append(sources, f.Source)
	}
	span.Source = "between the end-members; " + strings.Join(distinct(sources), "; ")
	if !ends[0].Mineral.Hardness.Known() {
		return Figure{}
	}
	return span
}

func sharedBehaviour(ends []End, of func(Mineral) Behaviour) Behaviour {
	first := of(ends[0].Mineral)
	for _, end := range ends[1:] {
		if of(end.Mineral).Class != first.Class {
			return Behaviour{}
		}
	}
	return first
}

// weaklyMagnetic reports whether all ends are dia- or paramagnetic.
func weaklyMagnetic(ends []End) (bool, string) {
	source := ""
	for _, end := range ends {
		switch class := end.Mineral.Magnetism; class.Class {
		case "paramagnetic":
			source = class.Source
		case "diamagnetic":
		default:
			return false, ""
		}
	}
	return true, source
}

func distinct(texts []string) []string {
	var out []string
	seen := map[string]bool{}
	for _, text := range texts {
		if !seen[text] {
			seen[text] = true
			out = append(out, text)
		}
	}
	return out
}
