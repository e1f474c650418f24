package size

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

func closeTo(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.10g, want %.10g ± %g", what, got, want, tolerance)
	}
}

func TestFromPassingIsTheInverseOfPassing(t *testing.T) {
	d := sand(t)
	back, err := FromPassing(d.Openings(), d.Passing())
	if err != nil {
		t.Fatal(err)
	}
	for i, share := range back.Shares() {
		closeTo(t, d.Classes()[i], value(t, share, "%"), value(t, d.Shares()[i], "%"), 1e-12)
	}
	// A laser table, finest first, by volume (invented).
	laser, err := FromPassing(of("µm", 1, 10, 100), of("vol%", 2, 30, 97))
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{3, 67, 28, 2} {
		closeTo(t, laser.Classes()[i], value(t, laser.Shares()[i], "%"), want, 1e-12)
	}
	for _, test := range []struct {
		openings, passing []quantity.Quantity
		want              string
	}{
		{of("µm", 100, 10), of("%", 30, 50), "must not rise towards finer"}, {of("µm", 10, 100), of("%", 50, 30), "must not rise"},
		{of("µm", 100, 10), of("%", 101, 50), "between 0 and 100"}, {of("µm", 100, 10), of("%", 90, -1), "between 0 and 100"},
		{of("µm", 100, 10), of("%", 90, math.NaN()), "between 0 and 100"}, {of("µm", 100, 10), of("%", 90), "each opening needs one"},
		{of("µm", 100, 10, 50), of("%", 90, 50, 40), "coarsest first"}, {of("µm", 100), of("g", 90), "is a share"},
		{of("µm", 100, 10), []quantity.Quantity{quantity.Of(90, "wt%"), quantity.Of(10, "vol%")}, "shares of one kind"}, {nil, nil, "each opening needs one"},
	} {
		if _, err := FromPassing(test.openings, test.passing); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%v %v: error %v, want one with %q", test.openings, test.passing, err, test.want)
		}
	}
}

func TestTablesOfPassingAndOfVolume(t *testing.T) {
	read := func(text string) (Distribution, error) {
		tab, err := table.ReadCSV(strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		return FromTable(tab)
	}
	curve, err := read("opening (µm),passing (vol%)\n100,97\n10,30\n1,2\n")
	if err != nil {
		t.Fatal(err)
	}
	classes, err := read("opening (µm),volume (vol%)\n100,3\n10,67\n1,28\n0,2\n")
	if err != nil {
		t.Fatal(err)
	}
	sieves, err := read("sieve,passing (%)\n#10,97\n#100,30\n#200,2\n")
	if err != nil {
		t.Fatal(err)
	}
	for i := range curve.Shares() {
		closeTo(t, "volume", value(t, classes.Shares()[i], "%"), value(t, curve.Shares()[i], "%"), 1e-12)
		closeTo(t, "sieves", value(t, sieves.Shares()[i], "%"), value(t, curve.Shares()[i], "%"), 1e-12)
	}
	for text, want := range map[string]string{
		"opening (µm),passing (%),Cu (%)\n100,97,1\n10,30,2\n": "column Cu",
		"size (µm),passing (%)\n100,97\n10,30\n":               "column size",
		"grain,passing (%)\na,97\nb,30\n":                      "a column opening",
	} {
		if _, err := read(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: error %v, want one with %q", text, err, want)
		}
	}
}

func assayed(t *testing.T) Distribution {
	d := build(t, of("µm", 500, 300, 150, 75), of("g", 0, 120, 310, 240, 130))
	d, err := d.WithAssay("TiO2", append(of("%", math.NaN()), of("%", 4, 9, 15, 7)...))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// Telling a distribution on other sieves must keep its mass and metal, and what
// passes the sieves asked for.
func TestResampleKeepsMassMetalAndCurve(t *testing.T) {
	for _, way := range []Interpolation{SemiLog, Linear, LogLog, Smooth} {
		d := assayed(t).By(way)
		for _, openings := range [][]float64{{500, 300, 150, 75}, {500, 212, 106, 75}, {425, 300, 212, 150, 106, 75}, {300, 90}, {180}, {480, 460, 440, 80}} {
			r, err := d.Resample(of("µm", openings...))
			if err != nil {
				t.Errorf("%v, %v: %v", way, openings, err)
				continue
			}
			closeTo(t, "mass", value(t, r.Mass(), "g"), 800, 1e-9)
			before, _ := d.Grade("TiO2")
			after, err := r.Grade("TiO2")
			if err != nil {
				t.Fatal(err)
			}
			closeTo(t, "grade", value(t, after, "%"), value(t, before, "%"), 1e-12)
			for i, opening := range r.Openings() {
				want, err := d.PassingAt(opening)
				if err != nil {
					t.Fatal(err)
				}
				closeTo(t, "passing "+opening.String(), value(t, r.Passing()[i], "%"), value(t, want, "%"), 1e-10)
			}
			if r.Interpolation() != way {
				t.Errorf("%v became %v", way, r.Interpolation())
			}
		}
		same, _ := d.Resample(d.Openings())
		for i, mass := range same.Masses() {
			closeTo(t, "the same sieves", value(t, mass, "g"), value(t, d.Masses()[i], "g"), 1e-10)
		}
	}
	d := assayed(t)
	for _, test := range []struct {
		openings []quantity.Quantity
		want     string
	}{
		{of("µm", 500, 50), "outside the sieves"}, {of("µm", 100, 200), "coarsest first"}, {of("g", 1), "is a length"},
	} {
		if _, err := d.Resample(test.openings); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%v: error %v, want one with %q", test.openings, err, test.want)
		}
	}
	top := build(t, of("µm", 500, 300), of("g", 5, 10, 10))
	if _, err := top.Resample(of("µm", 600, 300)); err == nil || !strings.Contains(err.Error(), "outside the sieves") {
		t.Errorf("a sieve above the stack: error %v", err)
	}
}

func TestBlendAndSplitCloseMassAndMetal(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	for range 100 {
		d := assayed(t)
		partition := make([]quantity.Quantity, 5)
		for i := range partition {
			partition[i] = percent(random.Float64())
		}
		coarse, fine, err := d.Split(partition)
		if err != nil {
			t.Fatal(err)
		}
		again, err := Blend(fine, coarse)
		if err != nil {
			t.Fatal(err)
		}
		for i, mass := range again.Masses() {
			closeTo(t, d.Classes()[i], value(t, mass, "g"), value(t, d.Masses()[i], "g"), 1e-10)
			if i > 0 {
				closeTo(t, "grade of "+d.Classes()[i], value(t, again.assays[0].grades[i], "%"), value(t, d.assays[0].grades[i], "%"), 1e-10)
			}
		}
		metal := func(d Distribution) float64 {
			grade, err := d.Grade("TiO2")
			if err != nil {
				t.Fatal(err)
			}
			return value(t, d.Mass().Mul(grade), "g")
		}
		closeTo(t, "metal", metal(coarse)+metal(fine), metal(d), 1e-10)
	}
}

// By hand: 30 t/h of 40, 60 % and 10 t/h of 80, 20 % are 20, 20 t/h.
func TestBlendOfStreams(t *testing.T) {
	a, err := build(t, of("mm", 1), of("g", 40, 60)).Scaled(quantity.Of(30, "t/h"))
	if err != nil {
		t.Fatal(err)
	}
	b, err := build(t, of("mm", 1), of("g", 8, 2)).Scaled(quantity.Of(10000, "kg/h"))
	if err != nil {
		t.Fatal(err)
	}
	sum, err := Blend(a, b)
	if err != nil {
		t.Fatal(err)
	}
	for _, mass := range sum.Masses() {
		closeTo(t, "t/h", value(t, mass, "t/h"), 20, 1e-12)
	}
	for _, total := range []quantity.Quantity{quantity.Of(0, "t"), quantity.Of(-1, "t"), quantity.Of(math.NaN(), "t")} {
		if _, err := sum.Scaled(total); err == nil {
			t.Errorf("scaled to %v: no error", total)
		}
	}
	byVolume, err := FromPassing(of("mm", 1), of("vol%", 60))
	if err != nil {
		t.Fatal(err)
	}
	byMass, err := FromPassing(of("mm", 1), of("wt%", 60))
	if err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		parts []Distribution
		want  string
	}{
		{nil, "nothing to blend"}, {[]Distribution{a, build(t, of("mm", 2), of("t/h", 1, 1))}, "Resample"},
		{[]Distribution{byMass, byVolume}, "not of one kind"}, {[]Distribution{a, byMass}, "not of one kind"},
		{[]Distribution{assayed(t), build(t, of("µm", 500, 300, 150, 75), of("g", 1, 1, 1, 1, 1))}, "no assay"},
		{[]Distribution{build(t, of("µm", 500, 300, 150, 75), of("g", 1, 1, 1, 1, 1)), assayed(t)}, "all parts need the same"},
	} {
		if _, err := Blend(test.parts...); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("error %v, want one with %q", err, test.want)
		}
	}
}

func TestSplitRefuses(t *testing.T) {
	d := build(t, of("mm", 1), of("g", 40, 60))
	for _, test := range []struct {
		shares []quantity.Quantity
		want   string
	}{
		{of("%", 50), "2 classes need 2 shares"}, {of("%", 50, 101), "between 0 and 100"}, {of("g", 50, 50), "between 0 and 100"},
		{of("%", 0, 0), "first product"}, {of("%", 100, 100), "second product"},
	} {
		if _, _, err := d.Split(test.shares); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%v: error %v, want one with %q", test.shares, err, test.want)
		}
	}
}

// Weighing by ± 0.5 g: the share of 40 g in 100 g has the deviation
// √((0.6·0.5)² + 0.4²·(0.5² + 0.5²))/100, to first order, and d50 lies on the
// curve of the means.
func TestUncertainMassesCarryThrough(t *testing.T) {
	weighed := func(grams float64) quantity.Quantity {
		return quantity.Must(quantity.Normal(quantity.Of(grams, "g"), quantity.Of(0.5, "g")))
	}
	d := build(t, of("mm", 2, 1), []quantity.Quantity{weighed(20), weighed(40), weighed(40)})
	share := d.Shares()[1]
	closeTo(t, "share", value(t, share, "%"), 40, 0.01)
	closeTo(t, "deviation", value(t, share.StdDev(), "%"), math.Sqrt(0.3*0.3+0.16*0.5), 0.01)
	total := quantity.Sum(d.Shares()...)
	closeTo(t, "the sum of the shares is certain", value(t, total.StdDev(), "%"), 0, 1e-9)
	certain := build(t, of("mm", 2, 1), of("g", 20, 40, 40))
	want, err := certain.D(50)
	if err != nil {
		t.Fatal(err)
	}
	got, err := d.D(50)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "d50", value(t, got, "mm"), value(t, want, "mm"), 1e-3)
	// d50 = 2^((0.5 − P₁)/(P₂ − P₁)) mm; by hand its deviation is ln 2 · d50 · u.
	if deviation := value(t, got.StdDev(), "mm"); deviation < 0.005 || deviation > 0.02 {
		t.Errorf("d50 = %v", got)
	}
	loss, err := d.Loss(weighed(101))
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "deviation of the loss", value(t, loss.StdDev(), "%"), 100*math.Sqrt(0.25*3+0.25*math.Pow(100.0/101, 2))/101, 0.02)
	a, err := certain.WithAssay("Cu", []quantity.Quantity{quantity.Of(1, "%"), quantity.Of(2, "%"),
		quantity.Must(quantity.Normal(quantity.Of(3, "%"), quantity.Of(0.1, "%")))})
	if err != nil {
		t.Fatal(err)
	}
	grade, err := a.Grade("Cu")
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "deviation of the grade", value(t, grade.StdDev(), "%"), 0.04, 1e-3)
	metal, err := a.Metal("Cu")
	if err != nil || !metal[0].IsUncertain() {
		t.Errorf("%v (%v)", metal, err)
	}
}

func TestUncertainMassesAreShownWithTheirSpread(t *testing.T) {
	weighed := func(grams float64) quantity.Quantity {
		return quantity.Must(quantity.Normal(quantity.Of(grams, "g"), quantity.Of(0.5, "g")))
	}
	d := build(t, of("mm", 2, 1), []quantity.Quantity{weighed(20), weighed(40), weighed(40)})
	for _, want := range []string{"± mass (g)", "± share (%)", "± passing (%)", "d50 = 1.189 ± 0.0"} {
		if !strings.Contains(d.String(), want) {
			t.Errorf("the table lacks %q:\n%s", want, d)
		}
	}
	if strings.Contains(assayed(t).String(), "±") {
		t.Error("what is certain is shown with a spread")
	}
}
