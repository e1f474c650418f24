package mineral

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func parse(t *testing.T, text string) Formula {
	t.Helper()
	f, err := ParseFormula(text)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Mass shares that textbooks round as in the last column (T. Rosenqvist,
// Principles of Extractive Metallurgy, and others; values from memory). The
// longer figures were computed apart from this package from the same atomic
// weights.
func TestMolarMassesAndShares(t *testing.T) {
	tests := []struct {
		formula  string
		mass     float64 // g/mol
		element  string
		share    float64 // %
		textbook float64 // %, one decimal; 0: none
	}{
		{"FeO", 71.8440, "Fe", 77.7309, 77.7}, {"Fe2O3", 159.6870, "Fe", 69.9431, 69.9},
		{"Fe3O4", 231.5310, "Fe", 72.3596, 72.4}, {"FeTiO3", 151.7090, "Fe", 36.8106, 36.8},
		{"FeTiO3", 151.7090, "Ti", 31.5519, 0}, {"FeTiO3", 151.7090, "O", 31.6375, 0},
		{"TiO2", 79.8650, "Ti", 59.9349, 0}, {"CuFeS2", 183.5110, "Cu", 34.6279, 34.6},
		{"Cu2S", 159.1520, "Cu", 79.8557, 0}, {"CuS", 95.6060, "Cu", 66.4665, 0},
		{"Cu5FeS4", 501.8150, "Cu", 63.3162, 0}, {"FeS2", 119.9650, "S", 53.4489, 0},
		{"FeS", 87.9050, "Fe", 63.5288, 0}, {"MoS2", 160.0700, "Mo", 59.9425, 0},
		{"PbS", 239.2600, "Pb", 86.6004, 86.6}, {"ZnS", 97.4400, "Zn", 67.0977, 67.1},
		{"SnO2", 150.7080, "Sn", 78.7682, 78.8}, {"SiO2", 60.0830, "Si", 46.7437, 46.7},
		{"Al2O3", 101.9601, "Al", 52.9257, 0}, {"FeCr2O4", 223.8332, "Cr", 46.4597, 0},
		{"Cr2O3", 151.9892, "Cr", 68.4208, 0}, {"MnO2", 86.9360, "Mn", 63.1936, 0},
		{"CaCO3", 100.0860, "Ca", 40.0436, 0}, {"FeCO3", 115.8530, "Fe", 48.2033, 0},
		{"FeO(OH)", 88.8510, "Fe", 62.8524, 0}, {"ZrSiO4", 183.3050, "Zr", 49.7662, 0},
		{"CaWO4", 287.9140, "W", 63.8524, 0}, {"CaAl2Si2O8", 278.2031, "Al", 19.3970, 0},
	}
	for _, test := range tests {
		f := parse(t, test.formula)
		near(t, test.formula+", g/mol", value(t, f.MolarMass(), "g/mol"), test.mass, 1e-6)
		share, err := f.Share(test.element)
		if err != nil {
			t.Error(err)
			continue
		}
		if got := value(t, share, "%"); math.Abs(got-test.share) > 0.6e-4 {
			t.Errorf("%s: %.5f %% %s, want %v", test.formula, got, test.element, test.share)
		}
		if test.textbook != 0 && math.Abs(value(t, share, "%")-test.textbook) > 0.05 {
			t.Errorf("%s: %v %s, textbooks print %v %%", test.formula, share, test.element, test.textbook)
		}
	}
}

func TestFormulasThatSayTheSame(t *testing.T) {
	for _, group := range [][]string{
		{"Fe3O4", "FeO·Fe2O3", "Fe₃O₄", " Fe3O4 ", "Fe2O3 · FeO", "FeO*Fe2O3", "(Fe)3(O)4", "O4Fe3"},
		{"CaSO4·2H2O", "CaSO4 · 2 H2O", "CaSO4*2H2O", "CaSO4(H2O)2", "CaS[O4]{H2O}2", "CaSO6H4"},
		{"CaSO4·½H2O", "CaSO4·0.5H2O", "CaSO4·1/2H2O", "CaHSO4.5"},
		{"(Mg0.9Fe0.1)2SiO4", "Mg1.8Fe0.2SiO4"},
		{"Ca10(PO4)6(OH)2", "Ca10P6O26H2"},
		{"Al2Si2O5(OH)4", "Al2O3·2SiO2·2H2O"},
		{"KAlSi3O8", "K2O·Al2O3·6SiO2", "K0.5K0.5AlSi3O8"},
		{"CuSO4.(H2O)5", "CuSO4·5H2O"},
	} {
		first := parse(t, group[0])
		for _, text := range group[1:] {
			f := parse(t, text)
			for _, symbol := range first.Elements() {
				a, _ := first.Share(symbol)
				b, err := f.Share(symbol)
				if err != nil || math.Abs(value(t, a, "%")-value(t, b, "%")) > 1e-9 {
					t.Errorf("%s has %v %s, %s has %v", group[0], a, symbol, text, b)
				}
			}
			if len(f.Elements()) != len(first.Elements()) {
				t.Errorf("%s has %v, %s has %v", group[0], first.Elements(), text, f.Elements())
			}
		}
	}
}

func TestFormulasRefused(t *testing.T) {
	tests := []struct{ text, at, want string }{
		{"", "", "nothing to read"},
		{"fe2o3", "", "capital letter"},
		{"FEO", "", "iron is written Fe"},
		{"Fe2X3", "X3", "is no element"},
		{"Sio2", "", "Sio"},
		{"Fe2(SO4", "(SO4", "not closed"},
		{"Fe2SO4)3", ")3", "not opened"},
		{"Fe2[SO4)3", ")3", "not opened"},
		{"Fe()2", "()2", "nothing in the bracket"},
		{"(Mg,Fe)2SiO4", ",Fe)2SiO4", "(Mg0.9Fe0.1)2SiO4"},
		{"Fe1-xS", "-xS", "a count is a number"},
		{"Fe0S", "0S", "above 0"},
		{"FexO", "FexO", "give x a value"},
		{"Fe2+O", "+O", "without charges"},
		{"Fe³⁺2O3", "³⁺2O3", "without charges"},
		{"CaSO4.2H2O", "4.2H2O", "write 4·2"},
		{"MgCl2.6H2O", "2.6H2O", "write 2·6"},
		{"Al2O3.2SiO2", "3.2SiO2", "write 3·2"},
		{"Na2O.2SiO2", ".2SiO2", "or ·"},
		{"FeO·", "", "missing at the end"},
		{"FeO··Fe2O3", "·Fe2O3", "no place"},
		{"Fe1/0O", "1/0O", "above 0"},
		{"Fe=O", "=O", "no place"},
		{"RaSO4", "RaSO4", "no stable isotope"},
		{strings.Repeat("(", 40) + "Fe" + strings.Repeat(")", 40), "", "too deep"},
	}
	for _, test := range tests {
		_, err := ParseFormula(test.text)
		var wrong *FormulaError
		if !errors.As(err, &wrong) || !strings.Contains(err.Error(), test.want) || test.at != "" && wrong.At != test.at {
			t.Errorf("%q: error %v, want one at %q with %q", test.text, err, test.at, test.want)
		}
	}
}

func TestFormulaByParts(t *testing.T) {
	parts := parse(t, "K2O·Al2O3·6SiO2").ByParts()
	names := parts.Names()
	if strings.Join(names, " ") != "K2O Al2O3 SiO2" {
		t.Fatalf("parts %v", names)
	}
	// The handbooks' orthoclase: 16.9 % K2O, 18.4 % Al2O3, 64.7 % SiO2 (J.D. Dana,
	// System of Mineralogy; values from memory).
	for i, want := range []float64{16.9, 18.4, 64.7} {
		if got := value(t, parts.Shares()[i], "%"); math.Abs(got-want) > 0.1 {
			t.Errorf("%s: %.2f %%, want %v", names[i], got, want)
		}
	}
	if total := value(t, parts.Total(), "%"); math.Abs(total-100) > 1e-12 {
		t.Errorf("the parts add up to %v %%", total)
	}
	twice := parse(t, "FeO·FeO·TiO2").ByParts()
	if len(twice.Names()) != 2 || math.Abs(value(t, twice.Total(), "%")-100) > 1e-12 {
		t.Errorf("a part that stands twice: %v", twice)
	}
}

func TestFormulaIsShown(t *testing.T) {
	tests := []struct{ text, html, latex string }{
		{"FeTiO3", "FeTiO<sub>3</sub>", `$\mathrm{FeTiO_{3}}$`},
		{"Fe₂O₃", "Fe<sub>2</sub>O<sub>3</sub>", `$\mathrm{Fe_{2}O_{3}}$`},
		{"CaSO4·2H2O", "CaSO<sub>4</sub>·2H<sub>2</sub>O", `$\mathrm{CaSO_{4}\cdot 2H_{2}O}$`},
		{"(Mg0.9Fe0.1)2SiO4", "(Mg<sub>0.9</sub>Fe<sub>0.1</sub>)<sub>2</sub>SiO<sub>4</sub>", `$\mathrm{(Mg_{0.9}Fe_{0.1})_{2}SiO_{4}}$`},
	}
	for _, test := range tests {
		f := parse(t, test.text)
		if f.HTML() != test.html || f.LaTeX() != test.latex || f.String() != test.text {
			t.Errorf("%s: %s, %s", f, f.HTML(), f.LaTeX())
		}
	}
}

func FuzzParseFormula(f *testing.F) {
	for _, seed := range []string{"FeTiO3", "CaSO4·½H2O", "(Mg0.9Fe0.1)2SiO4", "Al2O3.2SiO2", "Fe1/2", "[({", "Fe₂O₃", "O.2", "2"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		formula, err := ParseFormula(text)
		if err != nil {
			return
		}
		total := value(t, formula.Composition().Total(), "%")
		if math.Abs(total-100) > 1e-9 {
			t.Errorf("%q: the elements add up to %v %%", text, total)
		}
		if total := value(t, formula.ByParts().Total(), "%"); math.Abs(total-100) > 1e-9 {
			t.Errorf("%q: the parts add up to %v %%", text, total)
		}
		again, err := ParseFormula(formula.String())
		if err != nil || again.MolarMass() != formula.MolarMass() {
			t.Errorf("%q is read otherwise the second time: %v", text, err)
		}
	})
}
