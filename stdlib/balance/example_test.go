package balance_test

import (
	"fmt"

	"cobber/stdlib/balance"
	"cobber/stdlib/quantity"
	"cobber/stdlib/show"
)

// 2.5 % in the feed, 25 % in the concentrate and 0.25 % in the tailing: the yield is
// 2.25/24.75, the recovery ten times that, the enrichment 10.
func ExampleGrades() {
	b := show.Must(balance.Grades(quantity.Of(2.5, "%"), quantity.Of(25, "%"), quantity.Of(0.25, "%")))
	fmt.Printf("yield %.4g, recovery %.4g, loss %.3g\n", b.Yield().To("%"), b.Recovery().To("%"), b.Loss().To("%"))
	fmt.Printf("enrichment %.3g, %.3g t for a tonne\n", b.Enrichment(), b.Concentration())
	fmt.Printf("efficiency %.4g, of a mineral that holds 50 %%\n", show.Must(b.SeparationEfficiency(quantity.Of(50, "%"))).To("%"))
	// Output:
	// yield 9.091 %, recovery 90.91 %, loss 9.09 %
	// enrichment 10, 11 t for a tonne
	// efficiency 86.12 %, of a mineral that holds 50 %
}

// How relative errors of the three assays, alike and independent, grow in the yield and
// in the recovery: much where the tailing is almost as rich as the feed.
func ExampleTwoProduct_YieldSensitivity() {
	for _, tailing := range []float64{0.25, 2.3} {
		b := show.Must(balance.Grades(quantity.Of(2.5, "%"), quantity.Of(25, "%"), quantity.Of(tailing, "%")))
		fmt.Printf("tailing %g %%: yield %.3g, errors times %.3g; recovery %.3g, times %.3g\n",
			tailing, b.Yield().To("%"), b.YieldSensitivity().Together(), b.Recovery().To("%"), b.RecoverySensitivity().Together())
	}
	// Output:
	// tailing 0.25 %: yield 9.09 %, errors times 1.51; recovery 90.9 %, times 0.151
	// tailing 2.3 %: yield 0.881 %, errors times 17; recovery 8.81 %, times 16.2
}

// 90 % of the wanted and 15 % of the rest came to the product.
func ExampleSeparate() {
	s := show.Must(balance.Separate(quantity.Of(90, "%"), quantity.Of(15, "%")))
	fmt.Printf("difference %.3g, product %.3g, root %.3g, selectivity %.3g\n",
		s.Difference().To("%"), s.Product().To("%"), s.Root().To("%"), s.Selectivity())
	// Output:
	// difference 75 %, product 76.5 %, root 87.5 %, selectivity 7.14
}

// Three products of a test, best first: what the first, the first two and all of them
// hold and recover.
func ExampleCumulative() {
	curve := show.Must(balance.Cumulative(
		balance.Part{Name: "concentrate", Mass: quantity.Of(10, "g"), Grade: quantity.Of(60, "%")},
		balance.Part{Name: "middling", Mass: quantity.Of(20, "g"), Grade: quantity.Of(15, "%")},
		balance.Part{Name: "tailing", Mass: quantity.Of(70, "g"), Grade: quantity.Of(1, "%")}))
	for k, grade := range curve.Grades() {
		fmt.Printf("%.4g of the mass at %.4g recovers %.4g\n", curve.Yields()[k].To("%"), grade.To("%"), curve.Recoveries()[k].To("%"))
	}
	fmt.Printf("feed %.4g\n", curve.Grade().To("%"))
	// Output:
	// 10 % of the mass at 60 % recovers 61.86 %
	// 30 % of the mass at 30 % recovers 92.78 %
	// 100 % of the mass at 9.7 % recovers 100 %
	// feed 9.7 %
}

// Lead, zinc and a tailing: two metals fix three yields, 5 %, 10 % and 85 %.
func ExampleProducts() {
	percent := func(values ...float64) []quantity.Quantity {
		var list []quantity.Quantity
		for _, x := range values {
			list = append(list, quantity.Of(x, "%"))
		}
		return list
	}
	b := show.Must(balance.Products([]string{"lead", "zinc", "tailing"},
		balance.Metal{Name: "Pb", Feed: quantity.Of(3.27, "%"), Products: percent(60, 1, 0.2)},
		balance.Metal{Name: "Zn", Feed: quantity.Of(5.905, "%"), Products: percent(5, 54, 0.3)}))
	fmt.Printf("yields %.4g, %.4g, %.4g\n", b.Yields()[0].To("%"), b.Yields()[1].To("%"), b.Yields()[2].To("%"))
	fmt.Printf("lead to its concentrate %.4g\n", show.Must(b.Recoveries("Pb"))[0].To("%"))
	// Output:
	// yields 5 %, 10 %, 85 %
	// lead to its concentrate 91.74 %
}

// Two components of one separation, which do not quite agree on its yield.
func ExampleBestYield() {
	best, each, err := balance.BestYield(
		balance.Metal{Name: "Cu", Feed: quantity.Of(1, "%"), Products: []quantity.Quantity{quantity.Of(20, "%"), quantity.Of(0.1, "%")}},
		balance.Metal{Name: "Fe", Feed: quantity.Of(8, "%"), Products: []quantity.Quantity{quantity.Of(30, "%"), quantity.Of(7, "%")}})
	fmt.Printf("%.3g from %.3g and %.3g, %v\n", best.To("%"), each[0].To("%"), each[1].To("%"), err)
	// Output:
	// 4.42 % from 4.52 % and 4.35 %, <nil>
}
