package plot

import (
	"image/color"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// palette is the order in which series take their colours. The colours differ
// in lightness as well as in hue, so that they stay apart for colour-blind
// readers, and all stand out from white; palette_test.go holds them to it.
var palette = []color.RGBA{
	{R: 0x16, G: 0x2d, B: 0x71, A: 0xff}, // night blue
	{R: 0xd4, G: 0x7f, B: 0x00, A: 0xff}, // amber
	{R: 0x00, G: 0xa0, B: 0xc1, A: 0xff}, // lagoon
	{R: 0x99, G: 0x00, B: 0x04, A: 0xff}, // garnet
	{R: 0x9f, G: 0x64, B: 0xff, A: 0xff}, // amethyst
	{R: 0x64, G: 0x3c, B: 0x4a, A: 0xff}, // umber
}

var (
	ink    = color.RGBA{R: 0x22, G: 0x22, B: 0x22, A: 0xff}
	faint  = color.RGBA{R: 0xdd, G: 0xdd, B: 0xdd, A: 0xff}
	ground = color.RGBA{R: 0xff, G: 0xff, B: 0xff, A: 0xff}
	soft   = color.RGBA{R: 0x66, G: 0x66, B: 0x66, A: 0xff}

	guideGrey   = color.RGBA{R: 0xa8, G: 0xa8, B: 0xa8, A: 0xff}
	lightGround = color.NRGBA{R: 0xff, G: 0xff, B: 0xff, A: 0xd8}
)

// Colours of what is not a series: letters and axes, faint lines, the ground of
// a picture, and quiet areas such as the body of a machine.
var (
	Ink    = ink
	Faint  = faint
	Ground = ground
	Quiet  = color.RGBA{R: 0xf0, G: 0xf0, B: 0xee, A: 0xff}
)

// Colour is the colour of the series with an index, from 0. After the sixth
// they begin again.
func Colour(index int) color.RGBA { return palette[((index%len(palette))+len(palette))%len(palette)] }

// Tint is a colour mixed with white: strength 1 is the colour, 0 is white. Areas
// below ink are filled with tints of 0.35 or less, so that texts on them can be
// read.
func Tint(colour color.RGBA, strength float64) color.RGBA {
	mix := func(c uint8) uint8 { return uint8(255 - (255-float64(c))*min(1, max(0, strength)) + 0.5) }
	return color.RGBA{R: mix(colour.R), G: mix(colour.G), B: mix(colour.B), A: 0xff}
}

// dashes tell lines apart without their colour. The first is a whole line.
var dashes = [][]vg.Length{
	nil,
	{vg.Points(7), vg.Points(3)},
	{vg.Points(2), vg.Points(2.5)},
	{vg.Points(9), vg.Points(3), vg.Points(2), vg.Points(3)},
	{vg.Points(4), vg.Points(2)},
	{vg.Points(12), vg.Points(4)},
}

var markers = []draw.GlyphDrawer{
	draw.CircleGlyph{}, draw.BoxGlyph{}, draw.PyramidGlyph{}, draw.RingGlyph{}, draw.SquareGlyph{}, draw.TriangleGlyph{},
}

// lineStyle and markerStyle are those of the series with an index. After a turn
// through the colours the dashes and markers move on by one, so that no two of
// the first thirty-six series look alike.
func lineStyle(index int) draw.LineStyle {
	return draw.LineStyle{Color: hue(index), Width: vg.Points(1.4), Dashes: dashes[turn(index)]}
}

func markerStyle(index int) draw.GlyphStyle {
	return draw.GlyphStyle{Color: hue(index), Radius: vg.Points(2.6), Shape: markers[turn(index)]}
}

func hue(index int) color.Color { return palette[index%len(palette)] }

func turn(index int) int { return (index + index/len(palette)) % len(palette) }
