package cost

import (
	"strings"
	"testing"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

var of = quantity.Of

func must[T any](t testing.TB) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func near(t testing.TB, what string, got quantity.Quantity, want float64, unit string, tolerance float64) {
	t.Helper()
	x, err := got.Value(unit)
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	if d := x/want - 1; !(d <= tolerance && d >= -tolerance) {
		t.Errorf("%s is %.10g %s, want %.10g", what, x, unit, want)
	}
}

func TestSeriesIsWhole(t *testing.T) {
	s := ConsumerPrices()
	first, last := s.Years()
	if first != 1960 || last != 2024 || len(s.years) != 65 || s.Source() == "" || !strings.Contains(s.Name(), "consumer") {
		t.Errorf("%d to %d, %d years", first, last, len(s.years))
	}
	if !strings.Contains(s.String(), "1960") {
		t.Errorf("shown as\n%s", s)
	}
	back, on := must[quantity.Quantity](t)(s.Factor(2000, 1980)), must[quantity.Quantity](t)(s.Factor(1980, 2000))
	near(t, "there and back", back.Mul(on), 1, "1", 1e-12)
}

func TestSeriesFromTable(t *testing.T) {
	sheet := must[table.Table](t)(table.New(table.Numbers("year", []float64{2002, 2001}), table.Numbers("plant", []float64{110, 100})))
	s := must[Series](t)(SeriesFrom(sheet, "plant costs", "invented", "year", "plant"))
	near(t, "factor", must[quantity.Quantity](t)(s.Factor(2001, 2002)), 1.1, "1", 1e-12)
}

func TestDeclare(t *testing.T) {
	if err := ConsumerPrices().Declare("USD"); err != nil {
		t.Fatal(err)
	}
	factor := must[quantity.Quantity](t)(ConsumerPrices().Factor(1990, 2020))
	near(t, "money of 1990 in 2020", of(100, "USD_1990"), 100*factor.SI(), "USD_2020", 1e-12)
	if err := ConsumerPrices().Declare("t"); err == nil {
		t.Error("tonnes are no currency")
	}
}

func TestUpdateIsItsSteps(t *testing.T) {
	s := must[Series](t)(NewSeries("own", "invented", []int{1990, 2020}, []float64{100, 250}))
	e := Estimate{Name: "mill", Cost: of(2e6, "USD"), Year: 1990, Capacity: of(100, "t/h"), Source: "an invented report"}
	u := must[Update](t)(e.Update(s, 2020, of(400, "t/h"), quantity.Number(0.5)))
	near(t, "now", u.Now, 2e6*2.5*2, "USD", 1e-12)
	if text := u.String(); !strings.Contains(text, "invented report") || !strings.Contains(text, "2020") {
		t.Errorf("shown as\n%s", text)
	}
	same := must[Update](t)(e.Update(s, 2020, quantity.Quantity{}, quantity.Quantity{}))
	near(t, "without another capacity", same.Now, 5e6, "USD", 1e-12)

	n := must[quantity.Quantity](t)(quantity.Uniform(quantity.Number(0.5), quantity.Number(0.7))).Named("exponent")
	u = must[Update](t)(e.Update(s, 2020, of(400, "t/h"), n))
	if !u.Now.IsUncertain() || u.Now.Influences()[0].Name != "exponent" {
		t.Errorf("now %v", u.Now)
	}
}

func TestExponentComesBack(t *testing.T) {
	var capacities, costs []quantity.Quantity
	for _, x := range []float64{10, 20, 50, 90} {
		capacities = append(capacities, of(x, "kW"))
		costs = append(costs, must[quantity.Quantity](t)(Scale(of(1000, "EUR"), of(10, "kW"), of(x, "kW"), quantity.Number(0.7))))
	}
	near(t, "exponent", must[quantity.Quantity](t)(Exponent(capacities, costs)), 0.7, "1", 1e-12)
}

func TestBill(t *testing.T) {
	s := must[Series](t)(NewSeries("own", "invented", []int{2019, 2020}, []float64{100, 110}))
	b := must[Bill](t)(NewBill(s, 2020,
		Item{"electricity", of(20, "kWh/t"), of(0.1, "USD/kWh"), 2020},
		Item{"steel", of(500, "g/t"), of(2, "USD/kg"), 2019}))
	near(t, "total", b.Total(), 2+1.1, "USD/t", 1e-12)
	if text := b.String(); !strings.Contains(text, "USD/t") || !strings.Contains(text, "3.1") {
		t.Errorf("shown as\n%s", text)
	}
}

// An annuity's present worth is the amount; a sinking fund grows to it.
func TestInterest(t *testing.T) {
	i := of(7, "%")
	a := must[quantity.Quantity](t)(Annuity(of(1000, "USD"), i, 12))
	payments := []quantity.Quantity{of(0, "USD")}
	for range 12 {
		payments = append(payments, a)
	}
	near(t, "worth of the annuity", must[quantity.Quantity](t)(PresentWorth(payments, i)), 1000, "USD", 1e-12)
	f := must[quantity.Quantity](t)(SinkingFund(of(1000, "USD"), i, 12))
	near(t, "annuity less interest", a.Sub(of(70, "USD")), f.SI(), "USD", 1e-12)
	near(t, "without interest", must[quantity.Quantity](t)(Annuity(of(1000, "USD"), of(0, "%"), 10)), 100, "USD", 1e-12)
}

func TestRefused(t *testing.T) {
	usd, none := of(1, "USD"), quantity.Quantity{}
	own := must[Series](t)(NewSeries("own", "invented", []int{2019, 2020}, []float64{100, 110}))
	for want, call := range map[string]func() error{
		"one value for each": func() error { _, err := NewSeries("x", "y", []int{1}, nil); return err },
		"come from":          func() error { _, err := NewSeries("x", " ", []int{1}, []float64{1}); return err },
		"stands twice":       func() error { _, err := NewSeries("x", "y", []int{1, 1}, []float64{1, 2}); return err },
		"above 0, and -1":    func() error { _, err := NewSeries("x", "y", []int{1}, []float64{-1}); return err },
		"holds no 1959":      func() error { _, err := ConsumerPrices().Factor(1959, 2000); return err },
		"do not measure":     func() error { _, err := Scale(usd, of(1, "t/h"), of(1, "m"), quantity.Number(0.6)); return err },
		"above 0, and -":     func() error { _, err := Scale(usd.Neg(), of(1, "t/h"), of(2, "t/h"), quantity.Number(0.6)); return err },
		"series is empty":    func() error { _, err := Series{}.Factor(1990, 2000); return err },
		"ten times apart":    func() error { _, err := Scale(usd, of(1, "t/h"), of(11, "t/h"), quantity.Number(0.6)); return err },
		"between 0 and 1.5":  func() error { _, err := Scale(usd, of(1, "t/h"), of(2, "t/h"), quantity.Number(6)); return err },
		"no money;": func() error {
			_, err := (Estimate{Name: "x", Cost: of(1, "m"), Year: 2019}).Update(own, 2020, none, none)
			return err
		},
		"has no capacity": func() error {
			_, err := (Estimate{Name: "x", Cost: usd, Year: 2019}).Update(own, 2020, of(1, "t"), none)
			return err
		},
		"one capacity": func() error {
			_, err := Exponent([]quantity.Quantity{usd, usd}, []quantity.Quantity{usd, usd})
			return err
		},
		"two prices at least": func() error { _, err := Exponent(nil, nil); return err },
		"at least one item":   func() error { _, err := NewBill(own, 2020); return err },
		"no money per mass": func() error {
			_, err := NewBill(own, 2020, Item{"x", of(1, "kWh"), of(1, "USD/kWh"), 2020})
			return err
		},
		"another currency": func() error {
			_, err := NewBill(own, 2020, Item{"x", of(1, "kg/t"), of(1, "USD/kg"), 2020}, Item{"y", of(1, "kg/t"), of(1, "EUR/kg"), 2020})
			return err
		},
		"it takes one at least":         func() error { _, err := Annuity(usd, of(5, "%"), 0); return err },
		"interest per year":             func() error { _, err := Annuity(usd, usd, 2); return err },
		"interest per year is a number": func() error { _, err := PresentWorth([]quantity.Quantity{usd}, of(5, "kg")); return err },
		"is uncertain": func() error {
			price := quantity.Must(quantity.Uniform(of(9, "USD"), of(11, "USD")))
			_, err := Exponent([]quantity.Quantity{of(1, "t/h"), of(2, "t/h")}, []quantity.Quantity{of(6, "USD"), price})
			return err
		},
		"no payments":     func() error { _, err := PresentWorth(nil, of(5, "%")); return err },
		"cannot be added": func() error { _, err := PresentWorth([]quantity.Quantity{usd, of(1, "EUR")}, of(5, "%")); return err },
		"of a life of":    func() error { _, err := Depreciated(usd, usd, 3, 4); return err },
	} {
		if err := call(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want %q", err, want)
		}
	}
}
