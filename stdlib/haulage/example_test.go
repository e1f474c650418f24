package haulage_test

import (
	"fmt"

	"cobber/stdlib/haulage"
	"cobber/stdlib/quantity"
	"cobber/stdlib/show"
)

// A truck of 40 t up a slope of 8 % on a road of 2 %, on the Earth and on the Moon, and
// how hard its tyres can hold there with a friction of 0.5.
func ExamplePull() {
	mass := quantity.Of(40, "t")
	for _, gravity := range []float64{9.80665, 1.62} {
		g := quantity.Of(gravity, "m/s²")
		pull := show.Must(haulage.Pull(mass, quantity.Of(2, "%"), quantity.Of(8, "%"), g))
		grip := show.Must(haulage.Grip(mass, quantity.Number(0.5), quantity.Of(8, "%"), g))
		fmt.Printf("pull %.3g of %.3g\n", pull.To("kN"), grip.To("kN"))
	}
	// Output:
	// pull 39.1 kN of 196 kN
	// pull 6.46 kN of 32.3 kN
}

// 300 kW at the wheels push with 300/v.
func ExampleRimpull() {
	fmt.Printf("%.3g\n", show.Must(haulage.Rimpull(quantity.Of(375, "kW"), quantity.Of(80, "%"), quantity.Of(36, "km/h"))).To("kN"))
	// Output:
	// 30 kN
}

// Tyres that sink in by 100 mm: 2 % and 1.5 % for each inch.
func ExampleSinking() {
	fmt.Printf("%.3g\n", show.Must(haulage.Sinking(quantity.Of(100, "mm"))).To("%"))
	// Output:
	// 7.91 %
}

// What it takes to bring 40 t from a stand to 36 km/h: half of m·v².
func ExampleStarting() {
	var none quantity.Quantity
	fmt.Printf("%.3g\n", show.Must(haulage.Starting(quantity.Of(40, "t"), quantity.Of(0, "m/s"), quantity.Of(36, "km/h"), none)).To("MJ"))
	// Output:
	// 2 MJ
}

// Rails that take 10 GWh of building for each kilometre, and 0.05 kWh/(t·km) in place of
// the road's 0.25, pay from 50 million tonnes.
func ExampleRailsPay() {
	tonnage := show.Must(haulage.RailsPay(quantity.Of(10, "GWh/km"), quantity.Of(0.25, "kWh/(t·km)"), quantity.Of(0.05, "kWh/(t·km)")))
	fmt.Printf("%.3g\n", tonnage.To("Mt"))
	// Output:
	// 50 Mt
}

// Eight buckets of 60 L, four fifths full, at 6 turns a minute.
func ExampleBucketwheel() {
	fmt.Printf("%.4g\n", show.Must(haulage.Bucketwheel(8, quantity.Of(60, "L"), quantity.Of(80, "%"), quantity.Of(6, "rpm"))).To("m³/h"))
	// Output:
	// 138.2 m³/h
}
