package quantity

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

func TestForms(t *testing.T) {
	q := Of(36.5, "t/h")
	for _, c := range []struct {
		form Form
		want string
	}{
		{q.Fixed(2), "36.50 t/h"},
		{q.Fixed(0), "36 t/h"}, // to even, as strconv
		{q.Fixed(-3), "36 t/h"},
		{q.Significant(4), "36.50 t/h"},
		{q.Significant(1), "36 t/h"},
		{Of(0.8, "t/h").Significant(2), "0.80 t/h"},
		{Of(1234, "t").Significant(2), "1234 t"},
		{Of(0, "t").Significant(3), "0.00 t"},
		{Of(9.996, "t").Significant(3), "10.0 t"},
		{Of(1.5e-7, "m").Significant(3), "1.50e-07 m"},
		{q.Scientific(3), "3.65e+01 t/h"},
		{Of(36500, "t").Engineering(3), "36.5e3 t"},
		{Of(365000, "t").Engineering(2), "360e3 t"},
		{Of(0.00123456, "T").Engineering(3), "1.23e-3 T"},
		{Of(-999999, "t").Engineering(3), "-1.00e6 t"},
		{Of(36.5, "t").Engineering(4), "36.50 t"},
		{Of(5e-5, "m").Engineering(1), "50e-6 m"},
		{Of(1.375, "in").Fraction(16), "1 3/8 in"},
		{Of(0.374, "in").Fraction(8), "3/8 in"},
		{Of(-2.5, "in").Fraction(8), "-2 1/2 in"},
		{Of(3, "in").Fraction(8), "3 in"},
		{Of(12.3456, "t").LikeInputs(Of(1.23, "t/h"), Of(10.5, "h")), "12.3 t"},
		{Of(12.3456, "t").LikeInputs(Of(40, "t/h"), Of(10.5, "h")), "12 t"},
		{Of(12.3456789, "t").LikeInputs(), "12.35 t"},
		{Form{}, "0"},
	} {
		if c.form.String() != c.want {
			t.Errorf("%q, want %q", c.form.String(), c.want)
		}
	}
}

func TestFormsInMarkup(t *testing.T) {
	Seed(1)
	q := Must(Normal(Of(36.5, "t/h"), Of(1.2, "t/h")))
	for _, c := range []struct{ got, want string }{
		{q.Fixed(1).String(), "36.5 ± 1.2 t/h"},
		{q.Fixed(1).HTML(), "36.5&nbsp;±&nbsp;1.2&nbsp;t/h"},
		{q.Fixed(1).LaTeX(), `$(36.5\,\pm\,1.2)\,\mathrm{t/h}$`},
		{q.Fixed(1).Markdown(), "36.5 ± 1.2 t/h"},
		{Of(-36500, "t").Engineering(3).HTML(), "−36.5&thinsp;×&thinsp;10<sup>3</sup>&nbsp;t"},
		{Of(36500, "t").Engineering(3).Math(), `36.5\times 10^{3}\,\mathrm{t}`},
		{Of(-1.375, "in").Fraction(16).Math(), `-1\,\tfrac{3}{8}\,\mathrm{in}`},
		{Number(math.Inf(1)).Fixed(1).Math(), `\infty`},
		{Of(5, "a_julian").Fixed(0).Markdown(), `5 a\_julian`},
	} {
		if c.got != c.want {
			t.Errorf("%s, want %s", c.got, c.want)
		}
	}
}

// Every form reads back as what it shows, to half its last digit.
func TestFormsReadBack(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	for range rounds {
		q := random(r)
		if q.IsNaN() || math.IsInf(q.value, 0) || q.unit == nil {
			continue
		}
		size := math.Abs(q.value)
		for _, c := range []struct {
			form Form
			off  float64
		}{
			{q.Fixed(3), 0.5001e-3},
			{q.Significant(4), 0.5001e-3 * size},
			{q.Scientific(4), 0.5001e-3 * size},
			{q.Engineering(4), 0.5001e-3 * size},
			{q.Fraction(64), 0.5001 / 64},
		} {
			back, err := Parse(c.form.String())
			if err != nil || back.Unit().Symbol() != q.Unit().Symbol() || !(math.Abs(back.value-q.value) <= c.off+1e-12*size) {
				if !strings.Contains(c.form.String(), "e") || err != nil {
					t.Fatalf("%+v is shown as %s, which reads as %+v, %v", q, c.form, back, err)
				}
			}
		}
	}
}

func TestBest(t *testing.T) {
	for _, c := range []struct{ from, want string }{
		{"0.00021 m", "210 µm"},
		{"36500 kg/h", "36.5 t/h"},
		{"2500000 t/a", "2.5 Mt/a"},
		{"36.5 t/h", "36.5 t/h"},
		{"5400 s", "90 min"},
		{"0.5 W", "500 mW"},
		{"12000000 kWh", "12 GWh"},
		{"2400000 USD", "2.4 MUSD"},
		{"2500 L/min", "2.5 kL/min"},
		{"36 cm", "36 cm"},
		{"0.00004 T", "40 µT"},
		{"12 m2", "12 m²"},
		{"1200 °C", "1200 °C"},
		{"-0.0004 g/t", "-400 µg/t"},
		{"1500 mA/m", "1.5 A/m"},
		{"0 m", "0 m"},
		{"1e-40 m", "1e-31 nm"},
		{"5000000", "5000000"},
	} {
		q, err := Parse(c.from)
		if err != nil {
			t.Fatal(err)
		}
		best := q.Best()
		if best.String() != c.want || !best.Equal(q) {
			t.Errorf("%s is best shown as %s, want %s", q, best, c.want)
		}
	}
	Seed(1)
	if text := fmt.Sprintf("%.3v", Must(Normal(Of(36500, "kg/h"), Of(100, "kg/h"))).Best()); !strings.HasPrefix(text, "36.5 ± 0.1 t/h") {
		t.Error(text)
	}
}
