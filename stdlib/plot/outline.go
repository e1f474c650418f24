package plot

import (
	"image"
	"image/draw"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// outlined draws the letters of texts as shapes. The canvas of PDF below it
// knows only the 256 letters of one Western code page, in which neither Δ nor
// the ₂ of TiO₂ stands, and would carry whole typefaces.
type outlined struct{ vg.CanvasSizer }

// detail is the size that letters are taken apart at, in units of an em: their
// shapes are exact to 1/64 of a unit.
const detail = 1000

// FillString implements vg.Canvas.
func (c outlined) FillString(face font.Face, at vg.Point, text string) {
	var buffer sfnt.Buffer
	scale := face.Font.Size / detail
	x := at.X
	for _, letter := range text {
		index, err := face.Face.GlyphIndex(&buffer, letter)
		if err != nil {
			continue // a typeface that cannot be read: its box is drawn for no letter
		}
		if shape, err := face.Face.LoadGlyph(&buffer, index, fixed.I(detail), nil); err == nil && len(shape) > 0 {
			c.Fill(outline(shape, vg.Point{X: x, Y: at.Y}, scale))
		}
		if step, err := face.Face.GlyphAdvance(&buffer, index, fixed.I(detail), 0); err == nil {
			x += length(step) * scale
		}
	}
}

// DrawImage implements vg.Canvas. The canvas below it sets images upside down:
// its ground points upwards, and the library it writes with counts downwards.
func (c outlined) DrawImage(to vg.Rectangle, picture image.Image) {
	bounds := picture.Bounds()
	turned := image.NewRGBA(bounds)
	for y := range bounds.Dy() {
		row := image.Rect(bounds.Min.X, bounds.Max.Y-1-y, bounds.Max.X, bounds.Max.Y-y)
		draw.Draw(turned, row, picture, image.Pt(bounds.Min.X, bounds.Min.Y+y), draw.Src)
	}
	c.CanvasSizer.DrawImage(to, turned)
}

// outline is the shape of a letter in the place where it stands. Letters are
// described with y downwards.
func outline(shape sfnt.Segments, at vg.Point, scale vg.Length) vg.Path {
	place := func(p fixed.Point26_6) vg.Point {
		return vg.Point{X: at.X + length(p.X)*scale, Y: at.Y - length(p.Y)*scale}
	}
	var path vg.Path
	for _, part := range shape {
		switch part.Op {
		case sfnt.SegmentOpMoveTo:
			if len(path) > 0 {
				path.Close()
			}
			path.Move(place(part.Args[0]))
		case sfnt.SegmentOpLineTo:
			path.Line(place(part.Args[0]))
		case sfnt.SegmentOpQuadTo:
			path.QuadTo(place(part.Args[0]), place(part.Args[1]))
		case sfnt.SegmentOpCubeTo:
			path.CubeTo(place(part.Args[0]), place(part.Args[1]), place(part.Args[2]))
		}
	}
	path.Close()
	return path
}

func length(x fixed.Int26_6) vg.Length { return vg.Length(x) / 64 }
