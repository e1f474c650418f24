package mineral

import (
	"fmt"
	"html"
	"slices"
	"strings"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
)

// Formula is a chemical formula that has been read. Make one with ParseFormula.
type Formula struct {
	text  string
	atoms []atoms
	parts []part // of a formula such as FeO·Fe2O3; one if there is no dot
}

// atoms is a number of atoms of one element per formula unit.
type atoms struct {
	element Element
	count   float64
}

// part stands between the dots of a formula.
type part struct {
	text  string // without its number
	count float64
	atoms []atoms
}

// Must is f where err is nil; it panics otherwise. It is for formulas written in
// a program:
//
//	ilmenite := mineral.Must(mineral.ParseFormula("FeTiO3"))
func Must(f Formula, err error) Formula {
	if err != nil {
		panic(err)
	}
	return f
}

// String is the formula as it was written.
func (f Formula) String() string { return f.text }

// Elements are the symbols of the formula's elements, in the order they stand
// there.
func (f Formula) Elements() []string {
	symbols := make([]string, len(f.atoms))
	for i, a := range f.atoms {
		symbols[i] = a.element.Symbol
	}
	return symbols
}

// Atoms is the number of atoms of an element per formula unit; 0 if it has none.
func (f Formula) Atoms(symbol string) float64 {
	for _, a := range f.atoms {
		if a.element.Symbol == symbol {
			return a.count
		}
	}
	return 0
}

// MolarMass is the mass of one mole of formula units, in g/mol, from the
// standard atomic weights.
func (f Formula) MolarMass() quantity.Quantity { return quantity.Of(molarMass(f.atoms), "g/mol") }

func molarMass(all []atoms) float64 {
	terms := make([]float64, len(all))
	for i, a := range all {
		terms[i] = a.count * a.element.Weight.Shown()
	}
	return numeric.Sum(terms...)
}

// Share is the mass share of an element,
//
//	w = n·A / M
//
// with n atoms of atomic weight A in a formula unit of molar mass M; 0 if the
// formula has none of it.
//
// Units: in %.
//
// Range: from 0 to 100 %; all elements of the formula add up to 100 %.
//
// Errors: a text that is no element.
//
// Source: the definition of the molar mass; atomic weights of IUPAC 2021.
func (f Formula) Share(symbol string) (quantity.Quantity, error) {
	element, err := FindElement(symbol)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return percent(f.share(element.Symbol)), nil
}

func (f Formula) share(symbol string) float64 {
	for _, a := range f.atoms {
		if a.element.Symbol == symbol {
			return a.count * a.element.Weight.Shown() / molarMass(f.atoms)
		}
	}
	return 0
}

// Composition is the formula's elements with their mass shares in %.
func (f Formula) Composition() Composition {
	c := Composition{}
	for _, a := range f.atoms {
		c.names = append(c.names, a.element.Symbol)
		c.shares = append(c.shares, percent(f.share(a.element.Symbol)))
	}
	return c
}

// ByParts is the mass shares in % of the parts between the dots of the formula:
// FeO and Fe2O3 for FeO·Fe2O3, which keeps apart what an assay reports apart. A
// formula without dots is one part.
func (f Formula) ByParts() Composition {
	c := Composition{}
	whole := molarMass(f.atoms)
	for _, p := range f.parts {
		share := p.count * molarMass(p.atoms) / whole
		if i := slices.Index(c.names, p.text); i >= 0 {
			c.shares[i] = c.shares[i].Add(percent(share))
			continue
		}
		c.names = append(c.names, p.text)
		c.shares = append(c.shares, percent(share))
	}
	return c
}

// spans cuts a formula into texts and the numbers that stand low.
func (f Formula) spans(plain, low func(string) string) string {
	var out strings.Builder
	text := []rune(f.text)
	for i := 0; i < len(text); {
		j := i
		for j < len(text) && isCount(text[j]) {
			j++
		}
		switch {
		case j == i:
			out.WriteString(plain(string(text[i])))
			j++
		case i > 0 && isAfterAtom(text[i-1]):
			out.WriteString(low(lowered(string(text[i:j]))))
		default:
			out.WriteString(plain(string(text[i:j])))
		}
		i = j
	}
	return out.String()
}

func isCount(r rune) bool { return r >= '0' && r <= '9' || r == '.' || r == '/' || lowDigit(r) >= 0 }

func isAfterAtom(r rune) bool {
	return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || strings.ContainsRune(")]}", r)
}

// HTML is the formula with its counts as subscripts.
func (f Formula) HTML() string {
	return f.spans(html.EscapeString, func(count string) string { return "<sub>" + count + "</sub>" })
}

// Markdown is the formula with its counts as HTML subscripts, which Markdown
// keeps.
func (f Formula) Markdown() string { return f.HTML() }

// LaTeX is the formula in upright letters with its counts as subscripts, between
// dollar signs.
func (f Formula) LaTeX() string {
	inner := f.spans(
		func(text string) string {
			return strings.NewReplacer("·", `\cdot `, "•", `\cdot `, "∙", `\cdot `, "⋅", `\cdot `, "*", `\cdot `,
				"{", `\{`, "}", `\}`, "½", `\tfrac12 `).Replace(text)
		},
		func(count string) string { return "_{" + count + "}" })
	return `$\mathrm{` + inner + `}$`
}

// percent is a share shown in per cent.
func percent(share float64) quantity.Quantity { return quantity.Of(100*share, "%") }

// FormulaError says what is wrong with a formula and where.
type FormulaError struct {
	Text   string // the formula
	At     string // the rest of it from the fault on
	Reason string // what is wrong and what to write instead
}

func (e *FormulaError) Error() string {
	if e.At == "" || e.At == e.Text {
		return fmt.Sprintf("mineral: formula %q: %s", e.Text, e.Reason)
	}
	return fmt.Sprintf("mineral: formula %q, at %q: %s", e.Text, e.At, e.Reason)
}
