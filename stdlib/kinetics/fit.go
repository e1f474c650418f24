package kinetics

import (
	"errors"
	"fmt"
	"math"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Fitted is a model fitted to a test, with the standard errors of its parameters
// and what it leaves. A deviation is not a number where there are as many
// parameters as readings.
type Fitted struct {
	Model              Model
	UltimateDeviation  quantity.Quantity
	RateDeviation      quantity.Quantity
	SlowDeviation      quantity.Quantity // of FastSlow
	SlowShareDeviation quantity.Quantity // of FastSlow
	AtLimit            bool              // the ultimate recovery was held at 100 %, which the fit would have passed
	Residuals          []quantity.Quantity
	RootMeanSquare     quantity.Quantity // of the residuals over the degrees of freedom, in %
	Determination      float64           // R², the share of the scatter of recoveries that the model explains
}

// Fit is the model of a form that comes nearest to a test by least squares of the
// recoveries. A fit whose ultimate recovery would pass 100 % is made again with
// 100 %.
//
// Units: rates per unit of the test's times.
//
// Range: as many readings after time 0 as parameters, two or (FastSlow) four.
//
// Errors: too few readings; a test that does not tell the parameters, as when all
// its readings are on the flat end or the straight beginning.
//
// Source: least squares; standard errors as numeric.Fit says.
func Fit(t Test, form Form) (Fitted, error) {
	if form < FirstOrder || form > SecondOrderKlimpel {
		return Fitted{}, fmt.Errorf("kinetics: there is no %v", form)
	}
	free := t.search(form, false)
	if free == nil {
		return Fitted{}, errors.New("kinetics: the readings do not tell the parameters of the model; more readings are needed, or another form")
	}
	p := free.parameters(form, false)
	if p.ultimate <= 1 {
		return t.fitted(form, *free, false)
	}
	held := t.search(form, true)
	if held == nil {
		return Fitted{}, errors.New("kinetics: the fit passes 100 % recovery, and held there the readings do not tell the rate; use another form")
	}
	return t.fitted(form, *held, true)
}

type search struct{ numeric.Fitted }

// parameters reads what was searched for: logarithms of the ultimate recovery
// (unless held) and the rate; for FastSlow also of the ratio of the rates, and the
// slow share by its logit.
func (s search) parameters(form Form, held bool) parameters {
	return read(s.Parameters, form, held)
}

func read(x []float64, form Form, held bool) parameters {
	p := parameters{ultimate: 1}
	if !held {
		p.ultimate, x = math.Exp(x[0]), x[1:]
	}
	p.rate = math.Exp(x[0])
	p.slow = p.rate
	if form == FastSlow {
		p.slow = p.rate / (1 + math.Exp(x[1]))
		p.slowShare = 1 / (1 + math.Exp(-x[2]))
	}
	return p
}

func (t Test) search(form Form, held bool) *search {
	residuals := func(x, into []float64) {
		p := read(x, form, held)
		for i, time := range t.times {
			into[i] = t.recoveries[i] - p.ultimate*(1-form.stays(p, time))
		}
	}
	last := t.recoveries[len(t.recoveries)-1]
	span := t.times[len(t.times)-1]
	var best *search
	for _, rate := range []float64{0.5, 2, 8, 30} {
		for _, ultimate := range []float64{1.02, 1.5} {
			start := []float64{math.Log(rate / span)}
			if form == FastSlow {
				start = append(start, 2, -1)
			}
			if !held {
				start = append([]float64{math.Log(max(last, 1e-6) * ultimate)}, start...)
			}
			readings := len(t.times)
			if t.times[0] == 0 {
				readings-- // it says nothing
			}
			if readings < len(start) {
				return nil
			}
			fit := numeric.Fit(residuals, start, len(t.times))
			if fit.Settled && finite(fit.Parameters) && (best == nil || fit.Sum < best.Sum) {
				best = &search{fit}
			}
		}
	}
	return best
}

func (t Test) fitted(form Form, s search, held bool) (Fitted, error) {
	p := s.parameters(form, held)
	perTime := quantity.Number(1).Div(t.unit.Quantity(1)).Unit()
	m, err := newModel(form, percent(min(p.ultimate, 1)), perTime.Quantity(p.rate), perTime.Quantity(p.slow), percent(p.slowShare))
	if err != nil {
		return Fitted{}, fmt.Errorf("kinetics: the fit leads nowhere: %w", err)
	}
	f := Fitted{Model: m, AtLimit: held, RootMeanSquare: percent(math.NaN()), Determination: t.determination(s.Sum)}
	for _, r := range s.Residuals {
		f.Residuals = append(f.Residuals, percent(r))
	}
	if s.Freedom > 0 {
		f.RootMeanSquare = percent(math.Sqrt(s.Sum / float64(s.Freedom)))
	}
	deviations := s.deviations(form, held)
	f.UltimateDeviation, f.RateDeviation = percent(deviations.ultimate), perTime.Quantity(deviations.rate)
	f.SlowDeviation, f.SlowShareDeviation = perTime.Quantity(deviations.slow), percent(deviations.slowShare)
	return f, nil
}

// determination is R² about the mean.
func (t Test) determination(sum float64) float64 {
	mean, total := numeric.Sum(t.recoveries...)/float64(len(t.recoveries)), 0.0
	for _, r := range t.recoveries {
		total += (r - mean) * (r - mean)
	}
	return 1 - sum/total
}

// deviations are the standard errors of the parameters, from the covariance of
// what was searched for and the slopes of what is read from it.
func (s search) deviations(form Form, held bool) parameters {
	x := append([]float64(nil), s.Parameters...)
	var of [4]float64
	slopes := make([][4]float64, len(x))
	for j := range x {
		const step = 1e-6
		up, down := append([]float64(nil), x...), append([]float64(nil), x...)
		up[j], down[j] = x[j]+step, x[j]-step
		a, b := read(up, form, held), read(down, form, held)
		slopes[j] = [4]float64{(a.ultimate - b.ultimate) / (2 * step), (a.rate - b.rate) / (2 * step),
			(a.slow - b.slow) / (2 * step), (a.slowShare - b.slowShare) / (2 * step)}
	}
	for i := range of {
		for j := range x {
			for k := range x {
				of[i] += slopes[j][i] * s.Covariance[j][k] * slopes[k][i]
			}
		}
		of[i] = math.Sqrt(of[i])
	}
	return parameters{of[0], of[1], of[2], of[3]}
}

// Compare fits every form to a test and is a table of their parameters and misses,
// by which to choose. The information figure is Akaike's, corrected for few
// readings; the lowest is the best choice, and a difference below 2 says little.
//
// Units: as Fit.
//
// Range: as Fit. A form that cannot be fitted, or has too few readings, is left
// out.
//
// Errors: none of the forms can be fitted.
//
// Source: K.P. Burnham, D.R. Anderson, Model Selection and Multimodel Inference
// (2002), for the information figure.
func Compare(t Test) (table.Table, error) {
	var names []string
	var ultimates, rates, misses []quantity.Quantity
	var information []float64
	var last error
	for _, form := range forms {
		f, err := Fit(t, form)
		if err != nil {
			last = err
			continue
		}
		names = append(names, form.String())
		ultimates, rates = append(ultimates, f.Model.Ultimate()), append(rates, f.Model.Rate())
		misses, information = append(misses, f.RootMeanSquare), append(information, f.information())
	}
	if len(names) == 0 {
		return table.Table{}, last
	}
	return table.New(table.Texts("model", names), table.Quantities("ultimate recovery", ultimates), table.Quantities("rate", rates),
		table.Quantities("root mean square miss", misses), table.Numbers("information figure", information))
}

// information is n·ln(S/n) + 2k + 2k(k+1)/(n−k−1), k counting the scatter too; not
// a number for too few readings.
func (f Fitted) information() float64 {
	n, k, sum := float64(len(f.Residuals)), 3.0, 0.0
	if f.Model.form == FastSlow {
		k = 5
	}
	if f.AtLimit {
		k--
	}
	for _, r := range f.Residuals {
		sum += r.SI() * r.SI()
	}
	if n-k-1 <= 0 || sum == 0 {
		return math.NaN()
	}
	return n*math.Log(sum/n) + 2*k + 2*k*(k+1)/(n-k-1)
}

// Table is the parameters with their standard errors.
func (f Fitted) Table() table.Table {
	show := func(q quantity.Quantity) string {
		if q.IsNaN() {
			return "–"
		}
		return fmt.Sprintf("%.4g", q)
	}
	names := []string{"ultimate recovery", "rate"}
	values := []string{show(f.Model.ultimate), show(f.Model.rate)}
	errorsOf := []string{show(f.UltimateDeviation), show(f.RateDeviation)}
	if f.AtLimit {
		errorsOf[0] = "held"
	}
	if f.Model.form == FastSlow {
		names = append(names, "slow rate", "slow share")
		values = append(values, show(f.Model.slow), show(f.Model.slowShare))
		errorsOf = append(errorsOf, show(f.SlowDeviation), show(f.SlowShareDeviation))
	}
	names, values, errorsOf = append(names, "root mean square miss"), append(values, show(f.RootMeanSquare)), append(errorsOf, "–")
	t, err := table.New(table.Texts("parameter", names), table.Texts("value", values), table.Texts("standard error", errorsOf))
	if err != nil {
		panic("kinetics: " + err.Error()) // the columns are built alike
	}
	return t.Caption(f.Model.form.String())
}

// String is Table as text.
func (f Fitted) String() string { return f.Table().String() }

// HTML is Table as HTML.
func (f Fitted) HTML() string { return f.Table().HTML() }

// Markdown is Table as Markdown.
func (f Fitted) Markdown() string { return f.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (f Fitted) LaTeX() string { return f.Table().LaTeX() }
