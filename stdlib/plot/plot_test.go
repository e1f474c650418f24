package plot

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"cobber/stdlib/quantity"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the pictures in testdata anew")

func of(unit string, values ...float64) []quantity.Quantity {
	quantities := make([]quantity.Quantity, len(values))
	for i, x := range values {
		quantities[i] = quantity.Of(x, unit)
	}
	return quantities
}

func drawn(t *testing.T, axes Axes, marks ...Mark) *Figure {
	t.Helper()
	f, err := Draw(axes, marks...)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// figures are the pictures kept in testdata, which a person has looked at.
func figures(t *testing.T) map[string]*Figure {
	sizes := of("µm", 500, 355, 250, 180, 125, 90, 63)
	return map[string]*Figure{
		"passing": drawn(t, Axes{Title: "Two invented sands", X: Axis{Name: "sieve opening", Log: true}, Y: Axis{Name: "passing"}},
			Line{Name: "one", Marked: true, X: sizes, Y: of("%", 100, 98, 86.6, 56.4, 20.5, 4.8, 0.9)},
			Line{Name: "other", Marked: true, X: sizes, Y: of("%", 98.6, 89.8, 65, 33.1, 12.5, 5, 1.9)}),
		"gap": drawn(t, Axes{X: Axis{Name: "time"}, Y: Axis{Name: "power", Zero: true}},
			Line{X: of("min", 0, 1, 2, 3, 4, 5), Y: of("kW", 110, 112, math.NaN(), 118, 117, 121)}),
		"crowded": drawn(t, Axes{
			Title: "A title that is a good deal longer than the picture is wide and so has to be broken into two lines or three",
			X:     Axis{Name: "a name that goes on and on until there is no room left for it along the axis and somewhat further", Log: true},
			Y:     Axis{Name: "another name that goes on and on, up the side of the picture and beyond", Log: true}},
			Points{Name: strings.Repeat("long ", 40), X: of("mm", 1e-3, 1e3), Y: of("t/h", 1e-5, 2e6)},
			Line{Name: "two", X: of("mm", 1e-3, 1e3), Y: of("t/h", 1e-4, 2e5)},
			Line{Name: "three", X: of("mm", 1e-3, 1e3), Y: of("t/h", 1e-3, 2e4)},
			Line{Name: "four", X: of("mm", 1e-3, 1e3), Y: of("t/h", 1e-2, 2e3)},
			Line{Name: "five", X: of("mm", 1e-3, 1e3), Y: of("t/h", 1e-1, 2e2)},
			Line{Name: "six", X: of("mm", 1e-3, 1e3), Y: of("t/h", 1, 20)},
			Line{Name: "seven", Marked: true, X: of("mm", 1e-3, 1e3), Y: of("t/h", 10, 2)}),
		"numbers": drawn(t, Axes{X: Axis{Name: "balance number"}, Y: Axis{Name: "closure"}},
			Points{X: Numbers(1, 2, 3, 4), Y: Numbers(-0.002, 0.001, 0, 0.0005)}),
	}
}

func TestPictures(t *testing.T) {
	for name, figure := range figures(t) {
		path := filepath.Join("testdata", name+".svg")
		got := figure.SVG()
		if *update {
			if err := os.WriteFile(path, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(string(want), string(got)); diff != "" {
			t.Errorf("%s differs from testdata (-want +got; look at it and run with -update):\n%s", name, diff)
		}
	}
}

func TestSameDataSameBytes(t *testing.T) {
	first, second := figures(t)["passing"], figures(t)["passing"]
	if !bytes.Equal(first.SVG(), second.SVG()) || !bytes.Equal(first.SVG(), first.SVG()) {
		t.Error("SVG differs from one drawing to the next")
	}
	if !bytes.Equal(first.PNG(), second.PNG()) {
		t.Error("PNG differs from one drawing to the next")
	}
	if !bytes.Equal(first.PDF(), second.PDF()) {
		t.Error("PDF differs from one drawing to the next")
	}
	if bytes.Equal(first.SVG()[:40], figures(t)["gap"].SVG()[:40]) {
		t.Error("two figures share an id")
	}
}

func TestSVGIsWellFormedAndStandsAlone(t *testing.T) {
	for name, figure := range figures(t) {
		svg := figure.SVG()
		decoder := xml.NewDecoder(bytes.NewReader(svg))
		for {
			_, err := decoder.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
		}
		for _, outside := range []string{"<style", "<script", "href=\"http", "url(", "<image"} {
			if bytes.Contains(svg, []byte(outside)) {
				t.Errorf("%s: the picture holds %s", name, outside)
			}
		}
		if bytes.Count(svg, []byte("<text")) != bytes.Count(svg, []byte("Arial,Helvetica,sans-serif")) {
			t.Errorf("%s: a text lacks the fonts to fall back on", name)
		}
	}
}

// Nothing may be cut off: the outermost pixels all show the ground, also with
// titles and names far too long.
func TestNothingTouchesTheEdge(t *testing.T) {
	for name, figure := range figures(t) {
		picture, err := png.Decode(bytes.NewReader(figure.PNG()))
		if err != nil {
			t.Fatal(err)
		}
		bounds := picture.Bounds()
		if wantX, wantY := int(math.Round(width.Dots(resolution))), int(math.Round(height.Dots(resolution))); bounds.Dx() != wantX || bounds.Dy() != wantY {
			t.Errorf("%s: %v, want %d by %d pixels", name, bounds, wantX, wantY)
		}
		if at, found := inkInFrame(picture, 4); found {
			t.Errorf("%s: something is drawn at the edge, at %v", name, at)
		}
	}
}

func inkInFrame(picture image.Image, frame int) (image.Point, bool) {
	inner := picture.Bounds().Inset(frame)
	for y := picture.Bounds().Min.Y; y < picture.Bounds().Max.Y; y++ {
		for x := picture.Bounds().Min.X; x < picture.Bounds().Max.X; x++ {
			at := image.Pt(x, y)
			if !at.In(inner) && color.RGBAModel.Convert(picture.At(x, y)) != color.Color(ground) {
				return at, true
			}
		}
	}
	return image.Point{}, false
}

// A missing value interrupts the line: two strokes of the line's width.
func TestMissingValueInterruptsTheLine(t *testing.T) {
	svg := string(figures(t)["gap"].SVG())
	if n := strings.Count(svg, "stroke-width:1.4"); n != 2 {
		t.Errorf("the line has %d strokes, want 2", n)
	}
}

func TestAxesCarryNameAndUnit(t *testing.T) {
	svg := string(figures(t)["passing"].SVG())
	for _, text := range []string{">sieve opening (µm)<", ">passing (%)<", ">one<", ">other<", ">Two invented sands<", ">100<"} {
		if !strings.Contains(svg, text) {
			t.Errorf("the picture lacks %s", text)
		}
	}
}

func TestUnitOfTheAxisIsKept(t *testing.T) {
	f := drawn(t, Axes{X: Axis{Name: "size", Unit: "mm"}, Y: Axis{Name: "passing"}},
		Line{X: of("µm", 500, 2000), Y: of("%", 10, 90)}, Line{X: of("in", 1), Y: Numbers(0.95)})
	marks := f.content.(*axesFigure).marks
	if p := marks[0].(*series).points[0]; p.x != 0.5 {
		t.Errorf("500 µm stands at %v mm", p.x)
	}
	if p := marks[1].(*series).points[0]; math.Abs(p.x-25.4) > 1e-12 || math.Abs(p.y-95) > 1e-12 {
		t.Errorf("1 in and 0.95 stand at %v mm and %v %%", p.x, p.y)
	}
}

func TestDrawRefuses(t *testing.T) {
	tests := []struct {
		name  string
		axes  Axes
		marks []Mark
		want  string
	}{
		{"nothing", Axes{}, nil, "no value"},
		{"only missing values", Axes{}, []Mark{Points{X: Numbers(math.NaN()), Y: Numbers(1)}}, "no value"},
		{"unlike numbers", Axes{}, []Mark{Line{Name: "a", X: Numbers(1, 2), Y: Numbers(1)}}, "mark 1 (a): 2 values of X and 1 of Y"},
		{"unlike dimensions", Axes{X: Axis{Name: "size"}}, []Mark{Line{X: of("mm", 1), Y: Numbers(1)}, Line{X: of("kg", 1), Y: Numbers(1)}},
			`mark 2, X of value 1: 1 kg cannot be shown in mm, the unit of axis "size"`},
		{"0 on a logarithmic axis", Axes{X: Axis{Log: true}}, []Mark{Line{X: of("mm", 1, 0), Y: Numbers(1, 1)}}, "X of value 2: 0 mm has no place on a logarithmic axis"},
		{"infinity", Axes{}, []Mark{Line{X: Numbers(math.Inf(1)), Y: Numbers(1)}}, "cannot be drawn"},
		{"a unit that does not exist", Axes{Y: Axis{Name: "flow", Unit: "tph!"}}, []Mark{Line{X: Numbers(1), Y: Numbers(1)}}, `axis "flow"`},
	}
	for _, test := range tests {
		_, err := Draw(test.axes, test.marks...)
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: error %v, want one with %q", test.name, err, test.want)
		}
	}
}

func TestFigureInWords(t *testing.T) {
	got := figures(t)["passing"].String()
	want := `plot "Two invented sands": passing (%) against sieve opening (µm); one: 7 values, other: 7 values`
	if got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func BenchmarkSVG(b *testing.B) {
	f, err := Draw(Axes{}, Line{Marked: true, X: of("mm", 1, 2, 4, 8), Y: of("%", 10, 40, 70, 100)})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		f.SVG()
	}
}

func BenchmarkPNG(b *testing.B) {
	f, err := Draw(Axes{}, Line{Marked: true, X: of("mm", 1, 2, 4, 8), Y: of("%", 10, 40, 70, 100)})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		f.PNG()
	}
}
