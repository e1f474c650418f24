package quantity_test

import (
	"fmt"

	"cobber/stdlib/quantity"
)

// The figures of the examples are invented.

func ExampleParse() {
	for _, text := range []string{"36.5 t/h", "1 3/8 in", "36.5 ± 1.2 t/h", "36.5 t/h ± 2 %", "36.5(12) t/h", "34 to 39 t/h", "36.5 tph"} {
		q, err := quantity.Parse(text)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(q)
	}
	// Output:
	// 36.5 t/h
	// 1.375 in
	// 36.5 ± 1.2 t/h (95 %: 34.1 to 38.9)
	// 36.50 ± 0.73 t/h (95 %: 35.07 to 37.93)
	// 36.5 ± 1.2 t/h (95 %: 34.1 to 38.9)
	// 36.5 ± 1.4 t/h (95 %: 34.1 to 38.9)
	// unit "36.5 tph": "tph" depends on the ton; write t/h, st/h or lt/h
}

func ExampleNew() {
	feed, err := quantity.New(36.5, "t/h")
	fmt.Println(feed, err)
	_, err = quantity.New(36.5, "t/hx")
	fmt.Println(err)
	// Output:
	// 36.5 t/h <nil>
	// there is no unit "hx" in "t/hx"; nearest: ha, h, Mx
}

func ExampleQuantity_Best() {
	fmt.Println(quantity.Of(0.00021, "m").Best())
	fmt.Println(quantity.Of(36500, "kg/h").Best())
	fmt.Println(quantity.Of(12, "kWh/t").Mul(quantity.Of(1.4, "Mt")).Best())
	// Output:
	// 210 µm
	// 36.5 t/h
	// 16.8 GWh
}

func ExampleQuantity_Fixed() {
	fmt.Println(quantity.Of(36.5, "t/h").Fixed(2))
	// Output:
	// 36.50 t/h
}

func ExampleQuantity_Significant() {
	fmt.Println(quantity.Of(0.8, "t/h").Significant(3))
	fmt.Println(quantity.Of(1234.5, "t").Significant(2))
	// Output:
	// 0.800 t/h
	// 1234 t
}

func ExampleQuantity_Scientific() {
	fmt.Println(quantity.Of(0.000123, "m3/kg").Scientific(2))
	// Output:
	// 1.2e-04 m³/kg
}

func ExampleQuantity_Engineering() {
	fmt.Println(quantity.Of(36500, "t").Engineering(3))
	fmt.Println(quantity.Of(0.00012, "T").Engineering(2))
	// Output:
	// 36.5e3 t
	// 120e-6 T
}

func ExampleQuantity_Fraction() {
	fmt.Println(quantity.Of(35, "mm").To("in").Fraction(16))
	// Output:
	// 1 3/8 in
}

func ExampleQuantity_LikeInputs() {
	rate, time := quantity.Of(36.5, "t/h"), quantity.Of(7.25, "h")
	fmt.Println(rate.Mul(time).LikeInputs(rate, time))
	// Output:
	// 265 t
}

func ExampleAsWritten() {
	quantity.Seed(1)
	rate, err := quantity.AsWritten("36.5 t/h") // anywhere from 36.45 to 36.55
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(rate)
	fmt.Println(rate.Mul(quantity.Of(24, "h")))
	// Output:
	// 36.500 ± 0.029 t/h (95 %: 36.453 to 36.547)
	// 876.00 ± 0.69 t (95 %: 874.86 to 877.14)
}

func ExampleDigitsOf() {
	digits, err := quantity.DigitsOf("0.0360 t/h")
	fmt.Println(digits, err)
	// Output:
	// 3 <nil>
}

func ExampleQuantity_To() {
	fmt.Println(quantity.Of(0.062, "1").To("%"))
	fmt.Println(quantity.Of(2.4, "g/t").To("ppm"))
	fmt.Println(quantity.Of(6.2, "%").To("1"))
	// Output:
	// 6.2 %
	// 2.4 ppm
	// 0.062
}

func ExampleQuantity_Value() {
	rate, err := quantity.Of(36.5, "t/h").Value("kg/s")
	fmt.Printf("%.3f %v\n", rate, err)
	// Output:
	// 10.139 <nil>
}

func ExampleQuantity_HTML() {
	q := quantity.Of(12, "m3/h")
	fmt.Println(q.HTML())
	fmt.Println(q.LaTeX())
	fmt.Println(q.Markdown())
	// Output:
	// 12&nbsp;m<sup>3</sup>/h
	// $12\,\mathrm{m^{3}/h}$
	// 12 m³/h
}

func ExampleMean() {
	lots := []quantity.Quantity{quantity.Of(12.5, "t"), quantity.Of(11.9, "t"), quantity.Of(13100, "kg")}
	fmt.Println(quantity.Mean(lots...))
	fmt.Println(quantity.MedianOf(lots...))
	fmt.Println(quantity.Deviation(lots...))
	// Output:
	// 12.5 t
	// 12.5 t
	// 0.6 t
}

func ExampleWeightedMean() {
	grades, _ := quantity.Slice("g/t", 2.1, 3.4, 1.7)
	masses, _ := quantity.Slice("kt", 40, 12, 55)
	fmt.Println(quantity.WeightedMean(grades, masses))
	// Output:
	// 2.04 g/t <nil>
}

func ExampleQuantileOf() {
	assays, _ := quantity.Slice("%", 4.1, 5.2, 3.8, 6.0, 4.4)
	fmt.Println(quantity.QuantileOf(0.9, assays...))
	// Output:
	// 5.68 % <nil>
}

func ExampleSorted() {
	sizes := []quantity.Quantity{quantity.Of(1, "in"), quantity.Of(850, "µm"), quantity.Of(12, "mm")}
	fmt.Println(quantity.Sorted(sizes))
	fmt.Println(quantity.Max(sizes[0], sizes[1:]...), quantity.Min(sizes[0], sizes[1:]...))
	// Output:
	// [850 µm 12 mm 1 in]
	// 1 in 850 µm
}

func ExampleCumulative() {
	masses, _ := quantity.Slice("kg", 1.2, 3.4, 2.9)
	fmt.Println(quantity.Cumulative(masses...))
	fmt.Println(quantity.Sum(masses...))
	// Output:
	// [1.2 kg 4.6 kg 7.5 kg]
	// 7.5 kg
}

func ExampleValues() {
	fmt.Println(quantity.Values("mm", quantity.Of(1, "in"), quantity.Of(850, "µm")))
	// Output:
	// [25.4 0.85] <nil>
}

func ExampleLog() {
	reduction := quantity.Of(120, "mm").Div(quantity.Of(15, "mm"))
	fmt.Println(quantity.Log2(reduction))
	defer func() { fmt.Println(recover()) }()
	quantity.Log(quantity.Of(120, "mm"))
	// Output:
	// 3
	// cannot take the logarithm of 120 mm: it has the dimension of length and not of a pure number; divide by a reference first, such as 1`mm`
}

func ExampleExp() {
	rate, time := quantity.Of(0.8, "1/min"), quantity.Of(90, "s")
	fmt.Println(quantity.Number(1).Sub(quantity.Exp(rate.Mul(time).Neg())).To("%"))
	// Output:
	// 69.88 %
}

func ExamplePower() {
	fmt.Println(quantity.Power(quantity.Of(4, "m2"), quantity.Number(1.5)))
	larger := quantity.Of(300, "t/h").Div(quantity.Of(100, "t/h"))
	fmt.Println(quantity.Of(2, "MUSD").Mul(quantity.Power(larger, quantity.Number(0.6))))
	// Output:
	// 8 m³
	// 3.866 MUSD
}

func ExampleAtan() {
	slope := quantity.Of(8, "%")
	fmt.Println(quantity.Atan(slope).To("deg"))
	fmt.Println(quantity.Sin(quantity.Of(30, "deg")))
	// Output:
	// 4.574 deg
	// 0.5
}

func ExampleHypot() {
	fmt.Println(quantity.Hypot(quantity.Of(3, "m"), quantity.Of(400, "cm")))
	// Output:
	// 5 m
}

func ExampleDry() {
	feed, moisture := quantity.Of(500, "wmt/h"), quantity.Of(8, "%")
	dry, err := quantity.Dry(feed, moisture)
	fmt.Println(dry, err)
	defer func() { fmt.Println(recover()) }()
	fmt.Println(feed.Add(dry))
	// Output:
	// 460 dmt/h <nil>
	// cannot add 500 wmt/h and 460 dmt/h: one counts dry mass and the other wet mass; convert one by the moisture first, with quantity.Dry or by a factor such as 0.92`dmt/wmt`
}

func ExampleWet() {
	fmt.Println(quantity.Wet(quantity.Of(460, "dmt/h"), quantity.Of(8, "%")))
	// Output:
	// 500 wmt/h <nil>
}

func ExampleDeclareIndex() {
	// Invented figures of an index of plant cost.
	err := quantity.DeclareIndex("CAD", map[int]float64{2010: 551, 2024: 798})
	fmt.Println(quantity.Of(1.2e6, "CAD_2010").To("CAD_2024").Significant(3), err)
	// Output:
	// 1737931 CAD_2024 <nil>
}

func ExampleQuantity_Compare() {
	a, b := quantity.Of(1, "t"), quantity.Of(1000, "kg")
	fmt.Println(a.Compare(b), a.Equal(b), a == b, a.Less(quantity.Of(2, "lt")))
	// Output:
	// 0 true false true
}

func ExampleQuantity_Dimension() {
	work := quantity.Of(12, "kWh/t")
	fmt.Println(work.Dimension(), work.Dimension().Example(), work.Unit())
	// Output:
	// energy per mass J/kg kWh/t
}

func ExampleDimensionError() {
	defer func() { fmt.Println(recover()) }()
	quantity.Of(36.5, "t/h").Add(quantity.Of(12, "kWh"))
	// Output:
	// cannot add 36.5 t/h (mass per time, as kg/s) and 12 kWh (energy, as J)
}
