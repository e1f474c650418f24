package comminution

import (
	"errors"
	"fmt"
	"math"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// BatchTest is the size distribution of the charge of a batch mill after a time, or an
// energy per mass: shares of the whole, one for each class.
type BatchTest struct {
	Dose   quantity.Quantity
	Shares []quantity.Quantity
}

// FittedGrinding is a selection and a breakage function that were fitted to batch
// tests. A deviation is not a number where the parameter was held.
type FittedGrinding struct {
	Selection  Selection
	Breakage   Breakage
	Deviations []quantity.Quantity // standard errors in %, of a, α, γ and β relative to the parameter, of φ absolute; in the order a, α, φ, γ, β
	Scatter    quantity.Quantity   // standard deviation of the shares about the fit, in %
}

// FitSelection is the selection function a·(x/1 mm)^α that comes nearest to batch
// tests by least squares of the shares, with a known breakage function.
//
// Units: uppers as in Kinetics; feed the shares at the beginning; as BatchTest. The rate
// is per time or per energy, as the doses are.
//
// Range: one test or more after the beginning; no falling rates at coarse sizes. Shares
// count with their means.
//
// Errors: lengths that differ; shares that do not add up to 1 within 1 %; doses of
// unlike kinds; tests that do not tell the parameters.
//
// Source: L.G. Austin, R.R. Klimpel, P.T. Luckie (1984), back-calculation; D.W.
// Marquardt, J. SIAM 11 (1963) 431.
func FitSelection(uppers, feed []quantity.Quantity, known Breakage, tests ...BatchTest) (FittedGrinding, error) {
	b, err := known.numbers()
	if err != nil {
		return FittedGrinding{}, err
	}
	return fitGrinding(uppers, feed, tests, &b)
}

// FitGrinding fits selection and breakage functions together.
//
// Units: as FitSelection.
//
// Range: as FitSelection. Whole size distributions tell β and φ badly; look at the
// errors, and hold what a test with one size of feed gives (FitSelection).
//
// Errors: as FitSelection.
//
// Source: as FitSelection.
func FitGrinding(uppers, feed []quantity.Quantity, tests ...BatchTest) (FittedGrinding, error) {
	return fitGrinding(uppers, feed, tests, nil)
}

// readTests are the tests in numbers, doses in SI units.
func readTests(n int, feed []quantity.Quantity, tests []BatchTest) (start []float64, doses []float64, shares [][]float64, perEnergy bool, err error) {
	all := append([]BatchTest{{quantity.Quantity{}, feed}}, tests...)
	for k, test := range all {
		if len(test.Shares) != n {
			return nil, nil, nil, false, fmt.Errorf("comminution: test %d has %d shares for %d classes", k, len(test.Shares), n)
		}
		row, total := make([]float64, n), 0.0
		for i, q := range test.Shares {
			if row[i], err = share(q, "share of a class"); err != nil {
				return nil, nil, nil, false, fmt.Errorf("test %d: %w", k, err)
			}
			total += row[i]
		}
		if math.Abs(total-1) > 0.01 {
			return nil, nil, nil, false, fmt.Errorf("comminution: the shares of test %d add up to %.4g %%, not 100 %%", k, 100*total)
		}
		if k == 0 {
			start = row
			continue
		}
		energy := true
		dose, err := positive(test.Dose, perMass, "energy of grinding")
		if err != nil {
			energy = false
			if dose, err = positive(test.Dose, "s", "grinding time"); err != nil {
				return nil, nil, nil, false, fmt.Errorf("comminution: test %d: a dose is a time or an energy per mass above 0, and %v is not", k, test.Dose)
			}
		}
		if k > 1 && energy != perEnergy {
			return nil, nil, nil, false, errors.New("comminution: doses are all times or all energies")
		}
		perEnergy, doses, shares = energy, append(doses, dose), append(shares, row)
	}
	return start, doses, shares, perEnergy, nil
}

func fitGrinding(uppers, feed []quantity.Quantity, tests []BatchTest, held *breakage) (FittedGrinding, error) {
	xs, err := falling(uppers)
	if err != nil {
		return FittedGrinding{}, err
	}
	start, doses, shares, perEnergy, err := readTests(len(xs), feed, tests)
	if err != nil {
		return FittedGrinding{}, err
	}
	if len(tests) == 0 || len(xs) < 3 {
		return FittedGrinding{}, errors.New("comminution: the fit needs a test after the beginning and three size classes")
	}
	read := func(p []float64) (selection, breakage) {
		s := selection{rate: math.Exp(p[0]), x0: 1e-3, exponent: math.Exp(p[1]), perEnergy: perEnergy}
		if held != nil {
			return s, *held
		}
		fine := math.Exp(p[3])
		return s, breakage{1 / (1 + math.Exp(-p[2])), fine, fine + math.Exp(p[4])}
	}
	residuals := func(p, into []float64) {
		s, b := read(p)
		g := kinetics(xs, s, b)
		at := 0
		for k, dose := range doses {
			if !(g.fastest()*dose < mostTurns/100) { // a step into nowhere
				for i := range into {
					into[i] = math.NaN()
				}
				return
			}
			for i, x := range g.batch(start, dose) {
				into[at] = shares[k][i] - x
				at++
			}
		}
	}
	var best numeric.Fitted
	longest := doses[0]
	for _, dose := range doses {
		longest = max(longest, dose)
	}
	for _, turns := range []float64{0.3, 2, 10} {
		p := []float64{math.Log(turns / longest * math.Pow(1e-3/xs[0], 0.8)), math.Log(0.8), 0, math.Log(0.8), math.Log(3)}
		if held != nil {
			p = p[:2]
		}
		fit := numeric.Fit(residuals, p, len(doses)*len(xs))
		if fit.Settled && (best.Parameters == nil || fit.Sum < best.Sum) {
			best = fit
		}
	}
	if best.Parameters == nil || math.IsNaN(best.Deviations[0]) || best.Deviations[1] > 2 {
		return FittedGrinding{}, errors.New("comminution: the tests do not tell the parameters; hold the breakage function with FitSelection, or add tests at other doses")
	}
	s, b := read(best.Parameters)
	return fitted(s, b, best, held != nil), nil
}

func fitted(s selection, b breakage, fit numeric.Fitted, held bool) FittedGrinding {
	rate := quantity.Of(s.rate, "1/s").To("1/min")
	if s.perEnergy {
		rate = quantity.Of(s.rate, "kg/J").To("t/kWh")
	}
	f := FittedGrinding{
		Selection: Selection{Rate: rate, At: quantity.Of(1, "mm"), Exponent: quantity.Number(s.exponent)},
		Breakage:  Breakage{quantity.Number(b.fines), quantity.Number(b.fine), quantity.Number(b.coarse)},
		Scatter:   percent(math.Sqrt(fit.Sum / float64(fit.Freedom))),
	}
	d := fit.Deviations
	f.Deviations = []quantity.Quantity{percent(d[0]), percent(d[1]), percent(math.NaN()), percent(math.NaN()), percent(math.NaN())}
	if !held {
		// β is γ and a difference, whose errors go together by the covariance.
		c, step := fit.Covariance, b.coarse-b.fine
		coarse := math.Sqrt(b.fine*b.fine*c[3][3] + 2*b.fine*step*c[3][4] + step*step*c[4][4])
		f.Deviations[2], f.Deviations[3], f.Deviations[4] = percent(b.fines*(1-b.fines)*d[2]), percent(d[3]), percent(coarse/b.coarse)
	}
	return f
}

// Table is the parameters with their errors.
func (f FittedGrinding) Table() table.Table {
	show := func(q quantity.Quantity) string {
		if q.IsNaN() {
			return "held"
		}
		return fmt.Sprintf("%.3g", q)
	}
	var errorsOf []string
	for i, q := range f.Deviations {
		text := show(q)
		if i == 2 && text != "held" {
			text += " absolute"
		}
		errorsOf = append(errorsOf, text)
	}
	t, err := table.New(
		table.Texts("parameter", []string{"rate a at 1 mm", "exponent α", "fines φ", "exponent γ", "exponent β", "scatter of shares"}),
		table.Texts("value", []string{fmt.Sprintf("%.4g", f.Selection.Rate), fmt.Sprintf("%.4g", f.Selection.Exponent), fmt.Sprintf("%.4g", f.Breakage.Fines),
			fmt.Sprintf("%.4g", f.Breakage.Fine), fmt.Sprintf("%.4g", f.Breakage.Coarse), show(f.Scatter)}),
		table.Texts("standard error", append(errorsOf, "–")))
	if err != nil {
		panic("comminution: " + err.Error()) // the columns are built alike
	}
	return t.Caption("Selection and breakage functions fitted to batch tests")
}

// String is Table as text.
func (f FittedGrinding) String() string { return f.Table().String() }

// HTML is Table as HTML.
func (f FittedGrinding) HTML() string { return f.Table().HTML() }

// Markdown is Table as Markdown.
func (f FittedGrinding) Markdown() string { return f.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (f FittedGrinding) LaTeX() string { return f.Table().LaTeX() }
