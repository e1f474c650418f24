package size

import (
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Fit is a model laid through a measured distribution, with what that says of
// its parameters. Make one with FitRosinRammler and its kin, or all of them with
// FitModels.
type Fit struct {
	model    Model
	openings []quantity.Quantity // that were used
	shares   []float64           // that passed them
	weights  []float64           // of the sieves' residuals; their mean square is 1
	fitted   numeric.Fitted
	unit     string // of the lengths among the parameters
}

// FitRosinRammler lays the model of RosinRammler through a distribution by least
// squares of the shares passing:
//
//	Σ w²·(P(measured) − P(model))² → least
//
// All sieves weigh the same, w = 1, unless masses are uncertain: then each weighs
// as the inverse of the standard deviation of its share passing, and Weights says
// how much.
//
// Units: as RosinRammler; lengths in the unit of the coarsest sieve.
//
// Range: sieves that some of the mass passes and some does not; the others only
// say that sizes end there, and are left out. That the errors of cumulative shares
// hang together is not taken into account.
//
// Errors: no more such sieves than parameters; a search that does not end, which
// says that the model does not suit.
//
// Source: nonlinear least squares, D.W. Marquardt, J. SIAM 11 (1963) 431; that of
// the model.
func FitRosinRammler(d Distribution) (Fit, error) { return fitLaw(rosinRammler, d) }

// FitGatesGaudinSchuhmann is as FitRosinRammler, for the model of
// GatesGaudinSchuhmann.
//
// Units: as FitRosinRammler.
//
// Range: as FitRosinRammler.
//
// Errors: as FitRosinRammler.
//
// Source: as FitRosinRammler.
func FitGatesGaudinSchuhmann(d Distribution) (Fit, error) { return fitLaw(gatesGaudinSchuhmann, d) }

// FitLogNormal is as FitRosinRammler, for the model of LogNormal.
//
// Units: as FitRosinRammler.
//
// Range: as FitRosinRammler.
//
// Errors: as FitRosinRammler.
//
// Source: as FitRosinRammler.
func FitLogNormal(d Distribution) (Fit, error) { return fitLaw(logNormal, d) }

// FitSwebrec is as FitRosinRammler, for the model of Swebrec. Its top size lies
// above the coarsest sieve used and is often known badly.
//
// Units: as FitRosinRammler.
//
// Range: as FitRosinRammler.
//
// Errors: as FitRosinRammler.
//
// Source: as FitRosinRammler.
func FitSwebrec(d Distribution) (Fit, error) { return fitLaw(swebrec, d) }

func fitLaw(l *law, d Distribution) (Fit, error) {
	f := Fit{model: Model{law: l}, unit: d.openings[0].Unit().String()}
	var sizes, deviations []float64
	spread := d.Passing()
	for i, share := range d.passing() {
		if share > 1e-12 && share < 1-1e-12 {
			x, err := d.openings[i].Value(f.unit)
			if err != nil {
				return Fit{}, fmt.Errorf("size: %w", err)
			}
			sizes, f.shares, f.openings = append(sizes, x), append(f.shares, share), append(f.openings, d.openings[i])
			deviations = append(deviations, spread[i].StdDev().SI())
		}
	}
	if len(sizes) <= len(l.parameters) {
		return Fit{}, fmt.Errorf("size: %s has %d parameters, and %d sieves pass some of the mass and hold some back; %d are needed",
			l.name, len(l.parameters), len(sizes), len(l.parameters)+1)
	}
	f.weights = weightsOf(deviations)
	f.fitted.Sum = math.Inf(1)
	for _, start := range l.starts(sizes, f.shares) {
		if l.wrong(start) != "" {
			continue
		}
		fitted := numeric.Fit(func(p, into []float64) {
			wrong := l.wrong(p) != ""
			for i, x := range sizes {
				into[i] = math.NaN()
				if !wrong {
					into[i] = f.weights[i] * (l.passing(p, x) - f.shares[i])
				}
			}
		}, start, len(sizes))
		if fitted.Settled && fitted.Sum < f.fitted.Sum {
			f.fitted = fitted
		}
	}
	if math.IsInf(f.fitted.Sum, 1) {
		return Fit{}, fmt.Errorf("size: the fit of %s does not settle; the model does not suit this distribution", l.name)
	}
	f.model.values = f.quantities(f.fitted.Parameters)
	return f, nil
}

// weightsOf are the inverses of standard deviations, scaled so that the mean of
// their squares is 1; they are 1 where nothing is uncertain. No sieve counts for
// more than a thousand of the least certain.
func weightsOf(deviations []float64) []float64 {
	weights := make([]float64, len(deviations))
	largest := slices.Max(deviations)
	var squares float64
	for i, deviation := range deviations {
		weights[i] = 1
		if largest > 0 {
			weights[i] = largest / math.Max(deviation, largest/1000)
		}
		squares += weights[i] * weights[i]
	}
	for i := range weights {
		weights[i] /= math.Sqrt(squares / float64(len(weights)))
	}
	return weights
}

// Weights are how much the residuals of the sieves count beside one another, in the
// order of Residuals; the mean of their squares is 1. They are all 1 where masses are
// certain.
func (f Fit) Weights() []float64 { return slices.Clone(f.weights) }

// quantities are numbers of the law's parameters with their units.
func (f Fit) quantities(numbers []float64) []quantity.Quantity {
	out := make([]quantity.Quantity, len(numbers))
	for i, x := range numbers {
		out[i] = quantity.Number(x)
		if f.model.law.parameters[i].isLength {
			out[i] = quantity.Of(x, f.unit)
		}
	}
	return out
}

// Model is the fitted model with the best parameters, taken as certain.
func (f Fit) Model() Model { return f.model }

// Deviations are the standard errors of the parameters, from the scatter of the
// residuals, in the order of the model's Parameters. They are not a number where
// the sieves do not determine a parameter.
func (f Fit) Deviations() []quantity.Quantity { return f.quantities(f.fitted.Deviations) }

// Correlation is the correlations among the parameters, in the order of the
// model's Parameters.
func (f Fit) Correlation() [][]float64 {
	out := make([][]float64, len(f.fitted.Covariance))
	for i, row := range f.fitted.Covariance {
		out[i] = make([]float64, len(row))
		for j := range row {
			out[i][j] = row[j] / (f.fitted.Deviations[i] * f.fitted.Deviations[j])
		}
		out[i][i] = 1
	}
	return out
}

// Uncertain is the fitted model with uncertain parameters, so that sizes computed
// from it have a spread. Their logarithms are normal and correlated as the fit
// found them, because no parameter can fall below 0.
//
// Units: as the model.
//
// Range: standard errors well below the parameters themselves; what lies farther
// out is a guess.
//
// Errors: parameters that the sieves do not determine.
//
// Source: linear propagation of the fit's covariance; JCGM 102:2011.
func (f Fit) Uncertain() (Model, error) {
	n := len(f.fitted.Parameters)
	logs, deviations := make([]quantity.Quantity, n), make([]quantity.Quantity, n)
	for i, deviation := range f.fitted.Deviations {
		relative := deviation / f.fitted.Parameters[i]
		if math.IsNaN(relative) || math.IsInf(relative, 0) {
			return Model{}, fmt.Errorf("size: %s: the sieves do not determine the %s", f.model.law.name, f.model.law.parameters[i].name)
		}
		if relative == 0 {
			return f.model, nil // the model meets every sieve exactly
		}
		logs[i], deviations[i] = quantity.Number(math.Log(f.fitted.Parameters[i])), quantity.Number(relative)
	}
	joint, err := quantity.Joint(logs, deviations, f.Correlation())
	if err != nil {
		return Model{}, fmt.Errorf("size: %s: %w", f.model.law.name, err)
	}
	out := Model{law: f.model.law, values: make([]quantity.Quantity, n)}
	for i, log := range joint {
		out.values[i], err = quantity.Through(func(arguments []quantity.Quantity) (quantity.Quantity, error) {
			x, err := arguments[0].Float()
			return f.quantities(slices.Repeat([]float64{math.Exp(x)}, n))[i], err
		}, log.Named(f.model.law.parameters[i].name))
		if err != nil {
			return Model{}, fmt.Errorf("size: %s: %w", f.model.law.name, err)
		}
	}
	return out, nil
}

// Scatter is the standard deviation of the residuals in % passing,
// √(Σ w²r²/(sieves − parameters)).
func (f Fit) Scatter() quantity.Quantity {
	return percent(math.Sqrt(f.fitted.Sum / float64(f.fitted.Freedom)))
}

// RSquared is the share of the variance of the shares passing that the model
// explains, 1 − Σ w²r²/Σ w²(P − mean)². It is near 1 for most models of most
// distributions; Scatter tells them apart better.
func (f Fit) RSquared() float64 {
	var mean, all float64
	for i, share := range f.shares {
		mean += f.weights[i] * f.weights[i] * share / float64(len(f.shares))
	}
	for i, share := range f.shares {
		all += math.Pow(f.weights[i]*(share-mean), 2)
	}
	return 1 - f.fitted.Sum/all
}

// Criterion is Akaike's information criterion for few points,
//
//	AICc = n·ln(Σr²/n) + 2k + 2k(k+1)/(n−k−1)
//
// with n sieves and k the number of parameters and the scatter. Of models of one
// distribution, the one with the smallest is to be preferred, and a difference of
// 10 is decisive. It is +∞ where n is not above k + 1.
//
// Source: K.P. Burnham, D.R. Anderson, Model Selection and Multimodel Inference,
// 2nd ed. (2002).
func (f Fit) Criterion() float64 {
	n, k := float64(len(f.shares)), float64(len(f.fitted.Parameters)+1)
	if n <= k+1 {
		return math.Inf(1)
	}
	mean := math.Max(f.fitted.Sum/n, 1e-30) // an exact fit must not be worth infinitely much
	return n*math.Log(mean) + 2*k + 2*k*(k+1)/(n-k-1)
}

// Residuals is a table of the shares passing as measured, as the model has them,
// and the difference.
func (f Fit) Residuals() table.Table {
	var measured, model, left []quantity.Quantity
	for i, share := range f.shares {
		residual := f.fitted.Residuals[i] / f.weights[i]
		measured = append(measured, percent(share))
		model = append(model, percent(share+residual))
		left = append(left, percent(-residual))
	}
	t, err := table.New(table.Quantities("opening", f.openings), table.Quantities("measured", measured),
		table.Quantities("model", model), table.Quantities("difference", left))
	if err != nil {
		panic("size: " + err.Error())
	}
	return t
}

// Table is the parameters with their standard errors, and the scatter.
func (f Fit) Table() table.Table {
	var names, values, deviations []string
	for i, p := range f.model.law.parameters {
		names = append(names, p.name)
		values = append(values, fmt.Sprintf("%.4g", f.model.values[i]))
		deviations = append(deviations, fmt.Sprintf("%.2g", f.Deviations()[i]))
	}
	names = append(names, "scatter of passing")
	values, deviations = append(values, fmt.Sprintf("%.2g", f.Scatter())), append(deviations, "")
	t, err := table.New(table.Texts("parameter", names), table.Texts("value", values), table.Texts("standard error", deviations))
	if err != nil {
		panic("size: " + err.Error())
	}
	return t.Caption(fmt.Sprintf("%s, %s, through %d sieves", f.model.law.name, f.model.law.equation, len(f.shares)))
}

// String is Table as text.
func (f Fit) String() string { return f.Table().String() }

// HTML is Table as HTML.
func (f Fit) HTML() string { return f.Table().HTML() }

// Markdown is Table as Markdown.
func (f Fit) Markdown() string { return f.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (f Fit) LaTeX() string { return f.Table().LaTeX() }

// Fits are several models through one distribution, the preferred one first.
type Fits []Fit

// FitModels lays all models through a distribution and puts them in order of
// Criterion. A model that does not settle, or has too many parameters for the
// sieves, is left out.
//
// Units: as FitRosinRammler.
//
// Range: as FitRosinRammler.
//
// Errors: no model can be fitted; the reason is that of the first.
//
// Source: as FitRosinRammler and Fit.Criterion.
func FitModels(d Distribution) (Fits, error) {
	var fits Fits
	var first error
	for _, l := range []*law{rosinRammler, gatesGaudinSchuhmann, logNormal, swebrec} {
		f, err := fitLaw(l, d)
		if err == nil {
			fits = append(fits, f)
		} else if first == nil {
			first = err
		}
	}
	if len(fits) == 0 {
		return nil, first
	}
	slices.SortStableFunc(fits, func(a, b Fit) int {
		x, y := a.Criterion(), b.Criterion()
		switch {
		case x < y || x == y && a.fitted.Sum < b.fitted.Sum:
			return -1
		case x > y || a.fitted.Sum > b.fitted.Sum:
			return 1
		}
		return 0
	})
	return fits, nil
}

// Table compares the fits: parameters, scatter, R², and how much larger Criterion
// is than that of the preferred one.
func (fits Fits) Table() table.Table {
	var names []string
	var count, squared, behind []float64
	var scatter []quantity.Quantity
	for _, f := range fits {
		names = append(names, f.model.law.name)
		count, squared = append(count, float64(len(f.fitted.Parameters))), append(squared, f.RSquared())
		scatter = append(scatter, f.Scatter())
		behind = append(behind, f.Criterion()-fits[0].Criterion())
	}
	t, err := table.New(table.Texts("model", names), table.Numbers("parameters", count), table.Quantities("scatter", scatter),
		table.Numbers("R²", squared), table.Numbers("AICc − least", behind))
	if err != nil {
		panic("size: " + err.Error())
	}
	return t
}

// String is Table as text.
func (fits Fits) String() string { return fits.Table().String() }

// HTML is Table as HTML.
func (fits Fits) HTML() string { return fits.Table().HTML() }

// Markdown is Table as Markdown.
func (fits Fits) Markdown() string { return fits.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (fits Fits) LaTeX() string { return fits.Table().LaTeX() }
