package plot

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"cobber/stdlib/quantity"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
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
}

func newFigure(c content, wide, high vg.Length) *Figure {
	return &Figure{content: c, wide: wide, high: high}
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
// Errors: a quantity that is no length; a side below 1 inch or above 60 inches.
func (f *Figure) Size(wide, high quantity.Quantity) (*Figure, error) {
	other := *f
	for side, to := range map[*quantity.Quantity]*vg.Length{&wide: &other.wide, &high: &other.high} {
		inches, err := side.Value("in")
		if err != nil {
			return nil, fmt.Errorf("plot: %v is no size of a picture: %w", *side, err)
		}
		*to = vg.Length(inches) * vg.Inch
		if !(*to >= leastSide && *to <= mostSide) {
			return nil, fmt.Errorf("plot: a picture cannot have a side of %v; give one from %v in to %v in",
				*side, float64(leastSide/vg.Inch), float64(mostSide/vg.Inch))
		}
	}
	return &other, nil
}

// errNothing is the error of a figure without a value.
var errNothing = errors.New("plot: there is no value to draw")

func isNumber(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
