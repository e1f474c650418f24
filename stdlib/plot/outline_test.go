package plot

import (
	"bytes"
	"math"
	"testing"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"
)

// filled is a canvas that keeps the paths that are filled.
type filled struct {
	recorder.Canvas
	paths []vg.Path
}

func (c *filled) Fill(p vg.Path)               { c.paths = append(c.paths, p) }
func (c *filled) Size() (vg.Length, vg.Length) { return width, height }

// A text of shapes takes the room that gonum/plot measured for it, and every
// letter of the trade has a shape.
func TestTextsAsShapes(t *testing.T) {
	style := textStyle(labelSize)
	face := font.DefaultCache.Lookup(style.Font, style.Font.Size)
	for _, text := range []string{"sieve opening (µm)", "ΔTiO₂, m³/h, °C", "passing (%)"} {
		var c filled
		outlined{&c}.FillString(face, vg.Point{X: 10, Y: 20}, text)
		letters := 0
		for _, r := range text {
			if r != ' ' {
				letters++
			}
		}
		if len(c.paths) != letters {
			t.Errorf("%s: %d shapes for %d letters", text, len(c.paths), letters)
		}
		right := vg.Length(0)
		for _, path := range c.paths {
			for _, part := range path {
				right = max(right, part.Pos.X)
			}
		}
		end := 10 + face.Width(text)
		if float64(end-right) < -0.5 || float64(end-right) > 2 {
			t.Errorf("%s: the last shape ends at %v, the text at %v", text, right, end)
		}
	}
}

// The document must carry no typeface, nor look for one.
func TestPDFStandsAlone(t *testing.T) {
	for name, figure := range figures(t) {
		document := figure.PDF()
		if !bytes.HasPrefix(document, []byte("%PDF-1.")) || !bytes.HasSuffix(bytes.TrimSpace(document), []byte("%%EOF")) {
			t.Errorf("%s: no whole PDF document", name)
		}
		if bytes.Contains(document, []byte("/BaseFont")) {
			t.Errorf("%s: the document needs a typeface", name)
		}
	}
}

func TestPNGSaysItsSize(t *testing.T) {
	picture := figures(t)["gap"].PNG()
	at := bytes.Index(picture, []byte("pHYs"))
	if at < 0 {
		t.Fatal("there is no pHYs chunk")
	}
	perMetre := float64(uint32(picture[at+4])<<24 | uint32(picture[at+5])<<16 | uint32(picture[at+6])<<8 | uint32(picture[at+7]))
	if got := perMetre * 0.0254; math.Abs(got-resolution) > 0.01 {
		t.Errorf("the picture says %v dots per inch, want %d", got, resolution)
	}
}
