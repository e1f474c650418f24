package quantity

import (
	"strings"
	"testing"
)

// The figures are invented; the arithmetic is that of the definition of moisture.
func TestDryAndWet(t *testing.T) {
	q := func(text string) Quantity {
		q, err := Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		return q
	}
	for _, c := range []struct {
		got  Quantity
		want string
	}{
		{q("500 wmt/h").Mul(q("0.92 dmt/wmt")), "460 dmt/h"},
		{q("500 t/h").Mul(q("0.92 dmt/wmt")), "460 dmt/h"},
		{q("460 dmt/h").Div(q("0.92 dmt/wmt")), "500 wmt/h"},
		{q("12 kWh/t").Mul(q("250 dmt/h")), "3000 kW"},
		{q("12 kWh/t").Mul(q("0.5 dmt/wmt")), "6 kWh/wmt"},
		{q("460 dmt").Div(q("500 wmt")), "0.92 dmt/wmt"},
		{q("3 %").Mul(q("500 dmt")), "15 dmt"},
		{q("2 g/t").Mul(q("500 dmt")), "1000 g"},
		{q("5 g").Div(q("2 dmt")), "2.5 g/dmt"},
		{q("3 dmt").Add(q("500 kg")), "3.5 dmt"},
		{q("500 kg").Add(q("3 dmt")), "3.5 dmt"},
		{q("90 USD/dmt").Mul(q("2 dmt/h")), "180 USD/h"},
		{q("100 lcm").Mul(q("0.8 bcm/lcm")), "80 bcm"},
		{q("80 bcm").Mul(q("2.6 t/m3")), "208 t"},
		{q("460 dmt").Div(q("2 t/h")), "230 h"},
		{q("0.92 dmt/wmt").To("%"), "92 %"},
		{q("2 USD/dmtu").Mul(q("60 dmtu")), "120 USD"},
		{q("3 dst").To("lb"), "6000 lb"},
	} {
		if c.got.String() != c.want {
			t.Errorf("%s, want %s", c.got, c.want)
		}
	}
	for _, c := range []struct{ q, moisture, dry, wet string }{
		{"500 wmt/h", "8 %", "460 dmt/h", ""},
		{"500 t/h", "8 %", "460 dmt/h", "543.5 wmt/h"},
		{"460 dmt", "8 %", "", "500 wmt"},
	} {
		dry, errDry := Dry(q(c.q), q(c.moisture))
		wet, errWet := Wet(q(c.q), q(c.moisture))
		if errDry == nil && dry.String() != c.dry || (errDry != nil) != (c.dry == "") {
			t.Errorf("dry of %s is %s, %v", c.q, dry, errDry)
		}
		if errWet == nil && wet.String() != c.wet || (errWet != nil) != (c.wet == "") {
			t.Errorf("wet of %s is %s, %v", c.q, wet, errWet)
		}
	}
	if m, err := Dry(Must(Normal(Of(500, "wmt"), Of(5, "wmt"))), Must(Uniform(Of(7, "%"), Of(9, "%")))); err != nil || m.Unit().Symbol() != "dmt" || len(m.Influences()) != 2 {
		t.Errorf("an uncertain mass and moisture: %s, %v", m, err)
	}
}

func TestDryAndWetDoNotMix(t *testing.T) {
	for _, c := range []struct{ a, b, want string }{
		{"3 dmt", "3 wmt", "dry mass and the other wet mass"},
		{"3 dmt/h", "3 wmt/h", "dry mass and the other wet mass"},
		{"3 g/dmt", "3 g/wmt", "dry mass and the other wet mass"},
		{"3 USD/dmt", "3 USD/wst", "dry mass and the other wet mass"},
		{"3 bcm", "3 lcm", "in the bank and the other loose"},
		{"3 USD·wmt/(dmt·h)", "3 USD/h", "dry mass and the other wet mass"},
	} {
		a, errA := Parse(c.a)
		b, errB := Parse(c.b)
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		for _, pair := range [][2]Quantity{{a, b}, {b, a}} {
			if _, err := pair[0].InUnit(pair[1].Unit()); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%s in the unit of %s: %v", pair[0], pair[1], err)
			}
			func() {
				defer func() {
					if err, _ := recover().(error); err == nil || !strings.Contains(err.Error(), c.want) {
						t.Errorf("%s and %s were added: %v", pair[0], pair[1], err)
					}
				}()
				pair[0].Add(pair[1])
			}()
		}
	}
	for _, c := range []struct{ q, moisture, want string }{
		{"500 wmt", "100 %", "cannot be used"},
		{"500 wmt", "-1 %", "cannot be used"},
		{"500 wmt", "8 t", "moisture"},
		{"500 m", "8 %", "no mass"},
		{"20 °C", "8 %", "no mass"},
		{"20", "8 %", "no mass"},
	} {
		q, _ := Parse(c.q)
		m, _ := Parse(c.moisture)
		if got, err := Dry(q, m); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("dry of %s at %s is %s, %v", c.q, c.moisture, got, err)
		}
	}
	if err := Declare("pallet", "1.2 dmt"); err != nil || Of(2, "pallet").To("dmt").String() != "2.4 dmt" {
		t.Errorf("a pallet of dry tonnes: %v", err)
	}
	if Of(1, "pallet").Unit().Compatible(Of(1, "wmt").Unit()) {
		t.Error("a dry pallet goes with wet tonnes")
	}
	if err := Declare("mixedratio", "0.9 dmt/wmt"); err == nil {
		t.Error("a unit of two states was declared")
	}
}
