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

// Mark is something drawn in a figure: a Line, Points, a Band, Bars, Boxes, an
// Across or Upright line, a Guide, or a Note.
type Mark interface{ mark() mark }

// mark is a Mark on its way into a figure.
type mark interface {
	key() string                                 // its name in the key; empty where it has none
	wanted() int                                 // its colour: 0 for the next one, negative for none
	coordinates() (x, y []quantity.Quantity)     // what it brings to the axes, for their units
	read(axes Axes) error                        // takes the numbers out of the quantities
	extent() (xs, ys []float64)                  // what the axes must hold
	describe() string                            // how much it is, in words; empty for nothing to say
	layer() int                                  // what lies higher is drawn later
	paint(s *sheet, look int)                    // draws it
	sample(s *sheet, look int, from, to, y unit) // draws its sample in the key
	obstacles(s *sheet) []place                  // where texts had better not stand
}

// Numbers are plain numbers as quantities, for axes without a unit.
func Numbers(values ...float64) []quantity.Quantity {
	quantities := make([]quantity.Quantity, len(values))
	for i, x := range values {
		quantities[i] = quantity.Number(x)
	}
	return quantities
}

// axesFigure is marks on two axes.
type axesFigure struct {
	axes  Axes
	marks []mark
	looks []int // the colour of each mark
	x, y  scale
}

// Draw is the figure of some marks on two axes. Values are drawn in the unit of
// the axis. A value that is not a number is left out; a line is interrupted
// there. Uncertain values stand at their means with the interval that holds
// 95 % of their samples: a Line without markers gets a band, other lines and
// Points get bars.
//
// Errors: no value to draw; a mark with unlike numbers of X and Y; a value that
// cannot be shown in the axis's unit, is infinite, or has no place on the
// axis's scale, such as 0 on a logarithmic one; a unit that does not exist; an
// axis that contradicts itself.
func Draw(axes Axes, marks ...Mark) (*Figure, error) {
	f := &axesFigure{axes: axes}
	for _, m := range marks {
		f.marks = append(f.marks, m.mark())
	}
	if err := f.findUnits(); err != nil {
		return nil, err
	}
	for i, m := range f.marks {
		if err := m.read(f.axes); err != nil {
			where := fmt.Sprintf("mark %d", i+1)
			if m.key() != "" {
				where += fmt.Sprintf(" (%s)", m.key())
			}
			return nil, fmt.Errorf("plot: %s%w", where, err)
		}
	}
	xs, ys := f.numbers()
	if len(xs) == 0 || len(ys) == 0 {
		return nil, errNothing
	}
	f.chooseLooks()
	f.x, f.y = newScale(f.axes.X, xs), newScale(f.axes.Y, ys)
	if len(f.axes.Y.Names) > 0 {
		f.y.down = !f.axes.Y.Down // a list is read from the top
	}
	return newFigure(f, width, height), nil
}

// findUnits fills in the units that the caller left to the data, and reads what
// the axes say of themselves.
func (f *axesFigure) findUnits() error {
	for _, axis := range []*Axis{&f.axes.X, &f.axes.Y} {
		if len(axis.Names) > 0 {
			axis.Unit = "1"
		}
	}
	for _, m := range f.marks {
		x, y := m.coordinates()
		adopt(&f.axes.X, x)
		adopt(&f.axes.Y, y)
	}
	for _, axis := range []*Axis{&f.axes.X, &f.axes.Y} {
		if err := axis.resolve(); err != nil {
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

// chooseLooks gives each mark that takes a colour the one it asked for, or else
// the next.
func (f *axesFigure) chooseLooks() {
	next := 0
	f.looks = make([]int, len(f.marks))
	for i, m := range f.marks {
		switch wanted := m.wanted(); {
		case wanted > 0:
			f.looks[i] = wanted - 1
			next = max(next, wanted)
		case wanted == 0:
			f.looks[i] = next
			next++
		}
	}
}

// numbers are the coordinates that the axes must hold.
func (f *axesFigure) numbers() (xs, ys []float64) {
	for _, m := range f.marks {
		x, y := m.extent()
		xs, ys = append(xs, x...), append(ys, y...)
	}
	return xs, ys
}

// pairs says which of two lists of one mark is the longer.
func pairs(x, y []quantity.Quantity) error {
	if len(x) != len(y) {
		return fmt.Errorf(": %d values of X and %d of Y", len(x), len(y))
	}
	return nil
}

// readAll is the numbers of quantities on an axis; name says which they are.
func readAll(axis Axis, name string, values []quantity.Quantity) ([]float64, error) {
	numbers := make([]float64, len(values))
	for i, q := range values {
		x, err := axis.number(q)
		if err != nil {
			return nil, fmt.Errorf(", %s of value %d: %w", name, i+1, err)
		}
		numbers[i] = x
	}
	return numbers, nil
}

// describe says in words what the figure shows.
func (f *axesFigure) describe() string {
	var out strings.Builder
	out.WriteString("plot")
	if f.axes.Title != "" {
		fmt.Fprintf(&out, " %q", f.axes.Title)
	}
	switch x, y := f.axes.X.label(), f.axes.Y.label(); {
	case x == "" || y == "":
		fmt.Fprintf(&out, ": %s", x+y)
	default:
		fmt.Fprintf(&out, ": %s against %s", y, x)
	}
	separator := "; "
	for _, m := range f.marks {
		words := m.describe()
		if words == "" {
			continue
		}
		out.WriteString(separator)
		separator = ", "
		if m.key() != "" {
			fmt.Fprintf(&out, "%s: ", m.key())
		}
		out.WriteString(words)
	}
	return out.String()
}

// finite are the numbers among some.
func finite(numbers ...float64) []float64 {
	var out []float64
	for _, x := range numbers {
		if !math.IsNaN(x) {
			out = append(out, x)
		}
	}
	return out
}

// choose is yes where a condition holds, and no elsewhere.
func choose[T any](condition bool, yes, no T) T {
	if condition {
		return yes
	}
	return no
}
