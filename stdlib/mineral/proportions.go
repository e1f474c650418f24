package mineral

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Phase is a mineral, or any other constituent, of a material that has been
// assayed.
type Phase struct {
	Name        string
	Composition Composition // in elements, oxides or other formulas
}

// PhaseOf is the phase of a formula or of a mineral that Find knows, with its
// ideal composition by the parts of its formula.
//
// Units: shares of mass.
//
// Range: ideal formulas; a phase whose composition was measured is better
// written as a Phase of its own.
//
// Errors: a text that is neither formula nor mineral.
//
// Source: atomic weights of IUPAC 2021.
func PhaseOf(formulaOrName string) (Phase, error) {
	f, err := formulaOf(formulaOrName)
	if err != nil {
		return Phase{}, err
	}
	return Phase{Name: formulaOrName, Composition: f.ByParts()}, nil
}

// Phases are PhaseOf for several texts.
//
// Units: as PhaseOf.
//
// Range: as PhaseOf.
//
// Errors: as PhaseOf.
//
// Source: as PhaseOf.
func Phases(formulasOrNames ...string) ([]Phase, error) {
	phases := make([]Phase, len(formulasOrNames))
	for i, text := range formulasOrNames {
		phase, err := PhaseOf(text)
		if err != nil {
			return nil, err
		}
		phases[i] = phase
	}
	return phases, nil
}

// Proportions is how much of each phase explains an assay best, and what is left
// unexplained. Make one with FitProportions.
type Proportions struct {
	names    []string
	shares   []quantity.Quantity
	assay    Composition
	contents [][]float64 // of each component, in each phase
	weighted bool
	chi      float64
}

// FitProportions is the shares x of phases, none below 0, that explain an assay
// best by least squares,
//
//	Σi ((bi − Σj aij·xj) / σi)² → least, xj ≥ 0
//
// with bi the assayed share of component i and aij its share in phase j. The σ
// are the standard deviations of the assay where it is uncertain; then the
// shares are uncertain too. Where it is certain all components weigh the same,
// so that errors of the main ones decide.
//
// Components are elements or formulas with one element beside oxygen (Fe, FeO,
// SiO2, H2O, CO2). What a phase holds of a component follows from the element.
// Where an assay tells an element apart (FeO and Fe2O3), the phase must do so
// too, by a formula in parts (FeO·TiO2) or a Composition with these names.
//
// Units: shares of mass.
//
// Range: as many components as phases, at least; more are a check. The shares
// are not made to add up to 100 %: Total tells how much of the material they
// are.
//
// Errors: an assay that is empty, in part uncertain, or has a component that is
// no such formula; no phase, a phase without a name of its own, without any of
// the components, or that leaves open which of two components holds its element;
// phases that the assay cannot tell apart.
//
// Source: C.L. Lawson, R.J. Hanson, Solving Least Squares Problems (1974), ch.
// 23; the use on assays is common practice.
func FitProportions(assay Composition, phases ...Phase) (Proportions, error) {
	p := Proportions{assay: assay}
	sigmas, err := p.weigh()
	if err != nil {
		return Proportions{}, err
	}
	if err := p.readPhases(phases); err != nil {
		return Proportions{}, err
	}
	rows := make([][]float64, len(p.contents))
	for i, row := range p.contents {
		for _, content := range row {
			rows[i] = append(rows[i], content/sigmas[i])
		}
	}
	solve := func(shares []quantity.Quantity) numeric.Bounded {
		right := make([]float64, len(shares))
		for i, share := range shares {
			value, _ := share.Float() // NewComposition has seen that it is a share
			right[i] = value / sigmas[i]
		}
		n := len(phases)
		return numeric.BoundedLeastSquares(rows, right, make([]float64, n), slices.Repeat([]float64{math.Inf(1)}, n), math.NaN())
	}
	centre := solve(assay.shares)
	if !centre.Unique || !centre.Settled {
		return Proportions{}, fmt.Errorf("mineral: an assay of %s cannot tell %s apart; leave one out or assay another component",
			strings.Join(assay.names, ", "), strings.Join(p.names, ", "))
	}
	for _, left := range centre.Residual {
		p.chi += left * left
	}
	return p, p.carry(solve)
}

// weigh is the standard deviation of each component, 1 % for all if the assay is
// certain.
func (p *Proportions) weigh() ([]float64, error) {
	if len(p.assay.names) == 0 {
		return nil, fmt.Errorf("mineral: there is nothing in the assay")
	}
	sigmas := make([]float64, len(p.assay.names))
	uncertain := 0
	for i, share := range p.assay.shares {
		sigmas[i] = 0.01
		if !share.IsUncertain() {
			continue
		}
		uncertain++
		sigma, err := share.StdDev().Float()
		if err != nil || !(sigma > 0) {
			return nil, fmt.Errorf("mineral: %s: the uncertainty of %v cannot serve as a weight", p.assay.names[i], share)
		}
		sigmas[i] = sigma
	}
	if uncertain > 0 && uncertain < len(sigmas) {
		for i, share := range p.assay.shares {
			if !share.IsUncertain() {
				return nil, fmt.Errorf("mineral: %s is assayed without uncertainty and others with it; give all components one, or none", p.assay.names[i])
			}
		}
	}
	p.weighted = uncertain > 0
	return sigmas, nil
}

func (p *Proportions) readPhases(phases []Phase) error {
	if len(phases) == 0 {
		return fmt.Errorf("mineral: an assay is explained by one phase at least; there is none")
	}
	components := make([]component, len(p.assay.names))
	for i, name := range p.assay.names {
		c, err := readComponent(name)
		if err != nil {
			return err
		}
		components[i] = c
	}
	p.contents = make([][]float64, len(components))
	for _, phase := range phases {
		if strings.TrimSpace(phase.Name) == "" || slices.Contains(p.names, phase.Name) {
			return fmt.Errorf("mineral: each phase needs a name of its own, and %q is not", phase.Name)
		}
		p.names = append(p.names, phase.Name)
		holds := false
		for i, c := range components {
			content, err := c.in(phase, components)
			if err != nil {
				return err
			}
			holds = holds || content > 0
			p.contents[i] = append(p.contents[i], content)
		}
		if !holds {
			return fmt.Errorf("mineral: %s holds none of %s, so the assay says nothing of it", phase.Name, strings.Join(p.assay.names, ", "))
		}
	}
	return nil
}

// component is a part of an assay: a formula and the one element it stands for.
type component struct {
	name    string
	formula Formula
	element string
}

func readComponent(name string) (component, error) {
	f, err := ParseFormula(name)
	if err != nil {
		return component{}, fmt.Errorf("%w; a component of an assay is an element or oxide", err)
	}
	element, err := keyElement(name, f)
	return component{name, f, element}, err
}

// in is the share of the component in a phase.
func (c component) in(phase Phase, all []component) (float64, error) {
	rivals := slices.ContainsFunc(all, func(other component) bool { return other.element == c.element && other.name != c.name })
	var terms []float64
	for i, name := range phase.Composition.names {
		f, err := formulaOf(name)
		if err != nil {
			return 0, fmt.Errorf("mineral: phase %s: %w", phase.Name, err)
		}
		share, err := phase.Composition.shares[i].Float()
		if err != nil {
			return 0, fmt.Errorf("mineral: phase %s: %w", phase.Name, err)
		}
		if f.Atoms(c.element) == 0 {
			continue
		}
		if rivals && !same(f, c.formula) {
			if !slices.ContainsFunc(all, func(other component) bool { return same(f, other.formula) }) {
				return 0, fmt.Errorf("mineral: phase %s does not say how its %s in %s is assayed; write its formula in parts, as in FeO·TiO2", phase.Name, c.element, name)
			}
			continue
		}
		terms = append(terms, share*f.share(c.element)/c.formula.share(c.element))
	}
	return numeric.Sum(terms...), nil
}

// same reports whether two formulas have the same atoms in the same numbers.
func same(f, g Formula) bool {
	if len(f.atoms) != len(g.atoms) {
		return false
	}
	for _, a := range f.atoms {
		if a.count != g.Atoms(a.element.Symbol) {
			return false
		}
	}
	return true
}

// carry solves for every sample of the assay. The samples come in the same order
// for each phase, so each is solved once.
func (p *Proportions) carry(solve func([]quantity.Quantity) numeric.Bounded) error {
	var solved [][]float64
	for j := range p.names {
		call := 0
		share, err := quantity.Through(func(shares []quantity.Quantity) (quantity.Quantity, error) {
			if call == len(solved) {
				solved = append(solved, solve(shares).X)
			}
			call++
			return percent(solved[call-1][j]), nil
		}, p.assay.shares...)
		if err != nil {
			return err
		}
		p.shares = append(p.shares, share)
	}
	return nil
}

// Names are the names of the phases, in their order.
func (p Proportions) Names() []string { return slices.Clone(p.names) }

// Shares are the mass shares of the phases in %, in the order of Names.
func (p Proportions) Shares() []quantity.Quantity { return slices.Clone(p.shares) }

// Share is the mass share of one phase.
//
// Units: in %.
//
// Range: not below 0. It may come above 100 % where the assay asks for it, which
// says that the phase is not what is there.
//
// Errors: there is no phase of that name.
//
// Source: as FitProportions.
func (p Proportions) Share(name string) (quantity.Quantity, error) {
	if i := slices.Index(p.names, name); i >= 0 {
		return p.shares[i], nil
	}
	return quantity.Quantity{}, fmt.Errorf("mineral: no phase %q; there are %s", name, strings.Join(p.names, ", "))
}

// Total is the sum of the shares in %: how much of the material is explained.
func (p Proportions) Total() quantity.Quantity { return quantity.Sum(p.shares...) }

// Explained is what the phases together hold of each component, in the order of
// the assay.
func (p Proportions) Explained() []quantity.Quantity {
	out := make([]quantity.Quantity, len(p.contents))
	for i, row := range p.contents {
		out[i] = percent(0)
		for j, content := range row {
			out[i] = out[i].Add(p.shares[j].Mul(quantity.Number(content)))
		}
	}
	return out
}

// Unexplained is the assay less what is explained, in %, in the order of the
// assay; below 0 where the phases hold more than was assayed.
func (p Proportions) Unexplained() []quantity.Quantity {
	out := p.Explained()
	for i, share := range p.assay.shares {
		out[i] = rest(share.To("%"), out[i])
	}
	return out
}

// rest is what is left of a whole, exactly 0 where that is only the rounding of
// the subtraction.
func rest(whole, part quantity.Quantity) quantity.Quantity {
	left := whole.Sub(part)
	if !left.IsUncertain() && math.Abs(left.Shown()) < 1e-12*math.Abs(whole.Shown()) {
		return percent(0)
	}
	return left
}

// ChiSquare is the sum of squares that was made least, and its degrees of
// freedom: the number of components less that of phases with a share above 0. If
// the uncertainties of the assay are right and the phases are those that are
// there, the sum is about as large as that number.
//
// Units: plain numbers.
//
// Range: an uncertain assay with more components than phases.
//
// Errors: the assay is certain, so that there is nothing to measure the residuals
// by.
//
// Source: weighted least squares; J.R. Taylor, An Introduction to Error
// Analysis, ch. 12.
func (p Proportions) ChiSquare() (chi float64, freedom int, err error) {
	if !p.weighted {
		return 0, 0, fmt.Errorf("mineral: the assay has no uncertainty to measure residuals by; give its shares one")
	}
	freedom = len(p.contents)
	for _, share := range p.shares {
		if x, err := share.Certain().Float(); err == nil && x > 0 {
			freedom--
		}
	}
	return p.chi, freedom, nil
}

// Table is the phases with their shares, and their sum in the last row; where
// they are uncertain with one standard deviation.
func (p Proportions) Table() table.Table {
	all := append([]table.Column{table.Texts("phase", append(p.Names(), "all"))}, columns("share", append(p.Shares(), p.Total()))...)
	return mustTable(all...).Caption("proportions by least squares, none below 0")
}

// Residuals is a table of what was assayed, explained and left of each
// component.
func (p Proportions) Residuals() table.Table {
	assayed := make([]quantity.Quantity, len(p.assay.shares))
	for i, share := range p.assay.shares {
		assayed[i] = share.To("%")
	}
	all := append([]table.Column{table.Texts("component", p.assay.Names())}, columns("assayed", assayed)...)
	all = append(all, columns("explained", p.Explained())...)
	return mustTable(append(all, columns("unexplained", p.Unexplained())...)...)
}

// String is Table and Residuals as text.
func (p Proportions) String() string { return p.Table().String() + "\n\n" + p.Residuals().String() }

// HTML is Table and Residuals as HTML.
func (p Proportions) HTML() string { return p.Table().HTML() + "\n" + p.Residuals().HTML() }

// Markdown is Table and Residuals as Markdown.
func (p Proportions) Markdown() string {
	return p.Table().Markdown() + "\n\n" + p.Residuals().Markdown()
}

// LaTeX is Table and Residuals as LaTeX.
func (p Proportions) LaTeX() string { return p.Table().LaTeX() + "\n\n" + p.Residuals().LaTeX() }
