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

// Sunlight weakens with the square of the distance: to 1/2.25 at one and a half times ours.
func ExampleSunlight() {
	sunlight, err := place.Sunlight(quantity.Of(1.5, "au"))
	fmt.Printf("%.4g, %.4g, %v\n", place.SolarConstant(), sunlight, err)
	// Output: 1361 W/m², 604.9 W/m², <nil>
}

// The day of the Moon, from noon to noon, by its turning and the Earth's year.
func ExampleDay() {
	day, err := place.Day(quantity.Of(27.3217, "d"), quantity.Of(365.256, "d"))
	fmt.Printf("%.4g %v\n", day.To("d"), err)
	// Output: 29.53 d <nil>
}

// There is no gas to fall through on the Moon.
func ExampleNamed() {
	moon, err := place.Named("Moon")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3g, vacuum: %v\n", moon.Gravity, moon.IsVacuum())
	// Output: 1.62 m/s², vacuum: true
}
