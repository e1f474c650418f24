package sorting_test

import (
	"fmt"

	"cobber/stdlib/quantity"
	"cobber/stdlib/sorting"
)

// The chance that pieces around the threshold are taken.
func ExampleSorter_Meant() {
	sorter := sorting.Sorter{Component: "Cu", Threshold: quantity.Of(0.5, "%"), Noise: quantity.Of(0.2, "%"),
		Width: quantity.Of(1, "m"), Speed: quantity.Of(3, "m/s")}
	for _, grade := range []float64{0.1, 0.5, 0.9} {
		chance, err := sorter.Meant(quantity.Of(grade, "%"))
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.3g ", chance)
	}
	// Output: 2.28 % 50 % 97.7 %
}
