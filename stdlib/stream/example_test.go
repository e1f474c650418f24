package stream_test

import (
	"fmt"

	"cobber/stdlib/mineral"
	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
	"cobber/stdlib/stream"
)

// An invented sand: a feed of ilmenite and quartz, a split, a recovery.
func sand() (*stream.Classes, size.Distribution, error) {
	ilmenite, _ := mineral.Find("ilmenite")
	quartz, _ := mineral.Find("quartz")
	rich, _ := stream.Free(ilmenite)
	barren, _ := stream.Free(quartz)
	openings := []quantity.Quantity{quantity.Of(300, "µm"), quantity.Of(150, "µm"), quantity.Of(75, "µm")}
	classes, err := stream.NewClasses(openings, rich, barren)
	if err != nil {
		return nil, size.Distribution{}, err
	}
	retained := []quantity.Quantity{quantity.Of(0, "g"), quantity.Of(20, "g"), quantity.Of(50, "g"), quantity.Of(30, "g")}
	sizes, err := size.New(openings, retained)
	return classes, sizes, err
}

func ExampleStream_Split() {
	classes, sizes, err := sand()
	if err != nil {
		fmt.Println(err)
		return
	}
	shares := []quantity.Quantity{quantity.Of(8, "%"), quantity.Of(92, "%")}
	feed, err := stream.Feed("feed", classes, quantity.Of(40, "t/h"), sizes, shares, quantity.Of(60, "t/h"))
	if err != nil {
		fmt.Println(err)
		return
	}
	toConcentrate := func(i, j int) []float64 {
		if j == 0 {
			return []float64{0.9} // of the ilmenite; the tailing gets the rest
		}
		return []float64{0.02}
	}
	products, err := feed.Split([]string{"concentrate", "tailing"}, toConcentrate, []float64{0.1})
	if err != nil {
		fmt.Println(err)
		return
	}
	grade, _ := products[0].Grade("TiO2")
	recovery, _ := stream.Recovery(products[0], feed, "TiO2")
	fmt.Printf("%.4g of %.3g TiO2, recovery %.3g\n", products[0].Solids(), grade, recovery)
	// Output: 3.616 t/h of 41.9 % TiO2, recovery 90 %
}

// Streams hold means. Uncertain figures go through a whole calculation with
// quantity.Through.
func Example_through() {
	classes, sizes, err := sand()
	if err != nil {
		fmt.Println(err)
		return
	}
	head, _ := quantity.Normal(quantity.Of(8, "%"), quantity.Of(0.4, "%"))
	titania, err := quantity.Through(func(x []quantity.Quantity) (quantity.Quantity, error) {
		shares := []quantity.Quantity{x[0], quantity.Of(100, "%").Sub(x[0])}
		feed, err := stream.Feed("feed", classes, quantity.Of(40, "t/h"), sizes, shares, quantity.Quantity{})
		if err != nil {
			return quantity.Quantity{}, err
		}
		return feed.Rate("TiO2")
	}, head)
	fmt.Printf("%.2f ± %.2f t/h, %v\n", titania.Shown(), titania.StdDev().Shown(), err)
	// Output: 1.68 ± 0.08 t/h, <nil>
}
