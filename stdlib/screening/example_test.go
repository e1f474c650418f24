package screening_test

import (
	"fmt"

	"cobber/stdlib/quantity"
	"cobber/stdlib/screening"
)

// A screen that throws well on the Earth throws six times too hard on the Moon; slowed to
// the same throw number, it moves its bed at less than half the speed.
func ExampleMotion_SpeedFor() {
	motion := screening.Motion{Stroke: quantity.Of(9, "mm"), Speed: quantity.Of(860, "rpm"), Throw: quantity.Of(45, "deg"), Slope: quantity.Of(5, "deg")}
	number, err := motion.ThrowNumber()
	if err != nil {
		fmt.Println(err)
		return
	}
	travel, err := motion.Travel()
	if err != nil {
		fmt.Println(err)
		return
	}
	motion.Gravity = quantity.Of(1.62, "m/s²")
	if motion.Speed, err = motion.SpeedFor(number); err != nil {
		fmt.Println(err)
		return
	}
	there, err := motion.Travel()
	fmt.Printf("throw number %.3g; travel %.2g here; there at %.3g %.2g, %v\n", number, travel, motion.Speed, there, err)
	// Output: throw number 2.64; travel 0.29 m/s here; there at 350 rpm 0.12 m/s, <nil>
}
