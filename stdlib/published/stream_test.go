package published

import (
	"testing"

	"cobber/stdlib/mineral"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// TestPulps recomputes per cent solids and rates from densities that were
// measured with a can and a watch.
func TestPulps(t *testing.T) {
	density := func(x float64) quantity.Quantity { return quantity.Of(x, "kg/m3") }
	tests := []struct {
		source        string
		solids, pulp  float64 // kg/m³
		litres, time  float64 // L, s; 0 if no sample was timed
		percent, rate float64 // wt%, kg/h
		tolerance     float64
	}{
		{"Examination module after B.A. Wills, ch. 3: quartz pulp, 1 L in 7 s", 2650, 1400, 1, 7, 45.9, 330.5, 1e-3},
		{"NPTEL course 113104060, lecture 12, problem 3: cyclone feed", 3000, 1140, 0, 0, 18.42, 0, 3e-3},
		{"the same: underflow, 3 L in 4 s; the text rounds on the way", 3000, 1290, 3, 4, 33.72, 1172, 3e-3},
		{"the same: overflow", 3000, 1030, 0, 0, 4.37, 0, 3e-3},
	}
	for _, test := range tests {
		share, err := stream.PulpSolids(density(test.pulp), density(test.solids), density(1000))
		if err != nil {
			t.Errorf("%s: %v", test.source, err)
			continue
		}
		near(t, test.source+": wt%", in(t, share, "wt%"), test.percent, test.tolerance)
		if test.rate > 0 {
			volume := quantity.Of(test.litres, "L").Div(quantity.Of(test.time, "s"))
			near(t, test.source+": kg/h", in(t, volume.Mul(density(test.pulp)).Mul(share), "kg/h"), test.rate, test.tolerance)
		}
		back, err := stream.PulpDensityAt(share, density(test.solids), density(1000))
		if err != nil {
			t.Fatal(err)
		}
		near(t, test.source+": density back", in(t, back, "kg/m3"), test.pulp, 1e-12)
	}
}

// TestParticleOfTwoMinerals: J.J. and C. Beringer, A Text-Book of Assaying, find the
// gangue of an ore of density 3.0 that is 27.2 % pyrite of density 5.1 to have 2.6.
func TestParticleOfTwoMinerals(t *testing.T) {
	figure := func(x float64) mineral.Figure {
		return mineral.Figure{Low: quantity.Of(x, "g/cm3"), High: quantity.Of(x, "g/cm3"), Source: "Beringer"}
	}
	pyrite, err := mineral.New("pyrite", "FeS2", figure(5.1))
	if err != nil {
		t.Fatal(err)
	}
	gangue, err := mineral.New("gangue", "SiO2", figure(2.6))
	if err != nil {
		t.Fatal(err)
	}
	ore, err := stream.Locked(pyrite, quantity.Of(27.2, "%"), gangue)
	if err != nil {
		t.Fatal(err)
	}
	density, err := ore.Density()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "density of the ore", in(t, density, "g/cm3"), 3.0, 1e-3)
}
