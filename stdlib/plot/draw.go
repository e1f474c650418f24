package plot

import (
	"math"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// draw puts title and key above the axes, so that the key never covers a value.
func (f *axesFigure) draw(c draw.Canvas) {
	c = drawTitle(c, f.axes.Title)
	c = f.drawKey(c)
	f.drawAxes(c)
}

// drawAxes writes the axes' names itself: gonum/plot would keep room for a name
// as if it stood at one tick of a logarithmic axis.
func (f *axesFigure) drawAxes(c draw.Canvas) {
	p := f.plot()
	style := textStyle(labelSize)
	line := style.FontExtents()
	inner := c
	if f.axes.X.label() != "" {
		inner = draw.Crop(inner, 0, 0, line.Height+4, 0)
	}
	if f.axes.Y.label() != "" {
		inner = draw.Crop(inner, line.Height+4, 0, 0, 0)
	}
	p.Draw(inner)
	data := p.DataCanvas(inner)
	style.XAlign = draw.XCenter
	name := f.axes.X.fit(style, inner.Max.X-inner.Min.X)
	c.FillText(style, between(data.Min.X, data.Max.X, inner.Min.X, inner.Max.X, style.Width(name), c.Min.Y+line.Descent), name)
	style.Rotation = math.Pi / 2
	name = f.axes.Y.fit(style, inner.Max.Y-inner.Min.Y)
	at := between(data.Min.Y, data.Max.Y, inner.Min.Y, inner.Max.Y, style.Width(name), c.Min.X+line.Ascent)
	c.FillText(style, vg.Point{X: at.Y, Y: at.X}, name)
}

// fit is the axis's label; where there is no room the name is cut, never the
// unit.
func (a Axis) fit(style text.Style, room vg.Length) string {
	unit := strings.TrimPrefix(a.label(), a.Name)
	return cut(style, a.Name, room-style.Width(unit)) + unit
}

// between is where a text of some width stands along a stretch: in its middle,
// or as near to it as the bounds let it.
func between(from, to, least, most, wide, across vg.Length) vg.Point {
	middle := (from + to) / 2
	return vg.Point{X: min(max(middle, least+wide/2), most-wide/2), Y: across}
}

// drawKey writes the names of the series in rows, each after a sample.
func (f *axesFigure) drawKey(c draw.Canvas) draw.Canvas {
	const sample, gap, between = 22, 5, 16
	style := textStyle(tickSize)
	line := style.FontExtents()
	x, y := c.Min.X, c.Max.Y
	any := false
	for i, s := range f.series {
		if s.name == "" {
			continue
		}
		name := cut(style, s.name, c.Max.X-c.Min.X-sample-gap)
		wide := sample + gap + style.Width(name)
		if any && x+wide > c.Max.X {
			x, y = c.Min.X, y-line.Height-2
		}
		any = true
		middle := y - line.Height/2
		s.drawSample(&c, i, x, x+sample, middle)
		c.FillText(style, vg.Point{X: x + sample + gap, Y: middle - line.Ascent/2 + line.Descent/2}, name)
		x += wide + between
	}
	if !any {
		return c
	}
	return draw.Crop(c, 0, 0, 0, -(c.Max.Y - y + line.Height + 6))
}

func (s series) drawSample(c *draw.Canvas, index int, from, to, y vg.Length) {
	if s.line {
		c.StrokeLine2(lineStyle(index), from, y, to, y)
	}
	if s.marked {
		c.DrawGlyphNoClip(markerStyle(index), vg.Point{X: (from + to) / 2, Y: y})
	}
}

// plot is the axes and the series for gonum/plot.
func (f *axesFigure) plot() *plot.Plot {
	p := plot.New()
	p.BackgroundColor = nil
	prepare(&p.X, f.x)
	prepare(&p.Y, f.y)
	p.Y.Tick.Label.XAlign = draw.XRight
	p.Y.Tick.Label.YAlign = draw.YCenter
	p.Add(grid{f.x.ticks, f.y.ticks})
	for i, s := range f.series {
		p.Add(drawnSeries{s, i})
	}
	return p
}

// prepare gives an axis its range, ticks and looks.
func prepare(axis *plot.Axis, s scale) {
	axis.Min, axis.Max = s.low, s.high
	axis.Padding = 0
	axis.Tick.Label.Font = font.From(typeface, tickSize)
	axis.Tick.Label.Color = ink
	axis.Tick.Length = vg.Points(5)
	axis.Tick.LineStyle.Color = ink
	axis.LineStyle.Color = ink
	axis.LineStyle.Width = vg.Points(0.8)
	axis.Tick.Marker = plot.ConstantTicks(s.ticks)
	if s.log {
		axis.Scale = plot.LogScale{}
	}
}

// grid is faint lines at the labelled ticks.
type grid struct{ x, y []plot.Tick }

func (g grid) Plot(c draw.Canvas, p *plot.Plot) {
	style := draw.LineStyle{Color: faint, Width: vg.Points(0.5)}
	for _, tick := range g.x {
		if !tick.IsMinor() {
			x := c.X(p.X.Norm(tick.Value))
			c.StrokeLine2(style, x, c.Min.Y, x, c.Max.Y)
		}
	}
	for _, tick := range g.y {
		if !tick.IsMinor() {
			y := c.Y(p.Y.Norm(tick.Value))
			c.StrokeLine2(style, c.Min.X, y, c.Max.X, y)
		}
	}
}

type drawnSeries struct {
	series
	index int
}

func (s drawnSeries) Plot(c draw.Canvas, p *plot.Plot) {
	at := func(q point) vg.Point { return vg.Point{X: c.X(p.X.Norm(q.x)), Y: c.Y(p.Y.Norm(q.y))} }
	if s.line {
		for _, run := range s.runs() {
			stroke := make([]vg.Point, len(run))
			for i, q := range run {
				stroke[i] = at(q)
			}
			c.StrokeLines(lineStyle(s.index), stroke)
		}
	}
	if s.marked {
		for _, q := range s.points {
			if !q.missing() {
				c.DrawGlyphNoClip(markerStyle(s.index), at(q))
			}
		}
	}
}

// runs are the stretches of a line between missing values.
func (s series) runs() [][]point {
	var runs [][]point
	var run []point
	for _, q := range append(s.points[:len(s.points):len(s.points)], point{x: nan, y: nan}) {
		if !q.missing() {
			run = append(run, q)
			continue
		}
		if len(run) > 0 {
			runs = append(runs, run)
		}
		run = nil
	}
	return runs
}

// GlyphBoxes keeps room for markers that stand on the edge of the axes.
func (s drawnSeries) GlyphBoxes(p *plot.Plot) []plot.GlyphBox {
	var boxes []plot.GlyphBox
	if !s.marked {
		return nil
	}
	for _, q := range s.points {
		if !q.missing() {
			boxes = append(boxes, plot.GlyphBox{X: p.X.Norm(q.x), Y: p.Y.Norm(q.y), Rectangle: markerStyle(s.index).Rectangle()})
		}
	}
	return boxes
}
