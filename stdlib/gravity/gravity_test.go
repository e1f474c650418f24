package gravity

import (
	"math"
	"testing"

	"cobber/stdlib/internal/expect"
	"cobber/stdlib/mineral"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

func of(x float64, unit string) quantity.Quantity { return quantity.Of(x, unit) }

var in, near = expect.Value, expect.Near

func TestCurveOfEachSize(t *testing.T) {
	s := Jig(of(2.9, "g/cm3"))
	for _, size := range []float64{1, 10, 40} {
		m, err := s.Model(of(size, "mm"))
		if err != nil {
			t.Fatal(err)
		}
		ratio := 10 / size
		near(t, "cut", in(t, m.Cut(), nil, "g/cm3"), 1+1.9*math.Pow(ratio, 0.1), 1e-12)
		near(t, "probable error", in(t, m.ProbableError(), nil, "g/cm3"), 0.17*1.9*math.Pow(ratio, 0.3), 1e-9)
		half, err := s.Share(of(size, "mm"), m.Cut())
		near(t, "half at the cut", in(t, half, err, "1"), 0.5, 1e-12)
	}
	fine, err := s.Share(of(0.1, "mm"), of(5, "g/cm3"))
	near(t, "slimes go with the water", in(t, fine, err, "1"), 0.10, 1e-12)
	last := 0.0
	for _, density := range []float64{1.5, 2.5, 2.9, 3.5, 5} {
		p, err := s.Share(of(5, "mm"), of(density, "g/cm3"))
		if x := in(t, p, err, "1"); !(x > last) {
			t.Errorf("%g g/cm³: share %g", density, x)
		} else {
			last = x
		}
	}
}

// A grain behaves as one on the Earth with the same Galileo number, g·d³ alike.
func TestGravityShiftsTheSizes(t *testing.T) {
	here, there := Spiral(of(3, "g/cm3")), Spiral(of(3, "g/cm3"))
	there.Gravity = of(standardGravity/8, "m/s2")
	a, err := here.Share(of(0.2, "mm"), of(3.2, "g/cm3"))
	b, err2 := there.Share(of(0.4, "mm"), of(3.2, "g/cm3"))
	near(t, "twice the size at an eighth of the gravity", in(t, b, err2, "1"), in(t, a, err, "1"), 1e-12)
	lost, err := there.Share(of(0.1, "mm"), of(8, "g/cm3"))
	near(t, "too fine there", in(t, lost, err, "1"), 0.16, 1e-12)
}

func TestBypassAndRefusals(t *testing.T) {
	s := DenseMedium(of(2.8, "g/cm3"))
	s.HeavyBypass, s.LightBypass = of(3, "%"), of(1, "%")
	light, err := s.Share(of(5, "mm"), of(2, "g/cm3"))
	near(t, "heavy bypass", in(t, light, err, "1"), 0.03, 1e-6)
	heavy, err := s.Share(of(5, "mm"), of(4, "g/cm3"))
	near(t, "light bypass", in(t, heavy, err, "1"), 0.99, 1e-6)
	for name, change := range map[string]func(*Separator){
		"no cut":              func(s *Separator) { s.Cut = quantity.Quantity{} },
		"two errors":          func(s *Separator) { s.Imperfection = quantity.Number(0.1) },
		"no error":            func(s *Separator) { s.ProbableError = quantity.Quantity{} },
		"no size":             func(s *Separator) { s.Size = quantity.Quantity{} },
		"bypass of all":       func(s *Separator) { s.HeavyBypass = of(99, "%") },
		"no water":            func(s *Separator) { s.Water = quantity.Quantity{} },
		"cut below the fluid": func(s *Separator) { s.CutExponent = quantity.Number(1) },
		"no gravity":          func(s *Separator) { s.Gravity = of(0, "m/s2") },
		"a form of sizes":     func(s *Separator) { s.Form = 2 },
	} {
		s := s
		change(&s)
		if p, err := s.Share(of(5, "mm"), of(3, "g/cm3")); err == nil {
			t.Errorf("%s is accepted and gives %v", name, p)
		}
	}
	if _, err := s.Model(of(0.1, "mm")); err == nil {
		t.Error("a curve of grains that are not parted")
	}
}

func TestStreamIsParted(t *testing.T) {
	a, _ := mineral.Find("cassiterite")
	b, err := mineral.Find("quartz")
	if err != nil {
		t.Fatal(err)
	}
	heavy, _ := stream.Free(a)
	locked, _ := stream.Locked(a, of(30, "%"), b)
	light, _ := stream.Free(b)
	grid, err := stream.NewClasses([]quantity.Quantity{of(2, "mm"), of(1, "mm"), of(0.2, "mm")}, heavy, locked, light)
	if err != nil {
		t.Fatal(err)
	}
	feed, err := stream.New("feed", grid, [][]float64{{0.1, 0.1, 1}, {0.1, 0.1, 1}, {0.1, 0.1, 1}}, of(30, "t/h"))
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range []Separator{Jig(of(3.2, "g/cm3")), Spiral(of(3.2, "g/cm3")), ShakingTable(of(3.2, "g/cm3")), DenseMedium(of(2.9, "g/cm3"))} {
		products, err := s.Apply(feed)
		if err != nil {
			t.Fatal(err)
		}
		sum, err := stream.Mix("both", products...)
		if err != nil {
			t.Fatal(err)
		}
		for i := range 3 {
			for j := range 3 {
				near(t, "mass of a class", sum.Flow(i, j), feed.Flow(i, j), 1e-12)
			}
		}
		near(t, "water", sum.WaterFlow(), feed.WaterFlow(), 1e-12)
		before, _ := feed.Grade("Sn")
		after, err := products[0].Grade("Sn")
		if err != nil || !before.Less(after) {
			t.Errorf("tin is not enriched: %v to %v, %v", before, after, err)
		}
	}
	if _, err := Jig(of(3, "g/cm3")).Power(feed); err != nil {
		t.Error(err)
	}
}

func TestMediaAreInverse(t *testing.T) {
	// 54.7368 kg of ferrosilicon of 5.2 in 100 kg of water make 1.4 (by hand).
	solids, err := MediumSolids(of(100, "kg"), of(1.4, "g/cm3"), of(5.2, "g/cm3"), of(1, "g/cm3"))
	m := in(t, solids, err, "kg")
	near(t, "solids", m, 54.7368, 1e-6)
	share := (m / 5200) / (m/5200 + 0.1)
	density, err := MediumDensity(quantity.Number(share), of(5.2, "g/cm3"), of(1, "g/cm3"))
	near(t, "density", in(t, density, err, "g/cm3"), 1.4, 1e-12)
	if _, err := MediumSolids(of(100, "kg"), of(5.4, "g/cm3"), of(5.2, "g/cm3"), of(1, "g/cm3")); err == nil {
		t.Error("a medium denser than its solids")
	}
	for c, want := range map[float64]string{3: "easy, down to about 75 µm", 1.1: "hardly possible at any size"} {
		if text, err := Reach(quantity.Number(c)); err != nil || text != want {
			t.Error(c, text, err)
		}
	}
}

func TestUncertainCut(t *testing.T) {
	s := Jig(of(2.9, "g/cm3"))
	var err error
	if s.Cut, err = quantity.Normal(of(2.9, "g/cm3"), of(0.05, "g/cm3")); err != nil {
		t.Fatal(err)
	}
	p, err := s.Share(of(5, "mm"), of(3, "g/cm3"))
	if err != nil || !p.IsUncertain() {
		t.Error(p, err)
	}
}

// A recycle is empty at first.
func TestNothingIsPartedIntoNothing(t *testing.T) {
	quartz, err := mineral.Find("quartz")
	if err != nil {
		t.Fatal(err)
	}
	p, _ := stream.Free(quartz)
	grid, err := stream.NewClasses([]quantity.Quantity{of(2, "mm")}, p)
	if err != nil {
		t.Fatal(err)
	}
	none, err := stream.New("none", grid, [][]float64{{0}}, quantity.Quantity{})
	if err != nil {
		t.Fatal(err)
	}
	if products, err := Jig(of(3, "g/cm3")).Apply(none); err != nil || products[0].Solids().SI() != 0 {
		t.Error(products, err)
	}
}
