package magnetic_test

import (
	"fmt"

	"cobber/stdlib/magnetic"
	"cobber/stdlib/quantity"
)

// An invented drum: where a bead locked in slag, and bare slag, leave it.
func ExampleDrum_Release() {
	iron, err := magnetic.Find("iron")
	if err != nil {
		fmt.Println(err)
		return
	}
	slag := magnetic.Material{Name: "slag", Density: quantity.Of(2.9, "g/cm3"), Susceptibility: quantity.Number(2e-4)}
	drum := magnetic.Drum{Radius: quantity.Of(30, "cm"), Speed: quantity.Of(40, "rpm"), Arc: quantity.Of(170, "deg"),
		Field: magnetic.Field{Surface: quantity.Of(0.12, "T"), Pitch: quantity.Of(80, "mm")}}
	for _, share := range []float64{0, 5, 20} {
		metal := quantity.Of(share, "%")
		grain := magnetic.Grain{Materials: []magnetic.Material{iron, slag}, Shares: []quantity.Quantity{metal, quantity.Number(1).Sub(metal)}}
		angle, err := drum.Release(grain, quantity.Of(1, "mm"))
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v of iron: %.3g\n", metal, angle)
	}
	// Output:
	// 0 % of iron: 57.6 deg
	// 5 % of iron: 110 deg
	// 20 % of iron: 170 deg
}

// The field of alternating poles falls by exp(−π) within one pitch above a flat row.
func ExampleField_At() {
	row := magnetic.Field{Surface: quantity.Of(0.2, "T"), Pitch: quantity.Of(50, "mm")}
	var flat quantity.Quantity
	for _, height := range []float64{0, 25, 50} {
		field, err := row.At(quantity.Of(height, "mm"), flat)
		fmt.Printf("%.3g %v\n", field.To("mT"), err)
	}
	// Output:
	// 200 mT <nil>
	// 41.6 mT <nil>
	// 8.64 mT <nil>
}

// A sphere is demagnetised by a third in every direction, a needle hardly along itself.
func ExampleDemagnetising() {
	for _, aspect := range []float64{1, 10} {
		along, across, err := magnetic.Demagnetising(quantity.Number(aspect))
		fmt.Printf("%.3g %.3g %v\n", along, across, err)
	}
	// Output:
	// 0.333 0.333 <nil>
	// 0.0203 0.49 <nil>
}

// Readings of a gaussmeter at two heights above a row of poles tell how it decays.
func ExampleDecayBetween() {
	decay, err := magnetic.DecayBetween(quantity.Of(200, "mT"), quantity.Of(0, "mm"), quantity.Of(100, "mT"), quantity.Of(10, "mm"))
	fmt.Printf("%.3g %v\n", decay.To("1/m"), err)
	// Output: 69.3 m⁻¹ <nil>
}

// The speed at which a shell of 30 cm throws off from its top what nothing holds, √(g/R).
func ExampleDrum_LiftOff() {
	drum := magnetic.Drum{Radius: quantity.Of(30, "cm"), Speed: quantity.Of(40, "rpm"),
		Field: magnetic.Field{Surface: quantity.Of(0.12, "T"), Pitch: quantity.Of(80, "mm")}}
	speed, err := drum.LiftOff()
	fmt.Printf("%.3g %v\n", speed, err)
	// Output: 54.6 rpm <nil>
}
