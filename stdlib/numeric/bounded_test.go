package numeric

import (
	"math"
	"math/rand/v2"
	"testing"
)

func constants(n int, value float64) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = value
	}
	return out
}

func nonNegative(rows [][]float64, right []float64) Bounded {
	n := len(rows[0])
	return BoundedLeastSquares(rows, right, constants(n, 0), constants(n, math.Inf(1)), math.NaN())
}

// The answers are those of scipy.optimize.nnls: the first two from its manual,
// the others as printed in the tests of NonNegLeastSquares.jl (cd_test.jl).
func TestNonNegativeLeastSquaresAgainstScipy(t *testing.T) {
	tests := []struct {
		rows        [][]float64
		right, want []float64
	}{
		{[][]float64{{1, 0}, {1, 0}, {0, 1}}, []float64{2, 1, 1}, []float64{1.5, 1}},
		{[][]float64{{1, 0}, {1, 0}, {0, 1}}, []float64{-1, -1, -1}, []float64{0, 0}},
		{[][]float64{{0.53879488, 0.65816267}, {0.12873446, 0.98669198}, {0.24555042, 0.00598804}, {0.80491791, 0.32793762}},
			[]float64{0.888, 0.562, 0.255, 0.077}, []float64{0.15512102, 0.69328985}},
		{[][]float64{{-0.24, -0.82, 1.35, 0.36, 0.35}, {-0.53, -0.20, -0.76, 0.98, -0.54}, {0.22, 1.25, -1.60, -1.37, -1.94},
			{-0.51, -0.56, -0.08, 0.96, 0.46}, {0.48, -2.25, 0.38, 0.06, -1.29}},
			[]float64{-1.6, 0.19, 0.17, 0.31, -1.27}, []float64{2.2010416, 1.19009924, 0, 1.55001345, 0}},
	}
	for _, test := range tests {
		got := nonNegative(test.rows, test.right)
		if !got.Settled || !got.Unique {
			t.Errorf("settled %v, unique %v", got.Settled, got.Unique)
		}
		for j, want := range test.want {
			if math.Abs(got.X[j]-want) > 1e-7 {
				t.Errorf("x = %v, want %v", got.X, test.want)
				break
			}
		}
	}
}

// What makes an answer right, whatever the way to it: it lies within the
// bounds, keeps the total, and no variable could move into its range and lower
// the residual (Karush, Kuhn and Tucker).
func TestBoundedLeastSquaresMeetsTheConditionsOfABest(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for trial := range 2000 {
		m, n := 1+random.IntN(9), 1+random.IntN(9)
		rows, right := make([][]float64, m), make([]float64, m)
		for i := range rows {
			rows[i] = make([]float64, n)
			for j := range rows[i] {
				rows[i][j] = random.NormFloat64()
			}
			right[i] = random.NormFloat64()
		}
		low, high, total := constants(n, 0), constants(n, math.Inf(1)), math.NaN()
		if trial%2 == 1 {
			for j := range low {
				low[j] = random.Float64() * 0.1
				high[j] = low[j] + random.Float64()
			}
		}
		if trial%4 >= 2 {
			span := Sum(low...)
			total = span + random.Float64()*(math.Min(Sum(high...), span+2)-span)
		}
		checkBest(t, rows, right, low, high, total)
	}
}

func checkBest(t *testing.T, rows [][]float64, right, low, high []float64, total float64) {
	t.Helper()
	got := BoundedLeastSquares(rows, right, low, high, total)
	if !got.Settled {
		t.Fatalf("the search did not end: %v %v %v %v %v", rows, right, low, high, total)
	}
	if !math.IsNaN(total) && math.Abs(Sum(got.X...)-total) > 1e-12*(1+total) {
		t.Fatalf("the total is %v, want %v", Sum(got.X...), total)
	}
	mayRise, mayFall := math.Inf(-1), math.Inf(1) // the best slopes of either kind
	for j := range got.X {
		if got.X[j] < low[j] || got.X[j] > high[j] {
			t.Fatalf("x[%d] = %v lies outside %v to %v", j, got.X[j], low[j], high[j])
		}
		slope := 0.0
		for i := range rows {
			slope += rows[i][j] * got.Residual[i]
		}
		if got.X[j] < high[j] {
			mayRise = math.Max(mayRise, slope)
		}
		if got.X[j] > low[j] {
			mayFall = math.Min(mayFall, slope)
		}
	}
	if math.IsNaN(total) && (mayRise > 1e-9 || mayFall < -1e-9) || mayRise-mayFall > 1e-9 {
		t.Fatalf("a move would lower the residual: slopes %v and %v at %v", mayRise, mayFall, got.X)
	}
}

func TestBoundedLeastSquaresTellsWhenTheAnswerIsNotTheOnlyOne(t *testing.T) {
	tests := []struct {
		name  string
		rows  [][]float64
		right []float64
		want  bool
	}{
		{"twice the same column", [][]float64{{1, 1}, {2, 2}}, []float64{1, 2}, false},
		{"more unknowns than rows", [][]float64{{1, 2, 3}}, []float64{1}, false},
		{"the double is not wanted", [][]float64{{1, 0, 0}, {0, 1, 1}}, []float64{1, -1}, true},
		{"independent", [][]float64{{1, 0}, {0, 1}}, []float64{1, 2}, true},
	}
	for _, test := range tests {
		if got := nonNegative(test.rows, test.right); got.Unique != test.want {
			t.Errorf("%s: unique is %v at %v", test.name, got.Unique, got.X)
		}
	}
}

func TestBoundedLeastSquaresPanics(t *testing.T) {
	one := [][]float64{{1}}
	for name, call := range map[string]func(){
		"no variable":        func() { BoundedLeastSquares(one, []float64{1}, nil, nil, math.NaN()) },
		"short row":          func() { BoundedLeastSquares(one, []float64{1}, []float64{0, 0}, []float64{1, 1}, math.NaN()) },
		"crossed bounds":     func() { BoundedLeastSquares(one, []float64{1}, []float64{2}, []float64{1}, math.NaN()) },
		"total out of reach": func() { BoundedLeastSquares(one, []float64{1}, []float64{0}, []float64{1}, 2) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: no panic", name)
				}
			}()
			call()
		}()
	}
}
