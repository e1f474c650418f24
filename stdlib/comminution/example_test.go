package comminution_test

import (
	"fmt"

	"cobber/stdlib/comminution"
	"cobber/stdlib/quantity"
	"cobber/stdlib/show"
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

// A mill of 3.6 m with balls of 60 mm: 42.3/√(3.6 − 0.06) turns a minute on the Earth,
// and a sixth of the gravity takes 0.41 of the speed.
func ExampleCriticalSpeed() {
	for _, gravity := range []float64{9.80665, 1.62} {
		speed := show.Must(comminution.CriticalSpeed(quantity.Of(3.6, "m"), quantity.Of(60, "mm"), quantity.Of(gravity, "m/s²")))
		fmt.Printf("%.3g\n", speed)
	}
	// Output:
	// 22.5 rpm
	// 9.14 rpm
}

// The three laws drawn through the same reduction, from 10 mm to 1 mm for 3 kWh/t,
// and what each then says of the next one, to 0.1 mm.
func ExampleLawThrough() {
	for _, exponent := range []float64{2, 1.5, 1} {
		law := show.Must(comminution.LawThrough(quantity.Number(exponent), quantity.Of(3, "kWh/t"), quantity.Of(10, "mm"), quantity.Of(1, "mm")))
		next := show.Must(law.Energy(quantity.Of(1, "mm"), quantity.Of(0.1, "mm")))
		fmt.Printf("n = %v: %.3g; %.3g reaches %.3g\n", law.Exponent(), next, next, show.Must(law.Product(quantity.Of(1, "mm"), next)).To("mm"))
	}
	// Output:
	// n = 2: 30 kWh/t; 30 kWh/t reaches 0.1 mm
	// n = 1.5: 9.49 kWh/t; 9.49 kWh/t reaches 0.1 mm
	// n = 1: 3 kWh/t; 3 kWh/t reaches 0.1 mm
}

// What a plant took, as a work index: 12 kWh/t from 2 mm to 100 µm.
func ExampleOperatingWorkIndex() {
	index := show.Must(comminution.OperatingWorkIndex(quantity.Of(12, "kWh/t"), quantity.Of(2, "mm"), quantity.Of(100, "µm")))
	law := show.Must(comminution.BondLaw(index))
	fmt.Printf("%.4g, and back %.3g\n", index.To("kWh/t"), show.Must(law.Energy(quantity.Of(2, "mm"), quantity.Of(100, "µm"))).To("kWh/t"))
	// Output:
	// 15.46 kWh/t, and back 12 kWh/t
}

// A rotor of 1 m at 1000 rpm: tips at 52.4 m/s; a stone that is struck gets half the
// square of that, and a steel rim is stretched by ρ·v².
func ExampleRotor_RimStress() {
	rotor := comminution.Rotor{Diameter: quantity.Of(1, "m"), Speed: quantity.Of(1000, "rpm")}
	fmt.Printf("%.3g, %.3g\n", show.Must(rotor.TipSpeed()), show.Must(rotor.ImpactEnergy(comminution.Struck)).To("kWh/t"))
	fmt.Printf("%.3g\n", show.Must(rotor.RimStress(quantity.Of(7.85, "t/m³"), comminution.Rim)).To("MPa"))
	fmt.Printf("%.4g\n", show.Must(comminution.Turning(quantity.Of(1, "m"), quantity.Of(52.36, "m/s"))).To("rpm"))
	// Output:
	// 52.4 m/s, 0.381 kWh/t
	// 21.5 MPa
	// 1000 rpm
}

// Blows of 1 kWh/t on a rock of A·b = 50: 50·(1 − e⁻¹) % finer than a tenth.
func ExampleImpact_T10() {
	rock := comminution.Impact{Most: quantity.Of(50, "%"), Ease: quantity.Of(1, "t/kWh")}
	t10 := show.Must(rock.T10(quantity.Of(30, "mm"), quantity.Of(1, "kWh/t")))
	fmt.Printf("%.3g by %.3g\n", t10.To("%"), show.Must(rock.Energy(quantity.Of(30, "mm"), t10)).To("kWh/t"))
	product, word, err := rock.Hardness()
	fmt.Println(product, word, err)
	// Output:
	// 31.6 % by 1 kWh/t
	// 50 medium <nil>
}

// A ball of copper that is flattened to a strain of 0.5 has a disc e^0.25 as wide.
func ExampleFlattened() {
	diameter, thickness, err := comminution.Flattened(quantity.Of(1, "mm"), quantity.Number(0.5))
	fmt.Printf("%.4g, %.4g, %v; passes as %.4g times as large\n", diameter, thickness, err, show.Must(comminution.PassingGrowth(quantity.Number(0.5))))
	// Output:
	// 1.284 mm, 0.6065 mm, <nil>; passes as 1.284 times as large
}
