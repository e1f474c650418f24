package liberation_test

import (
	"fmt"

	"cobber/stdlib/liberation"
	"cobber/stdlib/quantity"
)

// How fine must an ore with grains of 0.4 mm be ground until 80 % of the mineral is free?
func ExampleTexture_SizeFor() {
	for _, model := range []liberation.Model{liberation.Isolated, liberation.Random} {
		ore := liberation.Texture{Grain: quantity.Of(400, "µm"), Share: quantity.Of(8, "vol%"), Model: model}
		size, err := ore.SizeFor(quantity.Of(80, "%"))
		fmt.Printf("%v: %.3g, %v\n", model, size, err)
	}
	// Output:
	// isolated grains (Gaudin): 28.7 µm, <nil>
	// random grains (Wiegel and Li): 31.1 µm, <nil>
}
