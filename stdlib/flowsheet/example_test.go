package flowsheet_test

import (
	"fmt"
	"log"

	"cobber/stdlib/flowsheet"
	"cobber/stdlib/mineral"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// A rougher and a cleaner; what the cleaner leaves goes back to the rougher. All
// figures are invented.
func Example() {
	check := func(err error) {
		if err != nil {
			log.Fatal(err)
		}
	}
	ilmenite, err := mineral.Find("ilmenite")
	check(err)
	quartz, err := mineral.Find("quartz")
	check(err)
	heavy, err := stream.Free(ilmenite)
	check(err)
	light, err := stream.Free(quartz)
	check(err)
	classes, err := stream.NewClasses([]quantity.Quantity{quantity.Of(1, "mm")}, heavy, light)
	check(err)
	sand, err := stream.New("sand", classes, [][]float64{{1, 9}}, quantity.Quantity{}) // kg/s
	check(err)

	separator := flowsheet.Separation{
		First: "concentrate", Second: "tailing", Energy: quantity.Of(0.8, "kWh/t"),
		Share: func(_ quantity.Quantity, p stream.Particle) float64 { return 0.1 + 0.7*p.Share("ilmenite") },
	}
	plant, err := flowsheet.New("two stages", []stream.Stream{sand},
		flowsheet.Do("rougher", separator, "sand", "cleaner.tailing"),
		flowsheet.Do("cleaner", separator, "rougher.concentrate"))
	check(err)
	result, err := plant.Solve()
	check(err)

	concentrate, err := result.Stream("cleaner.concentrate")
	check(err)
	grade, err := concentrate.Grade("ilmenite")
	check(err)
	recovery, err := result.Recovery("cleaner.concentrate", "ilmenite")
	check(err)
	energy, err := result.Energy()
	check(err)
	fmt.Printf("grade %.1f, recovery %.1f, %.2f\n", grade, recovery, energy.Total())
	fmt.Println("solved", result.Loops()[0].Method, "in", result.Loops()[0].Passes, "passes")
	// Output:
	// grade 88.5 %, recovery 76.2 %, 37.50 kW
	// solved class by class in 3 passes
}
