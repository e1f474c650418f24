package plot

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Ways to align texts, by shorter names.
const (
	xLeft   = draw.XLeft
	xCentre = draw.XCenter
	xRight  = draw.XRight
	yCentre = draw.YCenter
)

// draw puts title and key above the axes, so that the key never covers a value.
func (f *axesFigure) draw(c draw.Canvas) {
	c = drawTitle(c, f.axes.Title)
	c = f.drawKey(c)
	f.drawAxes(c)
}

func (f *axesFigure) roomy(c draw.Canvas) bool {
	c = drawTitle(c, f.axes.Title)
	c = f.drawKey(c)
	inner := f.inner(c)
	size := inner.Size()
	if !(size.X > leastAxes && size.Y > leastAxes) {
		return false
	}
	data := f.plot(inner).DataCanvas(inner).Size()
	return data.X > leastAxes && data.Y > leastAxes
}

// inner is the canvas without the room for the names of the axes.
func (f *axesFigure) inner(c draw.Canvas) draw.Canvas {
	line := textStyle(labelSize).FontExtents()
	if f.axes.X.label() != "" {
		c = draw.Crop(c, 0, 0, line.Height+4, 0)
	}
	if f.axes.Y.label() != "" {
		c = draw.Crop(c, line.Height+4, 0, 0, 0)
	}
	return c
}

// drawAxes writes the axes' names itself: gonum/plot would keep room for a name
// as if it stood at one tick of a logarithmic axis.
func (f *axesFigure) drawAxes(c draw.Canvas) {
	style := textStyle(labelSize)
	line := style.FontExtents()
	inner := f.inner(c)
	f = f.withRoom((inner.Max.X - inner.Min.X) - f.namesWide(inner) - 16)
	p := f.plot(inner)
	p.Draw(inner)
	data := p.DataCanvas(inner)
	f.texts(&sheet{data, f.x, f.y})
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

// drawKey writes the names of the marks in rows, each after a sample, and below
// them what bands and bars of uncertain values are.
func (f *axesFigure) drawKey(c draw.Canvas) draw.Canvas {
	const sample, gap, between = 22, 5, 16
	style := textStyle(tickSize)
	line := style.FontExtents()
	x, y := c.Min.X, c.Max.Y
	any := false
	sheet := &sheet{Canvas: c}
	next := func(wide vg.Length) (middle vg.Length) {
		if any && x+wide > c.Max.X {
			x, y = c.Min.X, y-line.Height-2
		}
		any = true
		return y - line.Height/2
	}
	for i, m := range f.marks {
		if m.key() == "" {
			continue
		}
		name := cut(style, m.key(), c.Max.X-c.Min.X-sample-gap)
		wide := sample + gap + style.Width(name)
		middle := next(wide)
		m.sample(sheet, f.looks[i], x, x+sample, middle)
		c.FillText(style, vg.Point{X: x + sample + gap, Y: middle - line.Ascent/2 + line.Descent/2}, name)
		x += wide + between
	}
	if words := f.uncertainty(); words != "" {
		words = cut(style, words, c.Max.X-c.Min.X)
		middle := next(style.Width(words))
		c.FillText(style, vg.Point{X: x, Y: middle - line.Ascent/2 + line.Descent/2}, words)
	}
	if !any {
		return c
	}
	return draw.Crop(c, 0, 0, 0, -(c.Max.Y - y + line.Height + 6))
}

// uncertainty says what the drawn intervals are.
func (f *axesFigure) uncertainty() string {
	bars, bands := false, false
	for _, m := range f.marks {
		s, ok := m.(*series)
		if !ok {
			continue
		}
		for _, p := range s.points {
			if !p.missing() {
				bars = bars || p.wideX || p.wideY && !s.banded()
				bands = bands || p.wideY && s.banded()
			}
		}
	}
	switch {
	case bars && bands:
		return "bars and shades: 95 % intervals"
	case bars:
		return "bars: 95 % intervals"
	case bands:
		return "shade: 95 % interval"
	}
	return ""
}

// plot is the axes and the marks for gonum/plot, for a canvas of some size.
func (f *axesFigure) plot(c draw.Canvas) *plot.Plot {
	p := plot.New()
	p.BackgroundColor = nil
	size := c.Size()
	prepare(&p.X, f.x, f.x.readable(size.X-40, false, len(f.axes.X.Names) > 0))
	prepare(&p.Y, f.y, f.y.readable(size.Y-20, true, len(f.axes.Y.Names) > 0))
	if len(f.axes.Y.Names) > 0 {
		p.Y.Tick.Marker = plot.ConstantTicks(shortened(f.y.ticks, size.X*mostForNames))
	}
	p.X.Tick.Label.XAlign, p.X.Tick.Label.YAlign = draw.XCenter, draw.YTop
	if f.slanted(size.X - 40) {
		p.X.Tick.Marker = plot.ConstantTicks(shortened(f.x.ticks, size.Y*0.4))
		p.X.Tick.Label.Rotation = slant
		p.X.Tick.Label.XAlign, p.X.Tick.Label.YAlign = draw.XRight, draw.YCenter
	}
	p.Y.Tick.Label.XAlign, p.Y.Tick.Label.YAlign = draw.XRight, draw.YCenter
	p.Add(grid{f})
	order := make([]int, len(f.marks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(f.marks[a].layer(), f.marks[b].layer()) })
	for _, i := range order {
		p.Add(plotter{f.marks[i], f.looks[i], f})
	}
	return p
}

// readable is the ticks of a scale for an axis of some length, without the
// labels that would touch one before them. Names are broken into lines instead.
func (s scale) readable(room vg.Length, upright, names bool) []plot.Tick {
	style := textStyle(tickSize)
	out := slices.Clone(s.ticks)
	if names {
		if !upright {
			for i := range out {
				out[i].Label = strings.Join(wrap(style, out[i].Label, room/vg.Length(len(out))-4), "\n")
			}
		}
		return out
	}
	type span struct{ from, to vg.Length }
	var taken []span
	for i, tick := range out {
		if tick.IsMinor() {
			continue
		}
		middle := room * vg.Length(s.Normalize(s.low, s.high, tick.Value))
		half := choose(upright, tickSize*0.58, style.Width(tick.Label)/2+2)
		here := span{middle - half, middle + half}
		if slices.ContainsFunc(taken, func(other span) bool { return here.from < other.to && here.to > other.from }) {
			out[i].Label = ""
			continue
		}
		taken = append(taken, here)
	}
	return out
}

// mostForNames is the share of the width that names along Y may take.
const mostForNames = 0.4

// namesWide is the width that names along Y take.
func (f *axesFigure) namesWide(c draw.Canvas) vg.Length {
	wide := vg.Length(0)
	for _, name := range f.axes.Y.Names {
		wide = max(wide, textStyle(tickSize).Width(name))
	}
	return min(wide, c.Size().X*mostForNames)
}

// slant is the angle of names along X that are too long to stand upright.
const slant = math.Pi / 6

// slanted reports whether a word of the names along X is wider than its place.
func (f *axesFigure) slanted(room vg.Length) bool {
	style := textStyle(tickSize)
	for _, name := range f.axes.X.Names {
		for _, word := range strings.Fields(name) {
			if style.Width(word) > room/vg.Length(len(f.axes.X.Names))-4 {
				return true
			}
		}
	}
	return false
}

// shortened is ticks whose labels fit a width.
func shortened(ticks []plot.Tick, room vg.Length) []plot.Tick {
	out := slices.Clone(ticks)
	for i := range out {
		out[i].Label = cut(textStyle(tickSize), out[i].Label, room)
	}
	return out
}

// grid is faint lines at the ticks that may be labelled.
type grid struct{ *axesFigure }

// Plot implements gonum/plot's Plotter.
func (g grid) Plot(c draw.Canvas, p *plot.Plot) {
	style := draw.LineStyle{Color: faint, Width: 0.5}
	if len(g.axes.X.Names) == 0 {
		for _, tick := range p.X.Tick.Marker.Ticks(0, 0) {
			x := c.X(p.X.Norm(tick.Value))
			if !tick.IsMinor() && c.ContainsX(x) {
				c.StrokeLine2(style, x, c.Min.Y, x, c.Max.Y)
			}
		}
	}
	if len(g.axes.Y.Names) == 0 {
		for _, tick := range p.Y.Tick.Marker.Ticks(0, 0) {
			y := c.Y(p.Y.Norm(tick.Value))
			if !tick.IsMinor() && c.ContainsY(y) {
				c.StrokeLine2(style, c.Min.X, y, c.Max.X, y)
			}
		}
	}
}
