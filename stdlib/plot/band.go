package plot

import (
	"errors"
	"fmt"
	"math"

	"cobber/stdlib/quantity"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
)

// Band shades the room between two lines over the same X.
type Band struct {
	Name         string // in the key above the figure; may be empty
	X, Low, High []quantity.Quantity
	Colour       int // 1 to 6, to pair it with another mark; 0 for the next
}

func (b Band) mark() mark { return &band{Band: b} }

type band struct {
	Band
	xs, lows, highs []float64
}

func (b *band) key() string { return b.Name }
func (b *band) wanted() int { return b.Colour }
func (b *band) coordinates() (x, y []quantity.Quantity) {
	return b.X, append(append([]quantity.Quantity{}, b.Low...), b.High...)
}
func (b *band) layer() int { return 0 }

func (b *band) read(axes Axes) (err error) {
	if len(b.X) != len(b.Low) || len(b.X) != len(b.High) {
		return fmt.Errorf(": %d values of X, %d of Low and %d of High", len(b.X), len(b.Low), len(b.High))
	}
	if b.xs, err = readAll(axes.X, "X", b.X); err != nil {
		return err
	}
	if b.lows, err = readAll(axes.Y, "Low", b.Low); err != nil {
		return err
	}
	if b.highs, err = readAll(axes.Y, "High", b.High); err != nil {
		return err
	}
	for i := range b.xs {
		if b.lows[i] > b.highs[i] {
			return fmt.Errorf(", value %d: Low, %v, lies above High, %v", i+1, b.Low[i], b.High[i])
		}
	}
	return nil
}

func (b *band) missing(i int) bool {
	return math.IsNaN(b.xs[i]) || math.IsNaN(b.lows[i]) || math.IsNaN(b.highs[i])
}

func (b *band) extent() (xs, ys []float64) {
	for i, x := range b.xs {
		if !b.missing(i) {
			xs, ys = append(xs, x), append(ys, b.lows[i], b.highs[i])
		}
	}
	return xs, ys
}

func (b *band) describe() string {
	xs, _ := b.extent()
	return fmt.Sprintf("band over %d values", len(xs))
}

func (b *band) paint(s *sheet, look int) {
	var upper, lower []vg.Point
	flush := func() {
		if len(upper) > 1 {
			s.shade(look, upper, lower)
		}
		upper, lower = nil, nil
	}
	for i, x := range b.xs {
		if b.missing(i) {
			flush()
			continue
		}
		upper, lower = append(upper, s.at(x, b.highs[i])), append(lower, s.at(x, b.lows[i]))
	}
	flush()
}

func (b *band) sample(s *sheet, look int, from, to, y vg.Length) {
	s.FillPolygon(veil(look), corners(from, y-4, to, y+4))
}

func (b *band) obstacles(*sheet) []vg.Point { return nil }

// Boxes are upright rectangles between two values along each axis, such as the
// classes of a histogram.
type Boxes struct {
	Name                     string // in the key above the figure; may be empty
	Left, Right, Bottom, Top []quantity.Quantity
	Labels                   []string // beyond the end of each box; none, or one for each
	Sideways                 bool     // the boxes grow along X, which is where labels stand
	Colour                   int      // 1 to 6, to pair it with another mark; 0 for the next
}

func (b Boxes) mark() mark { return &boxes{Boxes: b} }

// Bars are bars from a base to values, each at a place along the other axis: at
// 1, 2, 3, … for an axis of names.
type Bars struct {
	Name     string              // in the key above the figure; may be empty
	At       []quantity.Quantity // the middle of each bar
	To       []quantity.Quantity // where it ends
	From     []quantity.Quantity // where it begins; none for 0
	Wide     quantity.Quantity   // its width along the axis of places; the zero Quantity is 0.7
	Sideways bool                // the bars run along X, and their places are along Y
	Labels   []string            // beyond the end of each bar; none, or one for each
	Colour   int                 // 1 to 6, to pair it with another mark; 0 for the next
}

func (b Bars) mark() mark {
	from := b.From
	if len(from) == 0 {
		for _, to := range b.To {
			zero := to.Unit().Quantity(0)
			from = append(from, zero)
		}
	}
	out := &boxes{Boxes: Boxes{Name: b.Name, Labels: b.Labels, Sideways: b.Sideways, Colour: b.Colour}}
	if len(b.At) != len(b.To) || len(from) != len(b.To) {
		out.wrong = fmt.Errorf(": %d places, %d ends and %d beginnings of bars", len(b.At), len(b.To), len(from))
		return out
	}
	wide := b.Wide
	if wide.IsNothing() {
		wide = quantity.Number(0.7)
	}
	half := wide.Mul(quantity.Number(0.5))
	for i, at := range b.At {
		if !at.Unit().Compatible(half.Unit()) {
			out.wrong = fmt.Errorf(": bar %d stands at %v, and its width is %v", i+1, at, wide)
			return out
		}
		low, high := at.Sub(half), at.Add(half)
		if b.Sideways {
			out.Left, out.Right, out.Bottom, out.Top = append(out.Left, from[i]), append(out.Right, b.To[i]), append(out.Bottom, low), append(out.Top, high)
		} else {
			out.Left, out.Right, out.Bottom, out.Top = append(out.Left, low), append(out.Right, high), append(out.Bottom, from[i]), append(out.Top, b.To[i])
		}
	}
	return out
}

type boxes struct {
	Boxes
	wrong error
	sides [4][]float64 // left, right, bottom, top
}

func (b *boxes) key() string { return b.Name }
func (b *boxes) wanted() int { return b.Colour }
func (b *boxes) coordinates() (x, y []quantity.Quantity) {
	// The ends come first: a beginning of 0 would bring no unit worth having.
	return append(append([]quantity.Quantity{}, b.Right...), b.Left...), append(append([]quantity.Quantity{}, b.Top...), b.Bottom...)
}
func (b *boxes) layer() int { return 1 }

func (b *boxes) read(axes Axes) error {
	if b.wrong != nil {
		return b.wrong
	}
	n := len(b.Left)
	if len(b.Right) != n || len(b.Bottom) != n || len(b.Top) != n {
		return fmt.Errorf(": %d values of Left, %d of Right, %d of Bottom and %d of Top", n, len(b.Right), len(b.Bottom), len(b.Top))
	}
	if len(b.Labels) != 0 && len(b.Labels) != n {
		return fmt.Errorf(": %d labels for %d boxes", len(b.Labels), n)
	}
	if axes.X.Scale != Linear && b.Sideways || axes.Y.Scale != Linear && !b.Sideways {
		return errors.New(": the length of a bar means something on a linear axis only; draw Points")
	}
	for side, list := range [][]quantity.Quantity{b.Left, b.Right, b.Bottom, b.Top} {
		numbers, err := readAll(choose(side < 2, axes.X, axes.Y), [4]string{"Left", "Right", "Bottom", "Top"}[side], list)
		if err != nil {
			return err
		}
		b.sides[side] = numbers
	}
	return nil
}

func (b *boxes) missing(i int) bool {
	return math.IsNaN(b.sides[0][i] + b.sides[1][i] + b.sides[2][i] + b.sides[3][i])
}

// extent keeps room for labels above and below; withRoom does so at the sides.
func (b *boxes) extent() (xs, ys []float64) {
	for i := range b.Left {
		if !b.missing(i) {
			xs = append(xs, b.sides[0][i], b.sides[1][i])
			ys = append(ys, b.sides[2][i], b.sides[3][i])
		}
	}
	if len(b.Labels) > 0 && len(xs) > 0 && !b.Sideways {
		ys = append(ys, roomFor(b.sides[2], b.sides[3], 0.08)...)
	}
	return xs, ys
}

// roomFor is values beyond the ends of bars, by a share of their whole span.
func roomFor(from, to []float64, share float64) []float64 {
	all := append(finite(from...), finite(to...)...)
	low, high := all[0], all[0]
	for _, x := range all {
		low, high = math.Min(low, x), math.Max(high, x)
	}
	var out []float64
	for i := range to {
		switch {
		case math.IsNaN(to[i]) || math.IsNaN(from[i]):
		case to[i] >= from[i]:
			out = append(out, to[i]+share*(high-low))
		default:
			out = append(out, to[i]-share*(high-low))
		}
	}
	return out
}

func (b *boxes) describe() string {
	n := 0
	for i := range b.Left {
		if !b.missing(i) {
			n++
		}
	}
	return fmt.Sprintf("%d bars", n)
}

func (b *boxes) paint(s *sheet, look int) {
	for i := range b.Left {
		if b.missing(i) {
			continue
		}
		a, z := s.at(b.sides[0][i], b.sides[2][i]), s.at(b.sides[1][i], b.sides[3][i])
		s.fillInside(Colour(look), corners(a.X, a.Y, z.X, z.Y))
		if len(b.Labels) > 0 {
			b.paintLabel(s, i, a, z)
		}
	}
}

// paintLabel writes the label of a box beyond its end, on the side it grows to.
func (b *boxes) paintLabel(s *sheet, i int, a, z vg.Point) {
	const gap = 3
	style := textStyle(tickSize)
	style.YAlign = yCentre
	if b.Sideways {
		b.paintSideLabel(s, style, i, a, z)
		return
	}
	style.XAlign = xCentre
	at := vg.Point{X: (a.X + z.X) / 2, Y: z.Y + gap + tickSize/2}
	if z.Y < a.Y {
		at.Y = z.Y - gap - tickSize/2
	}
	s.FillText(style, at, cut(style, b.Labels[i], 1.4*vg.Length(math.Abs(float64(z.X-a.X)))+8))
}

// withRoom is the figure with its X widened until the labels of sideways boxes
// fit beside them, when the axes are so wide.
func (f *axesFigure) withRoom(wide vg.Length) *axesFigure {
	low, high := f.x.low, f.x.high
	for _, m := range f.marks {
		b, ok := m.(*boxes)
		if !ok || !b.Sideways || f.axes.X.bounded() || len(f.axes.X.Ticks) > 0 {
			continue
		}
		for i := range b.Labels {
			share := float64((textStyle(tickSize).Width(b.Labels[i]) + 6) / wide)
			from, to := b.sides[0][i], b.sides[1][i]
			switch {
			case b.missing(i) || share > 0.6:
			case to >= from:
				high = math.Max(high, f.x.low+(to-f.x.low)/(1-share))
			case from-to > 0.05*(f.x.high-f.x.low):
				low = math.Min(low, f.x.high-(f.x.high-to)/(1-share))
			}
		}
	}
	if low == f.x.low && high == f.x.high {
		return f
	}
	wider := *f
	wider.x = linearScale(low, high)
	wider.x.whole, wider.x.down = f.x.whole, f.x.down
	return &wider
}

// paintSideLabel writes the label beyond the end of a box, or in it where there
// is no room beyond, or else on the other side of it.
func (b *boxes) paintSideLabel(s *sheet, style text.Style, i int, a, z vg.Point) {
	const gap = 3
	wide := style.Width(b.Labels[i]) + gap
	left, right := min(a.X, z.X), max(a.X, z.X)
	backwards := z.X < a.X || z.X == a.X && b.sides[1][i] < b.sides[0][i]
	at := vg.Point{X: right + gap, Y: (a.Y + z.Y) / 2}
	fitsRight, fitsLeft, fitsIn := right+wide <= s.Max.X+margin, left-wide >= s.Min.X, right-left > wide+gap
	switch {
	case backwards && fitsLeft, !backwards && !fitsRight && !fitsIn && fitsLeft:
		at.X, style.XAlign = left-gap, xRight
	case !backwards && fitsRight, backwards && !fitsIn:
	case fitsIn:
		style.Color = ground
		at.X, style.XAlign = choose(backwards, left+gap, right-gap), choose(backwards, xLeft, xRight)
	}
	s.FillText(style, at, b.Labels[i])
}

func (b *boxes) sample(s *sheet, look int, from, to, y vg.Length) {
	s.FillPolygon(Colour(look), corners(from+4, y-4, to-4, y+4))
}

func (b *boxes) obstacles(s *sheet) []vg.Point {
	var out []vg.Point
	for i := range b.Left {
		if b.missing(i) {
			continue
		}
		a, z := s.at(b.sides[0][i], b.sides[2][i]), s.at(b.sides[1][i], b.sides[3][i])
		for _, t := range []vg.Length{0, 0.25, 0.5, 0.75, 1} {
			x := a.X + t*(z.X-a.X)
			out = append(append(out, vg.Point{X: x, Y: z.Y}), along(vg.Point{X: x, Y: a.Y}, vg.Point{X: x, Y: z.Y})...)
		}
	}
	return out
}

// corners are those of an upright rectangle.
func corners(left, bottom, right, top vg.Length) []vg.Point {
	return []vg.Point{{X: left, Y: bottom}, {X: right, Y: bottom}, {X: right, Y: top}, {X: left, Y: top}}
}
