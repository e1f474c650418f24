package electrostatic

import (
	"math"
	"strings"
	"testing"

	"cobber/stdlib/internal/expect"
	"cobber/stdlib/mineral"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

func of(x float64, unit string) quantity.Quantity { return quantity.Of(x, unit) }

var nothing quantity.Quantity

var in, near = expect.Value, expect.Near

func gas(t testing.TB, name string) Gas {
	g, err := FindGas(name)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func TestBreakdownHasItsMinimum(t *testing.T) {
	for _, one := range ionising {
		g := gas(t, one.name)
		volts, product, err := g.Minimum()
		least, at := in(t, volts, err, "V"), in(t, product, nil, "Pa m")
		for _, x := range []float64{0.6, 0.9, 1, 1.2, 2} {
			v, err := g.Breakdown(of(at*x*1000, "Pa"), of(1, "mm"), nothing)
			// V/Vmin = x/(1 + ln x), whatever the gas.
			near(t, one.name, in(t, v, err, "V"), least*x/(1+math.Log(x)), 1e-9)
		}
		if _, err := g.Breakdown(of(at*0.3*1000, "Pa"), of(1, "mm"), nothing); err == nil {
			t.Errorf("%s: a voltage where no avalanche grows", one.name)
		}
		warm, err := g.Breakdown(of(at*2000, "Pa"), of(1, "mm"), of(2*293.15, "K"))
		near(t, one.name+": at twice the temperature half the gas", in(t, warm, err, "V"), least, 1e-9)
	}
	if _, err := FindGas("phlogiston"); err == nil {
		t.Error("any gas is found")
	}
}

// The two laws for air meet within some per cent where one gives way to the other.
func TestLawsOfAirMeet(t *testing.T) {
	a, err := gas(t, "air").avalanche()
	if err != nil {
		t.Fatal(err)
	}
	edge := math.Exp(a.b/a.low) * a.threshold / a.a
	left, err := a.breakdown(edge*0.999, true)
	if err != nil {
		t.Fatal(err)
	}
	right, err := a.breakdown(edge*1.001, true)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "at the edge", right, left, 0.05)
	if _, err := a.breakdown(edge*1.001, false); err == nil {
		t.Error("a law is used outside its range")
	}
}

func TestChargesByHand(t *testing.T) {
	full, err := Saturation(of(100, "um"), of(5, "kV/cm"), nothing)
	most := in(t, full, err, "C")
	glass, err := Saturation(of(100, "um"), of(5, "kV/cm"), quantity.Number(5))
	near(t, "p of a dielectric", in(t, glass, err, "C")/most, 5.0/7, 1e-12)
	vacuum, err := Saturation(of(100, "um"), of(5, "kV/cm"), quantity.Number(1))
	near(t, "nothing bends the field", in(t, vacuum, err, "C")/most, 1.0/3, 1e-12)
	tau := 4 * vacuumPermittivity / (1e14 * elementaryCharge * 2e-4)
	half, err := ChargingShare(of(tau, "s"), of(1e14, "1/m3"), of(2e-4, "m2/(V s)"))
	near(t, "half after τ", in(t, half, err, "1"), 0.5, 1e-12)
	charge, lift, err := Induced(of(1, "mm"), of(4, "kV/cm"))
	near(t, "lift over charge times field", in(t, lift, err, "N")/(in(t, charge, nil, "C")*4e5), 0.832, 1e-3)
	tau2, err := Relaxation(of(1e12, "Ω m"), quantity.Number(4))
	near(t, "relaxation", in(t, tau2, err, "s"), 35.42, 1e-3)
	image, err := Image(of(1, "pC"), of(100, "um"))
	near(t, "image", in(t, image, err, "N"), 8.98755e9*1e-24/1e-8, 1e-5)
	sigma, err := Contact(of(0.3, "V"), of(1, "nm"), of(1, "%"))
	near(t, "contact", in(t, sigma, err, "µC/m2"), 26.56, 1e-3)
	after, err := AfterContacts(of(10, "µC/m2"), quantity.Number(3), quantity.Number(3))
	near(t, "after contacts", in(t, after, err, "µC/m2"), 10*(1-1/math.E), 1e-12)
	for name, wrong := range map[string]func() error{
		"permittivity below 1": func() error {
			_, err := Saturation(of(1, "mm"), of(1, "kV/cm"), quantity.Number(0.5))
			return err
		},
		"a size of 0":     func() error { _, err := PerMass(of(1, "µC/m2"), of(0, "mm"), of(1, "g/cm3")); return err },
		"mass for charge": func() error { _, err := Image(of(1, "kg"), of(1, "mm")); return err },
	} {
		if wrong() == nil {
			t.Errorf("%s is accepted", name)
		}
	}
}

// plates are of a laboratory's size, invented.
func plates() Plates {
	return Plates{Height: of(1, "m"), Gap: of(20, "cm"), Voltage: of(60, "kV"), Negative: of(2, "cm"), Positive: of(2, "cm"), Entry: of(1, "cm"),
		Charges: []Charge{{"quartz", of(-8, "µC/m2"), of(4, "µC/m2")}, {"apatite", of(6, "µC/m2"), of(4, "µC/m2")}}}
}

func TestDragShortensWhatItTouches(t *testing.T) {
	p := plates()
	q, rho := of(5, "µC/kg"), of(2650, "kg/m3")
	vacuum := p
	vacuum.Atmosphere.Vacuum = true
	thin := p
	thin.Atmosphere = Atmosphere{Pressure: of(101325, "Pa"), Density: of(1e-7, "kg/m3"), Viscosity: of(1e-12, "Pa s")}
	free, err := vacuum.Deflection(q, of(200, "um"), rho)
	x := in(t, free, err, "m")
	near(t, "half g·t² gives t", x, 5e-6*3e5*(2/standardGravity)/2, 1e-12)
	close, err := thin.Deflection(q, of(200, "um"), rho)
	near(t, "a thin gas", in(t, close, err, "m"), x, 2e-3)
	// With Stokes' drag over a long fall both velocities are terminal: x/H = qE/(mg).
	fine, err := p.Deflection(q, of(10, "um"), rho)
	near(t, "fine grains fall straight", in(t, fine, err, "m"), 5e-6*3e5/standardGravity, 0.01)
	p.Drift = of(0.3, "m")
	longer, err := p.Deflection(q, of(200, "um"), rho)
	p.Drift = nothing
	shorter, err2 := p.Deflection(q, of(200, "um"), rho)
	if !(in(t, longer, err, "m") > in(t, shorter, err2, "m")) {
		t.Error("drift adds nothing")
	}
	moon := vacuum
	moon.Gravity = of(1.62, "m/s2")
	far, err := moon.Deflection(q, of(200, "um"), rho)
	near(t, "lower gravity, longer fall", in(t, far, err, "m")/x, standardGravity/1.62, 1e-9)
}

func TestThresholdBringsGrainsToThePlace(t *testing.T) {
	p := plates()
	p.Drift, p.Speed = of(0.1, "m"), of(0.5, "m/s")
	s, err := p.aim()
	if err != nil {
		t.Fatal(err)
	}
	for _, size := range []float64{50e-6, 150e-6, 600e-6} {
		sigma, err := s.threshold(0.03, size, 3000)
		if err != nil {
			t.Fatal(err)
		}
		x, err := s.deflection(6*sigma/(3000*size)*s.field, size, 3000)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "place", x, 0.03, 1e-4)
	}
}

// feed is 1 t/h of free and locked quartz and apatite in two sizes.
func feed(t testing.TB, names [2]string, water quantity.Quantity) stream.Stream {
	a, err := mineral.Find(names[0])
	if err != nil {
		t.Fatal(err)
	}
	b, err := mineral.Find(names[1])
	if err != nil {
		t.Fatal(err)
	}
	first, _ := stream.Free(a)
	locked, _ := stream.Locked(a, of(50, "%"), b)
	second, err := stream.Free(b)
	if err != nil {
		t.Fatal(err)
	}
	c, err := stream.NewClasses([]quantity.Quantity{of(400, "um"), of(200, "um")}, first, locked, second)
	if err != nil {
		t.Fatal(err)
	}
	s, err := stream.New("feed", c, [][]float64{{0.05, 0.02, 0.05}, {0.05, 0.02, 0.05}}, water)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func closes(t *testing.T, in stream.Stream, products []stream.Stream, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	sum, err := stream.Mix("all", products...)
	if err != nil {
		t.Fatal(err)
	}
	for i := range in.Classes().Sizes() {
		for j := range in.Classes().Particles() {
			near(t, "mass of a class", sum.Flow(i, j), in.Flow(i, j), 1e-12)
		}
	}
	near(t, "water", sum.WaterFlow(), in.WaterFlow(), 1e-12)
}

func TestPlatesPartByCharge(t *testing.T) {
	p, in := plates(), feed(t, [2]string{"quartz", "apatite"}, of(0.2, "kg/h"))
	products, err := p.Apply(in)
	closes(t, in, products, err)
	before, _ := in.Grade("quartz")
	negative, _ := products[0].Grade("quartz")
	positive, _ := products[2].Grade("quartz")
	if !negative.Less(before) || !before.Less(positive) {
		t.Errorf("quartz: %v, %v on the negative side, %v on the positive one", before, negative, positive)
	}
	power, err := p.Power(in)
	if err != nil || !(power.SI() > 0) {
		t.Errorf("power %v, %v", power, err)
	}
	// Without charge, all falls in the middle.
	for i := range p.Charges {
		p.Charges[i].Mean, p.Charges[i].Spread = of(0, "C/m2"), nothing
	}
	products, err = p.Apply(in)
	closes(t, in, products, err)
	if products[1].Solids().SI() != in.Solids().SI() {
		t.Error("uncharged grains leave the middle")
	}
	for name, change := range map[string]func(*Plates){
		"a spark":          func(p *Plates) { p.Voltage = of(700, "kV") },
		"a vacuum arc":     func(p *Plates) { p.Atmosphere.Vacuum = true; p.Voltage = of(9, "MV") },
		"field emission":   func(p *Plates) { p.Atmosphere.Vacuum = true; p.Charges[0].Mean = of(20, "mC/m2") },
		"a spark on Mars":  func(p *Plates) { p.Atmosphere = mars(); p.Voltage = of(10, "kV") },
		"no charges":       func(p *Plates) { p.Charges = p.Charges[:1] },
		"too much charge":  func(p *Plates) { p.Charges[0].Mean = of(-40, "µC/m2") },
		"no splitter":      func(p *Plates) { p.Negative = nothing },
		"splitter outside": func(p *Plates) { p.Positive = of(11, "cm") },
		"no fall":          func(p *Plates) { p.Gravity = of(0, "m/s2"); p.Atmosphere.Vacuum = true },
	} {
		p := plates()
		change(&p)
		if _, err := p.Apply(in); err == nil {
			t.Errorf("%s is accepted", name)
		}
	}
	if _, err := plates().Apply(feed(t, [2]string{"quartz", "apatite"}, of(1, "t/h"))); err == nil {
		t.Error("a wet feed is accepted")
	}
}

func mars() Atmosphere {
	g, _ := FindGas("carbon dioxide")
	return Atmosphere{Gas: g, Pressure: of(610, "Pa"), Temperature: of(210, "K"), Density: of(0.0155, "kg/m3"), Viscosity: of(1.1e-5, "Pa s")}
}

// roll is of a laboratory's size, invented.
func roll() Roll {
	return Roll{Radius: of(12, "cm"), Width: of(1, "m"), Speed: of(60, "rpm"), Corona: of(4, "kV/cm"), Charged: of(50, "%"),
		Voltage: of(25, "kV"), Gap: of(6, "cm"), Conductors: of(70, "deg"), Insulators: of(120, "deg"), Spread: of(30, "%"), Idle: of(1, "kW")}
}

func TestRollThrowsConductorsAndHoldsInsulators(t *testing.T) {
	d := roll()
	d.Voltage, d.Speed, d.Charged = of(15, "kV"), of(40, "rpm"), of(100, "%")
	slow, fast := Conduction{Name: "sand", Relaxation: of(1e4, "s")}, Conduction{Name: "ore", Relaxation: of(1e-6, "s")}
	size, density := of(200, "um"), of(4000, "kg/m3")
	pinned, err := d.Release(size, density, slow)
	if x := in(t, pinned, err, "deg"); x != 180 {
		t.Errorf("an insulator leaves at %g°", x)
	}
	thrown, err := d.Release(size, density, fast)
	x := in(t, thrown, err, "rad")
	turn := math.Pow(40*math.Pi/30, 2) * 0.1201
	want := math.Acos((turn + liftingForce*6*vacuumPermittivity*math.Pow(15e3/0.06, 2)/(4000*200e-6)) / standardGravity)
	near(t, "a conductor leaves where lift, throw and weight balance", x, want, 1e-6)
	last := x
	for _, time := range []float64{1e-3, 0.05, 0.2, 1} {
		angle, err := d.Release(size, density, Conduction{Name: "between", Relaxation: of(time, "s")})
		if a := in(t, angle, err, "rad"); a < last {
			t.Errorf("a grain that keeps its charge longer, τ = %g s, leaves earlier", time)
		} else {
			last = a
		}
	}
	d.Corona = nothing
	bare, err := d.Release(size, density, slow)
	near(t, "without corona an insulator only rides", in(t, bare, err, "rad"), math.Acos(turn/standardGravity), 1e-9)
}

func TestRollPartsAStream(t *testing.T) {
	in := feed(t, [2]string{"rutile", "zircon"}, nothing)
	d := roll()
	d.Carried = of(2, "%")
	products, err := d.Apply(in)
	closes(t, in, products, err)
	conductors, _ := products[0].Grade("rutile")
	others, _ := products[2].Grade("rutile")
	before, _ := in.Grade("rutile")
	if !others.Less(before) || !before.Less(conductors) {
		t.Errorf("rutile: %v in the feed, %v in conductors, %v in non-conductors", before, conductors, others)
	}
	power, err := d.Power(in)
	if err != nil || power.SI() != 1000 {
		t.Error(power, err)
	}
	for name, change := range map[string]func(*Roll){
		"corona in a vacuum":  func(d *Roll) { d.Atmosphere.Vacuum = true },
		"splitters that fall": func(d *Roll) { d.Insulators = of(20, "deg") },
		"a spark":             func(d *Roll) { d.Voltage = of(400, "kV") },
		"hertz":               func(d *Roll) { d.Speed = of(1, "Hz") },
		"no Charged":          func(d *Roll) { d.Charged = nothing },
	} {
		d := roll()
		change(&d)
		if _, err := d.Apply(in); err == nil {
			t.Errorf("%s is accepted", name)
		}
	}
	if _, err := roll().Apply(feed(t, [2]string{"quartz", "pyrolusite"}, nothing)); err == nil {
		t.Error("a mineral of unknown conduction is accepted")
	}
	layer, err := d.Layer(of(200, "um"), of(4, "g/cm3"), of(60, "%"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "layer", layer.SI(), 0.6*2/3*4000*200e-6*1*2*math.Pi*0.12, 1e-12)
}

func TestUncertainFields(t *testing.T) {
	p := plates()
	voltage, err := quantity.Normal(of(60, "kV"), of(2, "kV"))
	if err != nil {
		t.Fatal(err)
	}
	p.Voltage = voltage
	x, err := p.Deflection(of(5, "µC/kg"), of(200, "um"), of(2650, "kg/m3"))
	if err != nil || !x.IsUncertain() {
		t.Errorf("%v, %v", x, err)
	}
	d := roll()
	d.Voltage = voltage.Mul(quantity.Number(0.4))
	angle, err := d.Release(of(200, "um"), of(4000, "kg/m3"), Conduction{Name: "ore", Relaxation: of(0, "s")})
	if err != nil || !angle.IsUncertain() {
		t.Errorf("%v, %v", angle, err)
	}
}

func TestSeparatorsAreShownWithCautions(t *testing.T) {
	for _, text := range []string{plates().String(), roll().String()} {
		if !strings.Contains(text, "licensed practice") || !strings.Contains(text, "Gap ") || strings.Contains(text, "Gravity") {
			t.Errorf("shown: %s", text)
		}
	}
}

// BenchmarkSeparators parts 12 sizes of 8 classes of particles.
func BenchmarkSeparators(b *testing.B) {
	wide := func(names [2]string) stream.Stream {
		first, _ := mineral.Find(names[0])
		second, err := mineral.Find(names[1])
		if err != nil {
			b.Fatal(err)
		}
		var particles []stream.Particle
		for k := range 8 {
			p, err := stream.Locked(first, of(float64(2+13*k), "%"), second)
			if err != nil {
				b.Fatal(err)
			}
			particles = append(particles, p)
		}
		openings, rows := make([]quantity.Quantity, 12), make([][]float64, 12)
		for i := range openings {
			openings[i], rows[i] = of(1000*math.Pow(0.75, float64(i)), "um"), []float64{1, 1, 1, 1, 1, 1, 1, 1}
		}
		grid, err := stream.NewClasses(openings, particles...)
		if err != nil {
			b.Fatal(err)
		}
		s, err := stream.New("feed", grid, rows, nothing)
		if err != nil {
			b.Fatal(err)
		}
		return s
	}
	separate := func(name string, apply func(stream.Stream) ([]stream.Stream, error), feed stream.Stream) {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := apply(feed); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	separate("plates", plates().Apply, wide([2]string{"quartz", "apatite"}))
	separate("roll", roll().Apply, wide([2]string{"rutile", "zircon"}))
}

// A recycle is empty at first.
func TestNothingIsPartedIntoNothing(t *testing.T) {
	for name, minerals := range map[string][2]string{"plates": {"quartz", "apatite"}, "roll": {"rutile", "zircon"}} {
		none, err := stream.New("none", feed(t, minerals, nothing).Classes(), [][]float64{{0, 0, 0}, {0, 0, 0}}, nothing)
		if err != nil {
			t.Fatal(err)
		}
		var products []stream.Stream
		if name == "plates" {
			products, err = plates().Apply(none)
		} else {
			products, err = roll().Apply(none)
		}
		if err != nil || len(products) != 3 {
			t.Error(name, products, err)
		}
	}
}
