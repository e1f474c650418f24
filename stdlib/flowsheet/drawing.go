package flowsheet

import (
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/plot"
)

// Measures of the drawing of a circuit, in points.
const (
	portStep  = 27.0
	boxMargin = 10.0
	trackStep = 8.0
	laneStep  = 22.0
	rowGap    = 16.0
)

var (
	nameLetters = plot.Letters{Size: 9, Place: plot.Centre, Bold: true}
	lineLetters = plot.Letters{Size: 7.5}
)

// Drawing is the circuit as a picture: boxes for steps, lines for streams, from
// the feeds at the left to the products at the right. What is recycled runs back
// below.
func (f *Flowsheet) Drawing() *plot.Figure { return f.drawing(func(int) string { return "" }) }

// Drawing is the circuit as a picture, with the rate of solids at each stream.
func (r *Result) Drawing() *plot.Figure {
	return r.sheet.drawing(func(at int) string {
		return fmt.Sprintf("%.3v", r.rate(r.streams[at].Solids().SI()))
	})
}

// DrawingOf is the circuit as a picture, with the rate of solids and the grade of a
// mineral, element or oxide at each stream.
//
// Units: grades in %.
//
// Range: streams without solids have no grade.
//
// Errors: what the classes do not know.
//
// Source: the solution of the plant.
func (r *Result) DrawingOf(what string) (*plot.Figure, error) {
	grades, _, err := r.component(what)
	if err != nil {
		return nil, err
	}
	return r.sheet.drawing(func(at int) string {
		rate := fmt.Sprintf("%.3v", r.rate(r.streams[at].Solids().SI()))
		if grades[at].IsNaN() {
			return rate
		}
		return rate + fmt.Sprintf(", %.3v", grades[at])
	}), nil
}

// drawing is a circuit while it is drawn.
type drawing struct {
	*layout
	note   func(flow int) string // below the line of a stream
	left   []float64             // of each column
	wide   []float64
	tracks [][]track // upright lines in the gap behind each column
	leave  map[int]float64
	arrive map[int]float64 // where each link leaves and arrives
	lanes  map[int]float64
	sketch *plot.Sketch
}

// track is an upright line in a gap.
type track struct {
	link, part int
	key        float64
}

func (f *Flowsheet) drawing(note func(flow int) string) *plot.Figure {
	l := f.lay(func(n node, links []link) float64 {
		if n.kind != stepNode {
			return 20
		}
		ports := 0
		for _, count := range []int{len(f.inlets[n.index]), len(f.outlets[n.index])} {
			ports = max(ports, count)
		}
		return max(34, portStep*float64(ports)+6)
	}, rowGap)
	d := &drawing{layout: l, note: note, leave: map[int]float64{}, arrive: map[int]float64{}, lanes: map[int]float64{}}
	for range 3 {
		d.putPorts()
		d.straighten()
	}
	d.putPorts()
	d.putTracks()
	d.putColumns()
	high := d.bottom() + 6
	for k, e := range d.backs() {
		d.lanes[e] = d.bottom() + laneStep*float64(k+1)
		high = d.lanes[e] + 14
	}
	last := len(d.columns) - 1
	wide := d.left[last] + d.wide[last] + 2
	if len(d.tracks[last]) > 0 {
		wide += d.labelRoom(last) + 4 + trackStep*float64(len(d.tracks[last]))
	}
	d.sketch = plot.NewSketch(wide, high)
	for e := range d.links {
		d.drawLink(e)
	}
	for k := range d.nodes {
		d.drawNode(k)
	}
	figure, err := d.sketch.Figure(f.words())
	if err != nil {
		panic("flowsheet: " + err.Error()) // a plant has a step to draw
	}
	return figure
}

// words tell what the drawing shows.
func (f *Flowsheet) words() string {
	text := "circuit " + f.name + ": "
	for u, step := range f.steps {
		if u > 0 {
			text += "; "
		}
		text += step.Name + " takes "
		for k, at := range f.inlets[u] {
			if k > 0 {
				text += ", "
			}
			text += f.flows[at].name
		}
	}
	return text
}

// backs are the links that lead back, the shortest first.
func (d *drawing) backs() []int {
	var backs []int
	for e, line := range d.links {
		if line.back {
			backs = append(backs, e)
		}
	}
	span := func(e int) int {
		return d.nodes[d.links[e].path[0]].column - d.nodes[d.links[e].path[1]].column
	}
	slices.SortStableFunc(backs, func(a, b int) int { return span(a) - span(b) })
	return backs
}

// putPorts spreads the ends of links over the sides of nodes.
func (d *drawing) putPorts() {
	for k, n := range d.nodes {
		leaving, arriving := d.ends(k)
		for i, e := range leaving {
			d.leave[e] = n.y + portStep*(float64(i)-float64(len(leaving)-1)/2)
		}
		for i, e := range arriving {
			d.arrive[e] = n.y + portStep*(float64(i)-float64(len(arriving)-1)/2)
		}
	}
}

// straighten moves nodes that a stream only passes, begins or ends in to the
// height it comes from, where there is room.
func (d *drawing) straighten() {
	for e, line := range d.links {
		if line.back {
			continue
		}
		last := len(line.path) - 1
		if n := d.nodes[line.path[0]]; n.kind == feedNode {
			d.shift(line.path[0], d.arrive[e])
		}
		for part := 1; part <= last; part++ {
			if n := d.nodes[line.path[part]]; n.kind != stepNode {
				d.shift(line.path[part], d.heightAt(e, part-1))
			}
		}
	}
}

func (d *drawing) shift(k int, y float64) {
	n := &d.nodes[k]
	for _, other := range d.columns[n.column] {
		o := d.nodes[other]
		if other == k {
			continue
		}
		if (o.y < n.y) != (o.y < y) || math.Abs(o.y-y) < (o.height+n.height)/2+4 {
			return
		}
	}
	if y-n.height/2 >= 0 {
		n.y = y
	}
}

// heightAt is the height of a link where it leaves or reaches part of its path.
func (d *drawing) heightAt(e, part int) float64 {
	switch path := d.links[e].path; part {
	case 0:
		return d.leave[e]
	case len(path) - 1:
		return d.arrive[e]
	default:
		return d.nodes[path[part]].y
	}
}

// putTracks gives each upright line its place in a gap, so that lines that turn
// do not cross those beside them: going down, the lowest turns first; going up,
// the highest.
func (d *drawing) putTracks() {
	d.tracks = make([][]track, len(d.columns))
	for e, line := range d.links {
		if line.back {
			from, to := d.nodes[line.path[0]].column, d.nodes[line.path[1]].column-1
			d.tracks[from] = append(d.tracks[from], track{e, 0, -1e6 - d.leave[e]})
			d.tracks[to] = append(d.tracks[to], track{e, 1, 1e6 + d.arrive[e]})
			continue
		}
		for part := range line.path[:len(line.path)-1] {
			from, to := d.heightAt(e, part), d.heightAt(e, part+1)
			gap := d.nodes[line.path[part]].column
			switch {
			case to > from+0.5:
				d.tracks[gap] = append(d.tracks[gap], track{e, part, -from})
			case to < from-0.5:
				d.tracks[gap] = append(d.tracks[gap], track{e, part, from})
			}
		}
	}
	for _, gap := range d.tracks {
		slices.SortStableFunc(gap, func(a, b track) int {
			if a.key < b.key {
				return -1
			}
			return 1
		})
	}
}

// labelRoom is the room for the names of streams behind a column.
func (d *drawing) labelRoom(column int) float64 {
	room := 0.0
	for _, line := range d.links {
		if d.nodes[line.path[0]].column == column && d.nodes[line.path[0]].kind == stepNode {
			room = max(room, plot.TextWidth(d.label(line.flow), lineLetters)+6, plot.TextWidth(d.note(line.flow), lineLetters)+6)
		}
		if d.nodes[line.path[0]].column == column && d.nodes[line.path[0]].kind == feedNode {
			room = max(room, plot.TextWidth(d.note(line.flow), lineLetters)+6)
		}
	}
	return room
}

// label is what is written on a stream: the product's name.
func (d *drawing) label(at int) string {
	s := d.f.flows[at]
	if s.from < 0 {
		return ""
	}
	return d.f.steps[s.from].Unit.Products()[s.product]
}

func (d *drawing) putColumns() {
	d.left, d.wide = make([]float64, len(d.columns)), make([]float64, len(d.columns))
	x := 2.0
	for c, column := range d.columns {
		for _, k := range column {
			d.wide[c] = max(d.wide[c], plot.TextWidth(d.f.title(d.nodes[k]), nameLetters)+2*boxMargin)
		}
		d.left[c] = x
		x += d.wide[c] + d.labelRoom(c) + 18 + trackStep*float64(len(d.tracks[c]))
	}
}

// trackAt is where the upright part of a link runs.
func (d *drawing) trackAt(column, e, part int) float64 {
	at := slices.IndexFunc(d.tracks[column], func(t track) bool { return t.link == e && t.part == part })
	return d.left[column] + d.wide[column] + d.labelRoom(column) + 4 + trackStep*float64(at)
}

func (d *drawing) drawLink(e int) {
	line := d.links[e]
	stroke := plot.Stroke{Colour: plot.Ink, Width: 1}
	first, last := d.nodes[line.path[0]], d.nodes[line.path[len(line.path)-1]]
	start := d.left[first.column] + d.wide[first.column]
	if first.kind != stepNode {
		start = d.left[first.column] + d.nodeWidth(first)
	}
	points := []plot.Point{{X: start, Y: d.leave[e]}}
	if line.back {
		stroke.Colour = plot.Colour(3)
		out, in := d.trackAt(first.column, e, 0), d.trackAt(last.column-1, e, 1)
		points = append(points, plot.Point{X: out, Y: d.leave[e]}, plot.Point{X: out, Y: d.lanes[e]},
			plot.Point{X: in, Y: d.lanes[e]}, plot.Point{X: in, Y: d.arrive[e]})
	} else {
		for part := range line.path[:len(line.path)-1] {
			from, to := d.heightAt(e, part), d.heightAt(e, part+1)
			if from < to-0.5 || from > to+0.5 {
				x := d.trackAt(d.nodes[line.path[part]].column, e, part)
				points = append(points, plot.Point{X: x, Y: from}, plot.Point{X: x, Y: to})
			}
		}
	}
	points = append(points, plot.Point{X: d.left[last.column], Y: d.arrive[e]})
	d.sketch.Arrow(stroke, points...)
	letters := lineLetters
	letters.Colour = stroke.Colour
	d.sketch.Text(plot.Point{X: start + 3, Y: d.leave[e] - 5.5}, d.label(line.flow), letters)
	d.sketch.Text(plot.Point{X: start + 3, Y: d.leave[e] + 6}, d.note(line.flow), letters)
}

// nodeWidth is that of a box: steps fill their column, feeds and products take
// what their name does.
func (d *drawing) nodeWidth(n node) float64 {
	if n.kind == stepNode {
		return d.wide[n.column]
	}
	return plot.TextWidth(d.f.title(n), nameLetters) + 2*boxMargin
}

func (d *drawing) drawNode(k int) {
	n := d.nodes[k]
	if n.kind == passing {
		return
	}
	colour := []int{2, 0, 1}[n.kind]
	x, wide := d.left[n.column], d.nodeWidth(n)
	a, b := plot.Point{X: x, Y: n.y - n.height/2}, plot.Point{X: x + wide, Y: n.y + n.height/2}
	d.sketch.Box(plot.Tint(plot.Colour(colour), 0.12), plot.Stroke{Colour: plot.Colour(colour), Width: 1.2}, a, b)
	d.sketch.Text(plot.Point{X: x + wide/2, Y: n.y}, d.f.title(n), nameLetters)
}
