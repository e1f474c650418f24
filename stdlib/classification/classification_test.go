package classification

import (
	"math"
	"testing"

	"cobber/stdlib/internal/expect"
	"cobber/stdlib/mineral"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

func of(x float64, unit string) quantity.Quantity { return quantity.Of(x, unit) }

var nothing quantity.Quantity

var in, near = expect.Value, expect.Near

// feed is quartz, magnetite and middlings in six sizes; invented.
func feed(t testing.TB, tonnes float64, water quantity.Quantity) stream.Stream {
	a, _ := mineral.Find("magnetite")
	b, err := mineral.Find("quartz")
	if err != nil {
		t.Fatal(err)
	}
	heavy, _ := stream.Free(a)
	locked, _ := stream.Locked(a, of(40, "%"), b)
	light, _ := stream.Free(b)
	var openings []quantity.Quantity
	var rows [][]float64
	for _, x := range []float64{600, 300, 150, 75, 38, 19} {
		openings = append(openings, of(x, "um"))
		rows = append(rows, []float64{tonnes / 3.6 / 30, tonnes / 3.6 / 30, tonnes / 3.6 / 10})
	}
	grid, err := stream.NewClasses(openings, heavy, locked, light)
	if err != nil {
		t.Fatal(err)
	}
	s, err := stream.New("feed", grid, rows, water)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func cyclones() Hydrocyclone {
	return Hydrocyclone{Diameter: of(38, "cm"), Inlet: of(9.6, "cm"), VortexFinder: of(13, "cm"), Apex: of(9, "cm"), Height: of(110, "cm"), Number: 2}
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

// The volume in the underflow is the share that the split says.
func TestSplitOfVolumesHolds(t *testing.T) {
	h, in1 := cyclones(), feed(t, 60, of(150, "t/h"))
	products, err := h.Apply(in1)
	closes(t, in1, products, err)
	volume, _ := in1.VolumeFlow()
	share, _ := in1.PercentSolidsByVolume()
	solids, _ := in1.SolidsDensity()
	w, err := h.Run(volume, share, of(2.65, "g/cm3"), solids)
	if err != nil {
		t.Fatal(err)
	}
	under, _ := products[0].VolumeFlow()
	over, _ := products[1].VolumeFlow()
	near(t, "split", under.SI()/over.SI(), in(t, w.Split, nil, "1"), 1e-9)
	power, err := h.Power(in1)
	near(t, "power", in(t, power, err, "W"), in(t, w.Pressure, nil, "Pa")*volume.SI(), 1e-9)
	// Dense grains are cut finer, in proportion to the root of ρ − ρl.
	heavy, err := h.Run(volume, share, of(5.175, "g/cm3"), solids)
	near(t, "cut of dense grains", in(t, heavy.Cut, err, "um")/in(t, w.Cut, nil, "um"), math.Sqrt(1.655/4.175), 0.01)
	before, _ := in1.Grade("magnetite")
	after, _ := products[0].Grade("magnetite")
	if !before.Less(after) {
		t.Errorf("dense grains do not gather in the underflow: %v, %v", before, after)
	}
}

func TestHydrocyclonesThatAreRefused(t *testing.T) {
	wet := feed(t, 60, of(150, "t/h"))
	for name, change := range map[string]func(*Hydrocyclone){
		"a giant":          func(h *Hydrocyclone) { h.Diameter = of(2, "m") },
		"no apex":          func(h *Hydrocyclone) { h.Apex = nothing },
		"wide apex":        func(h *Hydrocyclone) { h.Apex = of(50, "cm") },
		"an apex to rope":  func(h *Hydrocyclone) { h.Apex = of(3.5, "cm") },
		"factor of 100":    func(h *Hydrocyclone) { h.CutFactor = quantity.Number(100) },
		"minus one of two": func(h *Hydrocyclone) { h.Number = -1 },
	} {
		h := cyclones()
		change(&h)
		if _, err := h.Apply(wet); err == nil {
			t.Errorf("%s is accepted", name)
		}
	}
	for name, s := range map[string]stream.Stream{"dry": feed(t, 60, nothing), "thick": feed(t, 300, of(50, "t/h"))} {
		if _, err := cyclones().Apply(s); err == nil {
			t.Errorf("a %s feed is accepted", name)
		}
	}
}

func TestFactorsOfASurvey(t *testing.T) {
	h := cyclones()
	run := func(h Hydrocyclone) Working {
		w, err := h.Run(of(100, "m3/h"), of(10, "%"), of(2.65, "g/cm3"), of(2.65, "g/cm3"))
		if err != nil {
			t.Fatal(err)
		}
		return w
	}
	plain := run(h)
	h.CutFactor, h.PressureFactor = quantity.Number(1.3), quantity.Number(0.8)
	tuned := run(h)
	near(t, "cut", in(t, tuned.Cut, nil, "um")/in(t, plain.Cut, nil, "um"), 1.3, 1e-12)
	near(t, "pressure", in(t, tuned.Pressure, nil, "kPa")/in(t, plain.Pressure, nil, "kPa"), 0.8, 1e-12)
	h.Number = 4
	twice := run(h)
	near(t, "half the flow in each", in(t, twice.Pressure, nil, "kPa")/in(t, tuned.Pressure, nil, "kPa"), math.Pow(0.5, 1.78), 1e-9)
}

func TestDutyIsInverse(t *testing.T) {
	d := Duty{Solids: of(20, "%"), Pressure: of(80, "kPa"), Density: of(2.8, "g/cm3")}
	cut, err := d.Cut(of(40, "cm"))
	diameter, err2 := d.Diameter(cut)
	near(t, "diameter", in(t, diameter, err2, "cm"), 40, 1e-12)
	if !(in(t, cut, err, "um") > 0) {
		t.Error(cut)
	}
	for _, wrong := range []Duty{{of(60, "%"), of(80, "kPa"), of(2.8, "g/cm3"), nothing}, {of(20, "%"), of(80, "kPa"), of(0.9, "g/cm3"), nothing}} {
		if _, err := wrong.Cut(of(40, "cm")); err == nil {
			t.Errorf("%+v is accepted", wrong)
		}
	}
	if _, err := CutForOverflow(of(74, "um"), of(40, "%")); err == nil {
		t.Error("an overflow beyond the table")
	}
}

func TestAirClassifierHoldsWhatFallsAsFast(t *testing.T) {
	a := AirClassifier{Velocity: of(0.05, "m/s"), Sharpness: quantity.Number(0.5), Idle: of(3, "kW")}
	cut, err := a.Cut(of(2650, "kg/m3"))
	d := in(t, cut, err, "m")
	re := 1.204 * 0.05 * d / 1.82e-5
	near(t, "drag is weight", 18*1.82e-5*0.05/(d*d)*(1+0.15*math.Pow(re, 0.687)), standardGravity*(2650-1.204), 1e-9)
	moon := a
	moon.Gravity, moon.Velocity = of(1.62, "m/s2"), of(1e-4, "m/s")
	a.Velocity = of(1e-4, "m/s")
	here, err := a.Cut(of(2650, "kg/m3"))
	there, err2 := moon.Cut(of(2650, "kg/m3"))
	near(t, "coarser in lower gravity, by the root", in(t, there, err2, "m")/in(t, here, err, "m"), math.Sqrt(standardGravity/1.62), 1e-3)
	a.Radius, a.Speed, a.Velocity = of(20, "cm"), of(3000, "rpm"), of(3, "m/s")
	rotor, err := a.Cut(of(2650, "kg/m3"))
	if x := in(t, rotor, err, "um"); !(x > 3 && x < 30) {
		t.Errorf("a rotor cuts at %g µm", x)
	}
	in1 := feed(t, 10, nothing)
	a.Bypass = of(5, "%")
	products, err := a.Apply(in1)
	closes(t, in1, products, err)
	// The sharpness is that of the curve.
	c, err := a.read()
	if err != nil {
		t.Fatal(err)
	}
	c.bypass = 0
	near(t, "d25", c.share(math.Pow(math.Log(4.0/3)/math.Ln2, 1/c.exponent), 1), 0.25, 1e-12)
	near(t, "d25/d75", math.Pow(math.Log(4.0/3)/math.Log(4), 1/c.exponent), 0.5, 1e-12)
	for name, change := range map[string]func(*AirClassifier){
		"a vacuum":      func(a *AirClassifier) { a.Density = of(0, "kg/m3") },
		"half a rotor":  func(a *AirClassifier) { a.Speed = nothing },
		"hertz":         func(a *AirClassifier) { a.Speed = of(50, "Hz") },
		"too sharp":     func(a *AirClassifier) { a.Sharpness = quantity.Number(1.2) },
		"a gale of 1/s": func(a *AirClassifier) { a.Velocity = of(3, "1/s") },
	} {
		a := a
		change(&a)
		if _, err := a.Apply(in1); err == nil {
			t.Errorf("%s is accepted", name)
		}
	}
	if _, err := a.Apply(feed(t, 10, of(10, "t/h"))); err == nil {
		t.Error("a wet feed is accepted")
	}
}

func TestGasCycloneCollects(t *testing.T) {
	g := GasCyclone{Diameter: of(0.7, "m"), Stokes: quantity.Number(1.4e-4), Euler: quantity.Number(320), Gas: of(2, "m3/s"),
		Density: of(1.2, "kg/m3"), Viscosity: of(18.25e-6, "Pa s"), Number: 2, FanEfficiency: of(50, "%")}
	in1 := feed(t, 0.1, nothing)
	products, err := g.Apply(in1)
	closes(t, in1, products, err)
	near(t, "half at the cut", collected(3e-6, 3e-6), 0.5, 1e-15)
	drop, err := g.Drop()
	power, err2 := g.Power(in1)
	near(t, "power", in(t, power, err2, "W"), 2*in(t, drop, err, "Pa")*2, 1e-12)
}

func TestUncertainty(t *testing.T) {
	h := cyclones()
	var err error
	if h.Apex, err = quantity.Normal(of(9, "cm"), of(0.3, "cm")); err != nil {
		t.Fatal(err)
	}
	w, err := h.Run(of(100, "m3/h"), of(10, "%"), of(2.65, "g/cm3"), of(2.65, "g/cm3"))
	if err != nil || !w.Cut.IsUncertain() || !w.Split.IsUncertain() {
		t.Error(w, err)
	}
}

func BenchmarkHydrocyclone(b *testing.B) {
	s := feed(b, 60, of(150, "t/h"))
	h := cyclones()
	for b.Loop() {
		if _, err := h.Apply(s); err != nil {
			b.Fatal(err)
		}
	}
}

// A recycle is empty at first, and may have water alone.
func TestNothingIsPartedIntoNothing(t *testing.T) {
	rows := make([][]float64, 6)
	for i := range rows {
		rows[i] = []float64{0, 0, 0}
	}
	grid := feed(t, 1, nothing).Classes()
	none, err := stream.New("none", grid, rows, nothing)
	if err != nil {
		t.Fatal(err)
	}
	clear, err := stream.New("water", grid, rows, of(20, "t/h"))
	if err != nil {
		t.Fatal(err)
	}
	h := cyclones()
	if _, err := h.Apply(none); err != nil {
		t.Error(err)
	}
	if power, err := h.Power(none); err != nil || power.SI() != 0 {
		t.Error(power, err)
	}
	products, err := h.Apply(clear)
	closes(t, clear, products, err)
	a := AirClassifier{Velocity: of(1, "m/s")}
	if _, err := a.Apply(none); err != nil {
		t.Error(err)
	}
	g := GasCyclone{Diameter: of(0.7, "m"), Stokes: quantity.Number(1.4e-4), Euler: quantity.Number(320), Gas: of(2, "m3/s"), Density: of(1.2, "kg/m3"), Viscosity: of(18.25e-6, "Pa s")}
	if _, err := g.Apply(none); err != nil {
		t.Error(err)
	}
}
