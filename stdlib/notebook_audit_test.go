package stdlib

import (
	"os"
	"slices"
	"testing"

	"cobber/stdlib/balance"
	"cobber/stdlib/mineral"
	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
	"cobber/stdlib/stream"
	"cobber/stdlib/table"

	"github.com/google/go-cmp/cmp"
)

// holdPage compares a page with the text under testdata/notebooks, which the
// notebook run by the kernel must show too.
func holdPage(t *testing.T, page *page, name string) {
	t.Helper()
	path := "../testdata/notebooks/" + name + ".txt"
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

// report is the invented report of notebooks/03-auditing-a-report.ipynb.
type report struct{ streams, claims, sizes table.Table }

func readReport(t *testing.T) report {
	sheet := func(name string) table.Table {
		return must(table.ReadSheet("../notebooks/data/tin-report.xlsx", name, ""))(t)
	}
	return report{sheet("Streams"), sheet("Claims"), sheet("Tailing by size")}
}

func (r report) measured(t *testing.T, name, column string) quantity.Quantity {
	return must(must(r.streams.Where("stream", name))(t).Column(column))(t)[0]
}

func (r report) printed(t *testing.T, claim string) quantity.Quantity {
	return must(quantity.Parse(must(must(r.claims.Where("claim", claim))(t).Text("printed"))(t)[0]))(t)
}

func (r report) circuit(t *testing.T) balance.Network {
	from, to := must(r.streams.Text("from"))(t), must(r.streams.Text("to"))(t)
	var all []balance.Stream
	for i, name := range must(r.streams.Text("stream"))(t) {
		all = append(all, balance.Stream{Name: name, From: from[i], To: to[i]})
	}
	return must(balance.NewNetwork(all...))(t)
}

func (r report) measurements(t *testing.T, concentrate quantity.Quantity, without ...string) []balance.Measurement {
	weighing := map[string]float64{"new feed": 2, "jig concentrate": 4, "table tailing": 5, "concentrate": 1}
	var all []balance.Measurement
	assay := func(name, metal string, rich, other float64) {
		if name == "concentrate" {
			other = rich
		}
		all = append(all, balance.Relatively(balance.Assay(name, metal, r.measured(t, name, metal), quantity.Of(other, "%"))))
	}
	for _, name := range must(r.streams.Text("stream"))(t) {
		flow := r.measured(t, name, "flow")
		if name == "concentrate" {
			flow = concentrate
		}
		if !flow.IsNaN() {
			all = append(all, balance.Flow(name, flow, quantity.Of(weighing[name], "%")))
		}
		if !slices.Contains(without, name) {
			assay(name, "Sn", 1, 4)
		}
		assay(name, "WO3", 2, 5)
	}
	return all
}

// TestAuditing does in plain Go what notebooks/03-auditing-a-report.ipynb does in
// cells.
func TestAuditing(t *testing.T) {
	page, r := &page{}, readReport(t)
	page.cell(1, r.streams)
	page.cell(2, r.claims)
	wet, head, rich := r.measured(t, "concentrate", "flow"), r.measured(t, "new feed", "Sn"), r.measured(t, "concentrate", "Sn")
	page.cell(4, wet.Mul(rich).Div(r.measured(t, "new feed", "flow").Mul(head)).To("%"), r.printed(t, "recovery of Sn"))
	byAssays := must(balance.Grades(head, rich, r.measured(t, "tailing", "Sn")))(t)
	page.cell(5, byAssays.Recovery(), byAssays.Concentration(), r.printed(t, "ratio of concentration"))
	page.cell(6, must(mineral.Convert(rich, "Sn", "cassiterite"))(t), r.printed(t, "cassiterite in the concentrate"))
	tailing := must(size.FromTable(r.sizes))(t)
	page.cell(7, tailing)
	page.cell(8, tailing.CheckLoss(r.printed(t, "tailing sieved"), quantity.Of(1, "%")))

	circuit := r.circuit(t)
	page.cell(12, must(circuit.Reconcile(r.measurements(t, wet)...))(t))
	dry := must(stream.DryRate(wet, r.printed(t, "moisture of the filter cake")))(t)
	page.cell(13, dry)
	onDry := must(circuit.Reconcile(r.measurements(t, dry)...))(t)
	page.cell(14, must(onDry.Global(0.95))(t))
	page.cell(16, onDry.Closure())
	if worst := must(onDry.Suspects(0.95))(t)[0]; worst.Stream != "table tailing" || worst.Component != "Sn" {
		t.Errorf("the worst suspect is the %s of the %s; the planted mistake is the tin of the table tailing", worst.Component, worst.Stream)
	}
	final := must(circuit.Reconcile(r.measurements(t, dry, "table tailing")...))(t)
	page.cell(17, final)
	page.cell(20, must(final.Metallurgical("new feed", "Sn", "WO3"))(t))
	holdPage(t, page, "03-auditing-a-report")
}

// TestTwoProductFormula does in plain Go what
// notebooks/04-two-product-formula.ipynb does in cells.
func TestTwoProductFormula(t *testing.T) {
	page := &page{}
	pc := func(x float64) quantity.Quantity { return quantity.Of(x, "%") }
	f, c, tail := pc(4.2), pc(62), pc(0.55)
	yield := f.Sub(tail).Div(c.Sub(tail))
	page.cell(1, yield.To("%"), yield.Mul(c).Div(f).To("%"))
	page.cell(2, f.Sub(yield.Mul(c).Add(quantity.Number(1).Sub(yield).Mul(tail))))
	plant := must(balance.Grades(f, c, tail))(t)
	page.cell(3, plant)
	page.cell(4, must(balance.Grades(pc(10), pc(30), pc(1)))(t).Recovery())
	_, impossible := balance.Grades(pc(4.2), pc(62), pc(4.35))
	page.cell(6, impossible)
	page.cell(7, must(plant.Trust(pc(2)))(t))
	sorter := must(balance.Grades(pc(4.2), pc(4.9), pc(3.05)))(t)
	page.cell(8, sorter, must(sorter.Trust(pc(2)))(t))

	withSpill := pc(0.05 * 62).Add(pc(0.03 * 30)).Add(pc((1 - 0.05 - 0.03) * 0.55))
	fooled := must(balance.Grades(withSpill, pc(62), pc(0.55)))(t)
	page.cell(11, fooled.Recovery(), pc(0.05*62).Div(withSpill).To("%"))
	holdPage(t, page, "04-two-product-formula")
}
