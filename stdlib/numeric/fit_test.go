package numeric

import (
	"math"
	"testing"
)

// The certified parameters, standard deviations and residual sums of squares of
// NIST's Statistical Reference Datasets for nonlinear regression (Misra1a,
// BoxBOD, Rat43), written from memory; that data and results close on each other
// in nine digits says that the memory is right.
func TestFitAgainstCertifiedValues(t *testing.T) {
	ages := make([]float64, 15)
	for i := range ages {
		ages[i] = float64(i + 1)
	}
	tests := []struct {
		name                   string
		x, y                   []float64
		model                  func(b []float64, x float64) float64
		starts                 [][]float64
		parameters, deviations []float64
		sum                    float64
	}{
		{"Misra1a",
			[]float64{77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0},
			[]float64{10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78},
			func(b []float64, x float64) float64 { return b[0] * (1 - math.Exp(-b[1]*x)) },
			[][]float64{{500, 1e-4}, {250, 5e-4}},
			[]float64{238.94212918, 5.5015643181e-4}, []float64{2.7070075241, 7.2668688436e-6}, 0.12455138894},
		{"BoxBOD",
			[]float64{1, 2, 3, 5, 7, 10}, []float64{109, 149, 149, 191, 213, 224},
			func(b []float64, x float64) float64 { return b[0] * (1 - math.Exp(-b[1]*x)) },
			[][]float64{{100, 0.75}},
			[]float64{213.80940889, 0.54723748542}, []float64{12.354515176, 0.10455993237}, 1168.0088766},
		{"Rat43", ages,
			[]float64{16.08, 33.83, 65.80, 97.20, 191.55, 326.20, 386.87, 520.53, 590.03, 651.92, 724.93, 699.56, 689.96, 637.56, 717.41},
			func(b []float64, x float64) float64 { return b[0] / math.Pow(1+math.Exp(b[1]-b[2]*x), 1/b[3]) },
			[][]float64{{700, 5, 0.75, 1.3}},
			[]float64{699.64151270, 5.2771253025, 0.75962938329, 1.2792483859},
			[]float64{16.302297817, 2.0828735829, 0.19566123451, 0.68761936385}, 8786.4049080},
	}
	for _, test := range tests {
		for _, start := range test.starts {
			got := Fit(func(b, into []float64) {
				for i := range into {
					into[i] = test.model(b, test.x[i]) - test.y[i]
				}
			}, start, len(test.x))
			if !got.Settled || got.Freedom != len(test.x)-len(start) {
				t.Errorf("%s from %v: settled %v, freedom %d", test.name, start, got.Settled, got.Freedom)
			}
			for j := range start {
				if !AlmostEqual(got.Parameters[j], test.parameters[j], 1e-7) || !AlmostEqual(got.Deviations[j], test.deviations[j], 1e-6) {
					t.Errorf("%s from %v: b%d = %.10g ± %.10g, certified %.10g ± %.10g", test.name, start, j+1,
						got.Parameters[j], got.Deviations[j], test.parameters[j], test.deviations[j])
				}
			}
			if !AlmostEqual(got.Sum, test.sum, 1e-9) {
				t.Errorf("%s from %v: sum of squares %.10g, certified %.10g", test.name, start, got.Sum, test.sum)
			}
		}
	}
}

func TestFitSaysWhatItCannotKnow(t *testing.T) {
	exact := Fit(func(b, into []float64) { into[0], into[1] = b[0]-3, b[1]+4 }, []float64{1, 1}, 2)
	if exact.Parameters[0] != 3 || exact.Parameters[1] != -4 || !math.IsNaN(exact.Deviations[0]) {
		t.Errorf("two residuals for two parameters: %v ± %v", exact.Parameters, exact.Deviations)
	}
	tied := Fit(func(b, into []float64) {
		for i := range into {
			into[i] = b[0]*b[1] - float64(i)
		}
	}, []float64{1, 1}, 4)
	if !AlmostEqual(tied.Parameters[0]*tied.Parameters[1], 1.5, 1e-9) || !math.IsNaN(tied.Deviations[0]) {
		t.Errorf("a product alone: %v ± %v", tied.Parameters, tied.Deviations)
	}
}

func TestFitPanics(t *testing.T) {
	for name, call := range map[string]func(){
		"no parameter":     func() { Fit(func(b, into []float64) {}, nil, 1) },
		"too few":          func() { Fit(func(b, into []float64) {}, []float64{1, 2}, 1) },
		"start not finite": func() { Fit(func(b, into []float64) { into[0] = math.NaN() }, []float64{1}, 1) },
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
