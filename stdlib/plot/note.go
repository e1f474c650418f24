package plot

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Note is a text at a value, as near to it as the lines and markers leave room;
// a thin line leads back to the value where the text stands off.
type Note struct {
	X, Y quantity.Quantity
	Text string
}

// Across is a thin line over the whole width of the figure at a value of Y. The
// interval of an uncertain value is shaded.
type Across struct {
	Name string // written along the line; may be empty
	Y    quantity.Quantity
}

// Upright is a thin line over the whole height of the figure at a value of X.
// The interval of an uncertain value is shaded.
type Upright struct {
	Name string // written at the line; may be empty
	X    quantity.Quantity
}

func (n Note) mark() mark    { return &note{Note: n} }
func (a Across) mark() mark  { return &rule{name: a.Name, q: a.Y} }
func (u Upright) mark() mark { return &rule{name: u.Name, q: u.X, upright: true} }

// silent is what notes and rules have in common: no colour, no key.
type silent struct{}

func (silent) key() string                                    { return "" }
func (silent) wanted() int                                    { return -1 }
func (silent) sample(*sheet, int, vg.Length, vg.Length, unit) {}
func (silent) obstacles(*sheet) []vg.Point                    { return nil }

type note struct {
	Note
	silent
	x, y float64
}

func (n *note) coordinates() (x, y []quantity.Quantity) {
	return []quantity.Quantity{n.X}, []quantity.Quantity{n.Y}
}
func (n *note) layer() int { return 5 }

func (n *note) read(axes Axes) (err error) {
	if n.x, err = axes.X.number(n.X); err != nil {
		return fmt.Errorf(", X of note %q: %w", n.Text, err)
	}
	if n.y, err = axes.Y.number(n.Y); err != nil {
		return fmt.Errorf(", Y of note %q: %w", n.Text, err)
	}
	return nil
}

func (n *note) extent() (xs, ys []float64)              { return finite(n.x), finite(n.y) }
func (n *note) describe() string                        { return fmt.Sprintf("note %q", n.Text) }
func (n *note) paint(*sheet, int)                       {}
func (n *note) labelled() (string, bool)                { return n.Text, !math.IsNaN(n.x) && !math.IsNaN(n.y) }
func (n *note) choices(s *sheet, w, h vg.Length) []spot { return around(s.at(n.x, n.y), w, h) }

type rule struct {
	silent
	name      string
	q         quantity.Quantity
	upright   bool
	at        float64
	low, high float64
	wide      bool
}

func (r *rule) coordinates() (x, y []quantity.Quantity) {
	if r.upright {
		return []quantity.Quantity{r.q}, nil
	}
	return nil, []quantity.Quantity{r.q}
}
func (r *rule) layer() int { return 2 }

func (r *rule) read(axes Axes) (err error) {
	axis := choose(r.upright, axes.X, axes.Y)
	if r.at, err = axis.number(r.q); err != nil {
		return fmt.Errorf(", line %q: %w", r.name, err)
	}
	if r.q.IsUncertain() {
		r.wide = true
		r.low, r.high = interval(axis, r.q)
	}
	return nil
}

func (r *rule) extent() (xs, ys []float64) {
	numbers := finite(r.at)
	if r.wide {
		numbers = finite(r.at, r.low, r.high)
	}
	if r.upright {
		return numbers, nil
	}
	return nil, numbers
}

func (r *rule) describe() string {
	if r.name == "" {
		return fmt.Sprintf("line at %v", r.q.Certain())
	}
	return fmt.Sprintf("line %q at %v", r.name, r.q.Certain())
}

func (r *rule) ends(s *sheet, at float64) (a, b vg.Point) {
	if r.upright {
		x := s.at(at, s.y.low).X
		return vg.Point{X: x, Y: s.Min.Y}, vg.Point{X: x, Y: s.Max.Y}
	}
	y := s.at(s.x.low, at).Y
	return vg.Point{X: s.Min.X, Y: y}, vg.Point{X: s.Max.X, Y: y}
}

func (r *rule) paint(s *sheet, _ int) {
	if math.IsNaN(r.at) {
		return
	}
	if r.wide {
		low := s.orEnd(r.low, choose(r.upright, s.x.low, s.y.low))
		high := s.orEnd(r.high, choose(r.upright, s.x.high, s.y.high))
		a, b := r.ends(s, low)
		c, d := r.ends(s, high)
		s.fillInside(Quiet, []vg.Point{a, b, d, c})
	}
	a, b := r.ends(s, r.at)
	s.strokeInside(draw.LineStyle{Color: soft, Width: 0.9, Dashes: []vg.Length{4, 2.5}}, []vg.Point{a, b})
}

func (r *rule) labelled() (string, bool) { return r.name, r.name != "" && !math.IsNaN(r.at) }

// choices are places beside the line, from its far end to its near one.
func (r *rule) choices(s *sheet, w, h vg.Length) []spot {
	const gap = 2
	a, b := r.ends(s, r.at)
	var out []spot
	if r.upright {
		for _, row := range []vg.Length{0, 1, 2, 4, 8, 12} {
			y := b.Y - gap - h - row*(h+gap)
			out = append(out, spot{corner: vg.Point{X: b.X + gap + 1, Y: y}}, spot{corner: vg.Point{X: b.X - w - gap - 1, Y: y}})
		}
		return out
	}
	for _, t := range []vg.Length{1, 0, 0.5, 0.75, 0.25} {
		x := a.X + gap + t*(b.X-a.X-w-2*gap)
		out = append(out, spot{corner: vg.Point{X: x, Y: a.Y + gap}}, spot{corner: vg.Point{X: x, Y: a.Y - h - gap}})
	}
	return out
}

// labelled is a mark with a text that looks for its place among the others.
type labelled interface {
	labelled() (text string, ok bool)
	choices(s *sheet, wide, high vg.Length) []spot
}

// spot is a place a text may take, its lower left corner, and the end of the
// line that leads from it.
type spot struct {
	corner vg.Point
	leads  bool
	to     vg.Point
}

// around are the places beside a point, the nearest first.
func around(p vg.Point, w, h vg.Length) []spot {
	var out []spot
	for _, far := range []vg.Length{5, 14, 26, 40, 58, 80} {
		slant := far * 0.75
		for _, corner := range []vg.Point{
			{X: p.X + slant, Y: p.Y + slant}, {X: p.X - slant - w, Y: p.Y + slant},
			{X: p.X + slant, Y: p.Y - slant - h}, {X: p.X - slant - w, Y: p.Y - slant - h},
			{X: p.X + far, Y: p.Y - h/2}, {X: p.X - far - w, Y: p.Y - h/2},
			{X: p.X - w/2, Y: p.Y + far}, {X: p.X - w/2, Y: p.Y - far - h},
		} {
			out = append(out, spot{corner, far > 10, p})
		}
	}
	return out
}

// texts places the texts of notes and rules, one after the other, each where it
// covers least, and draws them.
func (f *axesFigure) texts(s *sheet) {
	style := textStyle(tickSize)
	line := style.FontExtents()
	var points []vg.Point
	for _, m := range f.marks {
		points = append(points, m.obstacles(s)...)
	}
	var taken []vg.Rectangle
	for _, m := range f.marks {
		l, ok := m.(labelled)
		if !ok {
			continue
		}
		words, ok := l.labelled()
		if !ok {
			continue
		}
		words = cut(style, words, s.Size().X*0.7)
		style.Color = ink
		if _, quiet := m.(*guide); quiet {
			style.Color = soft
		}
		wide, high := style.Width(words), line.Height
		least := math.Inf(1)
		var best spot
		for rank, choice := range l.choices(s, wide, high) {
			cost := float64(rank)*0.2 + s.covers(choice, wide, high, points, taken)
			if cost < least {
				best, least = choice, cost
			}
		}
		if _, quiet := m.(*guide); math.IsInf(least, 1) || quiet && least > 150 {
			continue // a guide of which too little shows for its name
		}
		taken = append(taken, vg.Rectangle{Min: best.corner, Max: vg.Point{X: best.corner.X + wide, Y: best.corner.Y + high}})
		s.write(style, best, words, wide, high)
	}
}

// covers is what a text at a spot would cost: what it hides, and worse, what of
// it would leave the axes.
func (s *sheet) covers(at spot, wide, high vg.Length, points []vg.Point, taken []vg.Rectangle) float64 {
	const edge = 1
	cost := 0.0
	low, top := at.corner, vg.Point{X: at.corner.X + wide, Y: at.corner.Y + high}
	if low.X < s.Min.X+edge || low.Y < s.Min.Y+edge || top.X > s.Max.X-edge || top.Y > s.Max.Y-edge {
		cost += 1000
	}
	for _, p := range points {
		if p.X > low.X-2 && p.X < top.X+2 && p.Y > low.Y-2 && p.Y < top.Y+2 {
			cost += 10
		}
	}
	for _, other := range taken {
		if low.X < other.Max.X && top.X > other.Min.X && low.Y < other.Max.Y && top.Y > other.Min.Y {
			cost += 300
		}
	}
	return cost
}

// write writes a text on a ground of its own, so that grid lines do not cross it.
func (s *sheet) write(style text.Style, at spot, words string, wide, high vg.Length) {
	low, top := at.corner, vg.Point{X: at.corner.X + wide, Y: at.corner.Y + high}
	if at.leads {
		nearest := vg.Point{X: min(max(at.to.X, low.X), top.X), Y: min(max(at.to.Y, low.Y), top.Y)}
		s.StrokeLine2(draw.LineStyle{Color: soft, Width: 0.6}, at.to.X, at.to.Y, nearest.X, nearest.Y)
	}
	s.FillPolygon(lightGround, corners(low.X-1, low.Y, top.X+1, top.Y))
	s.FillText(style, vg.Point{X: low.X, Y: low.Y + style.FontExtents().Descent}, words)
}
