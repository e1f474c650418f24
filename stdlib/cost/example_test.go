package cost_test

import (
	"fmt"

	"cobber/stdlib/cost"
	"cobber/stdlib/quantity"
	"cobber/stdlib/show"
)

// Twice the capacity by the rule of six-tenths costs 2^0.6 = 1.516 times as much; two
// prices at that ratio show the exponent again.
func ExampleScale() {
	small, large, price := quantity.Of(20, "t/h"), quantity.Of(40, "t/h"), quantity.Of(100000, "USD")
	scaled := show.Must(cost.Scale(price, small, large, quantity.Number(cost.SixTenths)))
	exponent := show.Must(cost.Exponent([]quantity.Quantity{small, large}, []quantity.Quantity{price, scaled}))
	fmt.Printf("%.4g, exponent %.3g\n", scaled, exponent)
	// Output:
	// 1.516e+05 USD, exponent 0.6
}

// What consumer prices in the United States did from 1990 to 2020: the index went from
// 130.7 to 258.8.
func ExampleSeries_Factor() {
	prices := cost.ConsumerPrices()
	first, last := prices.Years()
	fmt.Println(first, last)
	fmt.Printf("%.4g, %.4g: %.3g times\n", show.Must(prices.At(1990)), show.Must(prices.At(2020)), show.Must(prices.Factor(1990, 2020)))
	// Output:
	// 1960 2024
	// 130.7, 258.8: 1.98 times
}

// An index of one's own, with invented values and so without a source worth the name.
func ExampleNewSeries() {
	index := show.Must(cost.NewSeries("plant costs", "invented", []int{2010, 2020}, []float64{550, 600}))
	fmt.Printf("%s (%s): %.4g\n", index.Name(), index.Source(), show.Must(index.Factor(2010, 2020)))
	// Output:
	// plant costs (invented): 1.091
}

// 1000 borrowed at 8 % for ten years: 149.03 a year pays it back, 69.03 a year saves it.
func ExampleAnnuity() {
	loan, interest := quantity.Of(1000, "USD"), quantity.Of(8, "%")
	payment := show.Must(cost.Annuity(loan, interest, 10))
	saved := show.Must(cost.SinkingFund(loan, interest, 10))
	fmt.Printf("%.5g, %.4g\n", payment, saved)
	// Output:
	// 149.03 USD, 69.03 USD
}

// A machine of 1000 that brings 400 at the end of each of three years, at 8 %.
func ExamplePresentWorth() {
	income := quantity.Of(400, "USD")
	worth := show.Must(cost.PresentWorth([]quantity.Quantity{quantity.Of(-1000, "USD"), income, income, income}, quantity.Of(8, "%")))
	fmt.Printf("%.4g\n", worth)
	fmt.Printf("in the books after two years of five: %.4g\n", show.Must(cost.Depreciated(quantity.Of(1000, "USD"), quantity.Of(100, "USD"), 5, 2)))
	// Output:
	// 30.84 USD
	// in the books after two years of five: 640 USD
}

// A mill of an invented report: prices rose 2.5 times, and four times the capacity at an
// exponent of one half costs twice as much.
func ExampleEstimate_Update() {
	index := show.Must(cost.NewSeries("own", "invented", []int{1990, 2020}, []float64{100, 250}))
	mill := cost.Estimate{Name: "mill", Cost: quantity.Of(2e6, "USD"), Year: 1990, Capacity: quantity.Of(100, "t/h"), Source: "an invented report"}
	now := show.Must(mill.Update(index, 2020, quantity.Of(400, "t/h"), quantity.Number(0.5)))
	fmt.Printf("index %.3g, size %.3g: %.4g\n", now.Index, now.Size, now.Now)
	// Output:
	// index 2.5, size 2: 1e+07 USD
}

// 20 kWh/t at 0.10 are 2.00 a tonne, 500 g/t of steel at 2 a kg, 10 % dearer by now, 1.10.
func ExampleNewBill() {
	index := show.Must(cost.NewSeries("own", "invented", []int{2019, 2020}, []float64{100, 110}))
	bill := show.Must(cost.NewBill(index, 2020,
		cost.Item{Name: "electricity", Use: quantity.Of(20, "kWh/t"), Price: quantity.Of(0.1, "USD/kWh"), Year: 2020},
		cost.Item{Name: "steel", Use: quantity.Of(500, "g/t"), Price: quantity.Of(2, "USD/kg"), Year: 2019}))
	fmt.Printf("%.3g\n", bill.Total())
	// Output:
	// 3.1 USD/t
}
