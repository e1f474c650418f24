package stdlib

import (
	"math"
	"testing"

	"cobber/stdlib/comminution"
	"cobber/stdlib/electrostatic"
	"cobber/stdlib/flowsheet"
	"cobber/stdlib/haulage"
	"cobber/stdlib/magnetic"
	"cobber/stdlib/mineral"
	"cobber/stdlib/place"
	"cobber/stdlib/quantity"
	"cobber/stdlib/screening"
	"cobber/stdlib/stream"
	"cobber/stdlib/table"
)

func samples(t *testing.T, count int) {
	t.Helper()
	if err := quantity.SetSamples(count); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = quantity.SetSamples(quantity.DefaultSamples) })
}

// TestQuarry does in plain Go what notebooks/06-quarry-off-earth.ipynb does in
// cells.
func TestQuarry(t *testing.T) {
	page, of, mars := &page{}, quantity.Of, place.Mars()
	page.cell(1, mars)
	samples(t, 600)
	between := func(name string, low, high float64, unit string) quantity.Quantity {
		return must(quantity.Uniform(of(low, unit), of(high, unit)))(t).Named(name)
	}
	basalt := between("basalt left at the face", 45, 70, "%")
	rolling := between("rolling resistance of sand", 0.10, 0.25, "1")
	plant := between("mass of the travelling plant", 25, 60, "t")
	working := between("energy of the travelling plant", 2.0, 3.2, "kWh/t")
	drive := between("efficiency of the truck's drive", 0.70, 0.90, "1")
	setup := between("time to set the plant up", 12, 48, "h")
	page.cell(3, basalt, rolling, plant)

	haul := haulage.Haul{
		Vehicle: haulage.Vehicle{Empty: of(5, "t"), Payload: of(8, "t"), Power: of(60, "kW"), Efficiency: drive, Recovered: of(30, "%")},
		Legs: []haulage.Leg{
			{Distance: of(1, "km"), Grade: of(-2, "%"), Rolling: rolling, Limit: of(12, "km/h")},
			{Distance: of(3, "km"), Grade: of(-2, "%"), Rolling: quantity.Number(0.05), Limit: of(25, "km/h")},
		},
		Load: of(8, "min"), Dump: of(3, "min"), Gravity: mars.Gravity,
	}
	round := must(haul.Cycle())(t)
	page.cell(5, round)
	onEarth := haul
	onEarth.Gravity = place.Earth().Gravity
	page.cell(6, round.PerKm, must(onEarth.Cycle())(t).PerKm)
	page.cell(7, must(round.Fleet(of(12, "t/h"), of(75, "%"), 1))(t))
	page.cell(8, drafts(t, mars.Gravity))
	quarry := haulage.Journey{
		Ore: of(60000, "t"), Rate: of(12, "t/h"), Rejected: basalt, ByProduct: of(10, "%"), Haul: haul, Vehicles: 3,
		Standing: of(1.8, "kWh/t"), Travelling: working, Plant: plant, Rolling: rolling, Step: of(80, "m"),
		Worked: of(1500, "t"), SetUp: setup, Crawl: of(0.1, "m/s"), Drive: quantity.Number(0.7),
	}
	page.cell(10, must(quarry.At(of(4, "km")))(t))
	page.cell(11, must(quarry.BreakEven(of(60, "km")))(t))
	page.cell(16, must(quarry.BreakEvenShare(of(12, "km")))(t))

	track := between("energy to make and lay track", 300, 1200, "MWh/km")
	train := haul
	train.Legs = []haulage.Leg{{Distance: of(4, "km"), Grade: of(-0.5, "%"), Rolling: quantity.Number(0.004), Limit: of(25, "km/h")}}
	byRail := must(train.Cycle())(t)
	tonnage := must(haulage.RailsPay(track, round.PerKm, byRail.PerKm))(t)
	page.cell(18, round.PerKm, byRail.PerKm, tonnage)
	page.cell(19, tonnage.Div(of(20, "yr")).To("t/h"))
	holdPage(t, page, "06-quarry-off-earth")
}

// drafts is the table of what a blade takes in two kinds of ground.
func drafts(t *testing.T, mars quantity.Quantity) table.Table {
	of := quantity.Of
	blade := haulage.Blade{Width: of(1.5, "m"), Depth: of(15, "cm"), Rake: of(50, "°"), Friction: of(20, "°")}
	loose := haulage.Soil{Density: of(1600, "kg/m³"), Friction: of(33, "°")}
	crusted := loose
	crusted.Cohesion = of(8, "kPa")
	at := func(gravity quantity.Quantity) []quantity.Quantity {
		return []quantity.Quantity{must(haulage.Dig(loose, blade, gravity))(t).Draft, must(haulage.Dig(crusted, blade, gravity))(t).Draft}
	}
	return must(table.New(table.Texts("ground", []string{"loose sand", "crusted sand"}),
		table.Quantities("draft on Mars", at(mars)), table.Quantities("draft on the Earth", at(place.Earth().Gravity))))(t)
}

// slagYard is the plant of notebooks/05-metal-beads-in-slag.ipynb.
type slagYard struct {
	t                                  *testing.T
	bead, rich, middling, poor, barren stream.Particle
	feed                               stream.Stream
	family                             comminution.Family
}

func newSlagYard(t *testing.T) *slagYard {
	y, of := &slagYard{t: t}, quantity.Of
	phase := func(name string, names []string, shares []float64, density float64) mineral.Mineral {
		assay := make([]quantity.Quantity, len(shares))
		for i, share := range shares {
			assay[i] = of(share, "%")
		}
		figure := mineral.Figure{Low: of(density, "g/cm³"), High: of(density, "g/cm³"), Source: "invented"}
		return must(mineral.FromAssay(name, must(mineral.NewComposition(names, assay))(t), of(0.1, "%"), figure))(t)
	}
	slag := phase("slag", []string{"SiO2", "MgO", "FeO", "CaO", "Al2O3"}, []float64{46, 26, 16, 7, 5}, 3.1)
	metal := phase("ferronickel", []string{"Fe", "Ni"}, []float64{79, 21}, 8.1)
	y.bead, y.barren = must(stream.Free(metal))(t), must(stream.Free(slag))(t)
	locked := func(percent float64) stream.Particle { return must(stream.Locked(metal, of(percent, "%"), slag))(t) }
	y.rich, y.middling, y.poor = locked(70), locked(30), locked(8)
	var openings []quantity.Quantity
	for _, x := range []float64{32, 22.4, 16, 11.2, 8, 5.6, 4, 2.8, 2, 1.4, 1, 0.71, 0.5, 0.355, 0.25, 0.125} {
		openings = append(openings, of(x, "mm"))
	}
	classes := must(stream.NewClasses(openings, y.bead, y.rich, y.middling, y.poor, y.barren))(t)
	passing := []float64{100, 100, 100, 100, 100, 78, 60, 44, 32, 23, 16, 11, 7.5, 5, 3, 1.2, 0}
	rows := make([][]float64, len(openings))
	for i := range rows {
		mass := (passing[i] - passing[i+1]) / 100 * 10 / 3.6
		rows[i] = make([]float64, 5)
		for j, share := range []float64{0.012, 0.013, 0.05, 0.30, 0.625} {
			if j == 0 && i < 9 {
				share, rows[i][3] = 0, mass*0.012
			}
			rows[i][j] += mass * share
		}
	}
	y.feed = must(stream.New("slag", classes, rows, quantity.Quantity{}))(t)
	y.family = must(comminution.TruncatedRosinRammler(quantity.Number(0.7)))(t)
	return y
}

func (y *slagYard) mill() comminution.ImpactMill {
	of := quantity.Of
	glass := comminution.Impact{Most: of(55, "%"), Ease: of(1.4, "t/kWh"), At: of(3, "mm")}
	falls := func(part, rest float64) comminution.Behaviour {
		return comminution.Behaviour{Impact: glass, Family: y.family, Releases: []comminution.Release{
			{Particle: y.bead.Name, Share: of(part, "%"), Grain: of(0.8, "mm")}, {Particle: y.barren.Name, Share: of(rest, "%")}}}
	}
	turning := must(comminution.Turning(of(0.9, "m"), of(55, "m/s")))(y.t)
	return comminution.ImpactMill{
		Rotor: comminution.Rotor{Diameter: of(0.9, "m"), Speed: turning}, Impacts: quantity.Number(6), Idle: of(6, "kW"), Efficiency: of(90, "%"),
		Behaviours: map[string]comminution.Behaviour{
			y.bead.Name:     {Malleable: comminution.Malleable{FlowStress: of(400, "MPa"), Density: of(8100, "kg/m³"), Share: of(60, "%"), Most: quantity.Number(1)}},
			y.barren.Name:   {Impact: glass, Family: y.family},
			y.rich.Name:     falls(70, 30),
			y.middling.Name: falls(30, 70),
			y.poor.Name:     falls(8, 92),
		},
	}
}

func (y *slagYard) drum(surface quantity.Quantity) magnetic.Drum {
	of := quantity.Of
	return magnetic.Drum{
		Radius: of(0.3, "m"), Width: of(1, "m"), Speed: of(40, "rpm"), Field: magnetic.Field{Surface: surface, Pitch: of(60, "mm")},
		Splitter: of(110, "deg"), Arc: of(170, "deg"), Scatter: quantity.Number(0.5), Carried: of(3, "%"), Idle: of(1.5, "kW"),
		Materials: []magnetic.Material{
			{Name: "ferronickel", Density: of(8100, "kg/m³"), Susceptibility: quantity.Number(50), Saturation: of(1400, "kA/m"), Source: "invented"},
			{Name: "slag", Density: of(3100, "kg/m³"), Susceptibility: quantity.Number(0.002), Source: "invented"}},
	}
}

func (y *slagYard) plant(name string, last flowsheet.Unit, back ...string) *flowsheet.Result {
	of := quantity.Of
	coarse := flowsheet.Driven{Idle: of(4, "kW"), Unit: screening.CapacityDeck{
		Mesh: screening.Mesh{Opening: of(4, "mm"), Wire: of(1.5, "mm")}, Area: of(3, "m²"), Bulk: of(1.7, "t/m³")}}
	fine := flowsheet.Driven{Idle: of(4, "kW"), Unit: screening.TrialDeck{
		Mesh:   screening.Mesh{Opening: of(0.5, "mm"), Wire: of(0.2, "mm"), Slope: of(8, "deg")},
		Motion: screening.Motion{Stroke: of(4, "mm"), Speed: of(1400, "rpm"), Throw: of(45, "deg"), Slope: of(8, "deg")},
		Length: of(3, "m"), Width: of(1.5, "m"), Bulk: of(1.6, "t/m³")}}
	sheet := must(flowsheet.New(name, []stream.Stream{y.feed},
		flowsheet.Do("scalper", coarse, "slag"), flowsheet.Do("drum", y.drum(of(90, "mT")), "scalper.undersize"),
		flowsheet.Do("mill", y.mill(), append([]string{"scalper.oversize", "drum.magnetics"}, back...)...),
		flowsheet.Do("screen", fine, "mill"), flowsheet.Do("last", last, "screen.oversize")))(y.t)
	return must(sheet.Solve())(y.t)
}

func (y *slagYard) withDrum(surface quantity.Quantity) *flowsheet.Result {
	return y.plant("last step a drum", y.drum(surface), "last.non-magnetics")
}

// TestBeadsInSlag does in plain Go what notebooks/05-metal-beads-in-slag.ipynb
// does in cells.
func TestBeadsInSlag(t *testing.T) {
	page, y, of := &page{}, newSlagYard(t), quantity.Of
	page.cell(3, y.feed.Solids(), must(y.feed.Grade("ferronickel"))(t))
	purity := func(surface quantity.Quantity) (quantity.Quantity, error) {
		return must(y.withDrum(surface).Stream("last.magnetics"))(t).Grade("ferronickel")
	}
	chosen := must(flowsheet.Find(purity, of(92, "%"), of(45, "mT"), of(90, "mT")))(t)
	page.cell(10, must(purity(of(90, "mT")))(t), chosen)
	first, magnets := y.withDrum(of(90, "mT")), y.withDrum(chosen)
	page.cell(11, must(magnets.Balance("ferronickel", "Ni"))(t))
	energy, made := must(magnets.Energy())(t), must(magnets.Stream("last.magnetics"))(t)
	page.cell(13, must(energy.TablePer("product", made.Solids()))(t))
	roll := electrostatic.Roll{
		Radius: of(0.15, "m"), Width: of(2, "m"), Speed: of(60, "rpm"), Corona: of(4, "kV/cm"), Charged: of(80, "%"), From: of(45, "deg"),
		Voltage: of(22, "kV"), Gap: of(6, "cm"), Conductors: of(75, "deg"), Insulators: of(110, "deg"), Spread: quantity.Number(0.3), Carried: of(5, "%"),
		Conduction: []electrostatic.Conduction{{Name: "ferronickel", Relaxation: of(0, "s")}, {Name: "slag", Relaxation: of(100, "s"), Permittivity: quantity.Number(7)}},
		Idle:       of(1, "kW"),
	}
	static := y.plant("last step a roll", roll, "last.middlings", "last.non-conductors")
	page.cell(17, must(flowsheet.Compare("ferronickel", flowsheet.Case{Name: "drum, 90 mT", Result: first, Product: "last.magnetics"},
		flowsheet.Case{Name: "drum, weaker", Result: magnets, Product: "last.magnetics"},
		flowsheet.Case{Name: "roll", Result: static, Product: "last.conductors"}))(t))
	holdPage(t, page, "05-metal-beads-in-slag")

	for _, r := range []*flowsheet.Result{first, magnets, static} {
		products := 0.0
		for _, s := range r.Products() {
			products += must(s.Rate("ferronickel"))(t).SI()
		}
		if fed := must(y.feed.Rate("ferronickel"))(t).SI(); math.Abs(products/fed-1) > 1e-9 {
			t.Errorf("%s makes %g of the metal it is fed", r.Flowsheet().Name(), products/fed)
		}
	}
}
