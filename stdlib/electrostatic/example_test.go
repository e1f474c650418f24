package electrostatic_test

import (
	"fmt"

	"cobber/stdlib/electrostatic"
	"cobber/stdlib/quantity"
	"cobber/stdlib/show"
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

// A sphere of 1 mm in a field of 10 kV/cm: what ions, an electrode and the gas give it,
// and what its image then holds it with.
func ExampleSaturation() {
	size, field := quantity.Of(1, "mm"), quantity.Of(10, "kV/cm")
	var conductor quantity.Quantity
	full := show.Must(electrostatic.Saturation(size, field, conductor))
	quartz := show.Must(electrostatic.Saturation(size, field, quantity.Number(4.5)))
	induced, lift, err := electrostatic.Induced(size, field)
	fmt.Printf("corona: %.4g on a conductor, %.4g on quartz, held by %.3g\n", full, quartz, show.Must(electrostatic.Image(full, size)))
	fmt.Printf("induced: %.4g, lifted by %.3g, %v\n", induced, lift, err)
	// Output:
	// corona: 83.45 pC on a conductor, 57.77 pC on quartz, held by 62.6 µN
	// induced: 45.76 pC, lifted by 38.1 µN, <nil>
}

// 10 µC/m² on quartz of 200 µm: 6·σ/(ρ·d). Five contacts of a constant of five bring
// 1 − 1/e of it.
func ExamplePerMass() {
	full := show.Must(electrostatic.PerMass(quantity.Of(10, "µC/m²"), quantity.Of(200, "µm"), quantity.Of(2.65, "g/cm³")))
	after := show.Must(electrostatic.AfterContacts(full, quantity.Number(5), quantity.Number(5)))
	fmt.Printf("%.4g, after five contacts %.4g\n", full, after)
	// Output:
	// 113.2 µC/kg, after five contacts 71.56 µC/kg
}

// What leaks away at once and what stays: ρ·ε·ε₀ of an ore and of quartz.
func ExampleRelaxation() {
	for _, resistivity := range []float64{1, 1e13} {
		fmt.Printf("%.3g\n", show.Must(electrostatic.Relaxation(quantity.Of(resistivity, "ohm·m"), quantity.Number(4.5))))
	}
	// Output:
	// 3.98e-11 s
	// 398 s
}

// The bottom of Paschen's curve for air: below this voltage no gap breaks down.
func ExampleGas_Minimum() {
	air := show.Must(electrostatic.FindGas("air"))
	volts, product, err := air.Minimum()
	fmt.Printf("%.3g at %.3g, %v\n", volts, product, err)
	// Output:
	// 305 V at 1.12 Pa·m, <nil>
}

// A smooth wire of 1 mm radius in air of 25 °C: 30·(1 + 0.3/√0.1) kV/cm.
func ExampleCorona() {
	var smooth quantity.Quantity
	fmt.Printf("%.4g\n", show.Must(electrostatic.Corona(quantity.Of(1, "mm"), quantity.Of(101.325, "kPa"), quantity.Of(298.15, "K"), smooth)))
	// Output:
	// 58.46 kV/cm
}
