package published

import (
	"fmt"
	"testing"

	"cobber/stdlib/flowsheet"
	"cobber/stdlib/mineral"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

// chromate is a grid of one class, potassium chromate, whether dissolved or not.
func chromate(t *testing.T) *stream.Classes {
	t.Helper()
	salt, err := stream.Free(mineral.Mineral{Name: "potassium chromate"})
	if err != nil {
		t.Fatal(err)
	}
	c, err := stream.NewClasses([]quantity.Quantity{quantity.Of(1, "mm")}, salt)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// evaporator boils water off until the salt is a share of the rest.
type evaporator struct{ share float64 }

func (e evaporator) Products() []string { return []string{"steam", "strong"} }

func (e evaporator) Apply(feed stream.Stream) ([]stream.Stream, error) {
	stays := feed.Solids().SI() * (1 - e.share) / e.share
	boiled := 1 - stays/feed.WaterFlow()
	return feed.Split(e.Products(), func(int, int) []float64 { return []float64{0} }, []float64{boiled})
}

// filter takes off crystals, which are a share of the cake; the rest of the cake
// and the filtrate are solution with a share of salt.
type filter struct{ crystals, solution float64 }

func (f filter) Products() []string { return []string{"cake", "filtrate"} }

func (f filter) Apply(feed stream.Stream) ([]stream.Stream, error) {
	salt, water := feed.Solids().SI(), feed.WaterFlow()
	liquid := water / (1 - f.solution)    // all the solution there is
	crystals := salt - f.solution*liquid  // what does not stay dissolved
	held := crystals * (1/f.crystals - 1) // solution in the cake
	inCake := crystals + f.solution*held  // salt in the cake, one way or the other
	return feed.Split(f.Products(), func(int, int) []float64 { return []float64{inCake / salt} }, []float64{held / liquid})
}

// R.M. Felder, R.W. Rousseau, Elementary Principles of Chemical Processes, example
// 4.5-2, an evaporative crystallizer (values from memory): 4500 kg/h of a solution
// with one third of potassium chromate; the evaporator's product has 49.4 %; the
// cake is 95 % crystals, the rest solution of 36.36 %; the filtrate is recycled.
// Printed: 2950 kg/h of steam, 1470 kg/h of crystals, 5650 kg/h recycled, 10 200
// kg/h to the evaporator, 622 kg/h of crystals without the recycle.
func TestEvaporativeCrystallizer(t *testing.T) {
	c := chromate(t)
	feed, err := stream.New("solution", c, [][]float64{{1500.0 / 3600}}, quantity.Of(3000, "kg/h"))
	if err != nil {
		t.Fatal(err)
	}
	units := func(from ...string) []flowsheet.Step {
		return []flowsheet.Step{flowsheet.Do("evaporator", evaporator{0.494}, from...), flowsheet.Do("filter", filter{0.95, 0.3636}, "evaporator.strong")}
	}
	solve := func(from ...string) *flowsheet.Result {
		t.Helper()
		sheet, err := flowsheet.New("crystallizer", []stream.Stream{feed}, units(from...)...)
		if err != nil {
			t.Fatal(err)
		}
		r, err := sheet.Solve()
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	pulp := func(s stream.Stream, err error) float64 {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return in(t, s.Pulp(), "kg/h")
	}
	r := solve("solution", "filter.filtrate")
	near(t, "steam", pulp(r.Stream("evaporator.steam")), 2950, 5e-3)
	near(t, "crystals", 0.95*pulp(r.Stream("filter.cake")), 1470, 5e-3)
	near(t, "recycle", pulp(r.Stream("filter.filtrate")), 5650, 5e-3)
	near(t, "feed of the evaporator", pulp(r.FeedOf("evaporator")), 10200, 7e-3)
	near(t, "crystals without recycle", 0.95*pulp(solve("solution").Stream("filter.cake")), 622, 5e-3)
}

// T.P. Meloy, Int. J. Miner. Process. 11 (1983) 61 (results from memory; each
// follows from a balance by hand): units that all recover the share p of a class
// make circuits that recover, by class,
//
//	rougher, scavenger            1 − (1−p)²
//	rougher, cleaner, recycled    p²/(1 − p + p²)
//	rougher, scavenger, recycled  p/(1 − p + p²)
//	rougher, cleaner, scavenger   p²/(1 − 2p + 2p²)
//
// the last three with what is neither concentrate nor tailing sent back to the
// rougher.
func TestLinearCircuits(t *testing.T) {
	quartz, err := mineral.Find("quartz")
	if err != nil {
		t.Fatal(err)
	}
	free, err := stream.Free(quartz)
	if err != nil {
		t.Fatal(err)
	}
	c, err := stream.NewClasses([]quantity.Quantity{quantity.Of(1, "mm")}, free)
	if err != nil {
		t.Fatal(err)
	}
	feed, err := stream.New("ore", c, [][]float64{{1}}, quantity.Quantity{})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range []float64{0.1, 0.3, 0.5, 0.8, 0.95} {
		cell := flowsheet.Splitter{Names: []string{"up", "down"}, Shares: []quantity.Quantity{quantity.Number(p)}}
		q := 1 - p
		for k, test := range []struct {
			steps []flowsheet.Step
			tails string
			want  float64
		}{
			{[]flowsheet.Step{flowsheet.Do("rougher", cell, "ore"), flowsheet.Do("scavenger", cell, "rougher.down")}, "scavenger.down", 1 - q*q},
			{[]flowsheet.Step{flowsheet.Do("rougher", cell, "ore", "cleaner.down"), flowsheet.Do("cleaner", cell, "rougher.up")}, "rougher.down", p * p / (1 - p + p*p)},
			{[]flowsheet.Step{flowsheet.Do("rougher", cell, "ore", "scavenger.up"), flowsheet.Do("scavenger", cell, "rougher.down")}, "scavenger.down", p / (1 - p + p*p)},
			{[]flowsheet.Step{flowsheet.Do("rougher", cell, "ore", "cleaner.down", "scavenger.up"), flowsheet.Do("cleaner", cell, "rougher.up"),
				flowsheet.Do("scavenger", cell, "rougher.down")}, "scavenger.down", p * p / (1 - 2*p + 2*p*p)},
		} {
			sheet, err := flowsheet.New("circuit", []stream.Stream{feed}, test.steps...)
			if err != nil {
				t.Fatal(err)
			}
			r, err := sheet.Solve()
			if err != nil {
				t.Fatal(err)
			}
			lost, err := r.Recovery(test.tails, "quartz")
			if err != nil {
				t.Fatal(err)
			}
			near(t, fmt.Sprintf("circuit %d, p = %g", k+1, p), 1-lost.SI(), test.want, 1e-10)
		}
	}
}
