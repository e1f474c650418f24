package mineral

import (
	"math"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

func find(t *testing.T, name string) Mineral {
	t.Helper()
	m, err := Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func between(t *testing.T, name, first, second string, percent float64) Mineral {
	t.Helper()
	m, err := Solution(name, End{find(t, first), quantity.Of(percent, "mol%")}, End{find(t, second), quantity.Of(100-percent, "%")})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Olivine of 80 % forsterite, Mg1.6Fe0.4SiO4, as a public mineral database prints it:
// molar mass 153.31 g/mol, 42.06 % MgO, 18.75 % FeO, 39.19 % SiO2 (webmineral.com,
// from memory).
func TestOlivineHasItsPrintedComposition(t *testing.T) {
	olivine := between(t, "olivine Fo80", "forsterite", "fayalite", 80)
	if got := olivine.Formula.MolarMass().Shown(); math.Abs(got-153.31) > 0.005 {
		t.Errorf("molar mass %.3f g/mol, printed 153.31", got)
	}
	oxides, err := olivine.Formula.Composition().As("MgO", "FeO", "SiO2")
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{42.06, 18.75, 39.19} {
		if got := oxides.Shares()[i].To("%").Shown(); math.Abs(got-want) > 0.006 {
			t.Errorf("%s: %.3f %%, printed %.2f", oxides.Names()[i], got, want)
		}
	}
	same, err := ParseFormula("(Mg0.8Fe0.2)2SiO4")
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(same.MolarMass().Shown()-olivine.Formula.MolarMass().Shown()) > 1e-9 || olivine.Formula.String() != "Mg1.6SiFe0.4O4" {
		t.Errorf("formula %s", olivine.Formula)
	}
}

// Measured densities of the plagioclases from the Handbook of Mineralogy (from
// memory): oligoclase 2.63–2.66, andesine 2.66–2.68, labradorite 2.69–2.72. That of
// olivine, 3.22 to 4.39 g/cm³, rises almost straight with its iron (Deer, Howie,
// Zussman, from memory).
func TestSolutionsLieBetweenTheirEnds(t *testing.T) {
	for _, test := range []struct {
		name      string
		anorthite float64
		low, high float64
	}{{"oligoclase", 20, 2.63, 2.66}, {"andesine", 40, 2.66, 2.68}, {"labradorite", 60, 2.69, 2.72}} {
		m := between(t, test.name, "anorthite", "albite", test.anorthite)
		low, high := m.Density.Low.Shown(), m.Density.High.Shown()
		if high < test.low || low > test.high {
			t.Errorf("%s: %v, measured %.2f to %.2f g/cm³", test.name, m.Density, test.low, test.high)
		}
	}
	last := 0.0
	for x := 100.0; x >= 0; x -= 10 {
		m := between(t, "olivine", "forsterite", "fayalite", x)
		density := m.Density.Low.Shown()
		straight := 3.222 + (4.392-3.222)*(1-x/100)
		if density <= last || math.Abs(density/straight-1) > 0.01 {
			t.Errorf("Fo%.0f: %.4f g/cm³ after %.4f; the straight line has %.4f", x, density, last, straight)
		}
		last = density
	}
	fo := between(t, "olivine", "forsterite", "fayalite", 90)
	k := fo.Susceptibility
	if !k.Known() || k.Low.SI() < 0 || k.High.SI() > 5500e-6 || fo.Magnetism.Class != "paramagnetic" || !fo.Hardness.Spread() {
		t.Errorf("%v", fo)
	}
	if odd := between(t, "odd", "rutile", "hematite", 50); odd.Formula.Atoms("O") != 2.5 {
		t.Errorf("half rutile, half hematite: %s", odd.Formula)
	}
	if ends := between(t, "titanomagnetite", "magnetite", "ulvöspinel", 50); ends.Susceptibility.Known() || ends.Magnetism.Class != "" {
		t.Errorf("an ordered end-member was taken for a weak one: %v", ends)
	}
}

func TestSolutionsRefuseBadData(t *testing.T) {
	fo, fa := find(t, "forsterite"), find(t, "fayalite")
	half := quantity.Of(50, "%")
	for _, test := range []struct {
		want string
		name string
		ends []End
	}{
		{"at least two", "x", []End{{fo, half}}}, {"needs a name", " ", []End{{fo, half}, {fa, half}}},
		{"given twice", "x", []End{{fo, half}, {fo, half}}}, {"add up to 90", "x", []End{{fo, half}, {fa, quantity.Of(40, "%")}}},
		{"mole fraction", "x", []End{{fo, quantity.Of(50, "wt%")}, {fa, half}}}, {"mole fraction", "x", []End{{fo, quantity.Of(-50, "%")}, {fa, half}}},
	} {
		if _, err := Solution(test.name, test.ends...); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("error %v, want one with %q", err, test.want)
		}
	}
}
