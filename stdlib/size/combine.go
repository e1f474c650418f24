package size

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
)

// FromPassing is the distribution of a cumulative curve, as a laser instrument or
// a printed table gives it. What does not pass the coarsest size lies above it,
// what passes the finest lies below it.
//
// Units: openings are lengths, passing the shares that pass them, one for each;
// the classes get the unit of passing, such as % or vol%.
//
// Range: one size or more, coarsest first or finest first. Shares of volume stand
// for shares of mass where the density is the same in all sizes.
//
// Errors: lengths that differ; openings that are no lengths or stand in neither
// order; passing outside 0 to 100 %, not a number, or rising towards finer sizes;
// nothing in any class.
//
// Source: the definition of the cumulative distribution Q(x), ISO 9276-1.
func FromPassing(openings, passing []quantity.Quantity) (Distribution, error) {
	if len(openings) != len(passing) || len(openings) == 0 {
		return Distribution{}, fmt.Errorf("size: %d openings and %d passing shares; each opening needs one", len(openings), len(passing))
	}
	openings, passing = slices.Clone(openings), slices.Clone(passing)
	if first, err := openings[0].Value("m"); err == nil && len(openings) > 1 {
		if second, err := openings[1].Value("m"); err == nil && second > first {
			slices.Reverse(openings)
			slices.Reverse(passing)
		}
	}
	unit := passing[0].Unit()
	before, err := quantity.Number(1).InUnit(unit)
	if err != nil {
		return Distribution{}, fmt.Errorf("size: what passes is a share, as in %%, and %v is not", passing[0])
	}
	var classes []quantity.Quantity
	for i, p := range passing {
		share, err := p.InUnit(unit)
		if err != nil {
			return Distribution{}, fmt.Errorf("size: %v passing %v and %v passing %v are not shares of one kind", passing[0], openings[0], p, openings[i])
		}
		if value, err := share.Float(); err != nil || !(value >= 0 && value <= 1+1e-12) {
			return Distribution{}, fmt.Errorf("size: what passes %v lies between 0 and 100 %%, and %v does not", openings[i], p)
		}
		if before.Certain().Less(share.Certain()) && i > 0 {
			return Distribution{}, fmt.Errorf("size: %v passes %v but %v passes the coarser %v; the curve must not rise towards finer sizes",
				p, openings[i], passing[i-1], openings[i-1])
		}
		classes = append(classes, notBelowZero(before.Sub(share)))
		before = share
	}
	return New(openings, append(classes, before))
}

// notBelowZero takes the rounding from a difference that cannot be negative.
func notBelowZero(q quantity.Quantity) quantity.Quantity {
	if !q.IsUncertain() && q.Shown() < 0 {
		return q.Unit().Quantity(0)
	}
	return q
}

// Resample is the distribution told on other sieves. Each class is cut where the
// interpolation between its sieves says, and its grades are taken for the same in
// all parts of it, so that mass and metal close. Nothing is added to what was
// measured: fewer or other sieves only tell it otherwise.
//
// Units: openings are lengths, coarsest first.
//
// Range: from the finest to the coarsest sieve used; what lies above the coarsest
// of the new sieves and below the finest goes into the open classes. Uncertain
// masses keep their uncertainty; where the interpolation is LogLog or Smooth, the
// cut of a class is taken at their means.
//
// Errors: openings that are no lengths or do not fall; one outside the sieves
// used; a LogLog reading next to a sieve that nothing passes.
//
// Source: interpolation is common practice; ISO 9276-1 for the cumulative curve.
func (d Distribution) Resample(openings []quantity.Quantity) (Distribution, error) {
	metres, err := readOpenings(openings)
	if err != nil {
		return Distribution{}, err
	}
	masses := make([]quantity.Quantity, len(openings)+1)
	metals := make([][]quantity.Quantity, len(d.assays))
	for k := range metals {
		metals[k] = make([]quantity.Quantity, len(openings)+1)
	}
	for i := range d.masses {
		parts, err := d.cut(i, openings, metres)
		if err != nil {
			return Distribution{}, err
		}
		for j, part := range parts {
			if part == 0 {
				continue
			}
			mass := d.masses[i].Mul(quantity.Number(part))
			masses[j] = masses[j].Add(mass)
			for k, a := range d.assays {
				if d.weights[i] > 0 { // a class without mass may lack a grade
					metals[k][j] = metals[k][j].Add(mass.Mul(a.grades[i]))
				}
			}
		}
	}
	return d.rebuilt(openings, masses, metals)
}

// cut is which parts of class i fall into the classes of other sieves.
func (d Distribution) cut(i int, openings []quantity.Quantity, metres []float64) ([]float64, error) {
	parts := make([]float64, len(metres)+1)
	low, high := 0.0, math.Inf(1)
	if i > 0 {
		high = d.metres[i-1]
	}
	if i < len(d.metres) {
		low = d.metres[i]
	}
	isFirst, isLast := i == 0, i == len(d.metres)
	var above float64 // what of the class lies above the sieve looked at
	for j, m := range metres {
		switch {
		case m >= high*(1-1e-9):
			continue // all of the class passes this sieve
		case m <= low*(1+1e-9):
			parts[j] = 1 - above
			return parts, nil
		case isFirst || isLast:
			return nil, fmt.Errorf("size: %v lies outside the sieves used, %v to %v", openings[j], d.openings[0], d.openings[len(d.openings)-1])
		case d.weights[i] == 0:
			continue
		}
		passes, err := d.PassingAt(openings[j])
		if err != nil {
			return nil, err
		}
		passing := d.passing()
		share, err := passes.Certain().Float()
		if err != nil {
			return nil, err
		}
		part := (passing[i-1] - share) / (passing[i-1] - passing[i])
		parts[j] = max(part-above, 0)
		above = max(part, above)
	}
	parts[len(metres)] = 1 - above
	return parts, nil
}

// rebuilt is a distribution of masses and of what they hold of each assay.
func (d Distribution) rebuilt(openings, masses []quantity.Quantity, metals [][]quantity.Quantity) (Distribution, error) {
	unit := d.masses[0].Unit()
	for j, mass := range masses {
		if mass.IsNothing() {
			masses[j] = unit.Quantity(0)
		}
	}
	out, err := New(openings, masses)
	if err != nil {
		return Distribution{}, err
	}
	out.between = d.between
	for k, a := range d.assays {
		grades := make([]quantity.Quantity, len(masses))
		for j := range grades {
			grades[j] = percent(math.NaN())
			if out.weights[j] > 0 {
				grades[j] = metals[k][j].Div(masses[j])
				if unit := gradeUnit(a.grades); unit != "" {
					grades[j] = grades[j].To(unit)
				}
			}
		}
		if out, err = out.WithAssay(a.name, grades); err != nil {
			return Distribution{}, err
		}
	}
	return out, nil
}

// gradeUnit is the unit of the first grade that is there.
func gradeUnit(grades []quantity.Quantity) string {
	for _, grade := range grades {
		if !grade.IsNaN() {
			return grade.Unit().String()
		}
	}
	return ""
}

// Blend is the distribution of all parts together: the masses of like classes
// add up, and so does what they hold of each assay.
//
// Units: the parts have the same sieves and masses of one kind (masses, flows, or
// shares of one whole); the sum is in the unit of the first. Scaled gives a sample
// the mass of the stream it stands for.
//
// Range: one part or more, all with the same assays.
//
// Errors: no part; sieves that differ (Resample makes them alike); masses of
// unlike kinds, such as shares of mass and of volume; an assay that one part
// lacks.
//
// Source: masses add up.
func Blend(parts ...Distribution) (Distribution, error) {
	if len(parts) == 0 {
		return Distribution{}, errors.New("size: there is nothing to blend")
	}
	first := parts[0]
	masses := make([]quantity.Quantity, len(first.masses))
	metals := make([][]quantity.Quantity, len(first.assays))
	for k := range metals {
		metals[k] = make([]quantity.Quantity, len(first.masses))
	}
	for n, part := range parts {
		if err := first.sameSieves(part); err != nil {
			return Distribution{}, fmt.Errorf("size: part %d of a blend: %w", n+1, err)
		}
		for i, own := range part.masses {
			mass, err := own.InUnit(first.masses[0].Unit())
			if err != nil {
				return Distribution{}, fmt.Errorf("size: part %d of a blend: %v and %v are not of one kind", n+1, own, first.masses[0])
			}
			masses[i] = masses[i].Add(mass)
			for k, a := range first.assays {
				b, err := part.assay(a.name)
				if err != nil {
					return Distribution{}, fmt.Errorf("part %d of a blend: %w", n+1, err)
				}
				if part.weights[i] > 0 {
					metals[k][i] = metals[k][i].Add(mass.Mul(b.grades[i]))
				}
			}
		}
		if len(part.assays) != len(first.assays) {
			return Distribution{}, fmt.Errorf("size: part %d of a blend has %d assays and the first has %d; all parts need the same",
				n+1, len(part.assays), len(first.assays))
		}
	}
	return first.rebuilt(first.openings, masses, metals)
}

func (d Distribution) sameSieves(other Distribution) error {
	same := len(d.metres) == len(other.metres)
	for i := 0; same && i < len(d.metres); i++ {
		same = numeric.AlmostEqual(d.metres[i], other.metres[i], 1e-9)
	}
	if !same {
		return errors.New("the sieves differ; tell one on the other's with Resample")
	}
	return nil
}

// Split parts the distribution by class, as a screen or classifier does: the
// given share of each class goes to the first product, the rest to the second.
// Grades stay what they are within a class.
//
// Units: shares, as in %, one for each class, coarsest first, the pan last.
//
// Range: from 0 to 100 %. The two products add up to the feed.
//
// Errors: a number of shares other than that of the classes; a share outside the
// range; a product without any mass.
//
// Source: the definition of a partition by size; masses add up.
func (d Distribution) Split(shares []quantity.Quantity) (first, second Distribution, err error) {
	if len(shares) != len(d.masses) {
		return first, second, fmt.Errorf("size: %d classes need %d shares, the last for the pan; there are %d", len(d.masses), len(d.masses), len(shares))
	}
	taken, left := make([]quantity.Quantity, len(shares)), make([]quantity.Quantity, len(shares))
	for i, share := range shares {
		value, err := share.Float()
		if err != nil || !(value >= 0 && value <= 1) {
			return first, second, fmt.Errorf("size: class %s: the share that goes to a product lies between 0 and 100 %%, and %v does not", d.class(i), share)
		}
		taken[i] = d.masses[i].Mul(share).To(d.masses[i].Unit().String())
		left[i] = notBelowZero(d.masses[i].Sub(taken[i]))
	}
	if first, err = d.withMasses(taken); err != nil {
		return first, second, fmt.Errorf("%w (first product)", err)
	}
	if second, err = d.withMasses(left); err != nil {
		return first, second, fmt.Errorf("%w (second product)", err)
	}
	return first, second, nil
}

// withMasses is the distribution with other masses in its classes.
func (d Distribution) withMasses(masses []quantity.Quantity) (Distribution, error) {
	d.masses = masses
	return d, d.weigh()
}

// Scaled is the distribution with another mass in all: a sample told as the
// stream it was taken from. Shares and grades stay.
//
// Units: total is a mass or a flow; the classes get its unit.
//
// Range: any total above 0.
//
// Errors: a total that is not above 0.
//
// Source: a sample stands for its stream.
func (d Distribution) Scaled(total quantity.Quantity) (Distribution, error) {
	if value := total.Certain().Shown(); !(value > 0) || math.IsInf(value, 0) {
		return Distribution{}, fmt.Errorf("size: the mass of a stream is above 0, and %v is not", total)
	}
	masses := make([]quantity.Quantity, len(d.masses))
	for i, share := range d.Shares() {
		masses[i] = total.Mul(share).To(total.Unit().String())
	}
	return d.withMasses(masses)
}
