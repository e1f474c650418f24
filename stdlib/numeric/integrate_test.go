package numeric

import (
	"math"
	"testing"
)

// Integrals whose values are known in closed form.
func TestIntegrate(t *testing.T) {
	for _, test := range []struct {
		what      string
		f         func(float64) float64
		low, high float64
		want      float64
	}{
		{"a polynomial", func(x float64) float64 { return math.Pow(x, 7) }, 0, 2, 32},
		{"a sine", math.Sin, 0, math.Pi, 2},
		{"an exponential", func(x float64) float64 { return math.Exp(-x) }, 0, 40, 1},
		{"an arctangent", func(x float64) float64 { return 1 / (1 + x*x) }, 0, 1, math.Pi / 4},
		{"nothing", math.Exp, 3, 3, 0},
	} {
		if got := Integrate(test.f, test.low, test.high, 8); math.Abs(got-test.want) > 1e-13*(1+math.Abs(test.want)) {
			t.Errorf("%s: %v, want %v", test.what, got, test.want)
		}
	}
	defer func() {
		if recover() == nil {
			t.Error("limits out of order: no panic")
		}
	}()
	Integrate(math.Sin, 1, 0, 3)
}
