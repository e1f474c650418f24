package published

import (
	"math"
	"testing"

	"cobber/stdlib/magnetic"
	"cobber/stdlib/mineral"
	"cobber/stdlib/quantity"
)

// TestDemagnetisingFactors: J.A. Osborn and E.C. Stoner (1945), tables as in R.M.
// Bozorth, Ferromagnetism (1951); values from memory.
func TestDemagnetisingFactors(t *testing.T) {
	for _, row := range []struct{ aspect, factor, tolerance float64 }{
		{2, 0.1735, 5e-4}, {5, 0.0558, 5e-4}, {10, 0.0203, 1e-3}, {20, 0.00675, 1e-3}, {50, 0.00144, 3e-3}, {100, 0.000430, 2e-3},
		{1 / 2.0, 0.5272, 1e-4}, {1 / 5.0, 0.7505, 1e-4}, {1 / 10.0, 0.8608, 1e-4}, {1 / 50.0, 0.9694, 1e-4},
	} {
		along, _, err := magnetic.Demagnetising(quantity.Number(row.aspect))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "demagnetising factor", in(t, along, "1"), row.factor, row.tolerance)
	}
}

// TestSaturations holds the table of saturations to figures of other kinds.
func TestSaturations(t *testing.T) {
	for _, row := range []struct {
		source, name    string
		perMass, perVol float64 // A·m²/kg, kA/m
		tolerance       float64
	}{
		{"glossary of rock magnetism after Dunlop and Özdemir: magnetite 92 A·m²/kg beside 480 kA/m", "magnetite", 92, 480, 0.01},
		{"Armco iron, 2.12 T at saturation", "iron", math.NaN(), 2.12 / (4e-4 * math.Pi), 0.02},
		{"iron at 0 K, 1740 emu/cm³; it falls by 1.5 % to room temperature (from memory)", "iron", math.NaN(), 1740 * 0.985, 0.005},
		{"W.D. Callister, Materials Science and Engineering, ex. 18.1: nickel 5.1·10⁵ A/m", "nickel", math.NaN(), 510, 0.01},
		{"the same, ex. 18.2: magnetite 5.0·10⁵ A/m from its unit cell (from memory)", "magnetite", math.NaN(), 500, 0.05},
	} {
		m, err := magnetic.Find(row.name)
		if row.name == "nickel" {
			heavy := quantity.Of(8.9, "g/cm3")
			m, err = magnetic.OfMineral(mineral.Mineral{Name: "nickel", Density: mineral.Figure{Low: heavy, High: heavy, Source: "Callister"}})
		}
		if err != nil {
			t.Fatal(err)
		}
		near(t, row.source, in(t, m.Saturation, "kA/m"), row.perVol, row.tolerance)
		if !math.IsNaN(row.perMass) {
			g := magnetic.Grain{Materials: []magnetic.Material{m}}
			moment, err := g.Moment(quantity.Of(1e9, "A/m"))
			if err != nil {
				t.Fatal(err)
			}
			near(t, row.source, in(t, moment, "emu/g"), row.perMass, row.tolerance)
		}
	}
}

// TestForceOnABall: I.E. Irodov, Problems in General Physics: a ball of 41 mm³ in
// B₀·exp(−a·x²) with 1.50 T and 100 m⁻² is pulled hardest, 160 µN, at 1/√(4a), and
// its susceptibility is 3.6·10⁻⁴.
func TestForceOnABall(t *testing.T) {
	slope := func(x float64) float64 { return 1.5 * 1.5 * 4 * 100 * x * math.Exp(-2*100*x*x) }
	force, err := magnetic.Force(quantity.Of(41, "mm3"), quantity.Number(3.6e-4), quantity.Of(slope(0.05), "T2/m"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "greatest force, N", in(t, force, "N"), 160e-6, 0.01)
	for _, x := range []float64{0.045, 0.055} {
		if slope(x) > slope(0.05) {
			t.Errorf("the force at %g m is greater than at 0.05 m", x)
		}
	}
	// The same ball as a grain, by its mass.
	g := magnetic.Grain{Materials: []magnetic.Material{{Name: "ball", Density: quantity.Of(3000, "kg/m3"), Susceptibility: quantity.Number(3.6e-4)}}}
	b := 1.5 * math.Exp(-100*0.05*0.05)
	pull, err := g.Pull(quantity.Of(b, "T"), quantity.Of(2*100*0.05*b, "T/m"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "force on the grain, N", in(t, pull, "N/kg")*3000*41e-9, 160e-6, 0.01)
}

// TestMagnetisationInAField: M. Arumugam, Applied Physics, ch. 5: χ = 0.5·10⁻⁵ in
// 10⁶ A/m gives 5.0 A/m and 1.257 T.
func TestMagnetisationInAField(t *testing.T) {
	m := magnetic.Material{Name: "sample", Density: quantity.Of(1, "g/cm3"), Susceptibility: quantity.Number(0.5e-5)}
	got, err := m.Magnetisation(quantity.Of(1e6, "A/m"), quantity.Quantity{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "M, A/m", in(t, got, "A/m"), 5.0, 1e-9)
	near(t, "B, T", 4e-7*math.Pi*(1e6+in(t, got, "A/m")), 1.257, 1e-3)
}

// TestCurie: P.K. Palanisamy, Solid State Physics, ch. 8: 2.8·10⁻⁴ at 350 K is
// 3.267·10⁻⁴ at 300 K.
func TestCurie(t *testing.T) {
	m := magnetic.Material{Name: "salt", Susceptibility: quantity.Number(2.8e-4)}
	cold, err := m.AtTemperature(quantity.Of(350, "K"), quantity.Of(300, "K"), quantity.Quantity{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "susceptibility at 300 K", in(t, cold.Susceptibility, "1"), 3.267e-4, 1e-3)
}

// TestShapeAndMixtureLimits: a ball shows at most 3, whatever its susceptibility;
// a mixture with perfect inclusions has (1 + 2f)/(1 − f) and one with holes
// (1 − f)/(1 + f/2), the limits of Maxwell Garnett's formula that texts on
// composites give.
func TestShapeAndMixtureLimits(t *testing.T) {
	ball := magnetic.Material{Name: "ball", Density: quantity.Of(1, "g/cm3"), Susceptibility: quantity.Number(1e9)}
	apparent, err := ball.Apparent(quantity.Number(1.0 / 3))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "apparent susceptibility of a ball", in(t, apparent, "1"), 3, 1e-8)
	for _, f := range []float64{0.1, 0.3} {
		perfect, err := magnetic.MaxwellGarnett(quantity.Number(1), quantity.Number(1e12), quantity.Number(f))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "perfect inclusions", in(t, perfect, "1"), (1+2*f)/(1-f), 1e-9)
		holes, err := magnetic.MaxwellGarnett(quantity.Number(1e12), quantity.Number(1), quantity.Number(f))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "holes", in(t, holes, "1")/1e12, (1-f)/(1+f/2), 1e-9)
	}
}

// TestDecayOfAlternatingPoles: Sci. Rep. 15 (2025), s41598-025-32086-8, table 1: an
// array of 50.80 mm period has k = 123.6848 m⁻¹. It measured 28 to 38 % less.
func TestDecayOfAlternatingPoles(t *testing.T) {
	f := magnetic.Field{Surface: quantity.Of(1, "T"), Pitch: quantity.Of(25.40, "mm")}
	at, err := f.At(quantity.Of(10, "mm"), quantity.Quantity{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "decay, 1/m", -math.Log(in(t, at, "T"))/0.010, 123.6848, 1e-6)
}

// TestCoarseGrainsLeaveARollEarlier: S.K. Tripathy, N. Suresh, Influence of particle
// size on dry high-intensity magnetic separation of paramagnetic mineral, Adv.
// Powder Technol. (2017), abstract: of garnet, the coarser grains gather in the
// non-magnetic product of a roll, the finer ones in the magnetic one. A roll of such
// a size, with figures of our own; garnet as in the table of minerals.
func TestCoarseGrainsLeaveARollEarlier(t *testing.T) {
	garnet, err := magnetic.Find("garnet")
	if err != nil {
		t.Fatal(err)
	}
	roll := magnetic.Drum{Radius: quantity.Of(5, "cm"), Speed: quantity.Of(240, "rpm"), Width: quantity.Of(0.1, "m"), Splitter: quantity.Of(100, "deg"),
		Field: magnetic.Field{Surface: quantity.Of(0.4, "T"), Pitch: quantity.Of(6, "mm")}, Scatter: quantity.Number(0.4)}
	last, first := 2.0, 0.0
	for _, size := range []float64{100, 250, 500, 1000, 2000} {
		share, err := roll.Share(magnetic.Grain{Materials: []magnetic.Material{garnet}}, quantity.Of(size, "um"), quantity.Quantity{})
		if err != nil {
			t.Fatal(err)
		}
		x := in(t, share, "1")
		if !(x <= last) {
			t.Errorf("%g µm: %g with the magnetics, of finer ones %g", size, x, last)
		}
		if last == 2 {
			first = x
		}
		last = x
	}
	if !(first > 0.6 && last < 0.4) {
		t.Errorf("the case says nothing: %g of the finest, %g of the coarsest", first, last)
	}
}

// TestTubeTestArithmetic: magnetic separation of a roasted limonite ore: 61.31 % of
// the mass with 50.78 % Fe from 38.12 %, with 81.67 % of the iron; the rest has
// 18.06 % (results table of a published test, seen at second hand).
func TestTubeTestArithmetic(t *testing.T) {
	test, err := magnetic.NewTest(quantity.Of(100, "g"), quantity.Of(38.1206, "%"), quantity.Of(61.31, "g"), quantity.Of(50.78, "%"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "yield", in(t, test.Yield, "%"), 61.31, 1e-9)
	near(t, "recovery", in(t, test.Recovery, "%"), 81.67, 1e-4)
	near(t, "grade of the rest", in(t, test.Remainder, "%"), 18.06, 2e-4)
}
