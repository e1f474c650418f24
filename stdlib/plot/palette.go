package plot

import (
	"image/color"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// palette is the order in which series take their colours. The colours differ
// in lightness as well as in hue, so that they stay apart for colour-blind
// readers and in a grey print; palette_test.go holds them to it.
var palette = []color.RGBA{
	{R: 0x12, G: 0x3b, B: 0x7a, A: 0xff}, // deep blue
	{R: 0xe0, G: 0x7b, B: 0x00, A: 0xff}, // amber
	{R: 0x2f, G: 0x9e, B: 0x8f, A: 0xff}, // sea green
	{R: 0xa3, G: 0x12, B: 0x4f, A: 0xff}, // garnet
	{R: 0x6f, G: 0xa8, B: 0xe8, A: 0xff}, // sky
	{R: 0x5a, G: 0x5a, B: 0x5a, A: 0xff}, // slate
}

var (
	ink    = color.RGBA{R: 0x22, G: 0x22, B: 0x22, A: 0xff}
	faint  = color.RGBA{R: 0xdd, G: 0xdd, B: 0xdd, A: 0xff}
	ground = color.RGBA{R: 0xff, G: 0xff, B: 0xff, A: 0xff}
)

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
