package size

import (
	"fmt"
	"strings"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// isUncertain reports whether a mass or a grade carries an uncertainty.
func (d Distribution) isUncertain() bool {
	for _, q := range d.inputs() {
		if q.IsUncertain() {
			return true
		}
	}
	return false
}

// inputs are all masses, and then the grades of each assay.
func (d Distribution) inputs() []quantity.Quantity {
	all := append([]quantity.Quantity(nil), d.masses...)
	for _, a := range d.assays {
		all = append(all, a.grades...)
	}
	return all
}

// with is the distribution of other masses and grades, in the order of inputs.
func (d Distribution) with(inputs []quantity.Quantity) (Distribution, error) {
	n := len(d.masses)
	out := d
	out.masses = inputs[:n]
	if err := out.weigh(); err != nil {
		return Distribution{}, err
	}
	out.assays = make([]assay, len(d.assays))
	for k, a := range d.assays {
		grades := inputs[n*(k+1) : n*(k+2)]
		fractions := make([]float64, n)
		for i, grade := range grades {
			share, err := grade.Float()
			if err != nil {
				return Distribution{}, err
			}
			fractions[i] = share
		}
		out.assays[k] = assay{name: a.name, grades: grades, fractions: fractions}
	}
	return out, nil
}

// through carries the uncertainty of masses and grades through a figure taken
// from a certain distribution.
func (d Distribution) through(f func(Distribution) (quantity.Quantity, error)) (quantity.Quantity, error) {
	if !d.isUncertain() {
		return f(d)
	}
	figure, err := quantity.Through(func(inputs []quantity.Quantity) (quantity.Quantity, error) {
		sample, err := d.with(inputs)
		if err != nil {
			return quantity.Quantity{}, err
		}
		return f(sample)
	}, d.inputs()...)
	if err != nil {
		return figure, fmt.Errorf("%w; within the uncertainty of masses and grades this happens", err)
	}
	return figure, nil
}

// brief is a quantity with four digits, and one standard deviation where it is
// uncertain.
func brief(q quantity.Quantity) string {
	if !q.IsUncertain() {
		return fmt.Sprintf("%.4g", q)
	}
	text := fmt.Sprintf("%.4g ± %.2g", q.Shown(), q.StdDev().Shown())
	return strings.TrimSpace(text + " " + q.Unit().String())
}

// columns is a column of quantities, followed by one of their standard deviations
// if any of them is uncertain.
func columns(name string, values []quantity.Quantity) []table.Column {
	out := []table.Column{table.Quantities(name, values)}
	spreads := make([]quantity.Quantity, len(values))
	isUncertain := false
	for i, q := range values {
		isUncertain = isUncertain || q.IsUncertain()
		spreads[i] = q.StdDev()
	}
	if isUncertain {
		out = append(out, table.Quantities("± "+name, spreads))
	}
	return out
}
