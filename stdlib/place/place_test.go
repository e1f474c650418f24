package place

import (
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

// Reading the embedded tables panics where a line is wrong; this looks at what
// was read.
func TestEachPlaceIsWhole(t *testing.T) {
	if len(Known()) < 9 {
		t.Fatalf("%d places", len(Known()))
	}
	for _, p := range Known() {
		if p.Gravity.SI() <= 0 || p.Day.SI() <= 0 || p.Sunlight.SI() <= 0 || p.Escape.SI() <= 0 {
			t.Errorf("%s: %v", p.Name, p)
		}
		if p.Coldest.SI() > 0 && p.Warmest.SI() > 0 && p.Coldest.SI() >= p.Warmest.SI() {
			t.Errorf("%s: coldest %v, warmest %v", p.Name, p.Coldest, p.Warmest)
		}
		for _, f := range p.figures {
			if len(f.Source) < 5 {
				t.Errorf("%s, %s: no source", p.Name, f.Name)
			}
		}
		if (p.Name == "Earth" || p.Name == "Mars") == p.IsVacuum() {
			t.Errorf("%s: vacuum %v", p.Name, p.IsVacuum())
		}
	}
}

func TestPlacesAreCopied(t *testing.T) {
	mine := Moon()
	mine.Gravity = quantity.Of(1, "m/s²")
	mine.figures[0].Source = "mine"
	if again := Moon(); again.Gravity.Equal(mine.Gravity) || again.figures[0].Source == "mine" {
		t.Error("a change to one place reaches another")
	}
}

func TestShown(t *testing.T) {
	text := Moon().String()
	for _, want := range []string{"gravity", "1.625 m/s²", "vacuum", "390 K"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	if text := placeNamed(t, "Deimos").String(); !strings.Contains(text, "not stated") {
		t.Errorf("Deimos has no temperatures:\n%s", text)
	}
	if text := Mars().Figures().String(); !strings.Contains(text, "Konopliv") {
		t.Errorf("no source in\n%s", text)
	}
	if text := Earth().Markdown() + Earth().HTML() + Earth().LaTeX(); strings.Count(text, "9.80665") < 2 {
		t.Errorf("shown as\n%s", text)
	}
}

func placeNamed(t *testing.T, name string) Place {
	t.Helper()
	p, err := Named(name)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestUncertainGas(t *testing.T) {
	warm, err := quantity.Normal(quantity.Of(210, "K"), quantity.Of(20, "K"))
	if err != nil {
		t.Fatal(err)
	}
	density, err := Mars().GasDensity(warm)
	if err != nil || !density.IsUncertain() {
		t.Errorf("density %v, %v", density, err)
	}
	viscosity, err := Mars().Gas.Viscosity(warm)
	if err != nil || !viscosity.IsUncertain() {
		t.Errorf("viscosity %v, %v", viscosity, err)
	}
}

// A mixture of a gas with itself is that gas.
func TestMixtureOfOne(t *testing.T) {
	half := Part{"CO2", quantity.Of(50, "%")}
	twice, err := NewGas(half, half)
	if err != nil {
		t.Fatal(err)
	}
	whole, err := NewGas(Part{"CO2", quantity.Number(1)})
	if err != nil {
		t.Fatal(err)
	}
	a, b := twice.viscosity(250), whole.viscosity(250)
	if d := a/b - 1; d > 1e-12 || d < -1e-12 {
		t.Errorf("%v and %v", a, b)
	}
}

func TestRefused(t *testing.T) {
	metre, second, bare := quantity.Of(1, "m"), quantity.Of(1, "s"), Place{Name: "bare", Pressure: quantity.Of(1, "kPa")}
	errs := map[string]func() error{
		`"Pluto" is not known`: func() error { _, err := Named("Pluto"); return err },
		"a mass or GM":         func() error { _, err := Body("x", metre, metre); return err },
		"is a length above 0":  func() error { _, err := Body("x", quantity.Of(1, "kg"), second); return err },
		"distance from the":    func() error { _, err := Sunlight(second); return err },
		"rotation":             func() error { _, err := Day(quantity.Of(0, "h"), second); return err },
		"a year is":            func() error { _, err := Day(second, metre); return err },
		"one side":             func() error { _, err := Day(second, second); return err },
		`"He"`:                 func() error { _, err := NewGas(Part{"He", quantity.Number(1)}); return err },
		"add up":               func() error { _, err := NewGas(Part{"N2", quantity.Number(0.5)}); return err },
		"not below 0":          func() error { _, err := NewGas(Part{"N2", metre}); return err },
		"vacuum":               func() error { _, err := Moon().FreePath(quantity.Of(300, "K")); return err },
		"from 100 to 700":      func() error { _, err := Mars().Gas.Viscosity(quantity.Of(20, "K")); return err },
		"no gas":               func() error { _, err := bare.GasDensity(quantity.Of(300, "K")); return err },
		"absolute zero":        func() error { _, err := Mars().GasDensity(metre); return err },
	}
	for want, call := range errs {
		if err := call(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want %q", err, want)
		}
	}
	if density, err := Moon().GasDensity(quantity.Of(300, "K")); err != nil || density.SI() != 0 {
		t.Errorf("density of a vacuum %v, %v", density, err)
	}
}
