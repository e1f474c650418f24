package stdlib

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"cobber/stdlib/balance"
	"cobber/stdlib/plot"
	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
	"cobber/stdlib/table"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the texts in testdata anew")

// page collects what the cells of a notebook show, as text. Cells are counted
// as the notebook counts its code cells.
type page struct{ strings.Builder }

func (p *page) cell(count int, values ...any) {
	fmt.Fprintf(p, "-- cell %d --\n", count)
	for _, value := range values {
		fmt.Fprintln(p, value)
	}
}

// TestSieveAndBalance does in plain Go what notebooks/01-sieve-and-balance.ipynb
// does in cells, and compares the text of what is shown, cell by cell, with
// testdata/notebooks. The notebook run by the kernel must show the same text.
// That the figures are right is the matter of balance/notebook_test.go.
func TestSieveAndBalance(t *testing.T) {
	page := &page{}
	sheet := must(table.ReadFile("../notebooks/data/black-sand.csv"))(t)
	page.cell(1, sheet)
	concentrate := must(size.FromTable(must(sheet.Where("stream", "concentrate"))(t)))(t)
	tailing := must(size.FromTable(must(sheet.Where("stream", "tailing"))(t)))(t)
	page.cell(4, concentrate)
	page.cell(5, tailing)
	showSizes(t, page, concentrate, tailing)
	showBalance(t, page, concentrate, tailing)

	const path = "../testdata/notebooks/01-sieve-and-balance.txt"
	if *update {
		if err := os.WriteFile(path, []byte(page.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), page.String()); diff != "" {
		t.Errorf("what the notebook shows (-want +got; run with -update if it is right):\n%s", diff)
	}
}

// must hands on a value, or fails the test that asks for it.
func must[T any](value T, err error) func(t *testing.T) T {
	return func(t *testing.T) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return value
	}
}

func showSizes(t *testing.T, page *page, concentrate, tailing size.Distribution) {
	d := func(stream size.Distribution, percent float64) quantity.Quantity {
		return must(stream.D(percent))(t)
	}
	page.cell(6, must(table.New(
		table.Texts("stream", []string{"concentrate", "tailing"}),
		table.Quantities("d50", []quantity.Quantity{d(concentrate, 50), d(tailing, 50)}),
		table.Quantities("d80", []quantity.Quantity{d(concentrate, 80), d(tailing, 80)}),
	))(t))
	page.cell(7, d(tailing, 80).Sub(d(concentrate, 80)))
	page.cell(8, must(plot.Draw(
		plot.Axes{
			Title: "Size distributions of the two products (invented data)",
			X:     plot.Axis{Name: "sieve opening", Log: true},
			Y:     plot.Axis{Name: "passing"},
		},
		plot.Line{Name: "concentrate", X: concentrate.Openings(), Y: concentrate.Passing(), Marked: true},
		plot.Line{Name: "tailing", X: tailing.Openings(), Y: tailing.Passing(), Marked: true},
	))(t))
}

func showBalance(t *testing.T, page *page, concentrate, tailing size.Distribution) {
	head := quantity.Of(9.6, "%")
	inConcentrate := must(concentrate.Grade("TiO2"))(t)
	plant := must(balance.Grades(head, inConcentrate, must(tailing.Grade("TiO2"))(t)))(t)
	page.cell(9, plant)
	feed := quantity.Of(18.5, "t/h")
	page.cell(10, feed.Mul(plant.Yield()))
	page.cell(11, feed.Mul(head).Mul(plant.Loss()).Mul(quantity.Of(24, "h")))
	page.cell(12, must(plant.SeparationEfficiency(quantity.Of(52.65, "%")))(t))
	assays := quantity.Of(2, "%")
	page.cell(13,
		assays.Mul(quantity.Number(plant.YieldSensitivity().Together())),
		assays.Mul(quantity.Number(plant.RecoverySensitivity().Together())))

	bySize := must(balance.BySize(concentrate, tailing, "TiO2", plant.Yield()))(t)
	page.cell(14, bySize)
	page.cell(15, bySize.Recovery(), plant.Recovery())
	page.cell(16, must(plot.Draw(
		plot.Axes{
			Title: "Recovery of TiO2 by size (invented data)",
			X:     plot.Axis{Name: "mean size of the class", Log: true},
			Y:     plot.Axis{Name: "recovery of TiO2", Zero: true},
		},
		plot.Line{X: bySize.MeanSizes(), Y: bySize.Recoveries(), Marked: true},
	))(t))

	lost := must(tailing.Metal("TiO2"))(t)
	fines := lost[len(lost)-2].Add(lost[len(lost)-1])
	mass := must(tailing.PassingAt(quantity.Of(90, "µm")))(t)
	page.cell(17, mass, fines)
	page.cell(18, fmt.Sprintf("The plant recovers %.1f of the TiO2 in %.1f of the mass, at a grade of %.1f;\n"+
		"%.0f of what it loses lies in the %.0f of the tailing that passes 90 µm.",
		plant.Recovery(), plant.Yield(), inConcentrate, fines, mass))
}
