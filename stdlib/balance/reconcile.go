package balance

import (
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Standing is what the balances say of a figure.
type Standing int

// The standings.
const (
	// Redundant is measured, and told by the other measurements too: it was
	// adjusted, and can be tested.
	Redundant Standing = iota
	// Needed is measured, and nothing else tells it: it stays as it is, right or
	// wrong, and everything that depends on it takes over its error.
	Needed
	// Exact was not to be adjusted.
	Exact
	// Observable was not measured, and follows from what was.
	Observable
	// Unobservable was not measured, and nothing tells it.
	Unobservable
)

// String is the standing in a word.
func (s Standing) String() string {
	switch s {
	case Redundant:
		return "redundant"
	case Needed:
		return "needed"
	case Exact:
		return "exact"
	case Observable:
		return "observable"
	case Unobservable:
		return "unobservable"
	}
	return fmt.Sprintf("standing %d", int(s))
}

// Adjusted is one figure after reconciliation.
type Adjusted struct {
	Stream    string
	Component string            // empty for the flow
	Measured  quantity.Quantity // not a number if it was not measured
	Value     quantity.Quantity // not a number if it is unobservable
	Deviation quantity.Quantity // standard deviation of Value, to first order
	Standing  Standing
	Test      float64 // the adjustment in standard deviations of itself; NaN unless redundant
}

// Reconciled is a network whose figures balance. Make one with Reconcile.
type Reconciled struct {
	problem *problem
	figures []Adjusted
	squares float64
	freedom int
}

// Reconcile adjusts measurements as little as possible so that they balance: the
// figures x that make
//
//	Σ ((x − measured)/deviation)² → least
//
// while at every node the mass and each component that enters leaves,
//
//	Σin F = Σout F,  Σin F·a = Σout F·a,
//
// and closed groups add up to 100 %. Flows and assays that were not measured are
// found where they follow. Assays times flows make the problem bilinear; it is
// solved by successive linear steps on sparse equations.
//
// Units: flows of one kind; assays are shares. All streams are on one basis, dry or
// wet, and shares are of mass.
//
// Range: steady states; measurements whose errors are near normal. They are
// independent, unless the values are uncertain quantities that are correlated.
// Deviations are to first order.
//
// Errors: a stream that is not in the network, a figure given twice, of another
// kind, negative, or without a deviation; no flow; a component or flow that is 0
// throughout; measurements that contradict one another so much that no adjustment
// settles.
//
// Source: S. Narasimhan, C. Jordache, Data Reconciliation and Gross Error
// Detection (2000); R.L. Wiegel, Can. Metall. Q. 11 (1972) 413 (from memory).
func (n Network) Reconcile(measurements ...Measurement) (Reconciled, error) {
	p, err := newProblem(n, measurements)
	if err != nil {
		return Reconciled{}, err
	}
	last, err := p.solve()
	if err != nil {
		return Reconciled{}, err
	}
	r := Reconciled{problem: p}
	freedom := 0.0
	for _, v := range p.variables {
		if v.measured && !v.exact {
			r.squares += math.Pow((v.value-v.given)/v.deviation, 2)
			freedom += 1 - last.variety[v.place]
		}
		r.figures = append(r.figures, p.figure(v, last.variety))
	}
	squares, less := p.correlatedSums(last)
	r.squares += squares
	r.freedom = int(math.Round(freedom-less)) - p.closedByThemselves()
	return r, nil
}

// closedByThemselves counts the analyses that add up to 100 % as given, as shares
// of one sieving do: that they still do so tests nothing.
func (p *problem) closedByThemselves() int {
	count := 0
	for _, c := range p.constraints {
		if c.node >= 0 {
			continue
		}
		sum, free := 0.0, false
		for _, t := range c.terms {
			v := p.variables[t.a]
			if !v.measured {
				sum = math.NaN()
			}
			sum += v.given
			free = free || !v.exact
		}
		if free && math.Abs(sum-1) < 1e-9 {
			count++
		}
	}
	return count
}

// told is the share of a measurement's variance, above which the balances count as
// telling it too.
const told = 1e-6

func (p *problem) figure(v variable, variety []float64) Adjusted {
	show := func(x float64) quantity.Quantity {
		if v.component < 0 {
			return p.flowUnit.Quantity(x)
		}
		return v.unit.Quantity(x / v.unit.Quantity(1).SI())
	}
	f := Adjusted{Stream: p.network.streams[v.stream].Name, Measured: show(math.NaN()), Value: show(v.value), Test: math.NaN()}
	if v.component >= 0 {
		f.Component = p.components[v.component]
	}
	if v.measured {
		f.Measured = show(v.given)
	}
	if v.exact {
		f.Standing, f.Deviation = Exact, show(0)
		return f
	}
	variance := max(0, variety[v.place])
	f.Deviation = show(v.scale * math.Sqrt(variance))
	switch left := 1 - variance; {
	case v.measured && left > told:
		f.Standing = Redundant
		f.Test = (v.given - v.value) / (v.deviation * math.Sqrt(left))
	case v.measured:
		f.Standing = Needed
	case variance > loose:
		f.Standing, f.Value, f.Deviation = Unobservable, show(math.NaN()), show(math.NaN())
	default:
		f.Standing = Observable
	}
	return f
}

// Figures are all figures: flows in the order of the streams, then the components
// in the order in which they were first measured.
func (r Reconciled) Figures() []Adjusted { return slices.Clone(r.figures) }

// Flow is the flow of a stream.
//
// Units: in the unit of the first flow measured.
//
// Range: not a number if it is unobservable.
//
// Errors: there is no such stream.
//
// Source: as Reconcile.
func (r Reconciled) Flow(stream string) (Adjusted, error) { return r.find(stream, "") }

// Assay is the share of a component in a stream.
//
// Units: a share, in the unit in which it was measured.
//
// Range: not a number if it is unobservable.
//
// Errors: there is no such stream or component.
//
// Source: as Reconcile.
func (r Reconciled) Assay(stream, component string) (Adjusted, error) {
	return r.find(stream, component)
}

func (r Reconciled) find(stream, component string) (Adjusted, error) {
	for _, f := range r.figures {
		if f.Stream == stream && f.Component == component {
			return f, nil
		}
	}
	return Adjusted{}, fmt.Errorf("balance: there is no %s", Measurement{Stream: stream, Component: component}.of())
}

// Impossible are the figures that came out below 0 or, for shares, above 100 %. If
// there is one, a measurement or the network is wrong.
func (r Reconciled) Impossible() []Adjusted {
	var all []Adjusted
	for i, f := range r.figures {
		v := r.problem.variables[i]
		if f.Standing == Unobservable {
			continue
		}
		if v.value < -1e-9*v.scale || v.component >= 0 && v.value > 1+1e-9 {
			all = append(all, f)
		}
	}
	return all
}

// Global is the chi-square test of all adjustments together: whether they are as
// small as the standard deviations promise.
type Global struct {
	Statistic   float64 // sum of squared adjustments over variances
	Freedom     int     // how many independent balances the measurements must fulfil
	Critical    float64 // what chance exceeds in 1 − level of cases
	Probability float64 // that chance gives a statistic as large
	Passes      bool
}

// Global is the test at a level of confidence, usually 0.95. If it fails, there is a
// gross error, a leak, a network that is not so, or standard deviations that are too
// small; Suspects helps to tell. If it passes by far, the deviations may be too
// large.
//
// Units: level is a plain share; plain numbers.
//
// Range: measurements with at least one redundant.
//
// Errors: a level outside 0 to 1; nothing redundant, so that nothing can be tested.
//
// Source: Narasimhan and Jordache (2000), ch. 7.
func (r Reconciled) Global(level float64) (Global, error) {
	if !(level > 0 && level < 1) {
		return Global{}, fmt.Errorf("balance: a level of confidence lies between 0 and 1, as 0.95 does, and %v does not", level)
	}
	if r.freedom < 1 {
		return Global{}, fmt.Errorf("balance: no measurement is redundant, so the balances test nothing; measure more")
	}
	g := Global{Statistic: r.squares, Freedom: r.freedom}
	g.Critical = numeric.ChiSquareQuantile(level, float64(r.freedom))
	g.Probability = numeric.ChiSquareAbove(r.squares, float64(r.freedom))
	g.Passes = g.Statistic <= g.Critical
	return g, nil
}

// String is the test in a line.
func (g Global) String() string {
	verdict := "passes"
	if !g.Passes {
		verdict = "fails"
	}
	return fmt.Sprintf("the global test %s: χ² = %.4g with %d degrees of freedom, critical %.4g; chance gives as much in %.2g of cases",
		verdict, g.Statistic, g.Freedom, g.Critical, g.Probability)
}

// Suspects are the measurements whose adjustment is larger than chance allows
// anywhere among all that are tested, the worst first: |Test| above the quantile
// for a level of confidence shared out among them,
//
//	1 − (1 − level^(1/m))/2
//
// One gross error drags others along: look at the worst, put it right or leave it
// out, and reconcile again.
//
// Units: level is a plain share, usually 0.95.
//
// Range: redundant measurements; those that are only needed cannot be tested.
//
// Errors: a level outside 0 to 1.
//
// Source: R.S.H. Mah, A.C. Tamhane, AIChE J. 28 (1982) 828 (from memory); Z. Šidák
// (1967) for sharing out the level.
func (r Reconciled) Suspects(level float64) ([]Adjusted, error) {
	if !(level > 0 && level < 1) {
		return nil, fmt.Errorf("balance: a level of confidence lies between 0 and 1, as 0.95 does, and %v does not", level)
	}
	var tested []Adjusted
	for _, f := range r.figures {
		if f.Standing == Redundant {
			tested = append(tested, f)
		}
	}
	if len(tested) == 0 {
		return nil, nil
	}
	limit := numeric.NormalQuantile(1 - (1-math.Pow(level, 1/float64(len(tested))))/2)
	tested = slices.DeleteFunc(tested, func(f Adjusted) bool { return math.Abs(f.Test) <= limit })
	slices.SortStableFunc(tested, func(a, b Adjusted) int {
		return -compareFloats(math.Abs(a.Test), math.Abs(b.Test))
	})
	return tested, nil
}

func compareFloats(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// Table is all figures: measured, adjusted, their deviations, standing and test.
func (r Reconciled) Table() table.Table {
	text := func(q quantity.Quantity, digits int) string {
		if q.IsNaN() {
			return "–"
		}
		return fmt.Sprintf("%.*g", digits, q.Certain())
	}
	columns := make([][]string, 7)
	for _, f := range r.figures {
		test, of := "–", f.Component
		if !math.IsNaN(f.Test) {
			test = fmt.Sprintf("%.2f", f.Test)
		}
		if of == "" {
			of = "flow"
		}
		for i, cell := range []string{f.Stream, of, text(f.Measured, 5), text(f.Value, 5), text(f.Deviation, 2), f.Standing.String(), test} {
			columns[i] = append(columns[i], cell)
		}
	}
	t, err := table.New(table.Texts("stream", columns[0]), table.Texts("figure", columns[1]), table.Texts("measured", columns[2]),
		table.Texts("adjusted", columns[3]), table.Texts("deviation", columns[4]), table.Texts("standing", columns[5]), table.Texts("test", columns[6]))
	if err != nil {
		panic("balance: " + err.Error()) // the columns are built alike
	}
	return t.Caption(r.verdict())
}

func (r Reconciled) verdict() string {
	text := "no measurement is redundant"
	if g, err := r.Global(0.95); err == nil {
		text = g.String()
	}
	if wrong := r.Impossible(); len(wrong) > 0 {
		text += fmt.Sprintf("; %d impossible, first the %s", len(wrong), Measurement{Stream: wrong[0].Stream, Component: wrong[0].Component}.of())
	}
	return text
}

// String is Table as text.
func (r Reconciled) String() string { return r.Table().String() }

// HTML is Table as HTML.
func (r Reconciled) HTML() string { return r.Table().HTML() }

// Markdown is Table as Markdown.
func (r Reconciled) Markdown() string { return r.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (r Reconciled) LaTeX() string { return r.Table().LaTeX() }
