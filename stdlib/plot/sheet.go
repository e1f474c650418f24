package plot

import (
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

type (
	unit  = vg.Length
	place = vg.Point
)

// sheet is the part of a canvas between the axes.
type sheet struct {
	draw.Canvas
	x, y scale
}

// at is the place of a value.
func (s *sheet) at(x, y float64) vg.Point {
	return vg.Point{
		X: s.X(s.x.Normalize(s.x.low, s.x.high, x)),
		Y: s.Y(s.y.Normalize(s.y.low, s.y.high, y)),
	}
}

// holds reports whether a value lies between the ends of the axes.
func (s *sheet) holds(x, y float64) bool {
	inside := func(s scale, x float64) bool {
		slack := 1e-9 * math.Abs(s.high-s.low)
		return x >= s.low-slack && x <= s.high+slack
	}
	return inside(s.x, x) && inside(s.y, y)
}

// orEnd is a number, or the end of the axis where there is none.
func (s *sheet) orEnd(x, end float64) float64 {
	if math.IsNaN(x) {
		return end
	}
	return x
}

// strokeInside draws a line as far as it lies between the axes.
func (s *sheet) strokeInside(style draw.LineStyle, line []vg.Point) {
	inside := true
	for _, p := range line {
		inside = inside && s.Contains(p)
	}
	if inside {
		s.StrokeLines(style, line)
		return
	}
	s.StrokeLines(style, s.ClipLinesXY(line)...)
}

// fillInside fills a shape as far as it lies between the axes.
func (s *sheet) fillInside(fill color.Color, corners []vg.Point) {
	if corners = s.ClipPolygonXY(corners); len(corners) > 2 {
		s.FillPolygon(fill, corners)
	}
}

// shade fills the room between two lines with the colour of a series, so thinly
// that grid and other bands show through.
func (s *sheet) shade(look int, upper, lower []vg.Point) {
	corners := append([]vg.Point{}, upper...)
	for i := len(lower) - 1; i >= 0; i-- {
		corners = append(corners, lower[i])
	}
	s.fillInside(veil(look), corners)
}

// veil is the colour of a series, a fifth of it.
func veil(look int) color.Color {
	c := Colour(look)
	return color.NRGBA{R: c.R, G: c.G, B: c.B, A: 0x38}
}

// plotter hands one mark to gonum/plot.
type plotter struct {
	mark
	look   int
	figure *axesFigure
}

// Plot implements gonum/plot's Plotter.
func (p plotter) Plot(c draw.Canvas, _ *plot.Plot) {
	p.paint(&sheet{c, p.figure.x, p.figure.y}, p.look)
}

// GlyphBoxes keeps room for the markers that stand nearest to the edges.
func (p plotter) GlyphBoxes(of *plot.Plot) []plot.GlyphBox {
	s, ok := p.mark.(*series)
	if !ok || !s.marked {
		return nil
	}
	rectangle := markerStyle(p.look).Rectangle()
	var boxes []plot.GlyphBox
	for _, end := range s.outermost() {
		if (&sheet{x: p.figure.x, y: p.figure.y}).holds(end.x, end.y) {
			boxes = append(boxes, plot.GlyphBox{X: of.X.Norm(end.x), Y: of.Y.Norm(end.y), Rectangle: rectangle})
		}
	}
	return boxes
}

// outermost are the least and greatest points along each axis.
func (s *series) outermost() []point {
	var out []point
	for _, less := range []func(a, b point) bool{
		func(a, b point) bool { return a.x < b.x }, func(a, b point) bool { return a.x > b.x },
		func(a, b point) bool { return a.y < b.y }, func(a, b point) bool { return a.y > b.y },
	} {
		best := -1
		for i, p := range s.points {
			if !p.missing() && (best < 0 || less(p, s.points[best])) {
				best = i
			}
		}
		if best >= 0 {
			out = append(out, s.points[best])
		}
	}
	return out
}
