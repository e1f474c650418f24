package balance

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
)

func tph(x float64) quantity.Quantity { return quantity.Of(x, "t/h") }

func network(t *testing.T, streams ...Stream) Network {
	t.Helper()
	n, err := NewNetwork(streams...)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func reconcile(t *testing.T, n Network, m ...Measurement) Reconciled {
	t.Helper()
	r, err := n.Reconcile(m...)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func figure(t *testing.T, r Reconciled, stream, component string) Adjusted {
	t.Helper()
	f, err := r.find(stream, component)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func close(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*(1e-300+math.Abs(want))) {
		t.Errorf("%s: %v, want %v (relative tolerance %g)", what, got, want, tolerance)
	}
}

// One separation with unmeasured product flows is the two-product formula.
func TestReconciliationContainsTheTwoProductFormula(t *testing.T) {
	n := network(t, Stream{"feed", "", "cell"}, Stream{"concentrate", "cell", ""}, Stream{"tailing", "cell", ""})
	r := reconcile(t, n,
		Exactly(Flow("feed", tph(100), quantity.Quantity{})),
		Assay("feed", "Cu", pc(0.8), pc(0.02)), Assay("concentrate", "Cu", pc(25), pc(0.5)), Assay("tailing", "Cu", pc(0.15), pc(0.01)))
	want := grades(t, pc(0.8), pc(25), pc(0.15))
	f := figure(t, r, "concentrate", "")
	close(t, "yield", f.Value.SI()/tph(100).SI(), float(t, want.Yield()), 1e-9)
	if f.Standing != Observable {
		t.Errorf("the concentrate's flow is %v", f.Standing)
	}
	if assay := figure(t, r, "tailing", "Cu"); assay.Standing != Needed || !math.IsNaN(assay.Test) {
		t.Errorf("the tailing's assay is %v, test %v", assay.Standing, assay.Test)
	}
	// Its deviation is the propagated one.
	s := want.YieldSensitivity()
	relative := math.Sqrt(math.Pow(s.Feed*0.02/0.8, 2) + math.Pow(s.Concentrate*0.5/25, 2) + math.Pow(s.Tailing*0.01/0.15, 2))
	close(t, "deviation of the yield", f.Deviation.SI()/f.Value.SI(), relative, 1e-5)
	if _, err := r.Global(0.95); err == nil {
		t.Error("a test without anything redundant")
	}
}

// denseReconcile solves the same problem by another way: penalties on the
// balances, by the general least squares of numeric.
func denseReconcile(n Network, components []string, flows []float64, flowDeviation []float64, assays, assayDeviation [][]float64) ([]float64, [][]float64, float64) {
	count := len(n.streams)
	start := append([]float64(nil), flows...)
	for k := range components {
		start = append(start, assays[k]...)
	}
	const penalty = 1e6
	balances := len(n.nodes) * (1 + len(components))
	fit := numeric.Fit(func(x, into []float64) {
		at := 0
		for s := range count {
			into[at] = (x[s] - flows[s]) / flowDeviation[s]
			at++
		}
		for k := range components {
			for s := range count {
				into[at] = (x[(k+1)*count+s] - assays[k][s]) / assayDeviation[k][s]
				at++
			}
		}
		for k := -1; k < len(components); k++ {
			for _, node := range n.nodes {
				sum := 0.0
				for s, stream := range n.streams {
					f := x[s]
					if k >= 0 {
						f *= x[(k+1)*count+s]
					}
					if stream.To == node {
						sum += f
					} else if stream.From == node {
						sum -= f
					}
				}
				into[at] = penalty * sum / 100
				at++
			}
		}
	}, start, count*(1+len(components))+balances)
	x := fit.Parameters
	adjusted := make([][]float64, len(components))
	for k := range components {
		adjusted[k] = x[(k+1)*count : (k+2)*count]
	}
	return x[:count], adjusted, fit.Sum
}

// A rougher and a cleaner with all figures measured, invented and noisy, against
// the other way of solving it.
func TestBilinearAgainstPenalties(t *testing.T) {
	n := network(t, Stream{"feed", "", "rougher"}, Stream{"return", "cleaner", "rougher"}, Stream{"rougher concentrate", "rougher", "cleaner"},
		Stream{"tailing", "rougher", ""}, Stream{"concentrate", "cleaner", ""})
	components := []string{"Cu", "Zn"}
	flows := []float64{100, 8.3, 14.2, 93.6, 5.7}
	flowDeviations := []float64{1, 0.8, 0.7, 1.5, 0.3}
	assays := [][]float64{{0.0121, 0.052, 0.113, 0.0021, 0.195}, {0.031, 0.041, 0.062, 0.026, 0.079}}
	assayDeviations := [][]float64{{0.0003, 0.002, 0.003, 0.0001, 0.004}, {0.001, 0.002, 0.002, 0.001, 0.003}}
	var m []Measurement
	for s, stream := range n.streams {
		m = append(m, Flow(stream.Name, tph(flows[s]), tph(flowDeviations[s])))
		for k, component := range components {
			m = append(m, Assay(stream.Name, component, quantity.Number(assays[k][s]), quantity.Number(assayDeviations[k][s])))
		}
	}
	r := reconcile(t, n, m...)
	wantFlows, wantAssays, sum := denseReconcile(n, components, flows, flowDeviations, assays, assayDeviations)
	for s, stream := range n.streams {
		close(t, "flow of "+stream.Name, figure(t, r, stream.Name, "").Value.Shown(), wantFlows[s], 1e-5)
		for k, component := range components {
			close(t, component+" in "+stream.Name, figure(t, r, stream.Name, component).Value.SI(), wantAssays[k][s], 1e-5)
		}
	}
	g, err := r.Global(0.95)
	if err != nil {
		t.Fatal(err)
	}
	close(t, "χ²", g.Statistic, sum, 1e-4)
	if g.Freedom != 6 { // two nodes, three balances each, all measured
		t.Errorf("%d degrees of freedom, want 6", g.Freedom)
	}
}

// What comes out balances, and measurements that balance stay as they are.
func TestBalancedMeasurementsStay(t *testing.T) {
	n := network(t, Stream{"a", "", "1"}, Stream{"b", "1", "2"}, Stream{"c", "1", ""}, Stream{"d", "2", ""}, Stream{"e", "2", "1"})
	flows := map[string]float64{"a": 100, "b": 70, "c": 50, "d": 50, "e": 20}
	grades := map[string]float64{"a": 0.05, "b": 0.08, "c": 0.01, "d": 0.09, "e": 0.055}
	var m []Measurement
	for _, s := range n.streams {
		m = append(m, Flow(s.Name, tph(flows[s.Name]), pc(2)))
		m = append(m, Assay(s.Name, "Sn", quantity.Number(grades[s.Name]), quantity.Number(0.001)))
	}
	r := reconcile(t, n, m...)
	for _, f := range r.Figures() {
		close(t, f.Component+f.Stream, f.Value.SI(), f.Measured.SI(), 1e-9)
	}
	if g, err := r.Global(0.95); err != nil || g.Statistic > 1e-12 || g.Freedom != 4 || !g.Passes {
		t.Errorf("%v (%v)", g, err)
	}
	if wrong := r.Impossible(); len(wrong) > 0 {
		t.Errorf("impossible: %v", wrong)
	}
}

// Each standing in one network: a circuit whose recycle nobody measures.
func TestStandings(t *testing.T) {
	n := network(t, Stream{"feed", "", "mill"}, Stream{"discharge", "mill", "screen"}, Stream{"return", "screen", "mill"},
		Stream{"product", "screen", ""}, Stream{"water", "", "sump"}, Stream{"out", "sump", ""})
	r := reconcile(t, n, Flow("feed", tph(100), tph(1)), Flow("product", tph(102), tph(1)), Exactly(Flow("water", tph(30), quantity.Quantity{})))
	for stream, want := range map[string]Standing{"feed": Redundant, "product": Redundant, "discharge": Unobservable,
		"return": Unobservable, "water": Exact, "out": Observable} {
		f := figure(t, r, stream, "")
		if f.Standing != want {
			t.Errorf("%s is %v, want %v", stream, f.Standing, want)
		}
		if want == Unobservable && !f.Value.IsNaN() {
			t.Errorf("%s is unobservable and has the value %v", stream, f.Value)
		}
	}
	close(t, "feed", figure(t, r, "feed", "").Value.Shown(), 101, 1e-9)
	close(t, "out", figure(t, r, "out", "").Value.Shown(), 30, 1e-9)
	close(t, "deviation", figure(t, r, "feed", "").Deviation.Shown(), math.Sqrt(0.5), 1e-5)
}

// Size classes that a mill changes and a screen does not, with sums of 100 %.
func TestSizesAroundAMill(t *testing.T) {
	d := func(masses ...float64) size.Distribution {
		made, err := size.New(of("mm", []float64{1, 0.25}), of("g", masses))
		if err != nil {
			t.Fatal(err)
		}
		return made
	}
	n := network(t, Stream{"feed", "", "mill"}, Stream{"discharge", "mill", "screen"}, Stream{"return", "screen", "mill"}, Stream{"product", "screen", ""})
	classes := d(1, 1, 1).Classes()
	n, err := n.Closed(classes...)
	if err != nil {
		t.Fatal(err)
	}
	if n, err = n.Changing("mill", classes...); err != nil {
		t.Fatal(err)
	}
	m := []Measurement{Exactly(Flow("feed", tph(100), quantity.Quantity{}))}
	m = append(m, Sizes("discharge", d(40, 30, 31), pc(1))...) // noisy: return:product = 2:1 would give 40, 30, 30
	m = append(m, Sizes("return", d(60, 32, 9), pc(1))...)
	m = append(m, Sizes("product", d(0, 25, 75), pc(1))...)
	r := reconcile(t, n, m...)
	load := figure(t, r, "return", "").Value.Shown()
	if !(load > 150 && load < 250) {
		t.Errorf("circulating load %v", load)
	}
	for _, stream := range []string{"discharge", "return", "product"} {
		sum := 0.0
		for _, class := range classes {
			f := figure(t, r, stream, class)
			sum += f.Value.SI()
		}
		close(t, "sum of "+stream, sum, 1, 1e-9)
	}
	g, err := r.Global(0.95)
	if err != nil || g.Freedom != 1 { // two independent shares tell one unknown load
		t.Errorf("%v (%v)", g, err)
	}
	if f := figure(t, r, "feed", classes[0]); f.Standing != Unobservable {
		t.Errorf("the feed's sizes are %v", f.Standing)
	}
}

// A gross error is found where it is, by the worst of the measurement tests.
func TestSuspects(t *testing.T) {
	n := network(t, Stream{"a", "", "1"}, Stream{"b", "1", "2"}, Stream{"c", "1", "2"}, Stream{"d", "2", "3"}, Stream{"e", "3", ""}, Stream{"f", "3", ""})
	flows := []float64{100, 60, 40, 100, 25, 75}
	var m []Measurement
	for i, s := range n.streams {
		x := flows[i]
		if s.Name == "d" {
			x += 12
		}
		m = append(m, Flow(s.Name, tph(x), tph(1)))
	}
	r := reconcile(t, n, m...)
	g, err := r.Global(0.95)
	if err != nil || g.Passes {
		t.Errorf("%v (%v)", g, err)
	}
	suspects, err := r.Suspects(0.95)
	if err != nil || len(suspects) == 0 || suspects[0].Stream != "d" {
		t.Errorf("suspects %v (%v)", suspects, err)
	}
	if !strings.Contains(r.String(), "the global test fails") {
		t.Errorf("the table does not say so:\n%s", r)
	}
}

// Over many draws of noise the statistic has the mean of its degrees of freedom,
// the tests a variance of 1, and the deviations are those of the results.
func TestStatisticsHold(t *testing.T) {
	n := network(t, Stream{"feed", "", "cell"}, Stream{"concentrate", "cell", ""}, Stream{"tailing", "cell", ""})
	draw := rand.New(rand.NewPCG(3, 5))
	const rounds = 1500
	var statistic, test, spread, deviation float64
	noisy := func(x, s float64) float64 { return x + s*draw.NormFloat64() }
	for range rounds {
		r := reconcile(t, n,
			Flow("feed", tph(noisy(100, 1)), tph(1)), Flow("concentrate", tph(noisy(20, 0.5)), tph(0.5)), Flow("tailing", tph(noisy(80, 1)), tph(1)),
			Assay("feed", "Fe", pc(noisy(30, 0.3)), pc(0.3)), Assay("concentrate", "Fe", pc(noisy(66, 0.3)), pc(0.3)), Assay("tailing", "Fe", pc(noisy(21, 0.3)), pc(0.3)))
		g, err := r.Global(0.95)
		if err != nil || g.Freedom != 2 {
			t.Fatalf("%v (%v)", g, err)
		}
		f := figure(t, r, "concentrate", "")
		statistic += g.Statistic / rounds
		test += f.Test * f.Test / rounds
		spread += math.Pow(f.Value.Shown()-20, 2) / rounds
		deviation += f.Deviation.Shown() / rounds
	}
	close(t, "mean of χ²", statistic, 2, 0.15) // standard error 2/√1500 = 0.05; three of these
	close(t, "variance of the test", test, 1, 0.11)
	close(t, "deviation", deviation, math.Sqrt(spread), 0.06)
}

func TestReportsOfReconciliation(t *testing.T) {
	n := network(t, Stream{"feed", "", "cell"}, Stream{"concentrate", "cell", ""}, Stream{"tailing", "cell", ""})
	r := reconcile(t, n, Flow("feed", tph(100), pc(1)), Flow("concentrate", tph(21), pc(2)),
		Assay("feed", "Fe", pc(30), pc(0.3)), Assay("concentrate", "Fe", pc(66), pc(0.3)), Assay("tailing", "Fe", pc(21), pc(0.3)))
	report := r.Closure()
	after, err := report.Column("open, adjusted")
	if err != nil {
		t.Fatal(err)
	}
	for i, open := range after {
		if math.Abs(open.SI()) > 1e-9 {
			t.Errorf("balance %d stays open by %v", i, open)
		}
	}
	made, err := r.Metallurgical("feed")
	if err != nil {
		t.Fatal(err)
	}
	shares, err := made.Column("Fe share")
	if err != nil {
		t.Fatal(err)
	}
	close(t, "shares of iron", shares[1].SI()+shares[2].SI(), shares[0].SI(), 1e-9)
	if _, err := r.Metallurgical("mill"); err == nil {
		t.Error("a reference that is not there")
	}
	if _, err := r.Metallurgical("feed", "Au"); err == nil || !strings.Contains(err.Error(), "there are Fe") {
		t.Errorf("a component that is not there: %v", err)
	}
}

func TestReconcileRefuses(t *testing.T) {
	n := network(t, Stream{"feed", "", "cell"}, Stream{"concentrate", "cell", ""}, Stream{"tailing", "cell", ""})
	feed := Flow("feed", tph(100), tph(1))
	var none quantity.Quantity
	for _, test := range []struct {
		name string
		m    []Measurement
		want string
	}{
		{"nothing", nil, "no flow is measured"},
		{"no such stream", []Measurement{feed, Flow("slurry", tph(1), tph(1))}, "there are feed, concentrate, tailing"},
		{"twice", []Measurement{feed, feed}, "given twice"},
		{"kinds", []Measurement{feed, Flow("tailing", quantity.Of(1, "m³/h"), tph(1))}, "units such as t/h"},
		{"negative", []Measurement{feed, Flow("tailing", tph(-1), tph(1))}, "0 or more"},
		{"no deviation", []Measurement{Flow("feed", tph(100), none)}, "standard deviation"},
		{"assay above 100 %", []Measurement{feed, Assay("feed", "Fe", quantity.Number(30), pc(1))}, "write a percentage"},
		{"all flows 0", []Measurement{Exactly(Flow("feed", tph(0), none))}, "all measured flows are 0"},
		{"assays 0", []Measurement{feed, Exactly(Assay("feed", "Fe", pc(0), none))}, "all assays of Fe are 0"},
		{"all exact", []Measurement{Exactly(Flow("feed", tph(100), none)), Exactly(Flow("concentrate", tph(10), none)), Exactly(Flow("tailing", tph(90), none))}, "nothing to adjust"},
	} {
		_, err := n.Reconcile(test.m...)
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: error %v, want one with %q", test.name, err, test.want)
		}
	}
	for want, streams := range map[string][]Stream{
		"name of its own": {{"a", "", "1"}, {"a", "1", ""}},
		"nowhere else":    {{"a", "1", "1"}},
		"one side only":   {{"a", "", "1"}},
		"no node":         {},
	} {
		if _, err := NewNetwork(streams...); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one with %q", err, want)
		}
	}
	if _, err := n.Changing("mill", "Fe"); err == nil {
		t.Error("a node that is not there")
	}
	if _, err := n.Closed("Fe"); err == nil {
		t.Error("one component closed")
	}
	closed, err := n.Closed("Fe", "SiO2")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := closed.Closed("Fe", "CaO"); err == nil {
		t.Error("a component closed twice")
	}
	if _, err := closed.Reconcile(feed, Assay("feed", "Fe", pc(30), pc(1))); err == nil || !strings.Contains(err.Error(), "SiO2 is to add up") {
		t.Errorf("a closed component without assay: %v", err)
	}
	uncertain := quantity.Must(quantity.Normal(tph(100), tph(1)))
	r := reconcile(t, n, Flow("feed", uncertain, none), Flow("concentrate", tph(20), tph(1)), Flow("tailing", tph(82), tph(1)))
	close(t, "an uncertain value", figure(t, r, "feed", "").Value.Shown(), 100+2.0/3, 1e-3)
}

// Two scales calibrated by one weight are correlated. By hand for 1 = 2 + 3 with
// deviations 1 and correlation r between 2 and 3, which leaves the balance a variance
// of 3 + 2r: the adjustments are −e/(3 + 2r) for 1 and e·(1 + r)/(3 + 2r) for 2 and 3.
func TestCorrelatedMeasurements(t *testing.T) {
	const r, open = 0.6, 3.0
	var none quantity.Quantity
	pair, err := quantity.Joint([]quantity.Quantity{tph(60), tph(43)}, []quantity.Quantity{tph(1), tph(1)}, [][]float64{{1, r}, {r, 1}})
	if err != nil {
		t.Fatal(err)
	}
	n := network(t, Stream{"1", "", "n"}, Stream{"2", "n", ""}, Stream{"3", "n", ""})
	done := reconcile(t, n, Flow("1", tph(100), tph(1)), Flow("2", pair[0], none), Flow("3", pair[1], none))
	close(t, "1", figure(t, done, "1", "").Value.Shown(), 100+open/(3+2*r), 1e-4) // samples have means near 60 and 43
	close(t, "2", figure(t, done, "2", "").Value.Shown(), 60-open*(1+r)/(3+2*r), 1e-3)
	g, err := done.Global(0.95)
	if err != nil || g.Freedom != 1 {
		t.Fatalf("%v (%v)", g, err)
	}
	close(t, "χ²", g.Statistic, open*open/(3+2*r), 0.02)
	same := pair[0].Mul(quantity.Number(0.7))
	if _, err := n.Reconcile(Flow("1", tph(100), tph(1)), Flow("2", pair[0], none), Flow("3", same, none)); err == nil || !strings.Contains(err.Error(), "follow from one another") {
		t.Errorf("two figures from one: %v", err)
	}
}

// chain is a bank of separators in line; every figure is measured with noise, but for
// every flow or second flow where asked.
func chain(nodes, components, everyFlow int) (Network, []Measurement) {
	draw := rand.New(rand.NewPCG(9, uint64(nodes)))
	var streams []Stream
	flows := []float64{1000}
	name := func(kind string, i int) string { return fmt.Sprintf("%s %d", kind, i) }
	streams = append(streams, Stream{name("pulp", 0), "", "cell 1"})
	for i := 1; i <= nodes; i++ {
		next := fmt.Sprintf("cell %d", i+1)
		if i == nodes {
			next = ""
		}
		in := flows[len(flows)-1]
		if i == 1 {
			in = 1000
		}
		streams = append(streams, Stream{name("concentrate", i), fmt.Sprintf("cell %d", i), ""}, Stream{name("pulp", i), fmt.Sprintf("cell %d", i), next})
		flows = append(flows, 0.02*in, 0.98*in)
	}
	n, _ := NewNetwork(streams...)
	var m []Measurement
	for s, stream := range streams {
		if s%everyFlow == 0 {
			m = append(m, Flow(stream.Name, tph(flows[s]*(1+0.01*draw.NormFloat64())), pc(1)))
		}
		for k := range components {
			m = append(m, Assay(stream.Name, fmt.Sprintf("component %d", k), quantity.Number(0.05*(1+0.02*draw.NormFloat64())), quantity.Number(0.001)))
		}
	}
	return n, m
}

func BenchmarkReconcile(b *testing.B) {
	for _, size := range []struct{ nodes, components, everyFlow int }{
		{10, 4, 1}, {50, 4, 1}, {100, 4, 1}, {100, 12, 1}, {200, 12, 1}, {400, 12, 1}, {100, 4, 2}, {200, 4, 2}, {200, 12, 2}, {400, 12, 2}} {
		n, m := chain(size.nodes, size.components, size.everyFlow)
		b.Run(fmt.Sprintf("%d streams, %d components, one in %d flows", len(n.streams), size.components, size.everyFlow), func(b *testing.B) {
			for b.Loop() {
				if _, err := n.Reconcile(m...); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// The figures of the example are invented.
func ExampleNetwork_Reconcile() {
	n, err := NewNetwork(Stream{"feed", "", "cell"}, Stream{"concentrate", "cell", ""}, Stream{"tailing", "cell", ""})
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := n.Reconcile(
		Flow("feed", quantity.Of(100, "t/h"), quantity.Of(2, "%")),
		Flow("concentrate", quantity.Of(19, "t/h"), quantity.Of(5, "%")),
		Assay("feed", "Fe", quantity.Of(30, "%"), quantity.Of(0.3, "%")),
		Assay("concentrate", "Fe", quantity.Of(66, "%"), quantity.Of(0.3, "%")),
		Assay("tailing", "Fe", quantity.Of(21, "%"), quantity.Of(0.3, "%")))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r)
	// Output:
	// the global test passes: χ² = 0.5541 with 1 degrees of freedom, critical 3.841; chance gives as much in 0.46 of cases
	// stream       figure  measured  adjusted    deviation  standing    test
	// ───────────  ──────  ────────  ──────────  ─────────  ──────────  ─────
	// feed         flow    100 t/h   99.565 t/h  1.9 t/h    redundant   0.74
	// concentrate  flow    19 t/h    19.501 t/h  0.67 t/h   redundant   -0.74
	// tailing      flow    –         80.065 t/h  1.8 t/h    observable  –
	// feed         Fe      30 %      29.889 %    0.26 %     redundant   0.74
	// concentrate  Fe      66 %      66.022 %    0.3 %      redundant   -0.74
	// tailing      Fe      21 %      21.089 %    0.28 %     redundant   -0.74
}

// A share of an assay and percentage points of it are not the same, and are not
// taken for one another.
func TestDeviationsAreRelativeOnlyWhereSaid(t *testing.T) {
	n := network(t, Stream{"feed", "", "cell"}, Stream{"concentrate", "cell", ""}, Stream{"tailing", "cell", ""})
	flow := Exactly(Flow("feed", tph(100), quantity.Quantity{}))
	r := reconcile(t, n, flow, Relatively(Assay("feed", "Cu", pc(0.8), pc(5))),
		Assay("concentrate", "Cu", pc(25), pc(0.5)), Relatively(Assay("tailing", "Cu", pc(0.15), pc(4))))
	same := reconcile(t, n, flow, Assay("feed", "Cu", pc(0.8), pc(0.04)),
		Assay("concentrate", "Cu", pc(25), pc(0.5)), Assay("tailing", "Cu", pc(0.15), pc(0.006)))
	for i, f := range r.Figures() {
		g := same.Figures()[i]
		close(t, f.Stream+" "+f.Component, f.Value.SI(), g.Value.SI(), 1e-12)
		close(t, f.Stream+" "+f.Component+", deviation", f.Deviation.SI(), g.Deviation.SI(), 1e-9)
	}
	_, err := n.Reconcile(flow, Assay("feed", "Cu", pc(0.8), pc(5)), Assay("concentrate", "Cu", pc(25), pc(0.5)), Assay("tailing", "Cu", pc(0.15), pc(0.01)))
	if err == nil || !strings.Contains(err.Error(), "Relatively") || !strings.Contains(err.Error(), "Cu in feed") {
		t.Errorf("5 percentage points of 0.8 %%: error %v", err)
	}
}
