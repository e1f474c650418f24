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

// An invented dumper of 30 t on 2 km of level road at 36 km/h, where nothing but the limit
// holds it: 200 s out, 200 s back and 4 min to load and dump are 10.67 min. At 80 % of the
// time each carries 135 t/h, so 400 t/h take three.
func ExampleHaul_Cycle() {
	haul := haulage.Haul{
		Vehicle: haulage.Vehicle{Empty: quantity.Of(20, "t"), Payload: quantity.Of(30, "t"), Power: quantity.Of(300, "kW"), Efficiency: quantity.Number(0.8)},
		Legs:    []haulage.Leg{{Distance: quantity.Of(2, "km"), Grade: quantity.Of(0, "%"), Rolling: quantity.Of(3, "%"), Limit: quantity.Of(36, "km/h")}},
		Load:    quantity.Of(3, "min"), Dump: quantity.Of(1, "min"), Gravity: quantity.Of(10, "m/s²"),
	}
	cycle := show.Must(haul.Cycle())
	fleet := show.Must(cycle.Fleet(quantity.Of(400, "t/h"), quantity.Of(80, "%"), 1))
	fmt.Printf("%.4g, %d vehicles, %.4g\n", show.Must(cycle.Time.In("min")), fleet.Vehicles, show.Must(fleet.Rate.In("t/h")))
	// Output:
	// 10.67 min, 3 vehicles, 405 t/h
}
