package chart

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"cobber/stdlib/plot"
	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
)

// SizeCurve is one distribution of a chart: what was measured, a model, or both
// in one colour.
type SizeCurve struct {
	Name     string
	Measured size.Distribution
	Fitted   size.Model
	Percent  float64 // the percentage passing whose size is noted, as 80 for d80; 0 for none
}

// SizeDistributions is a chart of cumulative distributions: the share passing
// against the logarithm of the size, whose ticks are the sieves used. The scale
// of the shares is plot.Linear, plot.Logarithmic, plot.Probability, on which a
// lognormal distribution is straight, or plot.RosinRammler.
//
// Units: shares in %, sizes in the unit of the first curve's coarsest sieve.
//
// Range: shares of 0 and 100 % have no place on any scale but the linear one;
// points that lie there are left out, and the title says so. Models are drawn
// from 0.1 to 99.9 % there.
//
// Errors: no curve; a curve with neither a measurement nor a model; a
// percentage that the curve does not reach.
//
// Source: ISO 9276-1; the scales after P. Rosin, E. Rammler (1933), ISO 9276-3
// and ISO 9276-5.
func SizeDistributions(title string, scale plot.Scale, curves ...SizeCurve) (*plot.Figure, error) {
	if len(curves) == 0 {
		return nil, fmt.Errorf("chart: no size distribution to draw")
	}
	axes := plot.Axes{
		Title: title,
		X:     plot.Axis{Name: "sieve opening", Log: true},
		Y:     plot.Axis{Name: "passing", Unit: "%", Scale: scale},
	}
	sizes, err := span(curves)
	if err != nil {
		return nil, err
	}
	axes.X.Ticks = ticks(curves)
	axes.X.Unit = sizes[0].Unit().String()
	var marks []plot.Mark
	left := 0
	for i, curve := range curves {
		drawn, out, err := curve.marks(scale, sizes, i+1)
		if err != nil {
			return nil, fmt.Errorf("chart: size distribution %q: %w", curve.Name, err)
		}
		marks, left = append(marks, drawn...), left+out
	}
	if left > 0 {
		axes.Title += fmt.Sprintf(" (%s at 0 or 100 %% off this scale)", choose(left == 1, "1 sieve", fmt.Sprintf("%d sieves", left)))
	}
	return plot.Draw(axes, marks...)
}

// measured reports whether a curve has a measurement.
func (c SizeCurve) measured() bool { return len(c.Measured.Openings()) > 0 }

func (c SizeCurve) marks(scale plot.Scale, sizes []quantity.Quantity, colour int) ([]plot.Mark, int, error) {
	var marks []plot.Mark
	left := 0
	name := c.Name
	if c.Fitted.Name() != "" {
		x, y, _, err := onScale(scale, 0.1, sizes, c.Fitted.Passing)
		if err != nil {
			return nil, 0, err
		}
		line := plot.Line{X: x, Y: y, Colour: colour, Name: name + " (" + c.Fitted.Name() + ")"}
		if !c.measured() && c.Name != "" {
			line.Name = name
		}
		marks = append(marks, line)
	}
	if c.measured() {
		passing := c.Measured.Passing()
		at := 0
		x, y, out, err := onScale(scale, 0.001, c.Measured.Openings(), func(quantity.Quantity) (quantity.Quantity, error) {
			at++
			return passing[at-1], nil
		})
		if err != nil {
			return nil, 0, err
		}
		left = out
		if c.Fitted.Name() != "" {
			marks = append(marks, plot.Points{Name: name, X: x, Y: y, Colour: colour})
		} else {
			marks = append(marks, plot.Line{Name: name, X: x, Y: y, Marked: true, Colour: colour})
		}
	}
	if c.Percent != 0 {
		note, err := c.note()
		if err != nil {
			return nil, 0, err
		}
		marks = append(marks, note)
	}
	return marks, left, nil
}

// note is the size that the wanted percentage passes: measured, or else of the
// model.
func (c SizeCurve) note() (plot.Mark, error) {
	find := c.Fitted.D
	if c.measured() {
		find = c.Measured.D
	}
	d, err := find(c.Percent)
	if err != nil {
		return nil, err
	}
	return plot.Note{X: d, Y: quantity.Of(c.Percent, "%"), Text: fmt.Sprintf("d%g = %.3g", c.Percent, d.Certain())}, nil
}

// onScale evaluates a curve at sizes and keeps what has a place on a scale, least
// percent or more away from its ends.
func onScale(scale plot.Scale, least float64, sizes []quantity.Quantity, passing func(quantity.Quantity) (quantity.Quantity, error)) (x, y []quantity.Quantity, left int, err error) {
	for _, d := range sizes {
		share, err := passing(d)
		if err != nil {
			return nil, nil, 0, err
		}
		percent, err := share.Value("%")
		if err != nil {
			return nil, nil, 0, err
		}
		ends := scale == plot.Probability || scale == plot.RosinRammler
		if ends && (percent < least || percent > 100-least) || scale == plot.Logarithmic && percent <= 0 {
			left++
			continue
		}
		x, y = append(x, d), append(y, share)
	}
	return x, y, left, nil
}

// ticks are the sieves of the first measured curve, and of each later one those
// that are coarser or finer: sieves of several curves between one another could
// not be read.
func ticks(curves []SizeCurve) []quantity.Quantity {
	var out []quantity.Quantity
	for _, c := range curves {
		before := slices.Clone(out)
		for _, opening := range c.Measured.Openings() {
			if len(before) == 0 || opening.Compare(quantity.Max(before[0], before...)) > 0 || opening.Compare(quantity.Min(before[0], before...)) < 0 {
				out = append(out, opening)
			}
		}
	}
	return out
}

// span is sizes over the range of all curves, close enough for smooth lines.
func span(curves []SizeCurve) ([]quantity.Quantity, error) {
	low, high := quantity.Quantity{}, quantity.Quantity{}
	add := func(d quantity.Quantity) {
		if high.IsNothing() || d.Compare(high) > 0 {
			high = d
		}
		if low.IsNothing() || d.Compare(low) < 0 {
			low = d
		}
	}
	for i, c := range curves {
		switch {
		case c.measured():
			for _, d := range c.Measured.Openings() {
				add(d)
			}
		case c.Fitted.Name() != "":
			for _, percent := range []float64{1, 99} {
				d, err := c.Fitted.D(percent)
				if err != nil {
					return nil, fmt.Errorf("chart: size distribution %q: %w", c.Name, err)
				}
				add(d.Certain())
			}
		default:
			return nil, fmt.Errorf("chart: size distribution %d (%q) has neither a measurement nor a model", i+1, c.Name)
		}
	}
	return between(low.In(high.Unit().String()))(high)
}

// between is sizes from low to high in equal steps of the logarithm.
func between(low quantity.Quantity, err error) func(high quantity.Quantity) ([]quantity.Quantity, error) {
	return func(high quantity.Quantity) ([]quantity.Quantity, error) {
		if err != nil {
			return nil, fmt.Errorf("chart: %w", err)
		}
		const steps = 120
		from, to := math.Log(low.Shown()), math.Log(high.Shown())
		out := make([]quantity.Quantity, steps+1)
		for i := range out {
			out[i] = high.Unit().Quantity(math.Exp(from + (to-from)*float64(i)/steps))
		}
		return out, nil
	}
}

// AssayBySize is two panels of a sieved and assayed sample: the grade of each
// class, and the shares of the mass and of what was assayed that lie in it. A
// line marks the grade of the whole.
//
// Units: grades in their own unit, shares in %.
//
// Range: any distribution with an assay; classes without a grade have no bar.
//
// Errors: nothing of that name was assayed, or there is none in any class.
//
// Source: common practice.
func AssayBySize(title string, d size.Distribution, assay string) (*plot.Figure, error) {
	grades, err := d.Grades(assay)
	if err != nil {
		return nil, fmt.Errorf("chart: %w", err)
	}
	metal, err := d.Metal(assay)
	if err != nil {
		return nil, fmt.Errorf("chart: %w", err)
	}
	head, err := d.Grade(assay)
	if err != nil {
		return nil, fmt.Errorf("chart: %w", err)
	}
	classes := plot.Axis{Name: "size class", Names: d.Classes()}
	left, err := plot.Draw(plot.Axes{X: plot.Axis{Name: assay, Zero: true}, Y: classes},
		plot.Bars{At: places(len(grades)), To: grades, Sideways: true, Labels: labels(grades)},
		plot.Upright{Name: fmt.Sprintf("all: %.3g", head.Certain()), X: head})
	if err != nil {
		return nil, err
	}
	half := quantity.Number(0.36)
	upper, lower := places(len(grades)), places(len(grades))
	for i := range upper {
		upper[i], lower[i] = upper[i].Sub(quantity.Number(0.19)), lower[i].Add(quantity.Number(0.19))
	}
	right, err := plot.Draw(plot.Axes{X: plot.Axis{Name: "share of the sample", Unit: "%", Zero: true}, Y: classes},
		plot.Bars{Name: "mass", At: upper, To: d.Shares(), Sideways: true, Wide: half, Colour: 2},
		plot.Bars{Name: assay, At: lower, To: metal, Sideways: true, Wide: half, Colour: 1})
	if err != nil {
		return nil, err
	}
	return plot.Panels(title, 2, left, right)
}

// places are 1 to n, where the bars of an axis of names stand.
func places(n int) []quantity.Quantity {
	out := make([]quantity.Quantity, n)
	for i := range out {
		out[i] = quantity.Number(float64(i + 1))
	}
	return out
}

// labels are quantities without their unit, which the axis has.
func labels(values []quantity.Quantity) []string {
	out := make([]string, len(values))
	for i, q := range values {
		if !q.IsNaN() {
			out[i] = number(q.Shown())
		}
	}
	return out
}

// number writes a number to three digits, and more where it has them before its
// point; what would be very long has a power of ten, as on the axes.
func number(x float64) string {
	text := fmt.Sprintf("%.3g", x)
	if size := math.Abs(x); size >= 1000 && size < 1e9 {
		text = fmt.Sprintf("%.0f", x)
	}
	mantissa, power, found := strings.Cut(text, "e")
	if found {
		sign := choose(strings.HasPrefix(power, "-"), "-", "")
		mantissa += "e" + sign + strings.TrimLeft(power, "+-0")
	}
	return strings.ReplaceAll(mantissa, "-", "−")
}
