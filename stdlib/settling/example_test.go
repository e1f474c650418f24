package settling_test

import (
	"fmt"

	"cobber/stdlib/quantity"
	"cobber/stdlib/settling"
)

// Cassiterite from quartz in water: far above 2.5, the bound of an easy separation.
func ExampleCriterion() {
	criterion, err := settling.Criterion(quantity.Of(7, "g/cm³"), quantity.Of(2.65, "g/cm³"), quantity.Of(1, "g/cm³"))
	if err != nil {
		fmt.Println(err)
		return
	}
	words, err := settling.Ease(criterion)
	fmt.Printf("%.3g: %s, %v\n", criterion, words, err)
	// Output: 3.64: easy, down to 75 µm, <nil>
}

// Grains of quartz and galena that fall alike in water: the ratio of their sizes is
// √(6.5/1.65) of fine ones and 6.5/1.65 of coarse ones.
func ExampleEqualSettlingRatio() {
	galena, quartz, water := quantity.Of(7.5, "g/cm³"), quantity.Of(2.65, "g/cm³"), quantity.Of(1, "g/cm³")
	for _, law := range []settling.Law{settling.Stokes, settling.Newton} {
		ratio, err := settling.EqualSettlingRatio(galena, quartz, water, law)
		fmt.Printf("%v: %.3g, %v\n", law, ratio, err)
	}
	// Output:
	// Stokes: 1.98, <nil>
	// Newton: 3.94, <nil>
}

// A drop of a metre in a vacuum takes 2.5 times as long on the Moon as on Earth.
func ExampleFreeFall() {
	for _, gravity := range []float64{9.80665, 1.62} {
		time, speed, err := settling.FreeFall(quantity.Of(1, "m"), quantity.Of(gravity, "m/s²"))
		fmt.Printf("%.3g, %.3g, %v\n", time, speed, err)
	}
	// Output:
	// 0.452 s, 4.43 m/s, <nil>
	// 1.11 s, 1.8 m/s, <nil>
}

// Grains that fall at 5 mm/s alone fall at little more than a third of it among 20 % of
// their like: 0.8 to the power 4.65 is 0.354.
func ExampleHindered() {
	alone, exponent := quantity.Of(5, "mm/s"), quantity.Number(4.65)
	among, err := settling.Hindered(alone, quantity.Of(20, "%"), exponent)
	if err != nil {
		fmt.Println(err)
		return
	}
	solids, err := settling.SolidsAt(among, alone, exponent) // the inverse
	fmt.Printf("%.3g at %.3g, %v\n", among, solids, err)
	// Output: 1.77 mm/s at 20 %, <nil>
}

// The flux of falling solids is greatest where their volume share is 1/(n + 1).
func ExampleMaximumFlux() {
	alone, exponent := quantity.Of(5, "mm/s"), quantity.Number(4.65)
	solids, most, err := settling.MaximumFlux(alone, exponent)
	if err != nil {
		fmt.Println(err)
		return
	}
	same, err := settling.Flux(alone, solids, exponent)
	fmt.Printf("%.3g at %.3g; %.3g, %v\n", most, solids, same, err)
	// Output: 0.358 mm/s at 17.7 %; 0.358 mm/s, <nil>
}

// The exponent of hindered settling falls from 4.8 for slimes to 2.4 for gravel.
func ExampleExponent() {
	for _, galileo := range []float64{1e-3, 100, 1e8} {
		exponent, err := settling.Exponent(quantity.Number(galileo))
		fmt.Printf("%.2g %v\n", exponent, err)
	}
	// Output:
	// 4.8 <nil>
	// 3.9 <nil>
	// 2.4 <nil>
}

// A cube has the sphericity (π/6)^(1/3), 0.806.
func ExampleSphericity() {
	cube, err := settling.Sphericity(quantity.Of(1, "mm³"), quantity.Of(6, "mm²"))
	fmt.Printf("%.3g %v\n", cube, err)
	// Output: 0.806 <nil>
}

// Slimes at a fifth of the volume, by the density and viscosity of the mixture.
func ExampleSteinour() {
	among, err := settling.Steinour(quantity.Of(1, "mm/s"), quantity.Of(20, "%"))
	fmt.Printf("%.3g %v\n", among, err)
	// Output: 0.277 mm/s <nil>
}

// The drag of creeping spheres is 24/Re, that of fast ones a little above 0.4.
func ExampleDrag() {
	sphere := quantity.Number(1)
	creeping, err := settling.Drag(settling.Stokes, quantity.Number(0.1), sphere)
	fast, failed := settling.Drag(settling.HaiderLevenspiel, quantity.Number(1e4), sphere)
	fmt.Printf("%.3g, %.2g, %v, %v\n", creeping, fast, err, failed)
	// Output: 240, 0.42, <nil>, <nil>
}

// Three layers of invented jar tests, and the thickener for 20 t/h: the layer that asks
// for most area rules, (1/200 − 1/600)/0.00005 m²·s/kg here.
func ExampleThicken() {
	layer := func(solids, velocity float64) settling.Layer {
		return settling.Layer{Solids: quantity.Of(solids, "kg/m³"), Velocity: quantity.Of(velocity, "mm/s")}
	}
	thickening, err := settling.Thicken([]settling.Layer{layer(100, 0.5), layer(200, 0.05), layer(400, 0.03)}, quantity.Of(600, "kg/m³"))
	if err != nil {
		fmt.Println(err)
		return
	}
	area, err := thickening.Area(quantity.Of(20, "t/h"))
	fmt.Printf("%v rules: %.3g, %.3g, %v\n", thickening.Limiting().Solids, thickening.UnitArea().To("m²·s/kg"), area.To("m²"), err)
	// Output: 200 kg/m³ rules: 66.7 m²·s/kg, 370 m², <nil>
}

// The quartz that falls as fast as galena of 20 µm: √(6.5/1.65) times as coarse where both creep.
func ExampleEqualSettlingSize() {
	galena := settling.Particle{Size: quantity.Of(20, "µm"), Density: quantity.Of(7.5, "g/cm³")}
	water := settling.Fluid{Density: quantity.Of(1, "g/cm³"), Viscosity: quantity.Of(1, "mPa·s")}
	size, err := settling.EqualSettlingSize(galena, quantity.Of(2.65, "g/cm³"), water, quantity.Of(9.80665, "m/s²"), settling.Stokes)
	fmt.Printf("%.3g %v\n", size.To("µm"), err)
	// Output: 39.7 µm <nil>
}
