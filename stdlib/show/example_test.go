package show_test

import (
	"fmt"

	"cobber/stdlib/quantity"
	"cobber/stdlib/show"
)

// Must gives the value alone where a mistake is to end the cell.
func ExampleMust() {
	rate := show.Must(quantity.Parse("250 t/h"))
	fmt.Println(rate.To("kg/s"))
	// Output: 69.44 kg/s
}

// A title and figures, shown one below the other as a cell shows them.
func ExampleValue() {
	show.Value("Feed of the mill (invented)", quantity.Of(250, "t/h"))
	// Output:
	// Feed of the mill (invented)
	// 250 t/h
}
