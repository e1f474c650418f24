package table

import (
	"flag"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"cobber/stdlib/quantity"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the tables in testdata anew")

func of(unit string, values ...float64) []quantity.Quantity {
	quantities := make([]quantity.Quantity, len(values))
	for i, x := range values {
		quantities[i] = quantity.Of(x, unit)
	}
	return quantities
}

func made(t *testing.T, columns ...Column) Table {
	t.Helper()
	table, err := New(columns...)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

func sample(t *testing.T) Table {
	return made(t,
		Texts("stream", []string{"feed", "a|b <c> & d_e", "tailing"}),
		Quantities("flow", append(of("t/h", 36.5), append(of("kg/h", 1250), of("t/h", math.NaN())...)...)),
		Numbers("factor", []float64{-0.5, 1, 12.25}),
	).Caption("Streams at 100 % load")
}

func TestShownForms(t *testing.T) {
	shown := map[string]string{
		"text.txt": sample(t).String() + "\n", "markdown.md": sample(t).Markdown(),
		"latex.tex": sample(t).LaTeX(), "page.html": sample(t).HTML(),
	}
	for name, got := range shown {
		path := filepath.Join("testdata", name)
		if *update {
			if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(string(want), got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
	}
}

func TestDigits(t *testing.T) {
	tests := []struct {
		name    string
		numbers []float64
		want    string
	}{
		{"data as written", []float64{0.4, 4.6, 27.9, 246.3}, "0.4 4.6 27.9 246.3"},
		{"data to two places", []float64{0.05, 118.4, 36.25}, "0.05 118.40 36.25"},
		{"whole numbers", []float64{1, 20, 300}, "1 20 300"},
		{"computed", []float64{100.0 / 3, 200.0 / 3}, "33.33 66.67"},
		{"computed, with their total", []float64{100.0 / 3, 200.0 / 3, 100}, "33.33 66.67 100.00"},
		{"computed, small ones keep a digit", []float64{100.0 / 3, 0.01 / 3}, "33.333 0.003"},
		{"binary noise", []float64{0.1 + 0.2, 75.00000000000001}, "0.3 75.0"},
		{"missing", []float64{math.NaN(), 2.5}, "– 2.5"},
		{"infinite", []float64{math.Inf(1), math.Inf(-1), 2.5}, "+∞ −∞ 2.5"},
		{"negative", []float64{-1.5, 2}, "−1.5 2.0"},
		{"no minus before nothing", []float64{-1e-9, 100.0 / 3}, "0.00000 33.33333"},
		{"nothing but zeros", []float64{0, 0}, "0 0"},
		{"large, computed", []float64{1234567.89123}, "1234568"},
		{"very large", []float64{6.02214076e23, 1}, "6.022·10²³ 1.000"},
		{"very small", []float64{1.3806e-23, -2e-24}, "1.381·10⁻²³ −2.000·10⁻²⁴"},
		{"none", nil, ""},
	}
	for _, test := range tests {
		if got := strings.Join(format(test.numbers), " "); got != test.want {
			t.Errorf("%s: %s, want %s", test.name, got, test.want)
		}
	}
}

func TestPointsStandBelowOneAnother(t *testing.T) {
	lines := strings.Split(made(t, Numbers("x", []float64{1.25, 100, -33.5})).String(), "\n")
	for _, line := range lines[2:] {
		if at := strings.Index(strings.ReplaceAll(line, "−", "-"), "."); at != 3 {
			t.Errorf("the point of %q stands at %d, want 3", line, at)
		}
	}
}

func TestLongTablesAreCutWithACount(t *testing.T) {
	numbers := make([]float64, 120)
	long := made(t, Numbers("n", numbers))
	for name, shown := range map[string]string{"text": long.String(), "HTML": long.HTML(), "Markdown": long.Markdown(), "LaTeX": long.LaTeX()} {
		if !strings.Contains(shown, "70 more rows") {
			t.Errorf("%s does not count the rows left out", name)
		}
	}
	if text := long.Limit(119).String(); !strings.HasSuffix(text, "… 1 more row") {
		t.Errorf("with a limit of 119: %s", text[len(text)-20:])
	}
	if rows := strings.Count(long.Limit(0).String(), "\n") - 1; rows != 120 {
		t.Errorf("without a limit %d rows are shown", rows)
	}
	if long.Limit(3).Rows() != 120 {
		t.Error("Limit took rows away")
	}
}

func TestNewRefuses(t *testing.T) {
	tests := []struct {
		name    string
		columns []Column
		want    string
	}{
		{"unlike lengths", []Column{Numbers("a", []float64{1}), Numbers("b", []float64{1, 2})}, `column "b" has 2 rows`},
		{"one name twice", []Column{Numbers("a", nil), Texts("a", nil)}, `two columns are called "a"`},
		{"unlike dimensions", []Column{Quantities("m", append(of("kg", 1), of("m", 2)...))}, `column "m", row 2: 2 m cannot be shown in kg`},
	}
	for _, test := range tests {
		if _, err := New(test.columns...); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: error %v, want one with %q", test.name, err, test.want)
		}
	}
}

func TestColumnsAndRows(t *testing.T) {
	table := sample(t)
	if got := strings.Join(table.Names(), ","); got != "stream,flow,factor" || table.Rows() != 3 {
		t.Errorf("names %s, %d rows", got, table.Rows())
	}
	some, err := table.Where("stream", "feed")
	if err != nil {
		t.Fatal(err)
	}
	flow, err := some.Column("flow")
	if err != nil || len(flow) != 1 || flow[0] != quantity.Of(36.5, "t/h") {
		t.Errorf("flow of the feed %v (%v)", flow, err)
	}
	for name, attempt := range map[string]func() error{
		"no column":       func() error { _, err := table.Column("grade"); return err },
		"texts, Column":   func() error { _, err := table.Column("stream"); return err },
		"numbers, Text":   func() error { _, err := table.Text("flow"); return err },
		"Where, no row":   func() error { _, err := table.Where("stream", "slimes"); return err },
		"Where, numbers":  func() error { _, err := table.Where("flow", "36.5"); return err },
		"IsText, nothing": func() error { _, err := table.IsText("grade"); return err },
	} {
		if attempt() == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := table.Where("stream", "slimes"); !strings.Contains(err.Error(), "it holds a|b <c> & d_e, feed, tailing") {
		t.Errorf("the error does not say what there is: %v", err)
	}
}

// A sum begun with the zero quantity has no unit of its own; it takes that of
// the column.
func TestNothingYetTakesTheUnitOfTheColumn(t *testing.T) {
	table := made(t, Quantities("mass", append([]quantity.Quantity{{}}, of("kg", 2)...)))
	if got := table.String(); !strings.Contains(got, "mass (kg)") {
		t.Errorf("the table is\n%s", got)
	}
}

func TestEmptyTableShows(t *testing.T) {
	var none Table
	if none.Rows() != 0 || none.String() != "" && strings.TrimSpace(none.String()) != "" {
		t.Errorf("the zero table shows %q", none.String())
	}
	if !strings.Contains(none.HTML(), "</table>") {
		t.Error("the zero table has no HTML")
	}
}

func BenchmarkHTML(b *testing.B) {
	numbers := make([]float64, 50)
	for i := range numbers {
		numbers[i] = float64(i) / 7
	}
	table, err := New(Numbers("a", numbers), Numbers("b", numbers), Numbers("c", numbers))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		table.HTML()
	}
}
