package published

import (
	"math"
	"testing"

	"cobber/stdlib/classification"
	"cobber/stdlib/quantity"
)

// TestArterburn: R.A. Arterburn, The sizing and selection of hydrocyclones, worked
// example (from memory; inputs and results close on each other): 250 t/h of solids of
// 2.9 with a circulating load of 225 %, overflow of 40 % solids with 60 % finer than
// 74 µm, underflow of 75 %, 50 kPa: factors 4.09, 1.1, 0.93, a base cut of 37 µm and
// 49 cm, a cyclone of 20 inches.
func TestArterburn(t *testing.T) {
	overflow, underflow := 250.0, 562.5
	solids := (overflow + underflow) / 2.9
	water := overflow*60/40 + underflow*25/75
	d := classification.Duty{Solids: quantity.Number(solids / (solids + water)), Pressure: quantity.Of(50, "kPa"), Density: quantity.Of(2.9, "g/cm3")}
	c, err := d.Corrections()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "correction for solids", in(t, c.Solids, "1"), 4.09, 0.005)
	near(t, "correction for pressure", in(t, c.Pressure, "1"), 1.1, 0.01)
	near(t, "correction for density", in(t, c.Density, "1"), 0.93, 0.005)
	cut, err := classification.CutForOverflow(quantity.Of(74, "um"), quantity.Of(60, "%"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "base cut, µm", in(t, cut, "um")/in(t, c.Solids, "1")/in(t, c.Pressure, "1")/in(t, c.Density, "1"), 37, 0.01)
	diameter, err := d.Diameter(cut)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "diameter, cm", in(t, diameter, "cm"), 49, 0.015)
}

// TestTwoModelsOfHydrocyclones: at Arterburn's base conditions (cyclones of usual
// proportions, water with 1 % of solids of 2.65, 10 psi) Plitt's equations, fitted to
// other tests, give a cut within a third of Arterburn's.
func TestTwoModelsOfHydrocyclones(t *testing.T) {
	for _, d := range []float64{25, 38, 51} {
		duty := classification.Duty{Solids: quantity.Of(1, "%"), Pressure: quantity.Of(69, "kPa"), Density: quantity.Of(2.65, "g/cm3")}
		want, err := duty.Cut(quantity.Of(d, "cm"))
		if err != nil {
			t.Fatal(err)
		}
		h := classification.Hydrocyclone{Diameter: quantity.Of(d, "cm"), Inlet: quantity.Of(d*math.Sqrt(0.05*4/math.Pi), "cm"),
			VortexFinder: quantity.Of(0.35*d, "cm"), Apex: quantity.Of(0.2*d, "cm"), Height: quantity.Of(3*d, "cm")}
		run := func(litres float64) classification.Working {
			w, err := h.Run(quantity.Of(litres, "L/min"), quantity.Of(1, "%"), quantity.Of(2.65, "g/cm3"), quantity.Of(2.65, "g/cm3"))
			if err != nil {
				t.Fatal(err)
			}
			return w
		}
		litres := 1000 * math.Pow(69/in(t, run(1000).Pressure, "kPa"), 1/1.78)
		w := run(litres)
		near(t, "pressure, kPa", in(t, w.Pressure, "kPa"), 69, 1e-9)
		near(t, "cut, µm", in(t, w.Cut, "um"), in(t, want, "um"), 1.0/3)
	}
}

// TestGasCyclone: M. Rhodes, Introduction to Particle Technology, 2nd ed., worked
// example 9.1 (from memory; inputs and results close on each other): 2 m³/s of air of
// 1.2 kg/m³ and 18.25 µPa·s, grains of 1000 kg/m³, Stairmand's high-efficiency design
// at 100 m of gas: 1177 Pa, 2.476 m/s, 1.014 m and 4.34 µm.
func TestGasCyclone(t *testing.T) {
	g := classification.GasCyclone{Diameter: quantity.Of(1.014, "m"), Stokes: quantity.Number(1.4e-4), Euler: quantity.Number(320),
		Gas: quantity.Of(2, "m3/s"), Density: quantity.Of(1.2, "kg/m3"), Viscosity: quantity.Of(18.25e-6, "Pa s")}
	drop, err := g.Drop()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "drop, Pa", in(t, drop, "Pa"), 1177, 2e-3)
	cut, err := g.Cut(quantity.Of(1000, "kg/m3"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "cut, µm", in(t, cut, "um"), 4.34, 1e-3)
}

// TestElutriation: A. Rushton, A.S. Ward, R.G. Holdich, Solid-Liquid Filtration and
// Separation Technology (1996): grains of 50 µm and 2800 kg/m³ fall at 2.453 mm/s in
// water of 1000 kg/m³ and 1 mPa·s by Stokes; a current of that speed holds them.
// The drag here is Schiller's and Naumann's, which is 4 % above Stokes' there.
func TestElutriation(t *testing.T) {
	a := classification.AirClassifier{Velocity: quantity.Of(2.453, "mm/s"), Gravity: quantity.Of(9.81, "m/s2"), Density: quantity.Of(1000, "kg/m3"), Viscosity: quantity.Of(1e-3, "Pa s")}
	cut, err := a.Cut(quantity.Of(2800, "kg/m3"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "cut, µm", in(t, cut, "um"), 50, 0.025)
}
