package flowsheet

import (
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/plot"
)

// Measures of the drawing of a circuit, in points.
const (
	boxHigh    = 24.0
	endHigh    = 14.0 // of the box of a product
	boxMargin  = 10.0
	portGap    = 10.0 // between the words of one stream and the next
	leastPort  = 22.0
	trackStep  = 7.0
	laneStep   = 12.0
	besideGap  = 18.0
	lineOfText = 9.5
)

var (
	nameLetters = plot.Letters{Size: 9.5, Place: plot.Centre, Bold: true}
	lineLetters = plot.Letters{Size: 8}
)

// Drawing is the circuit as a picture: boxes for steps, lines for streams, from
// the feeds at the top to the products below. What is recycled runs back at the
// right.
func (f *Flowsheet) Drawing() *plot.Figure { return f.drawing(func(int) []string { return nil }) }

// Drawing is the circuit as a picture, with the rate of solids at each stream.
func (r *Result) Drawing() *plot.Figure {
	return r.sheet.drawing(func(at int) []string { return []string{r.rateWords(at)} })
}

func (r *Result) rateWords(at int) string {
	return fmt.Sprintf("%.3v", r.rate(r.streams[at].Solids().SI()))
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
	return r.sheet.drawing(func(at int) []string {
		if grades[at].IsNaN() {
			return []string{r.rateWords(at)}
		}
		return []string{r.rateWords(at), fmt.Sprintf("%.3v", grades[at])}
	}), nil
}

// drawing is a circuit while it is drawn. Columns of the layout are rows here, and
// the layout's y is x.
type drawing struct {
	*layout
	note   func(flow int) []string
	top    []float64 // of each row
	high   []float64 // of its boxes
	tracks [][]track // level lines below each row
	lanes  map[int]float64
	sketch *plot.Sketch
}

// track is a level line below a row.
type track struct {
	link, part int
	key        float64
}

func (f *Flowsheet) drawing(note func(flow int) []string) *plot.Figure {
	d := &drawing{note: note, lanes: map[int]float64{}}
	d.layout = &layout{f: f}
	d.layout = f.lay(measure{d.width, besideGap, d.leaving, d.arriving})
	d.straighten()
	d.putTracks()
	d.putRows()
	wide := d.bottom()
	for e, line := range d.links { // words may stand beyond the boxes
		wide = max(wide, d.across(e, 0)+d.wordsWidth(line.flow)+6)
	}
	for k, e := range d.backs() {
		d.lanes[e] = wide + laneStep*float64(k+1)
	}
	last := len(d.top) - 1
	d.sketch = plot.NewSketch(wide+laneStep*float64(len(d.lanes))+4, d.top[last]+d.high[last]+d.below(last)+2)
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

// lines are the words at a stream: its product, then the notes.
func (d *drawing) lines(at int) []string {
	var lines []string
	if d.flow(at).from >= 0 {
		lines = append(lines, d.product(at))
	}
	return append(lines, d.note(at)...)
}

func (d *drawing) flow(at int) flow { return d.f.flows[at] }

func (d *drawing) product(at int) string {
	s := d.flow(at)
	return d.f.steps[s.from].Unit.Products()[s.product]
}

func (d *drawing) wordsWidth(at int) float64 {
	wide := 0.0
	for _, words := range d.lines(at) {
		wide = max(wide, plot.TextWidth(words, lineLetters))
	}
	return wide + 4
}

// width is that of a box, so wide that the words of its streams stand side by
// side below it.
func (d *drawing) width(n node, links []link) float64 {
	switch n.kind {
	case passing:
		return 6
	case productNode:
		return 30
	}
	wide := plot.TextWidth(d.f.title(n), nameLetters) + 2*boxMargin
	var leaving, arriving float64
	for _, e := range links {
		if s := d.flow(e.flow); n.kind == feedNode || s.from == n.index {
			leaving += max(leastPort, d.wordsWidth(e.flow)+portGap)
		}
		if s := d.flow(e.flow); n.kind == stepNode && s.to == n.index {
			arriving += leastPort
		}
	}
	return max(wide, leaving, arriving)
}

// leaving is where links leave a box: words stand at the right of each.
func (d *drawing) leaving(n node, links []link) []float64 {
	if len(links) == 1 {
		return []float64{0}
	}
	var total float64
	slots := make([]float64, len(links))
	for i, e := range links {
		slots[i] = max(leastPort, d.wordsWidth(e.flow)+portGap)
		total += slots[i]
	}
	at := -total / 2
	places := make([]float64, len(links))
	for i, slot := range slots {
		places[i] = at + portGap
		at += slot
	}
	return places
}

// arriving is where links reach a box, side by side.
func (d *drawing) arriving(n node, links []link) []float64 {
	places := make([]float64, len(links))
	for i := range links {
		places[i] = leastPort * (float64(i) - float64(len(links)-1)/2)
	}
	return places
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

// jog is a step aside that is too small to be drawn.
const jog = 7

// straighten moves nodes that a stream only passes or ends in under the place it
// comes from, where there is room, and takes small steps out of the others.
func (d *drawing) straighten() {
	for e, line := range d.links {
		if line.back {
			continue
		}
		last := len(line.path) - 1
		for part := 1; part <= last; part++ {
			if d.nodes[line.path[part]].kind != stepNode {
				d.shift(line.path[part], d.across(e, part-1))
			}
		}
		if aside := d.across(e, last-1) - d.across(e, last); math.Abs(aside) <= jog {
			d.arrive[e] += aside
		}
	}
}

func (d *drawing) shift(k int, y float64) {
	n := &d.nodes[k]
	for _, other := range d.columns[n.column] {
		o := d.nodes[other]
		if other != k && ((o.y < n.y) != (o.y < y) || math.Abs(o.y-y) < (o.height+n.height)/2+4) {
			return
		}
	}
	if y >= n.height/2 {
		n.y = y
	}
}

// across is where a link is at a node of its path.
func (d *drawing) across(e, part int) float64 {
	return d.nodes[d.links[e].path[part]].y + d.offset(e, part)
}

// putTracks gives each level line its place below a row, so that lines that turn
// do not cross those beside them: going right, the rightmost turns first; going
// left, the leftmost.
func (d *drawing) putTracks() {
	d.tracks = make([][]track, len(d.columns))
	for e, line := range d.links {
		if line.back {
			from, to := d.nodes[line.path[0]].column, d.nodes[line.path[1]].column-1
			d.tracks[from] = append(d.tracks[from], track{e, 0, -1e6 - d.across(e, 0)})
			d.tracks[to] = append(d.tracks[to], track{e, 1, 1e6 + d.across(e, 1)})
			continue
		}
		for part := range line.path[:len(line.path)-1] {
			from, to := d.across(e, part), d.across(e, part+1)
			row := d.nodes[line.path[part]].column
			switch {
			case to > from+0.5:
				d.tracks[row] = append(d.tracks[row], track{e, part, -from})
			case to < from-0.5:
				d.tracks[row] = append(d.tracks[row], track{e, part, from})
			}
		}
	}
	for _, row := range d.tracks {
		slices.SortStableFunc(row, func(a, b track) int {
			if a.key < b.key {
				return -1
			}
			return 1
		})
	}
}

// wordsHigh is the room for the words of streams below a row.
func (d *drawing) wordsHigh(row int) float64 {
	lines := 0
	for _, line := range d.links {
		if d.nodes[line.path[0]].column == row {
			lines = max(lines, len(d.lines(line.flow)))
		}
	}
	return lineOfText * float64(lines)
}

// below is the room below the boxes of a row.
func (d *drawing) below(row int) float64 {
	if row == len(d.columns)-1 && len(d.tracks[row]) == 0 {
		return 0
	}
	return d.wordsHigh(row) + 16 + trackStep*float64(len(d.tracks[row]))
}

func (d *drawing) putRows() {
	d.top, d.high = make([]float64, len(d.columns)), make([]float64, len(d.columns))
	y := 2.0
	for c, column := range d.columns {
		d.high[c] = endHigh
		for _, k := range column {
			if d.nodes[k].kind != productNode && d.nodes[k].kind != passing {
				d.high[c] = boxHigh
			}
		}
		d.top[c] = y
		y += d.high[c] + d.below(c)
	}
}

// trackAt is where the level part of a link runs.
func (d *drawing) trackAt(row, e, part int) float64 {
	at := slices.IndexFunc(d.tracks[row], func(t track) bool { return t.link == e && t.part == part })
	return d.top[row] + d.high[row] + d.wordsHigh(row) + 5 + trackStep*float64(at)
}

func (d *drawing) drawLink(e int) {
	line := d.links[e]
	stroke := plot.Stroke{Colour: plot.Ink, Width: 1}
	first, last := d.nodes[line.path[0]], d.nodes[line.path[len(line.path)-1]]
	start := plot.Point{X: d.across(e, 0), Y: d.top[first.column] + d.high[first.column]}
	end := plot.Point{X: d.across(e, len(line.path)-1), Y: d.top[last.column]}
	points := []plot.Point{start}
	level := func(y, from, to float64) {
		points = append(points, plot.Point{X: from, Y: y}, plot.Point{X: to, Y: y})
	}
	if line.back {
		stroke.Colour = plot.Colour(3)
		level(d.trackAt(first.column, e, 0), start.X, d.lanes[e])
		level(d.trackAt(last.column-1, e, 1), d.lanes[e], end.X)
	} else {
		for part := range line.path[:len(line.path)-1] {
			if from, to := d.across(e, part), d.across(e, part+1); math.Abs(from-to) > 0.5 {
				level(d.trackAt(d.nodes[line.path[part]].column, e, part), from, to)
			}
		}
	}
	d.sketch.Arrow(stroke, append(points, end)...)
	letters := lineLetters
	letters.Colour = stroke.Colour
	for k, words := range d.lines(line.flow) {
		d.sketch.Text(plot.Point{X: start.X + 4, Y: start.Y + 6 + lineOfText*float64(k)}, words, letters)
	}
}

func (d *drawing) drawNode(k int) {
	n := d.nodes[k]
	if n.kind == passing {
		return
	}
	colour := []int{2, 0, 1}[n.kind]
	high := d.high[n.column]
	if n.kind == productNode {
		high = endHigh
	}
	a, b := plot.Point{X: n.y - n.height/2, Y: d.top[n.column]}, plot.Point{X: n.y + n.height/2, Y: d.top[n.column] + high}
	strength := 0.12
	if n.kind == productNode {
		strength = 0.35
	}
	d.sketch.Box(plot.Tint(plot.Colour(colour), strength), plot.Stroke{Colour: plot.Colour(colour), Width: 1.2}, a, b)
	if n.kind != productNode { // the stream that ends there says what it is
		d.sketch.Text(plot.Point{X: n.y, Y: d.top[n.column] + high/2}, d.f.title(n), nameLetters)
	}
}
