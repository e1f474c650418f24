package magnetic

import (
	"math"
	"strings"
	"testing"

	"cobber/stdlib/internal/expect"
	"cobber/stdlib/internal/fields"
	"cobber/stdlib/mineral"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

func of(x float64, unit string) quantity.Quantity { return quantity.Of(x, unit) }

var in, near = expect.Value, expect.Near

func mustFind(t *testing.T, name string) Material {
	t.Helper()
	m, err := Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestDemagnetisingFactorsOfAllShapes(t *testing.T) {
	last := 1.0
	for _, m := range []float64{1e-4, 0.01, 0.5, 0.9, 0.9999, 1, 1.0001, 1.1, 2, 10, 1000} {
		along, across, err := Demagnetising(quantity.Number(m))
		n := in(t, along, err, "1")
		near(t, "sum of the factors", n+2*in(t, across, err, "1"), 1, 1e-12)
		if !(n > 0 && n < last) {
			t.Errorf("aspect %g: factor %g does not fall from %g", m, n, last)
		}
		last = n
	}
	near(t, "the series meets the closed form", demagnetising(math.Sqrt(1+0.99999e-4)), demagnetising(math.Sqrt(1+1.00001e-4)), 1e-8)
	near(t, "sphere", demagnetising(1), 1.0/3, 1e-15)
	near(t, "disc", demagnetising(1e-6), 1, 1e-5)
	if _, _, err := Demagnetising(quantity.Number(0)); err == nil {
		t.Error("an aspect of 0 is accepted")
	}
}

// What magnetises obeys its law with the field inside, in weak fields as Apparent
// says, in strong ones up to saturation.
func TestMagnetisationWithTheFieldInside(t *testing.T) {
	iron := mustFind(t, "iron")
	l, _ := iron.law()
	for _, n := range []float64{0, 0.02, 1.0 / 3, 1} {
		last := 0.0
		for _, h := range []float64{1, 1e3, 1e5, 1e6, 1e9} {
			m := l.magnetisation(h, n)
			inside := h - n*m
			near(t, "law", l.chi*inside/(1+l.chi*inside/l.saturation), m, 1e-6)
			if !(m > last && m < l.saturation) {
				t.Errorf("N = %g, H = %g: M = %g does not rise within saturation", n, h, m)
			}
			last = m
		}
		near(t, "saturation", last, l.saturation, 1e-3)
		apparent, err := iron.Apparent(quantity.Number(n))
		near(t, "weak field", l.magnetisation(1e-3, n)/1e-3, in(t, apparent, err, "1"), 1e-5)
	}
	calcite, _ := mustFind(t, "calcite").law()
	if m := calcite.magnetisation(1e5, 1.0/3); !(m < 0) {
		t.Errorf("diamagnetic calcite magnetises with the field: %g", m)
	}
}

// A round grain of scattered round inclusions magnetises as the mixture of
// Maxwell Garnett does, and as Grain adds it up.
func TestGrainsAgreeWithMixtures(t *testing.T) {
	metal := Material{Name: "metal", Density: of(7800, "kg/m3"), Susceptibility: quantity.Number(50)}
	glass := Material{Name: "glass", Density: of(2600, "kg/m3"), Susceptibility: quantity.Number(0)}
	for _, f := range []float64{0.02, 0.1, 0.3} {
		density := f*7800 + (1-f)*2600
		share := f * 7800 / density
		g := Grain{Materials: []Material{metal, glass}, Shares: []quantity.Quantity{quantity.Number(share), quantity.Number(1 - share)}}
		moment, err := g.Moment(of(1000, "A/m"))
		mu, muErr := MaxwellGarnett(quantity.Number(1), quantity.Number(51), of(100*f, "%"))
		chi := in(t, mu, muErr, "1") - 1
		near(t, "magnetisation per volume", in(t, moment, err, "A m2/kg")*density, 1000*chi/(1+chi/3), 1e-12)
	}
}

func TestFieldFallsByItsGradient(t *testing.T) {
	flat, round := math.Inf(1), 0.3
	for _, f := range []Field{{Surface: of(0.15, "T"), Pitch: of(60, "mm")}, {Surface: of(1500, "G"), Decay: of(40, "1/m")}} {
		for _, radius := range []float64{flat, round} {
			r := fields.Of("magnetic: test")
			s := f.shape(r, radius)
			if r.Err != nil {
				t.Fatal(r.Err)
			}
			for _, y := range []float64{0, 0.01, 0.05} {
				up, _ := s.at(y + 1e-7)
				down, _ := s.at(y - 1e-7)
				_, gradient := s.at(y)
				near(t, "gradient", (down-up)/2e-7, gradient, 1e-6)
			}
		}
	}
	f := Field{Surface: of(0.15, "T"), Pitch: of(60, "mm")}
	plane, err := f.At(of(20, "mm"), quantity.Quantity{})
	wide, wideErr := f.At(of(20, "mm"), of(1000, "m"))
	near(t, "a wide drum is a plane", in(t, wide, wideErr, "T"), in(t, plane, err, "T"), 1e-3)
	k, err := DecayBetween(of(150, "mT"), of(0, "mm"), plane, of(20, "mm"))
	near(t, "decay between heights", in(t, k, err, "1/m"), math.Pi/0.06, 1e-12)
	if _, err := (Field{Surface: of(0.1, "T")}).At(of(1, "mm"), quantity.Quantity{}); err == nil {
		t.Error("a field without pitch or decay is accepted")
	}
}

// drum is a drum of a workshop's size, invented.
func drum() Drum {
	return Drum{Radius: of(0.3, "m"), Width: of(1, "m"), Speed: of(40, "rpm"), Arc: of(170, "deg"), Splitter: of(120, "deg"),
		Field: Field{Surface: of(0.12, "T"), Pitch: of(80, "mm")}}
}

// part is a grain of a share of iron in glass.
func part(t *testing.T, share float64) Grain {
	glass := Material{Name: "glass", Density: of(2700, "kg/m3"), Susceptibility: quantity.Number(1e-4)}
	return Grain{Materials: []Material{mustFind(t, "iron"), glass}, Shares: []quantity.Quantity{quantity.Number(share), quantity.Number(1 - share)}}
}

func TestReleaseIsWhereForcesBalance(t *testing.T) {
	d := drum()
	omega := 40 * math.Pi / 30
	free, err := d.Release(part(t, 0), of(1, "mm"))
	g := part(t, 0)
	b, _ := g.body()
	turns, _ := d.turning()
	want := math.Acos((omega*omega*0.301 - b.pull(turns.field, 1e-3)) / standardGravity)
	near(t, "angle at which glass leaves", in(t, free, err, "rad"), want, 1e-9)
	balance, err := d.Holding(g, free, of(1, "mm"))
	if x := in(t, balance, err, "N/kg"); !(math.Abs(x) < 1e-9) {
		t.Errorf("where glass leaves, %g N/kg hold it", x)
	}
	beyond, err := d.Holding(part(t, 1), of(175, "deg"), of(1, "mm"))
	near(t, "no pull beyond the magnets", in(t, beyond, err, "N/kg"), standardGravity*math.Cos(175*math.Pi/180)-omega*omega*0.301, 1e-12)
	bound, err := d.Release(part(t, 1), of(1, "mm"))
	near(t, "iron is carried to the end of the magnets", in(t, bound, err, "deg"), 170, 1e-9)
	d.Speed = of(80, "rpm")
	thrown, err := d.Release(part(t, 0), of(1, "mm"))
	if in(t, thrown, err, "deg") != 0 {
		t.Error("glass stays on a drum faster than lift-off")
	}
	limit, err := d.LiftOff()
	if x := in(t, limit, err, "rpm"); !(x > 40 && x < 80) {
		t.Errorf("lift-off at %g rpm", x)
	}
	d = drum()
	d.Friction = quantity.Number(0.4)
	slips, err := d.Release(part(t, 0), of(1, "mm"))
	if x := in(t, slips, err, "rad"); !(x < want) {
		t.Errorf("a grain that slips leaves at %g, after one that does not, %g", x, want)
	}
}

// With the speed squared and the pull in proportion to gravity nothing changes:
// what moves at another gravity is their ratio to it.
func TestGravityActsByRatios(t *testing.T) {
	earth := drum()
	moon, err := earth.MovedTo(of(1.62, "m/s2"))
	ratio := 1.62 / standardGravity
	near(t, "speed", in(t, moon.Speed, err, "rpm"), 40*math.Sqrt(ratio), 1e-12)
	glass := Material{Name: "glass", Density: of(2700, "kg/m3"), Susceptibility: quantity.Number(0.02)}
	weaker := glass
	weaker.Susceptibility = quantity.Number(0.02 * ratio / (1 + 0.02/3*(1-ratio))) // so that χ′ is in the ratio
	y := of(1, "mm")
	here, err := earth.Release(Grain{Materials: []Material{glass}}, y)
	there, err2 := moon.Release(Grain{Materials: []Material{weaker}}, y)
	near(t, "angle", in(t, there, err2, "deg"), in(t, here, err, "deg"), 1e-9)
	if x := in(t, here, err, "deg"); !(x > 20 && x < 165) {
		t.Errorf("the case says nothing: it leaves at %g°", x)
	}
	same, err := moon.Release(Grain{Materials: []Material{glass}}, y)
	if !(in(t, same, err, "deg") > in(t, here, nil, "deg")) {
		t.Error("the same grain is not held longer in lower gravity")
	}
}

// Below the drum a paramagnetic grain is lifted from ln(f₀/g)/(2k).
func TestReachBelowADrum(t *testing.T) {
	d := drum()
	d.Arc, d.Field = quantity.Quantity{}, Field{Surface: of(0.4, "T"), Decay: of(80, "1/m")}
	ore := Grain{Materials: []Material{{Name: "ore", Density: of(4500, "kg/m3"), Susceptibility: quantity.Number(0.01)}}}
	surface := 0.01 / (1 + 0.01/3) / 4500 * 0.16 * 80 / vacuumPermeability
	reach, err := d.Reach(ore, of(180, "deg"))
	near(t, "reach", in(t, reach, err, "m"), math.Log(surface/standardGravity)/160, 1e-9)
	sideways, err := d.Reach(ore, of(100, "deg"))
	if !(in(t, sideways, err, "m") > in(t, reach, nil, "m")) {
		t.Error("the drum reaches less far at its side than straight down")
	}
	d.Gravity = of(1.62, "m/s2")
	moon, err := d.Reach(ore, of(180, "deg"))
	near(t, "gain in lower gravity", in(t, moon, err, "m")-in(t, reach, nil, "m"), math.Log(standardGravity/1.62)/160, 1e-9)
	sand, err := d.Reach(part(t, 0), of(180, "deg"))
	if x := in(t, sand, err, "m"); x != 0 {
		t.Errorf("glass is lifted from %g m", x)
	}
	for _, angle := range []float64{45, 90, 200} {
		if _, err := d.Reach(ore, of(angle, "deg")); err == nil {
			t.Errorf("%g° is accepted", angle)
		}
	}
	d.Arc = of(120, "deg")
	if _, err := d.Reach(ore, of(150, "deg")); err == nil {
		t.Error("a reach beyond the magnets")
	}
}

func TestSharesRiseWithMetalAndFallWithSpeed(t *testing.T) {
	d := drum()
	d.Scatter = quantity.Number(0.4)
	last := -1.0
	for _, share := range []float64{0, 0.002, 0.005, 0.01, 0.02, 0.05, 0.2, 1} {
		p, err := d.Share(part(t, share), of(2, "mm"), of(8, "mm"))
		x := in(t, p, err, "1")
		if x < last {
			t.Errorf("%g of metal: share %g after %g", share, x, last)
		}
		fast := d
		fast.Speed = of(90, "rpm")
		slower, err := fast.Share(part(t, share), of(2, "mm"), of(8, "mm"))
		if in(t, slower, err, "1") > x {
			t.Errorf("%g of metal: more is held at a higher speed", share)
		}
		last = x
	}
	near(t, "pure metal", last, 1, 1e-3)
	cut, err := d.CutField(part(t, 0.02), of(2, "mm"), of(8, "mm"))
	d.Field.Surface = cut
	p, shareErr := d.Share(part(t, 0.02), of(2, "mm"), of(8, "mm"))
	if in(t, cut, err, "T") <= 0 || math.Abs(in(t, p, shareErr, "1")-0.5) > 0.03 {
		t.Errorf("at the cut field, %v, %v goes with the magnetics", cut, p)
	}
}

func TestStagesCleanOrScavenge(t *testing.T) {
	near(t, "cleaning", repeated(0.9, 3, true), 0.729, 1e-12)
	near(t, "scavenging", repeated(0.9, 3, false), 0.999, 1e-12)
	near(t, "once", repeated(0.3, 0, false), 0.3, 1e-12)
	if repeated(1, 3, false) != 1 || repeated(0, 2, true) != 0 {
		t.Error("certain grains are not certain")
	}
}

// A drum that cannot separate says so.
func TestDrumsThatAreRefused(t *testing.T) {
	g := part(t, 0.1)
	for name, change := range map[string]func(*Drum){
		"no radius":               func(d *Drum) { d.Radius = quantity.Quantity{} },
		"speed in hertz":          func(d *Drum) { d.Speed = of(1, "Hz") },
		"length for a speed":      func(d *Drum) { d.Speed = of(1, "m") },
		"splitter past magnets":   func(d *Drum) { d.Splitter = of(175, "deg") },
		"splitter where all pass": func(d *Drum) { d.Splitter = of(10, "deg"); d.Speed = of(20, "rpm") },
		"negative gravity":        func(d *Drum) { d.Gravity = of(-1, "m/s2") },
		"share above 1":           func(d *Drum) { d.Carried = of(120, "%") },
	} {
		d := drum()
		change(&d)
		if p, err := d.Share(g, of(2, "mm"), of(5, "mm")); err == nil {
			t.Errorf("%s is accepted, and gives %v", name, p)
		}
	}
}

func TestFlights(t *testing.T) {
	d := drum()
	angle, drop := of(50, "deg"), of(0.5, "m")
	vacuum, err := d.Flight(angle, drop, of(2, "mm"), of(3000, "kg/m3"), Fluid{})
	sin, cos := math.Sincos(50 * math.Pi / 180)
	v := 40 * math.Pi / 30 * 0.3
	fall := (-v*sin + math.Sqrt(v*v*sin*sin+2*standardGravity*(0.3*cos+0.5))) / standardGravity
	near(t, "parabola", in(t, vacuum, err, "m"), 0.3*sin+v*cos*fall, 1e-12)
	thin, err := d.Flight(angle, drop, of(2, "mm"), of(3000, "kg/m3"), Fluid{of(1e-6, "kg/m3"), of(1e-11, "Pa s")})
	near(t, "a thin gas", in(t, thin, err, "m"), in(t, vacuum, nil, "m"), 1e-4)
	air := Fluid{of(1.2, "kg/m3"), of(1.8e-5, "Pa s")}
	fine, err := d.Flight(angle, drop, of(0.05, "mm"), of(3000, "kg/m3"), air)
	coarse, err2 := d.Flight(angle, drop, of(10, "mm"), of(3000, "kg/m3"), air)
	if f, c, free := in(t, fine, err, "m"), in(t, coarse, err2, "m"), in(t, vacuum, nil, "m"); !(f < c && c < free && f > 0.3*sin) {
		t.Errorf("flights: %g m fine, %g coarse, %g in a vacuum", f, c, free)
	}
	early, err := d.Flight(of(20, "deg"), drop, of(2, "mm"), of(3000, "kg/m3"), Fluid{})
	position, err2 := d.SplitterPosition(drop)
	if !(in(t, early, err, "m") > in(t, position, err2, "m")) {
		t.Error("a grain that leaves early does not land beyond the splitter")
	}
	if _, err := d.Flight(of(0, "deg"), of(-1, "m"), of(2, "mm"), of(3000, "kg/m3"), Fluid{}); err == nil {
		t.Error("a level above the drum is accepted")
	}
}

// A grain that Stokes' drag alone holds flies v/k across, however long it then sinks,
// and the steps to that are few.
func TestFineGrainsStopInGas(t *testing.T) {
	air := medium{density: 1.2e-9, viscosity: 18e-6} // so thin that drag is Stokes' alone
	const size, density, speed = 1e-7, 3000.0, 0.9
	calls := 0
	drag := func(v float64) float64 { calls++; return air.drag(size, density, v) }
	x := flying{0.2, 0.1, speed, 0}.fall(-1, standardGravity, 1000, drag)
	k := 18 * air.viscosity / (density * size * size)
	if math.Abs(x-0.2-speed/k) > 2e-9 || calls > 10000 {
		t.Errorf("it comes to %.12g m in %d steps, want %.12g", x, calls, 0.2+speed/k)
	}
}

// The explicit drag of the wet drum against falls in water: A. Rushton, A.S. Ward,
// R.G. Holdich, Solid-Liquid Filtration and Separation Technology (1996), 70 µm of
// 2600 kg/m³ at 4.06 mm/s; GPSA Engineering Data Book, 13th ed., example 7-1, a drop of
// 150 µm in a gas at 0.46 ft/s.
func TestVelocitiesInTheTank(t *testing.T) {
	water := medium{1000, 1e-3}
	near(t, "quartz", water.velocity(9.81*(1-1000.0/2600), 70e-6, 2600), 4.06e-3, 0.03)
	gas := medium{2.07 * 16.018463, 1.2e-5}
	near(t, "drop", gas.velocity(9.80665*(1-2.07/31.2), 150e-6, 31.2*16.018463), 0.46*0.3048, 0.01)
	if v := water.velocity(-1, 70e-6, 2600); !(v < 0) {
		t.Errorf("a grain drawn away comes nearer: %g", v)
	}
}

// In Stokes' range, without weight and in the field of a plane, a paramagnetic
// grain crosses from y in (exp(2ky) − 1)/(2k·v₀).
func TestWetDrumAgreesWithTheClosedForm(t *testing.T) {
	d := WetDrum{Radius: of(500, "m"), Width: of(1, "m"), Gap: of(10, "mm"), Arc: of(0.002, "rad"), Gravity: of(0, "m/s2"), Water: of(5, "%"),
		Field: Field{Surface: of(0.5, "T"), Decay: of(100, "1/m")}}
	ore := Material{Name: "ore", Density: of(4000, "kg/m3"), Susceptibility: quantity.Number(0.005)}
	size := 20e-6
	chi := 0.005 / (1 + 0.005/3)
	pull := chi / 4000 * 0.25 * 100 / vacuumPermeability
	v0 := pull * 4000 * size * size / (18 * 1.002e-3)
	for _, y := range []float64{0.002, 0.004, 0.008} {
		time := (math.Exp(2*100*y) - 1) / (2 * 100 * v0)
		section, length := 0.01, (500+0.005)*0.002
		share, err := d.Share(Grain{Materials: []Material{ore}}, of(size, "m"), of(section*length/time, "m3/s"))
		near(t, "share caught", in(t, share, err, "1"), y/0.01, 0.02)
	}
	fast, err := d.Share(Grain{Materials: []Material{ore}}, of(size, "m"), of(1, "m3/h"))
	d.Gravity = quantity.Quantity{}
	heavy, err2 := d.Share(Grain{Materials: []Material{ore}}, of(size, "m"), of(1, "m3/h"))
	if in(t, heavy, err2, "1") > in(t, fast, err, "1") {
		t.Error("weight away from the drum does not hinder")
	}
}

func TestScatterKeepsTheMeanOfAnEvenSpread(t *testing.T) {
	near(t, "little scatter", blurred(0.4, 1e-3), 0.4, 1e-5)
	near(t, "all crossed", blurred(50, 0.3), 1, 1e-9)
	// By the trapezium rule over z.
	sum, steps := 0.0, 20000
	for k := range steps {
		z := -8 + 16*(float64(k)+0.5)/float64(steps)
		sum += min(0.7*math.Exp(0.5*z), 1) * math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) * 16 / float64(steps)
	}
	near(t, "mean", blurred(0.7, 0.5), sum, 1e-6)
}

func TestTubeHoldsMagnetiteAndWashesQuartz(t *testing.T) {
	d := Tube{Field: Field{Surface: of(0.3, "T"), Decay: of(60, "1/m")}, Bore: of(40, "mm"), Water: of(0.02, "m/s"), Scatter: quantity.Number(0.3)}
	size := of(75, "um")
	iron, err := d.Share(Grain{Materials: []Material{mustFind(t, "magnetite")}}, size)
	if x := in(t, iron, err, "1"); !(x > 0.999) {
		t.Errorf("magnetite held: %g", x)
	}
	sand, err := d.Share(Grain{Materials: []Material{mustFind(t, "quartz")}}, size)
	if x := in(t, sand, err, "1"); x != 0 {
		t.Errorf("quartz held: %g", x)
	}
	d.Water = of(20, "m/s")
	washed, err := d.Share(Grain{Materials: []Material{mustFind(t, "magnetite")}}, of(5, "um"))
	if x := in(t, washed, err, "1"); !(x < 0.5) {
		t.Errorf("fine magnetite held against a torrent: %g", x)
	}
}

// feed is 20 t/h of metal, middlings and glass in three sizes.
func feed(t testing.TB, water quantity.Quantity) stream.Stream {
	iron, err := mineral.Find("iron")
	if err != nil {
		t.Fatal(err)
	}
	glass := mineral.Mineral{Name: "glass", Formula: mineral.Must(mineral.ParseFormula("CaSiO3")), Density: mineral.Figure{Low: of(2.7, "g/cm3"), High: of(2.7, "g/cm3"), Source: "invented"}}
	free, _ := stream.Free(iron)
	locked, _ := stream.Locked(iron, of(10, "%"), glass)
	barren, err := stream.Free(glass)
	if err != nil {
		t.Fatal(err)
	}
	c, err := stream.NewClasses([]quantity.Quantity{of(8, "mm"), of(4, "mm"), of(1, "mm")}, free, locked, barren)
	if err != nil {
		t.Fatal(err)
	}
	s, err := stream.New("feed", c, [][]float64{{0.2, 0.5, 1}, {0.3, 0.5, 1}, {0.5, 0.5, 1}}, water)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

var slag = Material{Name: "glass", Susceptibility: quantity.Number(1e-4)}

func TestProductsOfAStream(t *testing.T) {
	d := drum()
	d.Scatter, d.Carried, d.Materials = quantity.Number(0.4), of(2, "%"), []Material{slag}
	wet := WetDrum{Radius: of(0.6, "m"), Width: of(1.5, "m"), Gap: of(40, "mm"), Arc: of(90, "deg"), Water: of(20, "%"), Materials: []Material{slag},
		Field: Field{Surface: of(0.15, "T"), Pitch: of(120, "mm")}}
	tube := Tube{Field: Field{Surface: of(0.3, "T"), Decay: of(60, "1/m")}, Bore: of(40, "mm"), Water: of(0.02, "m/s"), Materials: []Material{slag}}
	for name, unit := range map[string]interface {
		Products() []string
		Apply(stream.Stream) ([]stream.Stream, error)
	}{"drum": d, "wet drum": wet, "tube": tube} {
		in := feed(t, quantity.Quantity{})
		if name != "drum" {
			in = feed(t, of(60, "t/h"))
		}
		products, err := unit.Apply(in)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		sum, err := stream.Mix("both", products...)
		if err != nil || len(products) != len(unit.Products()) {
			t.Fatal(name, err)
		}
		for i := range 3 {
			for j := range 3 {
				near(t, name+": mass of a class", sum.Flow(i, j), in.Flow(i, j), 1e-12)
			}
		}
		near(t, name+": water", sum.WaterFlow(), in.WaterFlow(), 1e-12)
		before, _ := in.Grade("Fe")
		after, err := products[0].Grade("Fe")
		if err != nil || !before.Less(after) {
			t.Errorf("%s: iron is not enriched: %v to %v (%v)", name, before, after, err)
		}
	}
	if _, err := d.Apply(feed(t, of(60, "t/h"))); err == nil {
		t.Error("a dry drum accepts pulp")
	}
	d.Burden = of(1, "mm")
	if _, err := d.Apply(feed(t, quantity.Quantity{})); err == nil {
		t.Error("a burden deeper than allowed is accepted")
	}
	misspelt := slag
	misspelt.Name = "glas"
	d.Burden, d.Materials = quantity.Quantity{}, []Material{slag, misspelt}
	if _, err := d.Apply(feed(t, quantity.Quantity{})); err == nil || !strings.Contains(err.Error(), `"glas" is no mineral of the stream, which holds iron, glass`) {
		t.Errorf("a material that no particle holds: %v", err)
	}
	capital := slag
	capital.Name = "Glass"
	d.Materials = []Material{capital}
	if _, err := d.Apply(feed(t, quantity.Quantity{})); err != nil {
		t.Errorf("a material in capitals: %v", err)
	}
	d.Materials = nil
	if _, err := d.Apply(feed(t, quantity.Quantity{})); err == nil {
		t.Error("a mineral without magnetic figures is accepted")
	}
	power, err := drum().Power(feed(t, quantity.Quantity{}))
	near(t, "power", in(t, power, err, "W"), 5.5*math.Pow(40*math.Pi/30*0.3, 2), 1e-9)
}

func TestDepthAndRateAreInverse(t *testing.T) {
	d := drum()
	depth, err := d.Depth(of(40, "t/h"), of(1.8, "t/m3"))
	near(t, "depth", in(t, depth, err, "m"), 40/3.6/(1800*0.3*40*math.Pi/30), 1e-12)
	rate, err := d.Rate(depth, of(1.8, "t/m3"))
	near(t, "rate", in(t, rate, err, "t/h"), 40, 1e-12)
}

func TestWideRangesAreRefused(t *testing.T) {
	for _, name := range []string{"ilmenite", "hematite", "pyrolusite"} {
		if m, err := Find(name); err == nil {
			t.Errorf("%s: %+v", name, m)
		}
	}
}

func TestUncertainFieldsGiveUncertainResults(t *testing.T) {
	d := drum()
	surface, err := quantity.Normal(of(0.12, "T"), of(0.01, "T"))
	if err != nil {
		t.Fatal(err)
	}
	d.Field.Surface = surface
	angle, err := d.Release(part(t, 0.004), of(1, "mm"))
	if err != nil || !angle.IsUncertain() {
		t.Errorf("%v, %v", angle, err)
	}
	g := part(t, 0.02)
	g.Shares[0], _ = quantity.Uniform(quantity.Number(0.01), quantity.Number(0.03))
	g.Shares[1] = quantity.Number(1).Sub(g.Shares[0])
	moment, err := g.Moment(of(50, "kA/m"))
	if err != nil || !moment.IsUncertain() {
		t.Errorf("%v, %v", moment, err)
	}
	m, err := mustFind(t, "magnetite").Magnetisation(surface.Div(of(4e-7*math.Pi, "H/m")), quantity.Number(0.2))
	if err != nil || !m.IsUncertain() {
		t.Errorf("%v, %v", m, err)
	}
}

func BenchmarkDrum(b *testing.B) {
	var particles []stream.Particle
	iron, _ := mineral.Find("iron")
	glass := mineral.Mineral{Name: "glass", Formula: mineral.Must(mineral.ParseFormula("CaSiO3")), Density: mineral.Figure{Low: of(2.7, "g/cm3"), High: of(2.7, "g/cm3"), Source: "invented"}}
	for k := range 8 {
		p, err := stream.Locked(iron, of(float64(1+12*k), "%"), glass)
		if err != nil {
			b.Fatal(err)
		}
		particles = append(particles, p)
	}
	openings, rows := make([]quantity.Quantity, 12), make([][]float64, 12)
	for i := range openings {
		openings[i], rows[i] = of(16*math.Pow(0.6, float64(i)), "mm"), []float64{1, 1, 1, 1, 1, 1, 1, 1}
	}
	c, err := stream.NewClasses(openings, particles...)
	if err != nil {
		b.Fatal(err)
	}
	s, err := stream.New("feed", c, rows, quantity.Quantity{})
	if err != nil {
		b.Fatal(err)
	}
	d := drum()
	d.Scatter, d.Materials = quantity.Number(0.4), []Material{slag}
	for b.Loop() {
		if _, err := d.Apply(s); err != nil {
			b.Fatal(err)
		}
	}
}

// A splitter by its place is the splitter by its angle; in a gas fine grains fall
// short of it.
func TestSplitterByPlace(t *testing.T) {
	angle := drum()
	angle.Scatter, angle.Splitter = quantity.Number(0.4), of(75, "deg")
	edge, err := angle.SplitterPosition(of(0.6, "m"))
	if err != nil {
		t.Fatal(err)
	}
	place := angle
	place.Splitter, place.Edge, place.Drop = quantity.Quantity{}, edge, of(0.6, "m")
	g := part(t, 0.01)
	want, err := angle.Share(g, of(2, "mm"), of(8, "mm"))
	got, err2 := place.Share(g, of(2, "mm"), of(8, "mm"))
	near(t, "share", in(t, got, err2, "1"), in(t, want, err, "1"), 1e-6)
	place.Gas = Fluid{of(1.2, "kg/m3"), of(1.8e-5, "Pa s")}
	airy, err := place.Share(g, of(2, "mm"), of(8, "mm"))
	near(t, "coarse grains in air", in(t, airy, err, "1"), in(t, want, nil, "1"), 0.15)
	dust, err := place.Share(part(t, 0), of(0.03, "mm"), of(8, "mm"))
	near(t, "dust falls short of the splitter", in(t, dust, err, "1"), 1, 1e-9)
	for name, change := range map[string]func(*Drum){
		"two splitters":   func(d *Drum) { d.Splitter = of(120, "deg") },
		"no depth":        func(d *Drum) { d.Drop = quantity.Quantity{} },
		"out of reach":    func(d *Drum) { d.Edge = of(3, "m") },
		"under the drum":  func(d *Drum) { d.Edge, d.Arc = of(1, "mm"), of(95, "deg") },
		"no gravity":      func(d *Drum) { d.Gravity = of(0, "m/s2") },
		"half a gas only": func(d *Drum) { d.Gas.Viscosity = quantity.Quantity{} },
	} {
		d := place
		change(&d)
		if p, err := d.Share(g, of(2, "mm"), of(8, "mm")); err == nil {
			t.Errorf("%s is accepted and gives %v", name, p)
		}
	}
	d := place
	d.Materials = []Material{slag}
	products, err := d.Apply(feed(t, quantity.Quantity{}))
	if err != nil || len(products) != 2 {
		t.Error(err)
	}
}

func TestDrumsAreShownWithCautions(t *testing.T) {
	for _, text := range []string{drum().String(), WetDrum{}.String(), Tube{}.String()} {
		if !strings.Contains(text, "licensed practice") {
			t.Errorf("no caution: %s", text)
		}
	}
	if text := drum().String(); !strings.Contains(text, "Speed 40 rpm") || strings.Contains(text, "Gravity") {
		t.Errorf("what is stated, and no more, is shown: %s", text)
	}
}

// A recycle is empty at first.
func TestNothingIsPartedIntoNothing(t *testing.T) {
	c := feed(t, quantity.Quantity{}).Classes()
	for name, water := range map[string]quantity.Quantity{"dry": {}, "water alone": of(1, "t/h")} {
		none, err := stream.New("none", c, [][]float64{{0, 0, 0}, {0, 0, 0}, {0, 0, 0}}, water)
		if err != nil {
			t.Fatal(err)
		}
		d := drum()
		d.Materials = []Material{slag}
		wet := WetDrum{Radius: of(0.6, "m"), Width: of(1.5, "m"), Gap: of(40, "mm"), Arc: of(90, "deg"), Water: of(20, "%"), Materials: []Material{slag},
			Field: Field{Surface: of(0.15, "T"), Pitch: of(120, "mm")}}
		if _, err := wet.Apply(none); err != nil {
			t.Error(name, err)
		}
		if _, err := d.Apply(none); (err != nil) != (name == "water alone") {
			t.Error(name, err)
		}
		if power, err := d.Power(none); err != nil || power.SI() != 0 {
			t.Error(name, power, err)
		}
	}
}

func TestCurvesGiveTheirMaterialBack(t *testing.T) {
	m := Material{Name: "ore", Density: of(5000, "kg/m3"), Susceptibility: quantity.Number(6), Saturation: of(450, "kA/m")}
	l, err := m.law()
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range []float64{0, 1.0 / 3} {
		var outside, moments []quantity.Quantity
		for _, h := range []float64{20, 60, 150, 400, 900} {
			outside = append(outside, of(h, "kA/m"))
			moments = append(moments, of(l.magnetisation(h*1000, n)/5000, "emu/g"))
		}
		back, err := FromCurve("ore", m.Density, outside, moments, quantity.Number(n))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "susceptibility", in(t, back.Susceptibility, nil, "1"), 6, 1e-6)
		near(t, "saturation", in(t, back.Saturation, nil, "kA/m"), 450, 1e-6)
		if _, err := FromCurve("ore", m.Density, outside[:2], moments[:2], quantity.Number(n)); err == nil {
			t.Error("two points are enough")
		}
		if _, err := FromCurve("ore", m.Density, outside, moments, quantity.Number(0.9)); err == nil {
			t.Error("a field that points backwards is accepted")
		}
	}
	straight := []quantity.Quantity{of(1, "emu/g"), of(2.5, "emu/g"), of(4.5, "emu/g")}
	if m, err := FromCurve("salt", m.Density, []quantity.Quantity{of(10, "kA/m"), of(20, "kA/m"), of(30, "kA/m")}, straight, quantity.Quantity{}); err == nil {
		t.Errorf("a curve that bends upwards saturates: %v", m)
	}
}
