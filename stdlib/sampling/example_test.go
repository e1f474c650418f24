package sampling_test

import (
	"fmt"

	"cobber/stdlib/quantity"
	"cobber/stdlib/sampling"
)

// Increments spread by 6 % of the grade; the mean shall be right within 2 % at 95 %.
func ExampleIncrements() {
	spread, margin := quantity.Of(6, "%"), quantity.Of(2, "%")
	known, err := sampling.Increments(spread, margin, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	piloted, err := sampling.IncrementsFromPilot(spread, 10, margin, 0.95)
	fmt.Println(known, "where the spread is known,", piloted, "where ten increments told it;", err)
	// Output: 35 where the spread is known, 47 where ten increments told it; <nil>
}

// Errors of sampling, splitting and assaying add as squares.
func ExampleTogether() {
	all, err := sampling.Together(quantity.Of(3, "%"), quantity.Of(4, "%"), quantity.Of(12, "%"))
	fmt.Println(all, err)
	// Output: 13 % <nil>
}

// The constant of a material gives its least sample for 1 %, and the error of that sample.
func ExampleConstant() {
	gy, err := sampling.Constant(quantity.Of(50, "g/cm³"), quantity.Of(1, "cm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	var lot quantity.Quantity // without bound
	mass, err := gy.MinimumMass(quantity.Of(1, "%"), lot)
	if err != nil {
		fmt.Println(err)
		return
	}
	relative, err := gy.Error(mass, lot)
	fmt.Println(mass.To("kg"), relative.To("%"), err)
	// Output: 500 kg 1 % <nil>
}

// How fine must ore be crushed before a sample of 100 g of it is good to 2 %?
func ExampleMaterial_TopSizeFor() {
	ore := sampling.Material{
		TopSize: quantity.Of(12, "mm"), Grade: quantity.Of(4, "%"), Mineral: quantity.Of(5, "g/cm³"),
		Gangue: quantity.Of(2.7, "g/cm³"), Liberation: quantity.Of(100, "µm"),
	}
	top, err := ore.TopSizeFor(quantity.Of(100, "g"), quantity.Of(2, "%"))
	fmt.Printf("%.3g %v\n", top.To("mm"), err)
	// Output: 2.36 mm <nil>
}

// Assays of five halved samples, invented: their precision, and whether one half reads high.
func ExampleDuplicates() {
	first := quantities("%", 1.02, 0.88, 1.25, 0.97, 1.10)
	second := quantities("%", 0.98, 0.91, 1.21, 1.00, 1.08)
	precision, err := sampling.Duplicates(first, second)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(precision)
	fmt.Println("biased:", precision.IsBiased())
	// Output:
	// Precision from duplicates
	// figure                            value
	// ────────────────────────────────  ─────────
	// pairs                             5
	// mean                              1.04 %
	// standard deviation of one result  0.02324 %
	// relative standard deviation       2.246 %
	// bias, first less second           0.008 %
	// standard error of the bias        0.01594 %
	// biased: false
}

// Material sized between two sieves in the ratio 1.5 spreads less than unsized material.
func ExampleSizeFactor() {
	factor, err := sampling.SizeFactor(quantity.Of(15, "mm"), quantity.Of(10, "mm"))
	fmt.Println(factor, err)
	// Output: 0.75 <nil>
}

func quantities(unit string, values ...float64) []quantity.Quantity {
	var list []quantity.Quantity
	for _, value := range values {
		list = append(list, quantity.Of(value, unit))
	}
	return list
}
