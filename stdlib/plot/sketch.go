package plot

import (
	"errors"
	"image/color"
	"math"
	"slices"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Point is a place in a Sketch, in points (1/72 inch) from its left edge and
// downwards from its top.
type Point struct{ X, Y float64 }

// Stroke is how a line of a Sketch looks. The zero Stroke draws nothing.
type Stroke struct {
	Colour color.RGBA
	Width  float64   // in points
	Dashes []float64 // lengths of dashes and gaps in points; none for a whole line
}

// Place says which part of a text stands at the point given.
type Place int

// Places of texts, across.
const (
	Left Place = iota
	Centre
	Right
)

// Letters is how a text of a Sketch looks. Zero values stand for ink, 9 points,
// an upright text that begins at its point.
type Letters struct {
	Size   float64 // in points
	Colour color.RGBA
	Bold   bool
	Place  Place
	Upward bool // the text runs from below upwards
}

// Sketch is a picture of shapes and texts that its maker places, for drawings
// that stand on no axes. Shapes drawn later lie above earlier ones. Make one
// with NewSketch, draw on it, and take its Figure.
type Sketch struct {
	wide, high float64
	shapes     []func(c sketchCanvas)
}

// NewSketch is an empty sketch of so many points in width and height. Its
// margin is added around it.
func NewSketch(wide, high float64) *Sketch { return &Sketch{wide: wide, high: high} }

// Line draws a line through points.
func (s *Sketch) Line(stroke Stroke, points ...Point) {
	if stroke.Width <= 0 || len(points) < 2 {
		return
	}
	points = slices.Clone(points)
	s.add(func(c sketchCanvas) { c.StrokeLines(stroke.style(c.scale), c.placed(points)) })
}

// Arrow draws a line through points with a head at the last of them.
func (s *Sketch) Arrow(stroke Stroke, points ...Point) {
	n := len(points)
	if stroke.Width <= 0 || n < 2 {
		return
	}
	tip, before := points[n-1], points[n-2]
	length := math.Hypot(tip.X-before.X, tip.Y-before.Y)
	if length == 0 {
		return
	}
	x, y := (tip.X-before.X)/length, (tip.Y-before.Y)/length
	head := min(length, 4+2.5*stroke.Width)
	base := Point{tip.X - x*head, tip.Y - y*head}
	half := head * 0.45
	s.Line(stroke, append(slices.Clone(points[:n-1]), base)...)
	s.Area(stroke.Colour, Stroke{}, tip, Point{base.X - y*half, base.Y + x*half}, Point{base.X + y*half, base.Y - x*half})
}

// Area fills the shape whose corners are points, and draws its outline.
func (s *Sketch) Area(fill color.RGBA, outline Stroke, points ...Point) {
	if len(points) < 3 {
		return
	}
	points = slices.Clone(points)
	s.add(func(c sketchCanvas) { c.FillPolygon(fill, c.placed(points)) })
	s.Line(outline, append(points, points[0])...)
}

// Box fills the upright rectangle between two opposite corners.
func (s *Sketch) Box(fill color.RGBA, outline Stroke, a, b Point) {
	s.Area(fill, outline, a, Point{b.X, a.Y}, b, Point{a.X, b.Y})
}

// Circle fills a circle.
func (s *Sketch) Circle(fill color.RGBA, outline Stroke, centre Point, radius float64) {
	const corners = 48
	points := make([]Point, corners)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		points[i] = Point{centre.X + radius*cos, centre.Y + radius*sin}
	}
	s.Area(fill, outline, points...)
}

// Text writes a text in one line whose middle, from top to bottom, is at a
// point.
func (s *Sketch) Text(at Point, words string, letters Letters) {
	s.add(func(c sketchCanvas) {
		style := letters.style(c.scale)
		style.YAlign = draw.YCenter
		style.XAlign = []text.XAlignment{draw.XLeft, draw.XCenter, draw.XRight}[min(max(letters.Place, Left), Right)]
		if letters.Upward {
			style.Rotation = math.Pi / 2
		}
		c.FillText(style, c.placed([]Point{at})[0], words)
	})
}

// Curve is points along a curve that leaves from towards a and arrives at to
// coming from b (a cubic Bézier curve), for Line, Arrow and Area.
func Curve(from, a, b, to Point) []Point {
	const steps = 32
	points := make([]Point, steps+1)
	for i := range points {
		t := float64(i) / steps
		u := 1 - t
		points[i] = Point{
			u*u*u*from.X + 3*u*u*t*a.X + 3*u*t*t*b.X + t*t*t*to.X,
			u*u*u*from.Y + 3*u*u*t*a.Y + 3*u*t*t*b.Y + t*t*t*to.Y,
		}
	}
	return points
}

// TextWidth is the width of a text in points, so that room can be kept for it.
func TextWidth(words string, letters Letters) float64 {
	return letters.style(1).Width(words).Points()
}

// Fit is a text cut with an ellipsis to a width in points.
func Fit(words string, wide float64, letters Letters) string {
	return cut(letters.style(1), words, vg.Points(wide))
}

// Figure is the sketch as a figure. The words tell readers who cannot see the
// picture what it shows. What is drawn afterwards is not in it.
//
// Errors: no words; a sketch without width, height or shapes.
func (s *Sketch) Figure(words string) (*Figure, error) {
	switch {
	case words == "":
		return nil, errors.New("plot: a sketch needs words that say what it shows")
	case !(s.wide > 0 && s.high > 0) || len(s.shapes) == 0:
		return nil, errors.New("plot: the sketch is empty")
	}
	drawn := &Sketch{s.wide, s.high, slices.Clone(s.shapes)}
	f := newFigure(sketched{drawn, words}, vg.Points(s.wide)+2*margin, vg.Points(s.high)+2*margin)
	return f, nil
}

type sketched struct {
	*Sketch
	words string
}

func (s sketched) describe() string { return s.words }

func (s sketched) roomy(draw.Canvas) bool { return true }

// draw fits the sketch into the canvas, whatever its size, keeping proportions.
func (s sketched) draw(c draw.Canvas) {
	size := c.Size()
	scale := min(size.X.Points()/s.wide, size.Y.Points()/s.high)
	for _, shape := range s.shapes {
		shape(sketchCanvas{c, scale})
	}
}

// sketchCanvas is a canvas for shapes at some scale. It is not the canvas that
// scales: that would leave the widths of lines in pictures of dots as they are.
type sketchCanvas struct {
	draw.Canvas
	scale float64
}

// placed turns places counted from the top into those of a canvas, which
// counts from below.
func (c sketchCanvas) placed(points []Point) []vg.Point {
	out := make([]vg.Point, len(points))
	for i, p := range points {
		out[i] = vg.Point{X: c.Min.X + vg.Points(p.X*c.scale), Y: c.Max.Y - vg.Points(p.Y*c.scale)}
	}
	return out
}

func (s *Sketch) add(shape func(c sketchCanvas)) { s.shapes = append(s.shapes, shape) }

func (s Stroke) style(scale float64) draw.LineStyle {
	style := draw.LineStyle{Color: s.Colour, Width: vg.Points(s.Width * scale)}
	for _, length := range s.Dashes {
		style.Dashes = append(style.Dashes, vg.Points(length*scale))
	}
	return style
}

func (l Letters) style(scale float64) text.Style {
	size := tickSize
	if l.Size > 0 {
		size = vg.Points(l.Size)
	}
	style := textStyle(size * vg.Length(scale))
	if l.Bold {
		style.Font.Weight = xfont.WeightBold
	}
	if l.Colour != (color.RGBA{}) {
		style.Color = l.Colour
	}
	return style
}
