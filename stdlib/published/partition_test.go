package published

import (
	"testing"

	"cobber/stdlib/partition"
	"cobber/stdlib/quantity"
)

// TestScreenEffectiveness: W.L. McCabe, J.C. Smith, P. Harriott, Unit Operations
// of Chemical Engineering, 7th ed., example 30.1 (inputs and formula seen in a
// companion of the book, printed results from memory): a 10-mesh screen, coarse
// 47 % in the feed, 85 % in the oversize, 19.5 % in the undersize.
func TestScreenEffectiveness(t *testing.T) {
	s, err := partition.Screen(pc(53), pc(15), pc(80.5))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "D/F", 1-in(t, s.Undersize(), "1"), 0.420, 1e-3)
	near(t, "B/F", in(t, s.Undersize(), "1"), 0.580, 1e-3)
	near(t, "effectiveness", in(t, s.Effectiveness(), "1"), 0.669, 1e-3)
}

// TestScreenOfFood: a question bank citing R.L. Earle, Unit Operations in Food
// Processing: 40 % fines in the feed, 5 % in the oversize, 90 % in the
// undersize; effectiveness 0.863 (seen at second hand).
func TestScreenOfFood(t *testing.T) {
	s, err := partition.Screen(pc(40), pc(5), pc(90))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "effectiveness", in(t, s.Effectiveness(), "1"), 0.863, 1e-3)
}

// TestPlittImperfection: for the Rosin–Rammler partition the imperfection is
// about 0.77/m (L.R. Plitt, 1971 and 1976; value from memory).
func TestPlittImperfection(t *testing.T) {
	for _, m := range []float64{2, 2.5, 3, 4} {
		model, err := partition.NewModel(partition.RosinRammler, quantity.Of(100, "µm"), quantity.Number(m))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "I·m", in(t, model.Imperfection(), "1")*m, 0.77, 5e-3)
	}
}

// TestTinByHeavyLiquids: 2000 g of a tin ore in nine fractions by density; an
// examination question (askfilo.com, "heavy media separation technique")
// prints the head of 1.12 % Sn and 68.6 % of the feed discarded as floats at
// 2.75, of which the data give 68.48 %. The same test in B.A. Wills, Mineral
// Processing Technology, ch. 11, prints 96.19 % of the tin in the sinks (value
// from memory).
func TestTinByHeavyLiquids(t *testing.T) {
	w, err := partition.NewWashability(
		quantities("g/cm³", 2.55, 2.60, 2.65, 2.70, 2.75, 2.80, 2.85, 2.90),
		quantities("g", 31.4, 184.4, 522.2, 393.4, 238.2, 218.4, 157.4, 51, 203.6), "Sn",
		quantities("%", 0.003, 0.04, 0.04, 0.04, 0.17, 0.34, 0.37, 1.3, 9.6))
	if err != nil {
		t.Fatal(err)
	}
	cut, err := w.At(quantity.Of(2.75, "g/cm³"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "head, % Sn", in(t, w.Grade(), "%"), 1.12, 2e-3)
	near(t, "floats, %", in(t, cut.Floats, "%"), 68.6, 2e-3)
	near(t, "tin in the sinks, %", in(t, cut.SinksContent(), "%"), 96.19, 1e-3)
}

// TestQuartilesOfModels: in both forms given by Ep the shares at one Ep below
// and above the cut are a quarter and three quarters; the probable error of a
// normal distribution is 0.67449 of its standard deviation (any table of it).
func TestQuartilesOfModels(t *testing.T) {
	for _, form := range []partition.Form{partition.Whiten, partition.Gaussian} {
		m, err := partition.NewModel(form, quantity.Of(1.5, "g/cm³"), quantity.Of(0.04, "g/cm³"))
		if err != nil {
			t.Fatal(err)
		}
		for at, published := range map[float64]float64{1.46: 25, 1.5: 50, 1.54: 75} {
			share, err := m.Share(quantity.Of(at, "g/cm³"))
			if err != nil {
				t.Fatal(err)
			}
			near(t, form.String(), in(t, share, "%"), published, 1e-9)
		}
	}
	m, err := partition.NewModel(partition.Gaussian, quantity.Of(2, "g/cm³"), quantity.Of(0.067449, "g/cm³"))
	if err != nil {
		t.Fatal(err)
	}
	share, err := m.Share(quantity.Of(2.1, "g/cm³")) // one standard deviation above
	if err != nil {
		t.Fatal(err)
	}
	near(t, "Gaussian at one σ, %", in(t, share, "%"), 84.134, 1e-4)
}
