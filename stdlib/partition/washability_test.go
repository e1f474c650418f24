package partition

import (
	"math"
	"testing"

	"cobber/stdlib/quantity"
)

// An invented coal, whose sums are easy by hand.
func coal(t *testing.T) Washability {
	t.Helper()
	w, err := NewWashability(of("g/cm³", 1.3, 1.4, 1.6), of("%", 40, 20, 20, 20), "ash", of("%", 5, 10, 30, 80))
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func TestWashability(t *testing.T) {
	w := coal(t)
	near(t, "ash", value(t, w.Grade(), nil, "%"), 26, 1e-12) // 2 + 2 + 6 + 16
	cut, err := w.At(quantity.Of(1400, "kg/m³"))
	near(t, "floats", value(t, cut.Floats, err, "%"), 60, 1e-12)
	near(t, "ash of floats", value(t, cut.FloatsGrade, nil, "%"), 400.0/60, 1e-12)
	near(t, "ash of sinks", value(t, cut.SinksGrade, nil, "%"), 55, 1e-12)
	near(t, "ash that sinks", value(t, cut.SinksContent(), nil, "%"), 100*22.0/26, 1e-12)
	cut, err = w.At(quantity.Of(1.5, "g/cm³"))
	near(t, "half way", value(t, cut.Floats, err, "%"), 70, 1e-12)
	near(t, "half way, ash", value(t, cut.FloatsGrade, nil, "%"), 10, 1e-12)
	best, err := w.FloatsOf(pc(10))
	near(t, "yield at 10 % ash", value(t, best.Floats, err, "%"), 70, 1e-12)
	near(t, "density at 10 % ash", value(t, best.Density, nil, "g/cm³"), 1.5, 1e-12)
	best, err = w.FloatsOf(pc(20)) // in the open heaviest fraction: (10 + 0.8x)/(80 + x) = 0.2
	near(t, "yield at 20 % ash", value(t, best.Floats, err, "%"), 90, 1e-12)
	if !best.Density.IsNaN() {
		t.Errorf("a density of %v in a fraction without upper bound", best.Density)
	}
	e, err := w.OrganicEfficiency(pc(63), pc(10))
	near(t, "organic efficiency", value(t, e, err, "%"), 90, 1e-12)
	close, err := w.NearDensity(quantity.Of(1.4, "g/cm³"), quantity.Of(0.1, "g/cm³"))
	near(t, "near-density material", value(t, close, err, "%"), 30, 1e-12)
}

// A perfect model gives what At gives; no model gives more floats of that grade
// than FloatsOf.
func TestWash(t *testing.T) {
	w := coal(t)
	light, heavy := quantity.Of(1.25, "g/cm³"), quantity.Of(2.2, "g/cm³")
	sharp := model(t, Whiten, quantity.Of(1.4, "g/cm³"), quantity.Of(1e-4, "g/cm³"))
	got, err := w.Wash(sharp, light, heavy)
	near(t, "sharp: floats", value(t, got.Floats, err, "%"), 60, 1e-9)
	near(t, "sharp: ash", value(t, got.FloatsGrade, nil, "%"), 400.0/60, 1e-9)
	for _, ep := range []float64{0.02, 0.05, 0.1} {
		real, err := w.Wash(model(t, Whiten, quantity.Of(1.4, "g/cm³"), quantity.Of(ep, "g/cm³")), light, heavy)
		if err != nil {
			t.Fatal(err)
		}
		efficiency, err := w.OrganicEfficiency(real.Floats, real.FloatsGrade)
		if e := value(t, efficiency, err, "%"); !(e > 50 && e < 100) {
			t.Errorf("Ep %v: organic efficiency %v", ep, e)
		}
	}
	_, err = w.Wash(sharp, heavy, heavy)
	refused(t, "lightest", err, "lighter than 1.3")
	_, err = w.Wash(sharp, light, light)
	refused(t, "heaviest", err, "heavier than 1.6")
	_, err = w.Wash(models(t)[2], light, heavy)
	refused(t, "by size", err, "no density")
}

func TestWashabilityRefuses(t *testing.T) {
	densities, shares, ash := of("g/cm³", 1.3, 1.4), of("%", 50, 30, 20), of("%", 5, 10, 60)
	for _, test := range []struct {
		name                   string
		densities, mass, grade []quantity.Quantity
		want                   string
	}{
		{"lengths", densities, shares[:2], ash, "2 densities make 3 fractions"},
		{"no density", of("mm", 1, 2), shares, ash, "has a density"},
		{"falling", of("g/cm³", 1.4, 1.3), shares, ash, "the densities rise"},
		{"shares do not add up", densities, of("%", 50, 30, 10), ash, "add up to 90 %"},
		{"negative mass", densities, of("kg", 5, -3, 2), ash, "0 or more"},
		{"mixed", densities, []quantity.Quantity{quantity.Of(1, "kg"), pc(3), pc(3)}, ash, "of the kind of"},
		{"no mass", densities, of("kg", 0, 0, 0), ash, "no mass"},
		{"plain percent", densities, shares, of("1", 5, 10, 60), "write a percentage"},
	} {
		_, err := NewWashability(test.densities, test.mass, "ash", test.grade)
		refused(t, test.name, err, test.want)
	}
	w := coal(t)
	_, err := w.At(quantity.Of(1.7, "g/cm³"))
	refused(t, "outside", err, "between the liquids")
	_, err = w.FloatsOf(pc(4))
	refused(t, "too clean", err, "from 5 % to 26 %")
	_, err = w.FloatsOf(pc(27))
	refused(t, "too dirty", err, "from 5 % to 26 %")
	odd, err := NewWashability(densities, shares, "ash", of("%", 20, 10, 60))
	if err != nil {
		t.Fatal(err)
	}
	_, err = odd.FloatsOf(pc(18))
	refused(t, "ash falls", err, "poorer in ash")
	if _, err := NewWashability(densities, of("kg", 5, 0, 2), "ash", []quantity.Quantity{pc(3), pc(math.NaN()), pc(50)}); err != nil {
		t.Errorf("an empty fraction without a grade: %v", err)
	}
}
