package gravity

import (
	"fmt"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
)

// Criterion is the concentration criterion,
//
//	c = (ρh − ρf)/(ρl − ρf)
//
// Above 2.5 gravity parts the two minerals easily down to some 75 µm; below 1.25
// hardly at any size.
//
// Units: densities; a plain number.
//
// Range: both minerals denser than the fluid. A fluid that is left out is a vacuum, of
// density 0: for water give 1`g/cm³`.
//
// Errors: densities not above 0; a light mineral that is not denser than the fluid;
// a heavy one that is not denser than the light.
//
// Source: A.F. Taggart, Handbook of Mineral Dressing (1945), sec. 11 (from memory).
func Criterion(heavy, light, fluid quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("gravity: the criterion")
		h, l, f := r.Positive("the heavy mineral", v[0], "kg/m3"), r.Positive("the light mineral", v[1], "kg/m3"), r.AtLeast("the fluid", v[2], "kg/m3", 0)
		if !(l > f && h > l) {
			r.Fail("densities rise from the fluid over the light to the heavy mineral, and %v, %v, %v do not", v[2], v[1], v[0])
		}
		return quantity.Number((h - f) / (l - f)), r.Err
	}, heavy, light, fluid)
}

// Reach says in words what a criterion means.
//
// Units: a plain number.
//
// Range: minerals in water, compact grains.
//
// Errors: a criterion that is no number, or below 1.
//
// Source: A.F. Taggart, Handbook of Mineral Dressing (1945), sec. 11 (from memory).
func Reach(criterion quantity.Quantity) (string, error) {
	r := fields.Of("gravity: the criterion")
	c := r.Number("it", criterion, "1")
	if !(c >= 1) {
		r.Fail("it is 1 or more, and %v is not", criterion)
	}
	if r.Err != nil {
		return "", r.Err
	}
	for _, step := range []struct {
		above float64
		text  string
	}{{2.5, "easy, down to about 75 µm"}, {1.75, "possible, down to about 150 µm"}, {1.5, "possible with difficulty, down to about 1.7 mm"}, {1.25, "possible for gravel only, above about 6 mm"}} {
		if c > step.above {
			return step.text, nil
		}
	}
	return "hardly possible at any size", nil
}

// MediumDensity is the density of a suspension of solids in a liquid,
//
//	ρ = C·ρs + (1 − C)·ρl
//
// with the volume share C of the solids.
//
// Units: share as in vol%, densities; in g/cm³.
//
// Range: C up to about 35 %; beyond, media are too thick to part grains.
//
// Errors: a share outside 0 to 100 %; densities not above 0.
//
// Source: volumes add up.
func MediumDensity(solids, density, liquid quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("gravity: a medium")
		c := r.Within("the volume share of the solids", v[0], "1", 0, 1, 0)
		rho := c*r.Positive("the solids' density", v[1], "kg/m3") + (1-c)*r.Positive("the liquid's density", v[2], "kg/m3")
		return quantity.Of(rho, "kg/m3").To("g/cm3"), r.Err
	}, solids, density, liquid)
}

// MediumSolids is the mass of solids that makes a medium of a density of a mass of
// liquid,
//
//	m = M/ρl·(ρ − ρl)/(1 − ρ/ρs)
//
// Units: mass of the liquid; densities; a mass, in the unit of the liquid's.
//
// Range: a medium between the densities of liquid and solids; MediumDensity says
// what is too thick.
//
// Errors: masses and densities not above 0, or not rising from liquid over medium
// to solids.
//
// Source: volumes add up.
func MediumSolids(liquidMass, medium, density, liquid quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("gravity: a medium")
		mass, rho := r.Positive("the liquid's mass", v[0], "kg"), r.Positive("the medium's density", v[1], "kg/m3")
		s, l := r.Positive("the solids' density", v[2], "kg/m3"), r.Positive("the liquid's density", v[3], "kg/m3")
		if r.Err == nil && !(l < rho && rho < s) {
			r.Fail("densities rise from the liquid over the medium to its solids, and %v, %v, %v do not", v[3], v[1], v[2])
		}
		if r.Err != nil {
			return quantity.Quantity{}, r.Err
		}
		solids, err := quantity.Of(mass/l*(rho-l)/(1-rho/s), "kg").InUnit(v[0].Unit())
		if err != nil {
			return quantity.Quantity{}, fmt.Errorf("gravity: %w", err)
		}
		return solids, nil
	}, liquidMass, medium, density, liquid)
}
