package plot

import (
	"bytes"
	"image/png"
	"math"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

func sketch(t *testing.T) *Figure {
	t.Helper()
	s := NewSketch(200, 100)
	s.Box(Tint(Colour(2), 0.25), Stroke{Colour: Ink, Width: 1}, Point{10, 10}, Point{80, 50})
	s.Text(Point{45, 30}, "mill", Letters{Place: Centre})
	s.Arrow(Stroke{Colour: Colour(0), Width: 2}, Curve(Point{80, 30}, Point{110, 30}, Point{110, 80}, Point{140, 80})...)
	s.Circle(Quiet, Stroke{Colour: Ink, Width: 1, Dashes: []float64{3, 2}}, Point{160, 80}, 18)
	s.Text(Point{195, 50}, "to the right", Letters{Upward: true, Place: Centre, Bold: true})
	f, err := s.Figure("a mill feeds a screen")
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestSketch(t *testing.T) {
	f := sketch(t)
	if f.String() != "a mill feeds a screen" {
		t.Errorf("in words: %s", f)
	}
	svg := string(f.SVG())
	for _, part := range []string{">mill<", ">to the right<", "<title", "a mill feeds a screen"} {
		if !strings.Contains(svg, part) {
			t.Errorf("the picture lacks %s", part)
		}
	}
	if !bytes.Equal(f.PNG(), sketch(t).PNG()) || !bytes.Equal(f.SVG(), sketch(t).SVG()) {
		t.Error("the same sketch gives other bytes")
	}
}

// A sketch twice as large has twice the picture, with nothing at its edge.
func TestSketchKeepsProportions(t *testing.T) {
	large, err := sketch(t).Size(quantity.Of(6, "in"), quantity.Of(152.4, "mm"))
	if err != nil {
		t.Fatal(err)
	}
	picture, err := png.Decode(bytes.NewReader(large.PNG()))
	if err != nil {
		t.Fatal(err)
	}
	if size := picture.Bounds(); size.Dx() != 6*resolution || size.Dy() != 6*resolution {
		t.Errorf("6 in by 152.4 mm are %v pixels", size)
	}
	if at, found := inkInFrame(picture, 4); found {
		t.Errorf("something is drawn at the edge, at %v", at)
	}
}

func TestSketchRefuses(t *testing.T) {
	if _, err := NewSketch(10, 10).Figure("nothing"); err == nil {
		t.Error("an empty sketch is a figure")
	}
	if _, err := NewSketch(10, 10).Figure(""); err == nil || !strings.Contains(err.Error(), "words") {
		t.Errorf("a sketch without words: %v", err)
	}
	for _, bad := range []quantity.Quantity{quantity.Of(1, "kg"), quantity.Of(1, "mm"), quantity.Of(9, "m"), quantity.Of(math.NaN(), "mm")} {
		if _, err := sketch(t).Size(bad, quantity.Of(3, "in")); err == nil {
			t.Errorf("a picture %v wide is drawn", bad)
		}
	}
}

// The ends and the middle of a cubic Bézier curve: B(1/2) = (P0+3P1+3P2+P3)/8.
func TestCurve(t *testing.T) {
	points := Curve(Point{0, 0}, Point{8, 0}, Point{8, 16}, Point{0, 16})
	if points[0] != (Point{0, 0}) || points[len(points)-1] != (Point{0, 16}) || points[len(points)/2] != (Point{6, 8}) {
		t.Errorf("points %v", points)
	}
}

func TestFitAndTextWidth(t *testing.T) {
	full := TextWidth("cleaner concentrate", Letters{})
	if full <= 0 || TextWidth("cleaner concentrate", Letters{Size: 18}) < 1.9*full {
		t.Errorf("widths %v and %v", full, TextWidth("cleaner concentrate", Letters{Size: 18}))
	}
	if Fit("cleaner", 500, Letters{}) != "cleaner" || !strings.HasSuffix(Fit("cleaner concentrate", full/2, Letters{}), "…") {
		t.Error("Fit does not cut where it should")
	}
	if TextWidth(Fit("cleaner concentrate", full/2, Letters{}), Letters{}) > full/2 {
		t.Error("a text cut to a width is wider")
	}
	if Tint(Colour(0), 0) != Ground || Tint(Colour(7), 1) != Colour(1) || Colour(-1) != Colour(5) {
		t.Error("tints or colours are not what they say")
	}
}
