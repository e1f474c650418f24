package magnetic

import (
	"math"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
)

// Demagnetising is the demagnetising factor of a spheroid along its axis and
// across it. With m the length of the axis over the diameter across it,
//
//	N = (m/√(m² − 1)·ln(m + √(m² − 1)) − 1)/(m² − 1)   m > 1, elongated
//	N = (1 − m/√(1 − m²)·arccos m)/(1 − m²)            m < 1, flattened
//
// and 1/3 for a sphere. Across the axis it is (1 − N)/2.
//
// Units: plain numbers.
//
// Range: spheroids. Grains of like elongation come near; needles with flat ends
// have about the factor of the spheroid in them.
//
// Errors: an aspect not above 0.
//
// Source: J.A. Osborn, Phys. Rev. 67 (1945) 351; E.C. Stoner, Phil. Mag. 36
// (1945) 803.
func Demagnetising(aspect quantity.Quantity) (along, across quantity.Quantity, err error) {
	along, err = quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("magnetic: a spheroid")
		m := r.Positive("the aspect, length over diameter,", v[0], "1")
		return quantity.Number(demagnetising(m)), r.Err
	}, aspect)
	return along, quantity.Number(1).Sub(along).Mul(quantity.Number(0.5)), err
}

func demagnetising(m float64) float64 {
	e := m*m - 1
	switch {
	case math.Abs(e) < 1e-4: // the series, where the closed form loses digits
		return 1.0/3 - 2.0/15*e + 8.0/105*e*e
	case e > 0:
		root := math.Sqrt(e)
		return (m/root*math.Log(m+root) - 1) / e
	}
	root := math.Sqrt(-e)
	return (1 - m/root*math.Acos(m)) / -e
}
