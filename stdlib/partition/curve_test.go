package partition

import (
	"math"
	"testing"

	"cobber/stdlib/internal/expect"
	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
)

func pc(x float64) quantity.Quantity { return quantity.Of(x, "%") }

func of(unit string, values ...float64) []quantity.Quantity {
	all := make([]quantity.Quantity, len(values))
	for i, x := range values {
		all[i] = quantity.Of(x, unit)
	}
	return all
}

var value, refused = expect.Value, expect.Refused

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*max(1e-300, math.Abs(want))) {
		t.Errorf("%s: %v, want %v (relative tolerance %g)", what, got, want, tolerance)
	}
}

func curve(t *testing.T, at, shares []quantity.Quantity) Curve {
	t.Helper()
	c, err := New(at, shares)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// A curve drawn from straight lines, so that each place is known by hand.
func TestCutAndProbableError(t *testing.T) {
	c := curve(t, of("g/cm³", 1.3, 1.4, 1.5, 1.6), of("%", 0, 25, 75, 100))
	cut, err := c.Cut()
	near(t, "cut", value(t, cut, err, "g/cm³"), 1.45, 1e-12)
	ep, err := c.ProbableError()
	near(t, "Ep", value(t, ep, err, "g/cm³"), 0.05, 1e-12)
	i, err := c.Imperfection()
	near(t, "imperfection", value(t, i, err, "1"), 0.05/1.45, 1e-12)
	i, err = c.ImperfectionIn(quantity.Of(1000, "kg/m³"))
	near(t, "imperfection in water", value(t, i, err, "1"), 0.05/0.45, 1e-12)
	sizes := curve(t, of("µm", 400, 100, 25), of("%", 90, 50, 10)) // falling; each step is a factor of 4
	cut, err = sizes.Cut()
	near(t, "d50", value(t, cut, err, "µm"), 100, 1e-12)
	quarter, err := sizes.At(pc(30)) // half way on the logarithm
	near(t, "d30", value(t, quarter, err, "µm"), 50, 1e-12)
	kappa, err := sizes.Sharpness() // 25 %: 4^(15/40) above 25; 75 %: 4^(25/40) above 100
	near(t, "sharpness", value(t, kappa, err, "1"), math.Pow(4, 15.0/40)/4/math.Pow(4, 25.0/40), 1e-12)
}

func TestCorrected(t *testing.T) {
	c := curve(t, of("µm", 20, 50, 100, 200), of("%", 20, 40, 60, 100))
	near(t, "least", value(t, c.Least(), nil, "%"), 20, 1e-12)
	corrected, err := c.Corrected(pc(20))
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{0, 25, 50, 100} {
		if got := value(t, corrected.Shares()[i], nil, "%"); math.Abs(got-want) > 1e-12 {
			t.Errorf("point %d: %v, want %v", i, got, want)
		}
	}
	_, err = c.Corrected(pc(25))
	refused(t, "too large a bypass", err, "the least share is 20 %")
	_, err = c.Corrected(pc(100))
	refused(t, "all bypass", err, "below 100 %")
}

func TestCurveRefuses(t *testing.T) {
	tests := []struct {
		name       string
		at, shares []quantity.Quantity
		want       string
	}{
		{"one point", of("µm", 1), of("%", 1), "two points"},
		{"lengths", of("µm", 1, 2), of("%", 1), "2 points and 1 shares"},
		{"no size", of("kg", 1, 2), of("%", 1, 2), "neither"},
		{"mixed", []quantity.Quantity{quantity.Of(1, "mm"), quantity.Of(2, "g/cm³")}, of("%", 1, 2), "not of one kind"},
		{"order", of("µm", 1, 3, 2), of("%", 1, 2, 3), "rise or fall"},
		{"zero", of("µm", 0, 3), of("%", 1, 2), "above 0"},
		{"plain percent", of("µm", 1, 3), of("1", 1, 20), "write a percentage"},
		{"negative", of("µm", 1, 3), of("%", -1, 20), "between 0 and 100 %"},
	}
	for _, test := range tests {
		_, err := New(test.at, test.shares)
		refused(t, test.name, err, test.want)
	}
	dented := curve(t, of("µm", 10, 20, 40, 80), of("%", 30, 60, 40, 90))
	_, err := dented.Cut()
	refused(t, "passes 50 % three times", err, "more than once, at 15.87 µm and 28.28 µm and 45.95 µm")
	refused(t, "falls", dented.CheckRising(pc(5)), "from 60 % at 20 µm to 40 % at 40 µm")
	if err := dented.CheckRising(pc(20)); err != nil {
		t.Error(err)
	}
	_, err = dented.At(pc(20))
	refused(t, "out of reach", err, "from 30 % to 90 %")
	_, err = dented.ImperfectionIn(quantity.Of(1, "g/cm³"))
	refused(t, "fluid in a curve over sizes", err, "over sizes")
}

// A feed split by known shares gives those shares back.
func TestBySizeFindsTheSplit(t *testing.T) {
	openings := of("µm", 300, 150, 75, 38)
	shares := []float64{1, 0.9, 0.6, 0.25, 0.1}
	feed := []float64{10, 20, 30, 25, 15}
	var coarse, fine []quantity.Quantity
	yield := 0.0
	for i := range feed {
		yield += feed[i] * shares[i] / 100
		coarse = append(coarse, quantity.Of(feed[i]*shares[i], "g"))
		fine = append(fine, quantity.Of(feed[i]*(1-shares[i])*7, "g")) // another sample size
	}
	up, err := size.New(openings, coarse)
	if err != nil {
		t.Fatal(err)
	}
	down, err := size.New(openings, fine)
	if err != nil {
		t.Fatal(err)
	}
	c, err := BySize(up, down, quantity.Number(yield))
	if err != nil {
		t.Fatal(err)
	}
	if n := len(c.Points()); n != 3 {
		t.Fatalf("%d points, want the three classes with two bounds", n)
	}
	for i, want := range []float64{25, 60, 90} {
		near(t, "share, %", value(t, c.Shares()[i], nil, "%"), want, 1e-12)
	}
	other, err := size.New(of("µm", 300, 150, 75, 45), fine)
	if err != nil {
		t.Fatal(err)
	}
	_, err = BySize(up, other, pc(50))
	refused(t, "other sieves", err, "sieve 4 is 38 µm")
	_, err = BySize(up, down, pc(0))
	refused(t, "no yield", err, "the yield is a share")
}
