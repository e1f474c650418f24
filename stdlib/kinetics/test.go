package kinetics

import (
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Test is a batch test: cumulative recovery over time. Make one with NewTest or
// FromProducts.
type Test struct {
	unit       quantity.Unit // of time
	times      []float64     // in that unit, rising
	recoveries []float64
}

// NewTest is a test from cumulative recoveries.
//
// Units: times; recoveries are shares, as in %. Uncertain ones count with their
// means.
//
// Range: two readings or more; a reading at time 0 may be left out, and its
// recovery is 0.
//
// Errors: lengths that differ, fewer than two readings, times that are none, below
// 0 or do not rise, recoveries outside 0 to 100 % or that fall.
//
// Source: the definition of cumulative recovery.
func NewTest(times, recoveries []quantity.Quantity) (Test, error) {
	if len(times) != len(recoveries) || len(times) < 2 {
		return Test{}, fmt.Errorf("kinetics: a test needs two readings at least, each a time and a recovery; there are %d times and %d recoveries", len(times), len(recoveries))
	}
	t := Test{unit: times[0].Unit()}
	for i := range times {
		if _, err := times[i].Value("s"); err != nil {
			return Test{}, fmt.Errorf("kinetics: reading %d: %v is no time", i+1, times[i])
		}
		x, err := times[i].Value(t.unit.String())
		if err != nil || !(x >= 0) || i > 0 && !(x > t.times[i-1]) {
			return Test{}, fmt.Errorf("kinetics: reading %d: times rise from 0, and %v does not", i+1, times[i])
		}
		r, err := share(recoveries[i])
		if err != nil {
			return Test{}, fmt.Errorf("kinetics: reading %d: %w", i+1, err)
		}
		if i > 0 && r < t.recoveries[i-1] || x == 0 && r != 0 {
			return Test{}, fmt.Errorf("kinetics: reading %d: a cumulative recovery begins with 0 and does not fall, and %v at %v does", i+1, recoveries[i], times[i])
		}
		t.times, t.recoveries = append(t.times, x), append(t.recoveries, r)
	}
	return t, nil
}

func share(q quantity.Quantity) (float64, error) {
	x, err := q.Float()
	if err != nil || !(x >= 0 && x <= 1) {
		return 0, fmt.Errorf("a share lies between 0 and 100 %%, and %v does not; write a percentage with its unit", q)
	}
	return x, nil
}

// percent is a share shown in per cent.
func percent(share float64) quantity.Quantity { return quantity.Of(100*share, "%") }

// Product is what was taken off up to a time, or what stayed behind.
type Product struct {
	Mass, Grade quantity.Quantity
}

// FromProducts is a test from the concentrates taken off between one time and the
// next and the tailing that stayed. The head is their sum.
//
// Units: times, one for each concentrate, when it was closed; masses of one kind;
// grades are shares.
//
// Range: as NewTest.
//
// Errors: lengths that differ; masses below 0 or of unlike kinds; grades outside 0
// to 100 %; nothing of what was assayed in all products; as NewTest.
//
// Source: mass balance of the test.
func FromProducts(times []quantity.Quantity, concentrates []Product, tailing Product) (Test, error) {
	if len(times) != len(concentrates) {
		return Test{}, fmt.Errorf("kinetics: %d times and %d concentrates", len(times), len(concentrates))
	}
	total, metals := 0.0, make([]float64, len(concentrates))
	for i, p := range append(slices.Clone(concentrates), tailing) {
		name := "the tailing"
		if i < len(concentrates) {
			name = fmt.Sprintf("concentrate %d", i+1)
		}
		mass, err := p.Mass.Value(tailing.Mass.Unit().String())
		if err != nil || !(mass >= 0) {
			return Test{}, fmt.Errorf("kinetics: %s: a mass of the kind of %v, 0 or more, and %v is none", name, tailing.Mass, p.Mass)
		}
		grade, err := share(p.Grade)
		if err != nil {
			return Test{}, fmt.Errorf("kinetics: %s: %w", name, err)
		}
		total += mass * grade
		if i < len(metals) {
			metals[i] = total
		}
	}
	if total == 0 {
		return Test{}, fmt.Errorf("kinetics: the products hold nothing of what was assayed")
	}
	recoveries := make([]quantity.Quantity, len(metals))
	for i, metal := range metals {
		recoveries[i] = percent(metal / total)
	}
	return NewTest(times, recoveries)
}

// Times are the times of the readings.
func (t Test) Times() []quantity.Quantity {
	all := make([]quantity.Quantity, len(t.times))
	for i, x := range t.times {
		all[i] = t.unit.Quantity(x)
	}
	return all
}

// Recoveries are the cumulative recoveries, in %.
func (t Test) Recoveries() []quantity.Quantity {
	all := make([]quantity.Quantity, len(t.recoveries))
	for i, r := range t.recoveries {
		all[i] = percent(r)
	}
	return all
}

// Table is the test as a table.
func (t Test) Table() table.Table {
	made, err := table.New(table.Quantities("time", t.Times()), table.Quantities("recovery", t.Recoveries()))
	if err != nil {
		panic("kinetics: " + err.Error()) // NewTest has refused all that could lead here
	}
	return made
}

// String is Table as text.
func (t Test) String() string { return t.Table().String() }

// HTML is Table as HTML.
func (t Test) HTML() string { return t.Table().HTML() }

// Markdown is Table as Markdown.
func (t Test) Markdown() string { return t.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (t Test) LaTeX() string { return t.Table().LaTeX() }

// finite reports whether all numbers are.
func finite(numbers []float64) bool {
	return !slices.ContainsFunc(numbers, func(x float64) bool { return math.IsNaN(x) || math.IsInf(x, 0) })
}
