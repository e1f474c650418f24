package quantity

import "testing"

func TestTemperatures(t *testing.T) {
	sum := func(left, right, reason string) string {
		return "! cannot add " + left + " and " + right + ": " + reason
	}
	for _, c := range []calculation{
		{"20 °C", "-", "15 °C", "5 K"},
		{"20 °C", "+", "5 K", "25 °C"},
		{"5 K", "+", "20 °C", "25 °C"},
		{"20 °C", "-", "5 Δ°C", "15 °C"},
		{"20 °C", "+", "9 Δ°F", "25 °C"},
		{"68 °F", "-", "50 °F", "18 Δ°F"},
		{"68 °F", "-", "10 °C", "18 Δ°F"},
		{"20 °C", "-", "50 °F", "10 K"},
		{"300 K", "-", "290 K", "10 K"},
		{"20 °C", "+", "nothing", "20 °C"},
		{"nothing", "+", "20 °C", "20 °C"},
		{"5 W/(m2·°C)", "*", "2 Δ°C", "10 W/m²"},
		{"5 W/(m2·°C)", "*", "2 K", "10 W/m²"},
		{"9 W/(m2·K)", "*", "2 Δ°F", "10 W/m²"},
		{"5 W/m2", "/", "2 W/(m2·°C)", "2.5 Δ°C"},
		{"20 °C", "+", "30 °C", sum("20 °C", "30 °C", readingSum)},
		{"300 K", "-", "20 °C", "! cannot subtract 20 °C from 300 K: " + readingFrom},
		{"20 °C", "+", "5 t", "! cannot add 20 °C (temperature, as K) and 5 t (mass, as kg)"},
		{"2", "*", "20 °C", "! cannot multiply 2 by 20 °C: " + readingInProduct},
		{"20 °C", "/", "2", "! cannot divide 20 °C by 2: " + readingInProduct},
		{"nothing", "-", "20 °C", "! cannot subtract 20 °C from 0: " + readingZero},
	} {
		c.check(t)
	}
}

// A difference of 5 K is not -268.15 °C, also after it was doubled or halved.
func TestDifferenceIsNoReading(t *testing.T) {
	difference := must(t, "25 °C").Sub(must(t, "20 °C"))
	for _, d := range []Quantity{difference, difference.Mul(Number(2)), Number(2).Mul(difference), difference.Div(Number(2)),
		difference.Neg(), difference.Add(difference), must(t, "5 Δ°F")} {
		if got, err := d.In("°C"); err == nil {
			t.Errorf("the difference %s was shown as %s", d, got)
		}
		if _, err := d.In("K"); err != nil {
			t.Error(err)
		}
		if _, err := d.In("Δ°F"); err != nil {
			t.Error(err)
		}
	}
	if _, err := must(t, "20 °C").In("Δ°C"); err == nil {
		t.Error("a reading was shown as a difference")
	}
	if got := attempt(t, func() Quantity { must(t, "20 °C").Less(difference); return Quantity{} }); got != "! cannot compare 20 °C with 5 K: "+readingOrDelta {
		t.Error(got)
	}
}

func TestReadings(t *testing.T) {
	for _, c := range []struct{ from, to, want string }{
		{"20 °C", "K", "293.15 K"},
		{"293.15 K", "°C", "20 °C"},
		{"20 °C", "°F", "68 °F"},
		{"-40 °F", "°C", "-40 °C"},
		{"100 °C", "°R", "671.67 °R"},
		{"5 Δ°C", "Δ°F", "9 Δ°F"},
	} {
		got, err := must(t, c.from).In(c.to)
		if err != nil || got.String() != c.want {
			t.Errorf("%s in %s is %s, %v", c.from, c.to, got, err)
		}
	}
	// The sign before a literal belongs to the reading.
	if got := must(t, "5 °C").Neg(); got.String() != "-5 °C" || got.SI() != 268.15 {
		t.Errorf("-(5 °C) is %s, %v K", got, got.SI())
	}
	if got := attempt(t, func() Quantity { return must(t, "-5 °C").Abs() }); got != "! cannot take the magnitude of -5 °C: "+readingNegated {
		t.Error(got)
	}
	if _, err := (Quantity{}).In("°C"); err == nil {
		t.Error("nothing yet was shown in °C")
	}
	if u := must(t, "5 °C").Unit(); !u.IsReading() {
		t.Error("°C is no reading")
	}
}
