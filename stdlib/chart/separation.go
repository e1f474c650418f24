package chart

import (
	"errors"
	"fmt"

	"cobber/stdlib/partition"
	"cobber/stdlib/plot"
	"cobber/stdlib/quantity"
)

// GradeCurve is grades and recoveries of a product, as of balance.Cumulative: one
// point, or a curve along which they go.
type GradeCurve struct {
	Name               string
	Recoveries, Grades []quantity.Quantity
}

// Iso says which lines of equal value stand behind a chart of grade against
// recovery.
type Iso int

// The lines. R is the recovery, c the grade of the product, f that of the feed
// and p that of the pure mineral.
const (
	NoLines         Iso = iota
	EqualYield          // of mass to the product, Y = R·f/c
	EqualEfficiency     // of separation, R − Y·(1 − c/p)/(1 − f/p), the gangue recovered taken off
)

// GradeRecovery is a chart of grade against recovery. Lines of equal yield or
// of equal separation efficiency stand behind; the feed, at 100 % recovery, and
// the grade of the pure mineral are marked.
//
// Units: recoveries in %; grades in the unit of the first. pure is the grade of
// the mineral itself, as 69.9 % Fe for hematite; the zero Quantity where it is
// not known.
//
// Range: grades above 0 and up to that of the pure mineral.
//
// Errors: no curve; a grade above that of the pure mineral; a feed that is
// missing where lines are wanted, or a pure grade where lines of efficiency are.
//
// Source: N.F. Schulz, Trans. SME-AIME 247 (1970) 81, for the efficiency (from
// memory); the mass balance for the yield.
func GradeRecovery(title, what string, feed, pure quantity.Quantity, lines Iso, curves ...GradeCurve) (*plot.Figure, error) {
	if len(curves) == 0 || len(curves[0].Grades) == 0 {
		return nil, errors.New("chart: no grade and recovery to draw")
	}
	if err := checkGrades(feed, pure, lines, curves); err != nil {
		return nil, err
	}
	axes := plot.Axes{Title: title,
		X: plot.Axis{Name: "recovery of " + what, Unit: "%"},
		Y: plot.Axis{Name: "grade, " + what, Unit: curves[0].Grades[0].Unit().String()}}
	marks := isoLines(feed, pure, lines)
	for _, curve := range curves {
		if len(curve.Grades) == 1 {
			marks = append(marks, plot.Points{Name: curve.Name, X: curve.Recoveries, Y: curve.Grades})
			continue
		}
		marks = append(marks, plot.Line{Name: curve.Name, X: curve.Recoveries, Y: curve.Grades, Marked: true})
	}
	if !pure.IsNothing() {
		marks = append(marks, plot.Across{Name: fmt.Sprintf("pure: %.4g", pure.Certain()), Y: pure})
	}
	if !feed.IsNothing() {
		marks = append(marks, plot.Points{Name: "feed", X: []quantity.Quantity{quantity.Of(100, "%")}, Y: []quantity.Quantity{feed}})
	}
	return plot.Draw(axes, marks...)
}

func checkGrades(feed, pure quantity.Quantity, lines Iso, curves []GradeCurve) error {
	if lines != NoLines && feed.IsNothing() {
		return errors.New("chart: lines of equal yield or efficiency need the grade of the feed")
	}
	if lines == EqualEfficiency && pure.IsNothing() {
		return errors.New("chart: lines of equal efficiency need the grade of the pure mineral")
	}
	if pure.IsNothing() {
		return nil
	}
	all := append([]GradeCurve{{Name: "feed", Grades: []quantity.Quantity{feed}}}, curves...)
	for _, curve := range all {
		for i, grade := range curve.Grades {
			if grade.IsNaN() || grade.IsNothing() {
				continue
			}
			if !grade.Unit().Compatible(pure.Unit()) {
				return fmt.Errorf("chart: %s, grade %d: %v is not measured as the pure mineral is, %v", curve.Name, i+1, grade, pure)
			}
			if grade.Compare(pure) > 0 {
				return fmt.Errorf("chart: %s, grade %d: %v lies above the pure mineral, %v", curve.Name, i+1, grade, pure)
			}
		}
	}
	return nil
}

// isoLines are the guides of a chart of grade against recovery.
func isoLines(feed, pure quantity.Quantity, lines Iso) []plot.Mark {
	if lines == NoLines {
		return nil
	}
	var marks []plot.Mark
	levels := []float64{90, 80, 60, 40, 20}
	if lines == EqualYield {
		levels = []float64{50, 20, 10, 5, 2, 1}
	}
	for _, level := range levels {
		guide := plot.Guide{Name: fmt.Sprintf("%s %g %%", choose(lines == EqualYield, "yield", "efficiency"), level)}
		for percent := 0.25; percent <= 100; percent += 0.25 {
			if grade, ok := isoGrade(feed, pure, lines, level/100, percent/100); ok {
				guide.X, guide.Y = append(guide.X, quantity.Of(percent, "%")), append(guide.Y, grade)
			}
		}
		if len(guide.X) > 1 {
			marks = append(marks, guide)
		}
	}
	return marks
}

// isoGrade is the grade at which a recovery has a yield or an efficiency.
func isoGrade(feed, pure quantity.Quantity, lines Iso, level, recovery float64) (quantity.Quantity, bool) {
	f := feed.Certain()
	if lines == EqualYield {
		grade := f.Mul(quantity.Number(recovery / level))
		return grade, pure.IsNothing() || grade.Compare(pure) <= 0
	}
	if recovery <= level {
		return quantity.Quantity{}, false
	}
	// R − SE = Y·(1 − c/p)/(1 − f/p) with Y = R·f/c, solved for c.
	p := pure.Certain()
	above := f.Mul(p).Mul(quantity.Number(recovery))
	below := p.Sub(f).Mul(quantity.Number(recovery - level)).Add(f.Mul(quantity.Number(recovery)))
	grade, err := above.Div(below).In(f.Unit().String())
	return grade, err == nil
}

// choose is yes where a condition holds, and no elsewhere.
func choose[T any](condition bool, yes, no T) T {
	if condition {
		return yes
	}
	return no
}

// Partition is a chart of a measured partition curve with models through it:
// the share that goes to the coarse or heavy product against size, on a
// logarithmic axis, or density. The cut and the points at 25 % and 75 %, from
// which Ep follows, are noted where the measured curve reaches them once. Without
// a model the points are joined as the measured curve joins them.
//
// Units: shares in %, sizes or densities in the unit of the curve's points.
//
// Range: that of the curve. Models are drawn between its first and last point.
//
// Errors: a model of another kind than the curve; models without names for
// each.
//
// Source: K.F. Tromp, Glückauf 73 (1937) 125 (from memory).
func Partition(title string, measured partition.Curve, models ...partition.Model) (*plot.Figure, error) {
	points := measured.Points()
	if len(points) == 0 {
		return nil, errors.New("chart: the partition curve has no points")
	}
	overSizes := points[0].Unit().Compatible(quantity.Of(1, "m").Unit())
	axes := plot.Axes{Title: title,
		X: plot.Axis{Name: choose(overSizes, "size", "density"), Log: overSizes, Unit: points[0].Unit().String()},
		Y: plot.Axis{Name: choose(overSizes, "share to the coarse product", "share to the heavy product"), Unit: "%"}}
	marks := []plot.Mark{plot.Points{Name: "measured", X: points, Y: measured.Shares(), Colour: 1}}
	if len(models) == 0 { // nothing else would lead to the places noted
		marks = []plot.Mark{plot.Line{Name: "measured", X: points, Y: measured.Shares(), Marked: true, Colour: 1}}
	}
	for i, model := range models {
		line := plot.Line{Name: model.Form().String(), Colour: i + 2}
		for _, x := range fine(points[0], points[len(points)-1], overSizes) {
			share, err := model.Share(x)
			if err != nil {
				return nil, fmt.Errorf("chart: partition curve, model %d: %w", i+1, err)
			}
			line.X, line.Y = append(line.X, x), append(line.Y, share)
		}
		marks = append(marks, line)
	}
	for _, percent := range []float64{25, 50, 75} {
		share := quantity.Of(percent, "%")
		if at, err := measured.At(share); err == nil { // otherwise there is nothing to note
			marks = append(marks, plot.Note{X: at, Y: share, Text: fmt.Sprintf("%s%g = %.4g", choose(overSizes, "d", "ρ"), percent, at.Certain())})
		}
	}
	return plot.Draw(axes, marks...)
}

// fine is many values from one to another, in equal steps or in equal ratios.
func fine(from, to quantity.Quantity, ratios bool) []quantity.Quantity {
	if ratios {
		out, err := between(from.In(to.Unit().String()))(to)
		if err == nil {
			return out
		}
	}
	const steps = 120
	out := make([]quantity.Quantity, steps+1)
	for i := range out {
		out[i] = from.Add(to.Sub(from).Mul(quantity.Number(float64(i) / steps)))
	}
	return out
}

// Washability is two panels of a sink-float test: what floats of the mass and of
// the assayed matter against the density of the cut, and the grades of floats
// and sinks against the yield of floats.
//
// Units: densities in the unit of the first, shares in %, grades in the unit of
// the test.
//
// Range: densities between the lightest and the heaviest liquid of the test;
// those of its liquids are usual.
//
// Errors: fewer than two densities; one that lies outside the liquids.
//
// Source: the curves of R. Henry (1905), as textbooks of coal draw them.
func Washability(title, assay string, test partition.Washability, densities []quantity.Quantity) (*plot.Figure, error) {
	if len(densities) < 2 {
		return nil, fmt.Errorf("chart: washability needs two densities or more, not %d", len(densities))
	}
	var yields, contents, floats, sinks []quantity.Quantity
	for _, density := range densities {
		cut, err := test.At(density)
		if err != nil {
			return nil, fmt.Errorf("chart: %w", err)
		}
		yields, contents = append(yields, cut.Floats), append(contents, cut.FloatsContent)
		floats, sinks = append(floats, cut.FloatsGrade), append(sinks, cut.SinksGrade)
	}
	left, err := plot.Draw(plot.Axes{X: plot.Axis{Name: "density of the cut"}, Y: plot.Axis{Name: "floats", Unit: "%", Zero: true}},
		plot.Line{Name: "mass", X: densities, Y: yields, Marked: true},
		plot.Line{Name: assay, X: densities, Y: contents, Marked: true})
	if err != nil {
		return nil, err
	}
	right, err := plot.Draw(plot.Axes{X: plot.Axis{Name: "yield of floats", Unit: "%"}, Y: plot.Axis{Name: assay, Zero: true}},
		plot.Line{Name: "floats", X: yields, Y: floats, Marked: true},
		plot.Line{Name: "sinks", X: yields, Y: sinks, Marked: true},
		plot.Across{Name: "all", Y: test.Grade()})
	if err != nil {
		return nil, err
	}
	return plot.Panels(title, 2, left, right)
}
