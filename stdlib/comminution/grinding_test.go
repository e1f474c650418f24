package comminution

import (
	"math"
	"testing"

	"cobber/stdlib/quantity"
)

func all(of func(float64) quantity.Quantity, values ...float64) []quantity.Quantity {
	out := make([]quantity.Quantity, len(values))
	for i, x := range values {
		out[i] = of(x)
	}
	return out
}

func minutes(x float64) quantity.Quantity { return quantity.Of(x, "min") }

// geometric are n upper sizes that fall by √2 from 4 mm.
func geometric(n int) []quantity.Quantity {
	out := make([]quantity.Quantity, n)
	for i := range out {
		out[i] = mm(4 * math.Exp2(-float64(i)/2))
	}
	return out
}

// Where fragments are finer than x in proportion to x^α, and rates go as x^α too, the
// share coarser than each size decays by itself, as exp(−S(x)·t) (A.M. Gaudin, T.P.
// Meloy, Trans. AIME 223 (1962) 43). On classes of a ratio r the rate is that of the
// class above, r^α as fast.
func TestSelfSimilarGrinding(t *testing.T) {
	const a, slope, time = 0.5, 0.9, 7.0
	uppers := geometric(14)
	g, err := Kinetics(uppers, Selection{Rate: quantity.Of(a, "1/min"), Exponent: num(slope)},
		Breakage{Fines: num(1), Fine: num(slope), Coarse: num(slope)})
	if err != nil {
		t.Fatal(err)
	}
	feed := all(num, 0.3, 0.2, 0.1, 0.1, 0.1, 0, 0.05, 0.05, 0, 0, 0.05, 0, 0, 0.05)
	product, err := g.Batch(feed, minutes(time))
	if err != nil {
		t.Fatal(err)
	}
	before, after, total := 0.0, 0.0, 0.0
	for i, q := range product {
		before, after, total = before+feed[i].SI(), after+q.SI(), total+q.SI()
		if i == len(product)-1 {
			break
		}
		lower := uppers[i+1].SI() * 1e3 * math.Sqrt2
		near(t, "coarser", after, before*math.Exp(-a*math.Pow(lower, slope)*time), 1e-9)
	}
	near(t, "mass", total, 1, 1e-12)
}

// A row of many small tanks is a batch; one tank leaves more of the coarsest.
func TestTanksBecomeABatch(t *testing.T) {
	g, err := Kinetics(geometric(10), Selection{Rate: quantity.Of(0.4, "1/min"), Exponent: num(0.8), Large: mm(3), Fall: num(2.5)},
		Breakage{Fines: num(0.6), Fine: num(0.7), Coarse: num(4)})
	if err != nil {
		t.Fatal(err)
	}
	feed := make([]quantity.Quantity, 10)
	for i := range feed {
		feed[i] = quantity.Of(0, "t/h")
	}
	feed[0] = quantity.Of(10, "t/h")
	batch, err := g.Batch(feed, minutes(6))
	if err != nil {
		t.Fatal(err)
	}
	many, err := g.Mixed(feed, minutes(6), 20000)
	if err != nil {
		t.Fatal(err)
	}
	one, err := g.Mixed(feed, minutes(6), 1)
	if err != nil {
		t.Fatal(err)
	}
	total := 0.0
	for i := range batch {
		near(t, "tanks and batch", many[i].SI(), batch[i].SI(), 2e-3)
		total += one[i].Shown()
	}
	near(t, "mass", total, 10, 1e-12)
	if one[0].SI() <= batch[0].SI() {
		t.Error("a mixed mill leaves no more coarse than a batch")
	}
	// Two batches in a row are one of the sum, also where the series must be cut.
	long, err := g.Batch(feed, minutes(2000))
	if err != nil {
		t.Fatal(err)
	}
	half, err := g.Batch(feed, minutes(1000))
	if err != nil {
		t.Fatal(err)
	}
	again, err := g.Batch(half, minutes(1000))
	for i := range long {
		if err != nil || math.Abs(long[i].SI()-again[i].SI()) > 1e-9 {
			t.Fatalf("class %d: %v and %v, %v", i, long[i], again[i], err)
		}
	}
}

func TestFitOfGrinding(t *testing.T) {
	uppers := geometric(9)
	known := Breakage{Fines: num(0.55), Fine: num(0.7), Coarse: num(3.5)}
	g, err := Kinetics(uppers, Selection{Rate: quantity.Of(0.3, "t/kWh"), Exponent: num(0.9)}, known)
	if err != nil {
		t.Fatal(err)
	}
	feed := all(percent, 0.6, 0.2, 0.1, 0.05, 0.05, 0, 0, 0, 0)
	var tests []BatchTest
	for k, e := range []float64{1, 3, 8} {
		shares, err := g.Batch(feed, kwh(e))
		if err != nil {
			t.Fatal(err)
		}
		for i := range shares { // errors of a few tenths of a per cent that cancel
			sign := float64(1 - 2*((i+k)%2))
			if i < 8 {
				shares[i] = shares[i].Add(percent(0.001 * sign))
			}
		}
		tests = append(tests, BatchTest{kwh(e), shares})
	}
	both, err := FitGrinding(uppers, feed, tests...)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "a", value(t, both.Selection.Rate, nil, "t/kWh"), 0.3, 0.05)
	near(t, "α", both.Selection.Exponent.SI(), 0.9, 0.05)
	near(t, "γ", both.Breakage.Fine.SI(), 0.7, 0.1)
	held, err := FitSelection(uppers, feed, known, tests...)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "a with the breakage held", value(t, held.Selection.Rate, nil, "t/kWh"), 0.3, 0.01)
	if !held.Deviations[2].IsNaN() || both.Deviations[2].IsNaN() || both.Table().Rows() != 6 {
		t.Errorf("deviations %v and %v", held.Deviations, both.Deviations)
	}
	_, err = FitSelection(uppers, feed, known, BatchTest{kwh(1), feed[:3]})
	refused(t, "too few shares", err, "9 classes")
}

func TestGrindingRefuses(t *testing.T) {
	uppers := geometric(3)
	_, err := NewGrinding(uppers, all(num, 1, 1, 0), nil)
	refused(t, "no fragments", err, "lists of fragments")
	rates := []quantity.Quantity{quantity.Of(1, "1/min"), quantity.Of(1, "1/min"), quantity.Of(0, "1/min")}
	_, err = NewGrinding(uppers, rates, [][]quantity.Quantity{all(num, 0.5, 0.4), all(num, 1)})
	refused(t, "fragments lost", err, "add up")
	g, err := NewGrinding(uppers, rates, [][]quantity.Quantity{all(num, 0.5, 0.5), all(num, 1)})
	if err != nil {
		t.Fatal(err)
	}
	_, err = g.Batch(all(num, 1, 0, 0), kwh(1))
	refused(t, "energy for rates per time", err, "time")
}

func BenchmarkBatch(b *testing.B) {
	g, err := Kinetics(geometric(12), Selection{Rate: quantity.Of(0.5, "1/min"), Exponent: num(0.8)}, Breakage{Fines: num(0.6), Fine: num(0.7), Coarse: num(4)})
	if err != nil {
		b.Fatal(err)
	}
	flows := make([]float64, 12)
	flows[0] = 1
	for b.Loop() {
		g.batch(flows, 600)
	}
}
