package flowsheet

import (
	"fmt"
	"math"
	"testing"

	"cobber/stdlib/mineral"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
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

func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %.12g, want %.12g", what, got, want)
	}
}

// grid is sizes halving from 2 mm, and particles from free ilmenite to quartz.
func grid(t testing.TB, sizes, particles int) *stream.Classes {
	t.Helper()
	openings := make([]quantity.Quantity, sizes)
	for i := range openings {
		openings[i] = of(2000*math.Pow(0.5, float64(i)), "µm")
	}
	ilmenite := must[mineral.Mineral](t)(mineral.Find("ilmenite"))
	quartz := must[mineral.Mineral](t)(mineral.Find("quartz"))
	classes := make([]stream.Particle, particles)
	for j := range classes {
		share := 1 - float64(j)/float64(max(1, particles-1))
		switch share {
		case 1:
			classes[j] = must[stream.Particle](t)(stream.Free(ilmenite))
		case 0:
			classes[j] = must[stream.Particle](t)(stream.Free(quartz))
		default:
			classes[j] = must[stream.Particle](t)(stream.Locked(ilmenite, of(100*share, "%"), quartz))
		}
	}
	return must[*stream.Classes](t)(stream.NewClasses(openings, classes...))
}

// ore is an even feed of 1 kg/s in each class, with some water.
func ore(t testing.TB, c *stream.Classes) stream.Stream {
	t.Helper()
	rows := make([][]float64, c.Sizes())
	for i := range rows {
		rows[i] = make([]float64, c.Particles())
		for j := range rows[i] {
			rows[i][j] = 1
		}
	}
	return must[stream.Stream](t)(stream.New("ore", c, rows, of(2, "kg/s")))
}

// sorter sends a share of each particle class to "up", by its ilmenite.
func sorter(base, slope float64) Separation {
	return Separation{First: "up", Second: "down", Energy: of(0.5, "kWh/t"), Water: quantity.Number(0.5),
		Share: func(_ quantity.Quantity, p stream.Particle) float64 { return base + slope*p.Share("ilmenite") }}
}

// grinder moves a share of each size class one class down: linear, not by class.
type grinder struct{ share float64 }

func (g grinder) Products() []string { return []string{"ground"} }

func (g grinder) Apply(feed stream.Stream) ([]stream.Stream, error) {
	out, err := feed.Transform("ground", func(flows [][]float64) ([][]float64, error) {
		for i := len(flows) - 2; i >= 0; i-- {
			for j := range flows[i] {
				moved := g.share * flows[i][j]
				flows[i][j] -= moved
				flows[i+1][j] += moved
			}
		}
		return flows, nil
	})
	return []stream.Stream{out}, err
}

func (g grinder) Power(feed stream.Stream) (quantity.Quantity, error) {
	return of(10, "kWh/t").Mul(feed.Solids()).To("kW"), nil
}

// sieve sends what is coarser than a cut to "over"; crowded, it lets less through.
type sieve struct{ cut, crowd float64 } // m; share lost per kg/s of feed

func (s sieve) Products() []string { return []string{"over", "under"} }

func (s sieve) Apply(feed stream.Stream) ([]stream.Stream, error) {
	c, rate := feed.Classes(), feed.Solids().SI()
	through := 0.95 / (1 + s.crowd*rate)
	return feed.Split(s.Products(), func(i, _ int) []float64 {
		if c.Metres(i) > s.cut {
			return []float64{1}
		}
		return []float64{1 - through}
	}, []float64{1 - through})
}

// millCircuit grinds what a sieve holds back.
func millCircuit(t testing.TB, c *stream.Classes, crowd float64) *Flowsheet {
	t.Helper()
	return must[*Flowsheet](t)(New("mill circuit", []stream.Stream{ore(t, c)},
		Do("sieve", sieve{400e-6, crowd}, "ore", "mill"),
		Do("mill", grinder{0.6}, "sieve.over")))
}

// sixUnits is a circuit with a recycle of middlings through a mill.
func sixUnits(t testing.TB, c *stream.Classes) *Flowsheet {
	t.Helper()
	return must[*Flowsheet](t)(New("six units", []stream.Stream{ore(t, c)},
		Do("screen", sieve{1000e-6, 0}, "ore", "mill"),
		Do("mill", grinder{0.7}, "crusher"),
		Do("crusher", grinder{0.3}, "screen.over", "scavenger.up"),
		Do("rougher", sorter(0.1, 0.7), "screen.under"),
		Do("cleaner", sorter(0.05, 0.85), "rougher.up"),
		Do("scavenger", sorter(0.1, 0.6), "rougher.down", "cleaner.down")))
}

// settled checks a result by itself: what goes in comes out, component by
// component, and every unit fed as the streams say makes the streams that are there.
func settled(t testing.TB, r *Result) {
	t.Helper()
	for _, row := range closing(r.sheet.feeds, r.Products()) {
		near(t, "closure of "+row.what, row.out/row.in, 1, 1e-9)
	}
	for u, step := range r.sheet.steps {
		products := must[[]stream.Stream](t)(step.Unit.Apply(must[stream.Stream](t)(r.FeedOf(step.Name))))
		for k, at := range r.sheet.outlets[u] {
			for i := range r.sheet.feeds[0].Classes().Sizes() {
				for j := range r.sheet.feeds[0].Classes().Particles() {
					near(t, fmt.Sprintf("%s, class %d %d", r.sheet.flows[at].name, i, j), products[k].Flow(i, j), r.streams[at].Flow(i, j), 1e-8)
				}
			}
		}
	}
}
