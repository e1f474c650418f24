package balance_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"cobber/stdlib/balance"
	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
	"cobber/stdlib/table"
)

// This file computes what notebooks/01-sieve-and-balance.ipynb computes, once
// with the library and once by plain sums over the rows of its (invented) data,
// so that the figures the notebook shows rest on two ways.

const sandFile = "../../notebooks/data/black-sand.csv"

// row is one class of the sheet, read without the library.
type row struct{ mass, grade float64 }

func rowsOf(t *testing.T, stream string) []row {
	t.Helper()
	file, err := os.Open(sandFile)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	records, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []row
	for _, record := range records[1:] {
		if record[0] != stream {
			continue
		}
		mass, massErr := strconv.ParseFloat(record[2], 64)
		grade, gradeErr := strconv.ParseFloat(record[3], 64)
		if massErr != nil || gradeErr != nil {
			t.Fatal(massErr, gradeErr)
		}
		rows = append(rows, row{mass, grade / 100})
	}
	if len(rows) != 8 {
		t.Fatalf("%d classes of the %s, want 8", len(rows), stream)
	}
	return rows
}

func sums(rows []row) (mass, metal float64) {
	for _, r := range rows {
		mass, metal = mass+r.mass, metal+r.mass*r.grade
	}
	return mass, metal
}

func analysis(t *testing.T, stream string) size.Distribution {
	t.Helper()
	sheet, err := table.ReadFile(sandFile)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := sheet.Where("stream", stream)
	if err != nil {
		t.Fatal(err)
	}
	d, err := size.FromTable(rows)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func in(t *testing.T, q quantity.Quantity, unit string) float64 {
	t.Helper()
	x, err := q.Value(unit)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func same(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-9*math.Abs(want)) {
		t.Errorf("%s: %.12g by the library, %.12g by plain sums", what, got, want)
	}
}

func gradeOf(t *testing.T, d size.Distribution) quantity.Quantity {
	t.Helper()
	grade, err := d.Grade("TiO2")
	if err != nil {
		t.Fatal(err)
	}
	return grade
}

func TestNotebookBalance(t *testing.T) {
	concentrate, tailing := analysis(t, "concentrate"), analysis(t, "tailing")
	cRows, tRows := rowsOf(t, "concentrate"), rowsOf(t, "tailing")
	cMass, cMetal := sums(cRows)
	tMass, tMetal := sums(tRows)
	c, tail, f := cMetal/cMass, tMetal/tMass, 0.096
	same(t, "grade of the concentrate", in(t, gradeOf(t, concentrate), "1"), c)
	same(t, "grade of the tailing", in(t, gradeOf(t, tailing), "1"), tail)

	plant, err := balance.Grades(quantity.Of(9.6, "%"), gradeOf(t, concentrate), gradeOf(t, tailing))
	if err != nil {
		t.Fatal(err)
	}
	yield := (f - tail) / (c - tail)
	same(t, "yield", in(t, plant.Yield(), "1"), yield)
	same(t, "recovery", in(t, plant.Recovery(), "1"), 1-(1-yield)*tail/f)
	flow := quantity.Of(18.5, "t/h")
	same(t, "concentrate, t/h", in(t, flow.Mul(plant.Yield()), "t/h"), 18.5*yield)
	lost := flow.Mul(plant.Feed()).Mul(plant.Loss()).Mul(quantity.Of(24, "h"))
	same(t, "TiO2 lost in a day, t", in(t, lost, "t"), 18.5*24*(1-yield)*tail)

	bySize, err := balance.BySize(concentrate, tailing, "TiO2", plant.Yield())
	if err != nil {
		t.Fatal(err)
	}
	for i := range cRows {
		kept := yield * cRows[i].mass / cMass * cRows[i].grade
		gone := (1 - yield) * tRows[i].mass / tMass * tRows[i].grade
		same(t, "recovery of class "+bySize.Classes()[i], in(t, bySize.Recoveries()[i], "1"), kept/(kept+gone))
	}
	same(t, "recovery of all classes", in(t, bySize.Recovery(), "1"), in(t, plant.Recovery(), "1"))
	same(t, "grade of the calculated feed", in(t, bySize.FeedGrade(), "1"), f)
}

// The sieves around each size are named here by hand: 56.4 and 20.5 % of the
// concentrate pass 180 and 125 µm, 33.1 and 65.0 % of the tailing 180 and 250.
func TestNotebookSizes(t *testing.T) {
	tests := []struct {
		stream       string
		percent      float64
		lower, upper float64 // µm
		first        int     // class whose lower sieve is lower
	}{
		{"concentrate", 50, 125, 180, 4}, {"concentrate", 80, 180, 250, 3},
		{"tailing", 50, 180, 250, 3}, {"tailing", 80, 250, 355, 2},
	}
	for _, test := range tests {
		rows := rowsOf(t, test.stream)
		total, _ := sums(rows)
		below, _ := sums(rows[test.first+1:])
		above, _ := sums(rows[test.first:])
		along := (test.percent/100 - below/total) / ((above - below) / total)
		want := test.lower * math.Pow(test.upper/test.lower, along)
		got, err := analysis(t, test.stream).D(test.percent)
		if err != nil {
			t.Error(err)
			continue
		}
		same(t, test.stream+" d"+strconv.FormatFloat(test.percent, 'g', -1, 64)+", µm", in(t, got, "µm"), want)
	}
}

func TestNotebookClosures(t *testing.T) {
	for stream, before := range map[string]float64{"concentrate": 246.3, "tailing": 479} {
		if err := analysis(t, stream).CheckLoss(quantity.Of(before, "g"), quantity.Of(0.5, "%")); err != nil {
			t.Errorf("%s: %v", stream, err)
		}
	}
	titania := 47.867 + 2*15.999 // TiO2 in FeTiO3, atomic masses of IUPAC 2021
	if share := 100 * titania / (55.845 + 47.867 + 3*15.999); math.Abs(share-52.65) > 0.01 {
		t.Errorf("ilmenite holds %.3f %% TiO2, the notebook says 52.65 %%", share)
	}
}
