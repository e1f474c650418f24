package screening

import (
	"math"
	"strings"
	"testing"

	"cobber/stdlib/internal/expect"
	"cobber/stdlib/mineral"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

var value, near, refused = expect.Value, expect.Near, expect.Refused

func mm(x float64) quantity.Quantity  { return quantity.Of(x, "mm") }
func deg(x float64) quantity.Quantity { return quantity.Of(x, "deg") }
func rpm(x float64) quantity.Quantity { return quantity.Of(x, "rpm") }
func pc(x float64) quantity.Quantity  { return quantity.Of(x, "%") }

func TestMesh(t *testing.T) {
	m := Mesh{Opening: mm(10), Wire: mm(2.5)}
	open, err := m.OpenArea()
	near(t, "open area", value(t, open, err, "%"), 64, 1e-12)
	point, err := m.Chance(mm(1e-9))
	near(t, "a point passes by the open area", value(t, point, err, "%"), 64, 1e-6)
	m.Slope = deg(20)
	h, err := m.ThroughFall()
	near(t, "opening seen", value(t, h, err, "mm"), 12.5*math.Cos(20*math.Pi/180)-2.5, 1e-12)
	none, err := m.Chance(mm(9.5))
	if value(t, none, err, "%") != 0 {
		t.Error("what is coarser than the opening seen passes")
	}
	one, err := m.Stays(mm(5), quantity.Number(1))
	ten, err2 := m.Stays(mm(5), quantity.Number(10))
	near(t, "tries", value(t, ten, err2, "1"), math.Pow(value(t, one, err, "1"), 10), 1e-12)
	_, err = Mesh{Opening: mm(1), Wire: mm(4), Slope: deg(40)}.OpenArea()
	refused(t, "hidden", err, "hide")
}

// A throw lasts as long as the free fall between leaving and landing takes: the deck and
// the particle are at one place then.
func TestFlightLands(t *testing.T) {
	for _, k := range []float64{1.0001, 1.5, 2.5, 3.3, 4.5, 7} {
		tau := flight(k)
		phase := math.Asin(1 / k)
		deck := k * (math.Sin(phase+tau) - math.Sin(phase))
		particle := k*math.Cos(phase)*tau - tau*tau/2
		near(t, "landing", particle, deck, 1e-6)
		if tau <= 0 {
			t.Errorf("K = %v: flight %v", k, tau)
		}
	}
	if flight(1) != 0 {
		t.Error("a throw number of 1 throws")
	}
}

// Where gravity is a quarter, half the speed of the drive throws alike, and travel is half
// as fast.
func TestMotionAtAnotherGravity(t *testing.T) {
	m := Motion{Stroke: mm(8), Speed: rpm(900), Throw: deg(45)}
	k, err := m.ThrowNumber()
	v, err2 := m.Travel()
	speed := value(t, v, err2, "m/s")
	m.Gravity = earth.Mul(quantity.Number(0.25))
	n, err3 := m.SpeedFor(k)
	near(t, "drive", value(t, n, err3, "rpm"), 450, 1e-9)
	m.Speed = n
	slow, err4 := m.Travel()
	near(t, "travel", value(t, slow, err4, "m/s"), speed/2, 1e-9)
	again, err := m.ThrowNumber()
	near(t, "throw number", value(t, again, err, "1"), k.SI(), 1e-12)
	m.Gravity, m.Speed = earth, rpm(300)
	_, err = m.Travel()
	refused(t, "weak", err, "leaves the deck")
	m.Speed = quantity.Of(15, "Hz")
	_, err = m.Travel()
	refused(t, "hertz", err, "rpm")
}

// The pieces of the factors join, which they would not if a constant were wrong.
func TestFactorsJoin(t *testing.T) {
	const step = 1e-9
	for _, test := range []struct {
		name      string
		of        func(float64) float64
		at        []float64
		tolerance float64
	}{
		{"basic", basic, []float64{51}, 0.003}, {"oversize", oversize, []float64{87}, 0.05},
		{"half-size", halfSize, []float64{30, 55, 80}, 0.02}, {"spray", spray, []float64{1, 2, 4, 6, 10, 12, 16, 24, 32}, 1e-6},
	} {
		for _, x := range test.at {
			near(t, test.name, test.of(x+step), test.of(x-step), test.tolerance)
		}
	}
}

func TestCapacity(t *testing.T) {
	mesh := Mesh{Opening: mm(10), Wire: mm(3)}
	load := Load{Oversize: pc(40), HalfSize: pc(30), NearSize: pc(20), Bulk: quantity.Of(1602, "kg/m³")}
	c, err := CapacityOf(mesh, load)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "per area", value(t, c.PerArea, nil, "t/(h*m2)"), basic(10)*1.12*1.06, 1e-9)
	area, err := c.Area(quantity.Of(100, "t/h"))
	near(t, "area", value(t, area, err, "m²"), 100/(basic(10)*1.12*1.06*0.844*math.Pow(0.8, 3.453)), 1e-9)
	load.Condition, load.Gravity, load.Deck = Sticky, earth.Mul(quantity.Number(0.25)), 2
	other, err := CapacityOf(mesh, load)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "sticky, second deck, quarter of gravity", other.PerArea.SI()/c.PerArea.SI(), 0.75*0.9*0.5, 1e-9)
	if other.Table().Rows() != 11 {
		t.Error(other)
	}
	load.HalfSize = pc(70)
	_, err = CapacityOf(mesh, load)
	refused(t, "shares", err, "contradict")
}

func sand(t testing.TB, rate float64) stream.Stream {
	t.Helper()
	quartz, err := mineral.Find("quartz")
	if err != nil {
		t.Fatal(err)
	}
	p, err := stream.Free(quartz)
	if err != nil {
		t.Fatal(err)
	}
	var openings []quantity.Quantity
	for i := range 14 {
		openings = append(openings, mm(32*math.Exp2(-float64(i)/2)))
	}
	c, err := stream.NewClasses(openings, p)
	if err != nil {
		t.Fatal(err)
	}
	flows := make([][]float64, 14)
	for i := range flows {
		flows[i] = []float64{rate / 3.6 / 14}
	}
	s, err := stream.New("sand", c, flows, quantity.Of(rate/20, "t/h"))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

type deck interface {
	Products() []string
	Apply(stream.Stream) ([]stream.Stream, error)
}

func decks() map[string]deck {
	mesh := Mesh{Opening: mm(8), Wire: mm(2), Slope: deg(15)}
	return map[string]deck{
		"capacity": CapacityDeck{Mesh: mesh, Area: quantity.Of(6, "m²"), Bulk: quantity.Of(1.6, "t/m³")},
		"trial": TrialDeck{Mesh: mesh, Motion: Motion{Stroke: mm(9), Speed: rpm(850), Throw: deg(60), Slope: deg(15)},
			Length: quantity.Of(4, "m"), Width: quantity.Of(1.5, "m"), Bulk: quantity.Of(1.6, "t/m³")},
	}
}

func halves(t testing.TB, d deck, feed stream.Stream) (over, under stream.Stream) {
	t.Helper()
	products, err := d.Apply(feed)
	if err != nil {
		t.Fatal(err)
	}
	return products[0], products[1]
}

// Mass closes; nothing coarser than the mesh passes; finer passes easier; a greater load
// leaves more undersize above.
func TestDecks(t *testing.T) {
	for name, d := range decks() {
		feed := sand(t, 60)
		over, under := halves(t, d, feed)
		near(t, name+": solids", over.Solids().SI()+under.Solids().SI(), feed.Solids().SI(), 1e-12)
		near(t, name+": water", over.WaterFlow()+under.WaterFlow(), feed.WaterFlow(), 1e-12)
		near(t, name+": water above", over.WaterFlow(), min(0.1*over.Solids().SI(), feed.WaterFlow()), 1e-9)
		last := -1.0
		for i := range feed.Classes().Sizes() {
			share := under.Flow(i, 0) / feed.Flow(i, 0)
			if share < last-1e-12 {
				t.Errorf("%s: class %d passes less, %v after %v", name, i, share, last)
			}
			last = share
		}
		if under.Flow(2, 0) != 0 || last < 0.9 {
			t.Errorf("%s: coarse passes %v, the finest %v", name, under.Flow(2, 0), last)
		}
		loaded, _ := halves(t, d, sand(t, 120))
		if loaded.Solids().SI()/2 <= over.Solids().SI() {
			t.Errorf("%s: a double load leaves no more above: %v and %v", name, loaded.Solids(), over.Solids())
		}
	}
}

// A deck of the same throw number on a small world takes half the load for a quarter of
// gravity, and parts it alike.
func TestTrialsAtAnotherGravity(t *testing.T) {
	d := decks()["trial"].(TrialDeck)
	over, _ := halves(t, d, sand(t, 60))
	d.Motion.Gravity, d.Motion.Speed = earth.Mul(quantity.Number(0.25)), rpm(425)
	there, _ := halves(t, d, sand(t, 30))
	near(t, "oversize", 2*there.Solids().SI(), over.Solids().SI(), 1e-9)
	d.Motion.Speed = rpm(850) // the same drive throws far too wide
	wild, _ := halves(t, d, sand(t, 30))
	if wild.Solids().SI() <= there.Solids().SI() {
		t.Error("wide throws make no fewer tries")
	}
	d.Mesh.Slope = quantity.Quantity{} // then that of the motion holds
	same, _ := halves(t, d, sand(t, 30))
	near(t, "one slope stated", same.Solids().SI(), wild.Solids().SI(), 1e-12)
	d.Mesh.Slope = deg(3)
	_, err := d.Apply(sand(t, 30))
	refused(t, "two slopes", err, "not that of the motion")
	d.Motion.Throw, d.Motion.Slope, d.Mesh.Slope = deg(90), deg(0), deg(0)
	_, err = d.Apply(sand(t, 30))
	refused(t, "nothing travels", err, "travels")
}

// The loading of a deck is its undersize over what CapacityOf says of the same feed.
func TestLoadingIsByCapacity(t *testing.T) {
	d, feed := decks()["capacity"].(CapacityDeck), sand(t, 60)
	d.Spray, d.Deck, d.Condition, d.Gravity = true, 2, Damp, earth.Mul(quantity.Number(0.5))
	m, err := readMesh(d.Mesh.inputs())
	if err != nil {
		t.Fatal(err)
	}
	h := m.through()
	c, err := CapacityOf(d.Mesh, Load{Oversize: pc(100 * (1 - finer(feed, h))), HalfSize: pc(100 * finer(feed, h/2)),
		NearSize: pc(100 * (finer(feed, 1.25*h) - finer(feed, 0.75*h))), Deck: 2, Bulk: d.Bulk, Spray: true, Condition: Damp, Gravity: d.Gravity})
	if err != nil {
		t.Fatal(err)
	}
	k, err := d.Loading(feed)
	near(t, "loading", value(t, k, err, "1"), feed.Solids().SI()*finer(feed, h)/6/c.PerArea.SI(), 1e-9)
}

func TestOverload(t *testing.T) {
	d := decks()["capacity"].(CapacityDeck)
	_, err := d.Apply(sand(t, 3000))
	refused(t, "overload", err, "more area")
	k, err := d.Loading(sand(t, 3000))
	if x := value(t, k, err, "1"); x < 3 {
		t.Errorf("loading %v", x)
	}
	cut, err := d.Cut(sand(t, 60))
	if x := value(t, cut, err, "mm"); x < 5 || x > 8 {
		t.Errorf("cut %v mm", x)
	}
	d.Area = quantity.Of(0, "m²")
	_, err = d.Apply(sand(t, 60))
	refused(t, "no area", err, "area")
}

func BenchmarkCapacityDeck(b *testing.B) {
	d, feed := decks()["capacity"], sand(b, 60)
	for b.Loop() {
		halves(b, d, feed)
	}
}

func BenchmarkTrialDeck(b *testing.B) {
	d, feed := decks()["trial"], sand(b, 60)
	for b.Loop() {
		halves(b, d, feed)
	}
}

func TestDecksAreShownWithCautions(t *testing.T) {
	for name, d := range decks() {
		text := d.(interface{ String() string }).String()
		if !strings.Contains(text, "Mesh Opening 8 mm, Wire 2 mm, Slope 15 deg") || !strings.Contains(text, "licensed") {
			t.Errorf("%s: %s", name, text)
		}
	}
}
