package table

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"

	"cobber/stdlib/quantity"
)

func TestReadCSV(t *testing.T) {
	const text = "\ufeff# invented\n#\nsieve, mass (g) ,\"TiO2 (%)\",dose (g/(m2*s)),n,note\n" +
		"#10, 12.5,1e1,0.5,1,\"a, b\"\n\n#18,0.5 ,9.5,1,2,\n"
	table, err := ReadCSV(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(table.Names(), ";"); got != "sieve;mass;TiO2;dose;n;note" {
		t.Errorf("names %s", got)
	}
	sieves, err := table.Text("sieve")
	if err != nil || strings.Join(sieves, " ") != "#10 #18" {
		t.Errorf("sieves %v (%v): a row that begins with # below the header is no remark", sieves, err)
	}
	notes, err := table.Text("note")
	if err != nil || notes[0] != "a, b" || notes[1] != "" {
		t.Errorf("notes %q (%v)", notes, err)
	}
	for name, want := range map[string]quantity.Quantity{
		"mass": quantity.Of(12.5, "g"), "TiO2": quantity.Of(10, "%"), "dose": quantity.Of(0.5, "g/(m2*s)"), "n": quantity.Number(1),
	} {
		column, err := table.Column(name)
		if err != nil {
			t.Error(err)
			continue
		}
		if !column[0].Equal(want) || column[0].Unit() != want.Unit() {
			t.Errorf("%s: %v, want %v", name, column[0], want)
		}
	}
}

func TestReadCSVErrorsNameThePlace(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"empty file", "", "no header"},
		{"only remarks", "# a\n# b", "no header"},
		{"no row", "a,b (g)\n", "no row"},
		{"no number", "# x\na,mass (g)\nk,1\nl,many\n", `line 4, column "mass": "many" is no number`},
		{"decimal comma", "mass (g)\n\"1,5\"\n", "write the decimal sign as a point"},
		{"below a limit", "mass (g),n (1)\n1,<0.2\n", `line 2, column "n": "<0.2" is no number; what lies beyond a limit`},
		{"semicolons", "mass (g);n\n1;2\n", "separate cells by commas"},
		{"not a number", "mass (g)\nNaN\n", `"NaN" is no number`},
		{"unit", "mass (grom)\n1\n", `header of column 1, "mass (grom)"`},
		{"long row", "# x\na,b\n1,2,3\n", "line 3 has 3 cells, the header has 2"},
		{"short row", "a,b\n1\n", "line 2 has 1 cells, the header has 2"},
		{"stray quote", "# x\na,b\n1,\"2\n", "line 3"},
		{"one name twice", "a (g),a (%)\n1,2\n", `two columns are called "a"`},
		{"no name", "a,(g)\n1,2\n", "column 2 has no name"},
		{"no name at all", "a,\n1,2\n", "column 2 has no name"},
	}
	for _, test := range tests {
		_, err := ReadCSV(strings.NewReader(test.text))
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: error %v, want one with %q", test.name, err, test.want)
		}
	}
}

func TestReadCSVPassesOnTheReadersError(t *testing.T) {
	broken := errors.New("the wire broke")
	if _, err := ReadCSV(iotest.ErrReader(broken)); !errors.Is(err, broken) {
		t.Errorf("error %v", err)
	}
}

func TestReadFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "masses.csv")
	if err := os.WriteFile(path, []byte("mass (g)\nx\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := ReadFile(path); err == nil || !strings.Contains(err.Error(), "masses.csv") || !strings.Contains(err.Error(), "line 2") {
		t.Errorf("error %v names neither file nor line", err)
	}
	if _, err := ReadFile(path + "x"); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a file that is not there: %v", err)
	}
}

func TestSplitHeader(t *testing.T) {
	tests := []struct {
		text, name, unit string
		hasUnit          bool
	}{
		{"mass (g)", "mass", "g", true}, {" mass(g) ", "mass", "g", true}, {"mass", "mass", "", false},
		{"dose (g/(m2*s))", "dose", "g/(m2*s)", true}, {"share (dry) (%)", "share (dry)", "%", true},
		{"P80 (µm) feed", "P80 (µm) feed", "", false}, {"odd)", "odd)", "", false}, {"(g)", "", "g", true},
	}
	for _, test := range tests {
		name, unit, hasUnit := splitHeader(test.text)
		if name != test.name || unit != test.unit || hasUnit != test.hasUnit {
			t.Errorf("%q: %q, %q, %v", test.text, name, unit, hasUnit)
		}
	}
}

func FuzzReadCSV(f *testing.F) {
	f.Add("a,b (g)\nx,1\n")
	f.Add("# r\n\"a (t/h)\"\n1e3\n")
	f.Fuzz(func(t *testing.T, text string) {
		table, err := ReadCSV(strings.NewReader(text))
		if err != nil {
			return
		}
		if table.Rows() == 0 {
			t.Errorf("%q gives a table without rows and no error", text)
		}
		_ = table.HTML() + table.Markdown() + table.LaTeX() + table.String()
	})
}

func TestDeviationsBecomeUncertainties(t *testing.T) {
	table, err := ReadCSV(strings.NewReader("mass (g),± mass (g),dose (g/t),± dose (g/t),n,rate (t/h),± rate (%)\n100,2,50,10,1,8,5\n50,,,1,2,8,5\n20,0,30,2,3,8,5\n"))
	if err != nil {
		t.Fatal(err)
	}
	masses, err := table.Uncertain("mass")
	if err != nil {
		t.Fatal(err)
	}
	if s := masses[0].FirstOrder().Uncertainty.Shown(); math.Abs(s-2) > 1e-3 || masses[1].IsUncertain() || masses[2].IsUncertain() {
		t.Errorf("masses %v", masses)
	}
	doses, err := table.Uncertain("dose")
	if err != nil {
		t.Fatal(err)
	}
	if s := doses[0].FirstOrder().Uncertainty.To("g/t").Shown(); math.Abs(s-10) > 1e-2 {
		t.Errorf("dose ± %g g/t", s)
	}
	rates, err := table.Uncertain("rate")
	if err != nil || math.Abs(rates[0].FirstOrder().Uncertainty.Shown()-0.4) > 1e-3 {
		t.Errorf("rates %v, %v", rates, err)
	}
	either, err := ReadCSV(strings.NewReader("dose (g/t),± dose (%)\n50,10\n"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := either.Uncertain("dose"); err == nil || !strings.Contains(err.Error(), "own unit, g/t") {
		t.Errorf("error %v", err)
	}
	if _, err := table.Uncertain("n"); err == nil || !strings.Contains(err.Error(), "± n") {
		t.Errorf("error %v", err)
	}
	wrong, err := ReadCSV(strings.NewReader("mass (g),± mass (g)\n1,2\n1,-2\n"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := wrong.Uncertain("mass"); err == nil || !strings.Contains(err.Error(), "row 2") {
		t.Errorf("error %v", err)
	}
}
