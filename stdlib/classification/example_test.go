package classification_test

import (
	"fmt"

	"cobber/stdlib/classification"
	"cobber/stdlib/quantity"
)

// The hydrocyclone for an overflow of which 60 % is finer than 74 µm, after the
// example of R.A. Arterburn.
func ExampleDuty_Diameter() {
	duty := classification.Duty{Solids: quantity.Of(33.25, "%"), Pressure: quantity.Of(50, "kPa"), Density: quantity.Of(2.9, "g/cm3")}
	cut, err := classification.CutForOverflow(quantity.Of(74, "µm"), quantity.Of(60, "%"))
	if err != nil {
		fmt.Println(err)
		return
	}
	diameter, err := duty.Diameter(cut)
	fmt.Printf("cut %.3g, diameter %.2g\n", cut, diameter)
	// Output: cut 154 µm, diameter 49 cm
}
