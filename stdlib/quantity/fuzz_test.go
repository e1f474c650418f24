package quantity

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func FuzzParseUnit(f *testing.F) {
	for _, text := range []string{"kWh/t", "g/(m2*s)", "µm", "oz/st", "1/min", "A·m²/kg", "kg m^-3", "troy ounces per short ton",
		"m^(1/2)", "°C", "W/(m2·°C)", "(((", "t/", "^", "m^999 m", "%w/w", "MUSD/a", "s-1", "g/m2*s", "Nm3", "\xff", "m⁻⁻", "per", "a_julian2"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		u, err := ParseUnit(text)
		if err != nil {
			var failure *UnitError
			if !errors.As(err, &failure) {
				t.Fatalf("%q: error of type %T", text, err)
			}
			if failure.Offset < 0 || !strings.HasPrefix(text[min(failure.Offset, len(text)):], failure.Part) {
				t.Fatalf("%q: %q does not stand at %d", text, failure.Part, failure.Offset)
			}
			return
		}
		again, err := ParseUnit(u.Symbol())
		if err != nil || again.Symbol() != u.Symbol() || again.Dimension() != u.Dimension() || !again.Compatible(u) {
			t.Fatalf("%q is shown as %q, which reads as %q, %v", text, u.Symbol(), again.Symbol(), err)
		}
		_, _ = u.HTML(), u.Math()
	})
}

func FuzzParse(f *testing.F) {
	for _, text := range []string{"36.5 t/h", "36.5`t/h`", "-5 °C", "1.2e3kg", "5eV", "NaN t", "−Inf %", "1,5 t", ".", "e5", "5e", "5`", "1e999", "0x10 t", "5 1/min", "7", "-0 t",
		"36.5 ± 1.2 t/h", "(36.5 +/- 1.2) t/h (95 %)", "36.5 t ± 2 %", "1.2(3) mm (k=2)", "34 to 39 t", "1 3/8 in", "5–7 °C", "±", "( ± )", "1 ± 1e-300 t", "3(", "1/0"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		q, err := Parse(text)
		if err != nil {
			var failure *UnitError
			if errors.As(err, &failure) && (failure.Text != text || !strings.HasPrefix(text[min(failure.Offset, len(text)):], failure.Part)) {
				t.Fatalf("%q: %q does not stand at %d of %q", text, failure.Part, failure.Offset, failure.Text)
			}
			return
		}
		Seed(1) // what is read stays the first input of its set
		if q.IsUncertain() {
			readsBack(t, text, q)
			return
		}
		printed, _ := q.MarshalText()
		back, err := Parse(string(printed))
		if err != nil || back.val() != q.val() && !q.IsNaN() || back.Unit().Symbol() != q.Unit().Symbol() {
			t.Fatalf("%q prints as %s, which reads as %s, %v", text, printed, back, err)
		}
	})
}

// readsBack holds the forms of an uncertain quantity to the digits that they show.
func readsBack(t *testing.T, text string, q Quantity) {
	spread := q.StdDev().Shown()
	if math.IsInf(spread, 0) || math.IsNaN(spread) || math.IsInf(q.val(), 0) || spread < 1e-9*math.Abs(q.val()) {
		return // beyond what a float can hold of both
	}
	for _, printed := range []string{q.String(), q.exact(), q.Scientific(12).String()} {
		back, err := Parse(printed)
		if err != nil || back.Unit().Symbol() != q.Unit().Symbol() {
			t.Fatalf("%q prints as %q, which reads as %s, %v", text, printed, back, err)
		}
		if math.Abs(back.val()-q.val()) > 0.06*spread || math.Abs(back.StdDev().Shown()-spread) > 0.06*spread {
			t.Fatalf("%q prints as %q, which reads as %+v", text, printed, back)
		}
	}
}
