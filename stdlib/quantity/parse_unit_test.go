package quantity

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

func TestParseUnit(t *testing.T) {
	for _, c := range []struct{ text, symbol, measures string }{
		{"", "", "a pure number"},
		{"1", "", "a pure number"},
		{"t/t", "", "a pure number"},
		{"kWh/t", "kWh/t", "energy per mass"},
		{"kW·h/t", "kWh/t", "energy per mass"},
		{"kilowatt hours per tonne", "kWh/t", "energy per mass"},
		{"kW-h/t", "kWh/t", "energy per mass"},
		{"g/(m2*s)", "g/(m²·s)", "mass per area and time"},
		{"g/m2/s", "g/(m²·s)", "mass per area and time"},
		{"g m-2 s-1", "g/(m²·s)", "mass per area and time"},
		{"g m⁻² s⁻¹", "g/(m²·s)", "mass per area and time"},
		{"µm", "µm", "length"},
		{"μm", "µm", "length"}, // the Greek letter
		{"um", "µm", "length"},
		{"micrometre", "µm", "length"},
		{"micron", "µm", "length"},
		{"microns", "µm", "length"},
		{"m³/h", "m³/h", "volume per time"},
		{"m3/h", "m³/h", "volume per time"},
		{"m^3/h", "m³/h", "volume per time"},
		{"m**3/h", "m³/h", "volume per time"},
		{"g/t", "g/t", "a pure number"},
		{"ozt/st", "ozt/st", "a pure number"},
		{"troy ounces per short ton", "ozt/st", "a pure number"},
		{"1/min", "min⁻¹", "per time"},
		{"min^-1", "min⁻¹", "per time"},
		{"min^(-1)", "min⁻¹", "per time"},
		{"1/(t·h)", "t⁻¹·h⁻¹", "per mass and time"},
		{"emu/g", "emu/g", "magnetic moment per mass"},
		{"A·m²/kg", "A·m²/kg", "magnetic moment per mass"},
		{"A m2/kg", "A·m²/kg", "magnetic moment per mass"},
		{"(A/m)/(kg/m3)", "A·m²/kg", "magnetic moment per mass"},
		{"t/h", "t/h", "mass per time"},
		{"Mt/a", "Mt/a", "mass per time"},
		{"km^(1/2)", "km^(1/2)", "length^(1/2)"},
		{"mm^0.5", "mm^(1/2)", "length^(1/2)"},
		{"hp_mech*h/st", "hp_mech·h/st", "energy per mass"},
		{"°C", "°C", "temperature"},
		{"degC", "°C", "temperature"},
		{"℃", "°C", "temperature"},
		{"W/(m2*°C)", "W/(m²·°C)", "power per area and temperature"},
		{"Ω", "Ω", "electric resistance"},
		{"kOhm", "kΩ", "electric resistance"},
		{"lb/ft3", "lb/ft³", "mass per volume"},
		{"ft-lbf", "ft·lbf", "energy"},
		{"N.m", "N·m", "energy"},
		{"rev/min", "rpm", "per time"},
		{"psi", "psi", "pressure"},
		{"lbf/in2", "psi", "pressure"},
		{"USgal/min", "gpm", "volume per time"},
		{"MUSD/a", "MUSD/a", "money per time"},
		{"US$/t", "USD/t", "money per mass"},
		{"€/kWh", "EUR/kWh", "money per energy"},
		{"%/h", "%/h", "per time"},
		{"wt%", "wt%", "a pure number"},
		{"%w/w", "wt%", "a pure number"},
		{"  t / h  ", "t/h", "mass per time"},
		{"t\u00a0/\u00a0h", "t/h", "mass per time"},
		{"mol L-1", "mol/L", "amount of substance per volume"},
		{"kg·m2/s3", "kg·m²/s³", "power"},
		{"(m/s)^2", "m²/s²", "energy per mass"},
		{"((t))", "t", "mass"},
	} {
		u, err := ParseUnit(c.text)
		if err != nil || u.Symbol() != c.symbol || u.Dimension().String() != c.measures {
			t.Errorf("%q is %q, %q, %v; want %q, %q", c.text, u.Symbol(), u.Dimension(), err, c.symbol, c.measures)
		}
	}
}

func TestUnitErrors(t *testing.T) {
	for _, c := range []struct {
		text, part string
		offset     int
		nearest    string
		reason     string // part of it
	}{
		{"kWx", "kWx", 0, "kWh kW kWb", ""},
		{"KWH/t", "KWH", 0, "kWh", ""},
		{"t/hour_", "hour_", 2, "h", ""},
		{"tones/h", "tones", 0, "t", ""},
		{"kg/Tonne", "Tonne", 3, "t", ""},
		{"mkm", "mkm", 0, "km mm", ""},
		{"m3/qqqqq", "qqqqq", 3, "", ""},
		{"ton/h", "ton", 0, "t st lt", "the metric, short or long ton"},
		{"kWh/ton", "ton", 4, "t st lt", "the metric, short or long ton"},
		{"oz/st", "oz", 0, "ozt ozav", "troy or the avoirdupois"},
		{"gal/min", "gal", 0, "USgal impgal", "gallon"},
		{"hp", "hp", 0, "hp_mech hp_metric hp_elec", "several horsepowers"},
		{"HP", "HP", 0, "hp_mech hp_metric hp_elec", "several horsepowers"},
		{"mesh", "mesh", 0, "µm mm", "not a unit"},
		{"tph", "tph", 0, "t/h st/h lt/h", "depends on the ton"},
		{"Nm3/h", "Nm3", 0, "N·m m³", "pressure and temperature"},
		{"$/t", "$", 0, "USD AUD CAD", "whose dollar"},
		{"pH", "pH", 0, "", "logarithm"},
		{"g/m2*s", "*s", 4, "", "a product after a division"},
		{"g/m2 s", "s", 5, "", "a product after a division"},
		{"g/(m2*s", "(m2*s", 2, "", "not closed"},
		{"g)", ")", 1, "", "nothing opens"},
		{"g/", "", 2, "", "missing at the end"},
		{"/h", "/", 0, "", "cannot begin with"},
		{"100 g", "100", 0, "", "a number other than 1"},
		{"g/100 L", "100", 2, "", "a number other than 1"},
		{"m^", "", 2, "", "a power must be"},
		{"m^x", "", 2, "", "a power must be"},
		{"m^(1/0)", "(1/0)", 2, "", "a power must be"},
		{"m^(2", "(2", 2, "", "not closed"},
		{"m^1000", "1000", 2, "", "out of range"},
		{"m1000", "m1000", 0, "", "too large"},
		{"m^99 m", "m^99 m", 0, "", "out of range"},
		{"(m^99)^99", "(m^99)^99", 0, "", "out of range"},
		{"C^99 A^99 V^99 W^99 Wb^99 T^99 H^99", "C^99 A^99 V^99 W^99 Wb^99 T^99 H^99", 0, "", "out of range"},
		{"Qm^30", "Qm^30", 0, "", "too large or too small"},
		{"t\xff", "", 0, "", "not valid text"},
		{strings.Repeat("m", 300), "", 200, "", "longer than any unit"},
	} {
		u, err := ParseUnit(c.text)
		var failure *UnitError
		if !errors.As(err, &failure) {
			t.Errorf("%q is %q, %v", c.text, u, err)
			continue
		}
		if failure.Text != c.text || failure.Part != c.part || failure.Offset != c.offset || strings.Join(failure.Nearest, " ") != c.nearest {
			t.Errorf("%q: part %q at %d, nearest %q", c.text, failure.Part, failure.Offset, failure.Nearest)
		}
		if !strings.Contains(failure.Reason, c.reason) || (c.reason == "") != (failure.Reason == "") {
			t.Errorf("%q: reason %q", c.text, failure.Reason)
		}
	}
}

func TestUnitErrorText(t *testing.T) {
	for text, want := range map[string]string{
		"kWx":   `there is no unit "kWx"; nearest: kWh, kW, kWb`,
		"t/hx":  `there is no unit "hx" in "t/hx"; nearest: ha, h, Mx`,
		"ton/h": `unit "ton/h": "ton" may be the metric, short or long ton; write t, st or lt`,
	} {
		if _, err := ParseUnit(text); err == nil || err.Error() != want {
			t.Errorf("%q: %v\nwant %s", text, err, want)
		}
	}
}

// What is offered can be written.
func TestSuggestionsAreUnits(t *testing.T) {
	for word, refused := range known().refused {
		for _, choice := range refused.choices {
			if _, err := ParseUnit(choice); err != nil {
				t.Errorf("for %q: %v", word, err)
			}
		}
		if refused.reason == "" {
			t.Errorf("%q is refused without a reason", word)
		}
	}
	for _, word := range []string{"kwh", "Tonne", "mikron", "degreeC", "gmp", "kpa"} {
		var failure *UnitError
		_, err := ParseUnit(word)
		if !errors.As(err, &failure) || len(failure.Nearest) == 0 {
			t.Errorf("%q: %v", word, err)
			continue
		}
		for _, choice := range failure.Nearest {
			if _, err := ParseUnit(choice); err != nil {
				t.Errorf("for %q: %v", word, err)
			}
		}
	}
}

func TestUnitsAreInterned(t *testing.T) {
	for _, same := range [][]string{{"t/h", "tonnes per hour", "t·h^-1"}, {"kWh", "kW·h"}, {"rpm", "rev/min"}} {
		first, _ := ParseUnit(same[0])
		for _, text := range same[1:] {
			if u, _ := ParseUnit(text); u != first {
				t.Errorf("%q and %q are two units", same[0], text)
			}
		}
	}
}

func TestDimensions(t *testing.T) {
	of := func(unit string) Dimension { return Of(1, unit).Dimension() }
	if of("t/h").Mul(of("h")) != of("lb") || of("kWh").Div(of("t")) != of("J/kg") || of("m2").Pow(1, 2) != of("ft") {
		t.Error("dimensions do not multiply as units do")
	}
	if !of("g/t").IsOne() || of("t").IsOne() || !of("kWh").Equal(of("ft·lbf")) {
		t.Error("dimensions do not compare as units do")
	}
	for unit, want := range map[string]string{"USD/kWh": "currency/J", "kWh/t": "J/kg", "kg/(m2·s)": "kg/(m²·s)", "t·m": "m·kg", "1/t": "1/kg", "%": ""} {
		if got := of(unit).Example(); got != want {
			t.Errorf("example for %s is %q, want %q", unit, got, want)
		}
	}
	for _, n := range named {
		u, err := ParseUnit(strings.Replace(n.unit, "currency", "USD", 1))
		d, _ := parseBase(n.base)
		if err != nil || u.Dimension() != d {
			t.Errorf("the example %s of %s measures %v, %v", n.unit, n.name, u.Dimension(), err)
		}
	}
	if !slices.ContainsFunc(Known(), func(l Listing) bool { return l.Symbol == "t" && l.Name == "tonne" }) {
		t.Error("the tonne is not listed")
	}
}
