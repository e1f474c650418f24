package published

import (
	"testing"

	"cobber/stdlib/quantity"
	"cobber/stdlib/sampling"
)

// TestSoilSample: ITRC, Incremental Sampling Methodology (ISM-1), hyperlink 18
// (itrcweb.org): C = 22.5 g/cm³, d = 0.2 cm and s = 15 % ask for 8 g; C = 2·10⁵
// for 71 kg.
func TestSoilSample(t *testing.T) {
	for constant, kilograms := range map[float64]float64{22.5: 0.008, 2e5: 71} {
		g, err := sampling.Constant(quantity.Of(constant, "g/cm³"), quantity.Of(0.2, "cm"))
		if err != nil {
			t.Fatal(err)
		}
		mass, err := g.MinimumMass(pc(15), quantity.Quantity{})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "mass, kg", in(t, mass, "kg"), kilograms, 2e-3)
	}
}

// TestLeadOre: a lead ore of 5 % Pb (5.8 % PbS), top size 25 mm, liberated at
// 150 µm, densities 7.5 and 2.65, to be known within ± 0.1 % Pb 95 times in 100
// (B.A. Wills, Mineral Processing Technology, ch. 3; inputs also in a course's
// tutorial sheet MEAMTA2). The results, C about 1.13 g/cm³ and 177 kg, are from
// memory.
func TestLeadOre(t *testing.T) {
	ore := sampling.Material{
		TopSize: quantity.Of(25, "mm"), Grade: pc(5.8), Mineral: quantity.Of(7.5, "g/cm³"),
		Gangue: quantity.Of(2.65, "g/cm³"), Liberation: quantity.Of(150, "µm"),
	}
	g, err := ore.Gy()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "C, g/cm³", in(t, g.Constant(), "g/cm³"), 1.135, 5e-3)
	mass, err := g.MinimumMass(pc(1), quantity.Quantity{}) // 2 s = 0.1/5
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mass, kg", in(t, mass, "kg"), 177, 5e-3)
}
