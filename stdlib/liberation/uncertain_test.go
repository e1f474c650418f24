package liberation

import (
	"testing"

	"cobber/stdlib/quantity"
)

// TestUncertainBeta holds the parameters to carry what is uncertain of the grades.
func TestUncertainBeta(t *testing.T) {
	mean := quantity.Must(quantity.Uniform(quantity.Of(28, "%"), quantity.Of(32, "%")))
	a, b, err := Beta(mean, quantity.Of(20, "%"))
	if err != nil || !a.IsUncertain() || !b.IsUncertain() {
		t.Errorf("a is %v and b is %v (%v), and the mean grade is uncertain", a, b, err)
	}
}
