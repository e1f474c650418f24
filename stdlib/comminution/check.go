package comminution

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// Units that the package computes in.
const (
	perMass = "J/kg"
	length  = "m"
)

// positive is a quantity as a number above 0 in a unit.
func positive(q quantity.Quantity, unit, what string) (float64, error) {
	x, err := q.Value(unit)
	if err != nil {
		return 0, fmt.Errorf("comminution: the %s, %v, is not of the kind of %s", what, q, kind(unit))
	}
	if !(x > 0) || math.IsInf(x, 0) {
		return 0, fmt.Errorf("comminution: the %s is above 0, and %v is not", what, q)
	}
	return x, nil
}

// notNegative is positive with 0 allowed.
func notNegative(q quantity.Quantity, unit, what string) (float64, error) {
	if x, err := q.Value(unit); err == nil && x == 0 {
		return 0, nil
	}
	return positive(q, unit, what)
}

func kind(unit string) string {
	if unit == "1" {
		return "a plain number"
	}
	return unit
}

// energyPerMass is an energy per mass above 0. A plain number is refused with the
// reason that readers need to hear.
func energyPerMass(q quantity.Quantity, what string) (float64, error) {
	if q.Dimension().IsOne() {
		return 0, fmt.Errorf("comminution: the %s, %v, has no unit; write kWh/t for metric tonnes or kWh/st for short tons, of which one is 1.1023 times the other", what, q)
	}
	return positive(q, perMass, what)
}

// share is a plain number or percentage from 0 to 1.
func share(q quantity.Quantity, what string) (float64, error) {
	x, err := q.Float()
	if err != nil || !(x >= 0 && x <= 1) {
		return 0, fmt.Errorf("comminution: the %s lies between 0 and 100 %%, and %v does not; write a percentage with its unit", what, q)
	}
	return x, nil
}

// percent is a share shown in per cent.
func percent(share float64) quantity.Quantity { return quantity.Of(100*share, "%") }

// inUnitOf shows q as another quantity is shown.
func inUnitOf(si float64, unit string, like quantity.Quantity) quantity.Quantity {
	q, err := quantity.Of(si, unit).InUnit(like.Unit())
	if err != nil {
		return quantity.Of(si, unit)
	}
	return q
}

// or is q, or a default where q was left out.
func or(q, otherwise quantity.Quantity) quantity.Quantity {
	if q.IsNothing() {
		return otherwise
	}
	return q
}

// nan marks what is missing in a table.
var nan = math.NaN()

// earth is standard gravity, which stands where no other is given.
var earth = quantity.Of(9.80665, "m/s²")
