package classification

import (
	"math"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
)

// Duty is what a hydrocyclone of usual proportions is wanted for.
type Duty struct {
	Solids   quantity.Quantity // volume share of the feed
	Pressure quantity.Quantity // drop
	Density  quantity.Quantity // of the grains
	Liquid   quantity.Quantity // density; nothing for water, 1000 kg/m³
}

// Corrections are the factors by which a duty's cut differs from that of the base
// conditions.
type Corrections struct {
	Solids, Pressure, Density quantity.Quantity // plain numbers
}

// Corrections are, with V the volume share of solids in %, P the drop in kPa and
// densities in g/cm³,
//
//	C1 = ((53 − V)/53)^(−1.43),  C2 = 3.27·P^(−0.28),  C3 = √(1.65/(ρs − ρl))
//
// Units: plain numbers.
//
// Range: below 53 % of solids by volume; in practice to some 35 %.
//
// Errors: a share outside 0 to 53 %; a pressure not above 0; grains that are not
// denser than the liquid.
//
// Source: R.A. Arterburn, The sizing and selection of hydrocyclones, in A.L. Mular,
// G.V. Jergensen, Design and Installation of Comminution Circuits (1982) (from
// memory, and reproduced from its example).
func (d Duty) Corrections() (Corrections, error) {
	var c Corrections
	for i, into := range []*quantity.Quantity{&c.Solids, &c.Pressure, &c.Density} {
		q, err := quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
			factors, err := Duty{v[0], v[1], v[2], fields.Keep(d.Liquid, v[3])}.factors()
			return quantity.Number(factors[i]), err
		}, d.Solids, d.Pressure, d.Density, d.Liquid)
		if err != nil {
			return Corrections{}, err
		}
		*into = q
	}
	return c, nil
}

func (d Duty) factors() ([3]float64, error) {
	r := fields.Of("classification: a hydrocyclone's duty")
	solids := 100 * r.Number("Solids", d.Solids, "1")
	if r.Err == nil && !(solids >= 0 && solids < 53) {
		r.Fail("Solids is a share of the volume from 0 to below 53 %%, and %v is not", d.Solids)
	}
	pressure := r.Positive("Pressure", d.Pressure, "kPa")
	difference := (r.Positive("Density", d.Density, "kg/m3") - r.AtLeast("Liquid", d.Liquid, "kg/m3", 1000)) / 1000
	if r.Err == nil && !(difference > 0) {
		r.Fail("Density, %v, is above that of the liquid", d.Density)
	}
	return [3]float64{math.Pow((53-solids)/53, -1.43), 3.27 * math.Pow(pressure, -0.28), math.Sqrt(1.65 / difference)}, r.Err
}

// Cut is the corrected cut size that a hydrocyclone of a diameter and usual
// proportions has at a duty:
//
//	d50 = 2.84·D^0.66·C1·C2·C3   in µm, D in cm
//
// Units: a length; in µm.
//
// Range: an inlet of 5 % of D², a vortex finder of 35 % of D, an apex of 10 to 35 %
// of it.
//
// Errors: as Corrections; a diameter not above 0.
//
// Source: as Corrections.
func (d Duty) Cut(diameter quantity.Quantity) (quantity.Quantity, error) {
	return d.throughout(diameter, func(factor, x float64) quantity.Quantity {
		return quantity.Of(2.84*math.Pow(100*x, 0.66)*factor, "µm")
	})
}

// Diameter is that of the hydrocyclone of usual proportions with a wanted cut at a
// duty, the inverse of Cut.
//
// Units: cut is a length; in cm.
//
// Range: as Cut.
//
// Errors: as Corrections; a cut not above 0.
//
// Source: as Corrections.
func (d Duty) Diameter(cut quantity.Quantity) (quantity.Quantity, error) {
	return d.throughout(cut, func(factor, x float64) quantity.Quantity {
		return quantity.Of(math.Pow(1e6*x/(2.84*factor), 1/0.66), "cm")
	})
}

func (d Duty) throughout(length quantity.Quantity, of func(factor, metres float64) quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		c, err := Duty{v[1], v[2], v[3], fields.Keep(d.Liquid, v[4])}.factors()
		if err != nil {
			return quantity.Quantity{}, err
		}
		r := fields.Of("classification: a hydrocyclone's duty")
		x := r.Positive("the length", v[0], "m")
		return of(c[0]*c[1]*c[2], x), r.Err
	}, length, d.Solids, d.Pressure, d.Density, d.Liquid)
}

// overflow is the corrected cut over the size that a share of the overflow passes,
// by that share in %.
var overflow = [][2]float64{{50, 2.78}, {60, 2.08}, {70, 1.67}, {80, 1.25}, {90, 0.91}, {95, 0.73}, {98.8, 0.54}}

// CutForOverflow is the corrected cut that makes a wanted overflow, given as the
// share of it that passes a size. With 60 % it is 2.08 times the size, with 95 %
// 0.73 times.
//
// Units: size is a length, passing a share; in the unit of size.
//
// Range: 50 to 98.8 %, straight between the tabled shares; feeds of usual width.
//
// Errors: a share outside the table; a size not above 0.
//
// Source: as Corrections; the table from memory.
func CutForOverflow(size, passing quantity.Quantity) (quantity.Quantity, error) {
	factor, err := quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("classification: a wanted overflow")
		r.Positive("the size", size, "m")
		p := 100 * r.Number("the share", v[0], "1")
		last := overflow[len(overflow)-1]
		if r.Err == nil && !(p >= overflow[0][0] && p <= last[0]) {
			r.Fail("the table runs from %g to %g %% passing, and %v is outside", overflow[0][0], last[0], v[0])
		}
		for i := 1; i < len(overflow); i++ {
			if low, high := overflow[i-1], overflow[i]; p <= high[0] {
				return quantity.Number(low[1] + (high[1]-low[1])*(p-low[0])/(high[0]-low[0])), r.Err
			}
		}
		return quantity.Number(last[1]), r.Err
	}, passing)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return size.Mul(factor).InUnit(size.Unit())
}
