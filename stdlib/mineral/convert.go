package mineral

import (
	"fmt"
	"slices"
	"strings"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
)

// Factor is the gravimetric factor between two formulas that share an element:
// the mass of the second that holds as much of it as one mass of the first,
//
//	factor = w₁ / w₂
//
// with w the mass share of the element in each. 1 % Fe is Factor("Fe", "Fe2O3")
// = 1.4297 % Fe2O3.
//
// Units: a plain number. from and to are elements, oxides or minerals, as
// formulas or as names that Find knows.
//
// Range: oxygen and hydrogen count as shared only where nothing else is.
//
// Errors: a text that is neither formula nor mineral; formulas that share
// nothing, or several elements, between which FactorBy decides.
//
// Source: the definition of a gravimetric factor; atomic weights of IUPAC 2021.
func Factor(from, to string) (quantity.Quantity, error) {
	f, g, err := twoFormulas(from, to)
	if err != nil {
		return quantity.Quantity{}, err
	}
	shared := sharedElements(f, g)
	switch len(shared) {
	case 0:
		return quantity.Quantity{}, fmt.Errorf("mineral: %s and %s share no element", from, to)
	case 1:
		return quantity.Number(f.share(shared[0]) / g.share(shared[0])), nil
	}
	return quantity.Quantity{}, fmt.Errorf("mineral: %s and %s share %s; say with FactorBy which is meant", from, to, strings.Join(shared, ", "))
}

// FactorBy is Factor for formulas that share more than one element: it says
// which is meant.
//
// Units: a plain number.
//
// Range: any element that is in both.
//
// Errors: a text that is neither formula nor mineral; an element that is not in
// both.
//
// Source: the definition of a gravimetric factor; atomic weights of IUPAC 2021.
func FactorBy(symbol, from, to string) (quantity.Quantity, error) {
	f, g, err := twoFormulas(from, to)
	if err != nil {
		return quantity.Quantity{}, err
	}
	if _, err := FindElement(symbol); err != nil {
		return quantity.Quantity{}, err
	}
	for _, text := range []struct {
		name string
		f    Formula
	}{{from, f}, {to, g}} {
		if text.f.Atoms(symbol) == 0 {
			return quantity.Quantity{}, fmt.Errorf("mineral: there is no %s in %s", symbol, text.name)
		}
	}
	return quantity.Number(f.share(symbol) / g.share(symbol)), nil
}

// Convert is a share of mass told of another formula: Convert(62 % Fe, "Fe",
// "Fe2O3") is the hematite that would hold all that iron. It is the share times
// Factor.
//
// Units: share is a share of mass, as in % or g/t; so is the result, in the same
// unit. An uncertain share gives an uncertain result.
//
// Range: it tells how much there would be at most, if the shared element sat in
// nothing else.
//
// Errors: a share that is none of mass or outside 0 to 100 %; a result above
// 100 %, which says that the element cannot all be there in that form; what
// Factor refuses.
//
// Source: the definition of a gravimetric factor.
func Convert(share quantity.Quantity, from, to string) (quantity.Quantity, error) {
	if err := checkShare(from, share); err != nil {
		return quantity.Quantity{}, err
	}
	factor, err := Factor(from, to)
	if err != nil {
		return quantity.Quantity{}, err
	}
	out := share.Mul(factor)
	if err := checkShare(to, out); err != nil {
		return quantity.Quantity{}, fmt.Errorf("mineral: %v %s would be %.4g %s; not all of it can be in that form", share, from, out, to)
	}
	return out, nil
}

// Content is the mass share of an element in a mineral.
//
// Units: in %.
//
// Range: the ideal composition of the formula; natural minerals hold less where
// other elements take the place.
//
// Errors: a text that is no element; one that is neither formula nor mineral.
//
// Source: atomic weights of IUPAC 2021.
func Content(symbol, formulaOrName string) (quantity.Quantity, error) {
	f, err := formulaOf(formulaOrName)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return f.Share(symbol)
}

func twoFormulas(from, to string) (f, g Formula, err error) {
	if f, err = formulaOf(from); err != nil {
		return f, g, err
	}
	g, err = formulaOf(to)
	return f, g, err
}

// formulaOf reads a formula or the name of a mineral.
func formulaOf(text string) (Formula, error) {
	f, err := ParseFormula(text)
	if err == nil {
		return f, nil
	}
	m, unknown := Find(text)
	if unknown == nil {
		return m.Formula, nil
	}
	if isName(text) {
		return Formula{}, unknown
	}
	return Formula{}, err
}

// isName tells a word from a formula that went wrong.
func isName(text string) bool {
	return len(text) > 3 && !strings.ContainsAny(text, "0123456789()[]{}₀₁₂₃₄₅₆₇₈₉·*") && strings.ToLower(text[1:]) == text[1:]
}

func sharedElements(f, g Formula) []string {
	var shared []string
	for _, symbol := range f.Elements() {
		if g.Atoms(symbol) > 0 {
			shared = append(shared, symbol)
		}
	}
	for _, everywhere := range []string{"O", "H"} {
		if i := slices.Index(shared, everywhere); i >= 0 && len(shared) > 1 {
			shared = slices.Delete(shared, i, i+1)
		}
	}
	return shared
}

// Elements is the composition told in elements: each part is taken for its
// formula, and what the parts hold of an element is added up.
//
// Units: shares in %.
//
// Range: parts whose names are elements, oxides or other formulas, or minerals
// that Find knows.
//
// Errors: a part whose name is none of these.
//
// Source: atomic weights of IUPAC 2021.
func (c Composition) Elements() (Composition, error) {
	var out Composition
	for i, name := range c.names {
		f, err := formulaOf(name)
		if err != nil {
			return Composition{}, err
		}
		for _, a := range f.atoms {
			share := c.shares[i].To("%").Mul(quantity.Number(f.share(a.element.Symbol)))
			if k := slices.Index(out.names, a.element.Symbol); k >= 0 {
				out.shares[k] = out.shares[k].Add(share)
				continue
			}
			out.names = append(out.names, a.element.Symbol)
			out.shares = append(out.shares, share)
		}
	}
	return out, nil
}

// As is the composition told in the given oxides or other formulas, each taken
// for the one element it does not share with the others and that is not oxygen:
// As("SiO2", "Al2O3", "FeO", "H2O"). Oxygen follows from the formulas; the
// composition's own oxygen is not looked at, and Total of the result shows
// whether the two agree.
//
// Units: shares in %.
//
// Range: every element but oxygen must be in one of the formulas.
//
// Errors: a text that is no formula; a formula with more than one element beside
// oxygen, or with none; an element in no formula or in two; a share that comes
// above 100 %.
//
// Source: atomic weights of IUPAC 2021.
func (c Composition) As(formulas ...string) (Composition, error) {
	elements, err := c.Elements()
	if err != nil {
		return Composition{}, err
	}
	told := map[string]bool{}
	var out Composition
	for _, text := range formulas {
		f, err := formulaOf(text)
		if err != nil {
			return Composition{}, err
		}
		key, err := keyElement(text, f)
		if err != nil {
			return Composition{}, err
		}
		if told[key] {
			return Composition{}, fmt.Errorf("mineral: %s stands in two of %s; an element can be told as one oxide only", key, strings.Join(formulas, ", "))
		}
		told[key] = true
		share := percent(0)
		if has, err := elements.Share(key); err == nil { // an element the composition lacks is 0 of its oxide
			share = has.Mul(quantity.Number(1 / f.share(key)))
		}
		if err := checkShare(text, share); err != nil {
			return Composition{}, err
		}
		out.names, out.shares = append(out.names, text), append(out.shares, share)
	}
	for _, symbol := range elements.names {
		if !told[symbol] && symbol != "O" {
			return Composition{}, fmt.Errorf("mineral: %s is in none of %s; name the oxide it is to be told as, or %s itself", symbol, strings.Join(formulas, ", "), symbol)
		}
	}
	return out, nil
}

// keyElement is the element an assay of a formula stands for.
func keyElement(text string, f Formula) (string, error) {
	var keys []string
	for _, symbol := range f.Elements() {
		if symbol != "O" {
			keys = append(keys, symbol)
		}
	}
	switch {
	case len(keys) == 1:
		return keys[0], nil
	case len(keys) == 0:
		return "O", nil
	}
	return "", fmt.Errorf("mineral: %s holds %s; as a part of an assay it must stand for one element", text, strings.Join(keys, " and "))
}

// MeanDensity is the density of a mixture of grains, pores apart,
//
//	1/ρ = Σ w/ρi
//
// Units: shares of mass and densities, as many of one as of the other; the
// density in the unit of the first.
//
// Range: shares that add up to 100 %; they are not made to.
//
// Errors: lengths that differ, a share that is none of mass, shares that do not
// add up to 100 % within 0.1 %, a density that is none or not above 0.
//
// Source: volumes add up; the definition of density.
func MeanDensity(shares, densities []quantity.Quantity) (quantity.Quantity, error) {
	if len(shares) == 0 || len(shares) != len(densities) {
		return quantity.Quantity{}, fmt.Errorf("mineral: %d shares and %d densities; each share needs a density", len(shares), len(densities))
	}
	var volume quantity.Quantity
	var sum []float64
	for i, share := range shares {
		name := fmt.Sprintf("part %d", i+1)
		if err := checkShare(name, share); err != nil {
			return quantity.Quantity{}, err
		}
		if value, err := densities[i].Value("kg/m3"); err != nil || !(value > 0) {
			return quantity.Quantity{}, fmt.Errorf("mineral: %s: a density is a mass per volume above 0, and %v is not", name, densities[i])
		}
		volume = volume.Add(share.Div(densities[i]))
		value, _ := share.Value("wt%") // checkShare has read it
		sum = append(sum, value)
	}
	if total := numeric.Sum(sum...); total < 99.9 || total > 100.1 {
		return quantity.Quantity{}, fmt.Errorf("mineral: the shares of a mixture add up to %.4g %%, not to 100 %%", total)
	}
	return quantity.Number(1).Div(volume).In(densities[0].Unit().String())
}
