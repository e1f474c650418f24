package mineral_test

import (
	"fmt"

	"cobber/stdlib/mineral"
	"cobber/stdlib/quantity"
)

// The assays of the examples are invented.

func ExampleParseFormula() {
	ilmenite := mineral.Must(mineral.ParseFormula("FeTiO3"))
	iron, err := ilmenite.Share("Fe")
	fmt.Println(ilmenite.MolarMass(), iron, err)
	_, err = mineral.ParseFormula("Al2O3.2SiO2")
	fmt.Println(err)
	// Output:
	// 151.709 g/mol 36.81 % <nil>
	// mineral: formula "Al2O3.2SiO2", at "3.2SiO2": the full stop may be a decimal point or the dot of a compound; write 3·2, or put the atoms before it in brackets if 3.2 is their count
}

func ExampleConvert() {
	hematite, err := mineral.Convert(quantity.Of(62, "%"), "Fe", "hematite")
	fmt.Println(hematite, err)
	// Output: 88.64 % <nil>
}

func ExampleFind() {
	ilmenite, err := mineral.Find("ilmenite")
	fmt.Println(ilmenite.Density, ilmenite.Magnetism, err)
	fmt.Println(ilmenite.Density.Source)
	_, err = mineral.Find("ilmenight")
	fmt.Println(err)
	// Output:
	// 4.7 to 4.79 g/cm³ paramagnetic <nil>
	// Wikipedia, Ilmenite
	// mineral: no mineral "ilmenight" in the table; the nearest names are ilmenite, almandine, silica; any formula serves as well
}

func ExampleFitProportions() {
	percent := func(x float64) quantity.Quantity { return quantity.Of(x, "%") }
	sand, _ := mineral.NewComposition([]string{"TiO2", "FeO", "SiO2", "ZrO2"},
		[]quantity.Quantity{percent(21), percent(17), percent(56), percent(4)})
	phases, _ := mineral.Phases("ilmenite", "quartz", "zircon", "rutile")
	p, err := mineral.FitProportions(sand, phases...)
	fmt.Println(p, err)
	// Output:
	// proportions by least squares, none below 0
	// phase     share (%)
	// ────────  ─────────
	// ilmenite      35.90
	// quartz        54.05
	// zircon         5.95
	// rutile         2.10
	// all           98.00
	//
	// component  assayed (%)  explained (%)  unexplained (%)
	// ─────────  ───────────  ─────────────  ───────────────
	// TiO2                21             21                0
	// FeO                 17             17                0
	// SiO2                56             56                0
	// ZrO2                 4              4                0 <nil>
}

func ExampleNewDeportment() {
	content, _ := mineral.Content("Fe", "ilmenite")
	d, err := mineral.NewDeportment("Fe",
		mineral.Carrier{Name: "ilmenite", Amount: quantity.Of(12, "%"), Grade: content},
		mineral.Carrier{Name: "metal", Amount: quantity.Of(0.6, "%"), Grade: quantity.Of(94, "%")},
		mineral.Carrier{Name: "silicates", Amount: quantity.Of(87.4, "%"), Grade: quantity.Of(5, "%")})
	fmt.Println(d, err)
	// Output:
	// carrier    amount (%)  grade (%)  held (%)  part of Fe (%)
	// ─────────  ──────────  ─────────  ────────  ──────────────
	// ilmenite         12.0      36.81     4.417           47.24
	// metal             0.6      94.00     0.564            6.03
	// silicates        87.4       5.00     4.370           46.73
	// all                 –          –     9.351          100.00 <nil>
}

func ExampleFindBlend() {
	of := func(si, fe float64) mineral.Composition {
		c, _ := mineral.NewComposition([]string{"SiO2", "FeO"}, []quantity.Quantity{quantity.Of(si, "%"), quantity.Of(fe, "%")})
		return c
	}
	b, err := mineral.FindBlend(mineral.Target{Composition: of(45, 16)},
		mineral.Material{Name: "basalt sand", Composition: of(49, 11)},
		mineral.Material{Name: "olivine", Composition: of(41, 8), High: quantity.Of(20, "%")},
		mineral.Material{Name: "black sand", Composition: of(20, 40)})
	fmt.Println(b, err)
	// Output:
	// the only blend that comes so near
	// material     share (%)  at least (%)  at most (%)
	// ───────────  ─────────  ────────────  ───────────
	// basalt sand      84.48             0          100
	// olivine           0.00             0           20
	// black sand       15.52             0          100
	//
	// wanted of  wanted (%)  given (%)  missed (%)
	// ─────────  ──────────  ─────────  ──────────
	// SiO2               45       44.5         0.5
	// FeO                16       15.5         0.5 <nil>
}

// A phosphorus assay as the oxide of reports: 1 % P is 2.29 % P2O5.
func ExampleFactor() {
	factor, err := mineral.Factor("P", "P2O5")
	fmt.Printf("%.4g %v\n", factor, err)
	// Output: 2.291 <nil>
}

// Volumes add, so the density of a mixture is 1/Σ(share/density).
func ExampleMeanDensity() {
	density, err := mineral.MeanDensity(
		[]quantity.Quantity{quantity.Of(50, "%"), quantity.Of(50, "%")},
		[]quantity.Quantity{quantity.Of(2, "g/cm³"), quantity.Of(6, "g/cm³")})
	fmt.Println(density, err)
	// Output: 3 g/cm³ <nil>
}

// An invented soil by its oxides: what they add up to, and its iron as the element.
func ExampleNewComposition() {
	soil, err := mineral.NewComposition([]string{"SiO2", "FeO", "MgO", "CaO", "Al2O3"},
		[]quantity.Quantity{quantity.Of(46, "%"), quantity.Of(16, "%"), quantity.Of(10, "%"), quantity.Of(11, "%"), quantity.Of(14, "%")})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(soil.Total(), soil.CheckTotal(quantity.Of(2, "%")))
	elements, err := soil.Elements()
	if err != nil {
		fmt.Println(err)
		return
	}
	iron, err := elements.Share("Fe")
	fmt.Printf("%.4g %v\n", iron, err)
	// Output:
	// 97 % mineral: the shares of SiO2, FeO, MgO, CaO, Al2O3 add up to 97 %, more than 2 % from 100 %; look for a part not assayed, or assayed twice
	// 12.44 % <nil>
}
