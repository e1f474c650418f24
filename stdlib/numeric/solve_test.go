package numeric

import (
	"math"
	"testing"
)

func TestSolve(t *testing.T) {
	// Three screen streams: .9836P+.6585Q+.3967R = 886.8, .0163P+.3407Q+.1213R =
	// 92.7, P+Q+R = 1000 give 736.07579, 221.91412, 42.010085 (a student sheet on
	// two Tyler screens, online copy 392324892).
	x, condition := Solve([][]float64{{.9836, .6585, .3967}, {.0163, .3407, .1213}, {1, 1, 1}}, []float64{886.8, 92.7, 1000})
	for i, want := range []float64{736.07579, 221.91412, 42.010085} {
		if math.Abs(x[i]-want) > 1e-7*want {
			t.Errorf("x[%d] = %.9g, want %.9g", i, x[i], want)
		}
	}
	if condition < 1 || condition > 1e3 {
		t.Errorf("condition %v", condition)
	}
}

func TestSolveTellsSingularSystems(t *testing.T) {
	if x, condition := Solve([][]float64{{1, 2}, {2, 4}}, []float64{1, 2}); x != nil || !math.IsInf(condition, 1) {
		t.Errorf("x = %v, condition %v", x, condition)
	}
	if _, condition := Solve([][]float64{{1, 1}, {1, 1 + 1e-12}}, []float64{1, 2}); condition < 1e11 {
		t.Errorf("two rows that agree in twelve digits have the condition %v", condition)
	}
}

func TestSolvePanics(t *testing.T) {
	for name, call := range map[string]func(){
		"no row":    func() { Solve(nil, nil) },
		"too few":   func() { Solve([][]float64{{1, 2}}, []float64{1, 2}) },
		"short row": func() { Solve([][]float64{{1}, {2, 3}}, []float64{1, 2}) },
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
