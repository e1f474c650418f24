package size

import (
	"math"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

// A log-normal distribution of standard deviation 1 φ has a sorting of
// (z84−z16)/4 + (z95−z5)/6.6 with the quantiles z of the normal curve, 0.9945 and
// 1.6449 (Abramowitz and Stegun, table 26.5), no skewness, and a kurtosis of 1.00,
// which is how Folk and Ward chose 2.44.
func TestFolkWardOfALogNormal(t *testing.T) {
	var openings []quantity.Quantity
	for k := 0; k <= 160; k++ {
		openings = append(openings, quantity.Of(math.Exp2(4-float64(k)/20), "mm"))
	}
	model, err := LogNormal(quantity.Of(1, "mm"), quantity.Number(2))
	if err != nil {
		t.Fatal(err)
	}
	d, err := model.Distribution(openings)
	if err != nil {
		t.Fatal(err)
	}
	f, err := d.FolkWard()
	if err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		what      string
		got       quantity.Quantity
		want, tol float64
	}{
		{"mean", f.Mean, 0, 1e-3}, {"sorting", f.Sorting, 2*0.9945/4 + 2*1.6449/6.6, 1e-3},
		{"skewness", f.Skewness, 0, 1e-3}, {"kurtosis", f.Kurtosis, 2 * 1.6449 / (2.44 * 2 * 0.6745), 1e-3}, {"mean size", f.MeanSize, 1e-3, 1e-6},
	} {
		if math.Abs(test.got.SI()-test.want) > test.tol {
			t.Errorf("%s: %v, want %.5g", test.what, test.got, test.want)
		}
	}
	sorting, skewness, kurtosis := f.Words()
	if sorting != "moderately sorted" || skewness != "near-symmetrical" || kurtosis != "mesokurtic" {
		t.Errorf("%s, %s, %s", sorting, skewness, kurtosis)
	}
}

// A tail of fines is a positive skewness, in φ; and a measure from uncertain masses
// is uncertain.
func TestFolkWardOfUncertainMasses(t *testing.T) {
	openings := []quantity.Quantity{quantity.Of(2, "mm"), quantity.Of(1, "mm"), quantity.Of(500, "µm"), quantity.Of(250, "µm"), quantity.Of(125, "µm"), quantity.Of(63, "µm")}
	var masses []quantity.Quantity
	for _, m := range []float64{0, 10, 50, 20, 12, 6, 2} {
		mass := quantity.Of(m, "g")
		if m > 0 {
			mass = quantity.Must(quantity.Normal(mass, quantity.Of(0.02*m, "g")))
		}
		masses = append(masses, mass)
	}
	d, err := New(openings, masses)
	if err != nil {
		t.Fatal(err)
	}
	f, err := d.FolkWard()
	if err != nil {
		t.Fatal(err)
	}
	if f.Skewness.SI() < 0.1 || !f.Sorting.IsUncertain() || !f.MeanSize.IsUncertain() {
		t.Errorf("%v", f)
	}
	for _, text := range []string{f.String(), f.HTML(), f.Markdown(), f.LaTeX()} {
		if !strings.Contains(text, "fine-skewed") {
			t.Errorf("%s", text)
		}
	}
	coarse, err := New(openings[:2], masses[:3])
	if err != nil {
		t.Fatal(err)
	}
	if _, err := coarse.FolkWard(); err == nil {
		t.Error("measures were read beyond the sieves")
	}
}

// With one sieve known badly, the fit goes by the others.
func TestUncertainMassesWeighInFits(t *testing.T) {
	model, err := RosinRammler(quantity.Of(200, "µm"), quantity.Number(1.2))
	if err != nil {
		t.Fatal(err)
	}
	var openings []quantity.Quantity
	for _, x := range []float64{600, 425, 300, 212, 150, 106, 75, 53} {
		openings = append(openings, quantity.Of(x, "µm"))
	}
	truth, err := model.Distribution(openings)
	if err != nil {
		t.Fatal(err)
	}
	fit := func(deviation func(i int) float64) Fit {
		masses := truth.Masses()
		for i := range masses {
			if i == 3 { // 10 points too many on 212 µm, taken from the class below
				masses[i] = masses[i].Add(quantity.Of(10, "%"))
			}
			if i == 4 {
				masses[i] = masses[i].Sub(quantity.Of(10, "%"))
			}
			if s := deviation(i); s > 0 {
				masses[i] = quantity.Must(quantity.Normal(masses[i], quantity.Of(s, "%")))
			}
		}
		d, err := New(openings, masses)
		if err != nil {
			t.Fatal(err)
		}
		f, err := FitRosinRammler(d)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	plain := fit(func(int) float64 { return 0 })
	weighted := fit(func(i int) float64 {
		if i == 3 || i == 4 {
			return 3
		}
		return 0.02
	})
	off := func(f Fit) float64 { return math.Abs(f.Model().Parameters()[0].Certain().To("µm").Shown() - 200) }
	if off(weighted) > off(plain)/3 {
		t.Errorf("off by %.3g µm with weights, by %.3g without", off(weighted), off(plain))
	}
	var squares float64
	for _, w := range weighted.Weights() {
		squares += w * w
	}
	if n := float64(len(weighted.Weights())); math.Abs(squares/n-1) > 1e-12 {
		t.Errorf("the weights' mean square is %g", squares/n)
	}
	for _, w := range plain.Weights() {
		if w != 1 {
			t.Errorf("weight %g of a certain sieve", w)
		}
	}
}
