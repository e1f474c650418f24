package plot

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"cobber/stdlib/quantity"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"
)

// Measures of a picture unless Size says otherwise. It fits the text column of
// a page at full size.
const (
	width  = 6.2 * vg.Inch
	height = 4 * vg.Inch
	margin = 8 * vg.Length(1)
)

// A picture may be as small as a thumbnail in a margin and as large as a poster.
const (
	leastSide = 1 * vg.Inch
	mostSide  = 60 * vg.Inch
)

// Figure is a drawn figure. Its methods SVG, PNG and PDF are the picture, and
// String says in words what it shows.
type Figure struct {
	content    content
	wide, high vg.Length
	words      string // given by Alt
}

// content is what stands in a figure: axes with marks, panels or a sketch.
type content interface {
	draw(c draw.Canvas)
	describe() string
	roomy(c draw.Canvas) bool // whether the canvas has the room for what is to be read from it
}

// leastAxes is what axes keep in each direction beside title, key and their own
// names.
const leastAxes = 0.5 * vg.Inch

// roomy reports whether the figure can be drawn on a picture with these sides.
func (f *Figure) roomy(wide, high vg.Length) bool {
	c := draw.NewCanvas(&recorder.Canvas{}, wide, high)
	return f.content.roomy(draw.Crop(c, margin, -margin, margin, -margin))
}

// grown is the figure, larger where it has not the room for what it shows.
func (f *Figure) grown() *Figure {
	for !f.roomy(f.wide, f.high) && max(f.wide, f.high) < mostSide {
		if f.roomy(f.wide, mostSide) {
			f.high = min(f.high*1.1, mostSide)
		} else {
			f.wide = min(f.wide*1.1, mostSide)
		}
	}
	return f
}

func newFigure(c content, wide, high vg.Length) *Figure {
	return (&Figure{content: c, wide: wide, high: high}).grown()
}

// draw puts the figure on a canvas, on its own ground.
func (f *Figure) draw(canvas vg.CanvasSizer) {
	c := draw.New(canvas)
	c.SetColor(ground)
	c.Fill(c.Rectangle.Path())
	f.content.draw(draw.Crop(c, margin, -margin, margin, -margin))
}

// String says in words what the figure shows: the text given by Alt, or else
// one made of the titles, the axes and the series. Readers who cannot see the
// picture are told it.
func (f *Figure) String() string {
	if f.words != "" {
		return f.words
	}
	return f.content.describe()
}

// Alt is the figure with a text for readers who cannot see the picture, in place
// of the one made of its axes. Say what the picture shows, not how it looks.
func (f *Figure) Alt(text string) *Figure {
	other := *f
	other.words = strings.TrimSpace(text)
	return &other
}

// Size is the figure drawn at another size, given as lengths, for a column of
// print or a slide: letters and lines keep their size, the axes get the rest.
//
// Errors: a quantity that is no length; a side below 1 inch or above 60 inches; a
// picture in which title, key and names leave the axes no room.
func (f *Figure) Size(wide, high quantity.Quantity) (*Figure, error) {
	other := *f
	var err error
	if other.wide, err = side(wide); err != nil {
		return nil, err
	}
	if other.high, err = side(high); err != nil {
		return nil, err
	}
	if !other.roomy(other.wide, other.high) {
		return nil, fmt.Errorf("plot: in a picture of %v by %v, title, key and names leave the axes no room; "+
			"make it larger, or shorten its texts", wide, high)
	}
	return &other, nil
}

// side is one side of a picture.
func side(given quantity.Quantity) (vg.Length, error) {
	inches, err := given.Value("in")
	if err != nil {
		return 0, fmt.Errorf("plot: %v is no size of a picture: %w", given, err)
	}
	to := vg.Length(inches) * vg.Inch
	if !(to >= leastSide && to <= mostSide) {
		return 0, fmt.Errorf("plot: a picture cannot have a side of %v; give one from %v in to %v in",
			given, float64(leastSide/vg.Inch), float64(mostSide/vg.Inch))
	}
	return to, nil
}

// errNothing is the error of a figure without a value.
var errNothing = errors.New("plot: there is no value to draw")

func isNumber(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
