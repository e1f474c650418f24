package size

import (
	"fmt"
	"math"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
)

// Loss is the mass lost in sieving as a share of the mass put on the stack,
//
//	loss = (before − Σ retained) / before
//
// in %. It is below 0 if more was weighed after sieving than before.
//
// Units: before is a mass, as the classes are.
//
// Range: any mass above 0.
//
// Errors: before is of another dimension or not above 0.
//
// Source: ISO 2591-1 asks for this figure with every sieve analysis.
func (d Distribution) Loss(before quantity.Quantity) (quantity.Quantity, error) {
	started, err := before.Value(d.masses[0].Unit().String())
	if err != nil {
		return quantity.Quantity{}, fmt.Errorf("size: the mass before sieving, %v, is not of the kind of the masses retained, %v", before, d.Mass())
	}
	if !(started > 0) {
		return quantity.Quantity{}, fmt.Errorf("size: the mass before sieving is above 0, and %v is not", before)
	}
	if before.IsUncertain() || d.isUncertain() {
		return before.Sub(d.Mass()).Div(before).In("%")
	}
	return percent((started - numeric.Sum(d.weights...)) / started), nil
}

// CheckLoss is nil if the masses retained add up to the mass before sieving
// within a tolerance you state, as a share of it.
//
// Units: before is a mass; tolerance is a share, as in 1 %.
//
// Range: common tolerances are 2 % (ISO 2591-1) and 0.3 % (ASTM C136); both
// from memory.
//
// Errors: the loss or gain is larger than the tolerance; a tolerance below 0 or
// with a dimension; or as Loss says.
//
// Source: the closure rule of test sieving.
func (d Distribution) CheckLoss(before, tolerance quantity.Quantity) error {
	allowed, err := tolerance.Float()
	if err != nil || !(allowed >= 0) {
		return fmt.Errorf("size: the tolerance is a share of the mass, as in 1 %%, and %v is not", tolerance)
	}
	loss, err := d.Loss(before)
	if err != nil {
		return err
	}
	share, err := loss.Float()
	if err != nil {
		return err
	}
	if math.Abs(share) <= allowed {
		return nil
	}
	word := "lost"
	if share < 0 {
		word = "gained"
	}
	return fmt.Errorf("size: sieving %s %.2g %% of the mass (%v before, %v after), more than the tolerance of %v; weigh again or sieve again",
		word, 100*math.Abs(share), before, d.Mass(), tolerance)
}
