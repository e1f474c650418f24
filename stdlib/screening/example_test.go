package screening_test

import (
	"fmt"

	"cobber/stdlib/quantity"
	"cobber/stdlib/screening"
	"cobber/stdlib/show"
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

// A grain of half the opening of a level mesh of 10 mm with wires of 2.5 mm passes at a
// trial with the chance ((10 − 5)/12.5)².
func ExampleMesh_Chance() {
	mesh := screening.Mesh{Opening: quantity.Of(10, "mm"), Wire: quantity.Of(2.5, "mm")}
	open, err := mesh.OpenArea()
	if err != nil {
		fmt.Println(err)
		return
	}
	chance, err := mesh.Chance(quantity.Of(5, "mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	stays, err := mesh.Stays(quantity.Of(5, "mm"), quantity.Number(10))
	fmt.Printf("%.3g open, %.3g a trial, %.3g left after ten, %v\n", open.To("%"), chance.To("%"), stays.To("%"), err)
	// Output: 64 % open, 16 % a trial, 17.5 % left after ten, <nil>
}

// A throw that lasts most of a turn of the drive: the stone lands before the deck throws
// again.
func ExampleMotion_Flight() {
	motion := screening.Motion{Stroke: quantity.Of(9, "mm"), Speed: quantity.Of(860, "rpm"), Throw: quantity.Of(45, "deg")}
	fmt.Printf("throw number %.3g: %.3g of a turn in the air, travel %.2g\n", show.Must(motion.ThrowNumber()), show.Must(motion.Flight()), show.Must(motion.Travel()))
	// Output:
	// throw number 2.63: 0.883 of a turn in the air, travel 0.27 m/s
}
