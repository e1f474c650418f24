package settling

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"cobber/stdlib/internal/expect"
	"cobber/stdlib/quantity"
)

func of(unit string, values ...float64) []quantity.Quantity {
	all := make([]quantity.Quantity, len(values))
	for i, x := range values {
		all[i] = quantity.Of(x, unit)
	}
	return all
}

var value, near, refused = expect.Value, expect.Near, expect.Refused

var (
	water  = Fluid{Density: quantity.Of(1000, "kg/m³"), Viscosity: quantity.Of(1, "mPa·s")}
	earth  = quantity.Of(9.81, "m/s²")
	moon   = quantity.Of(1.62, "m/s²")
	quartz = quantity.Of(2.65, "g/cm³")
)

func grain(micrometres float64) Particle {
	return Particle{Size: quantity.Of(micrometres, "µm"), Density: quartz}
}

// The weight under the fluid is the drag at the velocity found, whatever the law.
func TestDragBearsTheWeight(t *testing.T) {
	for _, law := range []Law{Stokes, SchillerNaumann, HaiderLevenspiel, Newton} {
		size := map[Law]float64{Stokes: 60, SchillerNaumann: 800, HaiderLevenspiel: 9000, Newton: 9000}[law]
		p := grain(size)
		fall, err := Terminal(p, water, earth, law)
		if err != nil {
			t.Errorf("%v: %v", law, err)
			continue
		}
		d, v := p.Size.SI(), fall.Velocity.SI()
		weight := math.Pi / 6 * d * d * d * 1650 * 9.81
		drag := fall.Drag.SI() * math.Pi / 4 * d * d * 1000 * v * v / 2
		near(t, law.String(), drag, weight, 1e-9)
		near(t, law.String()+": Re", fall.Reynolds.SI(), 1000*v*d/1e-3, 1e-12)
		c, err := Drag(law, fall.Reynolds, quantity.Number(1))
		near(t, law.String()+": Cd", value(t, c, err, "1"), fall.Drag.SI(), 1e-12)
	}
}

func TestLimits(t *testing.T) {
	// Fine: all laws are Stokes'. v = g·d²·Δρ/(18µ).
	fine := grain(5)
	want := 9.81 * 25e-12 * 1650 / 18e-3
	for _, law := range []Law{Stokes, SchillerNaumann, HaiderLevenspiel} {
		fall, err := Terminal(fine, water, earth, law)
		near(t, law.String(), value(t, fall.Velocity, err, "m/s"), want, 3e-3)
	}
	// Creeping falls go with gravity.
	here, err := Terminal(fine, water, earth, Stokes)
	if err != nil {
		t.Fatal(err)
	}
	there, err := Terminal(fine, water, moon, Stokes)
	near(t, "on the Moon", value(t, there.Velocity, err, "m/s"), here.Velocity.SI()*1.62/9.81, 1e-9)
	// A light particle rises as fast as one as much too heavy falls.
	rising, err := Terminal(Particle{Size: quantity.Of(50, "µm"), Density: quantity.Of(900, "kg/m³")}, water, earth, Stokes)
	falling, err2 := Terminal(Particle{Size: quantity.Of(50, "µm"), Density: quantity.Of(1100, "kg/m³")}, water, earth, Stokes)
	near(t, "rising", -value(t, rising.Velocity, err, "m/s"), value(t, falling.Velocity, err2, "m/s"), 1e-12)
	floating, err := Terminal(Particle{Size: quantity.Of(50, "µm"), Density: water.Density}, water, earth, Stokes)
	if v := value(t, floating.Velocity, err, "m/s"); v != 0 {
		t.Errorf("a particle as heavy as the fluid falls at %v", v)
	}
	// A flat grain falls slower than a sphere of its volume.
	flat := grain(500)
	flat.Sphericity = quantity.Number(0.7)
	slow, err := Terminal(flat, water, earth, HaiderLevenspiel)
	round, err2 := Terminal(grain(500), water, earth, HaiderLevenspiel)
	if a, b := value(t, slow.Velocity, err, "m/s"), value(t, round.Velocity, err2, "m/s"); !(a < b) {
		t.Errorf("flat %v, round %v", a, b)
	}
	// Slip makes a fine particle in a gas faster; without free path there is none.
	air := Fluid{Density: quantity.Of(1.2, "kg/m³"), Viscosity: quantity.Of(18.1e-6, "Pa·s")}
	still, err := Terminal(grain(1), air, earth, Stokes)
	air.FreePath = quantity.Of(66, "nm")
	slips, err2 := Terminal(grain(1), air, earth, Stokes)
	// Kn = 0.132: 1 + 0.132·(1.257 + 0.4·exp(−8.33)) by hand.
	near(t, "slip", value(t, slips.Velocity, err2, "m/s")/value(t, still.Velocity, err, "m/s"), 1.16594, 1e-5)
}

func TestTerminalRefuses(t *testing.T) {
	for _, test := range []struct {
		name    string
		p       Particle
		f       Fluid
		gravity quantity.Quantity
		law     Law
		want    string
	}{
		{"vacuum", grain(50), Fluid{}, moon, Stokes, "a vacuum has no terminal velocity"},
		{"no viscosity", grain(50), Fluid{Density: water.Density}, earth, Stokes, "viscosity"},
		{"coarse for Stokes", grain(500), water, earth, Stokes, "holds up to Re = 1"},
		{"fine for Newton", grain(50), water, earth, Newton, "holds from Re = 750"},
		{"no gravity", grain(50), water, quantity.Of(0, "m/s²"), Stokes, "the gravity is above 0"},
		{"size", Particle{Size: quartz, Density: quartz}, water, earth, Stokes, "the size is given"},
		{"no size", Particle{Density: quartz}, water, earth, Stokes, "the size is given"},
		{"sphericity and Stokes", Particle{Size: quantity.Of(1, "µm"), Density: quartz, Sphericity: quantity.Number(0.8)}, water, earth, Stokes, "for spheres"},
		{"flake", Particle{Size: quantity.Of(1, "µm"), Density: quartz, Sphericity: quantity.Number(0.2)}, water, earth, HaiderLevenspiel, "0.5 or more"},
		{"sphericity above 1", Particle{Size: quantity.Of(1, "µm"), Density: quartz, Sphericity: quantity.Number(1.2)}, water, earth, HaiderLevenspiel, "between 0 and 1"},
		{"thin gas", grain(1), Fluid{Density: quantity.Of(1e-5, "kg/m³"), Viscosity: quantity.Of(1e-5, "Pa·s"), FreePath: quantity.Of(1, "mm")}, earth, Stokes, "too long"},
		{"law", grain(1), water, earth, Law(7), "there is no law 7"},
	} {
		_, err := Terminal(test.p, test.f, test.gravity, test.law)
		refused(t, test.name, err, test.want)
	}
}

func TestUncertainFall(t *testing.T) {
	p := grain(20)
	p.Size = quantity.Must(quantity.Normal(p.Size, quantity.Of(0.2, "µm")))
	fall, err := Terminal(p, water, earth, Stokes)
	if err != nil || !fall.Velocity.IsUncertain() {
		t.Fatalf("%v (%v)", fall.Velocity, err)
	}
	near(t, "relative deviation", fall.Velocity.StdDev().SI()/fall.Velocity.SI(), 0.02, 0.05) // v goes with d²
}

func TestSphericity(t *testing.T) {
	cube, err := Sphericity(quantity.Of(1, "cm³"), quantity.Of(6, "cm²"))
	near(t, "cube", value(t, cube, err, "1"), math.Cbrt(math.Pi/6), 1e-12)
	_, err = Sphericity(quantity.Of(1, "cm³"), quantity.Of(4, "cm²"))
	refused(t, "no such body", err, "no body")
	time, speed, err := FreeFall(quantity.Of(2, "m"), moon)
	near(t, "time", value(t, time, err, "s"), math.Sqrt(4/1.62), 1e-12)
	near(t, "speed", value(t, speed, err, "m/s"), 1.62*value(t, time, nil, "s"), 1e-12)
}

func TestHinderedLimits(t *testing.T) {
	for ga, want := range map[float64]float64{0: 4.8, 1e12: 2.4} {
		n, err := Exponent(quantity.Number(ga))
		near(t, "exponent", value(t, n, err, "1"), want, 1e-4)
	}
	v0, n := quantity.Of(3, "mm/s"), quantity.Number(4.65)
	alone, err := Hindered(v0, quantity.Of(0, "%"), n)
	near(t, "alone", value(t, alone, err, "mm/s"), 3, 1e-12)
	slow, err := Hindered(v0, quantity.Of(30, "%"), n)
	back, err2 := SolidsAt(slow, v0, n)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "there and back", value(t, back, err2, "%"), 30, 1e-9)
	c, flux, err := MaximumFlux(v0, n)
	for _, other := range []float64{0.9, 1.1} {
		less, err := Flux(v0, c.Mul(quantity.Number(other)), n)
		if err != nil || !less.Less(flux) {
			t.Errorf("flux %v beside the maximum %v (%v)", less, flux, err)
		}
	}
	if err != nil {
		t.Fatal(err)
	}
	_, err = Hindered(v0, quantity.Of(110, "%"), n)
	refused(t, "too full", err, "volume share")
	_, err = Hindered(v0, quantity.Of(10, "%"), quantity.Number(1))
	refused(t, "exponent", err, "between 2.4 and 4.8")
	_, err = SolidsAt(quantity.Of(4, "mm/s"), v0, n)
	refused(t, "carried away", err, "carries them away")
	_, err = Steinour(quantity.Of(1, "kg"), quantity.Of(10, "%"))
	refused(t, "no velocity", err, "as in m/s")
}

// A particle as large as EqualSettlingSize says does fall alike.
func TestEqualSettling(t *testing.T) {
	galena := quantity.Of(7.5, "g/cm³")
	for _, test := range []struct {
		size float64
		law  Law
	}{{30, Stokes}, {200, SchillerNaumann}, {500, HaiderLevenspiel}, {20000, Newton}} {
		p := grain(test.size)
		size, err := EqualSettlingSize(p, galena, water, earth, test.law)
		if err != nil {
			t.Errorf("%v: %v", test.law, err)
			continue
		}
		one, err := Terminal(p, water, earth, test.law)
		two, err2 := Terminal(Particle{Size: size, Density: galena}, water, earth, test.law)
		near(t, test.law.String(), value(t, two.Velocity, err2, "m/s"), value(t, one.Velocity, err, "m/s"), 1e-9)
		if ratio, err := EqualSettlingRatio(galena, quartz, water.Density, test.law); err == nil {
			near(t, test.law.String()+": ratio", p.Size.SI()/size.SI(), ratio.SI(), 1e-9)
		} else {
			refused(t, test.law.String(), err, "EqualSettlingSize")
		}
	}
	_, err := EqualSettlingSize(grain(30), quantity.Of(0.9, "g/cm³"), water, earth, Stokes)
	refused(t, "one rises", err, "do not move the same way")
	_, err = EqualSettlingSize(grain(30), galena, Fluid{}, earth, Stokes)
	refused(t, "vacuum", err, "all bodies fall alike")
	_, err = Criterion(quartz, galena, water.Density)
	refused(t, "order", err, "not in this order")
	for cc, want := range map[float64]string{3: "easy", 2: "150 µm", 1.6: "1.7 mm", 1.3: "6 mm", 1.1: "not possible"} {
		got, err := Ease(quantity.Number(cc))
		if err != nil || !strings.Contains(got, want) {
			t.Errorf("%v: %q (%v)", cc, got, err)
		}
	}
	_, err = SharpDensity(grain(10), Particle{Size: quantity.Of(20, "µm"), Density: galena}, Stokes)
	refused(t, "no overlap", err, "part in any fluid")
	_, err = SharpDensity(grain(30), Particle{Size: quantity.Of(20, "µm"), Density: galena}, HaiderLevenspiel)
	refused(t, "law", err, "Stokes or Newton")
}

// A jar in which velocity depends on concentration by a known law settles along
// a known curve, and the tangents must find the law again. By Kynch the layer c
// rises from the bottom as fast as −d(c·v)/dc and meets the interface at
//
//	t = c₀·H₀/(c²·(−dv/dc)),  height = c₀·H₀/c − v·t
func TestKynchFindsTheLaw(t *testing.T) {
	const c0, h0, cm, v0 = 450.0, 0.4, 1000.0, 1e-4 // kg/m³, m, kg/m³, m/s
	law := func(c float64) float64 { return v0 * math.Pow(1-c/cm, 4) }
	slope := func(c float64) float64 { return 4 * v0 / cm * math.Pow(1-c/cm, 3) } // −dv/dc
	times, heights := of("s", 0), of("m", h0)
	reading := func(at, height float64) {
		times, heights = append(times, quantity.Of(at, "s")), append(heights, quantity.Of(height, "m"))
	}
	for _, part := range []float64{0.25, 0.5, 0.75} { // the first layer falls evenly
		at := part * h0 / (c0 * slope(c0))
		reading(at, h0-law(c0)*at)
	}
	for c := c0; c < 800; c += 5 {
		at := c0 * h0 / (c * c * slope(c))
		reading(at, c0*h0/c-law(c)*at)
	}
	b, err := NewBatch(quantity.Of(c0, "kg/m³"), times, heights)
	if err != nil {
		t.Fatal(err)
	}
	layers, err := b.Layers()
	if err != nil {
		t.Fatal(err)
	}
	for _, layer := range layers[:len(layers)-1] {
		c := layer.Solids.SI()
		near(t, fmt.Sprintf("velocity at %.4g kg/m³", c), layer.Velocity.SI(), law(c), 2e-3)
	}
	// Talmage and Fitch by the tangent at a reading on the same curve.
	const c, cu = 600.0, 900.0
	at := c0 * h0 / (c * c * slope(c))
	got, err := b.TalmageFitch(quantity.Of(cu, "kg/m³"), quantity.Of(at, "s"))
	meets := (c0*h0/c - c0*h0/cu) / law(c)
	near(t, "Talmage and Fitch", value(t, got, err, "m²·s/kg"), meets/(c0*h0), 2e-3)
}

func TestThickenRefuses(t *testing.T) {
	_, err := Thicken([]Layer{{quantity.Of(500, "kg/m³"), quantity.Of(1, "mm/s")}}, quantity.Of(400, "kg/m³"))
	refused(t, "thin underflow", err, "no layer is thinner")
	_, err = Thicken([]Layer{{quantity.Of(50, "%"), quantity.Of(1, "mm/s")}}, quantity.Of(400, "kg/m³"))
	refused(t, "mass share", err, "layer 1")
	start := quantity.Of(100, "g/L")
	_, err = NewBatch(start, of("min", 0, 1, 2), of("cm", 30, 31, 20))
	refused(t, "rising interface", err, "reading 2: the interface sinks")
	_, err = NewBatch(start, of("min", 1, 2, 3), of("cm", 30, 25, 20))
	refused(t, "no start", err, "times rise from 0")
	_, err = NewBatch(start, of("min", 0, 1), of("cm", 30, 25))
	refused(t, "too few", err, "three readings")
	b, err := NewBatch(start, of("min", 0, 1, 2), of("cm", 30, 25, 20))
	if err != nil {
		t.Fatal(err)
	}
	_, err = b.TalmageFitch(quantity.Of(90, "g/L"), quantity.Of(1, "min"))
	refused(t, "thinner", err, "not thicker")
	_, err = b.TalmageFitch(quantity.Of(200, "g/L"), quantity.Of(5, "min"))
	refused(t, "late", err, "outside the test")
	h, err := b.Height(quantity.Of(90, "s"))
	near(t, "height", value(t, h, err, "cm"), 22.5, 1e-9)
	_, err = b.Height(quantity.Of(3, "min"))
	refused(t, "after the test", err, "outside the test")
}

// The figures of the example are invented.
func ExampleTerminal() {
	ilmenite := Particle{Size: quantity.Of(100, "µm"), Density: quantity.Of(4.7, "g/cm³")}
	fall, err := Terminal(ilmenite, water, earth, HaiderLevenspiel)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(fall.Velocity.To("mm/s"))
	_, err = Terminal(ilmenite, Fluid{}, moon, HaiderLevenspiel)
	fmt.Println(err)
	// Output:
	// 16.18 mm/s
	// settling: a vacuum has no terminal velocity, a body falls ever faster until it lands; use FreeFall
}
