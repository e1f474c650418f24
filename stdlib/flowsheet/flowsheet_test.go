package flowsheet

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
	"cobber/stdlib/table"
)

func TestWithoutRecycleOnePass(t *testing.T) {
	c := grid(t, 4, 3)
	sheet := must[*Flowsheet](t)(New("line", []stream.Stream{ore(t, c)},
		Do("second", sorter(0.1, 0.8), "first.up"), Do("first", sorter(0.2, 0.6), "ore")))
	r := must[*Result](t)(sheet.Solve())
	settled(t, r)
	if len(r.Loops()) != 0 || r.Convergence().Rows() != 0 {
		t.Errorf("recycles in a plant without: %v", r.Loops())
	}
	// Free ilmenite: 0.8, then 0.9 of that.
	near(t, "recovery by hand", must[stream.Stream](t)(r.Stream("second.up")).Flow(0, 0), 0.8*0.9, 1e-12)
}

// Each recycle of units that part classes by fixed shares has a closed form.
func TestClassByClass(t *testing.T) {
	c := grid(t, 3, 3)
	sheet := must[*Flowsheet](t)(New("rougher and cleaner", []stream.Stream{ore(t, c)},
		Do("rougher", sorter(0.2, 0.6), "ore", "cleaner.down"), Do("cleaner", sorter(0.2, 0.6), "rougher.up")))
	r := must[*Result](t)(sheet.Solve())
	settled(t, r)
	loop := r.Loops()[0]
	if loop.Method != "class by class" || len(loop.Cut) != 1 || loop.Passes != 3 {
		t.Errorf("solved as %+v", loop)
	}
	for j, p := range []float64{0.8, 0.5, 0.2} {
		near(t, "cleaner", must[stream.Stream](t)(r.Stream("cleaner.up")).Flow(1, j), p*p/(1-p+p*p), 1e-12)
	}
}

// Two recycles that cross: cleaner tailings to the rougher, scavenger concentrate
// to the rougher as well.
func TestTwoRecycles(t *testing.T) {
	c := grid(t, 2, 3)
	sheet := must[*Flowsheet](t)(New("three", []stream.Stream{ore(t, c)},
		Do("rougher", sorter(0.2, 0.6), "ore", "cleaner.down", "scavenger.up"),
		Do("cleaner", sorter(0.2, 0.6), "rougher.up"), Do("scavenger", sorter(0.2, 0.6), "rougher.down")))
	r := must[*Result](t)(sheet.Solve())
	settled(t, r)
	if r.Loops()[0].Method != "class by class" {
		t.Errorf("solved as %+v", r.Loops()[0])
	}
	for j, p := range []float64{0.8, 0.5, 0.2} {
		near(t, "cleaner", must[stream.Stream](t)(r.Stream("cleaner.up")).Flow(1, j), p*p/(1-2*p*(1-p)), 1e-12)
	}
}

func TestBreakageIsAccelerated(t *testing.T) {
	r := must[*Result](t)(millCircuit(t, grid(t, 8, 3), 0).Solve())
	settled(t, r)
	if l := r.Loops()[0]; l.Method != "accelerated" || l.Passes > 40 || l.Worst == "" || l.Furthest > l.Residual {
		t.Errorf("solved as %+v", l)
	}
}

func TestNonlinearSettles(t *testing.T) {
	for _, crowd := range []float64{0.001, 0.01, 0.03, 0.038} {
		r := must[*Result](t)(millCircuit(t, grid(t, 8, 3), crowd).Solve())
		settled(t, r)
		t.Logf("crowd %g: %+v", crowd, r.Loops()[0])
	}
}

// A crowded sieve lets at most 0.95/crowd through; a feed above that only piles up.
func TestNoSteadyState(t *testing.T) {
	if _, err := millCircuit(t, grid(t, 8, 3), 0.05).Solve(); err == nil || !strings.Contains(err.Error(), "no steady state") {
		t.Errorf("error %v", err)
	}
}

// A crowded sieve whose undersize mostly comes back would have to pass 1/(1 − back)
// times the feed, which it cannot; its recycle grows until the feed is less than its
// rounding, and must not pass for settled.
func TestGrowthBeyondRoundingIsRefused(t *testing.T) {
	for _, back := range []float64{0.99, 0.999, 0.999999, 1 - 1e-9, 1 - 1e-12} {
		sheet := must[*Flowsheet](t)(New("crowded", []stream.Stream{ore(t, grid(t, 4, 3))},
			Do("mill", grinder{0.1}, "ore", "sieve.over", "sorter.up"),
			Do("sieve", sieve{400e-6, 0.001}, "mill"), Do("sorter", sorter(back, 0), "sieve.under")))
		if _, err := sheet.Solve(); err == nil || !strings.Contains(err.Error(), "no steady state") {
			t.Errorf("back %g: error %v", back, err)
		}
	}
}

// Of what a unit sends back 99.9 % each time, a thousand times the feed goes round.
func TestNearlyAllComesBack(t *testing.T) {
	for _, sheet := range []func(feed stream.Stream) (*Flowsheet, error){
		func(feed stream.Stream) (*Flowsheet, error) {
			return New("bare", []stream.Stream{feed}, Do("sorter", sorter(0.999, 0), "ore", "sorter.up"))
		},
		func(feed stream.Stream) (*Flowsheet, error) {
			return New("ground", []stream.Stream{feed}, Do("mill", grinder{0.1}, "ore", "sorter.up"), Do("sorter", sorter(0.999, 0), "mill"))
		},
	} {
		feed := ore(t, grid(t, 4, 3))
		r := must[*Result](t)(must[*Flowsheet](t)(sheet(feed)).Solve())
		settled(t, r)
		back := must[stream.Stream](t)(r.Stream("sorter.up"))
		near(t, "recycle over feed", back.Solids().SI()/feed.Solids().SI(), 999, 1e-6)
	}
}

// Both ways of cutting recycles leave groups that run forward.
func TestCuts(t *testing.T) {
	for _, f := range []*Flowsheet{sixUnits(t, grid(t, 2, 2)), bank(t, 3), bank(t, 30), millCircuit(t, grid(t, 2, 2), 0)} {
		for _, group := range f.groups() {
			fewest, back := f.cut(group), f.cutBack(group)
			if len(fewest.tears) > len(back.tears) || len(fewest.steps) != len(group) || len(back.steps) != len(group) {
				t.Errorf("%s: cut at %v and at %v", f.name, f.namesOf(fewest.tears), f.namesOf(back.tears))
			}
		}
	}
}

// Newton alone finds what the mixed passes find.
func TestNewton(t *testing.T) {
	f := millCircuit(t, grid(t, 5, 2), 0.03)
	want := must[*Result](t)(f.Solve())
	r := &run{Flowsheet: f, streams: make([]stream.Stream, len(f.flows)), scale: f.freshRate()}
	copy(r.streams, f.feeds)
	for _, b := range f.blocks {
		if len(b.tears) == 0 {
			continue
		}
		n := 5*2 + 1
		loop := ring{size: n, tears: 1, scale: r.scale, start: r.flat(f.feeds[0], nil),
			g: func(x []float64) ([]float64, error) { return r.round(b, x) }}
		x := make([]float64, n)
		back := must[[]float64](t)(loop.call(x))
		x, back, err := loop.newton(x, back)
		if err != nil || loop.off(x, back) > tolerance {
			t.Fatalf("off %g, %v", loop.off(x, back), err)
		}
		cut := want.streams[b.tears[0]]
		for k, flow := range r.flat(cut, nil) {
			near(t, "flow", x[k], flow, 1e-8)
		}
	}
}

// Whatever the circuit: random splits joined at random close and hold.
func TestRandomCircuits(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 7))
	c := grid(t, 3, 3)
	solved := 0
	for range 200 {
		count := 2 + random.IntN(6)
		steps, free := make([]Step, count), []string{}
		for u := range steps {
			name := string(rune('a' + u))
			steps[u] = Do(name, sorter(0.1+0.3*random.Float64(), 0.5*random.Float64()))
			free = append(free, name+".up", name+".down")
		}
		steps[0].From = []string{"ore"}
		random.Shuffle(len(free), func(i, j int) { free[i], free[j] = free[j], free[i] })
		for u := range steps {
			for range 1 + random.IntN(2) {
				if len(free) > 1 && (u > 0 || random.IntN(2) == 0) {
					steps[u].From, free = append(steps[u].From, free[0]), free[1:]
				}
			}
		}
		sheet, err := New("random", []stream.Stream{ore(t, c)}, steps...)
		if err != nil {
			continue // a step that nothing reaches or leaves
		}
		r, err := sheet.Solve()
		if err != nil {
			t.Fatalf("%v: %v", steps, err)
		}
		settled(t, r)
		solved++
	}
	if solved < 20 {
		t.Errorf("only %d circuits", solved)
	}
}

func TestSixUnits(t *testing.T) {
	r := must[*Result](t)(sixUnits(t, grid(t, 12, 8)).Solve())
	settled(t, r)
	t.Logf("%+v", r.Loops())
}

func TestWhatNeverLeavesIsNamed(t *testing.T) {
	c := grid(t, 3, 2)
	hoard := Separation{First: "up", Second: "down", Share: func(_ quantity.Quantity, p stream.Particle) float64 {
		if p.Name == "quartz" {
			return 0
		}
		return 0.9
	}}
	sheet := must[*Flowsheet](t)(New("hoard", []stream.Stream{ore(t, c)},
		Do("mixer", sorter(0, 0), "ore", "separator.down"), Do("separator", hoard, "mixer.down")))
	_, err := sheet.Solve()
	if err == nil || !strings.Contains(err.Error(), "quartz") || !strings.Contains(err.Error(), "does not settle") {
		t.Errorf("error %v", err)
	}
}

type broken struct {
	apply func(stream.Stream) ([]stream.Stream, error)
}

func (b broken) Products() []string                                { return []string{"out"} }
func (b broken) Apply(feed stream.Stream) ([]stream.Stream, error) { return b.apply(feed) }

func TestRefused(t *testing.T) {
	c, other := grid(t, 2, 2), grid(t, 2, 2)
	feed := []stream.Stream{ore(t, c)}
	pass := sorter(0.5, 0)
	solve := func(apply func(stream.Stream) ([]stream.Stream, error)) func() error {
		return func() error {
			_, err := must[*Flowsheet](t)(New("x", feed, Do("a", broken{apply}, "ore"))).Solve()
			return err
		}
	}
	build := func(feeds []stream.Stream, steps ...Step) func() error {
		return func() error { _, err := New("x", feeds, steps...); return err }
	}
	for want, call := range map[string]func() error{
		"at least one feed":    build(nil, Do("a", pass, "ore")),
		"hold a dot":           build(feed, Do("a.b", pass, "ore")),
		"two feeds or steps":   build(feed, Do("a", pass, "ore"), Do("a", pass, "a.up")),
		"other classes":        build([]stream.Stream{ore(t, c), ore(t, other).Named("b")}, Do("a", pass, "ore")),
		"takes no stream":      build(feed, Do("a", pass)),
		"has no unit":          build(feed, Do("a", nil, "ore")),
		"no such stream":       build(feed, Do("a", pass, "rock")),
		"say which: a.up":      build(feed, Do("a", pass, "ore"), Do("b", pass, "a")),
		"both take":            build(feed, Do("a", pass, "ore"), Do("b", pass, "a.up"), Do("c", pass, "a.up")),
		"no feed reaches":      build(feed, Do("a", pass, "ore"), Do("b", pass, "b.up")),
		"comes back":           build(feed, Do("a", pass, "ore"), Do("b", pass, "a.up", "b.up", "b.down")),
		"product 2 is called":  build(feed, Do("a", Splitter{Names: []string{"x", "x"}}, "ore")),
		"a: no":                solve(func(stream.Stream) ([]stream.Stream, error) { return nil, errors.New("no") }),
		"made 0":               solve(func(stream.Stream) ([]stream.Stream, error) { return nil, nil }),
		"product 1 is told on": solve(func(stream.Stream) ([]stream.Stream, error) { return []stream.Stream{ore(t, other)}, nil }),
		"a does not close": solve(func(s stream.Stream) ([]stream.Stream, error) {
			half, err := s.Scaled(quantity.Number(0.5))
			return []stream.Stream{half}, err
		}),
	} {
		if err := call(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want %q", err, want)
		}
	}
}

func TestTables(t *testing.T) {
	r := must[*Result](t)(sixUnits(t, grid(t, 4, 3)).Solve())
	balance, err := r.Balance("ilmenite", "Ti")
	if err != nil || balance.Rows() != 11 {
		t.Fatalf("%v, %v", balance, err)
	}
	for _, want := range []string{"cleaner.up", "grade of Ti", "recovery of ilmenite"} {
		if !strings.Contains(balance.String(), want) {
			t.Errorf("no %q in\n%s", want, balance)
		}
	}
	if _, err := r.Balance("Au"); err == nil {
		t.Error("gold from an ore without")
	}
	recovery := must[quantity.Quantity](t)(r.Recovery("cleaner.up", "ilmenite"))
	tail := must[quantity.Quantity](t)(r.Recovery("scavenger.down", "ilmenite"))
	near(t, "recoveries of the products", recovery.SI()+tail.SI(), 1, 1e-9)
	energy := must[Energy](t)(r.Energy())
	if got := energy.Silent(); len(got) != 1 || got[0] != "screen" {
		t.Errorf("silent %v", got)
	}
	if e, err := energy.Of("screen"); err == nil {
		t.Errorf("power of a silent unit %v", e)
	}
	mill := must[stream.Stream](t)(r.FeedOf("mill"))
	near(t, "power of the mill", must[quantity.Quantity](t)(energy.Of("mill")).To("kW").Shown(), 10*mill.Solids().To("t/h").Shown(), 1e-6)
	made := must[table.Table](t)(energy.TablePer("concentrate", of(10, "t/h")))
	if column := must[[]quantity.Quantity](t)(made.Column("per tonne of concentrate")); math.Abs(column[len(column)-1].Shown()-energy.Total().Shown()/10) > 1e-9 {
		t.Errorf("per tonne of concentrate %v", column)
	}
	per := must[quantity.Quantity](t)(energy.PerTonne(r.Feed().Solids()))
	near(t, "per tonne", per.Shown(), energy.Total().To("kW").Shown()/r.Feed().Solids().To("t/h").Shown(), 1e-9)
	compared := must[interface{ String() string }](t)(Compare("ilmenite", Case{"one", r, "cleaner.up"}, Case{"other", r, "rougher.up"}))
	if text := compared.String(); !strings.Contains(text, "steps without power") {
		t.Errorf("compared\n%s", text)
	}
	t.Logf("\n%v\n%v\n%v\n%v\n%v", r, balance, r.Closure(), energy, compared)
}

// A unit with an uncertain field, however deep, is named in the balance.
func TestTakenAtMeans(t *testing.T) {
	c := grid(t, 2, 2)
	share := must[quantity.Quantity](t)(quantity.Uniform(quantity.Number(0.4), quantity.Number(0.6)))
	sheet := must[*Flowsheet](t)(New("x", []stream.Stream{ore(t, c)},
		Do("certain", sorter(0.5, 0), "ore"),
		Do("spread", Driven{Unit: Splitter{Names: []string{"a", "b"}, Shares: []quantity.Quantity{share}}}, "certain.up")))
	r := must[*Result](t)(sheet.Solve())
	if got := r.TakenAtMeans(); len(got) != 1 || got[0] != "spread" || !strings.Contains(r.String(), "spread taken at their means") {
		t.Errorf("%v\n%v", got, r)
	}
}

func TestDriven(t *testing.T) {
	feed := ore(t, grid(t, 2, 2)) // 4 kg/s = 14.4 t/h
	power := must[quantity.Quantity](t)(Driven{Unit: sorter(0.5, 0), Energy: of(2, "kWh/t"), Idle: of(3, "kW")}.Power(feed))
	near(t, "power", power.To("kW").Shown(), 2*14.4+3, 1e-9)
	if _, err := (Driven{Unit: sorter(0.5, 0), Energy: of(2, "m")}).Power(feed); err == nil {
		t.Error("an energy in metres")
	}
}

func TestFind(t *testing.T) {
	cube := func(x quantity.Quantity) (quantity.Quantity, error) { return x.Mul(x).Mul(x), nil }
	got := must[quantity.Quantity](t)(Find(cube, of(27, "m³"), of(0, "cm"), of(1000, "cm")))
	near(t, "root", got.To("m").Shown(), 3, 1e-5)
	got = must[quantity.Quantity](t)(Find(cube, of(27, "m³"), of(1, "mm"), of(100, "m")))
	near(t, "root on a scale of ratios", got.To("m").Shown(), 3, 1e-4)
	falling := func(x quantity.Quantity) (quantity.Quantity, error) { return quantity.Number(math.Exp(-x.SI())), nil }
	got = must[quantity.Quantity](t)(Find(falling, quantity.Number(0.1), of(0, "m"), of(5, "m")))
	near(t, "falling", got.SI(), math.Log(10), 1e-5)
	for want, call := range map[string]func() error{
		"answers met lie between": func() error { _, err := Find(cube, of(-1, "m³"), of(1, "m"), of(2, "m")); return err },
		"cannot be compared":      func() error { _, err := Find(cube, of(1, "kg"), of(1, "m"), of(2, "m")); return err },
		"no such stretch":         func() error { _, err := Find(cube, of(1, "m³"), of(2, "m"), of(1, "m")); return err },
		"at 1 m: no": func() error {
			_, err := Find(func(quantity.Quantity) (quantity.Quantity, error) { return quantity.Quantity{}, errors.New("no") }, of(1, "m"), of(1, "m"), of(2, "m"))
			return err
		},
	} {
		if err := call(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want %q", err, want)
		}
	}
}

// Design on a plant: the feed rate at which a crowded sieve still makes a rate of
// fine product; the answer put in again gives what was wanted.
func TestFindFeedRate(t *testing.T) {
	c := grid(t, 6, 2)
	plant := func(factor quantity.Quantity) (quantity.Quantity, error) {
		feed, err := ore(t, c).Scaled(factor)
		if err != nil {
			return factor, err
		}
		sheet, err := New("x", []stream.Stream{feed}, Do("sieve", sieve{400e-6, 0.02}, "ore", "mill"), Do("mill", grinder{0.6}, "sieve.over"))
		if err != nil {
			return factor, err
		}
		r, err := sheet.Solve()
		if err != nil {
			return factor, err
		}
		s, err := r.Stream("mill")
		return s.Solids(), err
	}
	wanted := of(60, "t/h")
	factor := must[quantity.Quantity](t)(Find(plant, wanted, quantity.Number(0.1), quantity.Number(3)))
	near(t, "rate", must[quantity.Quantity](t)(plant(factor)).To("t/h").Shown(), 60, 1e-3)
}

func TestCarryAndSwing(t *testing.T) {
	if err := quantity.SetSamples(2000); err != nil {
		t.Fatal(err)
	}
	defer func() { _ = quantity.SetSamples(quantity.DefaultSamples) }()
	x := must[quantity.Quantity](t)(quantity.Normal(of(10, "m"), of(1, "m"))).Named("x")
	y := must[quantity.Quantity](t)(quantity.Normal(of(5, "m"), of(0.1, "m"))).Named("y")
	calls := 0
	got := must[[]quantity.Quantity](t)(Carry([]quantity.Quantity{x, y}, func(v []quantity.Quantity) ([]quantity.Quantity, error) {
		calls++
		return []quantity.Quantity{v[0].Add(v[1]), v[0].Mul(v[1])}, nil
	}))
	if calls != 2000+1+4 {
		t.Errorf("%d calls", calls)
	}
	sum, product := x.Add(y), x.Mul(y)
	near(t, "mean of the sum", got[0].SI(), sum.SI(), 1e-9)
	near(t, "spread of the product", got[1].StdDev().SI(), product.StdDev().SI(), 1e-9)
	near(t, "difference of a result and itself", got[0].Sub(sum).StdDev().SI(), 0, 1e-9)
	if first := got[0].Influences()[0]; first.Name != "x" || math.Abs(first.Share-1/1.01) > 1e-3 {
		t.Errorf("influence %v", first)
	}
	if _, err := Carry([]quantity.Quantity{x}, func([]quantity.Quantity) ([]quantity.Quantity, error) { return nil, nil }); err == nil {
		t.Error("no answers")
	}

	swings := must[Swings](t)(Swing("area", []Input{{Name: "y", Base: y}, {Name: "x", Base: of(10, "m"), Low: of(8, "m"), High: of(13, "m")}},
		func(v []quantity.Quantity) (quantity.Quantity, error) { return v[0].Mul(v[1]), nil }))
	rows := swings.Rows()
	if rows[0].Name != "x" || rows[1].Name != "y" {
		t.Fatalf("order %v", rows)
	}
	near(t, "at low", rows[0].AtLow.SI(), 8*y.Certain().SI(), 1e-9)
	near(t, "span", rows[0].Span().SI(), 5*y.Certain().SI(), 1e-9)
	near(t, "span of an interval", rows[1].Span().SI(), 10*2*1.96*0.1, 0.3)
	if text := swings.String(); !strings.Contains(text, "swing") {
		t.Errorf("shown as\n%s", text)
	}
	for want, input := range map[string]Input{"needs a name": {Base: x}, "neither Low nor High": {Name: "x", Base: of(1, "m")}, "does not measure": {Name: "x", Base: of(1, "m"), Low: of(1, "s"), High: of(2, "m")}} {
		if _, err := Swing("x", []Input{input}, func(v []quantity.Quantity) (quantity.Quantity, error) { return v[0], nil }); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want %q", err, want)
		}
	}
}
