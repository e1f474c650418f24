package size

import (
	"fmt"
	"slices"
	"strings"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
)

// WithAssay is the distribution with the grades of its classes for one metal,
// oxide or mineral.
//
// Units: grades are shares of mass, as in %, g/t or ppm, one for each class,
// coarsest first, the pan last.
//
// Range: from 0 to 100 %. A class without mass may lack a grade (not a number).
//
// Errors: a number of grades other than that of the classes, a grade with a
// dimension or outside the range, a name given before or that of a column of Table.
//
// Source: the definition of an assay by size.
func (d Distribution) WithAssay(name string, grades []quantity.Quantity) (Distribution, error) {
	if len(grades) != len(d.masses) {
		return Distribution{}, fmt.Errorf("size: %s: %d classes need %d grades, the last for the pan; there are %d",
			name, len(d.masses), len(d.masses), len(grades))
	}
	if ownColumn(name) {
		return Distribution{}, fmt.Errorf("size: an assay cannot be called %q, which is a column of every size distribution", name)
	}
	if slices.Contains(d.Assays(), name) {
		return Distribution{}, fmt.Errorf("size: there is an assay %q already", name)
	}
	fractions := make([]float64, len(grades))
	for i, grade := range grades {
		share, err := grade.Float()
		if err != nil {
			return Distribution{}, fmt.Errorf("size: %s, class %s: a grade is a share of mass, as in %% or g/t, and %v is not", name, d.class(i), grade)
		}
		absent := grade.IsNaN() && d.weights[i] == 0
		if !absent && !(share >= 0 && share <= 1) {
			return Distribution{}, fmt.Errorf("size: %s, class %s: a grade lies between 0 and 100 %%, and %v does not", name, d.class(i), grade)
		}
		fractions[i] = share
	}
	d.assays = append(slices.Clone(d.assays), assay{name: name, grades: slices.Clone(grades), fractions: fractions})
	return d, nil
}

// ownColumn reports whether a distribution's table has a column of that name
// whatever was assayed.
func ownColumn(name string) bool {
	return slices.Contains([]string{"class", "mass", "share", "passing"}, name) || strings.HasPrefix(name, "share of ") || strings.HasPrefix(name, "± ")
}

// Assays are the names of what was assayed.
func (d Distribution) Assays() []string {
	names := make([]string, len(d.assays))
	for i, a := range d.assays {
		names[i] = a.name
	}
	return names
}

func (d Distribution) assay(name string) (assay, error) {
	for _, a := range d.assays {
		if a.name == name {
			return a, nil
		}
	}
	if len(d.assays) == 0 {
		return assay{}, fmt.Errorf("size: no assay %q; the distribution has no assays", name)
	}
	return assay{}, fmt.Errorf("size: no assay %q; there are %s", name, strings.Join(d.Assays(), ", "))
}

// Grades are the grades of the classes, coarsest first, pan last.
//
// Units: shares of mass, in the unit they came in.
//
// Range: as WithAssay accepts.
//
// Errors: nothing of that name was assayed.
//
// Source: the assays as given.
func (d Distribution) Grades(name string) ([]quantity.Quantity, error) {
	a, err := d.assay(name)
	return slices.Clone(a.grades), err
}

// Grade is the grade of all classes together, Σ mass·grade / Σ mass.
//
// Units: a share of mass, in the unit of the first class's grade.
//
// Range: between the lowest and the highest grade of the classes.
//
// Errors: nothing of that name was assayed.
//
// Source: the mass balance of the metal over the classes.
func (d Distribution) Grade(name string) (quantity.Quantity, error) {
	if _, err := d.assay(name); err != nil {
		return quantity.Quantity{}, err
	}
	return d.through(func(d Distribution) (quantity.Quantity, error) {
		a, err := d.assay(name)
		if err != nil {
			return quantity.Quantity{}, err
		}
		return inUnitOf(a.grades, numeric.Sum(d.metal(a)...))
	})
}

// Metal is how much of what was assayed lies in each class,
//
//	mass·grade / Σ mass·grade
//
// in %, coarsest first, pan last.
//
// Units: shares of the metal.
//
// Range: from 0 to 100 %; the classes add up to 100 %.
//
// Errors: nothing of that name was assayed, or there is none of it in any class.
//
// Source: the mass balance of the metal over the classes.
func (d Distribution) Metal(name string) ([]quantity.Quantity, error) {
	a, err := d.assay(name)
	if err != nil {
		return nil, err
	}
	metal := d.metal(a)
	total := numeric.Sum(metal...)
	if total == 0 {
		return nil, fmt.Errorf("size: there is no %s in any class, so it has no distribution", name)
	}
	shares := make([]quantity.Quantity, len(metal))
	for i := range metal {
		share, err := d.through(func(d Distribution) (quantity.Quantity, error) {
			b, err := d.assay(name)
			if err != nil {
				return quantity.Quantity{}, err
			}
			metal := d.metal(b)
			return percent(metal[i] / numeric.Sum(metal...)), nil
		})
		if err != nil {
			return nil, err
		}
		shares[i] = share
	}
	return shares, nil
}

// metal is the mass of what was assayed in each class per mass of the whole.
func (d Distribution) metal(a assay) []float64 {
	metal := d.shares()
	for i := range metal {
		if metal[i] > 0 { // a class without mass may lack a grade
			metal[i] *= a.fractions[i]
		}
	}
	return metal
}

// inUnitOf is a share shown as the first of the grades that is there.
func inUnitOf(grades []quantity.Quantity, share float64) (quantity.Quantity, error) {
	for _, grade := range grades {
		if !grade.IsNaN() {
			return quantity.Number(share).In(grade.Unit().String())
		}
	}
	return percent(share), nil
}
