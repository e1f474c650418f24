package published

import (
	"testing"

	"cobber/stdlib/gravity"
	"cobber/stdlib/quantity"
)

// TestConcentrationCriterion: minerals in water beside quartz of 2.65 g/cm³, as
// texts on gravity concentration list them: cassiterite 7.0, 3.6; hematite 5.0, 2.4;
// gold 19.3, 11.1.
func TestConcentrationCriterion(t *testing.T) {
	for _, row := range []struct{ heavy, criterion float64 }{{7.0, 3.636}, {5.0, 2.424}, {4.2, 1.939}, {19.3, 11.09}} {
		c, err := gravity.Criterion(quantity.Of(row.heavy, "g/cm3"), quantity.Of(2.65, "g/cm3"), quantity.Of(1, "g/cm3"))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "criterion", in(t, c, "1"), row.criterion, 1e-3)
	}
}

// TestCutsOfEqualSettling: a separator that cuts by settling sends the grains alike
// that settle alike. J.M. Coulson, J.F. Richardson, Chemical Engineering, vol. 2,
// ex. 1.4: quartz of 65 µm and 2650 kg/m³ settles as galena of 15 µm and 7500 kg/m³
// in a fluid of 2377 kg/m³ in Stokes' range, 1195 in Newton's; D.J. Brasch, D.
// Whyman, Problems in Fluid Flow, ex. 10.3: 25 µm of 5100 as 95 µm of 2600 in 2414.
func TestCutsOfEqualSettling(t *testing.T) {
	for _, row := range []struct{ fluid, fine, heavy, coarse, light, exponent float64 }{
		{2377.19, 15, 7500, 65, 2650, 2},
		{1195.00, 15, 7500, 65, 2650, 1},
		{2413.99, 25, 5100, 95, 2600, 2},
	} {
		s := gravity.Separator{Cut: quantity.Of(row.heavy, "kg/m3"), Fluid: quantity.Of(row.fluid, "kg/m3"), Imperfection: quantity.Number(0.05),
			Size: quantity.Of(row.fine, "um"), CutExponent: quantity.Number(row.exponent), Water: quantity.Of(50, "%")}
		m, err := s.Model(quantity.Of(row.coarse, "um"))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "cut of the coarse grains", in(t, m.Cut(), "kg/m3"), row.light, 1e-4)
	}
}

// TestImperfection: Belugou's coefficient, (d75 − d25)/(2·(d50 − 1)), after E.J.
// Pryor, Mineral Processing (as quoted in the open), read off the curve.
func TestImperfection(t *testing.T) {
	s := gravity.Separator{Cut: quantity.Of(1.8, "g/cm3"), Imperfection: quantity.Number(0.16), Water: quantity.Of(10, "%")}
	m, err := s.Model(quantity.Of(10, "mm"))
	if err != nil {
		t.Fatal(err)
	}
	at := func(percent float64) float64 {
		x, err := m.At(quantity.Of(percent, "%"))
		if err != nil {
			t.Fatal(err)
		}
		return in(t, x, "g/cm3")
	}
	near(t, "imperfection", (at(75)-at(25))/(2*(at(50)-1)), 0.16, 1e-9)
}
