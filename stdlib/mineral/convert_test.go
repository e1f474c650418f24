package mineral

import (
	"math"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

// Conversion factors that assayers' and geochemists' tables print to four
// decimals (values from memory): 1.4297 Fe to Fe2O3, 1.1113 FeO to Fe2O3, 2.2914
// P to P2O5, 1.2912 Mn to MnO, 1.8895 Al to
// Al2O3, 1.3992 Ca to CaO, 2.1393 Si to SiO2, 1.2046 K to K2O, 1.1547 Pb to PbS.
func TestFactors(t *testing.T) {
	tests := []struct {
		from, to string
		want     float64
	}{
		{"Fe", "Fe2O3", 1.4297}, {"FeO", "Fe2O3", 1.1113}, {"P", "P2O5", 2.2914}, {"Mn", "MnO", 1.2912},
		{"Al", "Al2O3", 1.8895}, {"Ca", "CaO", 1.3992}, {"Si", "SiO2", 2.1393}, {"K", "K2O", 1.2046},
		{"Pb", "galena", 1.1547}, {"Fe", "Fe3O4", 1.3820}, {"CaO", "CaCO3", 1.7848}, {"H2O", "H2", 0.1119},
	}
	for _, test := range tests {
		got, err := Factor(test.from, test.to)
		if err != nil {
			t.Error(err)
			continue
		}
		near(t, test.from+" to "+test.to, value(t, got, "1"), test.want, 1e-4)
		back, err := Factor(test.to, test.from)
		if err != nil {
			t.Error(err)
			continue
		}
		near(t, "there and back", value(t, got.Mul(back), "1"), 1, 1e-14)
	}
	titania, err := FactorBy("Ti", "ilmenite", "TiO2")
	if err != nil {
		t.Fatal(err)
	}
	near(t, "TiO2 of ilmenite", value(t, titania, "1"), 0.5264355, 1e-6) // 52.6 % in encyclopaedias
	iron, err := FactorBy("Fe", "FeTiO3", "FeO")
	if err != nil {
		t.Fatal(err)
	}
	near(t, "FeO and TiO2 make ilmenite", value(t, iron.Add(titania), "1"), 1, 1e-14)
}

func TestFactorsRefused(t *testing.T) {
	for _, test := range []struct{ from, to, want string }{
		{"FeS2", "CuFeS2", "FactorBy"}, {"NaCl", "Fe2O3", "share no element"}, {"Fe2o3", "Fe", "symbol begins with a capital"},
		{"ilmenit", "Fe", "ilmenite"},
	} {
		if _, err := Factor(test.from, test.to); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s to %s: error %v, want one with %q", test.from, test.to, err, test.want)
		}
	}
	if _, err := FactorBy("Cu", "FeS2", "CuFeS2"); err == nil || !strings.Contains(err.Error(), "no Cu in FeS2") {
		t.Errorf("error %v", err)
	}
}

// The ilmenite that a lunar soil could hold at most, from its 7.8 % TiO2 (soil
// of Apollo 11, Lunar Sourcebook table 7.15): 14.8 % by mass.
func TestConvert(t *testing.T) {
	ilmenite, err := Convert(quantity.Of(7.8, "%"), "TiO2", "FeTiO3")
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ilmenite, %", value(t, ilmenite, "%"), 14.817, 1e-4)
	grams, err := Convert(quantity.Of(500, "g/t"), "Pb", "PbS")
	if err != nil || grams.Unit().String() != "g/t" {
		t.Errorf("%v (%v)", grams, err)
	}
	spread := quantity.Must(quantity.PlusMinus(quantity.Of(7.8, "%"), quantity.Of(0.2, "%"), 0.95))
	uncertain, err := Convert(spread, "TiO2", "FeTiO3")
	if err != nil || !uncertain.IsUncertain() {
		t.Fatalf("%v (%v)", uncertain, err)
	}
	near(t, "relative deviation", value(t, uncertain.StdDev().Div(uncertain.Certain()), "1"), value(t, spread.StdDev().Div(spread.Certain()), "1"), 1e-9)
	for _, test := range []struct {
		share quantity.Quantity
		want  string
	}{
		{quantity.Of(80, "%"), "not all of it can be in that form"}, {quantity.Of(5, "vol%"), "share of mass"},
		{quantity.Of(5, "t"), "share of mass"}, {quantity.Of(-1, "%"), "between 0 and 100"}, {quantity.Of(math.NaN(), "%"), "not a number"},
	} {
		if _, err := Convert(test.share, "Fe", "Fe2O3"); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%v: error %v, want one with %q", test.share, err, test.want)
		}
	}
}

func TestOxidesToElementsAndBack(t *testing.T) {
	// Soil of Apollo 11 (Lunar Sourcebook table 7.15), without its minor oxides.
	oxides := []string{"SiO2", "TiO2", "Al2O3", "FeO", "MgO", "CaO"}
	soil, err := NewComposition(oxides, of("%", 42.2, 7.8, 13.6, 15.3, 7.8, 11.9))
	if err != nil {
		t.Fatal(err)
	}
	elements, err := soil.Elements()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "total kept", value(t, elements.Total(), "%"), value(t, soil.Total(), "%"), 1e-14)
	oxygen, err := elements.Share("O")
	if err != nil {
		t.Fatal(err)
	}
	if share := value(t, oxygen, "%"); share < 40 || share > 43 { // lunar mare soils hold 41 to 42 % oxygen
		t.Errorf("oxygen %v %%", share)
	}
	back, err := elements.As(oxides...)
	if err != nil {
		t.Fatal(err)
	}
	for i := range oxides {
		near(t, oxides[i], value(t, back.Shares()[i], "%"), value(t, soil.Shares()[i], "%"), 1e-13)
	}
	ferric, err := soil.As("SiO2", "TiO2", "Al2O3", "Fe2O3", "MgO", "CaO")
	if err != nil {
		t.Fatal(err)
	}
	near(t, "Fe2O3", value(t, ferric.Shares()[3], "%"), 15.3*1.1113454, 1e-6)
	for _, test := range []struct {
		as   []string
		want string
	}{
		{oxides[1:], "Si is in none"}, {append([]string{"Fe2O3"}, oxides...), "Fe stands in two"},
		{append([]string{"FeTiO3"}, oxides...), "must stand for one element"}, {[]string{"Xx"}, "no element"},
	} {
		if _, err := soil.As(test.as...); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%v: error %v, want one with %q", test.as, err, test.want)
		}
	}
}

func TestCompositionRefusesAndCloses(t *testing.T) {
	for _, test := range []struct {
		names  []string
		shares []quantity.Quantity
		want   string
	}{
		{nil, nil, "a share for each name"}, {[]string{"Fe"}, nil, "1 names and 0 shares"},
		{[]string{"Fe", "Fe"}, of("%", 1, 2), "a name of its own"}, {[]string{" "}, of("%", 1), "a name of its own"},
		{[]string{"Fe"}, of("%", -0.1), "between 0 and 100"}, {[]string{"Fe"}, of("%", 101), "between 0 and 100"},
		{[]string{"Fe"}, of("vol%", 5), "share of mass"}, {[]string{"Fe"}, of("mol%", 5), "share of mass"},
		{[]string{"Fe"}, of("kg", 5), "share of mass"}, {[]string{"Fe"}, of("%", math.NaN()), "leave out what was not assayed"},
	} {
		if _, err := NewComposition(test.names, test.shares); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%v %v: error %v, want one with %q", test.names, test.shares, err, test.want)
		}
	}
	c, err := NewComposition([]string{"SiO2", "FeO"}, of("%", 60, 38))
	if err != nil {
		t.Fatal(err)
	}
	if err := c.CheckTotal(quantity.Of(2, "%")); err != nil {
		t.Error(err)
	}
	if err := c.CheckTotal(quantity.Of(1.9, "%")); err == nil || !strings.Contains(err.Error(), "98 %") {
		t.Errorf("error %v", err)
	}
	if err := c.CheckTotal(quantity.Of(1, "vol%")); err == nil {
		t.Error("a tolerance by volume is taken")
	}
	if _, err := c.Share("MgO"); err == nil || !strings.Contains(err.Error(), "SiO2, FeO") {
		t.Errorf("error %v", err)
	}
}

// A quartz-pyrite concentrate of specific gravity 3.0 with 27.2 % pyrite of 5.1
// leaves 2.6 for the quartz (J.J. Beringer, A Text-book of Assaying, p. 60).
func TestMeanDensity(t *testing.T) {
	got, err := MeanDensity(of("%", 27.2, 72.8), of("g/cm3", 5.1, 2.6))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "density", value(t, got, "g/cm3"), 3.0, 1e-6)
	for _, test := range []struct {
		shares, densities []quantity.Quantity
		want              string
	}{
		{of("%", 50), of("g/cm3", 1, 2), "each share needs a density"}, {of("%", 50, 49), of("g/cm3", 1, 2), "99 %"},
		{of("vol%", 50, 50), of("g/cm3", 1, 2), "share of mass"}, {of("%", 50, 50), of("g", 1, 2), "mass per volume"},
		{of("%", 50, 50), of("g/cm3", 1, 0), "above 0"},
	} {
		if _, err := MeanDensity(test.shares, test.densities); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%v %v: error %v, want one with %q", test.shares, test.densities, err, test.want)
		}
	}
}
