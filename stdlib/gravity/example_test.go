package gravity_test

import (
	"fmt"

	"cobber/stdlib/gravity"
	"cobber/stdlib/quantity"
	"cobber/stdlib/show"
)

// Is it worth while to part cassiterite from quartz in water?
func ExampleCriterion() {
	c, err := gravity.Criterion(quantity.Of(7.0, "g/cm3"), quantity.Of(2.65, "g/cm3"), quantity.Of(1, "g/cm3"))
	if err != nil {
		fmt.Println(err)
		return
	}
	reach, err := gravity.Reach(c)
	fmt.Printf("%.3g: %s\n", c, reach)
	// Output: 3.64: easy, down to about 75 µm
}

// Magnetite in water, 20 % of the volume: (0.2·5.0 + 0.8·1) g/cm³, and what makes such a
// medium of a tonne of water.
func ExampleMediumDensity() {
	water := quantity.Of(1, "g/cm³")
	medium := show.Must(gravity.MediumDensity(quantity.Of(20, "vol%"), quantity.Of(5, "g/cm³"), water))
	solids := show.Must(gravity.MediumSolids(quantity.Of(1, "t"), medium, quantity.Of(5, "g/cm³"), water))
	fmt.Printf("%.3g by %.4g\n", medium, solids)
	// Output:
	// 1.8 g/cm³ by 1.25 t
}

// Half of the grains of the density of the cut sink.
func ExampleDenseMedium() {
	bath := gravity.DenseMedium(quantity.Of(2.8, "g/cm³"))
	for _, density := range []float64{2.6, 2.8, 3.2} {
		share := show.Must(bath.Share(quantity.Of(10, "mm"), quantity.Of(density, "g/cm³")))
		fmt.Printf("%.1f g/cm³: %.3g\n", density, share.To("%"))
	}
	// Output:
	// 2.6 g/cm³: 0.0423 %
	// 2.8 g/cm³: 50 %
	// 3.2 g/cm³: 100 %
}
