package sorting

import (
	"math"
	"testing"

	"cobber/stdlib/internal/expect"
	"cobber/stdlib/mineral"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

func of(x float64, unit string) quantity.Quantity { return quantity.Of(x, unit) }

var near = expect.Near

// sorter is invented.
func sorter() Sorter {
	return Sorter{Component: "chalcopyrite", Threshold: of(10, "%"), Noise: of(4, "%"), Width: of(1, "m"), Speed: of(3, "m/s"),
		Hits: of(96, "%"), Reach: of(20, "cm2"), Blow: of(40, "J"), Idle: of(5, "kW")}
}

// feed is ore, poor ore and waste of three sizes.
func feed(t testing.TB, tonnes float64) stream.Stream {
	a, _ := mineral.Find("chalcopyrite")
	b, err := mineral.Find("quartz")
	if err != nil {
		t.Fatal(err)
	}
	rich, _ := stream.Locked(a, of(30, "%"), b)
	poor, _ := stream.Locked(a, of(8, "%"), b)
	waste, _ := stream.Free(b)
	grid, err := stream.NewClasses([]quantity.Quantity{of(80, "mm"), of(40, "mm"), of(20, "mm")}, rich, poor, waste)
	if err != nil {
		t.Fatal(err)
	}
	row := []float64{tonnes / 3.6 / 30, tonnes / 3.6 / 15, tonnes / 3.6 * 7 / 30}
	s, err := stream.New("feed", grid, [][]float64{row, row, row}, of(0.5, "t/h"))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestSortingClosesAndEnriches(t *testing.T) {
	for _, waste := range []bool{false, true} {
		s, in := sorter(), feed(t, 40)
		s.Waste = waste
		products, err := s.Apply(in)
		if err != nil {
			t.Fatal(err)
		}
		sum, err := stream.Mix("all", products...)
		if err != nil {
			t.Fatal(err)
		}
		for i := range 3 {
			for j := range 3 {
				near(t, "mass of a class", sum.Flow(i, j), in.Flow(i, j), 1e-12)
			}
		}
		near(t, "water", sum.WaterFlow(), in.WaterFlow(), 1e-12)
		before, _ := in.Grade("Cu")
		after, err := products[0].Grade("Cu")
		if err != nil || !before.Less(after) {
			t.Errorf("copper is not enriched: %v to %v, %v", before, after, err)
		}
	}
}

func TestReadingsAndCrowding(t *testing.T) {
	s := sorter()
	half, err := s.Meant(of(10, "%"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "at the threshold", half.SI(), 0.5, 1e-12)
	above, err := s.Meant(of(14, "%"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "one standard deviation above", above.SI(), 0.8413447, 1e-6)
	s.Waste = true
	below, _ := s.Meant(of(14, "%"))
	near(t, "and of waste", below.SI(), 1-0.8413447, 1e-5)
	s = sorter()
	few, err := s.Along(feed(t, 10))
	if err != nil {
		t.Fatal(err)
	}
	many, err := s.Along(feed(t, 40))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "four times the pieces", math.Log1p(-many.SI()), 4*math.Log1p(-few.SI()), 1e-9)
	cover, err := s.Covered(feed(t, 40))
	if err != nil {
		t.Fatal(err)
	}
	by := 0.0
	in := feed(t, 40)
	for i := range 3 {
		for j := range 3 {
			density, _ := in.Classes().Particle(j).Density()
			by += 1.5 * in.Flow(i, j) / (density.SI() * in.Classes().Metres(i) * 3)
		}
	}
	near(t, "cover", cover.SI(), by, 1e-9)
	power, err := s.Power(feed(t, 40))
	if err != nil || !(power.SI() > 5000) {
		t.Error(power, err)
	}
	// A camera sees surfaces: the light mineral has more of them than of the mass.
	s.Component, s.Threshold, s.Noise, s.Surface = "quartz", of(75, "%"), quantity.Quantity{}, true
	seen, err := s.reading(feed(t, 1).Classes().Particle(0))
	if err != nil || !(seen > 0.70 && seen < 0.85) {
		t.Errorf("surface seen %g, %v", seen, err)
	}
}

func TestFinesStayAndCrowdedBeltsAreRefused(t *testing.T) {
	s := sorter()
	s.Finest = of(25, "mm")
	in := feed(t, 10)
	products, err := s.Apply(in)
	if err != nil {
		t.Fatal(err)
	}
	for j := range 3 {
		if products[1].Flow(2, j) != in.Flow(2, j) {
			t.Error("pieces too fine to be seen are ejected")
		}
	}
	for name, change := range map[string]func(*Sorter){
		"no threshold":       func(s *Sorter) { s.Threshold = quantity.Quantity{} },
		"no component":       func(s *Sorter) { s.Component = "" },
		"unknown component":  func(s *Sorter) { s.Component = "unobtainium" },
		"surface of copper":  func(s *Sorter) { s.Component, s.Surface = "Cu", true },
		"hits above 100 %":   func(s *Sorter) { s.Hits = of(120, "%") },
		"a belt that stands": func(s *Sorter) { s.Speed = of(0, "m/s") },
		"crowded":            func(s *Sorter) { s.Cover = of(0.1, "%") },
	} {
		s := sorter()
		change(&s)
		if _, err := s.Apply(in); err == nil {
			t.Errorf("%s is accepted", name)
		}
	}
	if _, err := sorter().Apply(feed(t, 1e5)); err == nil {
		t.Error("more than one layer is accepted")
	}
}

func TestUncertainThreshold(t *testing.T) {
	s := sorter()
	var err error
	if s.Threshold, err = quantity.Normal(of(10, "%"), of(1, "%")); err != nil {
		t.Fatal(err)
	}
	p, err := s.Meant(of(14, "%"))
	if err != nil || !p.IsUncertain() {
		t.Error(p, err)
	}
}

// A recycle is empty at first.
func TestNothingIsSortedIntoNothing(t *testing.T) {
	none, err := stream.New("none", feed(t, 1).Classes(), [][]float64{{0, 0, 0}, {0, 0, 0}, {0, 0, 0}}, quantity.Quantity{})
	if err != nil {
		t.Fatal(err)
	}
	if products, err := sorter().Apply(none); err != nil || products[0].Solids().SI() != 0 {
		t.Error(products, err)
	}
}
