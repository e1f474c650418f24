package comminution

import (
	"math"
	"strings"
	"testing"

	"cobber/stdlib/mineral"
	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// An invented material: beads of copper in quartz, and the two by themselves.
func beads(t testing.TB) *stream.Classes {
	t.Helper()
	quartz, err := mineral.Find("quartz")
	if err != nil {
		t.Fatal(err)
	}
	copper := mineral.Mineral{Name: "metal"}
	locked, err := stream.NewParticle("locked", stream.Part{Mineral: copper, Share: percent(0.3)}, stream.Part{Mineral: quartz, Share: percent(0.7)})
	if err != nil {
		t.Fatal(err)
	}
	free, err := stream.Free(copper)
	if err != nil {
		t.Fatal(err)
	}
	barren, err := stream.Free(quartz)
	if err != nil {
		t.Fatal(err)
	}
	var openings []quantity.Quantity
	for i := range 12 {
		openings = append(openings, mm(16*math.Exp2(-float64(i))))
	}
	c, err := stream.NewClasses(openings, locked, free, barren)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func feedOf(t testing.TB, c *stream.Classes, at map[[2]int]float64) stream.Stream {
	t.Helper()
	flows := make([][]float64, c.Sizes())
	for i := range flows {
		flows[i] = make([]float64, c.Particles())
	}
	for place, x := range at {
		flows[place[0]][place[1]] = x
	}
	s, err := stream.New("feed", c, flows, quantity.Of(0.5, "t/h"))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func mill(t testing.TB) ImpactMill {
	t.Helper()
	f, err := TruncatedRosinRammler(num(1))
	if err != nil {
		t.Fatal(err)
	}
	return ImpactMill{
		Rotor: Rotor{quantity.Of(1, "m"), quantity.Of(1100, "rpm")},
		Behaviours: map[string]Behaviour{
			"locked": {Impact: Impact{Most: percent(0.5), Ease: quantity.Of(4, "t/kWh")}, Family: f,
				Releases: []Release{{Particle: "metal", Share: percent(0.3), Grain: mm(0.9)}, {Particle: "quartz", Share: percent(0.7)}}},
			"quartz": {Impact: Impact{Most: percent(0.5), Ease: quantity.Of(4, "t/kWh"), At: mm(8)}, Family: f},
			"metal":  {Malleable: Malleable{FlowStress: quantity.Of(60, "MPa"), Density: quantity.Of(8.9, "g/cm³")}},
		},
	}
}

func apply(t testing.TB, unit interface {
	Apply(stream.Stream) ([]stream.Stream, error)
}, feed stream.Stream) stream.Stream {
	t.Helper()
	products, err := unit.Apply(feed)
	if err != nil {
		t.Fatal(err)
	}
	return products[0]
}

// The matrix turns to powder and the metal comes out coarse, grown by its flattening.
func TestImpactMillFreesBeads(t *testing.T) {
	c := beads(t)
	m := mill(t)
	m.Impacts = num(3)
	feed := feedOf(t, c, map[[2]int]float64{{1, 0}: 1})
	product := apply(t, m, feed)
	metal, err := product.Rate("metal")
	near(t, "metal", value(t, metal, err, "kg/s"), 0.3, 1e-9)
	near(t, "water", product.Water().SI(), feed.Water().SI(), 1e-12)
	left := math.Exp(-3 * 4 / 3600.0 * math.Pow(math.Pi*1100/60, 2) / 2) // not broken in three impacts
	var locked, coarse, fine float64
	for i := range c.Sizes() {
		locked += product.Flow(i, 0)
		if i <= 4 {
			coarse += product.Flow(i, 1)
		} else {
			fine += product.Flow(i, 1)
		}
	}
	near(t, "locked", locked, left, 1e-9)
	near(t, "freed metal, all no finer than its beads", coarse, 0.3*(1-left), 1e-9)
	if fine != 0 || product.Flow(3, 1) == 0 {
		t.Errorf("metal finer than the beads %v, in the class above %v", fine, product.Flow(3, 1))
	}
	barren, err := product.SizeDistributionOf("quartz")
	if err != nil {
		t.Fatal(err)
	}
	d50, err := barren.D(50)
	if x := value(t, d50, err, "mm"); x > 2.5 {
		t.Errorf("half of the quartz is coarser than %v mm", x)
	}
}

// A part of an impact lies between none and one, linearly.
func TestImpactsInPart(t *testing.T) {
	c, m := beads(t), mill(t)
	feed := feedOf(t, c, map[[2]int]float64{{1, 2}: 1})
	m.Impacts = num(0.25)
	quarter := apply(t, m, feed)
	m.Impacts = num(1)
	whole := apply(t, m, feed)
	for i := range c.Sizes() {
		near(t, "quarter of an impact", quarter.Flow(i, 2), 0.75*feed.Flow(i, 2)+0.25*whole.Flow(i, 2), 1e-9)
	}
}

func TestImpactMillRefuses(t *testing.T) {
	c := beads(t)
	feed := feedOf(t, c, map[[2]int]float64{{1, 0}: 1, {0, 1}: 1})
	m := mill(t)
	_, err := m.Apply(feed)
	refused(t, "metal in the coarsest class", err, "coarser openings")
	delete(m.Behaviours, "metal")
	_, err = m.Apply(feed)
	refused(t, "nothing said", err, "what becomes of metal")
	m.Default = Behaviour{Stays: true}
	if _, err = m.Apply(feed); err != nil {
		t.Error(err)
	}
	m.Behaviours["slag"] = Behaviour{Stays: true}
	_, err = m.Apply(feed)
	refused(t, "no such class", err, "slag")
	delete(m.Behaviours, "slag")
	b := m.Behaviours["locked"]
	b.Releases = []Release{{Particle: "metal", Share: percent(0.4), Grain: mm(1)}, {Particle: "quartz", Share: percent(0.6)}}
	m.Behaviours["locked"] = b
	_, err = m.Apply(feed)
	refused(t, "pieces that hold more metal", err, "does not close")
}

// Twice v²/2 per blow, whatever is thrown or struck.
func TestPowerOfAnImpactMill(t *testing.T) {
	m := mill(t)
	m.Idle, m.Efficiency, m.Impacts = quantity.Of(2, "kW"), percent(0.8), num(2)
	p, err := m.Power(feedOf(t, beads(t), map[[2]int]float64{{1, 0}: 1}))
	v := math.Pi * 1100 / 60
	near(t, "power", value(t, p, err, "W"), (2000+2*v*v)/0.8, 1e-9)
}

// The mill of one tank is Mixed with the time that hold-up and feed make, particle by
// particle; what has an ease of 0 stays.
func TestBallMill(t *testing.T) {
	c := beads(t)
	m := BallMill{Selection: Selection{Rate: quantity.Of(0.5, "1/min"), Exponent: num(0.8)},
		Breakage: Breakage{Fines: num(0.6), Fine: num(0.7), Coarse: num(4)}, HoldUp: quantity.Of(600, "kg"),
		Ease: map[string]quantity.Quantity{"metal": num(0)}}
	feed := feedOf(t, c, map[[2]int]float64{{1, 2}: 0.6, {2, 1}: 0.4})
	product := apply(t, m, feed)
	near(t, "metal stays", product.Flow(2, 1), 0.4, 1e-12)
	g, err := Kinetics(c.Openings(), m.Selection, m.Breakage)
	if err != nil {
		t.Fatal(err)
	}
	amounts := all(num, make([]float64, 12)...)
	amounts[1] = num(0.6)
	want, err := g.Mixed(amounts, quantity.Of(600, "s"), 1)
	if err != nil {
		t.Fatal(err)
	}
	for i := range want {
		near(t, "ground", product.Flow(i, 2), want[i].SI(), 1e-9)
	}
	m.Selection.Rate = quantity.Of(0.5, "t/kWh")
	_, err = m.Apply(feed)
	refused(t, "no tumbler", err, "Tumbler")
	m.Tumbler = Tumbler{Diameter: quantity.Of(1, "m"), Length: quantity.Of(1, "m"), Filling: percent(0.4), Speed: percent(0.75), Charge: quantity.Of(5, "t/m³")}
	apply(t, m, feed)
}

// What is coarser than Coarse is all gone, what is finer than Fine passes as it is.
func TestCrusher(t *testing.T) {
	c := beads(t)
	f, err := TruncatedRosinRammler(num(1))
	if err != nil {
		t.Fatal(err)
	}
	m := Crusher{Fine: mm(1), Coarse: mm(4), T10: percent(0.15), Family: f, Impact: medium, Idle: quantity.Of(3, "kW")}
	fine := feedOf(t, c, map[[2]int]float64{{6, 0}: 1})
	product := apply(t, m, fine)
	near(t, "fine feed", product.Flow(6, 0), 1, 1e-12)
	idle, err := m.Power(fine)
	near(t, "idle", value(t, idle, err, "kW"), 3, 1e-9)
	coarse := feedOf(t, c, map[[2]int]float64{{0, 0}: 1})
	product = apply(t, m, coarse)
	if product.Flow(0, 0) != 0 || product.Flow(1, 0) != 0 || product.Flow(2, 0) == 0 {
		t.Errorf("coarse classes: %v %v %v", product.Flow(0, 0), product.Flow(1, 0), product.Flow(2, 0))
	}
	power, err := m.Power(coarse)
	one, err2 := medium.Energy(mm(10), percent(0.15))
	if got, least := value(t, power, err, "kW")-3, 1.3*value(t, one, err2, "J/kg")/1000; got < least || got > 6*least {
		t.Errorf("power for the breaking %v kW, one nip of all takes %v", got, least)
	}
	m.Fine = mm(0.001)
	_, err = m.Apply(coarse)
	refused(t, "classes too coarse", err, "finer openings")
}

func BenchmarkImpactMill(b *testing.B) {
	c, m := beads(b), mill(b)
	feed := feedOf(b, c, map[[2]int]float64{{1, 0}: 1, {2, 2}: 1})
	for b.Loop() {
		if _, err := m.Apply(feed); err != nil {
			b.Fatal(err)
		}
	}
}

func TestTanksBelowNone(t *testing.T) {
	m := BallMill{Selection: Selection{Rate: quantity.Of(0.5, "1/min"), Exponent: num(0.8)}, Tanks: -2,
		Breakage: Breakage{Fines: num(0.6), Fine: num(0.7), Coarse: num(4)}, HoldUp: quantity.Of(600, "kg")}
	c := beads(t)
	if _, err := m.Apply(feedOf(t, c, map[[2]int]float64{{1, 0}: 1, {2, 2}: 1})); err == nil || !strings.Contains(err.Error(), "not of -2") {
		t.Errorf("-2 tanks: %v", err)
	}
}

func BenchmarkBallMill(b *testing.B) {
	c := beads(b)
	m := BallMill{Selection: Selection{Rate: quantity.Of(0.5, "1/min"), Exponent: num(0.8)},
		Breakage: Breakage{Fines: num(0.6), Fine: num(0.7), Coarse: num(4)}, HoldUp: quantity.Of(600, "kg")}
	feed := feedOf(b, c, map[[2]int]float64{{1, 0}: 1, {2, 2}: 1})
	for b.Loop() {
		if _, err := m.Apply(feed); err != nil {
			b.Fatal(err)
		}
	}
}

func TestMachinesAreShownWithCautions(t *testing.T) {
	m := mill(t)
	text := m.String()
	for _, want := range []string{"struck", "1100 rpm", "locked: breaks, Most 50 %", "30 % metal in grains of 0.9 mm", "metal: flattens, FlowStress 60 MPa", "licensed"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	for _, text := range []string{BallMill{Ease: map[string]quantity.Quantity{"metal": num(0)}}.String(), Crusher{Fine: mm(3)}.String()} {
		if !strings.Contains(text, "licensed") || strings.Contains(text, "map[") {
			t.Error(text)
		}
	}
}

// The crusher's product, class by class from the coarsest, is Whiten's equation of
// matrices, p = (I − C)·(I − B·C)⁻¹·f, solved as any linear system is.
func TestCrusherSolvesWhitensEquation(t *testing.T) {
	c := beads(t)
	m := Crusher{Fine: mm(0.7), Coarse: mm(5), T10: percent(0.2), Family: alpha(t, 0.9)}
	n, err := m.numbers(c)
	if err != nil {
		t.Fatal(err)
	}
	feed := make([]float64, c.Sizes())
	rows := make([][]float64, c.Sizes())
	for i := range rows {
		feed[i] = 1 / float64(i+1)
		rows[i] = make([]float64, c.Sizes())
		rows[i][i] = 1
		for k := range rows[i] {
			rows[i][k] -= n.columns[k][i] * n.breaks[k]
		}
	}
	inside, _ := numeric.Solve(rows, feed)
	product, nipped := n.crush(feed)
	for i, x := range inside {
		near(t, "inside", nipped[i]+product[i], x, 1e-12)
		near(t, "product", product[i], (1-n.breaks[i])*x, 1e-12)
	}
}
