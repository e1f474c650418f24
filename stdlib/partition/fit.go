package partition

import (
	"errors"
	"fmt"
	"math"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Fitted is a model fitted to a measured curve, with the standard errors of its
// parameters and what it leaves.
type Fitted struct {
	Model           Model
	CutDeviation    quantity.Quantity   // not a number if there are as many parameters as points
	SpreadDeviation quantity.Quantity   // likewise
	BypassDeviation quantity.Quantity   // likewise; 0 if the bypass was not fitted
	Residuals       []quantity.Quantity // share measured less model, at each of the curve's points
	RootMeanSquare  quantity.Quantity   // of the residuals over the degrees of freedom, in %
}

// Fit is the model of a form that comes nearest to a measured curve by least
// squares of the shares. If bypass is true, the share that goes to the coarse or
// heavy product unclassified is fitted too; otherwise there is none.
//
// Units: shares in %; the cut in the unit of the curve's points.
//
// Range: as many points as parameters, at least. All points weigh the same.
//
// Errors: too few points; a curve that lies so that the parameters cannot be
// told, or the search does not settle.
//
// Source: least squares; the standard errors follow from the scatter of the
// residuals and the slopes, as numeric.Fit says.
func Fit(c Curve, form Form, bypass bool) (Fitted, error) {
	if form < Whiten || form > Lynch {
		return Fitted{}, fmt.Errorf("partition: there is no %v", form)
	}
	count := 2
	if bypass {
		count = 3
	}
	if len(c.xs) < count {
		return Fitted{}, fmt.Errorf("partition: %d parameters need %d points at least, and there are %d", count, count, len(c.xs))
	}
	best, found := numeric.Fitted{}, false
	for _, start := range c.starts(form, bypass) {
		fit, ok := c.fitFrom(form, start)
		if ok && fit.Settled && (!found || fit.Sum < best.Sum) {
			best, found = fit, true
		}
	}
	if !found {
		return Fitted{}, errors.New("partition: the points do not tell the parameters of the model; look at the curve, or use another form")
	}
	return c.fitted(form, best)
}

// starts are places to begin the search: cut, relative spread, bypass. The cut
// and the spread are searched by their logarithms.
func (c Curve) starts(form Form, bypass bool) [][]float64 {
	cut := math.Sqrt(c.xs[0] * c.xs[len(c.xs)-1])
	if places := c.crossings(0.5); len(places) > 0 {
		cut = places[len(places)/2]
	}
	spreads := []float64{0.5, 1.5, 4, 12}
	if form.byError() {
		spreads = []float64{0.01 * cut, 0.05 * cut, 0.2 * cut, 0.5 * cut}
	}
	var starts [][]float64
	for _, spread := range spreads {
		start := []float64{math.Log(cut), math.Log(spread)}
		if bypass {
			start = append(start, min(c.shares[0], 0.5)/2)
		}
		starts = append(starts, start)
	}
	return starts
}

func (c Curve) fitFrom(form Form, start []float64) (fit numeric.Fitted, ok bool) {
	residuals := func(p, into []float64) {
		b := bypassOf(p)
		m := Model{form: form}
		for i, x := range c.xs {
			into[i] = c.shares[i] - m.total(x, math.Exp(p[0]), math.Exp(p[1]), b, 0)
			if b < 0 || b >= 1 {
				into[i] = math.NaN()
			}
		}
	}
	first := make([]float64, len(c.xs))
	residuals(start, first)
	for _, r := range first {
		if math.IsNaN(r) || math.IsInf(r, 0) {
			return fit, false
		}
	}
	return numeric.Fit(residuals, start, len(c.xs)), true
}

func bypassOf(parameters []float64) float64 {
	if len(parameters) < 3 {
		return 0
	}
	return parameters[2]
}

func (c Curve) fitted(form Form, fit numeric.Fitted) (Fitted, error) {
	p, deviations := fit.Parameters, fit.Deviations
	cut, spread := math.Exp(p[0]), math.Exp(p[1])
	spreadUnit := quantity.Number(0).Unit()
	if form.byError() {
		spreadUnit = c.unit
	}
	model, err := NewModel(form, c.quantity(cut), spreadUnit.Quantity(spread))
	if err != nil {
		return Fitted{}, fmt.Errorf("partition: the fit leads nowhere: %w", err)
	}
	if model, err = model.WithBypass(percent(bypassOf(p)), percent(0)); err != nil {
		return Fitted{}, err
	}
	f := Fitted{
		Model:           model,
		CutDeviation:    c.quantity(cut * deviations[0]),
		SpreadDeviation: spreadUnit.Quantity(spread * deviations[1]),
		BypassDeviation: percent(bypassOf(deviations)),
		Residuals:       percents(fit.Residuals),
		RootMeanSquare:  percent(math.NaN()),
	}
	if fit.Freedom > 0 {
		f.RootMeanSquare = percent(math.Sqrt(fit.Sum / float64(fit.Freedom)))
	}
	return f, nil
}

// Compare fits every form to a curve and is a table of their parameters, their
// probable errors and their misses, by which to choose.
//
// Units: as Fit.
//
// Range: as Fit.
//
// Errors: none of the forms can be fitted. A form that cannot is left out.
//
// Source: as Fit.
func Compare(c Curve, bypass bool) (table.Table, error) {
	var names []string
	var cuts, errorsOf, bypasses, misses []quantity.Quantity
	var last error
	for _, form := range forms {
		f, err := Fit(c, form, bypass)
		if err != nil {
			last = err
			continue
		}
		b, _ := f.Model.Bypass()
		names, cuts = append(names, form.String()), append(cuts, f.Model.Cut())
		errorsOf, bypasses = append(errorsOf, f.Model.ProbableError()), append(bypasses, b)
		misses = append(misses, f.RootMeanSquare)
	}
	if len(names) == 0 {
		return table.Table{}, last
	}
	return table.New(table.Texts("model", names), table.Quantities("cut", cuts), table.Quantities("Ep", errorsOf),
		table.Quantities("bypass", bypasses), table.Quantities("root mean square miss", misses))
}

// Table is the parameters with their standard errors.
func (f Fitted) Table() table.Table {
	b, _ := f.Model.Bypass()
	show := func(q quantity.Quantity) string {
		if q.IsNaN() {
			return "–"
		}
		return fmt.Sprintf("%.4g", q)
	}
	t, err := table.New(table.Texts("parameter", []string{"cut", "spread", "bypass", "root mean square miss"}),
		table.Texts("value", []string{show(f.Model.Cut()), show(f.Model.Spread()), show(b), show(f.RootMeanSquare)}),
		table.Texts("standard error", []string{show(f.CutDeviation), show(f.SpreadDeviation), show(f.BypassDeviation), "–"}))
	if err != nil {
		panic("partition: " + err.Error()) // the columns are built alike
	}
	return t.Caption(f.Model.Form().String())
}

// String is Table as text.
func (f Fitted) String() string { return f.Table().String() }

// HTML is Table as HTML.
func (f Fitted) HTML() string { return f.Table().HTML() }

// Markdown is Table as Markdown.
func (f Fitted) Markdown() string { return f.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (f Fitted) LaTeX() string { return f.Table().LaTeX() }
