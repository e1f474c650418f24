package haulage

import (
	"testing"

	"cobber/stdlib/quantity"
)

// TestUncertainGrade holds the grip to carry what is uncertain of the grade.
func TestUncertainGrade(t *testing.T) {
	grade := quantity.Must(quantity.Uniform(quantity.Of(5, "%"), quantity.Of(25, "%")))
	grip, err := Grip(quantity.Of(2, "t"), quantity.Number(0.4), grade, quantity.Quantity{})
	if err != nil || !grip.IsUncertain() {
		t.Errorf("the grip is %v (%v), and the grade is uncertain", grip, err)
	}
}
