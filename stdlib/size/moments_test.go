package size

import (
	"math"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

func moment(t *testing.T, d Distribution, p, q int) float64 {
	t.Helper()
	mean, err := d.Mean(p, q)
	if err != nil {
		t.Fatal(err)
	}
	return value(t, mean, "µm")
}

// A mass curve that is a straight line from 1 to 101 µm: M(k) = ∫ x^(k−3) dx/100
// by hand.
func TestMomentsOfALine(t *testing.T) {
	d := build(t, of("µm", 101, 61, 21, 1), of("g", 0, 40, 40, 20, 0))
	m := map[int]float64{0: (1 - 1/math.Pow(101, 2)) / 200, 1: (1 - 1.0/101) / 100, 2: math.Log(101) / 100, 3: 1, 4: 51,
		5: (math.Pow(101, 3) - 1) / 300}
	for p := 0; p <= 5; p++ {
		for q := 0; q <= 5; q++ {
			if p == q {
				continue
			}
			want := math.Pow(m[p]/m[q], 1/float64(p-q))
			closeTo(t, "mean", moment(t, d, p, q)/want, 1, 1e-12)
		}
	}
	if _, err := d.Mean(3, 3); err == nil {
		t.Error("D[3,3]: no error")
	}
	surface, err := d.SurfaceMean()
	if err != nil || value(t, surface, "µm") != moment(t, d, 3, 2) {
		t.Errorf("%v (%v)", surface, err)
	}
}

// The relations of T. Hatch and S.P. Choate (J. Franklin Inst. 207 (1929) 369)
// between the means of a log-normal distribution: ln D[p,q] = ln x50 +
// (p+q−6)/2 · ln²σ with the median by mass x50. Eighty classes leave 0.1 %.
func TestMeansOfALogNormal(t *testing.T) {
	const median, sigma = 100.0, 1.6
	var edges, passing []float64
	for i := range 161 {
		z := 4 - float64(i)/20
		edges = append(edges, median*math.Exp(z*math.Log(sigma)))
		passing = append(passing, 50*math.Erfc(-z/math.Sqrt2))
	}
	d, err := FromPassing(of("µm", edges...), of("%", passing...))
	if err != nil {
		t.Fatal(err)
	}
	trimmed := d.Masses()
	trimmed[0], trimmed[len(trimmed)-1] = percent(0), percent(0)
	d = build(t, d.Openings(), trimmed)
	square := math.Pow(math.Log(sigma), 2)
	for _, pq := range [][2]int{{4, 3}, {3, 2}, {3, 0}, {2, 1}} {
		want := median * math.Exp(float64(pq[0]+pq[1]-6)/2*square)
		tolerance := 2e-3
		if pq[1] == 0 {
			tolerance = 2e-2 // four deviations down, the tail still counts among the numbers
		}
		closeTo(t, "Hatch and Choate", moment(t, d, pq[0], pq[1])/want, 1, tolerance)
	}
	mean, err := d.GeometricMean()
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "geometric mean", value(t, mean, "µm"), median, 0.1)
	deviation, err := d.GeometricDeviation()
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "geometric deviation", value(t, deviation, "1"), sigma, 2e-3)
}

func TestCloseStatesTheBounds(t *testing.T) {
	d := assayed(t)
	if _, err := d.Mean(4, 3); err == nil || !strings.Contains(err.Error(), "Close") {
		t.Errorf("error %v", err)
	}
	closed, err := d.Close(quantity.Of(600, "µm"), quantity.Of(1, "µm"))
	if err != nil {
		t.Fatal(err)
	}
	if len(closed.Openings()) != 5 || len(closed.Assays()) != 1 { // nothing lies above 500 µm
		t.Errorf("%v", closed)
	}
	closeTo(t, "mass", value(t, closed.Mass(), "g"), 800, 1e-12)
	if mean := moment(t, closed, 4, 3); mean < 150 || mean > 300 {
		t.Errorf("D[4,3] = %v µm", mean)
	}
	open := build(t, of("µm", 500, 100), of("g", 10, 80, 10))
	for _, test := range []struct{ top, bottom quantity.Quantity }{
		{quantity.Of(400, "µm"), quantity.Of(1, "µm")}, {quantity.Of(600, "µm"), quantity.Of(100, "µm")}, {quantity.Of(600, "µm"), quantity.Of(0, "µm")},
		{quantity.Of(600, "g"), quantity.Of(1, "µm")}, {quantity.Of(600, "µm"), quantity.Of(1, "g")},
	} {
		if _, err := open.Close(test.top, test.bottom); err == nil {
			t.Errorf("%v and %v: no error", test.top, test.bottom)
		}
	}
}

// Spheres of one size d have the surface 6/(ρ·d) per mass.
func TestSpecificSurface(t *testing.T) {
	d := build(t, of("µm", 100.05, 99.95), of("g", 0, 1, 0))
	surface, err := d.SpecificSurface(quantity.Of(2.65, "g/cm3"), quantity.Number(1))
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "m²/kg", value(t, surface, "m2/kg"), 6/(2650*100e-6), 1e-4)
	for _, test := range []struct{ density, shape quantity.Quantity }{
		{quantity.Of(0, "g/cm3"), quantity.Number(1)}, {quantity.Of(2, "g"), quantity.Number(1)}, {quantity.Of(2, "g/cm3"), quantity.Number(0.9)},
		{quantity.Of(2, "g/cm3"), quantity.Of(1, "m")},
	} {
		if _, err := d.SpecificSurface(test.density, test.shape); err == nil {
			t.Errorf("%v, %v: no error", test.density, test.shape)
		}
	}
}

// Areas under a density are shares.
func TestDensitiesIntegrateToShares(t *testing.T) {
	d := assayed(t)
	for i := 1; i < len(d.Openings()); i++ {
		width := d.Openings()[i-1].Sub(d.Openings()[i])
		area := d.Densities()[i].Mul(width)
		closeTo(t, "area", value(t, area, "%"), value(t, d.Shares()[i], "%"), 1e-12)
		decades := math.Log10(d.metres[i-1] / d.metres[i])
		closeTo(t, "area over the decades", value(t, d.LogDensities()[i], "%")*decades, value(t, d.Shares()[i], "%"), 1e-12)
	}
	if !d.Densities()[0].IsNaN() || !d.LogDensities()[4].IsNaN() {
		t.Error("an open class has a density")
	}
}

func TestCoefficientsAreRatiosOfSizes(t *testing.T) {
	d := sand(t)
	at := func(percent float64) float64 {
		size, err := d.D(percent)
		if err != nil {
			t.Fatal(err)
		}
		return value(t, size, "mm")
	}
	for name, test := range map[string]struct {
		got  func() (quantity.Quantity, error)
		want float64
	}{
		"Cu":   {d.UniformityCoefficient, at(60) / at(10)},
		"Cc":   {d.CurvatureCoefficient, at(30) * at(30) / at(60) / at(10)},
		"span": {d.Span, (at(90) - at(10)) / at(50)},
	} {
		got, err := test.got()
		if err != nil {
			t.Error(err)
			continue
		}
		closeTo(t, name, value(t, got, "1"), test.want, 1e-12)
	}
	if _, err := build(t, of("mm", 2, 1), of("g", 30, 40, 30)).Span(); err == nil {
		t.Error("d90 above the stack: no error")
	}
}
