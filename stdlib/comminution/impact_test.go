package comminution

import (
	"math"
	"testing"

	"cobber/stdlib/quantity"
)

var medium = Impact{Most: quantity.Of(50, "%"), Ease: quantity.Of(1, "t/kWh")}

func TestImpactLaw(t *testing.T) {
	for _, e := range []float64{0.1, 1, 4} {
		got, err := medium.T10(mm(20), kwh(e))
		want := 0.5 * (1 - math.Exp(-e))
		near(t, "t10", value(t, got, err, "1"), want, 1e-12)
		back, err := medium.Energy(mm(20), got)
		near(t, "energy back", value(t, back, err, "kWh/t"), e, 1e-9)
	}
	_, err := medium.Energy(mm(20), percent(0.6))
	refused(t, "above A", err, "more than once")
	product, word, err := medium.Hardness()
	if err != nil || word != "medium" {
		t.Errorf("A·b = %v: %s, %v", product, word, err)
	}
	near(t, "A·b", product.SI(), 50, 1e-12)
}

// With At given, twice the size at half the energy breaks alike.
func TestSizeAndEnergyChangePlaces(t *testing.T) {
	sized := Impact{Most: percent(0.5), Ease: quantity.Of(1, "t/kWh"), Least: kwh(0.05), At: mm(10)}
	a, err := sized.T10(mm(10), kwh(0.8))
	b, err2 := sized.T10(mm(20), kwh(0.4))
	near(t, "t10", value(t, a, err, "1"), value(t, b, err2, "1"), 1e-12)
	none, err := sized.T10(mm(10), kwh(0.05))
	if value(t, none, err, "1") != 0 {
		t.Error("the least energy breaks something")
	}
}

// Two impacts leave unbroken what one leaves of what one leaves.
func TestImpactsMultiply(t *testing.T) {
	one, err := medium.Probability(mm(10), kwh(0.3), num(1))
	two, err2 := medium.Probability(mm(10), kwh(0.3), num(2))
	left := 1 - value(t, one, err, "1")
	near(t, "left after two", 1-value(t, two, err2, "1"), left*left, 1e-12)
}

func TestFractureEnergy(t *testing.T) {
	f := FractureEnergy{Coarse: quantity.Of(40, "J/kg"), Size: mm(3), Exponent: num(1.5), Spread: num(2)}
	at, err := f.Median(mm(3))
	near(t, "median at d0", value(t, at, err, "J/kg"), 80, 1e-12)
	half, err := f.Broken(mm(3), at)
	near(t, "broken at the median", value(t, half, err, "1"), 0.5, 1e-12)
	more, err := f.Broken(mm(3), at.Mul(num(2)))
	near(t, "one deviation above", value(t, more, err, "%"), 84.134, 1e-4) // any table of the normal distribution
}

func families(t *testing.T) map[string]Family {
	t.Helper()
	formula, err := TruncatedRosinRammler(num(1.1))
	if err != nil {
		t.Fatal(err)
	}
	var rows [][]quantity.Quantity
	ts := []quantity.Quantity{percent(0.1), percent(0.2), percent(0.4)}
	ratios := []quantity.Quantity{num(2), num(4), num(10), num(50)}
	for _, at := range ts {
		var row []quantity.Quantity
		for _, n := range ratios {
			p, err := formula.Passing(at, n)
			if err != nil {
				t.Fatal(err)
			}
			row = append(row, p)
		}
		rows = append(rows, row)
	}
	measured, err := MeasuredFamily(ratios, ts, rows)
	if err != nil {
		t.Fatal(err)
	}
	return map[string]Family{"formula": formula, "measured": measured}
}

// t10 is the share at n = 10, all is finer than the particle, and shares fall with n
// and rise with t10.
func TestFamilies(t *testing.T) {
	for name, f := range families(t) {
		for _, at := range []float64{0.05, 0.1, 0.3, 0.6} {
			ten, err := f.Passing(percent(at), num(10))
			near(t, name+": t10", value(t, ten, err, "1"), at, 1e-9)
			all, err := f.Passing(percent(at), num(1))
			near(t, name+": t1", value(t, all, err, "1"), 1, 1e-12)
			last := 1.0
			for _, n := range []float64{1.2, 2, 3, 4, 8, 10, 30, 50, 200} {
				p, err := f.Passing(percent(at), num(n))
				x := value(t, p, err, "1")
				if x > last || x < 0 {
					t.Errorf("%s: t%v at t10 = %v is %v after %v", name, n, at, x, last)
				}
				last = x
			}
		}
	}
	_, err := MeasuredFamily([]quantity.Quantity{num(2), num(4)}, []quantity.Quantity{percent(0.1)},
		[][]quantity.Quantity{{percent(0.2), percent(0.3)}})
	refused(t, "finer shares greater", err, "fall with n")
	_, err = Family{}.Passing(percent(0.1), num(4))
	refused(t, "empty family", err, "empty Family")
}

// Made-up tests from a known law with errors of a few per cent come back.
func TestFitOfDropWeights(t *testing.T) {
	known := Impact{Most: percent(0.62), Ease: quantity.Of(0.7, "t/kWh"), Least: kwh(0.02), At: mm(20)}
	var drops, single []Drop
	for i, x := range []float64{14, 28, 57} {
		for k, e := range []float64{0.1, 0.3, 1, 2.5, 5} {
			t10, err := known.T10(mm(x), kwh(e))
			if err != nil {
				t.Fatal(err)
			}
			drop := Drop{mm(x), kwh(e), t10.Mul(num(1 + 0.02*float64(1-2*((i+k)%2))))}
			drops = append(drops, drop)
			if i == 1 {
				single = append(single, drop)
			}
		}
	}
	fit, err := FitSizedImpact(drops...)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "A", value(t, fit.Impact.Most, nil, "1"), 0.62, 0.03)
	e, err := fit.Impact.T10(mm(20), kwh(1))
	want, err2 := known.T10(mm(20), kwh(1))
	near(t, "t10 between the tests", value(t, e, err, "1"), value(t, want, err2, "1"), 0.02)
	one, err := FitImpact(single...)
	if err != nil {
		t.Fatal(err)
	}
	product := 62 * 0.7 * 28 / 20
	if off := math.Abs(one.Product.SI() - product); off > 4*one.ProductError.SI() || one.ProductError.SI() > 0.15*product {
		t.Errorf("A·b = %v ± %v, known %v\n%v", one.Product, one.ProductError, product, one)
	}
	_, err = FitSizedImpact(single...)
	refused(t, "one size", err, "one size")
	_, err = FitImpact(Drop{mm(20), kwh(0.01), percent(0.005)}, Drop{mm(20), kwh(0.02), percent(0.01)}, Drop{mm(20), kwh(0.03), percent(0.0151)})
	refused(t, "no bend", err, "apart")
}

func TestFitOfAFamily(t *testing.T) {
	f := families(t)["formula"]
	var all []Fragments
	for _, n := range []float64{2, 4, 25, 50} {
		p, err := f.Passing(percent(0.3), num(n))
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, Fragments{percent(0.3), num(n), p})
	}
	fit, err := FitFamily(all...)
	near(t, "α", value(t, fit.Alpha, err, "1"), 1.1, 1e-6)
}
