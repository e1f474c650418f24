package numeric

import (
	"math"
	"testing"
)

func TestCurveThroughItsPoints(t *testing.T) {
	xs := []float64{0, 1, 2, 4, 7}
	ys := []float64{0, 0, 0.3, 0.9, 1}
	for name, curve := range map[string]Curve{"straight": Straight(xs, ys), "smooth": Smooth(xs, ys)} {
		for i := range xs {
			if got := curve.At(xs[i]); math.Abs(got-ys[i]) > 1e-15 {
				t.Errorf("%s: At(%v) = %v, want %v", name, xs[i], got, ys[i])
			}
		}
		for x := 0.0; x <= 7; x += 0.01 {
			y, next := curve.At(x), curve.At(math.Min(x+0.01, 7))
			if next < y-1e-15 {
				t.Fatalf("%s falls from %v to %v after x = %v", name, y, next, x)
			}
			if back := curve.Where(y); y > 0 && math.Abs(curve.At(back)-y) > 1e-14 {
				t.Fatalf("%s: Where(%v) = %v, where the curve is at %v", name, y, back, curve.At(back))
			}
		}
	}
}

func TestCurveEdges(t *testing.T) {
	curve := Straight([]float64{1, 2, 3, 5}, []float64{0.2, 0.4, 0.4, 0.8})
	tests := []struct {
		what      string
		got, want float64
	}{
		{"left of the points", curve.At(0.9), math.NaN()},
		{"right of the points", curve.At(5.1), math.NaN()},
		{"at NaN", curve.At(math.NaN()), math.NaN()},
		{"below the curve", curve.Where(0.1), math.NaN()},
		{"above the curve", curve.Where(0.9), math.NaN()},
		{"left end of a level stretch", curve.Where(0.4), 2},
		{"half way up", curve.Where(0.6), 4},
		{"first point", curve.Where(0.2), 1},
		{"last point", curve.Where(0.8), 5},
	}
	for _, test := range tests {
		same := test.got == test.want || math.Abs(test.got-test.want) < 1e-14 ||
			math.IsNaN(test.got) && math.IsNaN(test.want)
		if !same {
			t.Errorf("%s: %v, want %v", test.what, test.got, test.want)
		}
	}
}

func TestCurveRefusesBadPoints(t *testing.T) {
	tests := map[string][2][]float64{
		"one point":         {{1}, {1}},
		"unlike lengths":    {{1, 2}, {1}},
		"x stands still":    {{1, 1}, {1, 2}},
		"y falls":           {{1, 2}, {2, 1}},
		"x is not a number": {{1, math.NaN()}, {1, 2}},
	}
	for name, points := range tests {
		for kind, build := range map[string]func(xs, ys []float64) Curve{"straight": Straight, "smooth": Smooth} {
			func() {
				defer func() {
					if recover() == nil {
						t.Errorf("%s, %s: no panic", name, kind)
					}
				}()
				build(points[0], points[1])
			}()
		}
	}
}

// The textbook case for compensated addition: the true sum is 2, the naive
// one is 0 (Neumaier's own example).
func TestSumKeepsLowDigits(t *testing.T) {
	tests := []struct {
		numbers []float64
		want    float64
	}{
		{[]float64{1, 1e100, 1, -1e100}, 2},
		{nil, 0},
		{[]float64{0.1, 0.2, 0.3}, 0.6},
		{[]float64{1, math.Inf(1)}, math.Inf(1)},
	}
	for _, test := range tests {
		if got := Sum(test.numbers...); got != test.want {
			t.Errorf("Sum(%v) = %v, want %v", test.numbers, got, test.want)
		}
	}
	if got := Sum(1, math.NaN()); !math.IsNaN(got) {
		t.Errorf("a NaN among the numbers gives %v", got)
	}
}

func TestAlmostEqual(t *testing.T) {
	tests := []struct {
		a, b, relative float64
		want           bool
	}{
		{1, 1.0009, 1e-3, true}, {1, 1.002, 1e-3, false}, {0, 0, 0, true},
		{0, 1e-300, 1e-3, false}, {math.NaN(), math.NaN(), 1, false}, {-2, 2, 0.5, false},
	}
	for _, test := range tests {
		if got := AlmostEqual(test.a, test.b, test.relative); got != test.want {
			t.Errorf("AlmostEqual(%v, %v, %v) = %v", test.a, test.b, test.relative, got)
		}
	}
}
