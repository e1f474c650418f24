package partition_test

import (
	"fmt"

	"cobber/stdlib/partition"
	"cobber/stdlib/quantity"
)

// A curve of a dense medium bath read by hand: the probable error is half the difference
// of the densities at 75 % and 25 %. Its figures are invented.
func ExampleNew() {
	curve, err := partition.New(quantities("g/cm³", 1.30, 1.40, 1.45, 1.50, 1.55, 1.70), quantities("%", 2, 10, 25, 50, 75, 98))
	if err != nil {
		fmt.Println(err)
		return
	}
	cut, err := curve.Cut()
	spread, failed := curve.ProbableError()
	fmt.Printf("%.3g, %.2g, %v, %v\n", cut, spread, err, failed)
	// Output: 1.5 g/cm³, 0.05 g/cm³, <nil>, <nil>
}

// A bath that cuts at 1.50 with a probable error of 0.05: what of three densities sinks.
func ExampleNewModel() {
	bath, err := partition.NewModel(partition.Whiten, quantity.Of(1.5, "g/cm³"), quantity.Of(0.05, "g/cm³"))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, density := range []float64{1.45, 1.50, 1.55} {
		share, err := bath.Share(quantity.Of(density, "g/cm³"))
		fmt.Println(share.To("%"), err)
	}
	// Output:
	// 25 % <nil>
	// 50 % <nil>
	// 75 % <nil>
}

// A screen whose feed holds 40 % fines, its oversize still 5 % and its undersize 90 %.
func ExampleScreen() {
	screen, err := partition.Screen(quantity.Of(40, "%"), quantity.Of(5, "%"), quantity.Of(90, "%"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(screen)
	// Output:
	// Efficiency of a screen by its definitions
	// figure                                      value (%)
	// ──────────────────────────────────────────  ─────────
	// undersize per feed, U/F                         41.18
	// recovery of fines, Eu                           92.65
	// recovery of coarse, Eo                          93.14
	// effectiveness, Eu·Eo                            86.29
	// Newton efficiency, Eu + Eo − 1                  85.78
	// removal of fines, undersize taken as clean      92.11
	// misplaced material                               7.06
}

// Invented sinks and floats of a coal: what floats at 1.5, and with how much ash.
func ExampleNewWashability() {
	coal, err := partition.NewWashability(quantities("g/cm³", 1.3, 1.4, 1.5, 1.6),
		quantities("kg", 30, 40, 10, 5, 15), "ash", quantities("%", 4, 9, 20, 32, 70))
	if err != nil {
		fmt.Println(err)
		return
	}
	cut, err := coal.At(quantity.Of(1.5, "g/cm³"))
	near, failed := coal.NearDensity(quantity.Of(1.5, "g/cm³"), quantity.Of(0.1, "g/cm³"))
	fmt.Printf("%.3g floats with %.3g ash, %v\n", cut.Floats, cut.FloatsGrade, err)
	fmt.Printf("%.3g sinks with %.3g of all the ash\n", cut.Sinks(), cut.SinksContent())
	fmt.Printf("%.3g is within 0.1 of the cut, %v\n", near, failed)
	// Output:
	// 80 % floats with 8.5 % ash, <nil>
	// 20 % sinks with 64 % of all the ash
	// 15 % is within 0.1 of the cut, <nil>
}

func quantities(unit string, values ...float64) []quantity.Quantity {
	var list []quantity.Quantity
	for _, value := range values {
		list = append(list, quantity.Of(value, unit))
	}
	return list
}
