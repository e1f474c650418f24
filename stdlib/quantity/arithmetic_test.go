package quantity

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"unsafe"
)

// must parses a quantity of a test; "nothing" is the zero Quantity.
func must(t testing.TB, text string) Quantity {
	t.Helper()
	if text == "nothing" {
		return Quantity{}
	}
	q, err := Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// attempt is what an operation gives: the result to six digits, or the text of
// the *DimensionError with which it panics.
func attempt(t testing.TB, operation func() Quantity) (text string) {
	t.Helper()
	defer func() {
		if r := recover(); r != nil {
			failure, ok := r.(*DimensionError)
			if !ok {
				t.Fatalf("panic with %T: %v", r, r)
			}
			text = "! " + failure.Error()
		}
	}()
	return fmt.Sprintf("%.6v", operation())
}

func calculate(t testing.TB, left, operator, right string) string {
	t.Helper()
	q, r := must(t, left), must(t, right)
	return attempt(t, func() Quantity {
		switch operator {
		case "+":
			return q.Add(r)
		case "-":
			return q.Sub(r)
		case "*":
			return q.Mul(r)
		}
		return q.Div(r)
	})
}

type calculation struct{ left, operator, right, want string }

func (c calculation) check(t *testing.T) {
	t.Helper()
	if got := calculate(t, c.left, c.operator, c.right); got != c.want {
		t.Errorf("%s %s %s\n got %s\nwant %s", c.left, c.operator, c.right, got, c.want)
	}
}

func TestSums(t *testing.T) {
	for _, c := range []calculation{
		{"36.5 t/h", "+", "12.1 t/h", "48.6 t/h"},
		{"3 t", "+", "500 kg", "3.5 t"},
		{"500 kg", "+", "3 t", "3500 kg"},
		{"12 kWh/t", "-", "2 kWh/st", "9.79538 kWh/t"},
		{"1", "-", "5 %", "95 %"},
		{"5 %", "-", "0.01", "4 %"},
		{"1", "+", "50 ppm", "1.00005"},
		{"2 g/t", "+", "1 ppm", "3 g/t"},
		{"3 wt%", "+", "2 %", "5 wt%"},
		{"2 %", "+", "3 wt%", "5 wt%"},
		{"3 N·m", "+", "1 J", "4 N·m"},
		{"nothing", "+", "5 t", "5 t"},
		{"5 t", "+", "nothing", "5 t"},
		{"nothing", "-", "5 t", "-5 t"},
		{"nothing", "+", "nothing", "0"},
		{"5 USD/t", "+", "1 USD/t", "6 USD/t"},
		{"NaN t", "+", "1 kg", "NaN t"},
		{"36.5 t/h", "+", "12 kWh", "! cannot add 36.5 t/h (mass per time, as kg/s) and 12 kWh (energy, as J)"},
		{"36.5 t/h", "-", "12 kWh", "! cannot subtract 12 kWh (energy, as J) from 36.5 t/h (mass per time, as kg/s)"},
		{"5 t", "+", "1", "! cannot add 5 t (mass, as kg) and 1 (a pure number)"},
		{"5 kg", "+", "1 m", "! cannot add 5 kg (mass) and 1 m (length)"},
	} {
		c.check(t)
	}
}

func TestProducts(t *testing.T) {
	for _, c := range []calculation{
		// What cancels, cancels.
		{"36.5 t/h", "*", "24 h", "876 t"},
		{"60 t/h", "*", "30 min", "30 t"},
		{"12 kWh/t", "*", "250 t/h", "3000 kW"},
		{"3000 kW", "/", "250 t/h", "12 kWh/t"},
		{"3000 kW", "/", "12 kWh/t", "250 t/h"},
		{"100 hp_mech", "/", "10 kWh/t", "7.457 t/h"},
		{"10 m3/h", "*", "2.7 t/m3", "27 t/h"},
		{"2.65 kg/L", "*", "2 m3", "5300 kg"},
		{"5 L", "/", "1 m3", "0.005"},
		{"100 gpm", "*", "1 h", "6000 USgal"},
		{"50 Hz", "*", "2 s", "100"},
		{"2 t/h", "/", "500 kg/h", "4"},
		{"2 kWh", "/", "3.6 MJ", "2"},
		{"3 lbf", "/", "1 in2", "3 psi"},
		// A small mass over a large one stays.
		{"5 kg", "/", "2 t", "2.5 kg/t"},
		{"1.2 g", "/", "500 kg", "0.0024 g/kg"},
		{"2 lb", "/", "1 kg", "0.907185"},
		{"300 kg", "/", "1 t", "300 kg/t"},
		{"2.5 kg/t", "*", "200 t/h", "500 kg/h"},
		{"5 g/t", "*", "1000 kg", "5 g"},
		{"5 g/t", "*", "3 m", "15 g·m/t"},
		{"2000 USD/ozt", "*", "31.1034768 g/t", "2000 USD/t"},
		{"3 USD/kg", "*", "1 kg/st", "3 USD/st"},
		{"3 USD/g", "*", "2 g/t", "6 USD/t"},
		{"1 USD/g", "*", "1 ozt/st", "31.1035 USD/st"},
		{"5 g/t", "/", "2 g/t", "2.5"},
		{"5 g/t", "*", "2 g/t", "1e-11"},
		// A ratio that came whole stays, and cancels where it can.
		{"2", "*", "8 h/d", "16 h/d"},
		{"2", "/", "8 h/d", "0.25 d/h"},
		{"50 %", "*", "3 mm/m", "1.5 mm/m"},
		{"8 h/d", "*", "5 t/h", "40 t/d"},
		{"5 t/h", "*", "365 d/a", "43800 t/a"},
		{"3 mL/L", "*", "2 m3/h", "6000 mL/h"},
		{"8 h/d", "*", "3 d", "24 h"},
		{"2", "*", "30 kWh/d", "60 kWh/d"},
		{"12 kWh/t", "*", "500 kt/a", "6e+06 kWh/a"},
		{"12 kWh/t", "*", "5 t/min", "3600 kW"},
		{"6 GWh/a", "*", "80 USD/MWh", "480000 USD/a"},
		{"6 GWh/a", "/", "500 kt/a", "0.012 GWh/kt"},
		// Fractions go into the value.
		{"3 %", "*", "36 t/h", "1.08 t/h"},
		{"1.08 t/h", "/", "3 %", "36 t/h"},
		{"5 %", "*", "5 %", "0.25 %"},
		{"5 %", "/", "2 %", "2.5"},
		{"5 %", "*", "5 wt%", "0.25 %"},
		{"5 wt%", "*", "5 %", "0.25 %"},
		{"5 wt%", "*", "5 wt%", "0.25 wt%"},
		{"5 wt%", "*", "5 vol%", "0.0025"},
		{"2", "*", "5 %", "10 %"},
		{"5 %/h", "*", "2 h", "10 %"},
		{"1", "/", "5 %", "20"},
		// Units of one dimension are merged into the first.
		{"100 m2", "*", "5 mm", "0.5 m³"},
		{"5 mm", "*", "2 m", "10000 mm²"},
		{"6 1/h", "/", "1 min", "360 h⁻²"},
		// Base units take the name the SI has for them.
		{"2 kg", "*", "9.81 m/s2", "19.62 N"},
		{"3 N", "*", "2 m", "6 N·m"},
		{"3 V", "*", "2 A", "6 W"},
		{"6 J", "/", "2 s", "3 W"},
		{"6 N", "/", "2 m2", "3 Pa"},
		{"2 Pa", "*", "3 m2", "6 N"},
		{"4 kW", "*", "2 h", "8 kWh"},
		{"2 t", "*", "3 m/s2", "6 t·m/s²"},
		{"3 Pa·s", "/", "1 s", "3 Pa"},
		// Money.
		{"3 USD/t", "*", "200 t/h", "600 USD/h"},
		{"0.08 USD/kWh", "*", "3000 kW", "240 USD/h"},
		{"12 EUR", "*", "1.1 USD/EUR", "13.2 USD"},
		{"6 USD", "/", "3 EUR", "2 USD/EUR"},
		// Angles are not dropped.
		{"60 rpm", "/", "1 rev", "60 min⁻¹"},
		{"38.6 rpm", "*", "1.2 m", "46.32 rpm·m"},
		{"3 rad/s", "*", "2 m", "6 rad·m/s"},
		{"90 deg", "/", "1 rad", "1.5708"},
		// Nothing yet, and floats at their ends.
		{"nothing", "*", "5 t", "0"},
		{"5 t", "/", "nothing", "+Inf"},
		{"5 t", "/", "0 h", "+Inf t/h"},
		{"0 t", "/", "0 h", "NaN t/h"},
	} {
		c.check(t)
	}
}

func TestPowers(t *testing.T) {
	for _, c := range []struct {
		q        string
		num, den int
		want     string
	}{
		{"3 m", 2, 1, "9 m²"},
		{"9 m2", 1, 2, "3 m"},
		{"4 m2/s2", 1, 2, "2 m/s"},
		{"4 t", 1, 2, "2 t^(1/2)"},
		{"2 h", -1, 1, "0.5 h⁻¹"},
		{"8 m3", 2, 3, "4 m²"},
		{"5 %", 2, 1, "0.25 %"},
		{"25 %", 1, 2, "50 %"},
		{"5 t", 0, 1, "1"},
		{"nothing", 0, 1, "1"},
		{"nothing", 2, 1, "0"},
		{"9 kWh/t", 1, 2, "3 kW^(1/2)·h^(1/2)/t^(1/2)"},
		{"20 °C", 1, 1, "20 °C"},
		{"20 °C", 2, 1, "! cannot raise 20 °C: " + readingInProduct},
		{"2 m", 1, 0, "! the power 1/0 of a unit is out of range; powers go up to 999"},
		{"2 m", 1000, 1, "! the power 1000/1 of a unit is out of range; powers go up to 999"},
	} {
		if got := attempt(t, func() Quantity { return must(t, c.q).Pow(c.num, c.den) }); got != c.want {
			t.Errorf("(%s)^(%d/%d)\n got %s\nwant %s", c.q, c.num, c.den, got, c.want)
		}
	}
	if got := must(t, "16 m2").Sqrt().String(); got != "4 m" {
		t.Errorf("root of 16 m² is %s", got)
	}
}

// A typed number comes back as typed, and decimal parts are exact: 57 % is
// 0.57, not 0.5700000000000001.
func TestNumbersStayAsTyped(t *testing.T) {
	for n := -200; n <= 200; n++ {
		x := float64(n) / 100
		if v, _ := Of(float64(n), "%").Float(); v != x {
			t.Errorf("%d %% is %v", n, v)
		}
		if v, _ := Of(float64(n), "t/h").Value("t/h"); v != float64(n) {
			t.Errorf("%d t/h is %v", n, v)
		}
		if v, _ := Of(float64(n), "kg").Value("t"); v != float64(n)/1000 {
			t.Errorf("%d kg is %v t", n, v)
		}
	}
}

func TestCompare(t *testing.T) {
	for _, c := range []struct {
		left, right string
		compare     int
		less, equal bool
	}{
		{"1 t", "1000 kg", 0, false, true},
		{"1.0057 t", "1005.7 kg", 0, false, true},
		{"57 %", "0.57", 0, false, true},
		{"1 t/h", "1000 kg/h", 0, false, true},
		{"36.5 t/h", "876 t/d", 0, false, true},
		{"1 t", "999 kg", 1, false, false},
		{"1 t", "1 st", 1, false, false},
		{"1 st", "1 t", -1, true, false},
		{"20 °C", "68 °F", 0, false, true},
		{"20 °C", "293.15 K", 0, false, true},
		{"20 °C", "70 °F", -1, true, false},
		{"nothing", "5 t", -1, true, false},
		{"nothing", "0 t", 0, false, true},
		{"-0 t", "0 t", 0, false, true},
		{"NaN t", "1 t", -1, false, false},
		{"1 kg", "NaN t", 1, false, false},
		{"NaN t", "NaN kg", 0, false, false},
		{"+Inf t", "+Inf kg", 0, false, true},
	} {
		q, r := must(t, c.left), must(t, c.right)
		if q.Compare(r) != c.compare || q.Less(r) != c.less || q.Equal(r) != c.equal {
			t.Errorf("%s and %s: Compare %d, Less %v, Equal %v", q, r, q.Compare(r), q.Less(r), q.Equal(r))
		}
		if r.Compare(q) != -c.compare {
			t.Errorf("%s and %s: Compare %d the other way round", r, q, r.Compare(q))
		}
	}
	got := attempt(t, func() Quantity { must(t, "1 t").Less(must(t, "1 h")); return Quantity{} })
	if got != "! cannot compare 1 t (mass, as kg) with 1 h (time, as s)" {
		t.Error(got)
	}
}

func TestExtremesAndSum(t *testing.T) {
	a, b, c := must(t, "900 kg"), must(t, "1 t"), must(t, "0.5 st")
	if got := Max(a, b, c); got != b {
		t.Errorf("greatest is %s", got)
	}
	if got := Min(a, b, c); got != c {
		t.Errorf("least is %s", got)
	}
	if got := Max(a, must(t, "NaN t"), b); !got.IsNaN() {
		t.Errorf("greatest beside not-a-number is %s", got)
	}
	if got := Sum(a, b).String(); got != "1900 kg" {
		t.Errorf("sum is %s", got)
	}
	if got := Sum(); !got.IsNothing() {
		t.Errorf("sum of none is %#v", got)
	}
}

func TestAbsAndNeg(t *testing.T) {
	if got := must(t, "-5 t").Abs().String(); got != "5 t" {
		t.Error(got)
	}
	if got := must(t, "5 t").Neg().String(); got != "-5 t" {
		t.Error(got)
	}
	if got := (Quantity{}).Neg().Abs().String(); got != "0" {
		t.Error(got)
	}
}

func TestConversionErrors(t *testing.T) {
	_, err := must(t, "5 t/h").In("kWh")
	var failure *DimensionError
	if !errors.As(err, &failure) || err.Error() != "cannot show 5 t/h (mass per time, as kg/s) in kWh (energy, as J)" {
		t.Error(err)
	}
	if v, err := must(t, "5 t").Value("kilo"); err == nil || !math.IsNaN(v) {
		t.Errorf("value in an unknown unit: %v, %v", v, err)
	}
	if _, err := must(t, "5 t").Float(); err == nil || err.Error() != "cannot show 5 t (mass, as kg) in a pure number" {
		t.Error(err)
	}
	if v, err := (Quantity{}).Value("t"); v != 0 || err != nil {
		t.Errorf("nothing in t is %v, %v", v, err)
	}
	if got := attempt(t, func() Quantity { return must(t, "5 t").To("h") }); !strings.HasPrefix(got, "! cannot show 5 t") {
		t.Error(got)
	}
}

func TestQuantityIsSmall(t *testing.T) {
	if size := unsafe.Sizeof(Quantity{}); size > 32 {
		t.Errorf("a quantity takes %d bytes", size)
	}
}

func TestScalarsDoNotAllocate(t *testing.T) {
	q, r, h := Of(2, "t/h"), Of(3, "kg/h"), Of(4, "h")
	var sum Quantity
	var less bool
	allocated := testing.AllocsPerRun(100, func() {
		sum = q.Add(r).Sub(q).Mul(h).Div(h).Neg().Abs().Sqrt().Pow(2, 1)
		less = q.Less(r) || q.Equal(r) || q.Compare(r) > 0
	})
	if allocated != 0 || less == sum.IsNaN() {
		t.Errorf("%v allocations; %v %v", allocated, sum, less)
	}
}
