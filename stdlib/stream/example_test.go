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

// Pulp of 30 % solids of density 2.65 in water: 100/(30/2.65 + 70) t/m³, and back.
func ExamplePulpDensityAt() {
	ore, water := quantity.Of(2.65, "t/m³"), quantity.Of(1, "t/m³")
	pulp, err := stream.PulpDensityAt(quantity.Of(30, "%"), ore, water)
	if err != nil {
		fmt.Println(err)
		return
	}
	solids, err := stream.PulpSolids(pulp, ore, water)
	fmt.Printf("%.4g, %.4g, %v\n", pulp.To("t/m³"), solids.To("%"), err)
	// Output: 1.23 t/m³, 30 %, <nil>
}

// A belt weigher reads 250 t/h of ore with 4 % of moisture in what is wet.
func ExampleDryRate() {
	dry, err := stream.DryRate(quantity.Of(250, "t/h"), quantity.Of(4, "%"))
	fmt.Println(dry, err)
	// Output: 240 t/h <nil>
}

// What a feed is: its rate, grade, pulp and sizes.
func ExampleFeed() {
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
	titania, _ := feed.Rate("TiO2")
	percent, _ := feed.PercentSolids()
	density, _ := feed.SolidsDensity()
	flow, _ := feed.VolumeFlow()
	fmt.Printf("%.3g of TiO2 in %.3g of pulp, %.3g solids of %.3g, %.3g\n", titania, feed.Pulp(), percent, density, flow)
	// Output: 1.68 t/h of TiO2 in 100 t/h of pulp, 40 wt% solids of 2.75 g/cm³, 74.5 m³/h
}

// A middling of 30 % of ilmenite by mass: its density and what it holds.
func ExampleLocked() {
	ilmenite, _ := mineral.Find("ilmenite")
	quartz, _ := mineral.Find("quartz")
	middling, err := stream.Locked(ilmenite, quantity.Of(30, "%"), quartz)
	if err != nil {
		fmt.Println(err)
		return
	}
	density, err := middling.Density()
	titania, failed := middling.Content("TiO2")
	fmt.Printf("%v: %.3g, %.3g TiO2, %v, %v\n", middling, density, titania, err, failed)
	// Output: ilmenite 30 % in quartz: ilmenite 30 %, quartz 70 %: 3.06 g/cm³, 15.8 % TiO2, <nil>, <nil>
}

// A feed and water for a pulp of 25 % solids, then two such feeds together.
func ExampleMix() {
	classes, sizes, err := sand()
	if err != nil {
		fmt.Println(err)
		return
	}
	shares := []quantity.Quantity{quantity.Of(8, "%"), quantity.Of(92, "%")}
	dry, err := stream.Feed("north", classes, quantity.Of(40, "t/h"), sizes, shares, quantity.Quantity{})
	if err != nil {
		fmt.Println(err)
		return
	}
	water, err := dry.WaterFor(quantity.Of(25, "%"))
	if err != nil {
		fmt.Println(err)
		return
	}
	wet, err := dry.WithWater(water)
	if err != nil {
		fmt.Println(err)
		return
	}
	both, err := stream.Mix("both", wet, dry.Named("south"))
	fmt.Printf("%.4g with %.4g of water, %v\n", both.Solids(), both.Water(), err)
	// Output: 80 t/h with 120 t/h of water, <nil>
}
