package quantity

import (
	"strings"
	"testing"
)

// The index is the consumer price index for all urban consumers of the US Bureau
// of Labor Statistics (1982-84 = 100), as means of the twelve months of its
// published series: 1990 130.658, 2010 218.056, 2020 258.811.
func TestMoneyOfYears(t *testing.T) {
	if err := DeclareIndex("USD", map[int]float64{1990: 130.658, 2010: 218.056, 2020: 258.811}); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		amount    float64
		from, to  string
		published float64
	}{
		{1000, "USD_1990", "USD_2020", 1000 * 258.811 / 130.658},
		{1000, "USD_2020", "USD_1990", 1000 * 130.658 / 258.811},
		{12, "USD_1990/t", "USD_2010/t", 12 * 218.056 / 130.658},
	} {
		got, err := Of(c.amount, c.from).Value(c.to)
		if err != nil || relativeError(got, c.published) > 1e-14 {
			t.Errorf("%v %s are %v %s, %v; want %v", c.amount, c.from, got, c.to, err, c.published)
		}
	}
	if _, err := Of(5, "USD_1990").In("USD"); err == nil || !strings.Contains(err.Error(), "no fixed rate") {
		t.Errorf("money of 1990 as money without a year: %v", err)
	}
	total := Of(5, "USD_2020").Add(Of(1, "USD_1990"))
	if relativeError(total.Shown(), 5+258.811/130.658) > 1e-14 {
		t.Errorf("a sum over years is %s", total)
	}
	// An uncertain rate is a quantity like any other.
	cost := Of(100, "EUR").Mul(Must(Normal(Of(1.08, "USD/EUR"), Of(0.02, "USD/EUR"))))
	within(t, "cost at an uncertain rate", cost.FirstOrder().Uncertainty.Shown(), 2, 0.001)
}

func TestMoneyOfYearsRefuses(t *testing.T) {
	for _, c := range []struct {
		currency string
		index    map[int]float64
		want     string
	}{
		{"t", map[int]float64{1990: 1, 2000: 2}, "not the symbol of a currency"},
		{"dollars", map[int]float64{1990: 1, 2000: 2}, "whose dollar"},
		{"MUSD", map[int]float64{1990: 1, 2000: 2}, "not the symbol of a currency"},
		{"EUR", map[int]float64{90: 1, 2000: 2}, "four digits"},
		{"EUR", map[int]float64{1990: 1}, "two or more"},
		{"EUR", map[int]float64{1990: 0, 2000: 2}, "above zero"},
	} {
		if err := DeclareIndex(c.currency, c.index); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s %v: %v, want %q", c.currency, c.index, err, c.want)
		}
	}
}
