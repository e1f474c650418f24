package published

import (
	"testing"

	"cobber/stdlib/cost"
	"cobber/stdlib/quantity"
)

func dollars(x float64) quantity.Quantity { return quantity.Of(x, "USD") }

// Annual averages of CPI-U as the Bureau of Labor Statistics prints them (values
// from memory), to one decimal before 2007.
func TestConsumerPrices(t *testing.T) {
	for year, want := range map[int]float64{1970: 38.8, 1980: 82.4, 1990: 130.7, 2000: 172.2, 2010: 218.056, 2015: 237.017, 2020: 258.811, 2023: 304.702} {
		at, err := cost.ConsumerPrices().At(year)
		if err != nil {
			t.Fatal(err)
		}
		spread := 1e-5
		if year < 2007 {
			spread = 1e-3
		}
		near(t, "index", in(t, at, "1"), want, spread)
	}
}

func TestCapacityExponents(t *testing.T) {
	// A textbook of applied calculus, rule of .6: twice the size costs 1.516 times as
	// much, four times 2.297 (seen at second hand).
	for ratio, want := range map[float64]float64{2: 1.516, 4: 2.297} {
		f, err := cost.Scale(dollars(1), quantity.Of(1, "t/h"), quantity.Of(ratio, "t/h"), quantity.Number(cost.SixTenths))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "rule of .6", in(t, f, "USD"), want, 3e-4)
	}
	// L. Theodore, Heat Transfer Applications for the Practicing Engineer, example 27.8
	// (transcribed in a textbook companion): exchangers cost 117·A^0.65 in money of an
	// index of 230; at 360, with 3.29 × 1.15 for one of 435.94 ft² and 3.29 × 1.20 for
	// one of 243.77 ft², 36 000 and 26 000 USD.
	index, err := cost.NewSeries("index of the example", "Theodore", []int{1, 2}, []float64{230, 360})
	if err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct{ area, factor, want float64 }{{435.942, 3.29 * 1.15, 36000}, {243.770, 3.29 * 1.20, 26000}} {
		e := cost.Estimate{Name: "exchanger", Cost: dollars(117 * 19.952623149688797), Year: 1, Capacity: quantity.Of(100, "ft²")} // 100^0.65
		u, err := e.Update(index, 2, quantity.Of(test.area, "ft²"), quantity.Number(0.65))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "exchanger", in(t, u.Now, "USD")*test.factor, test.want, 0.015)
	}
	// The slope by numpy 2.4.6 (polyfit on logarithms, cov=True), on prices of our own.
	x := []quantity.Quantity{quantity.Of(10, "t/h"), quantity.Of(25, "t/h"), quantity.Of(60, "t/h"), quantity.Of(140, "t/h")}
	n, err := cost.Exponent(x, []quantity.Quantity{dollars(52e3), dollars(85e3), dollars(150e3), dollars(240e3)})
	if err != nil {
		t.Fatal(err)
	}
	first := n.FirstOrder()
	near(t, "exponent", in(t, first.Value, "1"), 0.586304013762499, 1e-9)
	near(t, "its error", in(t, first.Uncertainty, "1"), 0.015027789860248098, 1e-9)
}

// R. Panneerselvam, Engineering Economics, example 11.1 (transcribed in a textbook
// companion): costs of 24 000 that grow by 9 % a year; those of years 21 to
// 30 are worth 1 013 631.794 in year 20 at 15 %, and 9 894.537 a year over 20 years
// up to then.
func TestPresentWorth(t *testing.T) {
	payments := []quantity.Quantity{dollars(0)}
	growing := 24000.0
	for year := 1; year <= 30; year++ {
		if growing *= 1.09; year > 20 {
			payments = append(payments, dollars(growing))
		}
	}
	worth, err := cost.PresentWorth(payments, quantity.Of(15, "%"))
	if err != nil {
		t.Fatal(err)
	}
	fund, err := cost.SinkingFund(dollars(1013631.794107), quantity.Of(15, "%"), 20)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "sinking fund", in(t, fund, "USD"), 9894.536761, 1e-8)
	near(t, "present worth", in(t, worth, "USD"), 1013631.794, 1e-8)
}

// L. Theodore, example 27.5 (transcribed in a textbook companion): 60 000 less 500,
// 3.375 %, 9 years: a fund of 5 768 a year; straight-line value after 5 years 26 945.
func TestFundAndDepreciation(t *testing.T) {
	fund, err := cost.SinkingFund(dollars(59500), quantity.Of(3.375, "%"), 9)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "fund", in(t, fund, "USD"), 5768, 5e-5)
	left, err := cost.Depreciated(dollars(60000), dollars(500), 9, 5)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "value", in(t, left, "USD"), 26945, 5e-5)
}
