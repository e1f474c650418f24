package stdlib

import (
	"testing"

	"cobber/stdlib/claims"
	"cobber/stdlib/comminution"
	"cobber/stdlib/flowsheet"
	"cobber/stdlib/mineral"
	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
	"cobber/stdlib/stream"
)

// reviewed is the ledger of the invented paper of
// notebooks/08-review-of-a-paper.ipynb.
func reviewed(t *testing.T) *claims.Ledger {
	paper := claims.New("the paper under review (invented)")
	state := func(name string, value quantity.Quantity, where, rests string) {
		if err := paper.State(claims.Entry{Name: name, Value: value, Where: where, Rests: rests}); err != nil {
			t.Fatal(err)
		}
	}
	percent := func(x float64) quantity.Quantity { return quantity.Of(x, "%") }
	state("feed rate", quantity.Of(2.4, "t/h"), "section 2", "")
	state("feed grade", percent(8.4), "table 1", "ten samples")
	if err := paper.State(claims.Entry{Name: "concentrate grade", Value: percent(46), Where: "table 1", Rests: "ten samples", Rounding: percent(0.05)}); err != nil {
		t.Fatal(err)
	}
	state("tailing grade", percent(2.9), "table 1", "ten samples")
	state("yield", percent(12.5), "section 4", "weights of the products")
	state("recovery", percent(87), "abstract", "not said")
	state("ilmenite in the concentrate", percent(96), "conclusions", "not said")
	state("best grade", percent(54.5), "section 4", "one sample of run 7")
	state("P80", quantity.Of(150, "µm"), "section 2", "table 2")
	state("F80", quantity.Of(1800, "µm"), "section 2", "")
	state("milling energy", quantity.Of(1.1, "kWh/t"), "section 5", "a work index of 14.5 kWh/t")
	state("power of the elevator", quantity.Of(50, "W"), "section 5", "a lift of 12 m")
	state("power of the drums", quantity.Of(1.9, "kW"), "section 5", "not said")
	if err := paper.Read("throughput", "2.6 short tons per hour", "abstract"); err != nil {
		t.Fatal(err)
	}
	return paper
}

// TestReview does in plain Go what notebooks/08-review-of-a-paper.ipynb does in
// cells. By hand: the grades give a yield of 5.5/43.1 = 12.76 % and a recovery of
// 69.9 %; yield and grades, 68.5 %; 46/52.65 is 87.4 % ilmenite; Bond's law with
// 14.5 kWh/t from 1800 to 171 µm asks for 7.7 kWh/t; the lift is 78.5 W.
func TestReview(t *testing.T) {
	quantity.Seed(1)
	page, paper := &page{}, reviewed(t)
	none, rate := quantity.Of(0, "%"), quantity.Of(2.4, "t/h")
	page.cell(2, must(paper.Against("throughput", rate, "the feed rate of section 2", none))(t))
	grades := claims.Separation{Feed: "feed grade", Concentrate: "concentrate grade", Tailing: "tailing grade", Yield: "yield", Recovery: "recovery"}
	var both []any
	for _, v := range must(paper.TwoProduct(grades, none))(t) {
		both = append(both, v)
	}
	page.cell(3, both...)
	page.cell(4, must(mineral.Convert(quantity.Of(46, "%"), "TiO2", "ilmenite"))(t))
	page.cell(5, must(paper.Implied("ilmenite in the concentrate", func(q []quantity.Quantity) (quantity.Quantity, error) {
		return mineral.Convert(q[0], "TiO2", "ilmenite")
	}, "TiO2 as ilmenite", none, "concentrate grade"))(t))
	page.cell(6, must(paper.Purity("best grade", "TiO2", "ilmenite"))(t))
	least := rate.Mul(quantity.Of(9.80665, "m/s2")).Mul(quantity.Of(12, "m")).To("W")
	page.cell(7, must(paper.AtLeast("power of the elevator", least, "weight times height"))(t))
	must(paper.Share("yield"))(t)
	page.cell(8, must(paper.Share("recovery"))(t))
	reviewEnergy(t, page, paper)
	reviewModel(t, page, paper, rate)
	page.cell(23, must(paper.Missing("power of the drums", "the torque and the speed of the drums", "their power without feed"))(t))
	page.cell(24, paper)
	holdPage(t, page, "08-review-of-a-paper")
}

// reviewEnergy is the sizes, the energy and the uncertain recovery.
func reviewEnergy(t *testing.T, page *page, paper *claims.Ledger) {
	none := quantity.Of(0, "%")
	milled := must(size.FromPassing(quantities("µm", 300, 212, 150, 106, 75, 53), quantities("%", 98.5, 88.9, 74.6, 57.0, 40.1, 26.3)))(t)
	d80 := must(milled.D(80))(t)
	page.cell(11, must(paper.Against("P80", d80, "table 2, between its sieves", quantity.Of(2, "%")))(t))
	normal := func(mean quantity.Quantity, deviation float64, unit string) quantity.Quantity {
		return must(quantity.Normal(mean, quantity.Of(deviation, unit)))(t)
	}
	bond := must(comminution.Bond(normal(quantity.Of(14.5, "kWh/t"), 1.45, "kWh/t"), quantity.Of(1800, "µm"), normal(d80, 10, "µm")))(t)
	page.cell(12, must(paper.Against("milling energy", bond, "Bond's law with the paper's index and table 2", none))(t))
	f, c, tail := normal(quantity.Of(8.4, "%"), 0.3, "%"), normal(quantity.Of(46, "%"), 0.8, "%"), normal(quantity.Of(2.9, "%"), 0.15, "%")
	recovery := f.Sub(tail).Div(c.Sub(tail)).Mul(c).Div(f).To("%")
	page.cell(13, recovery)
	page.cell(16, must(paper.Against("recovery", recovery, "three uncertain grades", none))(t))
}

// reviewModel is the separator from the bench test of single grains.
func reviewModel(t *testing.T, page *page, paper *claims.Ledger, rate quantity.Quantity) {
	ilmenite, anorthite := must(mineral.Find("ilmenite"))(t), must(mineral.Find("anorthite"))(t)
	free, barren := must(stream.Free(ilmenite))(t), must(stream.Free(anorthite))(t)
	middling := must(stream.Locked(ilmenite, quantity.Of(40, "%"), anorthite))(t)
	openings := quantities("µm", 500, 300, 212, 150, 106, 75, 53)
	classes := must(stream.NewClasses(openings, free, middling, barren))(t)
	content := must(mineral.Convert(quantity.Of(8.4, "%"), "TiO2", "ilmenite"))(t)
	first, second := content.Mul(quantity.Number(0.8)), content.Mul(quantity.Number(0.2)).Div(quantity.Number(0.4))
	shares := []quantity.Quantity{first, second, quantity.Of(100, "%").Sub(first).Sub(second)}
	whole := must(size.FromPassing(openings, quantities("%", 100, 98.5, 88.9, 74.6, 57.0, 40.1, 26.3)))(t)
	feed := must(stream.Feed("feed", classes, rate, whole, shares, quantity.Of(0, "t/h")))(t)
	bench := map[string]float64{free.Name: 0.78, middling.Name: 0.25, barren.Name: 0.006}
	drum := flowsheet.Separation{First: "magnetics", Second: "rest",
		Share: func(_ quantity.Quantity, p stream.Particle) float64 { return bench[p.Name] }}
	plant := must(flowsheet.New("the pilot plant, modelled", []stream.Stream{feed}, flowsheet.Do("drum", drum, "feed")))(t)
	run := must(plant.Solve())(t)
	page.cell(19, must(run.Balance("TiO2", "ilmenite"))(t))
	grade := must(must(run.Stream("drum.magnetics"))(t).Grade("TiO2"))(t)
	recovery, yield := must(run.Recovery("drum.magnetics", "TiO2"))(t), must(run.Recovery("drum.magnetics", "solids"))(t)
	const how = "model from the bench test"
	must(paper.Against("concentrate grade", grade, how, quantity.Of(3, "%")))(t)
	must(paper.Against("yield", yield, how, quantity.Of(3, "%")))(t)
	must(paper.Against("recovery", recovery, how, quantity.Of(3, "%")))(t)
	page.cell(21, yield, grade, recovery)
}

func quantities(unit string, values ...float64) []quantity.Quantity {
	out := make([]quantity.Quantity, len(values))
	for i, x := range values {
		out[i] = quantity.Of(x, unit)
	}
	return out
}
