package plot

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"cobber/stdlib/quantity"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// Quantiles of the normal distribution to seven digits: M. Abramowitz, I.A.
// Stegun, Handbook of Mathematical Functions (1964), table 26.5 and its like in
// every book of statistics.
func TestProbabilityScaleIsTheNormalQuantile(t *testing.T) {
	s := scale{kind: Probability, whole: 100}
	for percent, z := range map[float64]float64{50: 0, 84.13447: 1, 90: 1.2815516, 95: 1.6448536, 97.5: 1.9599640, 99: 2.3263479, 99.9: 3.0902323, 2.5: -1.9599640} {
		if got := s.spread(percent); math.Abs(got-z) > 1e-6 {
			t.Errorf("%v %% stands at %v, want %v", percent, got, z)
		}
	}
}

// A Rosin–Rammler distribution P = 1 − exp(−(x/x′)ⁿ) is a straight line of slope
// n against ln x, and 63.2 % passes x′, where the line is at 0.
func TestRosinRammlerScaleMakesTheModelStraight(t *testing.T) {
	const n, size = 1.3, 150.0
	s := scale{kind: RosinRammler, whole: 1}
	for _, x := range []float64{5, 40, 150, 300, 420} {
		passing := 1 - math.Exp(-math.Pow(x/size, n))
		if got, want := s.spread(passing), n*math.Log(x/size); math.Abs(got-want) > 1e-9 {
			t.Errorf("%v: stands at %v, want %v", x, got, want)
		}
	}
	if at := s.spread(1 - 1/math.E); math.Abs(at) > 1e-12 {
		t.Errorf("1 − 1/e stands at %v", at)
	}
}

func TestScalesOfShares(t *testing.T) {
	for _, kind := range []Scale{Probability, RosinRammler} {
		f := drawn(t, Axes{X: Axis{Log: true}, Y: Axis{Scale: kind}}, Line{Marked: true, X: of("µm", 10, 100, 400), Y: of("%", 3, 60, 97)})
		y := f.content.(*axesFigure).y
		if y.low > 3 || y.high < 97 || len(y.ticks) < 8 {
			t.Errorf("%v: from %v to %v with %d ticks", kind, y.low, y.high, len(y.ticks))
		}
		for _, bad := range []quantity.Quantity{quantity.Of(0, "%"), quantity.Of(100, "%"), quantity.Number(1.2)} {
			_, err := Draw(Axes{X: Axis{Log: true}, Y: Axis{Scale: kind, Unit: "%"}}, Points{X: of("µm", 10), Y: []quantity.Quantity{bad}})
			if err == nil || !strings.Contains(err.Error(), "never reaches 0 or 100 %") {
				t.Errorf("%v: %v: error %v", kind, bad, err)
			}
		}
	}
}

// Labels that are kept do not touch, whatever the room, and the first is kept.
func TestLabelsDoNotTouch(t *testing.T) {
	axis := Axis{Scale: Linear, at: []float64{1000, 850, 710, 600, 500, 425, 355, 300, 250, 212, 180, 150}}
	s := newScale(axis, axis.at)
	for _, room := range []vg.Length{60, 150, 300, 900} {
		last, kept := vg.Length(math.Inf(1)), 0
		for _, tick := range s.readable(room, false, false) {
			if tick.IsMinor() {
				continue
			}
			kept++
			middle, half := room*vg.Length(s.Normalize(s.low, s.high, tick.Value)), textStyle(tickSize).Width(tick.Label)/2
			if middle+half > last {
				t.Errorf("in %v points the label %s touches the one before", room, tick.Label)
			}
			last = middle - half
		}
		if kept == 0 || room == 900 && kept < 9 {
			t.Errorf("in %v points %d labels are kept", room, kept)
		}
	}
}

func normal(mean, deviation float64, unit string) quantity.Quantity {
	return quantity.Must(quantity.Normal(quantity.Of(mean, unit), quantity.Of(deviation, unit)))
}

// What is drawn of an uncertain value is its 95 % interval, 1.96 deviations to
// each side of a normal one.
func TestUncertainValuesHaveIntervals(t *testing.T) {
	x, y := of("h", 1, 2), []quantity.Quantity{normal(50, 2, "%"), normal(60, 3, "%")}
	f := drawn(t, Axes{}, Points{X: x, Y: y}, Line{X: x, Y: y})
	p := f.content.(*axesFigure).marks[0].(*series).points[1]
	if !p.wideY || p.wideX || math.Abs(p.lowY-(60-1.96*3)) > 0.3 || math.Abs(p.highY-(60+1.96*3)) > 0.3 {
		t.Errorf("60 ± 3 %% runs from %v to %v", p.lowY, p.highY)
	}
	if low := f.content.(*axesFigure).y.low; low > 46.5 {
		t.Errorf("the axis begins at %v and cuts the interval", low)
	}
	svg := string(f.SVG())
	if !strings.Contains(svg, "bars and shades: 95 % intervals") || strings.Count(svg, "fill-opacity:0.2") != 1 {
		t.Error("the picture lacks the band, or does not say what it is")
	}
	certain := drawn(t, Axes{}, Points{X: x, Y: of("%", 1, 2)})
	if strings.Contains(string(certain.SVG()), "interval") {
		t.Error("certain values are said to have intervals")
	}
}

// An interval that leaves a logarithmic axis runs to the end of the axis.
func TestIntervalsThatLeaveTheScale(t *testing.T) {
	f := drawn(t, Axes{Y: Axis{Log: true}}, Points{X: Numbers(1, 2), Y: []quantity.Quantity{normal(1, 0.8, "t"), quantity.Of(3, "t")}})
	p := f.content.(*axesFigure).marks[0].(*series).points[0]
	if !math.IsNaN(p.lowY) || math.IsNaN(p.highY) {
		t.Errorf("the interval runs from %v to %v", p.lowY, p.highY)
	}
	f.SVG()
}

func TestBarsBandsAndLines(t *testing.T) {
	f := drawn(t, Axes{X: Axis{Names: []string{"feed", "tailing"}}, Y: Axis{Name: "tin"}},
		Bars{Name: "flow", At: Numbers(1, 2), To: of("kg/h", 40, 12), Labels: []string{"40", "12"}},
		Across{Name: "target", Y: quantity.Of(0.03, "t/h")}, Note{X: quantity.Number(2), Y: quantity.Of(12, "kg/h"), Text: "too much"})
	b := f.content.(*axesFigure).marks[0].(*boxes)
	if b.sides[0][1] != 1.65 || b.sides[1][1] != 2.35 || b.sides[2][1] != 0 || b.sides[3][1] != 12 {
		t.Errorf("the bar of the tailing is %v", b.sides)
	}
	svg := string(f.SVG())
	for _, words := range []string{">feed<", ">tailing<", ">tin (kg/h)<", ">40<", ">12<", ">target<", ">too much<", ">flow<"} {
		if !strings.Contains(svg, words) {
			t.Errorf("the picture lacks %s", words)
		}
	}
	if got, want := f.String(), `plot: tin (kg/h); flow: 2 bars, line "target" at 0.03 t/h, note "too much"`; got != want {
		t.Errorf("in words: %s, want %s", got, want)
	}
	band := drawn(t, Axes{}, Band{X: of("s", 0, 1, math.NaN(), 3, 4), Low: of("m", 0, 1, 1, 2, 2), High: of("m", 2, 3, 3, 4, 5)})
	if n := strings.Count(string(band.SVG()), "fill-opacity:0.2"); n != 2 {
		t.Errorf("a band with a gap is drawn in %d parts", n)
	}
}

// A note stands where it hides nothing, if there is such a place.
func TestNotesKeepClearOfData(t *testing.T) {
	var x, y []quantity.Quantity
	for i := range 60 {
		x, y = append(x, quantity.Number(float64(i))), append(y, quantity.Number(float64(i)))
	}
	f := drawn(t, Axes{}, Line{X: x, Y: y}).content.(*axesFigure)
	c := draw.New(vgimg.New(400, 300))
	s := &sheet{c, f.x, f.y}
	points := f.marks[0].obstacles(s)
	n := &note{x: 30, y: 30}
	clear := 0
	for _, choice := range n.choices(s, 60, 12) {
		if s.covers(choice, 60, 12, points, nil) == 0 {
			clear++
		}
	}
	if clear == 0 || clear == len(n.choices(s, 60, 12)) {
		t.Errorf("%d of %d places hide nothing", clear, len(n.choices(s, 60, 12)))
	}
}

func TestMarksRefuse(t *testing.T) {
	one := Numbers(1)
	for want, attempt := range map[string]struct {
		axes  Axes
		marks []Mark
	}{
		"Low, 2, lies above High, 1":             {Axes{}, []Mark{Band{X: one, Low: Numbers(2), High: one}}},
		"1 values of X, 0 of Low":                {Axes{}, []Mark{Band{X: one, High: one}}},
		"1 places, 2 ends":                       {Axes{}, []Mark{Bars{At: one, To: Numbers(1, 2)}}},
		"2 labels for 1 boxes":                   {Axes{}, []Mark{Bars{At: one, To: one, Labels: []string{"a", "b"}}}},
		"on a linear axis only":                  {Axes{Y: Axis{Log: true}}, []Mark{Bars{At: one, To: one}}},
		"its width is 0.7":                       {Axes{}, []Mark{Bars{At: of("mm", 1), To: one}}},
		"logarithmic and probability at once":    {Axes{X: Axis{Log: true, Scale: Probability}}, []Mark{Points{X: one, Y: one}}},
		"holds shares, and kg is none":           {Axes{X: Axis{Scale: Probability}}, []Mark{Points{X: of("kg", 1), Y: one}}},
		"neither a scale nor ticks":              {Axes{X: Axis{Names: []string{"a"}, Log: true}}, []Mark{Points{X: one, Y: one}}},
		"cannot run from 2 to 1":                 {Axes{X: Axis{From: quantity.Number(2), To: quantity.Number(1)}}, []Mark{Points{X: one, Y: one}}},
		"there is no scale 9":                    {Axes{X: Axis{Scale: 9}}, []Mark{Points{X: one, Y: one}}},
		`Y of note "here": 1 kg cannot be shown`: {Axes{}, []Mark{Points{X: one, Y: of("m", 1)}, Note{X: quantity.Number(1), Y: quantity.Of(1, "kg"), Text: "here"}}},
		"there is no value to draw":              {Axes{}, []Mark{Across{Y: quantity.Number(1)}}},
	} {
		_, err := Draw(attempt.axes, attempt.marks...)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one with %q", err, want)
		}
	}
}

// A guide leaves the axes as they are, and is named where it shows.
func TestGuides(t *testing.T) {
	data := Points{X: Numbers(1, 2), Y: Numbers(1, 2)}
	plain := drawn(t, Axes{}, data).content.(*axesFigure)
	f := drawn(t, Axes{}, data, Guide{Name: "twice", X: Numbers(0, 10), Y: Numbers(0, 12)}, Guide{Name: "nowhere", X: Numbers(50, 60), Y: Numbers(0, 1)})
	guided := f.content.(*axesFigure)
	if guided.x.low != plain.x.low || guided.y.high != plain.y.high {
		t.Error("a guide moves the axes")
	}
	svg := string(f.SVG())
	if !strings.Contains(svg, ">twice<") || strings.Contains(svg, ">nowhere<") {
		t.Error("guides are not named where they show, or where they do not")
	}
}

// What lies beyond the given ends is cut off.
func TestEndsOfAxes(t *testing.T) {
	f := drawn(t, Axes{X: Axis{From: quantity.Number(2), To: quantity.Number(4)}}, Line{Marked: true, X: Numbers(0, 1, 2, 3, 4, 5), Y: Numbers(0, 1, 2, 3, 4, 5)})
	if x := f.content.(*axesFigure).x; x.low != 2 || x.high != 4 {
		t.Errorf("the axis runs from %v to %v", x.low, x.high)
	}
	if n := strings.Count(string(f.SVG()), "A2.6,2.6"); n != 2*3 {
		t.Errorf("%d arcs of markers, want those of three", n)
	}
	down := drawn(t, Axes{Y: Axis{Down: true}}, Points{X: Numbers(1, 2), Y: Numbers(1, 2)}).content.(*axesFigure).y
	if down.Normalize(down.low, down.high, down.low) != 1 {
		t.Error("an axis that runs down has its low end below")
	}
}

func cloud(n int) (x, y []quantity.Quantity) {
	random := rand.New(rand.NewPCG(1, 2))
	for range n {
		a := random.NormFloat64()
		x, y = append(x, quantity.Of(a, "mm")), append(y, quantity.Of(random.NormFloat64()+a, "mm"))
	}
	return x, y
}

// A long line drawn by the values that show covers what all of its values cover,
// to a dot, and but for slits between peaks that are no wider than that.
func TestLongLinesLookTheSame(t *testing.T) {
	const n = 8_000 // the reference draws them all, and slowly
	random := rand.New(rand.NewPCG(3, 4))
	stroke := make([]vg.Point, n)
	for i := range stroke {
		stroke[i] = vg.Point{X: 10 + 380*vg.Length(i)/n, Y: vg.Length(150 + 60*math.Sin(float64(i)/720) + 8*random.NormFloat64())}
	}
	few := thinned(stroke)
	if float64(len(few)) > 4*(380/column+2) {
		t.Errorf("%d of %d values are left", len(few), n)
	}
	var dark [2]*image.RGBA
	for i, line := range [][]vg.Point{stroke, few} {
		canvas := vgimg.NewWith(vgimg.UseWH(400, 300), vgimg.UseDPI(resolution))
		c := draw.New(canvas)
		for _, piece := range choose(i == 0, [][]vg.Point{line}, pieces(line)) {
			c.StrokeLines(lineStyle(0), piece)
		}
		dark[i] = canvas.Image().(*image.RGBA)
	}
	isDark := func(picture, x, y int) bool {
		p := image.Pt(x, y)
		return p.In(dark[picture].Rect) && dark[picture].RGBAAt(x, y).R < 128
	}
	// near reports whether a dot of a picture, or one beside it, is as wanted.
	near := func(picture, x, y int, wanted bool) bool {
		for _, dx := range []int{-1, 0, 1} {
			for _, dy := range []int{-1, 0, 1} {
				if isDark(picture, x+dx, y+dy) == wanted {
					return true
				}
			}
		}
		return false
	}
	differ, covered := 0, 0
	for y := range dark[0].Rect.Dy() {
		for x := range dark[0].Rect.Dx() {
			if isDark(0, x, y) {
				covered++
			}
			if !near(1, x, y, isDark(0, x, y)) || !near(0, x, y, isDark(1, x, y)) {
				differ++
			}
		}
	}
	if covered < 3000 || differ > covered/200 {
		t.Errorf("%d of %d dots differ by more than a dot", differ, covered)
	}
}

func TestCloudsAreOneImage(t *testing.T) {
	x, y := cloud(8_000)
	f := drawn(t, Axes{}, Points{Name: "grains", X: x, Y: y})
	svg := f.SVG()
	if bytes.Count(svg, []byte("<image")) != 1 || !bytes.Contains(svg, []byte("data:image/png;base64")) {
		t.Error("the cloud is not one PNG image")
	}
	if len(svg) > 600_000 {
		t.Errorf("the picture has %d bytes", len(svg))
	}
	again := drawn(t, Axes{}, Points{Name: "grains", X: x, Y: y})
	if !bytes.Equal(svg, again.SVG()) || !bytes.Equal(f.PDF(), again.PDF()) || !bytes.Equal(f.PNG(), again.PNG()) {
		t.Error("the same cloud gives other bytes")
	}
	// x and y rise together: more ink above the falling diagonal's ends.
	picture, err := png.Decode(bytes.NewReader(f.PNG()))
	if err != nil {
		t.Fatal(err)
	}
	size := picture.Bounds()
	rising, falling := 0, 0
	for i := size.Dx() / 5; i < size.Dx()*2/5; i++ {
		for j := size.Dy() * 3 / 5; j < size.Dy()*4/5; j++ {
			if r, _, b, _ := picture.At(i, j).RGBA(); b > r+0x2000 {
				rising++
			}
			if r, _, b, _ := picture.At(size.Dx()-i, j).RGBA(); b > r+0x2000 {
				falling++
			}
		}
	}
	if rising < 2*falling {
		t.Errorf("lower left %d dots of ink, lower right %d: the cloud is not the right way up", rising, falling)
	}
}

// keeper is a canvas that keeps the image drawn on it.
type keeper struct {
	filled
	image image.Image
}

func (k *keeper) DrawImage(_ vg.Rectangle, picture image.Image) { k.image = picture }

// The canvas of PDF turns images upside down, so it is handed them so.
func TestImagesOfPDFAreTurned(t *testing.T) {
	picture := image.NewRGBA(image.Rect(0, 0, 2, 3))
	picture.Set(1, 0, color.RGBA{R: 255, A: 255})
	k := &keeper{}
	outlined{k}.DrawImage(vg.Rectangle{}, picture)
	if r, _, _, _ := k.image.At(1, 2).RGBA(); r != 0xffff {
		t.Error("the upper row is not the lowest")
	}
}

func TestPanels(t *testing.T) {
	one, two := figures(t)["passing"], sketch(t)
	f, err := Panels("Both", 2, one, two, one)
	if err != nil {
		t.Fatal(err)
	}
	svg := string(f.SVG())
	for _, words := range []string{">(a)<", ">(b)<", ">(c)<", ">Both<", ">mill<", ">passing (%)<"} {
		if !strings.Contains(svg, words) {
			t.Errorf("the panels lack %s", words)
		}
	}
	if !strings.HasPrefix(f.String(), `panels "Both"; (a) plot "Two invented sands"`) || !strings.Contains(f.String(), "(b) a mill feeds") {
		t.Errorf("in words: %s", f)
	}
	picture, err := png.Decode(bytes.NewReader(f.PNG()))
	if err != nil {
		t.Fatal(err)
	}
	if at, found := inkInFrame(picture, 4); found {
		t.Errorf("something is drawn at the edge, at %v", at)
	}
	for _, attempt := range []func() (*Figure, error){
		func() (*Figure, error) { return Panels("", 2) },
		func() (*Figure, error) { return Panels("", 0, one) },
		func() (*Figure, error) { return Panels("", 2, one, nil) },
	} {
		if _, err := attempt(); err == nil {
			t.Error("panels without figures are drawn")
		}
	}
}

func TestSave(t *testing.T) {
	folder := t.TempDir()
	f, err := figures(t)["passing"].Size(quantity.Of(85, "mm"), quantity.Of(60, "mm"))
	if err != nil {
		t.Fatal(err)
	}
	for ending, start := range map[string]string{".svg": "<svg", ".pdf": "%PDF", ".png": "\x89PNG"} {
		path := filepath.Join(folder, "figure"+ending)
		if err := f.Save(path); err != nil {
			t.Fatal(err)
		}
		if data, err := os.ReadFile(path); err != nil || !strings.HasPrefix(string(data), start) {
			t.Errorf("%s: %.10q (%v)", ending, data, err)
		}
	}
	if size := sizeOf(t, filepath.Join(folder, "figure.png")); size != image.Pt(1004, 709) { // 85 mm and 60 mm at 300 dots per inch
		t.Errorf("85 mm by 60 mm are %v dots", size)
	}
	frame := filepath.Join(folder, "frame.png")
	if err := f.SaveFrame(frame, 1920, 1080); err != nil {
		t.Fatal(err)
	}
	if size := sizeOf(t, frame); size != image.Pt(1920, 1080) {
		t.Errorf("the frame has %v dots", size)
	}
	for _, bad := range []error{f.Save(filepath.Join(folder, "figure.gif")), f.Save(filepath.Join(folder, "none", "figure.svg")),
		f.SaveFrame(filepath.Join(folder, "frame.svg"), 1920, 1080), f.SaveFrame(frame, 10, 10), f.SaveFrame(frame, 8000, 300)} {
		if bad == nil {
			t.Error("a figure is saved where it cannot be")
		}
	}
}

func sizeOf(t *testing.T, path string) image.Point {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	config, err := png.DecodeConfig(file)
	if err != nil {
		t.Fatal(err)
	}
	return image.Pt(config.Width, config.Height)
}

func TestAlt(t *testing.T) {
	f := figures(t)["gap"]
	told := f.Alt(" Power rises & falls ")
	if told.String() != "Power rises & falls" || f.String() == told.String() {
		t.Errorf("in words: %q and %q", told, f)
	}
	if !strings.Contains(string(told.SVG()), "Power rises &amp; falls</title>") {
		t.Error("the picture does not carry the words")
	}
}

func BenchmarkCloud(b *testing.B) {
	x, y := cloud(100_000)
	for name, mark := range map[string]Mark{"points": Points{X: x, Y: y}, "line": Line{X: x, Y: y}} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				f, err := Draw(Axes{}, mark)
				if err != nil {
					b.Fatal(err)
				}
				f.SVG()
				f.PNG()
				f.PDF()
			}
		})
	}
}
