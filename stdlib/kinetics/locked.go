package kinetics

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Cycle is what left a locked-cycle test in one cycle.
type Cycle struct {
	Concentrate, Tailing Product
}

// Locked is a locked-cycle test: batch tests in which the middlings of one cycle
// join the feed of the next, as they would circulate in a plant. Make one with
// NewLocked.
type Locked struct {
	unit   quantity.Unit // of mass
	shown  quantity.Unit // of grades
	feed   float64
	metal  float64
	cycles []cycle
}

type cycle struct{ concentrate, concentrateMetal, tailing, tailingMetal float64 }

func (c cycle) mass() float64  { return c.concentrate + c.tailing }
func (c cycle) metal() float64 { return c.concentrateMetal + c.tailingMetal }

// NewLocked is a test from the fresh feed of each cycle and what left in each.
//
// Units: masses of one kind; grades are shares, as in %.
//
// Range: three cycles or more; the middlings that stay in the test are not asked
// for.
//
// Errors: fewer than three cycles; masses not above 0 or of unlike kinds; grades
// outside 0 to 100 %.
//
// Source: the locked-cycle test; common practice.
func NewLocked(feed Product, cycles []Cycle) (Locked, error) {
	if len(cycles) < 3 {
		return Locked{}, fmt.Errorf("kinetics: a locked-cycle test has three cycles at least, and there are %d", len(cycles))
	}
	l := Locked{unit: feed.Mass.Unit(), shown: feed.Grade.Unit()}
	read := func(name string, p Product) (mass, metal float64, err error) {
		mass, err = p.Mass.Value(l.unit.String())
		if err != nil || !(mass > 0) {
			return 0, 0, fmt.Errorf("kinetics: %s: a mass above 0 of the kind of %v, and %v is none", name, feed.Mass, p.Mass)
		}
		grade, err := share(p.Grade)
		if err != nil {
			return 0, 0, fmt.Errorf("kinetics: %s: %w", name, err)
		}
		return mass, mass * grade, nil
	}
	var err error
	if l.feed, l.metal, err = read("feed", feed); err != nil {
		return Locked{}, err
	}
	for i, given := range cycles {
		var c cycle
		if c.concentrate, c.concentrateMetal, err = read(fmt.Sprintf("concentrate of cycle %d", i+1), given.Concentrate); err != nil {
			return Locked{}, err
		}
		if c.tailing, c.tailingMetal, err = read(fmt.Sprintf("tailing of cycle %d", i+1), given.Tailing); err != nil {
			return Locked{}, err
		}
		l.cycles = append(l.cycles, c)
	}
	return l, nil
}

// CheckSteady is nil if over the last so many cycles as much left the test as
// entered it, of mass and of what was assayed, within a tolerance you state.
//
// Units: tolerance is a share of the feed, as in 2 %.
//
// Range: last from 1 to the number of cycles; two or three are usual.
//
// Errors: a balance outside the tolerance, and which; a number of cycles or a
// tolerance out of range.
//
// Source: common practice of locked-cycle tests.
func (l Locked) CheckSteady(last int, tolerance quantity.Quantity) error {
	allowed, err := share(tolerance)
	if err != nil {
		return fmt.Errorf("kinetics: the tolerance: %w", err)
	}
	mean, err := l.mean(last)
	if err != nil {
		return err
	}
	for _, balance := range []struct {
		of      string
		out, in float64
	}{{"the mass", mean.mass(), l.feed}, {"what was assayed", mean.metal(), l.metal}} {
		if off := balance.out/balance.in - 1; math.Abs(off) > allowed {
			return fmt.Errorf("kinetics: over the last %d cycles %.4g %% of %s that entered has left: the test has not settled within %v; run more cycles",
				last, 100*(1+off), balance.of, tolerance)
		}
	}
	return nil
}

// mean is the average of the last cycles.
func (l Locked) mean(last int) (cycle, error) {
	if last < 1 || last > len(l.cycles) {
		return cycle{}, fmt.Errorf("kinetics: the test has %d cycles, and %d of them cannot be averaged", len(l.cycles), last)
	}
	var sum cycle
	for _, c := range l.cycles[len(l.cycles)-last:] {
		sum.concentrate += c.concentrate / float64(last)
		sum.concentrateMetal += c.concentrateMetal / float64(last)
		sum.tailing += c.tailing / float64(last)
		sum.tailingMetal += c.tailingMetal / float64(last)
	}
	return sum, nil
}

// Projection is what a locked-cycle test promises of a plant.
type Projection struct {
	Yield, Recovery                         quantity.Quantity // of the concentrate, in %
	ConcentrateGrade, TailingGrade, Implied quantity.Quantity // Implied is the feed's grade by both products
}

// Project is the balance of the last so many cycles: with the masses C, T and
// grades c, t of all products of those cycles,
//
//	yield = ΣC/Σ(C + T),  recovery = ΣC·c/Σ(C·c + T·t)
//
// Units: in %, grades in the unit of the feed's.
//
// Range: as CheckSteady, which must hold within the tolerance.
//
// Errors: a test that has not settled, as CheckSteady says.
//
// Source: common practice; no published case at hand.
func (l Locked) Project(last int, tolerance quantity.Quantity) (Projection, error) {
	if err := l.CheckSteady(last, tolerance); err != nil {
		return Projection{}, err
	}
	mean, err := l.mean(last)
	if err != nil {
		return Projection{}, err
	}
	grade := func(metal, mass float64) quantity.Quantity {
		return l.shown.Quantity(metal / mass / l.shown.Quantity(1).SI())
	}
	return Projection{
		Yield:            percent(mean.concentrate / mean.mass()),
		Recovery:         percent(mean.concentrateMetal / mean.metal()),
		ConcentrateGrade: grade(mean.concentrateMetal, mean.concentrate),
		TailingGrade:     grade(mean.tailingMetal, mean.tailing),
		Implied:          grade(mean.metal(), mean.mass()),
	}, nil
}

// Table is the test: what left in each cycle, as shares of what entered.
func (l Locked) Table() table.Table {
	var names []string
	var masses, metals, recoveries []quantity.Quantity
	for i, c := range l.cycles {
		names = append(names, fmt.Sprint(i+1))
		masses, metals = append(masses, percent(c.mass()/l.feed)), append(metals, percent(c.metal()/l.metal))
		recoveries = append(recoveries, percent(c.concentrateMetal/c.metal()))
	}
	t, err := table.New(table.Texts("cycle", names), table.Quantities("mass out per in", masses),
		table.Quantities("metal out per in", metals), table.Quantities("recovery", recoveries))
	if err != nil {
		panic("kinetics: " + err.Error()) // the columns are built alike
	}
	return t.Caption("Locked-cycle test; settled where as much leaves as enters")
}

// String is Table as text.
func (l Locked) String() string { return l.Table().String() }

// HTML is Table as HTML.
func (l Locked) HTML() string { return l.Table().HTML() }

// Markdown is Table as Markdown.
func (l Locked) Markdown() string { return l.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (l Locked) LaTeX() string { return l.Table().LaTeX() }

// Recirculated is the recovery of a rougher with a cleaner whose tailing returns to
// the rougher, once that has settled, from the recoveries r and c of each stage
// for one component (a mineral, or a size of it):
//
//	R = r·c/(1 − r·(1 − c))
//
// It is the sum of the geometric series that a locked-cycle test runs through,
// where each stage splits the component alike in every cycle.
//
// Units: shares, as in %.
//
// Range: r and c from 0 to 100 %, not r = 100 % with c = 0, which never leaves.
//
// Errors: shares outside that range.
//
// Source: split factors, after G.E. Agar, W.B. Kipkie, CIM Bull. 71 (1978) 119
// (reference from memory).
func Recirculated(rougher, cleaner quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r, err := share(v[0])
		if err != nil {
			return quantity.Quantity{}, fmt.Errorf("kinetics: rougher: %w", err)
		}
		c, err := share(v[1])
		if err != nil {
			return quantity.Quantity{}, fmt.Errorf("kinetics: cleaner: %w", err)
		}
		if r == 1 && c == 0 {
			return quantity.Quantity{}, fmt.Errorf("kinetics: what the rougher always takes and the cleaner never, circulates for ever")
		}
		return percent(r * c / (1 - r*(1-c))), nil
	}, rougher, cleaner)
}
