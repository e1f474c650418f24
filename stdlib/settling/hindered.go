package settling

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// Exponent is the exponent n of Richardson and Zaki by the Galileo number of the
// particle:
//
//	(4.8 − n)/(n − 2.4) = 0.043·Ga^0.57
//
// It falls from 4.8 for creeping particles to 2.4 for large ones.
//
// Units: galileo is a plain number, as Fall holds it; so is the result.
//
// Range: uniform spheres in a wide vessel.
//
// Errors: a Galileo number with a dimension or below 0.
//
// Source: A.R. Khan, J.F. Richardson, Chem. Eng. Commun. 78 (1989) 111; J.M.
// Coulson, J.F. Richardson, Chemical Engineering, vol. 2, ch. 5.
func Exponent(galileo quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		ga, err := v[0].Float()
		if err != nil || !(ga >= 0) || math.IsInf(ga, 0) {
			return quantity.Quantity{}, fmt.Errorf("settling: a Galileo number is a plain number, 0 or more, and %v is not", v[0])
		}
		k := 0.043 * math.Pow(ga, 0.57)
		return quantity.Number((4.8 + 2.4*k) / (1 + k)), nil
	}, galileo)
}

// Hindered is the velocity of particles among others, by Richardson and Zaki:
//
//	v = v₀·(1 − C)^n
//
// Units: terminal is the velocity v₀ of one alone; solids the volume share C;
// exponent the plain number n, as from Exponent.
//
// Range: uniform particles; C from 0 to about 50 %. Flocs take water with them:
// their C is that of the flocs.
//
// Errors: a velocity that is none; a share outside 0 to below 100 %; an exponent
// outside 2.3 to 10.
//
// Source: J.F. Richardson, W.N. Zaki, Trans. Instn Chem. Engrs 32 (1954) 35.
func Hindered(terminal, solids, exponent quantity.Quantity) (quantity.Quantity, error) {
	return hindered(terminal, solids, exponent, func(v0, c, n float64) float64 { return v0 * math.Pow(1-c, n) })
}

func hindered(terminal, solids, exponent quantity.Quantity, of func(v0, c, n float64) float64) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		v0, err := v[0].Value("m/s")
		if err != nil {
			return quantity.Quantity{}, fmt.Errorf("settling: the terminal velocity is given as in m/s, and %v is not", v[0])
		}
		c, err := volumeShare(v[1])
		if err != nil {
			return quantity.Quantity{}, err
		}
		n, err := v[2].Float()
		if err != nil || !(n >= 2.3 && n <= 10) {
			return quantity.Quantity{}, fmt.Errorf("settling: the exponent of Richardson and Zaki lies between 2.4 and 4.8, and %v does not", v[2])
		}
		return v[0].Unit().Quantity(of(v0, c, n) / v[0].Unit().Quantity(1).SI()), nil
	}, terminal, solids, exponent)
}

// volumeShare reads a share of volume or a plain one.
func volumeShare(q quantity.Quantity) (float64, error) {
	c := q.SI()
	if !q.Dimension().IsOne() || !(c >= 0 && c < 1) {
		return 0, fmt.Errorf("settling: the volume share of solids lies between 0 and 100 %%, and %v does not", q)
	}
	return c, nil
}

// Flux is the volume of solids that settles through an area in a time, C·v, in
// the unit of the velocity. Arguments as for Hindered.
//
// Units: a velocity.
//
// Range: as Hindered. It is greatest at the share MaximumFlux gives.
//
// Errors: as Hindered.
//
// Source: as Hindered.
func Flux(terminal, solids, exponent quantity.Quantity) (quantity.Quantity, error) {
	return hindered(terminal, solids, exponent, func(v0, c, n float64) float64 { return c * v0 * math.Pow(1-c, n) })
}

// MaximumFlux is the volume share of solids at which the most settles, and how
// much:
//
//	C = 1/(1 + n)
//
// Units: as Flux; the share in %.
//
// Range: as Hindered.
//
// Errors: as Hindered.
//
// Source: the maximum of C·(1 − C)^n; Coulson and Richardson, vol. 2, example 5.3.
func MaximumFlux(terminal, exponent quantity.Quantity) (solids, flux quantity.Quantity, err error) {
	if n, err := exponent.Float(); err != nil || !(n > 0) {
		return solids, flux, fmt.Errorf("settling: the exponent of Richardson and Zaki lies between 2.4 and 4.8, and %v does not", exponent)
	}
	one := quantity.Number(1)
	solids = one.Div(one.Add(exponent)).To("%")
	flux, err = Flux(terminal, solids, exponent)
	return solids, flux, err
}

// SolidsAt is the volume share of solids in a bed that a rising flow holds up,
// the inverse of Hindered:
//
//	C = 1 − (v/v₀)^(1/n)
//
// Units: velocity of the rising fluid over the whole section, and terminal
// velocity; the share in %.
//
// Range: velocity from 0 to the terminal one; beds of more than about 55 % are
// not fluidised.
//
// Errors: velocities of another kind, or a rise faster than the fall, which
// carries the particles away; an exponent as Hindered refuses it.
//
// Source: Richardson and Zaki (1954).
func SolidsAt(velocity, terminal, exponent quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		up, err := positive(v[0], "m/s", "velocity of the fluid")
		if err != nil {
			return quantity.Quantity{}, err
		}
		down, err := positive(v[1], "m/s", "terminal velocity")
		if err != nil {
			return quantity.Quantity{}, err
		}
		n, err := v[2].Float()
		if err != nil || !(n >= 2.3 && n <= 10) {
			return quantity.Quantity{}, fmt.Errorf("settling: the exponent of Richardson and Zaki lies between 2.4 and 4.8, and %v does not", v[2])
		}
		if up > down {
			return quantity.Quantity{}, fmt.Errorf("settling: the fluid rises at %v, faster than the particles fall at %v, and carries them away", v[0], v[1])
		}
		return quantity.Of(100*(1-math.Pow(up/down, 1/n)), "%"), nil
	}, velocity, terminal, exponent)
}

// Steinour is the hindered velocity of creeping particles by the density and
// viscosity of the mixture:
//
//	v = v₀·ε²·10^(−1.82·(1 − ε)),  ε = 1 − C
//
// Units: stokes is the velocity v₀ of one alone by the law of Stokes; solids the
// volume share C.
//
// Range: Reynolds numbers below 1, C up to about 50 %.
//
// Errors: a velocity that is none; a share outside 0 to below 100 %.
//
// Source: H.H. Steinour, Ind. Eng. Chem. 36 (1944) 618 (reference from memory);
// C.J. Geankoplis, Transport Processes and Unit Operations, ch. 14.
func Steinour(stokes, solids quantity.Quantity) (quantity.Quantity, error) {
	return hindered(stokes, solids, quantity.Number(4.8), func(v0, c, _ float64) float64 {
		return v0 * (1 - c) * (1 - c) * math.Pow(10, -1.82*c)
	})
}
