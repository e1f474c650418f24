package stream

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

func TestAccountsAddUp(t *testing.T) {
	c := beach(t, 300, 150, 75)
	feed := random(t, c, 7)
	parts := must[[]Stream](t)(feed.Split([]string{"concentrate", "middling", "tailing"}, func(i, j int) []float64 {
		return []float64{0.2 + 0.1*float64(i), 0.1 * float64(j)}
	}, []float64{0.2, 0.3}))
	account := must[table.Table](t)(Account(feed, parts, "TiO2", "quartz"))
	if account.Rows() != 5 {
		t.Fatalf("%d rows, want three products, their sum and the feed", account.Rows())
	}
	for _, name := range []string{"yield", "recovery of TiO2", "recovery of quartz"} {
		column := must[[]quantity.Quantity](t)(account.Column(name))
		near(t, name+", sum of products", column[3], 100, "%", 1e-10)
		near(t, name+", feed", column[4], 100, "%", 1e-10)
		near(t, name+", products", column[0].Add(column[1]).Add(column[2]), 100, "%", 1e-10)
	}
	titania := must[[]quantity.Quantity](t)(account.Column("TiO2"))
	near(t, "TiO2 of the feed", titania[4].Sub(must[quantity.Quantity](t)(feed.Grade("TiO2"))), 0, "%", 1e-12)
	if _, err := Account(feed, nil, "TiO2"); err == nil {
		t.Error("an account without products was made")
	}
	if _, err := Account(feed, parts, "Cr2O3"); err == nil || !strings.Contains(err.Error(), "holds no Cr2O3") {
		t.Errorf("error %v", err)
	}
}

func TestRecoveriesBySizeAndClass(t *testing.T) {
	c := beach(t, 300, 150, 75)
	feed := random(t, c, 9)
	share := func(i, j int) []float64 { return []float64{0.1 + 0.2*float64(i) + 0.05*float64(j)} }
	parts := must[[]Stream](t)(feed.Split([]string{"a", "b"}, share, []float64{0}))
	numbers := must[[][]float64](t)(RecoveryByClass(parts[0], feed))
	for i, row := range numbers {
		for j, number := range row {
			if math.Abs(number-share(i, j)[0]) > 1e-15 {
				t.Errorf("partition number %d, %d is %g, want %g", i, j, number, share(i, j)[0])
			}
		}
	}
	bySize := must[[]quantity.Quantity](t)(RecoveryBySize(parts[0], feed, "quartz"))
	f := feed.Flows()
	want := (share(1, 1)[0]*0.6*f[1][1] + share(1, 2)[0]*f[1][2]) / (0.6*f[1][1] + f[1][2])
	near(t, "recovery of quartz −150 +75 µm", bySize[1], 100*want, "%", 1e-12)

	spread := must[[][]float64](t)(feed.Distribution("ilmenite"))
	var sum float64
	for _, row := range spread {
		for _, x := range row {
			sum += x
		}
	}
	if math.Abs(sum-1) > 1e-12 || spread[0][2] != 0 {
		t.Errorf("the shares of ilmenite add up to %g; quartz holds %g of it", sum, spread[0][2])
	}
	all := must[[]quantity.Quantity](t)(must[table.Table](t)(feed.DistributionTable("ilmenite")).Column("all particles"))
	near(t, "all of the ilmenite", all[len(all)-1], 100, "%", 1e-10)
}

func TestPulps(t *testing.T) {
	c := beach(t, 300, 150, 75)
	s := random(t, c, 11)
	for _, wanted := range []quantity.Quantity{of(30, "%"), of(30, "wt%"), of(30, "vol%")} {
		water := must[quantity.Quantity](t)(s.WaterFor(wanted))
		pulp := must[Stream](t)(s.WithWater(water))
		got := must[quantity.Quantity](t)(pulp.PercentSolids())
		if wanted.Unit().String() == "vol%" {
			got = must[quantity.Quantity](t)(pulp.PercentSolidsByVolume())
		}
		near(t, "per cent solids", got, 30, got.Unit().String(), 1e-12)
		// The relations of measured pulps agree with the stream's own.
		density := must[quantity.Quantity](t)(pulp.PulpDensity())
		solids := must[quantity.Quantity](t)(pulp.SolidsDensity())
		at := must[quantity.Quantity](t)(PulpDensityAt(got, solids, of(1, "g/cm3")))
		near(t, "pulp density", at.Sub(density), 0, "g/cm3", 1e-12)
		back := must[quantity.Quantity](t)(PulpSolids(density, solids, of(1, "g/cm3")))
		near(t, "solids", back.Sub(must[quantity.Quantity](t)(pulp.PercentSolids())), 0, "wt%", 1e-10)
		flow := must[quantity.Quantity](t)(pulp.VolumeFlow())
		near(t, "volume times density", flow.Mul(density).Sub(pulp.Pulp()), 0, "t/h", 1e-9)
		added := must[quantity.Quantity](t)(pulp.DilutionWater(of(10, "%")))
		near(t, "diluted", must[quantity.Quantity](t)(must[Stream](t)(pulp.WithWater(pulp.Water().Add(added))).PercentSolids()), 10, "%", 1e-12)
	}
	byVolume := must[Stream](t)(s.WithWater(of(3.6, "m3/h")))
	if math.Abs(byVolume.WaterFlow()-1) > 1e-15 {
		t.Errorf("3.6 m³/h of water are %g kg/s", byVolume.WaterFlow())
	}
	dry := must[quantity.Quantity](t)(DryRate(of(110, "t/h"), must[quantity.Quantity](t)(MoistureOfWet(of(10, "%")))))
	near(t, "dry rate", dry, 100, "t/h", 1e-12)
	for _, err := range []error{
		second(DryRate(of(1, "t/h"), of(100, "%"))), second(DryRate(of(1, "t/h"), of(10, "vol%"))),
		second(MoistureOfWet(of(-1, "%"))), second(PulpSolids(of(0.9, "g/cm3"), of(2.6, "g/cm3"), of(1, "g/cm3"))),
		second(PulpSolids(of(1.3, "g/cm3"), of(1, "g/cm3"), of(1, "g/cm3"))), second(PulpDensityAt(of(101, "%"), of(2.6, "g/cm3"), of(1, "g/cm3"))),
		second(PulpDensityAt(of(10, "%"), of(2.6, "t"), of(1, "g/cm3"))),
	} {
		if err == nil {
			t.Error("bad data was taken")
		}
	}
}

func second(_ quantity.Quantity, err error) error { return err }

func TestStreamsAreShown(t *testing.T) {
	c := beach(t, 300, 150, 75)
	s := must[Stream](t)(New("feed", c, [][]float64{{1, 0, 1}, {0, 0, 0}, {0, 4, 4}}, of(10, "kg/s")))
	text := s.String()
	for _, want := range []string{"feed: 36 t/h of solids, 36 t/h of water, 50 wt% solids", "−300 +150 µm", "ilmenite (%)"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
	grades := must[[]quantity.Quantity](t)(s.Table().Column("ilmenite"))
	if !grades[1].IsNaN() || math.Abs(grades[2].SI()-0.2) > 1e-12 {
		t.Errorf("grades by size %v", grades)
	}
	for name, text := range map[string]string{"HTML": s.HTML(), "LaTeX": s.LaTeX(), "Markdown": s.Markdown(),
		"classes": c.String(), "particles": s.ParticleTable().String(), "classes as HTML": c.HTML(), "LaTeX of classes": c.LaTeX(), "Markdown of classes": c.Markdown()} {
		if !strings.Contains(text, "ilmenite") {
			t.Errorf("%s: no ilmenite in %s", name, text)
		}
	}
	if !strings.Contains(Stream{}.String(), "no stream yet") {
		t.Errorf("the zero stream says %q", Stream{}.String())
	}
	inPilot := must[Stream](t)(s.ShownIn("kg/h"))
	if got := fmt.Sprint(inPilot.Solids()); got != "36000 kg/h" {
		t.Errorf("solids %s", got)
	}
	if _, err := s.ShownIn("t"); err == nil {
		t.Error("rates were to be shown in t")
	}
}

func plant(b *testing.B) (Stream, []Stream) {
	openings := make([]float64, 12)
	for i := range openings {
		openings[i] = 1000 * math.Pow(2, -float64(i)/2)
	}
	c := beach(b, openings...)
	particles := c.particles
	for k := range 5 {
		p, err := Locked(particles[0].Parts[0].Mineral, of(10+float64(k)*15, "%"), particles[2].Parts[0].Mineral)
		if err != nil {
			b.Fatal(err)
		}
		if p.Name != particles[1].Name {
			particles = append(particles, p)
		}
	}
	grid, err := NewClasses(lengths("µm", openings...), particles...)
	if err != nil {
		b.Fatal(err)
	}
	s := random(b, grid, 1)
	parts, err := s.Split([]string{"a", "b"}, func(i, j int) []float64 { return []float64{0.5} }, []float64{0.5})
	if err != nil {
		b.Fatal(err)
	}
	return s, parts
}

// BenchmarkMix and its kin work on 12 sizes × 8 particle classes.
func BenchmarkMix(b *testing.B) {
	_, parts := plant(b)
	for b.Loop() {
		if _, err := Mix("whole", parts...); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSplit(b *testing.B) {
	s, _ := plant(b)
	share := []float64{0.3}
	for b.Loop() {
		if _, err := s.Split([]string{"a", "b"}, func(i, j int) []float64 { return share }, share); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkGrade(b *testing.B) {
	s, _ := plant(b)
	for b.Loop() {
		if _, err := s.Grade("TiO2"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTransform(b *testing.B) {
	s, _ := plant(b)
	for b.Loop() {
		if _, err := s.Transform("x", func(f [][]float64) ([][]float64, error) { return f, nil }); err != nil {
			b.Fatal(err)
		}
	}
}
