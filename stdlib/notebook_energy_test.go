package stdlib

import (
	"fmt"
	"testing"

	"cobber/stdlib/comminution"
	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// carrier is the laws of notebooks/07-energy-laws.ipynb, made to agree with a reduction.
type carrier struct{ t *testing.T }

func (c carrier) through(n quantity.Quantity, r comminution.Reduction) comminution.Law {
	return must(comminution.LawThrough(n, r.Energy, r.Feed, r.Product))(c.t)
}

func (c carrier) energy(law comminution.Law, feed, product quantity.Quantity) quantity.Quantity {
	return must(law.Energy(feed, product))(c.t)
}

// TestEnergyLaws does in plain Go what notebooks/07-energy-laws.ipynb does in cells.
// That the laws are right is the matter of published/comminution_test.go.
func TestEnergyLaws(t *testing.T) {
	quantity.Seed(1)
	of, c, page := quantity.Of, carrier{t}, &page{}
	reduction := func(energy, feed, product float64) comminution.Reduction {
		return comminution.Reduction{Energy: of(energy, "kWh/t"), Feed: of(feed, "mm"), Product: of(product, "mm")}
	}
	test := reduction(5.1, 4.5, 0.6)
	var crusher, check, filler []quantity.Quantity
	for _, n := range []float64{1, 1.5, 2} {
		law := c.through(quantity.Number(n), test)
		crusher = append(crusher, c.energy(law, of(420, "mm"), of(110, "mm")))
		check = append(check, c.energy(law, test.Feed, test.Product))
		filler = append(filler, c.energy(law, of(0.6, "mm"), of(75, "µm")))
	}
	page.cell(1, must(table.New(table.Texts("law", []string{"Kick", "Bond", "Rittinger"}), table.Quantities("420 to 110 mm", crusher),
		table.Quantities("4.5 to 0.6 mm (given)", check), table.Quantities("0.6 mm to 75 µm", filler)))(t).
		Caption("One measurement, carried to other sizes (invented data)"))

	measured := []comminution.Reduction{reduction(0.40, 420, 110), reduction(0.68, 110, 24), reduction(1.40, 24, 4.5), test, reduction(6.9, 0.6, 0.2)}
	fit := must(comminution.FitLaw(measured...))(t)
	coarse, fine := must(comminution.FitLaw(measured[:3]...))(t), must(comminution.FitLaw(measured[2:]...))(t)
	page.cell(3, fmt.Sprintf("n = %.2f ± %.2f; the energies lie about the law by %.0f", fit.Law.Exponent(), fit.ExponentDeviation, fit.Scatter))
	page.cell(4, must(table.New(table.Texts("reductions", []string{"coarse: 420 to 4.5 mm", "fine: 24 to 0.2 mm", "all"}),
		table.Quantities("exponent n", []quantity.Quantity{coarse.Law.Exponent(), fine.Law.Exponent(), fit.Law.Exponent()}),
		table.Quantities("standard error", []quantity.Quantity{coarse.ExponentDeviation, fine.ExponentDeviation, fit.ExponentDeviation})))(t))
	last := measured[4]
	carried := func(n quantity.Quantity) quantity.Quantity {
		return c.energy(c.through(n, last), of(0.6, "mm"), of(75, "µm"))
	}
	page.cell(5, carried(quantity.Number(1.5)), carried(fine.Law.Exponent()), carried(quantity.Number(2)))
	_, err := comminution.Bond(quantity.Number(18.2), of(4.5, "mm"), of(75, "µm"))
	page.cell(6, err)
	showDrive(t, page, last)
	showFillerUncertainty(t, page)
	holdPage(t, page, "07-energy-laws")
}

// showDrive is the work index, the factors of the mill and the blow of a rotor.
func showDrive(t *testing.T, page *page, last comminution.Reduction) {
	of := quantity.Of
	operating := must(comminution.OperatingWorkIndex(last.Energy, last.Feed, last.Product))(t)
	rock := must(comminution.FindMaterial("trap rock"))(t)
	page.cell(7, must(table.New(table.Texts("work index", []string{"of the last reduction", "of trap rock"}),
		table.Quantities("per tonne", []quantity.Quantity{operating, rock.WorkIndex.To("kWh/t")}),
		table.Quantities("per short ton", []quantity.Quantity{operating.To("kWh/st"), rock.WorkIndex})))(t))
	factors := must(comminution.Duty{WorkIndex: operating, Feed: of(4.5, "mm"), Product: of(75, "µm"),
		Media: comminution.Balls, Dry: true, OpenCircuit: of(80, "%"), Diameter: of(1.8, "m")}.Factors())(t)
	page.cell(8, factors)
	rate := of(9, "t/h")
	page.cell(9, rate.Mul(factors.Bond), rate.Mul(factors.Required))
	rotor := comminution.Rotor{Diameter: of(1.2, "m"), Speed: of(955, "rpm")}
	page.cell(10, must(rotor.TipSpeed())(t), must(rotor.ImpactEnergy(comminution.Struck))(t),
		must(rotor.RimStress(of(7.85, "t/m3"), comminution.Rim))(t))
}

// showFillerUncertainty carries the uncertain last reduction to the filler.
func showFillerUncertainty(t *testing.T, page *page) {
	of := quantity.Of
	normal := func(mean, deviation float64, unit, name string) quantity.Quantity {
		return must(quantity.Normal(of(mean, unit), of(deviation, unit)))(t).Named(name)
	}
	meter := normal(6.9, 0.28, "kWh/t", "measured energy")
	feed, product := normal(0.6, 0.03, "mm", "feed size"), normal(0.2, 0.01, "mm", "product size")
	exponent := must(quantity.Uniform(quantity.Number(1.5), quantity.Number(2)))(t).Named("exponent n")
	law := must(comminution.LawThrough(exponent, meter, feed, product))(t)
	wanted := must(law.Energy(of(0.6, "mm"), of(75, "µm")))(t)
	page.cell(12, wanted)
	var names []string
	var shares []quantity.Quantity
	for _, influence := range wanted.Influences() {
		names, shares = append(names, influence.Name), append(shares, quantity.Number(influence.Share).To("%"))
	}
	page.cell(13, must(table.New(table.Texts("input", names), table.Quantities("share of the variance", shares)))(t).
		Caption("What the uncertainty of the filler's energy comes from"))
	low, high, err := wanted.Interval(0.95)
	if err != nil {
		t.Fatal(err)
	}
	most := wanted.Influences()[0]
	page.cell(14, fmt.Sprintf("Grinding from 0.6 mm to 75 µm takes %.0f to %.0f (95 %%).\nThe input that matters most is the %s, with %.0f %% of the variance.",
		low.To("kWh/t"), high.To("kWh/t"), most.Name, 100*most.Share))
}
