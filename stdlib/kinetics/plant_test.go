package kinetics

import (
	"math"
	"testing"

	"cobber/stdlib/quantity"
)

func TestCellTime(t *testing.T) {
	tau, err := CellTime(quantity.Of(30, "m³"), pc(15), quantity.Of(510, "m³/h"))
	near(t, "τ", value(t, tau, err, "min"), 3, 1e-12)
	_, err = CellTime(quantity.Of(30, "t"), pc(15), quantity.Of(510, "m³/h"))
	refused(t, "a mass", err, "as in m³")
	_, err = CellTime(quantity.Of(30, "m³"), pc(100), quantity.Of(510, "m³/h"))
	refused(t, "all gas", err, "share of gas")
	_, err = CellTime(quantity.Of(30, "m³"), pc(15), quantity.Of(510, "t/h"))
	refused(t, "a mass flow", err, "volume per time")
}

// The answer of n mixers in line to a pulse has the mean nτ and looks like n
// mixers.
func TestTracerFindsMixers(t *testing.T) {
	const n, tau = 4.0, 2.0
	var times, concentrations []quantity.Quantity
	for x := 0.0; x <= 60; x += 0.05 {
		times = append(times, quantity.Of(x, "min"))
		concentrations = append(concentrations, quantity.Of(math.Pow(x, n-1)*math.Exp(-x/tau), "mg/L"))
	}
	r, err := Tracer(times, concentrations)
	near(t, "mean", value(t, r.Mean, err, "min"), n*tau, 1e-5)
	near(t, "variance", value(t, r.Variance, nil, "min²"), n*tau*tau, 1e-4)
	near(t, "mixers", r.Mixers, n, 1e-4)
	_, err = Tracer(times[:100], concentrations[:100])
	refused(t, "tail missing", err, "the tail is missing")
	_, err = Tracer(times[:3], of("mg/L", 0, 0, 0))
	refused(t, "no tracer", err, "no tracer")
	_, err = Tracer(times[:3], of("mg/L", 0, -1, 0))
	refused(t, "negative", err, "reading 2")
}

// cycles runs a rougher and a cleaner whose tailing joins the next feed, mineral
// and gangue split alike in every cycle.
func cycles(count int, mineral, gangue [2]float64) []Cycle {
	var all []Cycle
	back := [2]float64{}
	for range count {
		var concentrate, tailing [2]float64
		for i, split := range [][2]float64{mineral, gangue} {
			in := []float64{50, 950}[i] + back[i]
			rough := in * split[0]
			concentrate[i], tailing[i], back[i] = rough*split[1], in-rough, rough*(1-split[1])
		}
		product := func(p [2]float64) Product {
			return Product{quantity.Of(p[0]+p[1], "g"), pc(100 * p[0] / (p[0] + p[1]))}
		}
		all = append(all, Cycle{product(concentrate), product(tailing)})
	}
	return all
}

// A simulated test settles at what the geometric series says.
func TestLockedCycle(t *testing.T) {
	mineral, gangue := [2]float64{0.9, 0.8}, [2]float64{0.1, 0.2}
	l, err := NewLocked(Product{quantity.Of(1, "kg"), pc(5)}, cycles(9, mineral, gangue))
	if err != nil {
		t.Fatal(err)
	}
	p, err := l.Project(3, pc(0.1))
	if err != nil {
		t.Fatal(err)
	}
	want, err := Recirculated(pc(90), pc(80))
	near(t, "recovery", value(t, p.Recovery, nil, "%"), value(t, want, err, "%"), 1e-5)
	ofGangue, err := Recirculated(pc(10), pc(20))
	near(t, "yield", value(t, p.Yield, nil, "1"), 0.05*want.SI()+0.95*value(t, ofGangue, err, "1"), 1e-4)
	near(t, "implied feed", value(t, p.Implied, nil, "%"), 5, 1e-4)
	near(t, "closure", p.Yield.SI()*p.ConcentrateGrade.SI()+(1-p.Yield.SI())*p.TailingGrade.SI(), p.Implied.SI(), 1e-12)
	early, err := NewLocked(Product{quantity.Of(1, "kg"), pc(5)}, cycles(3, mineral, gangue))
	if err != nil {
		t.Fatal(err)
	}
	_, err = early.Project(3, pc(1))
	refused(t, "not settled", err, "has not settled")
	_, err = l.Project(12, pc(1))
	refused(t, "too many", err, "has 9 cycles")
	_, err = NewLocked(Product{quantity.Of(1, "kg"), pc(5)}, cycles(2, mineral, gangue))
	refused(t, "too few", err, "three cycles")
	_, err = Recirculated(pc(100), pc(0))
	refused(t, "for ever", err, "for ever")
	all, err := Recirculated(pc(70), pc(100))
	near(t, "no cleaning", value(t, all, err, "%"), 70, 1e-12)
}
