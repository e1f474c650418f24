package place_test

import (
	"fmt"
	"log"

	"cobber/stdlib/place"
	"cobber/stdlib/quantity"
	"cobber/stdlib/settling"
)

// A grain of 100 µm falls through the gas of two worlds.
func Example() {
	grain := settling.Particle{Size: quantity.Of(100, "µm"), Density: quantity.Of(2900, "kg/m³")}
	for _, world := range []place.Place{place.Earth(), place.Mars()} {
		density, err := world.GasDensity(world.Mean)
		if err != nil {
			log.Fatal(err)
		}
		viscosity, err := world.Gas.Viscosity(world.Mean)
		if err != nil {
			log.Fatal(err)
		}
		path, err := world.FreePath(world.Mean)
		if err != nil {
			log.Fatal(err)
		}
		gas := settling.Fluid{Density: density, Viscosity: viscosity, FreePath: path}
		fall, err := settling.Terminal(grain, gas, world.Gravity, settling.SchillerNaumann)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("%s: %.2f\n", world.Name, fall.Velocity)
	}
	// Output:
	// Earth: 0.63 m/s
	// Mars: 0.60 m/s
}
