package quantity

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
)

func TestSensibleDigits(t *testing.T) {
	for _, c := range []struct {
		x    float64
		want string
	}{
		{0, "0"}, {math.Copysign(0, -1), "0"}, {0.1 + 0.2, "0.3"}, {1.0 / 3, "0.3333"}, {2.0 / 3, "0.6667"},
		{36.5, "36.5"}, {1234567.8, "1234568"}, {999999.7, "1000000"}, {99999.97, "100000"}, {12345.67, "12346"}, {12345.6, "12345.6"}, {293.15, "293.15"},
		{0.00012345678, "0.0001235"}, {0.0000123, "1.23e-05"}, {1e14, "100000000000000"}, {1.5e15, "1.5e+15"},
		{-2.50, "-2.5"}, {math.Inf(1), "+Inf"}, {math.Inf(-1), "-Inf"}, {math.NaN(), "NaN"}, {5e-324, "4.941e-324"},
	} {
		if got := sensible(c.x); got != c.want {
			t.Errorf("%v is shown as %s, want %s", c.x, got, c.want)
		}
	}
}

func TestFormat(t *testing.T) {
	q := Of(36.54321, "t/h")
	for _, c := range []struct {
		form string
		q    Quantity
		want string
	}{
		{"%v", q, "36.54 t/h"},
		{"%s", q, "36.54 t/h"},
		{"%+v", Of(1.0/3, "t"), "0.3333333333333333 t"},
		{"%#v", q, `quantity.Of(36.54321, "t/h")`},
		{"%#v", Number(2), "quantity.Number(2)"},
		{"%#v", Quantity{}, "quantity.Quantity{}"},
		{"%#v", Of(math.Inf(-1), "t"), `quantity.Of(math.Inf(-1), "t")`},
		{"%#v", Of(math.NaN(), "t"), `quantity.Of(math.NaN(), "t")`},
		{"%.1f", q, "36.5 t/h"},
		{"%8.2f", q, "   36.54 t/h"},
		{"%08.2f", q, "00036.54 t/h"},
		{"%+.2f", q, "+36.54 t/h"},
		{"%-14.2f|", q, "36.54 t/h     |"},
		{"%14v|", q, "     36.54 t/h|"},
		{"%-14v|", q, "36.54 t/h     |"},
		{"%.3e", q, "3.654e+01 t/h"},
		{"%.3g", q, "36.5 t/h"},
		{"%.3v", q, "36.5 t/h"},
		{"%g", q, "36.54321 t/h"},
		{"%q", q, `"36.54 t/h"`},
		{"%d", q, "%!d(quantity.Quantity=36.54 t/h)"},
		{"%.2f", Number(2), "2.00"},
		{"%v", Quantity{}, "0"},
		{"%v", Of(12.5, "µm"), "12.5 µm"},
		{"%8v|", Of(5, "µm"), "    5 µm|"},
		{"%v", Of(5, "%"), "5 %"},
	} {
		if got := fmt.Sprintf(c.form, c.q); got != c.want {
			t.Errorf("%s of %s is %q, want %q", c.form, c.q, got, c.want)
		}
	}
	if got := fmt.Sprint([]Quantity{q, Number(1)}, struct{ Feed Quantity }{q}); got != "[36.54 t/h 1] {36.54 t/h}" {
		t.Error(got)
	}
}

func TestMarkup(t *testing.T) {
	for _, c := range []struct{ q, html, latex, markdown string }{
		{"36.5 t/h", "36.5&nbsp;t/h", `$36.5\,\mathrm{t/h}$`, "36.5 t/h"},
		{"2 g/(m2·s)", "2&nbsp;g/(m<sup>2</sup>·s)", `$2\,\mathrm{g/(m^{2}{\cdot}s)}$`, "2 g/(m²·s)"},
		{"60 1/min", "60&nbsp;min<sup>−1</sup>", `$60\,\mathrm{min^{-1}}$`, "60 min⁻¹"},
		{"12 %", "12&nbsp;%", `$12\,\mathrm{\%}$`, "12 %"},
		{"-5 °C", "−5&nbsp;°C", `$-5\,\mathrm{{}^{\circ}C}$`, "-5 °C"},
		{"75 µm", "75&nbsp;µm", `$75\,\mathrm{\mu m}$`, "75 µm"},
		{"3 hp_mech", "3&nbsp;hp_mech", `$3\,\mathrm{hp\_mech}$`, `3 hp\_mech`},
		{"1.2e-7 m", "1.2&thinsp;×&thinsp;10<sup>−7</sup>&nbsp;m", `$1.2\times 10^{-7}\,\mathrm{m}$`, "1.2e-07 m"},
		{"2e20 kg", "2&thinsp;×&thinsp;10<sup>20</sup>&nbsp;kg", `$2\times 10^{20}\,\mathrm{kg}$`, "2e+20 kg"},
		{"3 t^(1/2)", "3&nbsp;t<sup>1/2</sup>", `$3\,\mathrm{t^{1/2}}$`, `3 t\^(1/2)`},
		{"7", "7", "$7$", "7"},
		{"+Inf t", "+Inf&nbsp;t", `$+\infty\,\mathrm{t}$`, "+Inf t"},
		{"NaN", "NaN", `$\mathrm{NaN}$`, "NaN"},
	} {
		q := must(t, c.q)
		if got := q.HTML(); got != c.html {
			t.Errorf("HTML of %s is %s, want %s", q, got, c.html)
		}
		if got := q.LaTeX(); got != c.latex {
			t.Errorf("LaTeX of %s is %s, want %s", q, got, c.latex)
		}
		if got := q.Markdown(); got != c.markdown {
			t.Errorf("Markdown of %s is %s, want %s", q, got, c.markdown)
		}
	}
}

func TestParse(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"36.5 t/h", "36.5 t/h"},
		{"36.5t/h", "36.5 t/h"},
		{"36.5`t/h`", "36.5 t/h"},
		{" 36.5`t/h` ", "36.5 t/h"},
		{"-5 °C", "-5 °C"},
		{"−5 °C", "-5 °C"},
		{"1.2e3 kg", "1200 kg"},
		{"5e3V", "5000 V"},
		{"5eV", "5 eV"},
		{"5E3", "5000"},
		{".5 t", "0.5 t"},
		{"5. t", "5 t"},
		{"12%", "12 %"},
		{"7", "7"},
		{"3 1/min", "3 min⁻¹"},
		{"NaN t", "NaN t"},
		{"Inf t", "+Inf t"},
		{"-Infinity t", "-Inf t"},
		{"", "! it does not begin with a number"},
		{"t/h", "! it does not begin with a number"},
		{"- 5 t", "! it does not begin with a number"},
		{"1,234 t", "! a comma in a number is read in two ways"},
		{"1e999 t", "! the number 1e999 is too large"},
		{"5 tonn", "! there is no unit \"tonn\" in \"5 tonn\""},
		{"5 6 t", "! a number other than 1"},
		{"5 `t", "! a unit cannot begin with"},
	} {
		q, err := Parse(c.text)
		if wanted, fails := strings.CutPrefix(c.want, "! "); fails {
			if err == nil || !strings.Contains(err.Error(), wanted) {
				t.Errorf("%q is %s, %v; want %s", c.text, q, err, wanted)
			}
		} else if err != nil || q.String() != c.want {
			t.Errorf("%q is %s, %v; want %s", c.text, q, err, c.want)
		}
	}
}

func TestParseTellsWhere(t *testing.T) {
	for text, offset := range map[string]int{"5 tonn": 2, "5`tonn`": 2, " −5 kg/tonn": 9, "5 kg/": 5} {
		_, err := Parse(text)
		var failure *UnitError
		if !errors.As(err, &failure) || failure.Offset != offset || failure.Text != text {
			t.Errorf("%q: %#v", text, err)
		}
	}
}

func TestTextAndJSON(t *testing.T) {
	type plant struct{ Feed, Grade, Nothing Quantity }
	in := plant{Of(1.0/3, "t/h"), Of(2.7, "g/t"), Quantity{}}
	text, err := json.Marshal(in)
	if err != nil || string(text) != `{"Feed":"0.3333333333333333 t/h","Grade":"2.7 g/t","Nothing":""}` {
		t.Fatalf("%s, %v", text, err)
	}
	var out plant
	if err := json.Unmarshal(text, &out); err != nil || out.Feed != in.Feed || out.Grade != in.Grade || !out.Nothing.IsNothing() {
		t.Errorf("%+v, %v", out, err)
	}
	if err := json.Unmarshal([]byte(`{"Feed":"3 tonn"}`), &out); err == nil {
		t.Error("an unknown unit was read")
	}
}
