package partition

import (
	"fmt"
	"math"
	"strings"

	"cobber/stdlib/quantity"
)

// At is where the curve reaches a share: At(50 %) is the cut d50 or ρ50.
//
// Units: share as in %; the result is a size or density in the curve's unit.
//
// Range: between the measured points; it does not extrapolate.
//
// Errors: a share outside 0 to 100 %; one that the curve does not reach; one
// that it passes more than once, with the places.
//
// Source: interpolation is common practice.
func (c Curve) At(share quantity.Quantity) (quantity.Quantity, error) {
	wanted, err := shareOf(share)
	if err != nil {
		return quantity.Quantity{}, fmt.Errorf("partition: %w", err)
	}
	x, err := c.at(wanted)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return c.quantity(x), nil
}

func (c Curve) at(wanted float64) (float64, error) {
	places := c.crossings(wanted)
	switch len(places) {
	case 1:
		return places[0], nil
	case 0:
		lowest, highest := c.shares[0], c.shares[0]
		for _, share := range c.shares {
			lowest, highest = min(lowest, share), max(highest, share)
		}
		return 0, fmt.Errorf("partition: the curve runs from %.4g %% to %.4g %% and does not reach %.4g %%; more classes are needed, or a fitted model",
			100*lowest, 100*highest, 100*wanted)
	}
	texts := make([]string, len(places))
	for i, x := range places {
		texts[i] = fmt.Sprintf("%.4g", c.quantity(x))
	}
	return 0, fmt.Errorf("partition: the curve passes %.4g %% more than once, at %s; look at these classes, or fit a model",
		100*wanted, strings.Join(texts, " and "))
}

// crossings are the places where the curve passes a share. Where it lies level
// at that share, the lower end counts.
func (c Curve) crossings(wanted float64) []float64 {
	var places []float64
	for i := range c.xs {
		if c.shares[i] == wanted {
			if i == 0 || c.shares[i-1] != wanted {
				places = append(places, c.xs[i])
			}
			continue
		}
		if i == 0 || (c.shares[i-1]-wanted)*(c.shares[i]-wanted) >= 0 {
			continue
		}
		part := (wanted - c.shares[i-1]) / (c.shares[i] - c.shares[i-1])
		places = append(places, c.between(c.xs[i-1], c.xs[i], part))
	}
	return places
}

func (c Curve) between(a, b, part float64) float64 {
	if c.sizes {
		return a * math.Pow(b/a, part)
	}
	return a + part*(b-a)
}

// Cut is At(50 %): the size d50 or density ρ50 that goes in equal parts to both
// products. That of a Corrected curve is the corrected cut.
//
// Units: a size or density, in the curve's unit.
//
// Range: as At.
//
// Errors: as At.
//
// Source: the definition of the cut, ISO 923 for densities (reference from memory).
func (c Curve) Cut() (quantity.Quantity, error) { return c.At(percent(0.5)) }

// ProbableError is Ep, écart probable moyen,
//
//	Ep = (x75 − x25)/2
//
// half the distance between the places where three quarters and one quarter go
// to the coarse or heavy product. 0 would be a perfect cut.
//
// Units: a size or density difference, in the curve's unit.
//
// Range: as At.
//
// Errors: as At.
//
// Source: K.F. Tromp (1937); ISO 923 (references from memory).
func (c Curve) ProbableError() (quantity.Quantity, error) {
	low, high, err := c.quarters()
	if err != nil {
		return quantity.Quantity{}, err
	}
	return c.quantity((high - low) / 2), nil
}

func (c Curve) quarters() (low, high float64, err error) {
	if low, err = c.at(0.25); err != nil {
		return 0, 0, err
	}
	high, err = c.at(0.75)
	return low, high, err
}

// Imperfection is Ep over the cut,
//
//	I = (x75 − x25)/(2·x50)
//
// a plain number by which classifiers of unlike cuts compare, and separators by
// density that work in air.
//
// Units: a plain number.
//
// Range: as At. Separations by density in water are compared by ImperfectionIn.
//
// Errors: as At.
//
// Source: common practice.
func (c Curve) Imperfection() (quantity.Quantity, error) { return c.imperfection(0) }

// ImperfectionIn is the imperfection of a separation by density in a fluid of
// density ρf,
//
//	I = Ep/(ρ50 − ρf)
//
// for instance of a jig in water.
//
// Units: fluid is a density; the result a plain number.
//
// Range: fluid lighter than the cut.
//
// Errors: a curve over sizes; a fluid that is no density or not lighter than the
// cut; as At.
//
// Source: T. Belugou, after E.J. Pryor, Mineral Processing (webref.org).
func (c Curve) ImperfectionIn(fluid quantity.Quantity) (quantity.Quantity, error) {
	if c.sizes {
		return quantity.Quantity{}, fmt.Errorf("partition: the curve is over sizes, so the density of a fluid has no place in it; use Imperfection")
	}
	density, err := fluid.Value(c.unit.String())
	if err != nil || !(density >= 0) {
		return quantity.Quantity{}, fmt.Errorf("partition: the fluid has a density, and %v is none", fluid)
	}
	return c.imperfection(density)
}

func (c Curve) imperfection(base float64) (quantity.Quantity, error) {
	low, high, err := c.quarters()
	if err != nil {
		return quantity.Quantity{}, err
	}
	cut, err := c.at(0.5)
	if err != nil {
		return quantity.Quantity{}, err
	}
	if cut <= base {
		return quantity.Quantity{}, fmt.Errorf("partition: the cut, %v, is not above the density of the fluid, %v", c.quantity(cut), c.quantity(base))
	}
	return quantity.Number((high - low) / (2 * (cut - base))), nil
}

// Sharpness is the sharpness index of a classification,
//
//	κ = x25/x75
//
// 1 for a perfect cut, less for a blunt one.
//
// Units: a plain number.
//
// Range: as At.
//
// Errors: as At.
//
// Source: common practice of classification; T. Eder (1961, from memory).
func (c Curve) Sharpness() (quantity.Quantity, error) {
	low, high, err := c.quarters()
	if err != nil {
		return quantity.Quantity{}, err
	}
	return quantity.Number(low / high), nil
}
