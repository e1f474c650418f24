package quantity

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

func TestParseUncertain(t *testing.T) {
	for _, c := range []struct {
		text      string
		mean, dev float64
		unit      string
	}{
		{"36.5 ± 1.2 t/h", 36.5, 1.2, "t/h"},
		{"36.5±1.2t/h", 36.5, 1.2, "t/h"},
		{"(36.5 ± 1.2) t/h", 36.5, 1.2, "t/h"},
		{"36.5 +/- 1.2 t/h", 36.5, 1.2, "t/h"},
		{"36.5 ± 1.2 t/h (95 %: 34.1 to 38.9)", 36.5, 1.2, "t/h"},
		{"36.5 ± 1.959964 t/h (95 %)", 36.5, 1, "t/h"}, // the normal quantile of 0.975
		{"36.5 ± 2 t/h (k=2)", 36.5, 1, "t/h"},
		{"36.5 ± 3 t/h (k = 3)", 36.5, 1, "t/h"},
		{"36.5 t/h ± 800 kg/h", 36.5, 0.8, "t/h"},
		{"36.5 t/h ± 2 %", 36.5, 0.73, "t/h"},
		{"-36.5 t/h ± 2 %", -36.5, 0.73, "t/h"},
		{"62 ± 5 %", 62, 5, "%"},
		{"(62 ± 5) %", 62, 5, "%"},
		{"20 ± 1 °C", 20, 1, "°C"},
		{"20 °C ± 1 K", 20, 1, "°C"},
		{"4.2 ± 0.1", 4.2, 0.1, ""},
		{"36.5(12) t/h", 36.5, 1.2, "t/h"},
		{"36.5(1.2) t/h", 36.5, 1.2, "t/h"},
		{"127.732(70) Ω", 127.732, 0.070, "Ω"},
		{"1.2 ± 0.1 g/(m2·s)", 1.2, 0.1, "g/(m²·s)"},
		{"1.2e-07 ± 1.0e-08 kg", 1.2e-7, 1e-8, "kg"},
		{"34 to 40 t/h", 37, 6 / math.Sqrt(12), "t/h"},
		{"34 t/h to 40000 kg/h", 37, 6 / math.Sqrt(12), "t/h"},
		{"34–40 t/h", 37, 6 / math.Sqrt(12), "t/h"},
		{"0 to 1", 0.5, 1 / math.Sqrt(12), ""},
	} {
		q, err := Parse(c.text)
		if err != nil || !q.IsUncertain() || q.Unit().Symbol() != c.unit {
			t.Errorf("%q is %s, %v", c.text, q, err)
			continue
		}
		within(t, c.text, q.Shown(), c.mean, 1e-9*math.Abs(c.mean))
		within(t, c.text+": deviation", q.StdDev().Shown(), c.dev, 1e-3*c.dev)
	}
	if q, err := Parse("36.5 ± 0 t/h"); err != nil || q.IsUncertain() || q.String() != "36.5 t/h" {
		t.Errorf("a deviation of zero: %s, %v", q, err)
	}
}

func TestParseUncertainRefuses(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"62 % ± 5 %", "two ways"},
		{"62 % ± 500 ppm", "two ways"},
		{"36.5 ± 1.2 tph", `"tph"`},
		{"36.5 ± -1 t/h", "must be above zero"},
		{"36.5 t/h ± 1 h", "cannot show"},
		{"36.5 ± t/h", "is not a number"},
		{"36.5 ±", "a number is missing"},
		{"± 5 t", "does not begin with a number"},
		{"(36.5 ± 1.2 t/h", "not closed"},
		{"(36.5 t ± 1.2) t/h", "after the parentheses"},
		{"36.5 ± 1.2 t (105 %)", "level of confidence"},
		{"36.5 ± 1.2 t (95 %: 40 to 30)", "no interval"},
		{"36.5 ± 1.2 t (95 %; 30 to 40)", "no interval"},
		{"36.5 ± 1.2 t (k=0)", "coverage factor"},
		{"40 to 34 t/h", "must be above"},
		{"34 to 40 t/h (95 %)", "taken whole"},
		{"1.5e3(2) t", "power of ten"},
		{"3/0 in", "0 below the stroke"},
	} {
		if q, err := Parse(c.text); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q is %s, %v; want an error with %q", c.text, q, err, c.want)
		}
	}
	if err := Declare("vague", "5 ± 1 t"); err == nil || !strings.Contains(err.Error(), "uncertain") {
		t.Errorf("an uncertain unit was declared: %v", err)
	}
}

func TestParseFractions(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"1 3/8 in", "1.375 in"},
		{"3/8 in", "0.375 in"},
		{"-2 1/2 in", "-2.5 in"},
		{"−1/4`in`", "-0.25 in"},
		{"1/2", "0.5"},
		{"5 1/min", "5 min⁻¹"},
	} {
		if q, err := Parse(c.text); err != nil || q.String() != c.want {
			t.Errorf("%q is %s, %v; want %s", c.text, q, err, c.want)
		}
	}
}

// What is shown of an uncertain quantity reads back as the same mean and
// deviation, to the digits shown.
func TestUncertainReadsBack(t *testing.T) {
	defer Seed(1)
	r := rand.New(rand.NewPCG(3, 1))
	for round := range uint64(60) {
		Seed(round) // a few inputs are made faster than the hundredth
		u := random(r).Unit()
		middle := math.Pow(10, 8*r.Float64()-4)
		spread := middle * math.Pow(10, -4*r.Float64())
		if u.IsReading() {
			continue
		}
		q := Must(Normal(u.Quantity(middle), u.Quantity(spread)))
		for _, text := range []string{q.String(), q.exact(), q.Fixed(9).String(), q.Scientific(8).String()} {
			back, err := Parse(text)
			if err != nil || back.Unit().Symbol() != u.Symbol() {
				t.Fatalf("%s reads as %s, %v", text, back, err)
			}
			within(t, text, back.Shown(), q.Shown(), 0.051*spread)
			within(t, text, back.StdDev().Shown(), q.StdDev().Shown(), 0.051*spread)
		}
	}
}

func TestDigitsAsWritten(t *testing.T) {
	for text, want := range map[string]int{"36.50 t": 4, "36.5": 3, "0.0040 m": 2, "40 t": 2, "1.20e3 kg": 3, "-7": 1, "0": 1, "0.0": 2} {
		if n, err := DigitsOf(text); err != nil || n != want {
			t.Errorf("%q has %d digits, %v; want %d", text, n, err, want)
		}
	}
	for _, text := range []string{"t", "NaN t", ""} {
		if n, err := DigitsOf(text); err == nil {
			t.Errorf("%q has %d digits", text, n)
		}
	}
	for _, c := range []struct {
		text      string
		mean, dev float64
	}{
		// JCGM 100:2008, F.2.2.1: a resolution δx has the uncertainty 0.29 δx.
		{"36.5 t/h", 36.5, 0.029},
		{"36.50 t/h", 36.5, 0.0029},
		{"40 t/h", 40, 0.29},
		{"1.2e3 t/h", 1200, 29},
		{"36.5 ± 1.2 t/h", 36.5, 1.2},
	} {
		q, err := AsWritten(c.text)
		if err != nil {
			t.Fatal(err)
		}
		within(t, c.text, q.Shown(), c.mean, 1e-9*c.mean)
		within(t, c.text+": deviation", q.StdDev().Shown(), c.dev, 0.01*c.dev)
	}
	for _, text := range []string{"1/2 in", "Inf t", "5 tph", "x", "1 1/2 in"} {
		if q, err := AsWritten(text); err == nil {
			t.Errorf("%q was read as %s", text, q)
		}
	}
}
