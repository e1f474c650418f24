package kinetics_test

import (
	"fmt"

	"cobber/stdlib/kinetics"
	"cobber/stdlib/quantity"
	"cobber/stdlib/show"
)

// A first-order mineral, 90 % of which can float, at 0.5/min: 90·(1 − e^−2) % in four
// minutes. Four cells in line need longer for it than one batch.
func ExampleNewModel() {
	model := show.Must(kinetics.NewModel(kinetics.FirstOrder, quantity.Of(90, "%"), quantity.Of(0.5, "1/min")))
	batch := show.Must(model.Recovery(quantity.Of(4, "min")))
	bank := show.Must(model.InBank(4, quantity.Of(1, "min")))
	fmt.Printf("in a batch %.3g, after %.3g\n", batch.To("%"), show.Must(model.Time(batch)).To("min"))
	fmt.Printf("in the bank %.3g; for the same %.3g in a cell\n", bank.To("%"), show.Must(model.BankTime(4, batch)).To("min"))
	fmt.Printf("%v: %.3g at %.3g\n", model.Form(), model.Ultimate(), model.Rate())
	// Output:
	// in a batch 77.8 %, after 4 min
	// in the bank 72.2 %; for the same 1.3 min in a cell
	// first order: 90 % at 0.5 min⁻¹
}

// An invented test that follows a first-order law is found again.
func ExampleFit() {
	var times, recoveries []quantity.Quantity
	model := show.Must(kinetics.NewModel(kinetics.FirstOrder, quantity.Of(90, "%"), quantity.Of(0.5, "1/min")))
	for _, minutes := range []float64{0.5, 1, 2, 4, 8} {
		times = append(times, quantity.Of(minutes, "min"))
		recoveries = append(recoveries, show.Must(model.Recovery(quantity.Of(minutes, "min"))))
	}
	test := show.Must(kinetics.NewTest(times, recoveries))
	fitted := show.Must(kinetics.Fit(test, kinetics.FirstOrder))
	fmt.Printf("%d times, %.3g at %.3g, R² %.3g\n", len(test.Times()), fitted.Model.Ultimate().To("%"), fitted.Model.Rate().To("1/min"), fitted.Determination)
	// Output:
	// 5 times, 90 % at 0.5 min⁻¹, R² 1
}

// A cleaner whose tailing goes back to the rougher: with 80 % and 60 % recovered the
// circuit as a whole recovers 0.48/(1 − 0.8·0.4).
func ExampleRecirculated() {
	fmt.Printf("%.4g\n", show.Must(kinetics.Recirculated(quantity.Of(80, "%"), quantity.Of(60, "%"))).To("%"))
	// Output:
	// 70.59 %
}

// Cells of 20 m³ that are a tenth gas, at 6 m³/min: three minutes in each.
func ExampleCellTime() {
	fmt.Println(show.Must(kinetics.CellTime(quantity.Of(20, "m³"), quantity.Of(10, "%"), quantity.Of(6, "m³/min"))).To("min"))
	// Output:
	// 3 min
}
