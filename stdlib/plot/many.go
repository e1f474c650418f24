package plot

import (
	"image"
	"image/color"
	imagedraw "image/draw"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// A line of more values than manyValues is drawn by those that show, and more
// markers than manyMarkers are drawn as one image.
const (
	manyValues  = 2000
	manyMarkers = 3000
)

// column is how wide the strips are, in points, in which a long line keeps only
// what shows. It is a dot of a PNG picture of ours, and a quarter of
// the width of the line.
const column = 0.375

// pieceLength is how many values of a long line are stroked at once. Pictures of
// dots take a time that grows with the square of it where a line goes up and down.
const pieceLength = 12

// pieces cuts a long line into strokes that follow one another. Each begins with
// the last step of the one before, so that every corner is joined.
func pieces(stroke []vg.Point) [][]vg.Point {
	if len(stroke) <= manyValues {
		return [][]vg.Point{stroke}
	}
	var out [][]vg.Point
	for from := 0; from < len(stroke)-1; from += pieceLength {
		out = append(out, stroke[max(0, from-1):min(from+pieceLength+1, len(stroke))])
	}
	return out
}

// thinned is a long line without the values that do not show. Where a few
// successive values share a strip, the first, least, greatest and last are kept;
// of more, the stroke from the least to the greatest, whichever is nearer to
// what came before at its beginning: it covers what all of them cover.
func thinned(stroke []vg.Point) []vg.Point {
	if len(stroke) <= manyValues {
		return stroke
	}
	const few = 4
	out := make([]vg.Point, 0, manyValues)
	for i := 0; i < len(stroke); {
		end, least, greatest := strip(stroke, i)
		keep := []int{i, min(least, greatest), max(least, greatest), end}
		if end-i >= few && len(out) > 0 {
			before := out[len(out)-1].Y
			if stroke[greatest].Y-before < before-stroke[least].Y {
				least, greatest = greatest, least
			}
			keep = []int{least, greatest}
		}
		last := -1
		for _, index := range keep {
			if index != last {
				out = append(out, stroke[index])
			}
			last = index
		}
		i = end + 1
	}
	return out
}

// strip is the last of the values after start that share its strip, and which
// of them are the least and the greatest.
func strip(stroke []vg.Point, start int) (end, least, greatest int) {
	end, least, greatest = start, start, start
	at := math.Floor(float64(stroke[start].X) / column)
	for end+1 < len(stroke) && math.Floor(float64(stroke[end+1].X)/column) == at {
		end++
		if stroke[end].Y < stroke[least].Y {
			least = end
		}
		if stroke[end].Y > stroke[greatest].Y {
			greatest = end
		}
	}
	return end, least, greatest
}

// stamp draws very many markers as one image of 288 dots per inch, each a copy
// of one small picture, a third as large as usual and half transparent, so that
// a cloud shows its shape and where it is dense.
func (s *sheet) stamp(style draw.GlyphStyle, at []vg.Point) {
	const dpi = 288
	style.Radius /= 3
	if c, ok := style.Color.(color.RGBA); ok {
		style.Color = color.NRGBA{R: c.R, G: c.G, B: c.B, A: 0x70}
	}
	die := dieOf(style, dpi)
	half := die.Bounds().Dx() / 2
	size := s.Size()
	wide, high := int(size.X.Dots(dpi))+2*half+1, int(size.Y.Dots(dpi))+2*half+1
	cloud := image.NewRGBA(image.Rect(0, 0, wide, high))
	for _, p := range at {
		dot := image.Pt(half+int(math.Round((p.X-s.Min.X).Dots(dpi))), half+int(math.Round((s.Max.Y-p.Y).Dots(dpi))))
		imagedraw.Draw(cloud, die.Bounds().Add(dot).Sub(image.Pt(half, half)), die, image.Point{}, imagedraw.Over)
	}
	corner := vg.Point{X: s.Min.X - vg.Length(half)*vg.Inch/dpi, Y: s.Max.Y + vg.Length(half)*vg.Inch/dpi - vg.Length(high)*vg.Inch/dpi}
	s.DrawImage(vg.Rectangle{Min: corner, Max: vg.Point{X: corner.X + vg.Length(wide)*vg.Inch/dpi, Y: corner.Y + vg.Length(high)*vg.Inch/dpi}}, cloud)
}

// dieOf is one marker as an image, on a ground that lets all through.
func dieOf(style draw.GlyphStyle, dpi int) image.Image {
	side := 2*int(math.Ceil(style.Radius.Dots(float64(dpi)))) + 3
	length := vg.Length(side) / vg.Length(dpi) * vg.Inch
	canvas := vgimg.NewWith(vgimg.UseWH(length, length), vgimg.UseDPI(dpi), vgimg.UseBackgroundColor(image.Transparent.C))
	c := draw.New(canvas)
	c.DrawGlyphNoClip(style, c.Center())
	return canvas.Image()
}
