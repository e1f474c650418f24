package partition

import (
	"fmt"
	"math"
	"testing"

	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
)

func model(t *testing.T, form Form, cut, spread quantity.Quantity) Model {
	t.Helper()
	m, err := NewModel(form, cut, spread)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func models(t *testing.T) []Model {
	return []Model{
		model(t, Whiten, quantity.Of(1.5, "g/cm³"), quantity.Of(30, "kg/m³")),
		model(t, Gaussian, quantity.Of(1.5, "g/cm³"), quantity.Of(0.03, "g/cm³")),
		model(t, RosinRammler, quantity.Of(75, "µm"), quantity.Number(2.5)),
		model(t, Lynch, quantity.Of(75, "µm"), quantity.Number(3)),
	}
}

// Half goes to each product at the cut; the share rises from 0 to 100 %; At is
// the inverse of Share; with a bypass the ends move as they should.
func TestModelsAreCurves(t *testing.T) {
	for _, m := range models(t) {
		share, err := m.Share(m.Cut())
		near(t, m.String()+" at the cut", value(t, share, err, "%"), 50, 1e-12)
		last := -1.0
		for k := 1; k <= 40; k++ {
			share, err := m.Share(m.Cut().Mul(quantity.Number(float64(k) / 10)))
			y := value(t, share, err, "1")
			if y < last || y < 0 || y > 1 {
				t.Errorf("%v: share %v after %v", m, y, last)
			}
			last = y
		}
		near(t, m.String()+" far above", last, 1, 1e-3)
		by, err := m.WithBypass(pc(15), pc(5))
		if err != nil {
			t.Fatal(err)
		}
		for _, wanted := range []float64{20, 50, 90} {
			at, err := by.At(pc(wanted))
			value(t, at, err, by.Cut().Unit().String())
			back, err := by.Share(at)
			near(t, "there and back", value(t, back, err, "%"), wanted, 1e-9)
		}
		_, err = by.At(pc(10))
		refused(t, "below the bypass", err, "from 15 % to 95 %")
		_, err = m.Share(quantity.Of(3, "kg"))
		refused(t, "a mass", err, "neither")
		// Ep is half the distance of the quartiles.
		low, err := m.At(pc(25))
		if err != nil {
			t.Fatal(err)
		}
		high, err := m.At(pc(75))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "Ep", m.ProbableError().SI(), (high.SI()-low.SI())/2, 1e-12)
	}
	// Whiten's and the Gaussian form are given by their Ep.
	for _, m := range models(t)[:2] {
		near(t, m.String(), value(t, m.ProbableError(), nil, "g/cm³"), 0.03, 1e-12)
	}
}

func TestModelRefuses(t *testing.T) {
	for _, test := range []struct {
		form        Form
		cut, spread quantity.Quantity
		want        string
	}{
		{Form(9), quantity.Of(1, "mm"), quantity.Number(1), "there is no form 9"},
		{Whiten, quantity.Of(1, "kg"), quantity.Number(1), "neither"},
		{Whiten, quantity.Of(1.5, "g/cm³"), quantity.Number(1), "a probable error"},
		{RosinRammler, quantity.Of(1, "mm"), quantity.Of(1, "mm"), "a plain number"},
		{Lynch, quantity.Of(1, "mm"), quantity.Number(0), "above 0"},
		{Lynch, quantity.Of(-1, "mm"), quantity.Number(1), "above 0"},
	} {
		_, err := NewModel(test.form, test.cut, test.spread)
		refused(t, test.want, err, test.want)
	}
	m := models(t)[0]
	_, err := m.WithBypass(pc(60), pc(40))
	refused(t, "no room", err, "leave nothing")
	_, err = m.WithBypass(pc(-1), pc(0))
	refused(t, "negative", err, "between 0 and 100 %")
}

// An uncertain cut gives an uncertain share, of the width that the slope gives.
func TestUncertainModel(t *testing.T) {
	cut := quantity.Must(quantity.Normal(quantity.Of(1.5, "g/cm³"), quantity.Of(0.001, "g/cm³")))
	m := model(t, Whiten, cut, quantity.Of(0.03, "g/cm³"))
	share, err := m.Share(quantity.Of(1.5, "g/cm³"))
	if err != nil || !share.IsUncertain() {
		t.Fatalf("%v (%v)", share, err)
	}
	near(t, "deviation", value(t, share.StdDev(), nil, "1"), 0.001*math.Log(3)/4/0.03, 0.03)
}

// Points on a model are fitted by that model exactly, with its bypass.
func TestFitFindsTheModel(t *testing.T) {
	for _, m := range models(t) {
		by, err := m.WithBypass(pc(12), pc(0))
		if err != nil {
			t.Fatal(err)
		}
		var at, shares []quantity.Quantity
		for _, wanted := range []float64{15, 25, 35, 50, 65, 80, 92, 98} {
			x, err := by.At(pc(wanted))
			if err != nil {
				t.Fatal(err)
			}
			at, shares = append(at, x), append(shares, pc(wanted))
		}
		f, err := Fit(curve(t, at, shares), m.Form(), true)
		if err != nil {
			t.Errorf("%v: %v", m, err)
			continue
		}
		b, _ := f.Model.Bypass()
		near(t, m.String()+": cut", f.Model.Cut().SI(), m.Cut().SI(), 1e-6)
		near(t, m.String()+": spread", f.Model.Spread().SI(), m.Spread().SI(), 1e-5)
		near(t, m.String()+": bypass", value(t, b, nil, "%"), 12, 1e-5)
		if miss := value(t, f.RootMeanSquare, nil, "%"); miss > 1e-4 {
			t.Errorf("%v: miss %v %%", m, miss)
		}
	}
	three := curve(t, of("µm", 20, 50, 100), of("%", 10, 40, 90))
	f, err := Fit(three, Lynch, true)
	if err == nil && !f.CutDeviation.IsNaN() {
		t.Errorf("three points, three parameters: a standard error of %v", f.CutDeviation)
	}
	two := curve(t, of("µm", 20, 50), of("%", 10, 40))
	_, err = Fit(two, Lynch, true)
	refused(t, "too few points", err, "3 points at least")
	all, err := Compare(curve(t, of("µm", 20, 40, 60, 80, 100, 150), of("%", 4, 22, 46, 68, 84, 98)), false)
	if err != nil || all.Rows() != 4 {
		t.Errorf("comparison: %v\n%v", err, all)
	}
}

func TestSplitCloses(t *testing.T) {
	feed, err := size.New(of("µm", 300, 150, 75, 38), of("g", 5, 20, 30, 25, 20))
	if err != nil {
		t.Fatal(err)
	}
	if feed, err = feed.WithAssay("Cu", of("%", 0.5, 1, 2, 3, 1)); err != nil {
		t.Fatal(err)
	}
	m := model(t, RosinRammler, quantity.Of(75, "µm"), quantity.Number(2.5))
	p, err := m.Split(feed)
	if err != nil {
		t.Fatal(err)
	}
	for i, mass := range feed.Masses() {
		near(t, "class "+feed.Classes()[i], p.Coarse.Masses()[i].Add(p.Fine.Masses()[i]).SI(), mass.SI(), 1e-14)
	}
	y := value(t, p.Yield, nil, "1")
	metal := func(d size.Distribution) float64 {
		g, err := d.Grade("Cu")
		return value(t, g, err, "1")
	}
	near(t, "metal", y*metal(p.Coarse)+(1-y)*metal(p.Fine), metal(feed), 1e-12)
	// The partition of the products is the model at the mean sizes.
	c, err := BySize(p.Coarse, p.Fine, p.Yield)
	if err != nil {
		t.Fatal(err)
	}
	for i, at := range c.Points() {
		share, err := m.Share(at)
		near(t, "share", value(t, c.Shares()[i], nil, "%"), value(t, share, err, "%"), 1e-9)
	}
	_, err = models(t)[0].Split(feed)
	refused(t, "by density", err, "cuts by density")
}

// The figures of the example are invented.
func ExampleFit() {
	sizes, shares := of("µm", 28, 53, 75, 106, 150, 212), of("%", 24, 33, 52, 78, 94, 99)
	c, err := New(sizes, shares)
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := Fit(c, RosinRammler, true)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(f)
	// Output:
	// Rosin–Rammler
	// parameter              value     standard error
	// ─────────────────────  ────────  ──────────────
	// cut                    84.86 µm  2.725 µm
	// spread                 2.597     0.2548
	// bypass                 19.98 %   2.698 %
	// root mean square miss  1.954 %   –
}
