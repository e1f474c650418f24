package comminution_test

import (
	"fmt"

	"cobber/stdlib/comminution"
	"cobber/stdlib/quantity"
)

// The work index of the table is per short ton, and the energy comes per short ton too,
// until one asks otherwise.
func ExampleBond() {
	ore, err := comminution.FindMaterial("copper ore")
	if err != nil {
		fmt.Println(err)
		return
	}
	energy, err := comminution.Bond(ore.WorkIndex, quantity.Of(10, "mm"), quantity.Of(150, "µm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(energy, "or", energy.To("kWh/t"))
	fmt.Println(energy.Mul(quantity.Of(250, "t/h")).To("kW"))
	// Output:
	// 9.408 kWh/st or 10.37 kWh/t
	// 2593 kW
}

// A dry mill in open circuit takes more than Bond's law says.
func ExampleDuty_Factors() {
	factors, err := comminution.Duty{WorkIndex: quantity.Of(14, "kWh/t"), Feed: quantity.Of(3, "mm"), Product: quantity.Of(150, "µm"),
		Dry: true, OpenCircuit: quantity.Of(90, "%")}.Factors()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(factors)
	// Output:
	// Energy of grinding with the factors that are not 1
	// what               value
	// ─────────────────  ───────────
	// Bond's law         8.875 kWh/t
	// dry grinding, EF1  1.3
	// open circuit, EF2  1.4
	// required           16.15 kWh/t
}

// How fast must a rotor turn to bring stones of 30 mm to 80 % below 12 mm in one blow?
func ExampleSpeedFor() {
	rock := comminution.Impact{Most: quantity.Of(52, "%"), Ease: quantity.Of(1.1, "t/kWh")}
	family, err := comminution.TruncatedRosinRammler(quantity.Number(1))
	if err != nil {
		fmt.Println(err)
		return
	}
	tips, err := comminution.SpeedFor(quantity.Of(12, "mm"), comminution.Struck, rock, family, quantity.Of(30, "mm"), quantity.Number(1))
	if err != nil {
		fmt.Println(err)
		return
	}
	turning, err := comminution.Turning(quantity.Of(1, "m"), tips)
	fmt.Printf("%.3g, %.3g on a rotor of a metre, %v\n", tips, turning, err)
	// Output: 62.8 m/s, 1.2e+03 rpm on a rotor of a metre, <nil>
}

// On the Moon a mill of the same share of its critical speed turns slower and draws less.
func ExampleTumbler_Power() {
	for _, gravity := range []float64{9.80665, 1.62} {
		mill := comminution.Tumbler{Diameter: quantity.Of(2, "m"), Length: quantity.Of(3, "m"), Filling: quantity.Of(35, "%"),
			Speed: quantity.Of(72, "%"), Charge: quantity.Of(5, "t/m³"), Gravity: quantity.Of(gravity, "m/s²")}
		power, err := mill.Power()
		critical, _ := comminution.CriticalSpeed(mill.Diameter, quantity.Of(0, "m"), mill.Gravity)
		fmt.Printf("%.3g, critical %.3g, %v\n", power, critical, err)
	}
	// Output:
	// 116 kW, critical 29.9 rpm, <nil>
	// 7.8 kW, critical 12.2 rpm, <nil>
}
