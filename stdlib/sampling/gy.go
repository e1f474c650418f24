package sampling

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// Gy is the part of a material's heterogeneity that decides its fundamental
// error: the sampling constant C and the top size d. Make one with Constant, or
// from a Material.
type Gy struct {
	constant, size quantity.Quantity
}

// Constant is the heterogeneity of a material whose sampling constant is known,
// from its Material or from tests.
//
// Units: constant is a mass per volume, as in g/cm³; size a length, the opening
// that retains 5 % of the material.
//
// Range: both above 0. The constant holds at that size.
//
// Errors: quantities of another kind or not above 0.
//
// Source: P. Gy, Sampling of Particulate Materials (1979).
func Constant(constant, size quantity.Quantity) (Gy, error) {
	if _, err := positive(constant, "g/cm³", "sampling constant"); err != nil {
		return Gy{}, err
	}
	if _, err := positive(size, "cm", "top size"); err != nil {
		return Gy{}, err
	}
	return Gy{constant, size}, nil
}

// positive is the number of a quantity in a unit, above 0.
func positive(q quantity.Quantity, unit, what string) (float64, error) {
	x, err := q.Value(unit)
	if err != nil || q.IsNothing() {
		return 0, fmt.Errorf("sampling: the %s is given in units such as %s, and %v is not", what, unit, q)
	}
	if !(x > 0) || math.IsInf(x, 0) {
		return 0, fmt.Errorf("sampling: the %s is above 0, and %v is not", what, q)
	}
	return x, nil
}

// percent is a share shown in per cent.
func percent(share float64) quantity.Quantity { return quantity.Of(100*share, "%") }

// Constant is the sampling constant C.
func (g Gy) Constant() quantity.Quantity { return g.constant }

// TopSize is the size d at which it holds.
func (g Gy) TopSize() quantity.Quantity { return g.size }

// Error is the fundamental error of a sample, relative and as one standard
// deviation:
//
//	s² = C·d³·(1/M − 1/L)
//
// Units: sample M and lot L are masses; the zero Quantity for the lot is one
// without bound. The error is in %.
//
// Range: samples taken correctly, of many particles. An error of more than some
// 30 % says that the sample is far too small, not how large its error is.
//
// Errors: masses of another kind or not above 0, a sample larger than its lot.
//
// Source: P. Gy (1979).
func (g Gy) Error(sample, lot quantity.Quantity) (quantity.Quantity, error) {
	inputs := []quantity.Quantity{g.constant, g.size, sample}
	if !lot.IsNothing() {
		inputs = append(inputs, lot)
	}
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		c, d, err := read(v)
		if err != nil {
			return quantity.Quantity{}, err
		}
		m, err := positive(v[2], "g", "sample")
		if err != nil {
			return quantity.Quantity{}, err
		}
		rest, err := perLot(v, 1/m)
		if err != nil {
			return quantity.Quantity{}, err
		}
		return percent(math.Sqrt(c * d * d * d * rest)), nil
	}, inputs...)
}

// read is constant and size in g and cm.
func read(v []quantity.Quantity) (c, d float64, err error) {
	if c, err = positive(v[0], "g/cm³", "sampling constant"); err != nil {
		return 0, 0, err
	}
	d, err = positive(v[1], "cm", "top size")
	return c, d, err
}

// perLot is 1/M less 1/L, if there is a lot.
func perLot(v []quantity.Quantity, perSample float64) (float64, error) {
	if len(v) < 4 {
		return perSample, nil
	}
	l, err := positive(v[3], "g", "lot")
	if err != nil {
		return 0, err
	}
	if 1/l > perSample*(1+1e-12) {
		return 0, fmt.Errorf("sampling: the sample, %v, is larger than its lot, %v", v[2], v[3])
	}
	return max(0, perSample-1/l), nil
}

// MinimumMass is the least mass of a sample whose fundamental error is no larger
// than wanted:
//
//	M = 1/(s²/(C·d³) + 1/L)
//
// Units: wanted is a relative error, one standard deviation, as in 1 %; lot is a
// mass, or the zero Quantity for one without bound. The mass is in kg.
//
// Range: as Error. For an error that holds 95 times in 100, give half of it.
//
// Errors: an error outside 0 to 100 %, a lot of another kind.
//
// Source: P. Gy (1979).
func (g Gy) MinimumMass(wanted, lot quantity.Quantity) (quantity.Quantity, error) {
	inputs := []quantity.Quantity{g.constant, g.size, wanted}
	if !lot.IsNothing() {
		inputs = append(inputs, lot)
	}
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		c, d, err := read(v)
		if err != nil {
			return quantity.Quantity{}, err
		}
		s, err := relative(v[2])
		if err != nil {
			return quantity.Quantity{}, err
		}
		per := s * s / (c * d * d * d)
		if len(v) == 4 {
			l, err := positive(v[3], "g", "lot")
			if err != nil {
				return quantity.Quantity{}, err
			}
			per += 1 / l
		}
		return quantity.Of(1e-3/per, "kg"), nil
	}, inputs...)
}

func relative(q quantity.Quantity) (float64, error) {
	s, err := q.Float()
	if err != nil || !(s > 0 && s < 1) {
		return 0, fmt.Errorf("sampling: a relative error lies between 0 and 100 %%, and %v does not; write a percentage with its unit", q)
	}
	return s, nil
}

// SafetyLine is Gy's rule of thumb for a material of which nothing is known but
// its top size:
//
//	M = 125 000 g/cm³ · d³
//
// Units: size is the top size; the mass in kg.
//
// Range: ores of middling difficulty; coarse gold asks for more, rich and evenly
// spread minerals for less. It names no error.
//
// Errors: a size of another kind or not above 0.
//
// Source: P. Gy (1979), after F.F. Pitard, Pierre Gy's Sampling Theory and
// Sampling Practice (1993); constant from memory.
func SafetyLine(size quantity.Quantity) (quantity.Quantity, error) {
	if _, err := positive(size, "cm", "top size"); err != nil {
		return quantity.Quantity{}, err
	}
	return size.Pow(3, 1).Mul(quantity.Of(125000, "g/cm³")).To("kg"), nil
}

// Together is the relative error of several stages, each with an error that has
// nothing to do with the others':
//
//	s = √(s₁² + s₂² + …)
//
// Units: relative errors, one standard deviation each, as in %; so is the result.
//
// Range: independent errors.
//
// Errors: none given, one below 0 or with a dimension.
//
// Source: variances add up.
func Together(relativeErrors ...quantity.Quantity) (quantity.Quantity, error) {
	if len(relativeErrors) == 0 {
		return quantity.Quantity{}, fmt.Errorf("sampling: there are no errors to put together")
	}
	var sum quantity.Quantity
	for i, s := range relativeErrors {
		if x, err := s.Float(); err != nil || !(x >= 0) {
			return quantity.Quantity{}, fmt.Errorf("sampling: error %d is a share, 0 or more, and %v is not", i+1, s)
		}
		sum = sum.Add(s.To("1").Pow(2, 1))
	}
	return sum.Sqrt().To("%"), nil
}
