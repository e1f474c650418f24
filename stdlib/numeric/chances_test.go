package numeric

import (
	"math"
	"testing"
)

// Values that statistical tables print (normal, Student's t, χ²; for instance
// NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7, from memory).
func TestQuantiles(t *testing.T) {
	for _, test := range []struct {
		what      string
		got, want float64
		digits    float64
	}{
		{"z 0.975", NormalQuantile(0.975), 1.960, 5e-4},
		{"z 0.995", NormalQuantile(0.995), 2.576, 5e-4},
		{"t 0.975, 1", StudentQuantile(0.975, 1), 12.706, 5e-4},
		{"t 0.975, 10", StudentQuantile(0.975, 10), 2.228, 5e-4},
		{"t 0.95, 30", StudentQuantile(0.95, 30), 1.697, 5e-4},
		{"χ² 0.95, 1", ChiSquareQuantile(0.95, 1), 3.841, 5e-4},
		{"χ² 0.95, 4", ChiSquareQuantile(0.95, 4), 9.488, 5e-4},
		{"χ² 0.95, 5", ChiSquareQuantile(0.95, 5), 11.070, 5e-4},
		{"χ² above 9.488, 4", ChiSquareAbove(9.488, 4), 0.05, 5e-5},
		{"χ² 0.99, 300", ChiSquareQuantile(0.99, 300), 359.906, 5e-3},
	} {
		if math.Abs(test.got-test.want) > test.digits {
			t.Errorf("%s: %v, tables print %v", test.what, test.got, test.want)
		}
	}
	for name, wrong := range map[string]func(){
		"p": func() { NormalQuantile(1) }, "p of t": func() { StudentQuantile(0, 3) }, "freedom": func() { ChiSquareQuantile(0.5, 0) },
		"freedom of t": func() { StudentQuantile(0.5, 0) }, "above": func() { ChiSquareAbove(1, 0) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: no panic", name)
				}
			}()
			wrong()
		}()
	}
}
