package published

import (
	"testing"

	"cobber/stdlib/place"
	"cobber/stdlib/quantity"
)

func placed(t *testing.T, name string) place.Place {
	t.Helper()
	p, err := place.Named(name)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Figures that follow from others, against tables that print them.
func TestPlaces(t *testing.T) {
	tests := []struct {
		source, place, what string
		unit                string
		want, spread        float64
	}{
		{"NASA Moon fact sheet, 1.62 m/s² (seen at second hand)", "Moon", "gravity", "m/s²", 1.62, 4e-3},
		{"NASA Moon fact sheet, escape 2.38 km/s (seen at second hand)", "Moon", "escape", "km/s", 2.38, 2e-3},
		{"synodic month, 29.530589 d (value from memory)", "Moon", "day", "d", 29.530589, 1e-5},
		{"NASA Mars fact sheet, 3.73 m/s² without rotation (value from memory)", "Mars", "gravity", "m/s²", 3.73, 1e-3},
		{"NASA Mars fact sheet of the 1990s, escape 5.03 km/s (mirror)", "Mars", "escape", "km/s", 5.03, 1e-3},
		{"NASA Mars fact sheet, day 24.6597 h (value from memory)", "Mars", "day", "h", 24.6597, 1e-5},
		{"NASA Mars fact sheet, 586.2 W/m² (value from memory)", "Mars", "sunlight", "W/m²", 586.2, 2e-4},
		{"NASA Mercury fact sheet, 3.701 m/s² (transcribed in open code)", "Mercury", "gravity", "m/s²", 3.701, 5e-4},
		{"NASA Mercury fact sheet, 9082.7 W/m² (transcribed in open code)", "Mercury", "sunlight", "W/m²", 9082.7, 1e-4},
		{"NASA Mercury fact sheet, day 4222.6 h (transcribed in open code)", "Mercury", "day", "h", 4222.6, 3e-4},
		{"Ceres, 0.28 m/s² as commonly quoted (seen at second hand)", "Ceres", "gravity", "m/s²", 0.28, 5e-3},
		{"Ceres, escape 0.51 km/s as commonly quoted (seen at second hand)", "Ceres", "escape", "km/s", 0.51, 0.01},
		{"Vesta, 0.25 m/s² as commonly quoted (seen at second hand)", "Vesta", "gravity", "m/s²", 0.25, 0.02},
		{"Vesta, escape 0.36 km/s as commonly quoted (seen at second hand)", "Vesta", "escape", "km/s", 0.36, 0.01},
		{"Phobos, 0.0057 m/s² of fact sheets (value from memory)", "Phobos", "gravity", "m/s²", 0.0057, 0.02},
		{"Earth, mean solar day of 24 h", "Earth", "day", "h", 24, 1e-5},
		{"NASA Earth fact sheet, escape 11.186 km/s (value from memory)", "Earth", "escape", "km/s", 11.186, 1e-4},
	}
	for _, test := range tests {
		p := placed(t, test.place)
		q := map[string]quantity.Quantity{"gravity": p.Gravity, "escape": p.Escape, "day": p.Day, "sunlight": p.Sunlight}[test.what]
		near(t, test.source, in(t, q, test.unit), test.want, test.spread)
	}
}

// Air of the standard atmosphere at sea level: ISO 2533:1975 (the U.S. Standard
// Atmosphere 1976 prints the same): 1.225 kg/m³, 1.7894e-5 Pa·s. Its mean free
// path, 66.332 nm, is that of hard spheres of an agreed size and not the path that
// follows from viscosity, for which the case is S.G. Jennings, J. Aerosol Sci. 19
// (1988) 159: 65.43 nm in dry air at 20 °C (value from memory).
func TestStandardAtmosphere(t *testing.T) {
	earth := place.Earth()
	near(t, "molar mass of air, 28.9644 g/mol", in(t, earth.Gas.MolarMass(), "g/mol"), 28.9644, 4e-4)
	density, err := earth.GasDensity(quantity.Of(15, "°C"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "density of air", in(t, density, "kg/m³"), 1.225, 4e-4)
	viscosity, err := earth.Gas.Viscosity(quantity.Of(288.15, "K"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "viscosity of air", in(t, viscosity, "Pa·s"), 1.7894e-5, 0.01)
	path, err := earth.FreePath(quantity.Of(20, "°C"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean free path of air", in(t, path, "nm"), 65.43, 0.01)
}

// Viscosities of gases: nitrogen from the NIST Chemistry WebBook (seen at second
// hand), carbon dioxide and argon from the CRC Handbook (values from memory).
func TestViscositiesOfGases(t *testing.T) {
	tests := []struct {
		formula string
		kelvin  float64
		want    float64 // µPa·s
		spread  float64
	}{
		{"N2", 200, 12.924, 0.01}, {"N2", 400, 22.217, 0.01}, {"N2", 600, 29.602, 0.02},
		{"CO2", 200, 10.0, 0.02}, {"CO2", 300, 15.0, 0.02}, {"CO2", 400, 19.7, 0.02},
		{"Ar", 300, 22.9, 0.02},
	}
	for _, test := range tests {
		gas, err := place.NewGas(place.Part{Formula: test.formula, Share: quantity.Number(1)})
		if err != nil {
			t.Fatal(err)
		}
		viscosity, err := gas.Viscosity(quantity.Of(test.kelvin, "K"))
		if err != nil {
			t.Fatal(err)
		}
		near(t, test.formula, in(t, viscosity, "Pa·s"), test.want*1e-6, test.spread)
	}
}

// The height over which a gas thins out to 1/e, R·T/(M·g), as NASA's fact sheets
// print it (values from memory): 8.5 km on the Earth, 11.1 km on Mars.
func TestScaleHeights(t *testing.T) {
	for name, want := range map[string]float64{"Earth": 8.5, "Mars": 11.1} {
		p := placed(t, name)
		density, err := p.GasDensity(p.Mean)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "scale height of "+name, in(t, p.Pressure.Div(density.Mul(p.Gravity)), "km"), want, 0.035)
	}
}
