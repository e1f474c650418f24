package mineral

import (
	"strings"
	"testing"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// What a notebook shows must hold the figures in every form.
func TestValuesShowThemselvesInEveryForm(t *testing.T) {
	type shown interface{ String() string }
	type rich interface{ HTML() string }
	type markdown interface{ Markdown() string }
	type latex interface{ LaTeX() string }
	ore := assay(t, []string{"TiO2", "FeO"}, of("%", 21, 19.25))
	fitted := fit(t, ore, phases(t, "ilmenite", "Fe3O4")...)
	deportment, err := NewDeportment("Ti", Carrier{"ilmenite", quantity.Of(40, "%"), quantity.Of(31.5, "%")})
	if err != nil {
		t.Fatal(err)
	}
	mixture := blend(t, Target{Composition: ore}, Material{Name: "sand", Composition: ore})
	ilmenite, err := Find("ilmenite")
	if err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		value any
		want  []string
	}{
		{ore, []string{"TiO2", "19.25", "total 40.25"}}, {fitted, []string{"ilmenite", "unexplained", "all"}},
		{deportment, []string{"ilmenite", "12.6", "part of Ti"}}, {mixture, []string{"sand", "100", "missed"}},
		{ilmenite, []string{"ilmenite", "4.79", "conductor"}},
	} {
		for form, text := range map[string]string{"text": test.value.(shown).String(), "HTML": test.value.(rich).HTML(),
			"Markdown": test.value.(markdown).Markdown(), "LaTeX": test.value.(latex).LaTeX()} {
			for _, want := range test.want {
				if !strings.Contains(text, want) {
					t.Errorf("%T as %s lacks %q:\n%s", test.value, form, want, text)
				}
			}
		}
	}
}

func TestNamesThatAreNotThere(t *testing.T) {
	ore := assay(t, []string{"TiO2"}, of("%", 21))
	fitted := fit(t, ore, phases(t, "ilmenite")...)
	if share, err := fitted.Share("ilmenite"); err != nil || value(t, share, "%") < 39.8 || value(t, share, "%") > 40 {
		t.Errorf("%v (%v)", share, err)
	}
	mixture := blend(t, Target{Composition: ore}, Material{Name: "sand", Composition: ore})
	if share, err := mixture.Share("sand"); err != nil || value(t, share, "%") != 100 {
		t.Errorf("%v (%v)", share, err)
	}
	deportment, err := NewDeportment("Ti", Carrier{"ilmenite", quantity.Of(40, "%"), quantity.Of(31.5, "%")})
	if err != nil {
		t.Fatal(err)
	}
	for what, call := range map[string]func() error{
		"phase":    func() error { _, err := fitted.Share("rutile"); return err },
		"material": func() error { _, err := mixture.Share("gravel"); return err },
		"carrier":  func() error { _, err := deportment.Part("rutile"); return err },
	} {
		if err := call(); err == nil || !strings.Contains(err.Error(), what) {
			t.Errorf("error %v, want one that speaks of a %s", err, what)
		}
	}
}

func TestCompositionFromATable(t *testing.T) {
	sheet, err := table.ReadCSV(strings.NewReader("oxide,share (%),remark\nTiO2,21,XRF\nFeO,19.25,titration\n"))
	if err != nil {
		t.Fatal(err)
	}
	c, err := FromTable(sheet, "oxide", "share")
	if err != nil || strings.Join(c.Names(), " ") != "TiO2 FeO" {
		t.Fatalf("%v (%v)", c, err)
	}
	near(t, "total", value(t, c.Total(), "%"), 40.25, 1e-14)
	for _, columns := range [][2]string{{"mineral", "share"}, {"oxide", "grade"}, {"oxide", "remark"}, {"share", "share"}} {
		if _, err := FromTable(sheet, columns[0], columns[1]); err == nil {
			t.Errorf("columns %v: no error", columns)
		}
	}
}
