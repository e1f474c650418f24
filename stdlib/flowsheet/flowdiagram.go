package flowsheet

import (
	"fmt"
	"math"

	"cobber/stdlib/plot"
	"cobber/stdlib/quantity"
)

// Measures of a flow diagram, in points.
const (
	widest   = 90.0 // the largest flow
	bandGap  = 26.0
	between  = 84.0 // two columns, loops aside
	barWidth = 9.0
	headRoom = 26.0 // for the names above the highest bars
)

// bands is a flow diagram while it is drawn.
type bands struct {
	*layout
	sheet  *Flowsheet
	rates  []float64 // of each flow, kg/s
	scale  float64   // points for each kg/s
	step   float64   // from column to column
	sketch *plot.Sketch
}

// FlowDiagram is the plant as bands whose widths are to scale: those of solids,
// of water, or of a mineral, element or oxide. What is recycled runs back below.
//
// Units: the rates written are in the unit of the first feed's.
//
// Range: flows below 1/90 of the largest are drawn 1 point wide, too wide.
//
// Errors: what the feed does not hold.
//
// Source: the solution of the plant.
func (r *Result) FlowDiagram(what string) (*plot.Figure, error) {
	d := &bands{sheet: r.sheet, rates: make([]float64, len(r.streams))}
	fed, most := 0.0, 0.0
	for at, s := range r.streams {
		rate, err := s.Rate(what)
		if err != nil {
			return nil, err
		}
		d.rates[at] = rate.SI()
		most = max(most, d.rates[at])
		if r.sheet.flows[at].from < 0 {
			fed += d.rates[at]
		}
	}
	if !(fed > 0) {
		return nil, fmt.Errorf("flowsheet: the feed of %s holds no %s to draw", r.sheet.name, what)
	}
	d.scale = widest / most
	d.layout = r.sheet.lay(measure{d.throughput, bandGap, d.stacked, d.stacked})
	for k := range d.nodes {
		d.nodes[k].y += headRoom
	}
	d.draw(r)
	return d.sketch.Figure(fmt.Sprintf("flow diagram of %s in %s, widths to scale: %s are fed", what, r.sheet.name, rateText(r.rate(fed))))
}

func rateText(q quantity.Quantity) string { return fmt.Sprintf("%.3v", q) }

// band is the width of a flow.
func (d *bands) band(at int) float64 { return max(1, d.rates[at]*d.scale) }

// throughput is the larger of what enters and what leaves a node.
func (d *bands) throughput(n node, links []link) float64 {
	var in, out float64
	for _, e := range links {
		if n.kind == passing {
			return d.band(e.flow)
		}
		switch f := d.sheet.flows[e.flow]; {
		case n.kind != stepNode:
			in = d.band(e.flow)
		case f.to == n.index && f.from == n.index:
			in, out = in+d.band(e.flow), out+d.band(e.flow)
		case f.to == n.index:
			in += d.band(e.flow)
		default:
			out += d.band(e.flow)
		}
	}
	return max(in, out, 2)
}

// stacked is the middles of bands that lie on one another at a node, from its top.
func (d *bands) stacked(n node, links []link) []float64 {
	at := -n.height / 2
	middles := make([]float64, len(links))
	for i, e := range links {
		wide := d.band(e.flow)
		middles[i] = at + wide/2
		at += wide
	}
	return middles
}

func (d *bands) draw(r *Result) {
	const left = 4
	low, loops := d.bottom()+12, 0.0
	lanes := map[int]float64{}
	for e, line := range d.links {
		if line.back {
			wide := d.band(line.flow)
			lanes[e] = low + wide/2
			low, loops = low+wide+8, max(loops, wide)
		}
	}
	letters := plot.Letters{Size: 9}
	head := loops + 2*turn
	for k, n := range d.nodes {
		if n.kind == productNode && n.column == len(d.columns)-1 {
			head = max(head, 4+plot.TextWidth(d.sheet.short(d.nodes[k]), plot.Letters{Size: 9, Bold: true}), 4+plot.TextWidth(rateText(r.rate(d.rates[n.index])), letters))
		}
	}
	d.step = between + loops
	d.sketch = plot.NewSketch(left+d.step*float64(len(d.columns)-1)+barWidth+head, low+4)
	for e := range d.links {
		d.drawBand(e, lanes[e], left)
	}
	for k := range d.nodes {
		d.drawBar(r, k, left, letters)
	}
}

// drawBand draws a link as a curve of its width.
func (d *bands) drawBand(e int, lane, left float64) {
	line := d.links[e]
	wide := d.band(line.flow)
	colour := plot.Tint(plot.Colour(2), 0.45)
	end := line.path[len(line.path)-1]
	switch {
	case line.back:
		colour = plot.Tint(plot.Colour(1), 0.5)
	case d.nodes[end].kind == productNode:
		colour = plot.Tint(plot.Colour(0), 0.4)
	}
	stroke := plot.Stroke{Colour: colour, Width: wide}
	x := func(k int) float64 { return left + d.step*float64(d.nodes[k].column) }
	from := plot.Point{X: x(line.path[0]) + barWidth, Y: d.nodes[line.path[0]].y + d.leave[e]}
	to := plot.Point{X: x(end), Y: d.nodes[end].y + d.arrive[e]}
	if line.back {
		d.sketch.Line(stroke, loop(from, to, lane, wide)...)
		return
	}
	points := []plot.Point{from}
	for _, k := range line.path[1 : len(line.path)-1] {
		points = append(points, plot.Point{X: x(k), Y: d.nodes[k].y}, plot.Point{X: x(k) + barWidth, Y: d.nodes[k].y})
	}
	points = append(points, to)
	var curve []plot.Point
	for i := 0; i+1 < len(points); i++ {
		a, b := points[i], points[i+1]
		curve = append(curve, a)
		a.X, b.X = a.X+2, b.X-2
		middle := (a.X + b.X) / 2
		curve = append(curve, plot.Curve(a, plot.Point{X: middle, Y: a.Y}, plot.Point{X: middle, Y: b.Y}, b)...)
	}
	d.sketch.Line(stroke, append(curve, to)...)
}

// turn is the inner radius of a band that turns.
const turn = 7.0

// loop leads back below: down on the right of where it starts, along a lane, and
// up on the left of where it ends.
func loop(from, to plot.Point, lane, wide float64) []plot.Point {
	r := wide/2 + turn
	points := []plot.Point{from}
	for _, corner := range []struct{ x, y, start float64 }{
		{from.X + 2, from.Y + r, -90}, {from.X + 2, lane - r, 0}, {to.X - 2, lane - r, 90}, {to.X - 2, to.Y + r, 180},
	} {
		for i := range 17 {
			sin, cos := math.Sincos((corner.start + 90*float64(i)/16) * math.Pi / 180)
			points = append(points, plot.Point{X: corner.x + r*cos, Y: corner.y + r*sin})
		}
	}
	return append(points, to)
}

func (d *bands) drawBar(r *Result, k int, left float64, letters plot.Letters) {
	n := d.nodes[k]
	if n.kind == passing {
		return
	}
	x := left + d.step*float64(n.column)
	colour := plot.Colour([]int{2, 5, 0}[n.kind])
	d.sketch.Box(colour, plot.Stroke{}, plot.Point{X: x, Y: n.y - n.height/2}, plot.Point{X: x + barWidth, Y: n.y + n.height/2})
	letters.Bold = true
	if n.kind == stepNode {
		d.sketch.Text(plot.Point{X: x, Y: n.y - n.height/2 - 7}, d.sheet.title(n), letters)
		return
	}
	at := plot.Point{X: x + barWidth + 4, Y: n.y - 5.5}
	if n.kind == feedNode {
		at = plot.Point{X: x, Y: n.y - n.height/2 - 18}
	}
	d.sketch.Text(at, d.sheet.short(n), letters)
	letters.Bold = false
	d.sketch.Text(plot.Point{X: at.X, Y: at.Y + 11}, rateText(r.rate(d.rates[n.index])), letters)
}

// title is the name of what a node stands for.
func (f *Flowsheet) title(n node) string {
	switch n.kind {
	case stepNode:
		return f.steps[n.index].Name
	case passing:
		return ""
	}
	return f.flows[n.index].name
}

// short is the name of what a node stands for, without the step it comes from.
func (f *Flowsheet) short(n node) string {
	if n.kind != productNode {
		return f.title(n)
	}
	s := f.flows[n.index]
	return f.steps[s.from].Unit.Products()[s.product]
}
