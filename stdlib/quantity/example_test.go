package quantity_test

import (
	"errors"
	"fmt"

	"cobber/stdlib/quantity"
)

// The figures of the examples are invented.

func Example() {
	feed := quantity.Of(250, "t/h")
	energy := quantity.Of(12, "kWh/t")
	price := quantity.Of(0.08, "USD/kWh")
	power := feed.Mul(energy)
	fmt.Println(power)
	fmt.Println(power.Mul(price))
	fmt.Println(power.Mul(price).Div(feed))
	fmt.Println(power.To("hp_mech"))
	// Output:
	// 3000 kW
	// 240 USD/h
	// 0.96 USD/t
	// 4023 hp_mech
}

func ExampleQuantity_Add() {
	var total quantity.Quantity // nothing yet
	for _, lot := range []string{"12.5 t", "800 kg", "1.2 t"} {
		q, err := quantity.Parse(lot)
		if err != nil {
			fmt.Println(err)
			return
		}
		total = total.Add(q)
	}
	fmt.Println(total)
	// Output: 14.5 t
}

func ExampleQuantity_Add_unlike() {
	defer func() { fmt.Println(recover()) }()
	quantity.Of(36.5, "t/h").Add(quantity.Of(12, "kWh"))
	// Output: cannot add 36.5 t/h (mass per time, as kg/s) and 12 kWh (energy, as J)
}

func ExampleQuantity_Mul() {
	grade := quantity.Of(2.4, "g/t")
	fmt.Println(grade.Mul(quantity.Of(500, "t")))
	fmt.Println(grade.Mul(quantity.Of(60, "USD/g")))
	fmt.Println(quantity.Of(3, "%").Mul(quantity.Of(36, "t/h")))
	// Output:
	// 1200 g
	// 144 USD/t
	// 1.08 t/h
}

func ExampleQuantity_Div() {
	fmt.Println(quantity.Of(500, "kg/h").Div(quantity.Of(200, "t/h")))
	fmt.Println(quantity.Of(90, "t").Div(quantity.Of(120, "t")))
	fmt.Println(quantity.Of(90, "t").Div(quantity.Of(120, "t/h")))
	// Output:
	// 2.5 kg/t
	// 0.75
	// 0.75 h
}

func ExampleQuantity_Sub_temperature() {
	out, in := quantity.Of(68, "°C"), quantity.Of(20, "°C")
	rise := out.Sub(in)
	fmt.Println(rise)
	fmt.Println(in.Add(rise))
	_, err := rise.In("°C")
	fmt.Println(err)
	// Output:
	// 48 K
	// 68 °C
	// cannot show 48 K in °C: one is a reading of a temperature scale, the other a temperature difference; a difference is shown in K, Δ°C or Δ°F
}

func ExampleParseUnit() {
	_, err := quantity.ParseUnit("kWh/ton")
	fmt.Println(err)
	var wrong *quantity.UnitError
	if errors.As(err, &wrong) {
		fmt.Println(wrong.Part, wrong.Offset, wrong.Nearest)
	}
	// Output:
	// unit "kWh/ton": "ton" may be the metric, short or long ton; write t, st or lt
	// ton 4 [t st lt]
}

func ExampleQuantity_In() {
	work := quantity.Of(12, "kWh/st")
	metric, err := work.In("kWh/t")
	fmt.Println(metric, err)
	_, err = work.In("kWh")
	fmt.Println(err)
	// Output:
	// 13.23 kWh/t <nil>
	// cannot show 12 kWh/st (energy per mass, as J/kg) in kWh (energy, as J)
}

func ExampleDeclare() {
	if err := quantity.Declare("bucket", "18 t"); err != nil {
		fmt.Println(err)
	}
	fmt.Println(quantity.Of(40, "bucket/h").Mul(quantity.Of(8, "h")).To("t"))
	// Output: 5760 t
}

func ExampleQuantity_Format() {
	q := quantity.Of(36.54321, "t/h")
	fmt.Printf("%v|%.1f|%10.2f|%e|%+v\n", q, q, q, q, q)
	// Output: 36.54 t/h|36.5 t/h|     36.54 t/h|3.654321e+01 t/h|36.54321 t/h
}

func ExampleQuantity_Pow() {
	height := quantity.Of(5, "m")
	fmt.Println(height.Mul(quantity.Of(2, "g0")).Sqrt().To("m/s"))
	// Output: 9.903 m/s
}
