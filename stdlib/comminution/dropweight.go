package comminution

import (
	"errors"
	"fmt"
	"math"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Drop is one result of a drop-weight test: particles of a size, struck one by one
// with an energy per mass, gave a t10.
type Drop struct {
	Size, Energy, T10 quantity.Quantity
}

// FittedImpact is an Impact fitted to drop-weight tests. A deviation is not a number
// where the tests do not tell it or the parameter is not in the law.
type FittedImpact struct {
	Impact         Impact
	MostDeviation  quantity.Quantity
	EaseDeviation  quantity.Quantity
	LeastDeviation quantity.Quantity
	Product        quantity.Quantity // A·b, with A in % and b in t/kWh
	ProductError   quantity.Quantity // standard error of A·b; A and b vary against each other, and their product is known better
	Scatter        quantity.Quantity // standard deviation of t10 about the law, in %
}

// FitImpact is the law t10 = A·(1 − exp(−b·E)) that comes nearest to drop-weight
// tests by least squares of t10, whatever the sizes.
//
// Units: as Drop; b in t/kWh.
//
// Range: three tests or more over energies that reach the bend of the curve, or A and
// b are not told apart. Uncertain tests count with their means.
//
// Errors: fewer tests; values outside their range; tests that do not tell A and b.
//
// Source: T.J. Napier-Munn et al., Mineral Comminution Circuits (JKMRC, 1996); least
// squares.
func FitImpact(drops ...Drop) (FittedImpact, error) { return fitImpact(drops, false) }

// FitSizedImpact is the law with size and least energy, t10 = A·(1 − exp(−b·(x/x0)·(E −
// E0·x0/x))), with x0 the geometric mean of the sizes.
//
// Units: as FitImpact.
//
// Range: four tests or more of at least two sizes.
//
// Errors: as FitImpact; one size only.
//
// Source: F. Shi, T. Kojovic, Int. J. Miner. Process. 82 (2007) 156; least squares.
func FitSizedImpact(drops ...Drop) (FittedImpact, error) { return fitImpact(drops, true) }

// reads are drops in numbers: sizes in m, energies in J/kg, t10 as shares.
func reads(drops []Drop, least int) (x, e, t []float64, err error) {
	if len(drops) < least {
		return nil, nil, nil, fmt.Errorf("comminution: the fit needs %d tests or more, and here are %d", least, len(drops))
	}
	for i, d := range drops {
		size, err := positive(d.Size, length, "size")
		if err != nil {
			return nil, nil, nil, fmt.Errorf("test %d: %w", i+1, err)
		}
		energy, err := energyPerMass(d.Energy, "energy")
		if err != nil {
			return nil, nil, nil, fmt.Errorf("test %d: %w", i+1, err)
		}
		t10, err := share(d.T10, "t10")
		if err != nil {
			return nil, nil, nil, fmt.Errorf("test %d: %w", i+1, err)
		}
		x, e, t = append(x, size), append(e, energy), append(t, t10)
	}
	return x, e, t, nil
}

func fitImpact(drops []Drop, sized bool) (FittedImpact, error) {
	least := 3
	if sized {
		least = 4
	}
	x, e, t, err := reads(drops, least)
	if err != nil {
		return FittedImpact{}, err
	}
	at, spread, greatest, middle := 0.0, 0.0, 0.0, 0.0
	for i := range x {
		at += math.Log(x[i]) / float64(len(x))
		spread = max(spread, math.Abs(math.Log(x[i]/x[0])))
		greatest, middle = max(greatest, t[i]), middle+e[i]/float64(len(e))
	}
	if sized && spread < 0.1 {
		return FittedImpact{}, errors.New("comminution: the tests are of one size; use FitImpact, or add tests of another size")
	}
	read := func(p []float64) impact {
		m := impact{most: 1 / (1 + math.Exp(-p[0])), ease: math.Exp(p[1])}
		if sized {
			m.at, m.least = math.Exp(at), p[2]*middle
		}
		return m
	}
	var best numeric.Fitted
	for _, bend := range []float64{0.3, 1, 3} {
		top := min(1.3*greatest, 0.95)
		start := []float64{math.Log(top / (1 - top)), math.Log(bend / middle)}
		if sized {
			start = append(start, 0)
		}
		fit := numeric.Fit(func(p, into []float64) {
			m := read(p)
			for i := range x {
				into[i] = t[i] - m.t10(x[i], e[i])
			}
		}, start, len(x))
		if fit.Settled && (best.Parameters == nil || fit.Sum < best.Sum) {
			best = fit
		}
	}
	if best.Parameters == nil || math.IsNaN(best.Deviations[0]) || best.Deviations[0] > 5 {
		return FittedImpact{}, errors.New("comminution: the tests do not tell A and b apart; they need energies high enough that t10 bends towards its limit")
	}
	if sized && best.Parameters[2] < 0 {
		return FittedImpact{}, errors.New("comminution: the best least energy would be below 0, so the tests show none; use FitImpact for each size")
	}
	return fittedImpact(read(best.Parameters), best, sized, middle), nil
}

// fittedImpact carries the covariance of what was searched for, the logit of A and
// the logarithm of b, over to A, b and A·b.
func fittedImpact(m impact, fit numeric.Fitted, sized bool, middle float64) FittedImpact {
	perEnergy := func(x float64) quantity.Quantity { return quantity.Of(x, "kg/J").To("t/kWh") }
	f := FittedImpact{
		Impact:         Impact{Most: percent(m.most), Ease: perEnergy(m.ease)},
		MostDeviation:  percent(m.most * (1 - m.most) * fit.Deviations[0]),
		EaseDeviation:  perEnergy(m.ease * fit.Deviations[1]),
		LeastDeviation: quantity.Of(math.NaN(), "kWh/t"),
		Scatter:        percent(math.Sqrt(fit.Sum / float64(fit.Freedom))),
	}
	product, c, slope := 100*m.most*m.ease*3.6e3, fit.Covariance, 1-m.most
	f.Product = quantity.Number(product)
	f.ProductError = quantity.Number(product * math.Sqrt(slope*slope*c[0][0]+2*slope*c[0][1]+c[1][1]))
	if sized {
		f.Impact.At = quantity.Of(m.at, length).To("mm")
		f.Impact.Least = quantity.Of(m.least, perMass).To("kWh/t")
		f.LeastDeviation = quantity.Of(fit.Deviations[2]*middle, perMass).To("kWh/t")
	}
	return f
}

// Table is the parameters with their standard errors.
func (f FittedImpact) Table() table.Table {
	show := func(q quantity.Quantity) string {
		if q.IsNaN() {
			return "–"
		}
		return fmt.Sprintf("%.4g", q)
	}
	names := []string{"A, greatest t10", "b", "A·b"}
	values := []string{show(f.Impact.Most), show(f.Impact.Ease), show(f.Product)}
	errorsOf := []string{show(f.MostDeviation), show(f.EaseDeviation), show(f.ProductError)}
	if !f.Impact.At.IsNothing() {
		names, values = append(names, "least energy at "+show(f.Impact.At)), append(values, show(f.Impact.Least))
		errorsOf = append(errorsOf, show(f.LeastDeviation))
	}
	t, err := table.New(table.Texts("parameter", append(names, "scatter of t10")),
		table.Texts("value", append(values, show(f.Scatter))), table.Texts("standard error", append(errorsOf, "–")))
	if err != nil {
		panic("comminution: " + err.Error()) // the columns are built alike
	}
	return t.Caption("Law of breakage fitted to drop-weight tests")
}

// String is Table as text.
func (f FittedImpact) String() string { return f.Table().String() }

// HTML is Table as HTML.
func (f FittedImpact) HTML() string { return f.Table().HTML() }

// Markdown is Table as Markdown.
func (f FittedImpact) Markdown() string { return f.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (f FittedImpact) LaTeX() string { return f.Table().LaTeX() }
