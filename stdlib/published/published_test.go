package published

import (
	"math"
	"testing"

	"cobber/stdlib/quantity"
)

// near reports a value that is further from the published one than the relative
// tolerance allows.
func near(t *testing.T, what string, got, published, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-published) <= tolerance*math.Abs(published)) {
		t.Errorf("%s: %.8g, published %.8g (tolerance %g)", what, got, published, tolerance)
	}
}

// within is near with an absolute tolerance.
func within(t *testing.T, what string, got, published, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-published) <= tolerance) {
		t.Errorf("%s: %.8g, published %.8g ± %g", what, got, published, tolerance)
	}
}

func in(t *testing.T, q quantity.Quantity, unit string) float64 {
	t.Helper()
	x, err := q.Value(unit)
	if err != nil {
		t.Fatal(err)
	}
	return x
}
