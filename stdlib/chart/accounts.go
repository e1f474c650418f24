package chart

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/plot"
	"cobber/stdlib/quantity"
)

// Entry is a named quantity of a balance or a ledger.
type Entry struct {
	Name  string
	Value quantity.Quantity
}

// Waterfall is a balance step by step: what comes in, what leaves on the way,
// and what is left. What the end does not account for stands there as a bar of
// its own, so that a balance that does not close cannot look closed.
//
// Units: any one that all entries share.
//
// Range: steps are what is lost, positive, or gained, negative. A difference
// below 0.05 % of the start is taken for rounding.
//
// Errors: no steps; entries of unlike dimensions.
//
// Source: common practice.
func Waterfall(title, what string, start Entry, steps []Entry, end Entry) (*plot.Figure, error) {
	if len(steps) == 0 {
		return nil, errors.New("chart: a waterfall needs steps between its start and its end")
	}
	unit := start.Value.Unit()
	all := append(append([]Entry{start}, steps...), end)
	for _, entry := range all {
		if !entry.Value.Unit().Compatible(unit) {
			return nil, fmt.Errorf("chart: waterfall: %s, %v, is not measured as %s, %v", entry.Name, entry.Value, start.Name, start.Value)
		}
	}
	level := start.Value
	var names []string
	var at, from, to []quantity.Quantity
	var words []string
	names = append(names, start.Name)
	step := func(name string, change quantity.Quantity) {
		names = append(names, name)
		next := level.Sub(change)
		at, from, to = append(at, quantity.Number(float64(len(names)))), append(from, level), append(to, next)
		words = append(words, signed(change.Neg().To(unit.String()).Shown()))
		level = next
	}
	for _, entry := range steps {
		step(entry.Name, entry.Value)
	}
	missing := level.Sub(end.Value)
	gap := math.Abs(missing.To(unit.String()).Shown()) > 0.0005*math.Abs(start.Value.Shown())
	var lost plot.Mark
	if gap {
		names = append(names, "not accounted for")
		lost = plot.Bars{Name: "difference", Colour: 4, At: []quantity.Quantity{quantity.Number(float64(len(names)))},
			From: []quantity.Quantity{level}, To: []quantity.Quantity{end.Value}, Labels: []string{signed(missing.Neg().To(unit.String()).Shown())}}
	}
	names = append(names, end.Name)
	marks := []plot.Mark{
		plot.Bars{Name: "in and out", Colour: 1, At: []quantity.Quantity{quantity.Number(1), quantity.Number(float64(len(names)))},
			To: []quantity.Quantity{start.Value, end.Value}, Labels: []string{number(start.Value.Shown()), number(end.Value.To(unit.String()).Shown())}},
		plot.Bars{Name: "on the way", Colour: 2, At: at, From: from, To: to, Labels: words},
	}
	if gap {
		marks = append(marks, lost)
	}
	return plot.Draw(plot.Axes{Title: title, X: plot.Axis{Names: names}, Y: plot.Axis{Name: what, Unit: unit.String(), Zero: true}}, marks...)
}

// signed is a number with its sign.
func signed(x float64) string {
	if x > 0 {
		return "+" + number(x)
	}
	return number(x + 0) // of −0, the 0
}

// Ledger is amounts as bars, the greatest above, each with its share of the sum:
// where energy goes, or money.
//
// Units: any one that all entries share, such as kW or kWh/t.
//
// Range: amounts of 0 or more; entries keep their names.
//
// Errors: no entry; one below 0; entries of unlike dimensions; a sum of 0.
//
// Source: common practice.
func Ledger(title, what string, entries ...Entry) (*plot.Figure, error) {
	if len(entries) == 0 {
		return nil, errors.New("chart: a ledger needs entries")
	}
	unit := entries[0].Value.Unit()
	sum := 0.0
	for _, entry := range entries {
		x, err := entry.Value.Value(unit.String())
		if err != nil {
			return nil, fmt.Errorf("chart: ledger: %s, %v, is not measured as %s, %v", entry.Name, entry.Value, entries[0].Name, entries[0].Value)
		}
		if !(x >= 0) {
			return nil, fmt.Errorf("chart: ledger: %s is %v; a share of the sum needs 0 or more", entry.Name, entry.Value)
		}
		sum += x
	}
	if sum == 0 {
		return nil, errors.New("chart: the entries of the ledger are all 0")
	}
	sorted := slices.Clone(entries)
	slices.SortStableFunc(sorted, func(a, b Entry) int { return b.Value.Compare(a.Value) })
	var names, words []string
	var to []quantity.Quantity
	for _, entry := range sorted {
		x := entry.Value.To(unit.String()).Shown()
		names, to = append(names, entry.Name), append(to, entry.Value.Certain())
		words = append(words, fmt.Sprintf("%s (%.1f %%)", number(x), 100*x/sum))
	}
	axis := plot.Axis{Name: fmt.Sprintf("%s, together %s", what, number(sum)), Unit: unit.String(), Zero: true}
	return plot.Draw(plot.Axes{Title: title, X: axis, Y: plot.Axis{Names: names}},
		plot.Bars{At: places(len(to)), To: to, Sideways: true, Labels: words})
}

// Alternative is what one way of doing something costs, or yields, over a range
// of X.
type Alternative struct {
	Name string
	X, Y []quantity.Quantity
}

// BreakEven is two alternatives or more over the same axis, with a note at each
// place where two of them are equal.
//
// Units: any, the same for all alternatives.
//
// Range: between the values given, from one of which to the next the lines are
// straight.
//
// Errors: fewer than two alternatives; X that do not rise; what plot.Draw
// refuses.
//
// Source: common practice.
func BreakEven(title string, x, y plot.Axis, alternatives ...Alternative) (*plot.Figure, error) {
	if len(alternatives) < 2 {
		return nil, fmt.Errorf("chart: a break-even point needs two alternatives or more, not %d", len(alternatives))
	}
	var marks []plot.Mark
	for _, a := range alternatives {
		if len(a.X) != len(a.Y) || len(a.X) < 2 {
			return nil, fmt.Errorf("chart: %s: %d values of X and %d of Y; give as many of each, two at least", a.Name, len(a.X), len(a.Y))
		}
		for i := 1; i < len(a.X); i++ {
			if !a.X[i-1].Unit().Compatible(a.X[i].Unit()) || !a.X[i-1].Less(a.X[i]) {
				return nil, fmt.Errorf("chart: %s: X must rise, and value %d, %v, does not", a.Name, i+1, a.X[i])
			}
		}
		marks = append(marks, plot.Line{Name: a.Name, X: a.X, Y: a.Y})
	}
	for i, a := range alternatives {
		for _, b := range alternatives[:i] {
			notes, err := crossings(b, a)
			if err != nil {
				return nil, err
			}
			marks = append(marks, notes...)
		}
	}
	return plot.Draw(plot.Axes{Title: title, X: x, Y: y}, marks...)
}

// crossings are notes where two alternatives are equal.
func crossings(a, b Alternative) ([]plot.Mark, error) {
	unitX, unitY := a.X[0].Unit().String(), a.Y[0].Unit().String()
	readings := make([][]float64, 4)
	for i, list := range [][]quantity.Quantity{a.X, a.Y, b.X, b.Y} {
		for j, q := range list {
			v, err := q.Value(choose(i%2 == 0, unitX, unitY))
			if err != nil {
				return nil, fmt.Errorf("chart: %s and %s: value %d, %v, is not measured as the others are", a.Name, b.Name, j+1, q)
			}
			readings[i] = append(readings[i], v)
		}
	}
	places := slices.Concat(readings[0], readings[2])
	slices.Sort(places)
	places = slices.Compact(places)
	var notes []plot.Mark
	note := func(x, y float64) {
		at := quantity.Of(x, unitX)
		notes = append(notes, plot.Note{X: at, Y: quantity.Of(y, unitY), Text: fmt.Sprintf("equal at %.3g", at)})
	}
	before, had := 0.0, false
	for i, x := range places {
		y1, ok1 := straight(readings[0], readings[1], x)
		y2, ok2 := straight(readings[2], readings[3], x)
		d := y1 - y2
		switch {
		case !ok1 || !ok2:
			had = false
			continue
		case d == 0:
			note(x, y1)
		case had && before*d < 0:
			part := before / (before - d)
			crossing := places[i-1] + part*(x-places[i-1])
			y, _ := straight(readings[0], readings[1], crossing)
			note(crossing, y)
		}
		before, had = d, true
	}
	return notes, nil
}

// straight reads a line between its points; ok is false outside them.
func straight(xs, ys []float64, x float64) (y float64, ok bool) {
	for i := 1; i < len(xs); i++ {
		if x >= xs[i-1] && x <= xs[i] {
			part := (x - xs[i-1]) / (xs[i] - xs[i-1])
			return ys[i-1] + part*(ys[i]-ys[i-1]), true
		}
	}
	return 0, false
}
