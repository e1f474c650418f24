package size

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Model is a size distribution by a formula with a few parameters, which may be
// uncertain. Make one with RosinRammler, GatesGaudinSchuhmann, LogNormal or
// Swebrec, or take one from a Fit.
type Model struct {
	law    *law
	values []quantity.Quantity
}

// RosinRammler is the distribution
//
//	P = 1 − exp(−(x/x')ⁿ)
//
// Units: size x' is the length that 63.2 % passes, exponent n a plain number.
//
// Range: x' and n above 0. Products of crushing and grinding, coal above all.
//
// Errors: a size that is no length, an exponent with a dimension, one of them not
// above 0.
//
// Source: P. Rosin, E. Rammler, J. Inst. Fuel 7 (1933) 29; ISO 9276-3.
func RosinRammler(size, exponent quantity.Quantity) (Model, error) {
	return newModel(rosinRammler, size, exponent)
}

// GatesGaudinSchuhmann is the distribution
//
//	P = (x/k)ᵐ up to x = k, 1 above
//
// Units: top size k is a length, exponent m a plain number.
//
// Range: k and m above 0. The fine part of products of grinding.
//
// Errors: a size that is no length, an exponent with a dimension, one of them not
// above 0.
//
// Source: R. Schuhmann, AIME Tech. Pub. 1189 (1940); ISO 9276-3.
func GatesGaudinSchuhmann(top, exponent quantity.Quantity) (Model, error) {
	return newModel(gatesGaudinSchuhmann, top, exponent)
}

// LogNormal is the distribution
//
//	P = Φ(ln(x/x50)/ln σ)
//
// with the standard normal distribution Φ.
//
// Units: median x50 is a length, the geometric deviation σ a plain number.
//
// Range: x50 above 0, σ above 1; 84.1 % passes σ·x50.
//
// Errors: a median that is no length above 0, a deviation with a dimension or not
// above 1.
//
// Source: ISO 9276-5.
func LogNormal(median, deviation quantity.Quantity) (Model, error) {
	return newModel(logNormal, median, deviation)
}

// Swebrec is the three-parameter distribution
//
//	P = 1/(1 + (ln(xmax/x)/ln(xmax/x50))ᵇ) up to x = xmax, 1 above
//
// Units: top size xmax and median x50 are lengths, exponent b a plain number.
//
// Range: 0 < x50 < xmax, b above 0. Blasted and crushed rock over many decades of
// size.
//
// Errors: sizes that are no lengths above 0, a median not below the top size, an
// exponent with a dimension or not above 0.
//
// Source: F. Ouchterlony, Trans. Inst. Min. Metall. A 114 (2005) A29.
func Swebrec(top, median, exponent quantity.Quantity) (Model, error) {
	return newModel(swebrec, top, median, exponent)
}

func newModel(l *law, values ...quantity.Quantity) (Model, error) {
	m := Model{law: l, values: values}
	if _, err := m.numbers(values); err != nil {
		return Model{}, err
	}
	return m, nil
}

// numbers are the parameters as the law takes them, lengths in metres.
func (m Model) numbers(values []quantity.Quantity) ([]float64, error) {
	numbers := make([]float64, len(values))
	for i, value := range values {
		var err error
		kind := "a plain number"
		if m.law.parameters[i].isLength {
			kind = "a length"
			numbers[i], err = value.Value("m")
		} else {
			numbers[i], err = value.Float()
		}
		if err != nil {
			return nil, fmt.Errorf("size: %s: the %s is %s, and %v is not", m.law.name, m.law.parameters[i].name, kind, value)
		}
	}
	if wrong := m.law.wrong(numbers); wrong != "" {
		return nil, fmt.Errorf("size: %s: %s; the parameters are %v", m.law.name, wrong, values)
	}
	return numbers, nil
}

// from computes a figure from the parameters, for each sample if they are
// uncertain.
func (m Model) from(f func(p []float64) (quantity.Quantity, error)) (quantity.Quantity, error) {
	if m.law == nil {
		return quantity.Quantity{}, fmt.Errorf("size: the model is empty; make one with RosinRammler or another of its kind")
	}
	return quantity.Through(func(values []quantity.Quantity) (quantity.Quantity, error) {
		p, err := m.numbers(values)
		if err != nil {
			return quantity.Quantity{}, err
		}
		return f(p)
	}, m.values...)
}

// Name is the name of the model's form.
func (m Model) Name() string {
	if m.law == nil {
		return ""
	}
	return m.law.name
}

// Parameters are the parameters, in the order of the function that makes the
// model.
func (m Model) Parameters() []quantity.Quantity { return slices.Clone(m.values) }

// Passing is the mass share in % that is finer than a size.
//
// Units: size is a length.
//
// Range: any size above 0. A formula says something of every size, also where
// nobody has measured.
//
// Errors: a size that is no length above 0; uncertain parameters that leave their
// range.
//
// Source: that of the model.
func (m Model) Passing(size quantity.Quantity) (quantity.Quantity, error) {
	x, err := readSize(size)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return m.from(func(p []float64) (quantity.Quantity, error) { return percent(m.law.passing(p, x)), nil })
}

func readSize(size quantity.Quantity) (float64, error) {
	x, err := size.Value("m")
	if err != nil || !(x > 0) || math.IsInf(x, 0) {
		return 0, fmt.Errorf("size: a size is a length above 0, and %v is not", size)
	}
	return x, nil
}

// Density is the density of the distribution at a size, dP/dx.
//
// Units: size is a length; the density a share per length, in %/mm or what the
// unit of size makes of it.
//
// Range: any size above 0.
//
// Errors: as Passing.
//
// Source: the derivative of the model.
func (m Model) Density(size quantity.Quantity) (quantity.Quantity, error) {
	x, err := readSize(size)
	if err != nil {
		return quantity.Quantity{}, err
	}
	one := size.Unit().Quantity(1)
	perMetre, err := one.Value("m")
	if err != nil {
		return quantity.Quantity{}, err
	}
	return m.from(func(p []float64) (quantity.Quantity, error) {
		return percent(m.law.slope(p, x) * perMetre).Div(one), nil
	})
}

// D is the size that a given percentage of the mass passes.
//
// Units: percent is a plain number; the size is a length in the unit of the
// model's first length.
//
// Range: above 0 and below 100.
//
// Errors: a percentage outside the range; uncertain parameters that leave their
// range.
//
// Source: the inverse of the model.
func (m Model) D(percent float64) (quantity.Quantity, error) {
	if !(percent > 0 && percent < 100) {
		return quantity.Quantity{}, fmt.Errorf("size: d%g: of a model, the percentage passing lies above 0 and below 100", percent)
	}
	return m.from(func(p []float64) (quantity.Quantity, error) {
		return metresIn(m.values[0], m.law.size(p, percent/100)), nil
	})
}

// Distribution is the model told on sieves, in shares of the whole.
//
// Units: openings are lengths, coarsest first.
//
// Range: as Passing.
//
// Errors: openings that are no lengths or do not fall; parameters that leave
// their range.
//
// Source: that of the model.
func (m Model) Distribution(openings []quantity.Quantity) (Distribution, error) {
	passing := make([]quantity.Quantity, len(openings))
	for i, opening := range openings {
		share, err := m.Passing(opening)
		if err != nil {
			return Distribution{}, err
		}
		passing[i] = share
	}
	return FromPassing(openings, passing)
}

// Table is the model's parameters.
func (m Model) Table() table.Table {
	var names, values []string
	if m.law != nil {
		for i, p := range m.law.parameters {
			names, values = append(names, p.name), append(values, brief(m.values[i]))
		}
	}
	t, err := table.New(table.Texts("parameter", names), table.Texts("value", values))
	if err != nil {
		panic("size: " + err.Error())
	}
	if m.law == nil {
		return t
	}
	return t.Caption(m.law.name + ", " + m.law.equation)
}

// String is the model in a line.
func (m Model) String() string {
	if m.law == nil {
		return "no model"
	}
	parts := make([]string, len(m.values))
	for i, value := range m.values {
		parts[i] = m.law.parameters[i].name + " " + brief(value)
	}
	return m.law.name + ": " + strings.Join(parts, ", ")
}

// HTML is Table as HTML.
func (m Model) HTML() string { return m.Table().HTML() }

// Markdown is Table as Markdown.
func (m Model) Markdown() string { return m.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (m Model) LaTeX() string { return m.Table().LaTeX() }
