package electrostatic_test

import (
	"fmt"

	"cobber/stdlib/electrostatic"
	"cobber/stdlib/quantity"
)

// What a gap of 10 cm bears in air, and in the thin air of Mars.
func ExampleGas_Breakdown() {
	var room quantity.Quantity // nothing: 20 °C
	for _, place := range []struct {
		gas      string
		pressure quantity.Quantity
	}{{"air", quantity.Of(101.325, "kPa")}, {"carbon dioxide", quantity.Of(610, "Pa")}} {
		gas, err := electrostatic.FindGas(place.gas)
		if err != nil {
			fmt.Println(err)
			return
		}
		volts, err := gas.Breakdown(place.pressure, quantity.Of(10, "cm"), room)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s at %v: %.3g\n", gas.Name, place.pressure, volts)
	}
	// Output:
	// air at 101.325 kPa: 261 kV
	// carbon dioxide at 610 Pa: 4.03 kV
}
