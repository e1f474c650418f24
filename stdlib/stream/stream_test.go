package stream

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"cobber/stdlib/mineral"
	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
)

var of = quantity.Of

func must[T any](t testing.TB) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func near(t testing.TB, what string, got quantity.Quantity, want float64, unit string, tolerance float64) {
	t.Helper()
	value, err := got.Value(unit)
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	if !(math.Abs(value-want) <= tolerance) {
		t.Errorf("%s is %.10g %s, want %.10g", what, value, unit, want)
	}
}

func lengths(unit string, values ...float64) []quantity.Quantity {
	out := make([]quantity.Quantity, len(values))
	for i, v := range values {
		out[i] = of(v, unit)
	}
	return out
}

// beach is a grid of our own: ilmenite free and locked in quartz, and quartz.
func beach(t testing.TB, openings ...float64) *Classes {
	t.Helper()
	ilmenite := must[mineral.Mineral](t)(mineral.Find("ilmenite"))
	quartz := must[mineral.Mineral](t)(mineral.Find("quartz"))
	free := must[Particle](t)(Free(ilmenite))
	locked := must[Particle](t)(Locked(ilmenite, of(40, "%"), quartz))
	barren := must[Particle](t)(Free(quartz))
	return must[*Classes](t)(NewClasses(lengths("µm", openings...), free, locked, barren))
}

func random(t testing.TB, c *Classes, seed uint64) Stream {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 1))
	flows := make([][]float64, c.Sizes())
	for i := range flows {
		for range c.Particles() {
			flows[i] = append(flows[i], r.Float64()*math.Pow(10, 4*r.Float64()-2))
		}
	}
	return must[Stream](t)(New("random", c, flows, of(r.Float64(), "kg/s")))
}

func TestParticlesDeriveDensityAndContent(t *testing.T) {
	c := beach(t, 300, 150, 75)
	locked := c.Particle(1)
	if locked.Name != "ilmenite 40 % in quartz" {
		t.Errorf("the locked class is called %q", locked.Name)
	}
	rho := 1 / (0.4/4.745 + 0.6/2.655) // densities of the table, middles of their ranges
	near(t, "density", must[quantity.Quantity](t)(locked.Density()), rho, "g/cm3", 1e-12)
	low, high, err := locked.DensityRange()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "lowest density", low, 1/(0.4/4.70+0.6/2.65), "g/cm3", 1e-12)
	near(t, "highest density", high, 1/(0.4/4.79+0.6/2.66), "g/cm3", 1e-12)
	v := must[float64](t)(locked.VolumeShare("ilmenite"))
	w := must[float64](t)(locked.VolumeShare("quartz"))
	if math.Abs(v-0.4*rho/4.745) > 1e-12 || math.Abs(v+w-1) > 1e-12 {
		t.Errorf("volume shares %g and %g", v, w)
	}
	// FeTiO3 of the atomic weights 55.845, 47.867 and 15.999 (IUPAC 2021)
	whole := 55.845 + 47.867 + 3*15.999
	near(t, "Ti", must[quantity.Quantity](t)(locked.Content("Ti")), 40*47.867/whole, "%", 1e-9)
	near(t, "TiO2", must[quantity.Quantity](t)(locked.Content("TiO2")), 40*(47.867+2*15.999)/whole, "%", 1e-9)
	near(t, "FeO", must[quantity.Quantity](t)(locked.Content("FeO")), 40*(55.845+15.999)/whole, "%", 1e-9)
	near(t, "O", must[quantity.Quantity](t)(locked.Content("O")), 40*3*15.999/whole+60*2*15.999/(28.085+2*15.999), "%", 1e-9)
	near(t, "ilmenite", must[quantity.Quantity](t)(locked.Content("Ilmenite")), 40, "%", 1e-9)
	near(t, "rutile", must[quantity.Quantity](t)(locked.Content("rutile")), 0, "%", 0)
	if got := locked.Share("silica"); got != 0.6 { // another name of quartz
		t.Errorf("share of silica %g, want 0.6", got)
	}
}

func TestClassesKnowTheirBounds(t *testing.T) {
	c := beach(t, 300, 150, 75)
	near(t, "upper", c.Upper(1), 150, "µm", 0)
	near(t, "lower", c.Lower(1), 75, "µm", 0)
	near(t, "lower of the last", c.Lower(2), 0, "µm", 0)
	near(t, "middle", c.Middle(0), math.Sqrt(300*150), "µm", 1e-9)
	near(t, "middle of the last", c.Middle(2), 37.5, "µm", 1e-9)
	if got := c.Metres(2); math.Abs(got-37.5e-6) > 1e-15 {
		t.Errorf("middle of the last is %g m", got)
	}
	if c.Size(0) != "−300 +150 µm" || c.Size(2) != "−75 µm" {
		t.Errorf("sizes are called %q and %q", c.Size(0), c.Size(2))
	}
	if got := strings.Join(c.Minerals(), " "); got != "ilmenite quartz" {
		t.Errorf("minerals %q", got)
	}
}

func TestFeedHoldsWhatWasAskedFor(t *testing.T) {
	c := beach(t, 300, 150, 75)
	sizes := must[size.Distribution](t)(size.New(lengths("µm", 300, 150, 75), lengths("g", 0, 20, 50, 30)))
	feed := must[Stream](t)(Feed("feed", c, of(36, "t/h"), sizes, lengths("%", 5, 10, 85), of(64, "t/h")))
	near(t, "solids", feed.Solids(), 36, "t/h", 1e-12)
	near(t, "ilmenite", must[quantity.Quantity](t)(feed.Grade("ilmenite")), 9, "%", 1e-12)
	near(t, "per cent solids", must[quantity.Quantity](t)(feed.PercentSolids()), 36, "wt%", 1e-12)
	if got := feed.Flow(1, 2); math.Abs(got-10*0.5*0.85) > 1e-12 {
		t.Errorf("flow of quartz −150 +75 µm is %g kg/s, want 4.25", got)
	}
	back := must[size.Distribution](t)(feed.SizeDistribution())
	for i, share := range back.Shares() {
		near(t, "share of "+back.Classes()[i], share, []float64{0, 20, 50, 30}[i], "%", 1e-12)
	}
	finer := beach(t, 600, 300, 212, 150, 106, 75)
	wrong := must[size.Distribution](t)(size.FromPassing(lengths("µm", 300, 150, 75), lengths("vol%", 100, 80, 30)))
	if _, err := FeedBySize("feed", c, of(36, "t/h"), wrong, [][]quantity.Quantity{lengths("%", 5, 10, 85), lengths("%", 5, 10, 85), lengths("%", 5, 10, 85)}, quantity.Quantity{}); err == nil || !strings.Contains(err.Error(), "by volume") {
		t.Errorf("sizes by volume: error %v", err)
	}
	told := must[Stream](t)(Feed("feed", finer, of(36, "t/h"), sizes, lengths("%", 5, 10, 85), quantity.Quantity{}))
	again := must[size.Distribution](t)(told.SizeDistribution())
	for _, d := range []float64{300, 150, 75} {
		near(t, "passing", must[quantity.Quantity](t)(again.PassingAt(of(d, "µm"))).Sub(must[quantity.Quantity](t)(sizes.PassingAt(of(d, "µm")))), 0, "%", 1e-9)
	}
}

// What a stream assays by size gives the stream again.
func TestFeedByAssaysFindsTheParticles(t *testing.T) {
	c := beach(t, 300, 150, 75)
	rutile := must[Particle](t)(Free(must[mineral.Mineral](t)(mineral.Find("rutile"))))
	grid := must[*Classes](t)(NewClasses(c.Openings(), c.Particle(0), c.Particle(2), rutile))
	want := random(t, grid, 5)
	sizes := must[size.Distribution](t)(want.SizeDistribution())
	none := quantity.Quantity{}
	for _, what := range []string{"TiO2", "Fe"} {
		grades := append([]quantity.Quantity{of(0, "%")}, must[[]quantity.Quantity](t)(want.GradeBySize(what))...)
		sizes = must[size.Distribution](t)(sizes.WithAssay(what, grades))
	}
	got := must[Stream](t)(FeedByAssays("feed", grid, want.Solids(), sizes, of(0.01, "%"), none))
	for i, row := range want.Flows() {
		for j, flow := range row {
			if math.Abs(got.Flow(i, j)-flow) > 1e-9*want.Solids().SI() {
				t.Errorf("size %s, %s: %g kg/s, want %g", grid.Size(i), grid.Particle(j).Name, got.Flow(i, j), flow)
			}
		}
	}
	one := must[size.Distribution](t)(want.SizeDistribution())
	same := must[size.Distribution](t)(one.WithAssay("TiO2", lengths("%", 0, 30, 30, 30)))
	rich := must[size.Distribution](t)(one.WithAssay("TiO2", lengths("%", 0, 30, 60, 30)))
	for _, test := range []struct {
		want    string
		classes *Classes
		sizes   size.Distribution
	}{{"leave the shares", c, same}, {"has no assays", c, one}, {"no mixture of", must[*Classes](t)(NewClasses(c.Openings(), c.Particle(0), c.Particle(2))), rich}} {
		if _, err := FeedByAssays("feed", test.classes, of(1, "t/h"), test.sizes, of(0.5, "%"), none); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("error %v, want one with %q", err, test.want)
		}
	}
}

func TestMassClosesToRounding(t *testing.T) {
	c := beach(t, 600, 425, 300, 212, 150, 106, 75, 53)
	for seed := range uint64(50) {
		s := random(t, c, seed)
		r := rand.New(rand.NewPCG(seed, 2))
		share := func(i, j int) []float64 {
			a, b := r.Float64(), r.Float64()
			return []float64{a * b, (1 - a) * b, 1 - b}
		}
		if seed%2 == 0 {
			share = func(i, j int) []float64 { a := r.Float64(); return []float64{a * 0.3, a * 0.7} }
		}
		parts := must[[]Stream](t)(s.Split([]string{"a", "b", "c"}, share, []float64{0.2, 0.3, 0.5}))
		whole := must[Stream](t)(Mix("whole", parts...))
		for i, row := range whole.Flows() {
			for j, flow := range row {
				if math.Abs(flow-s.Flow(i, j)) > 4e-16*s.Flow(i, j) {
					t.Fatalf("class %d, %d: %g kg/s came back as %g", i, j, s.Flow(i, j), flow)
				}
			}
		}
		if math.Abs(whole.WaterFlow()-s.WaterFlow()) > 4e-16*s.WaterFlow() {
			t.Fatalf("water %g came back as %g", s.WaterFlow(), whole.WaterFlow())
		}
		var recovered float64
		for _, p := range parts {
			recovered += must[quantity.Quantity](t)(Recovery(p, s, "TiO2")).SI()
		}
		if math.Abs(recovered-1) > 1e-13 {
			t.Errorf("recoveries add up to %.17g", recovered)
		}
	}
}

func TestTransformKeepsMinerals(t *testing.T) {
	c := beach(t, 300, 150, 75)
	s := random(t, c, 3)
	// Locked grains of the coarsest size break into free ones of the next: 40 % ilmenite, 60 % quartz.
	broken, err := s.Transform("broken", func(f [][]float64) ([][]float64, error) {
		f[1][0] += 0.4 * f[0][1]
		f[1][2] += 0.6 * f[0][1]
		f[0][1] = 0
		return f, nil
	})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "Fe", must[quantity.Quantity](t)(broken.Grade("Fe")).Sub(must[quantity.Quantity](t)(s.Grade("Fe"))), 0, "%", 1e-12)
	for what, move := range map[string]func(f [][]float64) ([][]float64, error){
		"solids":   func(f [][]float64) ([][]float64, error) { f[0][0] *= 0.999; return f, nil },
		"ilmenite": func(f [][]float64) ([][]float64, error) { f[0][2] += f[0][0]; f[0][0] = 0; return f, nil },
		"below":    func(f [][]float64) ([][]float64, error) { f[0][0], f[1][0] = -1, f[1][0]+f[0][0]+1; return f, nil },
		"rows":     func(f [][]float64) ([][]float64, error) { return f[:2], nil },
		"no mill":  func(f [][]float64) ([][]float64, error) { return nil, errors.New("no mill") },
	} {
		want := map[string]string{"below": "0 or above"}[what]
		if want == "" {
			want = what
		}
		if _, err := s.Transform("x", move); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: error %v", what, err)
		}
	}
}

func TestBadDataIsRefused(t *testing.T) {
	c := beach(t, 300, 150, 75)
	s := random(t, c, 1)
	ilmenite, quartz := c.Particle(0).Parts[0].Mineral, c.Particle(2).Parts[0].Mineral
	sizes := must[size.Distribution](t)(size.New(lengths("µm", 300, 150, 75), lengths("g", 0, 20, 50, 30)))
	coarse := must[size.Distribution](t)(size.New(lengths("µm", 300, 150, 75), lengths("g", 10, 20, 50, 30)))
	few := must[size.Distribution](t)(size.New(lengths("µm", 300, 150), lengths("g", 0, 20, 50)))
	shares, none := lengths("%", 5, 10, 85), quantity.Quantity{}
	empty := must[Stream](t)(New("empty", c, [][]float64{{0, 0, 0}, {0, 0, 0}, {0, 0, 0}}, none))
	half := func(i, j int) []float64 { return []float64{0.5, 0.4} }
	tests := []struct {
		want string
		call func() error
	}{
		{"add up to 90 %", func() error {
			_, err := NewParticle("x", Part{ilmenite, of(40, "%")}, Part{quartz, of(50, "%")})
			return err
		}},
		{"given twice", func() error {
			_, err := NewParticle("x", Part{quartz, of(50, "%")}, Part{quartz, of(50, "%")})
			return err
		}},
		{"one of mass", func() error { _, err := NewParticle("x", Part{quartz, of(100, "vol%")}); return err }},
		{"above 0 and below 100", func() error { _, err := Locked(ilmenite, of(100, "%"), quartz); return err }},
		{"needs a name", func() error { _, err := NewParticle(" ", Part{quartz, of(100, "%")}); return err }},
		{"no density", func() error {
			m := quartz
			m.Density = mineral.Figure{}
			p, err := Free(m)
			if err == nil {
				_, err = p.Density()
			}
			return err
		}},
		{"coarse to fine", func() error { _, err := NewClasses(lengths("µm", 75, 150), c.Particle(0)); return err }},
		{"length above 0", func() error { _, err := NewClasses(lengths("t", 75), c.Particle(0)); return err }},
		{"two classes", func() error { _, err := NewClasses(lengths("µm", 75), c.Particle(0), c.Particle(0)); return err }},
		{"0 or above", func() error { _, err := New("x", c, [][]float64{{0, 0, 0}, {0, -1, 0}, {0, 0, 0}}, none); return err }},
		{"−150 +75 µm, ilmenite 40 % in quartz", func() error {
			_, err := New("x", c, [][]float64{{0, 0, 0}, {0, math.NaN(), 0}, {0, 0, 0}}, none)
			return err
		}},
		{"as many rows", func() error { _, err := New("x", c, [][]float64{{0, 0, 0}}, none); return err }},
		{"water is a flow", func() error { _, err := New("x", c, s.Flows(), of(3, "t")); return err }},
		{"flow of dry mass", func() error { _, err := Feed("x", c, of(3, "t"), sizes, shares, none); return err }},
		{"add up to 99 %", func() error {
			_, err := Feed("x", c, of(3, "t/h"), sizes, lengths("%", 5, 10, 84), none)
			return err
		}},
		{"coarser than the top size", func() error { _, err := Feed("x", c, of(3, "t/h"), coarse, shares, none); return err }},
		{"pass the finest sieve", func() error { _, err := Feed("x", c, of(3, "t/h"), few, shares, none); return err }},
		{"different classes", func() error { _, err := Mix("x", s, random(t, beach(t, 300, 150, 75), 1)); return err }},
		{"add up to 0.9", func() error { _, err := s.Split([]string{"a", "b"}, half, []float64{0.5}); return err }},
		{"water", func() error {
			_, err := s.Split([]string{"a", "b"}, func(i, j int) []float64 { return []float64{0.5} }, nil)
			return err
		}},
		{"between 0 and 1", func() error {
			_, err := s.Split([]string{"a", "b"}, func(i, j int) []float64 { return []float64{1.5} }, []float64{0})
			return err
		}},
		{"no solids", func() error { _, err := empty.Grade("Ti"); return err }},
		{"neither solids nor water", func() error { _, err := empty.PercentSolids(); return err }},
		{"holds no Ti", func() error { _, err := Recovery(s, empty, "Ti"); return err }},
		{"neither a mineral", func() error { _, err := s.Grade("ilmenit3"); return err }},
		{"several elements", func() error { _, err := s.Grade("CaAl2Si2O8"); return err }},
		{"no stream yet", func() error { _, err := Stream{}.Grade("Ti"); return err }},
		{"thickened", func() error { _, err := s.DilutionWater(of(100, "%")); return err }},
	}
	for _, test := range tests {
		if err := test.call(); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("error %v, want one with %q", err, test.want)
		}
	}
}
