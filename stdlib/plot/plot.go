package plot

import (
	"fmt"
	"math"
	"strings"

	"cobber/stdlib/quantity"
)

// Axes says what the two axes of a figure show.
type Axes struct {
	Title string // above the figure; may be empty
	X, Y  Axis
}

// Axis is one axis.
type Axis struct {
	Name string // what it shows, as in "sieve opening"; its unit is added
	Unit string // empty: the unit of the first value drawn
	Log  bool   // logarithmic
	Zero bool   // starts at 0 where all values lie above it; not for logarithmic axes
}

// Mark is something drawn in a figure: a Line or Points.
type Mark interface{ series() series }

// Line joins values by straight lines, in their order.
type Line struct {
	Name   string // in the key above the figure; may be empty
	X, Y   []quantity.Quantity
	Marked bool // with a marker at each value
}

// Points puts a marker at each value.
type Points struct {
	Name string // in the key above the figure; may be empty
	X, Y []quantity.Quantity
}

func (l Line) series() series {
	return series{name: l.Name, x: l.X, y: l.Y, line: true, marked: l.Marked}
}
func (p Points) series() series { return series{name: p.Name, x: p.X, y: p.Y, marked: true} }

// Numbers are plain numbers as quantities, for axes without a unit.
func Numbers(values ...float64) []quantity.Quantity {
	quantities := make([]quantity.Quantity, len(values))
	for i, x := range values {
		quantities[i] = quantity.Number(x)
	}
	return quantities
}

// series is a mark before and after its values are read in the axes' units.
type series struct {
	name         string
	x, y         []quantity.Quantity
	line, marked bool
	points       []point
}

// point is a value in the units of the axes; missing ones are not numbers.
type point struct{ x, y float64 }

func (p point) missing() bool { return math.IsNaN(p.x) || math.IsNaN(p.y) }

// axesFigure is series on two axes.
type axesFigure struct {
	axes   Axes
	series []series
	x, y   scale
}

// Draw is the figure of some marks on two axes. Values are drawn in the unit of
// the axis. A value that is not a number is left out; a line is interrupted
// there.
//
// Errors: no value to draw; a mark with unlike numbers of X and Y; a value that
// cannot be shown in the axis's unit, is infinite, or is not above 0 on a
// logarithmic axis; a unit that does not exist.
func Draw(axes Axes, marks ...Mark) (*Figure, error) {
	f := &axesFigure{axes: axes}
	for _, mark := range marks {
		f.series = append(f.series, mark.series())
	}
	if err := f.findUnits(); err != nil {
		return nil, err
	}
	for i := range f.series {
		if err := f.read(&f.series[i], i); err != nil {
			return nil, err
		}
	}
	xs, ys := f.numbers()
	if len(xs) == 0 {
		return nil, errNothing
	}
	f.x, f.y = newScale(f.axes.X, xs), newScale(f.axes.Y, ys)
	return newFigure(f, width, height), nil
}

// findUnits fills in the units that the caller left to the data.
func (f *axesFigure) findUnits() error {
	for _, s := range f.series {
		adopt(&f.axes.X, s.x)
		adopt(&f.axes.Y, s.y)
	}
	for _, axis := range []Axis{f.axes.X, f.axes.Y} {
		if axis.Unit == "" {
			continue
		}
		if _, err := quantity.ParseUnit(axis.Unit); err != nil {
			return fmt.Errorf("plot: axis %q: %w", axis.Name, err)
		}
	}
	return nil
}

func adopt(axis *Axis, values []quantity.Quantity) {
	for _, q := range values {
		if axis.Unit != "" {
			return
		}
		if !q.IsNaN() {
			axis.Unit = q.Unit().String()
		}
	}
}

func (f *axesFigure) read(s *series, index int) error {
	where := fmt.Sprintf("mark %d", index+1)
	if s.name != "" {
		where += fmt.Sprintf(" (%s)", s.name)
	}
	if len(s.x) != len(s.y) {
		return fmt.Errorf("plot: %s: %d values of X and %d of Y", where, len(s.x), len(s.y))
	}
	for i := range s.x {
		x, err := on(f.axes.X, s.x[i])
		if err != nil {
			return fmt.Errorf("plot: %s, X of value %d: %w", where, i+1, err)
		}
		y, err := on(f.axes.Y, s.y[i])
		if err != nil {
			return fmt.Errorf("plot: %s, Y of value %d: %w", where, i+1, err)
		}
		s.points = append(s.points, point{x, y})
	}
	return nil
}

// on is the number of a quantity on an axis.
func on(axis Axis, q quantity.Quantity) (float64, error) {
	if q.IsNaN() {
		return math.NaN(), nil
	}
	x, err := q.Value(axis.Unit)
	switch {
	case err != nil:
		return 0, fmt.Errorf("%v cannot be shown in %s, the unit of axis %q", q, axis.Unit, axis.Name)
	case math.IsInf(x, 0):
		return 0, fmt.Errorf("%v cannot be drawn", q)
	case axis.Log && x <= 0:
		return 0, fmt.Errorf("%v has no place on a logarithmic axis; leave it out or set Log to false", q)
	}
	return x, nil
}

// numbers are the coordinates of all values drawn.
func (f *axesFigure) numbers() (xs, ys []float64) {
	for _, s := range f.series {
		for _, p := range s.points {
			if !p.missing() {
				xs, ys = append(xs, p.x), append(ys, p.y)
			}
		}
	}
	return xs, ys
}

// drawn is the number of values that are not missing.
func (s series) drawn() int {
	n := 0
	for _, p := range s.points {
		if !p.missing() {
			n++
		}
	}
	return n
}

// label is the axis's name with its unit.
func (a Axis) label() string {
	switch {
	case a.Unit == "" || a.Unit == "1":
		return a.Name
	case a.Name == "":
		return a.Unit
	}
	return a.Name + " (" + a.Unit + ")"
}

// describe says in words what the figure shows.
func (f *axesFigure) describe() string {
	var out strings.Builder
	out.WriteString("plot")
	if f.axes.Title != "" {
		fmt.Fprintf(&out, " %q", f.axes.Title)
	}
	fmt.Fprintf(&out, ": %s against %s", f.axes.Y.label(), f.axes.X.label())
	for i, s := range f.series {
		separator := ", "
		if i == 0 {
			separator = "; "
		}
		out.WriteString(separator)
		if s.name != "" {
			fmt.Fprintf(&out, "%s: ", s.name)
		}
		fmt.Fprintf(&out, "%d values", s.drawn())
	}
	return out.String()
}
