package table

import (
	"math"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

func done(t *testing.T) func(table Table, err error) Table {
	return func(table Table, err error) Table {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return table
	}
}

// streams is an invented table with everything in it.
func streams(t *testing.T) Table {
	ok := done(t)
	table := made(t,
		Texts("stage", []string{"rougher", "rougher", "cleaner", "cleaner"}),
		Texts("product", []string{"magnetic", "rest", "magnetic", "rest"}),
		Quantities("mass", append(of("t", 30, 10), append(of("kg", 4000), of("t", 6)...)...)),
		Quantities("TiO2", of("%", 2, 5, 40, math.NaN())),
	).Caption("Two stages (invented)")
	table = ok(table.Totals("mass"))
	table = ok(table.Mean("TiO2", "mass"))
	table = ok(table.Group("stage"))
	return ok(table.Highlight("TiO2", func(q quantity.Quantity) bool { return q.Compare(quantity.Of(4, "%")) > 0 }))
}

// (30·2 + 10·5)/40 = 2.75; (30·2 + 10·5 + 4·40)/44 = 6.136; the missing grade
// counts for nothing, its mass does in the sum of masses.
func TestTotalsGroupsAndHighlights(t *testing.T) {
	const want = `Two stages (invented)
product   mass (t)  TiO2 (%)
────────  ────────  ────────
rougher
magnetic        30       2.0
rest            10      5.0*
────────  ────────  ────────
together        40       2.8
cleaner
magnetic         4     40.0*
rest             6         –
────────  ────────  ────────
together        10      40.0
────────  ────────  ────────
total           50       6.1`
	table := streams(t)
	if got := table.String(); got != want {
		t.Errorf("the table is\n%s\nwant\n%s", got, want)
	}
	if table.Rows() != 4 {
		t.Errorf("totals count as rows: %d", table.Rows())
	}
	for form, parts := range map[string][]string{
		table.HTML():     {`colspan="3"`, ">rougher</th>", "background-color", "border-top:1px solid currentColor;font-weight:bold\">50<"},
		table.Markdown(): {"| **rougher** |  |  |", "| rest | 10 | **5.0** |", "| **total** | **50** | **6.1** |"},
		table.LaTeX():    {`\multicolumn{3}{l}{\textbf{rougher}}`, `\textbf{40.0}`, `\textbf{total} & \textbf{50} & \textbf{6.1}`},
	} {
		for _, part := range parts {
			if !strings.Contains(form, part) {
				t.Errorf("no %s in\n%s", part, form)
			}
		}
	}
}

// A cut table says so, shows its totals, and no sum of a group that is cut.
func TestCutTablesKeepTheirTotals(t *testing.T) {
	text := streams(t).Limit(3).String()
	if !strings.Contains(text, "… 1 more row") || strings.Count(text, "together") != 1 || !strings.Contains(text, "total") {
		t.Errorf("the table is\n%s", text)
	}
}

func TestDecimals(t *testing.T) {
	table := done(t)(done(t)(streams(t).Decimals("TiO2", 2)).Decimals("mass", 1))
	for _, part := range []string{"30.0", "2.00", "6.14"} {
		if !strings.Contains(table.String(), part) {
			t.Errorf("no %s in\n%s", part, table)
		}
	}
}

func TestTotalsOfAllColumnsAndOfNone(t *testing.T) {
	ok := done(t)
	table := ok(made(t, Texts("a", []string{"x", "y"}), Numbers("n", []float64{1, 2}), Quantities("m", of("kg", math.NaN(), math.NaN()))).Totals())
	lines := strings.Split(table.String(), "\n")
	if got := strings.Fields(lines[len(lines)-1]); len(got) != 2 || got[0] != "total" || got[1] != "3" {
		t.Errorf("totals %q", lines[len(lines)-1])
	}
	first := made(t, Numbers("n", []float64{1, 2}))
	second := ok(first.Totals())
	if first.String() == second.String() {
		t.Error("Totals shows nothing")
	}
	if strings.Contains(first.String(), "3") {
		t.Error("Totals changed the table it was called on")
	}
}

// An uncertain column shows mean ± deviation, each to the two digits of its
// deviation (JCGM 100:2008, 7.2.6), points below one another.
func TestUncertainColumns(t *testing.T) {
	normal := func(mean, deviation float64, unit string) quantity.Quantity {
		return quantity.Must(quantity.Normal(quantity.Of(mean, unit), quantity.Of(deviation, unit)))
	}
	table := made(t, Texts("of", []string{"a", "b", "c", "d"}),
		Quantities("grade", []quantity.Quantity{normal(52.4, 3.1, "%"), normal(0.85, 0.022, "%"), quantity.Of(7, "%"), normal(130, 12, "%")}))
	lines := strings.Split(table.String(), "\n")[2:]
	for i, want := range []string{"52.4   ±  3.1", "0.850 ±  0.022", "7", "130     ± 12"} {
		if got := strings.TrimSpace(lines[i][2:]); got != want {
			t.Errorf("line %d is %q, want %q", i+1, got, want)
		}
	}
	at := func(line, sign string) int { return len([]rune(line[:strings.Index(line, sign)])) }
	if at(lines[0], ".") != at(lines[1], ".") || at(lines[0], "±") != at(lines[3], "±") || at(lines[0], "±") != at(lines[1], "±") {
		t.Errorf("points and signs do not stand below one another:\n%s", strings.Join(lines, "\n"))
	}
	if !strings.Contains(table.LaTeX(), `0.850 $\pm$ \phantom{0}0.022`) || !strings.Contains(table.Markdown(), "| 0.850 ±  0.022 |") {
		t.Errorf("LaTeX and Markdown:\n%s%s", table.LaTeX(), table.Markdown())
	}
	if !strings.Contains(table.HTML(), "0.850 ± \u20070.022") {
		t.Errorf("HTML does not keep the room of a digit:\n%s", table.HTML())
	}
	total := done(t)(made(t, Quantities("mass", []quantity.Quantity{normal(3, 0.3, "t"), normal(4, 0.4, "t")})).Totals())
	if !strings.Contains(total.String(), "7.00 ± 0.50") && !strings.Contains(total.String(), "7.00 ± 0.49") {
		t.Errorf("3 ± 0.3 and 4 ± 0.4 t are\n%s", total)
	}
}

func TestMatched(t *testing.T) {
	for _, test := range []struct {
		value, spread float64
		want          string
	}{
		{12.3456, 0.0994, "12.346 ± 0.099"}, {12.3456, 0.0996, "12.35 ± 0.10"}, {1234567, 45678, "1235000 ± 46000"},
		{-0.5, 0.25, "−0.50 ± 0.25"}, {3e-9, 1e-9, "3.000·10⁻⁹ ± 1.000·10⁻⁹"}, {5, 0, "5 ± 0"},
	} {
		value, spread := matched(test.value, test.spread)
		if got := value + " ± " + spread; got != test.want {
			t.Errorf("%v and %v are %q, want %q", test.value, test.spread, got, test.want)
		}
	}
}

func TestArrangementsRefuse(t *testing.T) {
	table := streams(t)
	anyNumber, anyText := func(quantity.Quantity) bool { return true }, func(string) bool { return true }
	for name, attempt := range map[string]func() (Table, error){
		"totals of texts":     func() (Table, error) { return table.Totals("product") },
		"totals of nothing":   func() (Table, error) { return table.Totals("gold") },
		"mean by texts":       func() (Table, error) { return table.Mean("TiO2", "product") },
		"groups by numbers":   func() (Table, error) { return table.Group("mass") },
		"the only column":     func() (Table, error) { return made(t, Texts("a", []string{"x"})).Group("a") },
		"highlight texts":     func() (Table, error) { return table.Highlight("product", anyNumber) },
		"highlight numbers":   func() (Table, error) { return table.HighlightText("mass", anyText) },
		"decimals of texts":   func() (Table, error) { return table.Decimals("product", 2) },
		"too many decimals":   func() (Table, error) { return table.Decimals("mass", 40) },
		"decimals below zero": func() (Table, error) { return table.Decimals("mass", -1) },
	} {
		if _, err := attempt(); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	marked := done(t)(table.HighlightText("product", func(text string) bool { return text == "rest" }))
	if !strings.Contains(marked.Markdown(), "**rest**") || strings.Contains(marked.Markdown(), "**magnetic**") {
		t.Errorf("texts that stand out:\n%s", marked.Markdown())
	}
}
