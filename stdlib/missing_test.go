package stdlib

import (
	"math"
	"testing"

	"cobber/stdlib/balance"
	"cobber/stdlib/kinetics"
	"cobber/stdlib/mineral"
	"cobber/stdlib/partition"
	"cobber/stdlib/quantity"
	"cobber/stdlib/sampling"
	"cobber/stdlib/settling"
	"cobber/stdlib/size"
	"cobber/stdlib/stream"
	"cobber/stdlib/table"
)

// A value that is missing in a sheet is a quantity that is not a number. No method
// may take it for a figure: each refuses it where it is given.
func TestMissingValuesAreRefused(t *testing.T) {
	of := quantity.Of
	none := func(unit string) quantity.Quantity { return of(math.NaN(), unit) }
	list := func(unit string, values ...float64) []quantity.Quantity {
		var out []quantity.Quantity
		for _, x := range values {
			out = append(out, of(x, unit))
		}
		return out
	}
	gap := math.NaN()
	quartz := must(mineral.Find("quartz"))(t)
	free := must(stream.Free(quartz))(t)
	classes := must(stream.NewClasses(list("µm", 300, 150), free))(t)
	sizes := must(size.New(list("µm", 300, 150), list("g", 0, 5, 5)))(t)
	model := must(size.RosinRammler(of(100, "µm"), quantity.Number(1)))(t)
	network := must(balance.NewNetwork(balance.Stream{Name: "f", To: "cell"}, balance.Stream{Name: "c", From: "cell"}, balance.Stream{Name: "t", From: "cell"}))(t)
	pulp := must(stream.New("x", classes, [][]float64{{1}, {1}}, quantity.Quantity{}))(t)
	calls := map[string]func() error{
		"size.New, a mass":  func() error { _, err := size.New(list("µm", 300, 150), list("g", 1, gap, 5)); return err },
		"size.New, a sieve": func() error { _, err := size.New(list("µm", 300, gap), list("g", 1, 2, 5)); return err },
		"size.FromPassing":  func() error { _, err := size.FromPassing(list("µm", 300, 150), list("%", 90, gap)); return err },
		"WithAssay":         func() error { _, err := sizes.WithAssay("Ti", list("%", 1, gap, 2)); return err },
		"PassingAt":         func() error { _, err := sizes.PassingAt(none("µm")); return err },
		"D":                 func() error { _, err := sizes.D(gap); return err },
		"Loss":              func() error { _, err := sizes.Loss(none("g")); return err },
		"CheckLoss":         func() error { return sizes.CheckLoss(of(10, "g"), none("%")) },
		"Scaled":            func() error { _, err := sizes.Scaled(none("t/h")); return err },
		"RosinRammler":      func() error { _, err := size.RosinRammler(none("µm"), quantity.Number(1)); return err },
		"Model.Passing":     func() error { _, err := model.Passing(none("µm")); return err },
		"NewComposition":    func() error { _, err := mineral.NewComposition([]string{"a"}, list("%", gap)); return err },
		"mineral.Convert":   func() error { _, err := mineral.Convert(none("%"), "Fe", "Fe2O3"); return err },
		"Solution": func() error {
			_, err := mineral.Solution("x", mineral.End{Mineral: quartz, Moles: none("%")}, mineral.End{})
			return err
		},
		"NewParticle": func() error {
			_, err := stream.NewParticle("x", stream.Part{Mineral: quartz, Share: none("%")})
			return err
		},
		"NewClasses": func() error { _, err := stream.NewClasses(list("µm", gap), free); return err },
		"stream.New": func() error {
			_, err := stream.New("x", classes, [][]float64{{1}, {gap}}, quantity.Quantity{})
			return err
		},
		"Feed, the rate": func() error {
			_, err := stream.Feed("x", classes, none("t/h"), sizes, list("%", 100), of(0, "t/h"))
			return err
		},
		"Feed, the water": func() error {
			_, err := stream.Feed("x", classes, of(1, "t/h"), sizes, list("%", 100), none("t/h"))
			return err
		},
		"Feed, a share": func() error {
			_, err := stream.Feed("x", classes, of(1, "t/h"), sizes, list("%", gap), of(0, "t/h"))
			return err
		},
		"Split": func() error {
			_, err := pulp.Split([]string{"a", "b"}, func(i, j int) []float64 { return []float64{gap} }, nil)
			return err
		},
		"WaterFor":          func() error { _, err := pulp.WaterFor(none("%")); return err },
		"Stream.Scaled":     func() error { _, err := pulp.Scaled(quantity.Number(gap)); return err },
		"PulpSolids":        func() error { _, err := stream.PulpSolids(none("g/cm3"), of(2.6, "g/cm3"), of(1, "g/cm3")); return err },
		"PulpDensityAt":     func() error { _, err := stream.PulpDensityAt(none("%"), of(2.6, "g/cm3"), of(1, "g/cm3")); return err },
		"DryRate":           func() error { _, err := stream.DryRate(of(1, "t/h"), none("%")); return err },
		"DryRate, the rate": func() error { _, err := stream.DryRate(none("t/h"), of(5, "%")); return err },
		"balance.Grades":    func() error { _, err := balance.Grades(of(1, "%"), of(20, "%"), none("%")); return err },
		"balance.Products": func() error {
			_, err := balance.Products([]string{"a", "b"}, balance.Metal{Name: "Cu", Feed: none("%"), Products: list("%", 2, 1)})
			return err
		},
		"balance.Cumulative": func() error {
			_, err := balance.Cumulative(balance.Part{Name: "a", Mass: none("t"), Grade: of(1, "%")}, balance.Part{Name: "b", Mass: of(1, "t"), Grade: of(1, "%")})
			return err
		},
		"balance.Separate": func() error { _, err := balance.Separate(none("%"), of(1, "%")); return err },
		"Reconcile":        func() error { _, err := network.Reconcile(balance.Flow("f", none("t/h"), of(1, "%"))); return err },
		"partition.New":    func() error { _, err := partition.New(list("µm", 300, 150), list("%", 90, gap)); return err },
		"partition.NewModel": func() error {
			_, err := partition.NewModel(partition.Whiten, none("g/cm3"), of(0.1, "g/cm3"))
			return err
		},
		"partition.Screen": func() error { _, err := partition.Screen(none("%"), of(10, "%"), of(90, "%")); return err },
		"partition.NewWashability": func() error {
			_, err := partition.NewWashability(list("g/cm3", 1.4), list("%", 50, gap), "ash", list("%", 5, 60))
			return err
		},
		"sampling.Constant":   func() error { _, err := sampling.Constant(none("g/cm3"), of(1, "cm")); return err },
		"sampling.Duplicates": func() error { _, err := sampling.Duplicates(list("%", 1, 2, gap), list("%", 1, 2, 3)); return err },
		"sampling.Increments": func() error { _, err := sampling.Increments(none("%"), of(1, "%"), 0.95); return err },
		"sampling.SafetyLine": func() error { _, err := sampling.SafetyLine(none("cm")); return err },
		"kinetics.NewTest":    func() error { _, err := kinetics.NewTest(list("min", 1, 2, 4), list("%", 20, gap, 60)); return err },
		"kinetics.NewModel":   func() error { _, err := kinetics.NewModel(kinetics.FirstOrder, none("%"), of(1, "1/min")); return err },
		"settling.FreeFall":   func() error { _, _, err := settling.FreeFall(none("m"), of(9.81, "m/s2")); return err },
		"settling.Hindered": func() error {
			_, err := settling.Hindered(of(1, "mm/s"), none("vol%"), quantity.Number(4.65))
			return err
		},
		"settling.Criterion": func() error {
			_, err := settling.Criterion(none("g/cm3"), of(2.6, "g/cm3"), of(1, "g/cm3"))
			return err
		},
		"table.Complete": func() error {
			return must(table.New(table.Quantities("mass", list("g", 1, gap))))(t).Complete()
		},
	}
	for name, call := range calls {
		if err := call(); err == nil {
			t.Errorf("%s: a missing value was taken for a figure", name)
		}
	}
}
