package published

import (
	"testing"

	"cobber/stdlib/balance"
	"cobber/stdlib/quantity"
)

func pc(x float64) quantity.Quantity { return quantity.Of(x, "%") }

// TestTwoProduct recomputes recoveries, mass pulls and enrichments that others
// have printed for three given grades.
func TestTwoProduct(t *testing.T) {
	tests := []struct {
		source                            string
		feed, concentrate, tailing        float64 // %
		recovery, yield, enrichment, conc float64 // %, %, ratio, ratio; 0: not printed
		tolerance                         float64 // relative
	}{
		{"GATE examination item with its key: copper ore of 10 % Cu; the key prints 93 %, C/F = 0.310345 and K = 3.2222 follow",
			10, 30, 1, 93.1034, 31.0345, 3, 3.2222, 1e-5},
		{"B.A. Wills, T.J. Napier-Munn, Mineral Processing Technology, 7th ed., ch. 3 (values from memory)",
			0.8, 25, 0.15, 81.7, 2.62, 31.25, 0, 2e-3},
		{"NPTEL course 113104060, lecture 12, problem 1; the text prints f = 0.8 but its results are those of f = 0.9",
			0.9, 26, 0.16, 82.73, 2.86, 28.9, 0, 2e-3},
	}
	for _, test := range tests {
		b, err := balance.Grades(pc(test.feed), pc(test.concentrate), pc(test.tailing))
		if err != nil {
			t.Errorf("%s: %v", test.source, err)
			continue
		}
		near(t, test.source+": recovery, %", in(t, b.Recovery(), "%"), test.recovery, test.tolerance)
		near(t, test.source+": yield, %", in(t, b.Yield(), "%"), test.yield, test.tolerance)
		near(t, test.source+": enrichment", in(t, b.Enrichment(), "1"), test.enrichment, test.tolerance)
		if test.conc != 0 {
			near(t, test.source+": ratio of concentration", in(t, b.Concentration(), "1"), test.conc, test.tolerance)
		}
	}
}

// TestRecoveryFromTonnages: 100 t/h at 1 % become 4.5 t/h at 20 %; the recovery
// is 90 % (a standard introduction quoted at sinonine.blogspot.com, 2020/11).
// The tailing grade follows from the closure of the metal.
func TestRecoveryFromTonnages(t *testing.T) {
	tailing := pc(100 * (100*0.01 - 4.5*0.20) / (100 - 4.5))
	b, err := balance.Grades(pc(1), pc(20), tailing)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "recovery, %", in(t, b.Recovery(), "%"), 90, 1e-12)
	near(t, "yield, %", in(t, b.Yield(), "%"), 4.5, 1e-12)
}

// TestErrorAmplification holds the sensitivities against the short forms for
// equal relative errors of the assays, √2(1−Y)/|R−Y| for the yield and
// √2(1−R)/|R−Y| for the recovery (abstract of chemrxiv 6571384a29a13c4d47d5b5fd,
// 2023). They hold where the yield is small; the exact form for the recovery is
// (1−R)/|R−Y| · √(1 + Y² + (1−Y)²), which follows from the derivatives.
func TestErrorAmplification(t *testing.T) {
	b, err := balance.Grades(pc(1), pc(60), pc(0.9))
	if err != nil {
		t.Fatal(err)
	}
	yield, recovery := in(t, b.Yield(), "1"), in(t, b.Recovery(), "1")
	near(t, "yield", b.YieldSensitivity().Together(), 1.4142135623730951*(1-yield)/(recovery-yield), 0.06)
	near(t, "recovery", b.RecoverySensitivity().Together(), 1.4142135623730951*(1-recovery)/(recovery-yield), 0.002)
}

// TestThreeProducts: 3500 t/d of lead-zinc ore of 6.2 % Pb and 8.2 % Zn give a
// lead concentrate (71.8, 6.4 %), a zinc concentrate (1.4, 57.8 %) and a tailing
// (0.3, 0.8 %). A solved class sheet (online copy 421857882) prints yields and
// tonnages to nine digits; the recoveries follow from them.
func TestThreeProducts(t *testing.T) {
	grades := func(values ...float64) []quantity.Quantity { return quantities("%", values...) }
	b, err := balance.Products([]string{"lead concentrate", "zinc concentrate", "tailing"},
		balance.Metal{Name: "Pb", Feed: pc(6.2), Products: grades(71.8, 1.4, 0.3)},
		balance.Metal{Name: "Zn", Feed: pc(8.2), Products: grades(6.4, 57.8, 0.8)})
	if err != nil {
		t.Fatal(err)
	}
	feed := quantity.Of(3500, "t/d")
	for i, published := range []struct{ yield, tonnes float64 }{
		{0.08064207, 282.247244}, {0.121901832, 426.6564111}, {0.797456099, 2791.096345},
	} {
		near(t, "yield", in(t, b.Yields()[i], "1"), published.yield, 1e-8)
		near(t, "t/d", in(t, feed.Mul(b.Yields()[i]), "t/d"), published.tonnes, 1e-8)
	}
	for metal, published := range map[string]struct {
		product  int
		recovery float64
	}{"Pb": {0, 93.3887}, "Zn": {1, 85.9259}} {
		recoveries, err := b.Recoveries(metal)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "recovery of "+metal+", %", in(t, recoveries[published.product], "%"), published.recovery, 1e-6)
	}
}
