package mineral

import (
	"fmt"
	"strings"

	"cobber/stdlib/quantity"
)

// New is a mineral of one's own, by its formula. Other figures can be set in its
// fields afterwards.
//
// Units: the figure of density is a mass per volume; the zero Figure where it is not
// known.
//
// Range: any formula that ParseFormula reads.
//
// Errors: no name; a formula that cannot be read; a density below 0, of another
// dimension, with its ends crossed or without a source.
//
// Source: stated by whoever names the figures.
func New(name, formula string, density Figure) (Mineral, error) {
	f, err := ParseFormula(formula)
	if err != nil {
		return Mineral{}, fmt.Errorf("mineral: %s: %w", name, err)
	}
	return newMineral(name, f, density)
}

func newMineral(name string, f Formula, density Figure) (Mineral, error) {
	if strings.TrimSpace(name) == "" {
		return Mineral{}, fmt.Errorf("mineral: a mineral of one's own needs a name")
	}
	if density != (Figure{}) {
		low, err := density.Low.Value("kg/m3")
		high, wrong := density.High.Value("kg/m3")
		if err != nil || wrong != nil || !(low > 0 && high >= low) {
			return Mineral{}, fmt.Errorf("mineral: %s: a density is a mass per volume above 0, from Low to High, and %v to %v is not", name, density.Low, density.High)
		}
		if density.Source == "" {
			return Mineral{}, fmt.Errorf("mineral: %s: say in Source where its density of %v comes from", name, density.Low)
		}
	}
	return Mineral{Name: name, Formula: f, Density: density, names: []string{strings.ToLower(name)}}, nil
}

// FromAssay is a phase known by its assay rather than by a formula, such as a glass or
// a slag. Its formula counts the atoms in 100 g of what was assayed,
//
//	n = Σ w·(atoms of the element in the oxide)/M
//
// so that it holds the assay as shares of its own total.
//
// Units: shares of mass of elements, oxides or other formulas; tolerance is a share
// of mass; density as in New.
//
// Range: complete assays. What is missing to 100 % is spread over all parts in
// proportion, which is why the tolerance is yours to state.
//
// Errors: a total farther from 100 % than the tolerance; a part that is no
// formula; what New refuses.
//
// Source: atomic weights of IUPAC 2021.
func FromAssay(name string, assay Composition, tolerance quantity.Quantity, density Figure) (Mineral, error) {
	if err := assay.CheckTotal(tolerance); err != nil {
		return Mineral{}, fmt.Errorf("mineral: %s: %w", name, err)
	}
	elements, err := assay.Elements()
	if err != nil {
		return Mineral{}, fmt.Errorf("mineral: %s: %w", name, err)
	}
	var text strings.Builder
	for i, symbol := range elements.names {
		element, err := FindElement(symbol)
		if err != nil {
			return Mineral{}, err
		}
		share := elements.shares[i].Certain().To("%").Shown()
		text.WriteString(counted(symbol, share/element.Weight.Shown()))
	}
	f, err := ParseFormula(text.String())
	if err != nil {
		return Mineral{}, fmt.Errorf("mineral: %s: %w", name, err)
	}
	return newMineral(name, f, density)
}
