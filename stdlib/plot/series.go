package plot

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Line joins values by straight lines, in their order.
type Line struct {
	Name   string // in the key above the figure; may be empty
	X, Y   []quantity.Quantity
	Marked bool // with a marker at each value
	Colour int  // 1 to 6, to pair it with another mark; 0 for the next
}

// Points puts a marker at each value.
type Points struct {
	Name   string // in the key above the figure; may be empty
	X, Y   []quantity.Quantity
	Colour int // 1 to 6, to pair it with another mark; 0 for the next
}

func (l Line) mark() mark {
	return &series{name: l.Name, x: l.X, y: l.Y, line: true, marked: l.Marked, colour: l.Colour}
}

func (p Points) mark() mark {
	return &series{name: p.Name, x: p.X, y: p.Y, marked: true, colour: p.Colour}
}

// series is a Line or Points.
type series struct {
	name         string
	x, y         []quantity.Quantity
	line, marked bool
	colour       int
	points       []point
}

// point is a value in the units of the axes; missing ones are not numbers. The
// interval of an uncertain one is not a number at an end that the scale has no
// place for; a certain one has none.
type point struct {
	x, y         float64
	wideX, wideY bool // uncertain
	lowX, highX  float64
	lowY, highY  float64
}

func (p point) missing() bool { return math.IsNaN(p.x) || math.IsNaN(p.y) }

func (s *series) key() string                             { return s.name }
func (s *series) wanted() int                             { return s.colour }
func (s *series) coordinates() (x, y []quantity.Quantity) { return s.x, s.y }
func (s *series) layer() int                              { return choose(s.line, 3, 4) }

func (s *series) read(axes Axes) error {
	if err := pairs(s.x, s.y); err != nil {
		return err
	}
	s.points = make([]point, len(s.x))
	for i := range s.x {
		p := &s.points[i]
		for _, part := range []struct {
			name      string
			axis      Axis
			q         quantity.Quantity
			at        *float64
			wide      *bool
			low, high *float64
		}{
			{"X", axes.X, s.x[i], &p.x, &p.wideX, &p.lowX, &p.highX},
			{"Y", axes.Y, s.y[i], &p.y, &p.wideY, &p.lowY, &p.highY},
		} {
			x, err := part.axis.number(part.q)
			if err != nil {
				return fmt.Errorf(", %s of value %d: %w", part.name, i+1, err)
			}
			*part.at = x
			if part.q.IsUncertain() && !math.IsNaN(x) {
				*part.wide = true
				*part.low, *part.high = interval(part.axis, part.q)
			}
		}
	}
	return nil
}

// interval is the ends of a quantity's interval on an axis.
func interval(axis Axis, q quantity.Quantity) (low, high float64) {
	from, to, err := q.Interval(quantity.DefaultLevel)
	if err != nil { // only a level outside 0 to 1 is refused
		return nan, nan
	}
	ends := [2]float64{nan, nan}
	for i, end := range []quantity.Quantity{from, to} {
		if x, err := end.Value(axis.Unit); err == nil {
			ends[i] = axis.within(x)
		}
	}
	return ends[0], ends[1]
}

func (s *series) extent() (xs, ys []float64) {
	for _, p := range s.points {
		if p.missing() {
			continue
		}
		xs, ys = append(xs, p.x), append(ys, p.y)
		if p.wideX {
			xs = append(xs, finite(p.lowX, p.highX)...)
		}
		if p.wideY {
			ys = append(ys, finite(p.lowY, p.highY)...)
		}
	}
	return xs, ys
}

func (s *series) describe() string { return fmt.Sprintf("%d values", s.drawn()) }

// drawn is the number of values that are not missing.
func (s *series) drawn() int {
	n := 0
	for _, p := range s.points {
		if !p.missing() {
			n++
		}
	}
	return n
}

// banded reports whether the uncertainty of Y is drawn as a band.
func (s *series) banded() bool { return s.line && !s.marked }

// uncertain reports whether any interval is drawn.
func (s *series) uncertain() bool {
	for _, p := range s.points {
		if !p.missing() && (p.wideX || p.wideY) {
			return true
		}
	}
	return false
}

func (s *series) paint(sheet *sheet, look int) {
	if s.banded() {
		for _, run := range s.runs() {
			s.paintBand(sheet, look, run)
		}
	}
	if s.line {
		for _, run := range s.runs() {
			stroke := make([]vg.Point, len(run))
			for i, p := range run {
				stroke[i] = sheet.at(p.x, p.y)
			}
			for _, piece := range pieces(thinned(stroke)) {
				sheet.strokeInside(lineStyle(look), piece)
			}
		}
	}
	for _, p := range s.points {
		if !p.missing() && sheet.holds(p.x, p.y) {
			s.paintBars(sheet, look, p)
		}
	}
	if s.marked {
		s.paintMarkers(sheet, look)
	}
}

// paintBand shades the interval along a run of a line. Where only some of its
// values are uncertain, the band narrows to the line.
func (s *series) paintBand(sheet *sheet, look int, run []point) {
	var upper, lower []vg.Point
	wide := false
	for _, p := range run {
		low, high := p.y, p.y
		if p.wideY {
			wide = true
			low, high = sheet.orEnd(p.lowY, sheet.y.low), sheet.orEnd(p.highY, sheet.y.high)
		}
		upper, lower = append(upper, sheet.at(p.x, high)), append(lower, sheet.at(p.x, low))
	}
	if wide && len(run) > 1 {
		sheet.shade(look, upper, lower)
	}
}

// paintBars draws the intervals of a point that no band shows.
func (s *series) paintBars(sheet *sheet, look int, p point) {
	style := draw.LineStyle{Color: hue(look), Width: 0.9}
	const cap = 2.5
	if p.wideX {
		a, b := sheet.at(sheet.orEnd(p.lowX, sheet.x.low), p.y), sheet.at(sheet.orEnd(p.highX, sheet.x.high), p.y)
		sheet.strokeInside(style, []vg.Point{a, b})
		for _, end := range []vg.Point{a, b} {
			sheet.strokeInside(style, []vg.Point{{X: end.X, Y: end.Y - cap}, {X: end.X, Y: end.Y + cap}})
		}
	}
	if p.wideY && !s.banded() {
		a, b := sheet.at(p.x, sheet.orEnd(p.lowY, sheet.y.low)), sheet.at(p.x, sheet.orEnd(p.highY, sheet.y.high))
		sheet.strokeInside(style, []vg.Point{a, b})
		for _, end := range []vg.Point{a, b} {
			sheet.strokeInside(style, []vg.Point{{X: end.X - cap, Y: end.Y}, {X: end.X + cap, Y: end.Y}})
		}
	}
}

func (s *series) paintMarkers(sheet *sheet, look int) {
	var at []vg.Point
	for _, p := range s.points {
		if !p.missing() && sheet.holds(p.x, p.y) {
			at = append(at, sheet.at(p.x, p.y))
		}
	}
	if len(at) > manyMarkers {
		sheet.stamp(markerStyle(look), at)
		return
	}
	for _, point := range at {
		sheet.DrawGlyphNoClip(markerStyle(look), point)
	}
}

func (s *series) sample(sheet *sheet, look int, from, to, y vg.Length) {
	if s.banded() && s.uncertain() {
		sheet.FillPolygon(veil(look), corners(from, y-4, to, y+4))
	}
	if s.line {
		sheet.StrokeLine2(lineStyle(look), from, y, to, y)
	}
	if s.marked {
		sheet.DrawGlyphNoClip(markerStyle(look), vg.Point{X: (from + to) / 2, Y: y})
	}
}

// runs are the stretches of a line between missing values.
func (s *series) runs() [][]point {
	var runs [][]point
	var run []point
	for _, p := range append(s.points[:len(s.points):len(s.points)], point{x: nan, y: nan}) {
		if !p.missing() {
			run = append(run, p)
			continue
		}
		if len(run) > 0 {
			runs = append(runs, run)
		}
		run = nil
	}
	return runs
}

// obstacles are places along the lines and at the markers.
func (s *series) obstacles(sheet *sheet) []vg.Point {
	var out []vg.Point
	for _, run := range s.runs() {
		for i, p := range run {
			here := sheet.at(p.x, p.y)
			if i > 0 && s.line {
				out = append(out, along(sheet.at(run[i-1].x, run[i-1].y), here)...)
			}
			out = append(out, here)
			if len(out) > 20000 { // a cloud covers its part of the picture by then
				return out
			}
		}
	}
	return out
}

// along is places every few points on the way from a to b.
func along(a, b vg.Point) []vg.Point {
	const step = 4
	length := math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))
	if !(length > step) { // too near, or not a number where a picture has no room
		return nil
	}
	n := int(math.Min(200, length/step))
	out := make([]vg.Point, 0, n)
	for i := 1; i < n; i++ {
		t := vg.Length(i) / vg.Length(n)
		out = append(out, vg.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)})
	}
	return out
}
