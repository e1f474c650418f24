package size

import (
	"math"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

func withAssay(t *testing.T, d Distribution, name string, grades []quantity.Quantity) Distribution {
	t.Helper()
	d, err := d.WithAssay(name, grades)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// By hand: (10·2 + 30·4 + 60·1) % of 100 g hold 2 g of metal: 10, 60 and 30 %
// of it in the classes; the whole grades 2 %.
func TestGradeAndMetal(t *testing.T) {
	d := withAssay(t, build(t, of("mm", 2, 1), of("g", 10, 30, 60)), "Cu", of("%", 2, 4, 1))
	grade, err := d.Grade("Cu")
	if err != nil || math.Abs(value(t, grade, "%")-2) > 1e-12 {
		t.Errorf("grade %v (%v), want 2 %%", grade, err)
	}
	metal, err := d.Metal("Cu")
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{10, 60, 30} {
		if got := value(t, metal[i], "%"); math.Abs(got-want) > 1e-12 {
			t.Errorf("class %d holds %v %% of the metal, want %v", i, got, want)
		}
	}
}

func TestGradeKeepsItsUnit(t *testing.T) {
	d := withAssay(t, build(t, of("mm", 1), of("kg", 1, 3)), "Au", of("g/t", 8, 4))
	grade, err := d.Grade("Au")
	if err != nil || grade.String() != "5 g/t" {
		t.Errorf("grade %v (%v), want 5 g/t", grade, err)
	}
}

func TestClassWithoutMassMayLackItsGrade(t *testing.T) {
	nan := quantity.Of(math.NaN(), "%")
	d := withAssay(t, build(t, of("mm", 2, 1), of("g", 0, 50, 50)), "Cu", []quantity.Quantity{nan, quantity.Of(1, "%"), quantity.Of(3, "%")})
	if grade, err := d.Grade("Cu"); err != nil || value(t, grade, "%") != 2 {
		t.Errorf("grade %v (%v), want 2 %%", grade, err)
	}
}

func TestAssayRefuses(t *testing.T) {
	d := withAssay(t, build(t, of("mm", 2, 1), of("g", 10, 30, 60)), "Cu", of("%", 2, 4, 1))
	tests := []struct {
		name   string
		grades []quantity.Quantity
		want   string
	}{
		{"Fe", of("%", 1, 2), "the last for the pan"},
		{"Fe", of("g", 1, 2, 3), "share of mass"},
		{"Fe", of("%", 1, 101, 3), "class −2 +1 mm"},
		{"Fe", of("%", 1, -1, 3), "between 0 and 100"},
		{"Fe", of("%", 1, math.NaN(), 3), "between 0 and 100"},
		{"Cu", of("%", 1, 2, 3), "already"},
		{"mass", of("%", 1, 2, 3), "cannot be called"},
	}
	for _, test := range tests {
		if _, err := d.WithAssay(test.name, test.grades); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s %v: error %v, want one with %q", test.name, test.grades, err, test.want)
		}
	}
	if _, err := d.Grade("Zn"); err == nil || !strings.Contains(err.Error(), "there are Cu") {
		t.Errorf("an assay that is not there: %v", err)
	}
	barren := withAssay(t, d, "Zn", of("%", 0, 0, 0))
	if _, err := barren.Metal("Zn"); err == nil {
		t.Error("the distribution of no metal: no error")
	}
	if _, err := d.Grade("Zn"); err == nil {
		t.Error("WithAssay changed the distribution it was called on")
	}
}

func read(t *testing.T, text string) table.Table {
	t.Helper()
	sheet, err := table.ReadCSV(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return sheet
}

func TestFromTable(t *testing.T) {
	for name, text := range map[string]string{
		"labels":   "sample,sieve,mass (g),Cu (%),Au (g/t)\na,#10,10,2,1\na,1 mm,30,4,1\na,Pan,60,1,2\n",
		"openings": "opening (mm),mass (g),Cu (%),Au (g/t)\n2,10,2,1\n1,30,4,1\n0,60,1,2\n",
	} {
		d, err := FromTable(read(t, text))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if got := strings.Join(d.Assays(), " "); got != "Cu Au" {
			t.Errorf("%s: assays %s", name, got)
		}
		cu, _ := d.Grade("Cu")
		au, _ := d.Grade("Au")
		if math.Abs(value(t, cu, "%")-2) > 1e-12 || math.Abs(value(t, au, "g/t")-1.6) > 1e-12 {
			t.Errorf("%s: grades %v and %v", name, cu, au)
		}
		if p := value(t, d.Passing()[0], "%"); p != 90 {
			t.Errorf("%s: %v %% passes 2 mm", name, p)
		}
	}
}

func TestFromTableRefuses(t *testing.T) {
	tests := []struct{ text, want string }{
		{"screen,mass (g)\n#10,1\npan,2\n", "column sieve"},
		{"sieve,weight (g)\n#10,1\npan,2\n", `no column "mass"`},
		{"sieve,mass (g)\n#10,1\n#18,2\n", "says pan"},
		{"sieve,mass (g)\n#11,1\npan,2\n", "row 1"},
		{"sieve,mass (g)\n10 mesh,1\npan,2\n", "mesh count"},
		{"opening (mm),mass (g)\n2,1\n1,2\n", "opening 0"},
		{"opening (g),mass (g)\n2,1\n0,2\n", "opening 0"},
		{"sieve,mass (g),time (h)\n#10,1,1\npan,2,1\n", "share of mass"},
	}
	for _, test := range tests {
		if _, err := FromTable(read(t, test.text)); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%q: error %v, want one with %q", test.text, err, test.want)
		}
	}
}

// By hand: 40·4, 35.5·1.5 and 24.5·1 of 237.75 in all; d50 is 0.5·2^(25.5/35.5)
// and d80 is √2 mm.
func TestDistributionShowsItself(t *testing.T) {
	d := withAssay(t, build(t, of("mm", 2, 1, 0.5), of("g", 0, 40, 35.5, 24.5)), "Cu", of("%", 0, 4, 1.5, 1))
	want := strings.TrimPrefix(`
d50 = 0.8226 mm, d80 = 1.414 mm (semi-logarithmic between sieves)
class       mass (g)  share (%)  passing (%)  Cu (%)  share of Cu (%)
──────────  ────────  ─────────  ───────────  ──────  ───────────────
+2 mm            0.0        0.0        100.0     0.0             0.00
−2 +1 mm        40.0       40.0         60.0     4.0            67.30
−1 +0.5 mm      35.5       35.5         24.5     1.5            22.40
−0.5 mm         24.5       24.5            –     1.0            10.30`, "\n")
	if got := d.String(); got != want {
		t.Errorf("the table is\n%s\nwant\n%s", got, want)
	}
	for name, shown := range map[string]string{"HTML": d.HTML(), "Markdown": d.Markdown(), "LaTeX": d.LaTeX()} {
		if !strings.Contains(shown, "67.3") || !strings.Contains(shown, "d80") {
			t.Errorf("%s lacks the figures: %s", name, shown)
		}
	}
}
