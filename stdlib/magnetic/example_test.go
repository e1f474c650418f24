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
