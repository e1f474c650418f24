package quantity

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// one-argument functions beside those of Go's standard library, at a place
// where all are defined.
var functionsOfNumbers = []struct {
	name     string
	ours     func(Quantity) Quantity
	standard func(float64) float64
}{
	{"Exp", Exp, math.Exp}, {"Expm1", Expm1, math.Expm1}, {"Log", Log, math.Log}, {"Log1p", Log1p, math.Log1p},
	{"Log10", Log10, math.Log10}, {"Log2", Log2, math.Log2}, {"Sqrt", Sqrt, math.Sqrt}, {"Cbrt", Cbrt, math.Cbrt},
	{"Sin", Sin, math.Sin}, {"Cos", Cos, math.Cos}, {"Tan", Tan, math.Tan}, {"Asin", Asin, math.Asin},
	{"Acos", Acos, math.Acos}, {"Atan", Atan, math.Atan}, {"Sinh", Sinh, math.Sinh}, {"Cosh", Cosh, math.Cosh},
	{"Tanh", Tanh, math.Tanh},
	{"Apply of Erf", func(q Quantity) Quantity { return Apply(math.Erf, q) }, math.Erf},
	{"Power", func(q Quantity) Quantity { return Power(q, Number(0.7)) }, func(x float64) float64 { return math.Pow(x, 0.7) }},
}

func TestFunctionsOfNumbers(t *testing.T) {
	Seed(1)
	for _, f := range functionsOfNumbers {
		for _, x := range []float64{0.05, 0.4, 0.83} {
			got, err := f.ours(Number(x)).Value("rad") // which counts as 1
			if err != nil || relativeError(got, f.standard(x)) > 4e-16 {
				t.Errorf("%s of %v is %v, %v; want %v", f.name, x, got, err, f.standard(x))
			}
			if got := f.ours(Of(100*x, "%")).SI(); f.name != "Sqrt" && f.name != "Cbrt" && relativeError(got, f.standard(x)) > 1e-15 {
				t.Errorf("%s of %v %% is %v; want %v", f.name, 100*x, got, f.standard(x))
			}
		}
		// A narrow input: the slope of the function is the ratio of the widths.
		x, h := 0.4, 1e-5
		q := f.ours(Must(Normal(Number(x), Number(h))))
		slope := math.Abs(f.standard(x+h)-f.standard(x-h)) / (2 * h)
		within(t, f.name+": sampled", q.StdDev().SI()/h, slope, 1e-3*slope)
		within(t, f.name+": first order", q.FirstOrder().Uncertainty.SI()/h, slope, 2e-4*slope)
	}
}

func TestFunctionsOfTwo(t *testing.T) {
	for _, c := range []struct {
		got  Quantity
		want string
	}{
		{Hypot(Of(3, "m"), Of(400, "cm")), "5 m"},
		{Cbrt(Of(8, "m3")), "2 m"},
		{Cbrt(Number(-8)), "-2"},
		{Sqrt(Of(9, "m2/s2")), "3 m/s"},
		{Power(Of(4, "m2"), Number(1.5)), "8 m³"},
		{Power(Of(27, "m3"), Number(1.0/3)), "3 m"},
		{Power(Number(2), Number(0.5)).Pow(2, 1), "2"},
		{Atan2(Of(1, "m"), Of(100, "cm")).To("deg"), "45 deg"},
		{Atan(Of(100, "%")).To("deg"), "45 deg"},
		{Sin(Of(30, "deg")), "0.5"},
		{Cos(Of(0.5, "rev")), "-1"},
	} {
		if c.got.String() != c.want {
			t.Errorf("%s, want %s", c.got, c.want)
		}
	}
	Seed(1)
	x, y := Must(Normal(Number(2), Number(1e-4))), Must(Normal(Number(3), Number(1e-4)))
	p := Power(x, y) // derivatives 12 and 8 ln 2, by hand
	want := 1e-4 * math.Hypot(12, 8*math.Ln2)
	within(t, "power of two", p.StdDev().SI(), want, 1e-2*want)
	within(t, "power of two, first order", p.FirstOrder().Uncertainty.SI(), want, 1e-3*want)
	a := Atan2(Must(Normal(Of(3, "m"), Of(1e-4, "m"))), Must(Normal(Of(400, "cm"), Of(1e-2, "cm"))))
	within(t, "angle of a point", a.FirstOrder().Uncertainty.SI(), 1e-4/5, 1e-8)
	h := Hypot(Must(Normal(Of(3, "m"), Of(1e-4, "m"))), Of(4, "m"))
	within(t, "side", h.FirstOrder().Uncertainty.SI(), 1e-4*3/5, 1e-8)
}

func TestFunctionsRefuseDimensions(t *testing.T) {
	for _, c := range []struct {
		do   func()
		want string
	}{
		{func() { Log(Of(36.5, "t/h")) }, "cannot take the logarithm of 36.5 t/h: it has the dimension of mass per time and not of a pure number; divide by a reference first, such as 1`t/h`"},
		{func() { Exp(Of(20, "°C")) }, "temperature scale"},
		{func() { Log(Of(5, "rev")) }, "turns"},
		{func() { Sin(Of(5, "m")) }, "dimension of length"},
		{func() { Asin(Of(5, "m")) }, "dimension of length"},
		{func() { Atan2(Of(5, "m"), Of(5, "s")) }, "compare"},
		{func() { Hypot(Of(5, "m"), Of(5, "s")) }, "add"},
		{func() { Power(Of(5, "m"), Number(0.123)) }, "fractions of small numbers"},
		{func() { Power(Of(5, "m"), Of(2, "m")) }, "raise to 2 m"},
		{func() { Apply(math.Erf, Of(5, "m")) }, "dimension of length"},
	} {
		func() {
			defer func() {
				err, _ := recover().(error)
				var wrong *DimensionError
				if !errors.As(err, &wrong) || !strings.Contains(err.Error(), c.want) {
					t.Errorf("%v, want %q", err, c.want)
				}
			}()
			c.do()
		}()
	}
}
