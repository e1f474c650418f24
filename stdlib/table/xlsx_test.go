package table

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"cobber/stdlib/quantity"

	"github.com/xuri/excelize/v2"
)

func mixed(t *testing.T) Table {
	t.Helper()
	missing := quantity.Of(math.NaN(), "g")
	table, err := New(
		Texts("sieve", []string{"#10", "#18", "pan, wet"}),
		Texts("id", []string{"007", "008", ""}),
		Texts("kind (of test)", []string{"a", "b", "\"c\""}),
		Quantities("mass", []quantity.Quantity{quantity.Of(12.5, "g"), missing, quantity.Of(1.0/3, "g")}),
		Quantities("TiO2", []quantity.Quantity{quantity.Of(48.25, "%"), quantity.Of(0, "%"), quantity.Of(1e-7, "%")}),
		Numbers("d (coarse)", []float64{1, 2, 3}),
		Numbers("n", []float64{-1e300, 5, math.NaN()}),
	)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// sameUnit takes a column of plain numbers for one whether its header says (1) or
// not.
func sameUnit(a, b string) bool { return a == b || a+b == "1" }

// same compares columns by name, kind, unit and value, to the 15 digits of a
// workbook.
func same(t *testing.T, got, want Table) {
	t.Helper()
	if g, w := strings.Join(got.Names(), ";"), strings.Join(want.Names(), ";"); g != w {
		t.Fatalf("columns %s, want %s", g, w)
	}
	for i, column := range want.columns {
		back := got.columns[i]
		if back.isText != column.isText || back.length() != column.length() {
			t.Errorf("%s: texts %v, %d rows", column.name, back.isText, back.length())
			continue
		}
		for row := range column.length() {
			if column.isText && back.texts[row] != column.texts[row] {
				t.Errorf("%s, row %d: %q, want %q", column.name, row+1, back.texts[row], column.texts[row])
			}
			if column.isText {
				continue
			}
			a, b := back.number(back.quantities[row]), column.number(column.quantities[row])
			if !(math.Abs(a-b) <= 1e-14*math.Abs(b)) && !(math.IsNaN(a) && math.IsNaN(b)) || !sameUnit(back.unit, column.unit) {
				t.Errorf("%s, row %d: %g %s, want %g %s", column.name, row+1, a, back.unit, b, column.unit)
			}
		}
	}
}

func TestTablesSurviveFiles(t *testing.T) {
	want := mixed(t)
	for _, ending := range []string{"csv", "xlsx", "XLSX"} {
		path := filepath.Join(t.TempDir(), "t."+ending)
		if err := want.WriteFile(path); err != nil {
			t.Fatal(err)
		}
		got, err := ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		same(t, got, want)
	}
	if err := WriteFile("t.ods", want); err == nil || !strings.Contains(err.Error(), ".csv or .xlsx") {
		t.Errorf("error %v", err)
	}
	if err := WriteFile(filepath.Join(t.TempDir(), "t.csv"), Table{}); err == nil {
		t.Error("an empty table was written")
	}
	if _, err := ReadFile("t.xls"); err == nil || !strings.Contains(err.Error(), "save it as .xlsx") {
		t.Errorf("error %v", err)
	}
}

func TestUncertainColumnsAreWrittenWithTheirSpread(t *testing.T) {
	mass, err := quantity.Normal(quantity.Of(100, "g"), quantity.Of(2, "g"))
	if err != nil {
		t.Fatal(err)
	}
	table, err := New(Quantities("mass", []quantity.Quantity{mass, quantity.Of(50, "g")}))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "t.xlsx")
	if err := table.WriteFile(path); err != nil {
		t.Fatal(err)
	}
	back, err := ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	spread, err := back.Column("± mass")
	if err != nil || math.Abs(spread[0].Shown()-2) > 0.1 || spread[1].Shown() != 0 {
		t.Errorf("± mass: %v, %v", spread, err)
	}
}

func TestWorkbooksHoldSeveralTables(t *testing.T) {
	path := filepath.Join(t.TempDir(), "t.xlsx")
	a, b := mixed(t).Caption("feed: size by size [dry]"), mixed(t).Caption("Feed  size by size  dry ")
	if err := WriteWorkbook(path, a, b, mixed(t)); err != nil {
		t.Fatal(err)
	}
	names, err := Sheets(path)
	if err != nil || strings.Join(names, ";") != "feed size by size dry;Table 2;Table 3" {
		t.Fatalf("sheets %q, %v", names, err)
	}
	back, err := ReadSheet(path, "Table 2", "")
	if err != nil {
		t.Fatal(err)
	}
	same(t, back, mixed(t))
	if err := WriteWorkbook(path, mixed(t).Caption(strings.Repeat("µ", 60)+"'")); err != nil {
		t.Errorf("a long caption: %v", err)
	}
}

// reportBook is a sheet as people write it: remarks, an empty row, formulas,
// percentages.
func reportBook(t *testing.T, change func(book *excelize.File)) string {
	t.Helper()
	book := excelize.NewFile()
	defer book.Close()
	cells := map[string]any{"B1": "# invented", "B3": "product", "C3": "mass (t)", "D3": "TiO2 (%)", "E3": "yield",
		"B4": "concentrate", "C4": 12.5, "D4": 0.451, "E4": 0.125, "B6": "tailing", "C6": 87.5, "D6": 0.02, "E6": 0.875, "G30": ""}
	for cell, value := range cells {
		if err := book.SetCellValue("Sheet1", cell, value); err != nil {
			t.Fatal(err)
		}
	}
	percent, err := book.NewStyle(&excelize.Style{NumFmt: 10})
	if err != nil {
		t.Fatal(err)
	}
	if err := book.SetCellStyle("Sheet1", "D4", "E6", percent); err != nil {
		t.Fatal(err)
	}
	if change != nil {
		change(book)
	}
	path := filepath.Join(t.TempDir(), "report.xlsx")
	if err := book.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestReadSheetAsPeopleWriteIt(t *testing.T) {
	path := reportBook(t, nil)
	for _, area := range []string{"", "$B$3:$E$6", "B1:E9"} {
		sheet, err := ReadSheet(path, "Sheet1", area)
		if err != nil {
			t.Fatalf("%s: %v", area, err)
		}
		want, err := New(Texts("product", []string{"concentrate", "tailing"}),
			Quantities("mass", []quantity.Quantity{quantity.Of(12.5, "t"), quantity.Of(87.5, "t")}),
			Quantities("TiO2", []quantity.Quantity{quantity.Of(45.1, "%"), quantity.Of(2, "%")}),
			Quantities("yield", []quantity.Quantity{quantity.Of(12.5, "%"), quantity.Of(87.5, "%")}))
		if err != nil {
			t.Fatal(err)
		}
		same(t, sheet, want)
	}
}

// Of merged cells the first holds the value; the others are missing values, also
// where the first has a formula.
func TestMergedCells(t *testing.T) {
	path := filepath.Join(t.TempDir(), "merged.xlsx")
	book := excelize.NewFile()
	defer book.Close()
	for cell, value := range map[string]any{"A1": "run", "B1": "mass (g)", "A2": "a", "B2": 5, "A3": "b", "A4": "c", "B4": 7} {
		if err := book.SetCellValue("Sheet1", cell, value); err != nil {
			t.Fatal(err)
		}
	}
	for _, err := range []error{book.MergeCell("Sheet1", "B2", "B3"), book.SetCellFormula("Sheet1", "B2", "1+4"), book.SaveAs(path)} {
		if err != nil {
			t.Fatal(err)
		}
	}
	sheet, err := ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	mass, err := sheet.Column("mass")
	if err != nil || len(mass) != 3 || mass[0].Shown() != 5 || !mass[1].IsNaN() || mass[2].Shown() != 7 {
		t.Errorf("masses %v, %v", mass, err)
	}
}

func TestReadSheetErrorsNameTheCell(t *testing.T) {
	set := func(cell string, value any) func(*excelize.File) {
		return func(book *excelize.File) {
			if err := book.SetCellValue("Sheet1", cell, value); err != nil {
				t.Fatal(err)
			}
		}
	}
	tests := []struct {
		change      func(*excelize.File)
		sheet, area string
		want        []string
	}{
		{set("C4", "abt. 12"), "", "", []string{"report.xlsx", "cell C4", `column "mass"`, `"abt. 12" is no number`}},
		{set("C4", "<0.1"), "", "", []string{"cell C4", "a decision of yours"}},
		{set("C4", "#DIV/0!"), "", "", []string{"cell C4", "could not compute"}},
		{set("D3", "TiO2 (g/t)"), "", "", []string{"cell D4", "as a percentage"}},
		{set("D3", "TiO2 (parts)"), "", "", []string{"row 3", "TiO2 (parts)"}},
		{func(book *excelize.File) {
			if err := book.SetCellFormula("Sheet1", "C5", "C4*2"); err != nil {
				t.Fatal(err)
			}
			set("B5", "middling")(book)
		}, "", "", []string{"cell C5", "=C4*2", "no result"}},
		{func(book *excelize.File) { // 0.875 below 12.50 %
			plain, err := book.NewStyle(&excelize.Style{NumFmt: 2})
			if err == nil {
				err = book.SetCellStyle("Sheet1", "E6", "E6", plain)
			}
			if err != nil {
				t.Fatal(err)
			}
		}, "", "", []string{"cell E6", `column "yield"`, "those above as percentages"}},
		{func(book *excelize.File) { // hours that the sheet keeps as days
			format := "[h]:mm"
			hours, err := book.NewStyle(&excelize.Style{CustomNumFmt: &format})
			if err == nil {
				err = book.SetCellStyle("Sheet1", "C4", "C4", hours)
			}
			if err != nil {
				t.Fatal(err)
			}
		}, "", "", []string{"cell C4", `"300:00" is no number`}},
		{nil, "Sheet9", "", []string{"no sheet", "Sheet1"}},
		{nil, "", "B3", []string{"is no area"}},
		{nil, "", "E9:B3", []string{"is no area"}},
		{nil, "", "H1:I9", []string{"no header"}},
	}
	for _, test := range tests {
		_, err := ReadSheet(reportBook(t, test.change), test.sheet, test.area)
		for _, want := range test.want {
			if err == nil || !strings.Contains(err.Error(), want) {
				t.Errorf("error %v, want one with %q", err, want)
			}
		}
	}
	fake := filepath.Join(t.TempDir(), "fake.xlsx")
	if err := os.WriteFile(fake, []byte("a,b\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := ReadFile(fake); err == nil || !strings.Contains(err.Error(), "fake.xlsx") {
		t.Errorf("error %v", err)
	}
	if _, err := Sheets(filepath.Join(t.TempDir(), "none.xlsx")); err == nil {
		t.Error("a file that is not there was opened")
	}
}

func TestMissingValuesAreNamed(t *testing.T) {
	table, err := ReadCSV(strings.NewReader("sieve,mass (g),n\n#10,1,n/a\n#18,,2\n#35,–,\n"))
	if err != nil {
		t.Fatal(err)
	}
	mass, err := table.Column("mass")
	if err != nil || !mass[1].IsNaN() || mass[1].Unit().String() != "g" || !mass[2].IsNaN() {
		t.Errorf("masses %v, %v", mass, err)
	}
	err = table.Complete()
	for _, want := range []string{`row 2, column "mass"`, `row 3, column "mass"`, `row 1, column "n"`} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one with %q", err, want)
		}
	}
	if err := table.Complete("sieve"); err != nil {
		t.Error(err)
	}
	if table.Complete("x") == nil {
		t.Error("a column that is not there is complete")
	}
	if !strings.Contains(table.String(), "–") {
		t.Errorf("no dash in\n%s", table)
	}
}

// testdata/other.xlsx was written by openpyxl 3.1.5, which shares no code with the
// library that reads it here: remarks, an empty column, formats with words in
// them, percentages, dates.
func TestWorkbookOfAnotherProgram(t *testing.T) {
	sheet, err := ReadFile("testdata/other.xlsx")
	if err != nil {
		t.Fatal(err)
	}
	missing := quantity.Of(math.NaN(), "%")
	want, err := New(
		Texts("sieve", []string{"#20", "#40", "pan"}),
		Quantities("mass", []quantity.Quantity{quantity.Of(12.5, "g"), quantity.Of(1.0/3, "g"), quantity.Of(87, "g")}),
		Quantities("Cr2O3", []quantity.Quantity{missing, quantity.Of(41.25, "%"), missing}),
		Quantities("share", []quantity.Quantity{quantity.Of(12.5, "%"), quantity.Of(0.33, "%"), quantity.Of(87.17, "%")}),
		Texts("note", []string{"wet", "", "007"}))
	if err != nil {
		t.Fatal(err)
	}
	dates, err := sheet.Text("date")
	if err != nil || !strings.Contains(dates[0], "26") {
		t.Errorf("dates %q, %v", dates, err)
	}
	var kept []Column
	for _, column := range sheet.columns {
		if column.name != "date" {
			kept = append(kept, column)
		}
	}
	rest, err := New(kept...)
	if err != nil {
		t.Fatal(err)
	}
	same(t, rest, want)
}
