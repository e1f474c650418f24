package plot

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Guide is a thin grey line through values, with its name written at it: one of
// a family of lines to read a figure by, such as those of equal yield. It takes
// no colour and has no place in the key.
type Guide struct {
	Name string // may be empty
	X, Y []quantity.Quantity
}

func (g Guide) mark() mark { return &guide{Guide: g} }

type guide struct {
	Guide
	silent
	xs, ys []float64
}

func (g *guide) coordinates() (x, y []quantity.Quantity) { return g.X, g.Y }
func (g *guide) layer() int                              { return 0 }

func (g *guide) read(axes Axes) (err error) {
	if err := pairs(g.X, g.Y); err != nil {
		return err
	}
	if g.xs, err = readAll(axes.X, "X", g.X); err != nil {
		return err
	}
	g.ys, err = readAll(axes.Y, "Y", g.Y)
	return err
}

// extent is nothing: a guide takes the axes as the data make them, and is cut
// off there.
func (g *guide) extent() (xs, ys []float64) { return nil, nil }

func (g *guide) describe() string {
	if g.Name == "" {
		return ""
	}
	return fmt.Sprintf("guide %q", g.Name)
}

func (g *guide) inside(s *sheet) []vg.Point {
	var out []vg.Point
	for i, x := range g.xs {
		if y := g.ys[i]; !math.IsNaN(x) && !math.IsNaN(y) {
			out = append(out, s.at(x, y))
		}
	}
	return out
}

func (g *guide) paint(s *sheet, _ int) {
	s.strokeInside(draw.LineStyle{Color: guideGrey, Width: 0.8}, g.inside(s))
}

func (g *guide) labelled() (string, bool) { return g.Name, g.Name != "" }

// choices are places along the part of the line that shows, from its far end.
func (g *guide) choices(s *sheet, w, h vg.Length) []spot {
	var shown []vg.Point
	for _, line := range s.ClipLinesXY(g.inside(s)) {
		for i, p := range line {
			if i > 0 {
				shown = append(shown, along(line[i-1], p)...)
			}
			shown = append(shown, p)
		}
	}
	if len(shown) == 0 {
		return nil
	}
	var out []spot
	for _, t := range []float64{1, 0.92, 0.84, 0.75, 0.65, 0.5, 0.35, 0.2} {
		p := shown[int(t*float64(len(shown)-1))]
		for _, corner := range []vg.Point{{X: p.X - w/2, Y: p.Y - h/2}, {X: p.X - w - 2, Y: p.Y - h/2}, {X: p.X - w/2, Y: p.Y - h - 2}} {
			out = append(out, spot{corner: corner})
		}
	}
	return out
}
