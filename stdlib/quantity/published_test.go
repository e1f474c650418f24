package quantity

import (
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// published reads a table of testdata/published, without comments.
func published(t *testing.T, name string) [][]string {
	t.Helper()
	text, err := os.ReadFile("testdata/published/" + name)
	if err != nil {
		t.Fatal(err)
	}
	var rows [][]string
	for _, line := range strings.Split(string(text), "\n") {
		if line != "" && line[0] != '#' {
			rows = append(rows, fields(line))
		}
	}
	if len(rows) < 50 {
		t.Fatalf("%s has %d rows", name, len(rows))
	}
	return rows
}

func relativeError(got, want float64) float64 { return math.Abs(got-want) / math.Abs(want) }

// halfDigit is half a unit of the last digit printed, relative to the number.
func halfDigit(printed string) float64 {
	mantissa, _, _ := strings.Cut(printed, "E")
	m, _ := strconv.ParseFloat(mantissa, 64)
	_, decimals, _ := strings.Cut(mantissa, ".")
	return 0.5 * math.Pow(10, -float64(len(decimals))) / m
}

func TestFactorsPrintedInSP811(t *testing.T) {
	for _, row := range published(t, "sp811.txt") {
		printed, exact := strings.CutSuffix(row[2], " exact")
		want, err := strconv.ParseFloat(printed, 64)
		if err != nil {
			t.Fatal(err)
		}
		text := row[0]
		if text[0] < '0' || text[0] > '9' {
			text = "1 " + text
		}
		q, err := Parse(text)
		if err != nil {
			t.Error(err)
			continue
		}
		got, err := q.Value(row[1])
		if err != nil {
			t.Error(err)
			continue
		}
		tolerance := 4e-16
		if !exact {
			tolerance = halfDigit(printed) * 1.0001
		}
		if e := relativeError(got, want); e > tolerance {
			t.Errorf("%s (%s): %s in %s is %.17g, printed %s, off by %.2g", row[3], text, text, row[1], got, printed, e)
		}
	}
}

func TestFactorsOfPint(t *testing.T) {
	for _, row := range published(t, "pint.txt") {
		want, err := strconv.ParseFloat(row[2], 64)
		if err != nil {
			t.Fatal(err)
		}
		u, err := ParseUnit(row[0])
		if err != nil {
			t.Error(err)
			continue
		}
		if e := relativeError(u.Quantity(1).SI(), want); e > 1e-15 {
			t.Errorf("%s is %.17g, pint has %s, off by %.2g", row[0], u.Quantity(1).SI(), row[2], e)
		}
	}
}

// Exact values from definitions: international yard and pound of 1959 (lb
// 0.45359237 kg, yd 0.9144 m), standard gravity, the troy grain common to both
// pounds, NIST Handbook 44 for the gallon of 231 cubic inches; those of the
// second half follow from them in exact decimal arithmetic.
func TestExactFactors(t *testing.T) {
	for _, c := range []struct {
		from  float64
		unit  string
		to    string
		exact float64
	}{
		{1, "lb", "kg", 0.45359237},
		{1, "st", "kg", 907.18474},
		{1, "lt", "kg", 1016.0469088},
		{1, "ozt", "g", 31.1034768},
		{1, "dwt", "g", 1.55517384},
		{1, "lbf", "N", 4.4482216152605},
		{1, "psi", "Pa", 6894.757293168361},
		{1, "hp_mech", "W", 745.69987158227022},
		{1, "Btu_IT", "J", 1055.05585262},
		{1, "USgal", "L", 3.785411784},
		{1, "ft3", "m3", 0.028316846592},
		{1, "Oe", "A/m", 1000 / (4 * math.Pi)},
		{1, "emu/g", "A·m2/kg", 1},
		{1, "emu/(g·Oe)", "m3/kg", 4 * math.Pi / 1000}, // mass susceptibility of 1 cm³/g in cgs units
		{1, "emu/cm3", "kA/m", 1},
		{1, "kOe", "kA/m", 1000 / (4 * math.Pi)},
		// An ounce per ton has a meaning only with both named.
		{1, "ozt/st", "g/t", 480 * 64.79891e-3 / 0.90718474},
		{1, "ozt/lt", "g/t", 480 * 64.79891e-3 / 1.0160469088},
		{1, "hp_mech·h/st", "kWh/t", 0.74569987158227022 / 0.90718474},
		{1, "kWh/st", "kWh/t", 1 / 0.90718474},
		{1, "kWh/lt", "kWh/t", 1 / 1.0160469088},
		{1, "ft·lbf/lb", "J/kg", 0.3048 * 9.80665},
		{1, "gpm", "m3/h", 3.785411784e-3 * 60},
		{1, "lb/st", "kg/t", 0.5},
		{1, "lbf/st", "N/t", 4.903325},
		{1, "st/(h·ft2)", "t/(h·m2)", 0.90718474 / 0.09290304},
		{1, "Btu_IT/lb", "J/kg", 2326},
	} {
		got, err := Of(c.from, c.unit).Value(c.to)
		if err != nil || relativeError(got, c.exact) > 5e-16 {
			t.Errorf("%v %s = %.17g %s, %v; want %.17g", c.from, c.unit, got, c.to, err, c.exact)
		}
	}
}

// Published conversions: W per metric ton is 1.102 W per short ton (Rowland
// 1976); SP 811 appendix B.9 for temperatures.
func TestPublishedConversions(t *testing.T) {
	if v, _ := Of(1, "kWh/st").Value("kWh/t"); relativeError(v, 1.102) > 3e-4 {
		t.Errorf("1 kWh/st is %v kWh/t", v)
	}
	for _, f := range []float64{-459.67, -40, 0, 32, 98.6, 212, 2795} {
		celsius, _ := Of(f, "°F").Value("°C")
		kelvin, _ := Of(f, "°F").Value("K")
		if math.Abs(celsius-(f-32)/1.8) > 1e-12*max(1, math.Abs(celsius)) || math.Abs(kelvin-(f+459.67)/1.8) > 1e-12*max(1, kelvin) {
			t.Errorf("%v °F is %v °C and %v K", f, celsius, kelvin)
		}
	}
}
