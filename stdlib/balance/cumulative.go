package balance

import (
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Part is one of the products into which a feed was parted: an increment of
// concentrate, a magnetic fraction, a tailing.
type Part struct {
	Name        string
	Mass, Grade quantity.Quantity
}

// GradeRecovery is what products add up to, the best first: the grade–recovery
// curve. Make one with Cumulative.
type GradeRecovery struct {
	parts        []Part
	mass, metal  []float64 // of each part, as shares of the whole
	wholeGrade   float64
	unit, inMass quantity.Unit // of grades, of masses
}

// Cumulative is the curve of parts in the order in which they are put together;
// the last, usually the tailing, completes the feed.
//
// Units: masses (or flows, or shares) of one kind; grades are shares of mass.
//
// Range: two parts or more, in any order; in the order of falling grade the curve is
// the best that the parts allow, which CheckFalling tells.
//
// Errors: fewer than two parts, masses below 0 or of unlike kinds, grades outside 0
// to 100 %, nothing of what was assayed; masses given as shares that do not add up
// to 100 % within 0.5 %.
//
// Source: mass balance of the parts.
func Cumulative(parts ...Part) (GradeRecovery, error) {
	if len(parts) < 2 {
		return GradeRecovery{}, fmt.Errorf("balance: a curve has two parts at least, and there are %d", len(parts))
	}
	g := GradeRecovery{parts: slices.Clone(parts), unit: parts[0].Grade.Unit(), inMass: parts[0].Mass.Unit()}
	for i, p := range parts {
		mass, err := p.Mass.Value(g.inMass.String())
		if err != nil || !(mass >= 0) {
			return GradeRecovery{}, fmt.Errorf("balance: part %d, %s: a mass of the kind of %v, 0 or more, and %v is none", i+1, p.Name, parts[0].Mass, p.Mass)
		}
		grade, err := p.Grade.Float()
		if err != nil || !(grade >= 0 && grade <= 1) {
			return GradeRecovery{}, fmt.Errorf("balance: part %d, %s: a grade lies between 0 and 100 %%, and %v does not; write a percentage with its unit", i+1, p.Name, p.Grade)
		}
		g.mass, g.metal = append(g.mass, mass), append(g.metal, mass*grade)
	}
	mass, metal := numeric.Sum(g.mass...), numeric.Sum(g.metal...)
	if metal == 0 {
		return GradeRecovery{}, fmt.Errorf("balance: no part holds any of what was assayed")
	}
	if whole := mass * g.inMass.Quantity(1).SI(); parts[0].Mass.Dimension().IsOne() && math.Abs(whole-1) > 0.005 {
		return GradeRecovery{}, fmt.Errorf("balance: the shares of the parts add up to %.5g %%, not to 100 %%; look at them, or give masses", 100*whole)
	}
	g.wholeGrade = metal / mass
	for i := range g.mass {
		g.mass[i] /= mass
		g.metal[i] /= metal
	}
	return g, nil
}

func (g GradeRecovery) sums() (mass, metal []float64) {
	mass, metal = make([]float64, len(g.mass)), make([]float64, len(g.mass))
	for i := range mass {
		mass[i], metal[i] = numeric.Sum(g.mass[:i+1]...), numeric.Sum(g.metal[:i+1]...)
	}
	return mass, metal
}

// Grade is the grade of all parts together: the feed, as calculated.
func (g GradeRecovery) Grade() quantity.Quantity { return g.grade(g.wholeGrade) }

func (g GradeRecovery) grade(share float64) quantity.Quantity {
	return g.unit.Quantity(share / g.unit.Quantity(1).SI())
}

// Yields are the masses of the parts put together so far, as shares of the feed in %.
func (g GradeRecovery) Yields() []quantity.Quantity {
	mass, _ := g.sums()
	return percentsOf(mass)
}

// Recoveries are the shares of the metal in the parts put together so far, in %.
func (g GradeRecovery) Recoveries() []quantity.Quantity {
	_, metal := g.sums()
	return percentsOf(metal)
}

func percentsOf(shares []float64) []quantity.Quantity {
	all := make([]quantity.Quantity, len(shares))
	for i, share := range shares {
		all[i] = percent(share)
	}
	return all
}

// Grades are the grades of the parts put together so far; not a number while they
// have no mass.
func (g GradeRecovery) Grades() []quantity.Quantity {
	mass, metal := g.sums()
	all := make([]quantity.Quantity, len(mass))
	for i := range all {
		all[i] = g.grade(ratio(metal[i]*g.wholeGrade, mass[i]))
	}
	return all
}

// CheckFalling is nil if each part is no richer than the one before it.
//
// Units: none.
//
// Range: any curve.
//
// Errors: a part that is richer than the one before, which put together in another
// order would give a better curve.
//
// Source: the best order of parts is that of falling grade.
func (g GradeRecovery) CheckFalling() error {
	for i := 1; i < len(g.parts); i++ {
		if g.mass[i] > 0 && g.mass[i-1] > 0 && g.parts[i-1].Grade.Less(g.parts[i].Grade) {
			return fmt.Errorf("balance: %s, %v, is richer than %s before it, %v", g.parts[i].Name, g.parts[i].Grade, g.parts[i-1].Name, g.parts[i-1].Grade)
		}
	}
	return nil
}

// RecoveryAt is the recovery of a product of a wanted grade, made of whole parts and
// a piece of the next: between two points of the curve mass and metal are straight.
//
// Units: grade is a share of mass; the recovery in %.
//
// Range: from the grade of the feed to that of the first part, of a curve whose
// parts fall in grade.
//
// Errors: a grade outside that range; parts that do not fall.
//
// Source: mass balance of the parts.
func (g GradeRecovery) RecoveryAt(grade quantity.Quantity) (quantity.Quantity, error) {
	if err := g.CheckFalling(); err != nil {
		return quantity.Quantity{}, err
	}
	wanted, err := grade.Float()
	if err != nil {
		return quantity.Quantity{}, fmt.Errorf("balance: a grade is a share of mass, and %v is not", grade)
	}
	mass, metal := g.sums()
	for i := range mass {
		if mass[i] == 0 {
			continue
		}
		now := metal[i] * g.wholeGrade / mass[i]
		if numeric.AlmostEqual(now, wanted, 1e-12) && (i+1 == len(mass) || !numeric.AlmostEqual(metal[i+1]*g.wholeGrade/mass[i+1], wanted, 1e-12)) {
			return percent(metal[i]), nil
		}
		if now < wanted {
			if i == 0 || mass[i-1] == 0 {
				break
			}
			// (metal + s·Δmetal)·whole = wanted·(mass + s·Δmass)
			part := (metal[i-1]*g.wholeGrade - wanted*mass[i-1]) / (wanted*g.mass[i] - g.metal[i]*g.wholeGrade)
			return percent(metal[i-1] + part*g.metal[i]), nil
		}
	}
	return quantity.Quantity{}, fmt.Errorf("balance: the parts put together have grades from %v to %v, and not %v", g.Grades()[0], g.Grade(), grade)
}

// Table is the parts and what they add up to.
func (g GradeRecovery) Table() table.Table {
	var names []string
	var grades []quantity.Quantity
	for _, p := range g.parts {
		names, grades = append(names, p.Name), append(grades, p.Grade)
	}
	t, err := table.New(table.Texts("part", names), table.Quantities("mass", percentsOf(g.mass)), table.Quantities("grade", grades),
		table.Quantities("metal", percentsOf(g.metal)), table.Quantities("yield so far", g.Yields()),
		table.Quantities("grade so far", g.Grades()), table.Quantities("recovery so far", g.Recoveries()))
	if err != nil {
		panic("balance: " + err.Error()) // Cumulative has refused all that could lead here
	}
	return t.Caption("Cumulative grade and recovery")
}

// String is Table as text.
func (g GradeRecovery) String() string { return g.Table().String() }

// HTML is Table as HTML.
func (g GradeRecovery) HTML() string { return g.Table().HTML() }

// Markdown is Table as Markdown.
func (g GradeRecovery) Markdown() string { return g.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (g GradeRecovery) LaTeX() string { return g.Table().LaTeX() }
