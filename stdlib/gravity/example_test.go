package gravity_test

import (
	"fmt"

	"cobber/stdlib/gravity"
	"cobber/stdlib/quantity"
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
