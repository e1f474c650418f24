package quantity

import (
	"fmt"
	"strings"
	"testing"
)

// Units that measure the same and still must not be mixed.
func TestUnlikeUnits(t *testing.T) {
	for _, c := range []struct{ left, right, reason string }{
		{"5 EUR", "3 USD", "no fixed rate between EUR and USD"},
		{"5 EUR/t", "3 USD/t", "no fixed rate between EUR and USD"},
		{"60 rpm", "1 Hz", turnsOrNumber},
		{"1 rev", "1", turnsOrNumber},
		{"90 °", "1", turnsOrNumber},
		{"3 wt%", "3 vol%", "a mass fraction and a volume fraction do not mix"},
		{"3 g/t", "3 vol%", "a mass fraction and a volume fraction do not mix"},
		{"3 kg/t", "3 L/m3", "a mass fraction and a volume fraction do not mix"},
		{"3 mol%", "3 wt%", "an amount fraction and a mass fraction do not mix"},
		{"2 USD/EUR", "2", "no fixed rate between USD/EUR and a plain number"},
	} {
		q, r := must(t, c.left), must(t, c.right)
		if q.Dimension() != r.Dimension() || q.Unit().Compatible(r.Unit()) || r.Unit().Compatible(q.Unit()) {
			t.Errorf("%s and %s: dimensions %v and %v, compatible %v", q, r, q.Dimension(), r.Dimension(), q.Unit().Compatible(r.Unit()))
		}
		for _, operator := range []string{"+", "-"} {
			if got := calculate(t, c.left, operator, c.right); !strings.Contains(got, c.reason) {
				t.Errorf("%s %s %s: %s", c.left, operator, c.right, got)
			}
		}
		if _, err := q.InUnit(r.Unit()); err == nil || !strings.Contains(err.Error(), c.reason) {
			t.Errorf("%s in %s: %v", q, r.Unit(), err)
		}
		if got := attempt(t, func() Quantity { q.Compare(r); return q }); !strings.Contains(got, c.reason) {
			t.Errorf("%s compared with %s: %s", q, r, got)
		}
	}
	if _, err := must(t, "60 rpm").Float(); err == nil {
		t.Error("revolutions per minute became a number")
	}
	if _, err := must(t, "1 rev").Float(); err == nil {
		t.Error("a revolution became a number")
	}
}

// Units that may be mixed although they look different.
func TestAlikeUnits(t *testing.T) {
	for _, c := range []struct{ from, to, want string }{
		{"60 rpm", "rad/s", "6.28319 rad/s"},
		{"180 deg", "rad", "3.14159 rad"},
		{"1 rev", "deg", "360 deg"},
		{"3 rad/s", "1/s", "3 s⁻¹"},
		{"2 rad", "", "2"},
		{"6 rad·m/s", "m/s", "6 m/s"},
		{"12 kWh/t", "kWh/st", "10.8862 kWh/st"},
		{"12 kWh/t", "kJ/kg", "43.2 kJ/kg"},
		{"5 g/t", "ppm", "5 ppm"},
		{"0.05", "%", "5 %"},
		{"3 wt%", "kg/t", "30 kg/t"},
		{"1000 kUSD", "MUSD", "1 MUSD"},
		{"1 T", "kG", "10 kG"},
		{"1 atm", "psi", "14.6959 psi"},
		{"1 Pa·s", "cP", "1000 cP"},
	} {
		got, err := must(t, c.from).In(c.to)
		if text := fmt.Sprintf("%.6v", got); err != nil || text != c.want {
			t.Errorf("%s in %q is %s, %v; want %s", c.from, c.to, text, err, c.want)
		}
	}
}

func TestDeclare(t *testing.T) {
	declare := func(name, definition string) {
		t.Helper()
		if err := Declare(name, definition); err != nil {
			t.Error(err)
		}
	}
	declare("skip", "12.5 t")
	declare("skip", "12.5 t")
	declare("truck", "")
	declare("USD2015", "currency")
	declare("SEK", "0.095 NOK")
	for _, c := range []calculation{
		{"4 skip", "+", "1 t", "4.08 skip"},
		{"4 skip/h", "*", "2 h", "8 skip"},
		{"10 truck/h", "*", "30 t/truck", "300 t/h"},
		{"3 USD2015", "+", "4 USD2015", "7 USD2015"},
		{"1 NOK", "+", "2 SEK", "1.19 NOK"},
		{"3 SEK/t", "*", "1 kt", "3000 SEK"},
	} {
		c.check(t)
	}
	if got := calculate(t, "3 truck", "+", "1"); !strings.Contains(got, "truck and a plain number") {
		t.Error(got)
	}
	if got := calculate(t, "3 USD2015", "+", "1 USD"); !strings.Contains(got, "no fixed rate") {
		t.Error(got)
	}
	if got := must(t, "2 skip").To("t").String(); got != "25 t" {
		t.Error(got)
	}
	before := must(t, "2 skip")
	declare("skip", "10 t")
	if got := before.Add(must(t, "1 skip")).To("t").String(); got != "35 t" {
		t.Errorf("an old and a new skip are %s", got)
	}
	if u, err := ParseUnit("cwt"); err == nil {
		t.Errorf("cwt is %s", u)
	}
	declare("cwt", "100 lb")
	if got := must(t, "3 cwt").To("lb").String(); got != "300 lb" {
		t.Error(got)
	}
	for _, c := range []struct{ name, definition, want string }{
		{"kg", "1 t", "it is kilogram already"},
		{"mW", "1 t", "it is milliwatt already"},
		{"tonne", "1 t", "it is tonne already"},
		{"two words", "1 t", "a name is one word"},
		{"2t", "1 t", "a name is one word"},
		{"per", "1 t", "a name is one word"},
		{"", "1 t", "a name is one word"},
		{"a/b", "1 t", "a name is one word"},
		{"hot", "20 °C", "is a reading of a temperature scale"},
		{"none", "0 t", "is not a size"},
		{"less", "-1 t", "is not a size"},
		{"odd", "NaN t", "is not a size"},
		{"odd", "3 appples", "there is no unit"},
		{"odd", "3 EUR/USD", "is not one unit of money"},
	} {
		if err := Declare(c.name, c.definition); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("Declare(%q, %q): %v", c.name, c.definition, err)
		}
	}
}
