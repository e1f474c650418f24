package published

import (
	"testing"

	"cobber/stdlib/quantity"
	"cobber/stdlib/settling"
)

func fluid(density, viscosity float64) settling.Fluid {
	return settling.Fluid{Density: quantity.Of(density, "kg/m³"), Viscosity: quantity.Of(viscosity, "Pa·s")}
}

func grainOf(metres, density float64) settling.Particle {
	return settling.Particle{Size: quantity.Of(metres, "m"), Density: quantity.Of(density, "kg/m³")}
}

// TestDragCoefficient: A. Haider, O. Levenspiel, Powder Technol. 58 (1989) 63, as
// computed in the tests of the open library fluids (1.3.1) for Re = 200.
func TestDragCoefficient(t *testing.T) {
	cd, err := settling.Drag(settling.HaiderLevenspiel, quantity.Number(200), quantity.Number(1))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "Cd at Re = 200", in(t, cd, "1"), 0.7959551680251666, 1e-12)
}

func TestTerminalVelocities(t *testing.T) {
	tests := []struct {
		source           string
		size, density    float64 // m, kg/m³
		f                settling.Fluid
		g                float64
		law              settling.Law
		velocity, spread float64 // m/s, relative
	}{
		{"A. Rushton, A.S. Ward, R.G. Holdich, Solid-Liquid Filtration and Separation Technology (1996): 70 µm of 2600 kg/m³ in water, 0.00406 m/s by their own law",
			70e-6, 2600, fluid(1000, 1e-3), 9.81, settling.HaiderLevenspiel, 0.00406, 0.03},
		{"the same, by Schiller and Naumann", 70e-6, 2600, fluid(1000, 1e-3), 9.81, settling.SchillerNaumann, 0.00406, 0.015},
		{"the same book: 50 µm of 2800 kg/m³, 0.002453 m/s by Stokes", 50e-6, 2800, fluid(1000, 1e-3), 9.81, settling.Stokes, 0.002453, 5e-4},
		{"GPSA Engineering Data Book, 13th ed., example 7-1: a drop of 150 µm, 31.2 lb/ft³ in a gas of 2.07 lb/ft³ and 0.012 cP, 0.46 ft/s",
			150e-6, 31.2 * 16.018463, fluid(2.07*16.018463, 1.2e-5), 9.80665, settling.SchillerNaumann, 0.46 * 0.3048, 0.01},
		{"C.J. Geankoplis, Transport Processes and Unit Operations, example 14.3-1: a drop of oil of 20 µm in air, 0.0103 m/s",
			20e-6, 900, fluid(1.137, 1.9e-5), 9.80665, settling.Stokes, 0.0103, 2e-3},
		{"Y.A. Çengel, J.M. Cimbala, Fluid Mechanics, example 10-2: volcanic ash of 50 µm at 55 kPa and −50 °C (0.8588 kg/m³ follows), 0.115 m/s (result from memory)",
			50e-6, 1240, fluid(0.8588, 1.474e-5), 9.81, settling.Stokes, 0.115, 5e-3},
		{"J.P. Abulencia, L. Theodore, Fluid Flow for the Practicing Chemical Engineer, example 23.8: a ball of 6 mm and 2897.19 kg/m³ in oil, 0.042 m/s",
			6e-3, 2897.19, fluid(970, 0.9), 9.81, settling.Stokes, 0.042, 1e-3},
	}
	for _, test := range tests {
		fall, err := settling.Terminal(grainOf(test.size, test.density), test.f, quantity.Of(test.g, "m/s²"), test.law)
		if err != nil {
			t.Errorf("%s: %v", test.source, err)
			continue
		}
		near(t, test.source, in(t, fall.Velocity, "m/s"), test.velocity, test.spread)
	}
}

// TestHinderedVelocity: Geankoplis, example 14.3-2: spheres of 0.1554 mm and
// 2467 kg/m³ in water of 998 kg/m³ and 1.005 mPa·s, 60 % solids by mass; voids
// 0.622, factor 0.205, 1.53 mm/s.
func TestHinderedVelocity(t *testing.T) {
	voids := (40.0 / 998) / (40.0/998 + 60.0/2467)
	near(t, "voids", voids, 0.622, 1e-3)
	// The book's velocity of one alone is Stokes', though Re is then above 1.
	d := 0.1554e-3
	stokes := quantity.Of(9.807*d*d*(2467-998)/(18*1.005e-3), "m/s")
	v, err := settling.Steinour(stokes, quantity.Of(100*(1-voids), "%"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "velocity, m/s", in(t, v, "m/s"), 1.53e-3, 2e-3)
}

// TestFluidisedBed: J.M. Coulson, J.F. Richardson, Chemical Engineering, vol. 2,
// example 6.3: glass of 4 mm and 2500 kg/m³ in water; Ga = 9.42·10⁵, n = 2.42,
// and at 0.25 m/s against 0.45 m/s the voids are 0.784.
func TestFluidisedBed(t *testing.T) {
	fall, err := settling.Terminal(grainOf(4e-3, 2500), fluid(1000, 1e-3), quantity.Of(9.81, "m/s²"), settling.HaiderLevenspiel)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "Ga", in(t, fall.Galileo, "1"), 9.42e5, 1e-3)
	near(t, "u0, m/s", in(t, fall.Velocity, "m/s"), 0.45, 0.03) // the book's own law
	n, err := settling.Exponent(fall.Galileo)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "n", in(t, n, "1"), 2.42, 2e-3)
	solids, err := settling.SolidsAt(quantity.Of(0.25, "m/s"), quantity.Of(0.45, "m/s"), n)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "voids", 1-in(t, solids, "1"), 0.784, 2e-3)
}

// TestMaximumFlux: Coulson and Richardson, vol. 2, example 5.3: spheres of 0.1 mm
// and 2600 kg/m³ in water, exponent 4.8: 0.00872 m/s, C = 0.172, 6.06·10⁻⁴ m/s.
// The book's velocity is Stokes'.
func TestMaximumFlux(t *testing.T) {
	c, flux, err := settling.MaximumFlux(quantity.Of(0.00872, "m/s"), quantity.Number(4.8))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "C", in(t, c, "1"), 0.172, 3e-3)
	near(t, "flux, m/s", in(t, flux, "m/s"), 6.06e-4, 2e-3)
}

// TestSharpSeparation: quartz of 2650 and galena of 7500 kg/m³, 15 to 65 µm, part
// in a fluid of 2377 kg/m³ by Stokes and 1195 by Newton (Coulson and Richardson,
// vol. 2, example 1.4); 95 µm of 2600 and 25 µm of 5100 in one of 2413.99
// (D.J. Brasch, D. Whyman, Problems in Fluid Flow, example 10.3).
func TestSharpSeparation(t *testing.T) {
	for _, test := range []struct {
		light, heavy settling.Particle
		law          settling.Law
		want, spread float64
	}{
		{grainOf(65e-6, 2650), grainOf(15e-6, 7500), settling.Stokes, 2377, 1e-3},
		{grainOf(65e-6, 2650), grainOf(15e-6, 7500), settling.Newton, 1195, 1e-3},
		{grainOf(95e-6, 2600), grainOf(25e-6, 5100), settling.Stokes, 2413.99, 1e-5},
	} {
		got, err := settling.SharpDensity(test.light, test.heavy, test.law)
		if err != nil {
			t.Fatal(err)
		}
		near(t, test.law.String(), in(t, got, "kg/m³"), test.want, test.spread)
	}
}

// TestCriterion: cassiterite of 6.8 g/cm³ and quartz of 2.65 in water, 3.5 and so
// easy (B.A. Wills, Mineral Processing Technology, ch. 10, from memory).
func TestCriterion(t *testing.T) {
	cc, err := settling.Criterion(quantity.Of(6.8, "g/cm³"), quantity.Of(2.65, "g/cm³"), quantity.Of(1, "g/cm³"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "criterion", in(t, cc, "1"), 3.5, 5e-3)
}

// TestThickenerByLayers: Coulson and Richardson, vol. 2, example 5.1: water to
// solids 5, 4.2, 3.7, 3.1, 2.5 by mass, underflow 1.5, solids 1.33 kg/s; largest
// (Y − U)/v 23 400 s/m and 31.2 m². The density of the solids cancels.
func TestThickenerByLayers(t *testing.T) {
	concentration := func(waterToSolids float64) quantity.Quantity {
		return quantity.Of(1/(1/2500.0+waterToSolids/1000), "kg/m³")
	}
	var layers []settling.Layer
	velocities := []float64{2, 1.2, 0.94, 0.7, 0.5}
	for i, y := range []float64{5, 4.2, 3.7, 3.1, 2.5} {
		layers = append(layers, settling.Layer{Solids: concentration(y), Velocity: quantity.Of(velocities[i]*1e-4, "m/s")})
	}
	thickener, err := settling.Thicken(layers, concentration(1.5))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "(Y − U)/v, s/m", 1000*in(t, thickener.UnitArea(), "m²·s/kg"), 23400, 1e-3)
	area, err := settling.Thicken(layers, concentration(1.5))
	if err != nil {
		t.Fatal(err)
	}
	square, err := area.Area(quantity.Of(1.33, "kg/s"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "area, m²", in(t, square, "m²"), 31.2, 5e-3)
}

// TestThickenerByKynch: the same book, example 5.2: the tangents of a jar test of
// 900 mm and 200 kg/m³ give heights and velocities; underflow 1200 kg/m³, feed
// 2 m³/min; largest (1/c − 1/cu)/v 30.3 m²·s/kg and 202 m².
func TestThickenerByKynch(t *testing.T) {
	heights := []float64{900, 800, 700, 600, 500, 400, 300, 260, 250, 220, 200, 180}
	velocities := []float64{13.4, 10.76, 8.6, 6.6, 4.9, 3.2, 1.8, 1.21, 1.11, 0.80, 0.60, 0.40} // mm/min
	var layers []settling.Layer
	for i, h := range heights {
		layers = append(layers, settling.Layer{Solids: quantity.Of(200*900/h, "kg/m³"), Velocity: quantity.Of(velocities[i], "mm/min")})
	}
	thickener, err := settling.Thicken(layers, quantity.Of(1200, "kg/m³"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "unit area, m²·s/kg", in(t, thickener.UnitArea(), "m²·s/kg"), 30.3, 1e-3)
	solids := quantity.Of(2, "m³/min").Mul(quantity.Of(200, "kg/m³"))
	area, err := thickener.Area(solids)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "area, m²", in(t, area, "m²"), 202, 1e-3)
}
