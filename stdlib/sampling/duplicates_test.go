package sampling

import (
	"math"
	"math/rand/v2"
	"testing"

	"cobber/stdlib/quantity"
)

func of(unit string, values ...float64) []quantity.Quantity {
	all := make([]quantity.Quantity, len(values))
	for i, x := range values {
		all[i] = quantity.Of(x, unit)
	}
	return all
}

func TestDuplicatesByHand(t *testing.T) {
	p, err := Duplicates(of("g/t", 1, 2, 4), of("ppm", 1.2, 1.8, 4.4))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean", value(t, p.Mean, nil, "g/t"), 14.4/6, 1e-12)
	near(t, "deviation", value(t, p.Deviation, nil, "g/t"), math.Sqrt((0.04+0.04+0.16)/6), 1e-12)
	relative := math.Pow(0.2/1.1, 2) + math.Pow(0.2/1.9, 2) + math.Pow(0.4/4.2, 2)
	near(t, "relative", value(t, p.Relative, nil, "1"), math.Sqrt(relative/6), 1e-12)
	near(t, "bias", value(t, p.Bias, nil, "g/t"), -0.4/3, 1e-12)
	if p.IsBiased() {
		t.Error("three pairs either way are called biased")
	}
	p, err = Duplicates(of("%", 10, 20, 30, 40), of("%", 9, 19.1, 28.9, 39))
	if err != nil || !p.IsBiased() {
		t.Errorf("1 %% more throughout is not called biased (%v)", err)
	}
	_, err = Duplicates(of("%", 1), of("%", 1))
	refused(t, "one pair", err, "2 pairs")
	_, err = Duplicates(of("%", 1, 2), of("kg", 1, 2))
	refused(t, "kinds", err, "pair 1")
	_, err = Duplicates(of("%", 1, math.NaN()), of("%", 1, 2))
	refused(t, "missing", err, "pair 2")
}

// Simulated pairs of known errors: the methods find the errors again within
// what so many pairs allow. The draws are fixed by their seed.
func TestSimulatedDuplicates(t *testing.T) {
	draw := rand.New(rand.NewPCG(7, 11))
	const s0, k, n = 0.05, 0.08, 44000
	var a, b []quantity.Quantity
	for range n {
		c := 1 + 9*draw.Float64()
		s := s0 + k*c
		a = append(a, quantity.Of(c+s*draw.NormFloat64(), "g/t"))
		b = append(b, quantity.Of(c+s*draw.NormFloat64(), "g/t"))
	}
	zero, slope, err := ThompsonHowarth(a, b)
	// A group's median is good to a third of itself, so 4000 groups over 9 g/t
	// leave a standard error of 0.001 in the slope; three of these are allowed.
	near(t, "slope", value(t, slope, err, "1"), k, 0.04)
	if got := value(t, zero, err, "g/t"); math.Abs(got-s0) > 0.02 {
		t.Errorf("at zero %v, want %v", got, s0)
	}
	_, _, err = ThompsonHowarth(a[:40], b[:40])
	refused(t, "few pairs", err, "50 pairs")
	level := make([]quantity.Quantity, 60)
	for i := range level {
		level[i] = quantity.Of(3, "%")
	}
	_, _, err = ThompsonHowarth(level, level)
	refused(t, "one grade", err, "nothing grows")
}

func TestIncrements(t *testing.T) {
	for _, test := range []struct {
		spread, margin, level float64
		want                  int
	}{{2, 0.5, 0.95, 62}, {1, 1, 0.95, 4}, {0.1, 1, 0.95, 1}} {
		n, err := Increments(pc(test.spread), pc(test.margin), test.level)
		if err != nil || n != test.want {
			t.Errorf("%v: %v increments (%v)", test, n, err)
		}
		// One fewer would not do; this many does.
		z := 1.959964
		if n > 1 && !(z*test.spread/math.Sqrt(float64(n)) <= test.margin && z*test.spread/math.Sqrt(float64(n-1)) > test.margin) {
			t.Errorf("%v: %d is not the least number", test, n)
		}
	}
	// t for 9 degrees of freedom is 2.262: (2.262·2/0.5)² = 81.9
	n, err := IncrementsFromPilot(pc(2), 10, pc(0.5), 0.95)
	if err != nil || n != 82 {
		t.Errorf("from a pilot: %d (%v)", n, err)
	}
	// sI² = 9, sT² = 0.05, P = 1: one sub-lot 36/(1 − 0.2) = 45; ten 36/(10 − 0.2) → 4
	for lots, want := range map[int]int{1: 45, 10: 4} {
		n, err := IncrementsPerSubLot(pc(3), pc(math.Sqrt(0.05)), pc(1), lots)
		if err != nil || n != want {
			t.Errorf("%d sub-lots: %d (%v)", lots, n, err)
		}
	}
	_, err = IncrementsPerSubLot(pc(3), pc(1), pc(1), 4)
	refused(t, "testing too poor", err, "5 sub-lots or more")
	_, err = Increments(pc(2), quantity.Of(1, "kg"), 0.95)
	refused(t, "kinds", err, "of the kind of the margin")
	_, err = Increments(pc(2), pc(1), 95)
	refused(t, "level", err, "between 0 and 1")
	_, err = Increments(pc(2), pc(1e-9), 0.95)
	refused(t, "too many", err, "widen the margin")
	_, err = IncrementsFromPilot(pc(2), 1, pc(1), 0.95)
	refused(t, "pilot", err, "two increments")
}
