package mineral

import (
	"math"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

func TestOwnMinerals(t *testing.T) {
	rho := Figure{Low: quantity.Of(2.8, "g/cm3"), High: quantity.Of(2.9, "g/cm3"), Source: "pycnometer"}
	own, err := New("roasted ilmenite", "Fe2TiO5", rho)
	if err != nil || own.Density.String() != "2.8 to 2.9 g/cm³" || own.Formula.Atoms("Fe") != 2 {
		t.Errorf("%v, %v", own, err)
	}
	// A glass holds what was assayed, as a share of the total; without rounding of
	// its own where that is 100 %.
	names := []string{"SiO2", "TiO2", "Al2O3", "FeO", "MgO", "CaO", "Na2O"}
	shares := []float64{41, 9.5, 11, 19, 9, 10, 0.5}
	var assay []quantity.Quantity
	for _, x := range shares {
		assay = append(assay, quantity.Of(x, "%"))
	}
	c, err := NewComposition(names, assay)
	if err != nil {
		t.Fatal(err)
	}
	glass, err := FromAssay("glass", c, quantity.Of(0.1, "%"), rho)
	if err != nil {
		t.Fatal(err)
	}
	back, err := glass.Formula.Composition().As(names...)
	if err != nil {
		t.Fatal(err)
	}
	for i, name := range names {
		if got := back.Shares()[i].To("%").Shown(); math.Abs(got-shares[i]) > 1e-6 {
			t.Errorf("%s: %.9g %%, assayed %g", name, got, shares[i])
		}
	}
	for _, test := range []struct {
		want string
		call func() error
	}{
		{"needs a name", func() error { _, err := New(" ", "SiO2", rho); return err }},
		{"glass", func() error { _, err := New("glass", "Xx2", rho); return err }},
		{"where its density", func() error {
			_, err := New("x", "SiO2", Figure{Low: rho.Low, High: rho.High})
			return err
		}},
		{"from Low to High", func() error {
			_, err := New("x", "SiO2", Figure{Low: rho.High, High: rho.Low, Source: "x"})
			return err
		}},
		{"add up to", func() error {
			part, err := NewComposition([]string{"SiO2"}, []quantity.Quantity{quantity.Of(98, "%")})
			if err != nil {
				t.Fatal(err)
			}
			_, err = FromAssay("x", part, quantity.Of(1, "%"), rho)
			return err
		}},
	} {
		if err := test.call(); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("error %v, want one with %q", err, test.want)
		}
	}
}
