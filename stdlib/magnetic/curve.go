package magnetic

import (
	"math"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
)

// FromCurve is the material of a measured magnetisation curve, by the straight
// line that Fröhlich's and Kennelly's law makes of it,
//
//	H/M = 1/χ + H/Ms,  H = H₀ − N·M
//
// fitted by least squares.
//
// Units: density; outside fields as in kA/m, and at each the moment per mass, as in
// A·m²/kg or emu/g; factor is the demagnetising factor N of the sample, a plain
// number, 1/3 for scattered round grains.
//
// Range: three points or more, rising, from fields well below and well above the
// knee; the first limb of the curve, without remanence. Uncertain figures count
// with their means. Where χ is large against 1/N the curve below the knee tells N
// and hardly χ.
//
// Errors: points that are too few, not above 0, or at one field; a factor outside 0
// to 1, or so large that the field inside points backwards; points on no such law.
//
// Source: A.E. Kennelly, Trans. AIEE 8 (1891) 485 (reference from memory).
func FromCurve(name string, density quantity.Quantity, outside, moments []quantity.Quantity, factor quantity.Quantity) (Material, error) {
	r := fields.Of("magnetic: the curve of " + name)
	rho := r.Positive("the density", density, "kg/m3")
	n := r.Within("the demagnetising factor", factor, "1", 0, 1, 0)
	if len(outside) != len(moments) || len(outside) < 3 {
		r.Fail("it needs three fields or more, each with its moment; there are %d fields and %d moments", len(outside), len(moments))
	}
	if r.Err != nil {
		return Material{}, r.Err
	}
	var sx, sy, sxx, sxy float64
	for i := range outside {
		m := rho * r.Positive("a moment per mass", moments[i], "A m2/kg")
		h := r.Positive("a field", outside[i], "A/m") - n*m
		if r.Err == nil && !(h > 0) {
			r.Fail("at %v the field inside would point backwards: the demagnetising factor is too large for a moment of %v", outside[i], moments[i])
		}
		sx, sy, sxx, sxy = sx+h, sy+h/m, sxx+h*h, sxy+h*h/m
	}
	count := float64(len(outside))
	slope := (count*sxy - sx*sy) / (count*sxx - sx*sx)
	meets := (sy - slope*sx) / count
	if r.Err == nil && !(slope > 0 && meets > 0 && !math.IsInf(slope, 0)) {
		r.Fail("its points do not bend towards a saturation as the law of Fröhlich and Kennelly does")
	}
	if r.Err != nil {
		return Material{}, r.Err
	}
	return Material{Name: name, Density: density, Susceptibility: quantity.Number(1 / meets), Saturation: quantity.Of(1/slope, "A/m").To("kA/m"),
		Source: "fitted to a measured curve"}, nil
}
