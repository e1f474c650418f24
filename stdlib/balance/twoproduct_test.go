package balance

import (
	"math"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

func pc(x float64) quantity.Quantity { return quantity.Of(x, "%") }

func float(t *testing.T, q quantity.Quantity) float64 {
	t.Helper()
	x, err := q.Float()
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func grades(t *testing.T, f, c, tail quantity.Quantity) TwoProduct {
	t.Helper()
	b, err := Grades(f, c, tail)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// The formula is held to what it must fulfil for any three grades: the mass and
// the metal close, and the two ways to the separation efficiency agree.
func TestBalanceCloses(t *testing.T) {
	for _, test := range [][4]float64{ // feed, concentrate, tailing, pure mineral, all in %
		{10, 30, 1, 34.6}, {0.8, 25, 0.15, 34.6}, {9.6, 48.1, 1.86, 52.65}, {5, 100, 0, 100}, {50, 50.1, 1e-6, 72.4},
	} {
		b := grades(t, pc(test[0]), pc(test[1]), pc(test[2]))
		f, c, tail, m := test[0]/100, test[1]/100, test[2]/100, test[3]/100
		yield, recovery := float(t, b.Yield()), float(t, b.Recovery())
		closes := func(what string, got, want float64) {
			t.Helper()
			if math.Abs(got-want) > 1e-12*math.Abs(want) {
				t.Errorf("%v: %s: %v, want %v", test, what, got, want)
			}
		}
		closes("metal", yield*c+(1-yield)*tail, f)
		closes("recovery and loss", recovery+float(t, b.Loss()), 1)
		closes("recovery over yield", recovery/yield, float(t, b.Enrichment()))
		closes("ratio of concentration", float(t, b.Concentration())*yield, 1)
		se, err := b.SeparationEfficiency(pc(test[3]))
		if err != nil {
			t.Error(err)
			continue
		}
		// Rm − Rg, with mineral in stream x/m and gangue 1 − x/m.
		gangue := yield * (1 - c/m) / (1 - f/m)
		if math.Abs(float(t, se)-(recovery-gangue)) > 1e-12 {
			t.Errorf("%v: separation efficiency %v, Rm − Rg is %v", test, se, recovery-gangue)
		}
	}
}

func TestGradesInAnyUnit(t *testing.T) {
	for name, b := range map[string]TwoProduct{
		"g/t":       grades(t, quantity.Of(2, "g/t"), quantity.Of(40, "g/t"), quantity.Of(0.5, "g/t")),
		"mixed":     grades(t, quantity.Of(2, "ppm"), quantity.Of(0.004, "%"), quantity.Of(0.5, "g/t")),
		"fractions": grades(t, quantity.Number(2e-6), quantity.Number(4e-5), quantity.Number(5e-7)),
	} {
		// (2 − 0.5)/(40 − 0.5) = 3/79 by hand.
		if got := float(t, b.Yield()); math.Abs(got-3.0/79) > 1e-12 {
			t.Errorf("%s: yield %v, want 3/79", name, got)
		}
	}
}

// The poorer product may be called the concentrate, as where an impurity is
// assayed: 3 % of it in the feed, 1 % in the product, 11 % in the reject.
func TestImpurity(t *testing.T) {
	b := grades(t, pc(3), pc(1), pc(11))
	if got := float(t, b.Yield()); math.Abs(got-0.8) > 1e-12 {
		t.Errorf("yield %v, want 0.8", got)
	}
	if got := float(t, b.Recovery()); math.Abs(got-0.8/3) > 1e-12 {
		t.Errorf("the product carries %v of the impurity, want 0.2667", got)
	}
}

func TestGradesRefuse(t *testing.T) {
	tests := []struct {
		name            string
		feed, conc, tip quantity.Quantity
		want            string
	}{
		{"feed below the tailing", pc(1), pc(30), pc(2), "feed 1 %, concentrate 30 %, tailing 2 %"},
		{"feed above the concentrate", pc(40), pc(30), pc(2), "lies between"},
		{"nothing separated", pc(10), pc(10), pc(10), "lies between"},
		{"feed as rich as the concentrate", pc(30), pc(30), pc(2), "lies between"},
		{"feed as poor as the tailing", pc(2), pc(30), pc(2), "lies between"},
		{"percent without its unit", quantity.Number(10), quantity.Number(30), quantity.Number(1), "write a percentage with its unit"},
		{"a mass", quantity.Of(10, "kg"), pc(30), pc(1), "grade of the feed is a share"},
		{"below 0", pc(10), pc(30), pc(-1), "grade of the tailing lies between 0"},
		{"not a number", pc(10), pc(math.NaN()), pc(1), "grade of the concentrate lies"},
	}
	for _, test := range tests {
		_, err := Grades(test.feed, test.conc, test.tip)
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: error %v, want one with %q", test.name, err, test.want)
		}
	}
}

func TestSeparationEfficiencyRefuses(t *testing.T) {
	b := grades(t, pc(10), pc(30), pc(1))
	for _, pure := range []quantity.Quantity{pc(29), pc(9), pc(101), quantity.Of(1, "g"), pc(math.NaN())} {
		if _, err := b.SeparationEfficiency(pure); err == nil {
			t.Errorf("a pure mineral of %v: no error", pure)
		}
	}
}

// Sensitivities against central differences of the two results.
func TestSensitivityIsTheDerivative(t *testing.T) {
	const step = 1e-6
	f, c, tail := 0.096, 0.481, 0.0186
	results := func(f, c, tail float64) (yield, recovery float64) {
		b := grades(t, quantity.Number(f), quantity.Number(c), quantity.Number(tail))
		return float(t, b.Yield()), float(t, b.Recovery())
	}
	b := grades(t, quantity.Number(f), quantity.Number(c), quantity.Number(tail))
	y, r := b.YieldSensitivity(), b.RecoverySensitivity()
	tests := []struct {
		grade    string
		df, dc   float64
		dt       float64
		yield, r float64
	}{
		{"feed", step, 0, 0, y.Feed, r.Feed},
		{"concentrate", 0, step, 0, y.Concentrate, r.Concentrate},
		{"tailing", 0, 0, step, y.Tailing, r.Tailing},
	}
	for _, test := range tests {
		upY, upR := results(f*(1+test.df), c*(1+test.dc), tail*(1+test.dt))
		downY, downR := results(f*(1-test.df), c*(1-test.dc), tail*(1-test.dt))
		if want := math.Log(upY/downY) / (2 * step); math.Abs(test.yield-want) > 1e-6 {
			t.Errorf("yield by %s: %v, the difference gives %v", test.grade, test.yield, want)
		}
		if want := math.Log(upR/downR) / (2 * step); math.Abs(test.r-want) > 1e-6 {
			t.Errorf("recovery by %s: %v, the difference gives %v", test.grade, test.r, want)
		}
	}
}

func TestTwoProductShowsItself(t *testing.T) {
	got := grades(t, pc(10), pc(30), pc(1)).String()
	want := strings.TrimPrefix(`
stream       mass (%)  grade (%)  metal (%)
───────────  ────────  ─────────  ─────────
feed           100.00         10     100.00
concentrate     31.03         30      93.10
tailing         68.97          1       6.90`, "\n")
	if got != want {
		t.Errorf("the table is\n%s\nwant\n%s", got, want)
	}
}
