package comminution

import (
	"errors"
	"fmt"
	"math"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
)

// Law is an energy law of size reduction,
//
//	dE = −c·(x0/x)^(n−1)·dx/x
//
// in which E is energy per mass and x the size of the particles: n = 1 is Kick's
// law, n = 2 Rittinger's, n = 1.5 Bond's. Its coefficient c is the energy per unit
// of the natural logarithm of size where the size is x0. Make one with Rittinger,
// Kick, BondLaw, GeneralLaw, LawThrough or FitLaw. Parameters may be uncertain.
type Law struct {
	exponent, coefficient, at quantity.Quantity
}

// Rittinger is the law that energy is as the new surface,
//
//	E = K·(1/xP − 1/xF)
//
// Units: the constant K is an energy times a length per mass, as in kJ·mm/kg.
//
// Range: K above 0. It serves best where new surface is all, in grinding below some
// 0.1 mm.
//
// Errors: a constant of another kind or not above 0.
//
// Source: P.R. von Rittinger, Lehrbuch der Aufbereitungskunde (Berlin, 1867).
func Rittinger(constant quantity.Quantity) (Law, error) {
	if _, err := positive(constant, "J·m/kg", "constant of Rittinger's law"); err != nil {
		return Law{}, err
	}
	one := quantity.Of(1, "mm")
	return Law{quantity.Number(2), constant.Div(one).To("kJ/kg"), one}, nil
}

// Kick is the law that like reductions take like energy,
//
//	E = K·ln(xF/xP)
//
// Units: the constant K is an energy per mass.
//
// Range: K above 0. It serves best for crushing above some 50 mm.
//
// Errors: a constant of another kind or not above 0; a plain number.
//
// Source: F. Kick, Das Gesetz der proportionalen Widerstände (Leipzig, 1885).
func Kick(constant quantity.Quantity) (Law, error) {
	if _, err := energyPerMass(constant, "constant of Kick's law"); err != nil {
		return Law{}, err
	}
	return Law{quantity.Number(1), constant, quantity.Of(1, "mm")}, nil
}

// BondLaw is Bond's law as a Law,
//
//	E = Wi·(√(100 µm/xP) − √(100 µm/xF))
//
// Units: the work index Wi is an energy per mass, as in kWh/t or kWh/st.
//
// Range: Wi above 0; sizes are those that 80 % passes. From some 25 mm to 0.1 mm.
//
// Errors: a plain number, because it does not say which ton; not above 0.
//
// Source: F.C. Bond, Trans. AIME 193 (1952) 484.
func BondLaw(workIndex quantity.Quantity) (Law, error) {
	if _, err := energyPerMass(workIndex, "work index"); err != nil {
		return Law{}, err
	}
	return Law{quantity.Number(1.5), workIndex.Div(quantity.Number(2)), quantity.Of(100, "µm")}, nil
}

// GeneralLaw is the law with any exponent n,
//
//	E = c/(n−1)·((x0/xP)^(n−1) − (x0/xF)^(n−1)),  c·ln(xF/xP) where n = 1
//
// Units: exponent n is a plain number; coefficient c an energy per mass; x0 (at) a
// length.
//
// Range: n from 0 to 5, c and x0 above 0.
//
// Errors: an exponent with a unit or outside its range; the others of another kind
// or not above 0.
//
// Source: W.H. Walker, W.K. Lewis, W.H. McAdams, E.R. Gilliland, Principles of
// Chemical Engineering, 3rd ed. (1937); R.J. Charles, Trans. AIME 208 (1957) 80.
func GeneralLaw(exponent, coefficient, at quantity.Quantity) (Law, error) {
	if _, err := exponentOf(exponent); err != nil {
		return Law{}, err
	}
	if _, err := energyPerMass(coefficient, "coefficient"); err != nil {
		return Law{}, err
	}
	if _, err := positive(at, length, "size of reference"); err != nil {
		return Law{}, err
	}
	return Law{exponent, coefficient, at}, nil
}

func exponentOf(q quantity.Quantity) (float64, error) {
	n, err := q.Float()
	if err != nil || !(n >= 0 && n <= 5) {
		return 0, fmt.Errorf("comminution: the exponent of an energy law is a plain number from 0 to 5 (Kick 1, Bond 1.5, Rittinger 2), and %v is not", q)
	}
	return n, nil
}

// LawThrough is the law of a given exponent that agrees with one known reduction:
// it takes the energy from one machine or test to another size.
//
// Units: exponent is a plain number; energy per mass; feed and product are lengths.
//
// Range: product below feed.
//
// Errors: as GeneralLaw; an energy or a size not above 0; a product that is not
// finer than the feed.
//
// Source: as GeneralLaw; the constant is solved for.
func LawThrough(exponent, energy, feed, product quantity.Quantity) (Law, error) {
	coefficient, err := quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		n, err := exponentOf(v[0])
		if err != nil {
			return quantity.Quantity{}, err
		}
		e, err := energyPerMass(v[1], "energy")
		if err != nil {
			return quantity.Quantity{}, err
		}
		f, p, err := sizes(v[2], v[3])
		if err != nil {
			return quantity.Quantity{}, err
		}
		return inUnitOf(e/span(n, f/1e-3, p/1e-3), perMass, v[1]), nil
	}, exponent, energy, feed, product)
	if err != nil {
		return Law{}, err
	}
	return Law{exponent, coefficient, quantity.Of(1, "mm")}, nil
}

// span is what the coefficient is multiplied by, with sizes in units of x0. Near
// n = 1 the difference of powers is taken so that no digits are lost.
func span(n, f, p float64) float64 {
	k := n - 1
	if k == 0 {
		return math.Log(f / p)
	}
	return math.Pow(f, -k) * math.Expm1(k*math.Log(f/p)) / k
}

func sizes(feed, product quantity.Quantity) (f, p float64, err error) {
	if f, err = positive(feed, length, "size of the feed"); err != nil {
		return 0, 0, err
	}
	if p, err = positive(product, length, "size of the product"); err != nil {
		return 0, 0, err
	}
	if p >= f {
		return 0, 0, fmt.Errorf("comminution: the product, %v, is not finer than the feed, %v", product, feed)
	}
	return f, p, nil
}

// Exponent is n.
func (l Law) Exponent() quantity.Quantity { return l.exponent }

// Coefficient is c and the size x0 for which it is told.
func (l Law) Coefficient() (coefficient, at quantity.Quantity) { return l.coefficient, l.at }

// Energy is the energy per mass to bring particles from one size to another.
//
// Units: feed and product are lengths; the energy in the unit of the law's
// coefficient.
//
// Range: product below feed. A law that was measured in one range of sizes may err
// by a factor in another, since n rises as particles get finer.
//
// Errors: sizes that are no lengths, or a product that is not finer than the feed.
//
// Source: the integral of the law.
func (l Law) Energy(feed, product quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		n, c, at, err := l.numbers(v)
		if err != nil {
			return quantity.Quantity{}, err
		}
		f, p, err := sizes(v[3], v[4])
		if err != nil {
			return quantity.Quantity{}, err
		}
		return inUnitOf(c*span(n, f/at, p/at), perMass, v[1]), nil
	}, l.exponent, l.coefficient, l.at, feed, product)
}

func (l Law) numbers(v []quantity.Quantity) (n, c, at float64, err error) {
	if v[0].IsNothing() {
		return 0, 0, 0, errors.New("comminution: an empty Law; make one with Rittinger, Kick, BondLaw or GeneralLaw")
	}
	if n, err = exponentOf(v[0]); err != nil {
		return
	}
	if c, err = energyPerMass(v[1], "coefficient of the law"); err != nil {
		return
	}
	at, err = positive(v[2], length, "size of reference")
	return
}

// Product is the size that an energy brings a feed to.
//
// Units: feed is a length, energy per mass; the size in the unit of feed.
//
// Range: an energy of 0 leaves the feed as it is.
//
// Errors: a feed that is no length, an energy below 0 or of another kind; where n is
// below 1, an energy that would leave no size at all.
//
// Source: the law solved for its product.
func (l Law) Product(feed, energy quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		n, c, at, err := l.numbers(v)
		if err != nil {
			return quantity.Quantity{}, err
		}
		f, err := positive(v[3], length, "size of the feed")
		if err != nil {
			return quantity.Quantity{}, err
		}
		e, err := notNegative(v[4], perMass, "energy")
		if err != nil {
			return quantity.Quantity{}, err
		}
		k, logRatio := n-1, e/c
		if k != 0 {
			logRatio = math.Log1p(k*e/c*math.Pow(f/at, k)) / k
		}
		if math.IsNaN(logRatio) || math.IsInf(logRatio, 0) {
			return quantity.Quantity{}, fmt.Errorf("comminution: with exponent %.3g an energy of %v leaves no size at all; the law does not reach so far", n, v[4])
		}
		return inUnitOf(f*math.Exp(-logRatio), length, v[3]), nil
	}, l.exponent, l.coefficient, l.at, feed, energy)
}

// String is the law in a line.
func (l Law) String() string {
	return fmt.Sprintf("dE = −c·(x0/x)^(n−1)·dx/x, n = %v, c = %v at x0 = %v", l.exponent, l.coefficient, l.at)
}

// Reduction is one measured reduction: what it took to bring a feed to a product.
type Reduction struct {
	Energy        quantity.Quantity // per mass
	Feed, Product quantity.Quantity // sizes, as 80 % passes them
}

// FittedLaw is a law through several reductions, and how well they fix it.
type FittedLaw struct {
	Law               Law
	ExponentDeviation quantity.Quantity // standard error of n
	Scatter           quantity.Quantity // standard deviation of the energies about the law, relative, in %
}

// FitLaw is the law whose exponent and coefficient come nearest to measured
// reductions by least squares of the logarithms of energies.
//
// Units: as Reduction.
//
// Range: three reductions or more whose sizes differ; uncertain ones count with
// their means. The coefficient is told at the geometric mean of all sizes, where it
// is known best.
//
// Errors: fewer than three reductions; sizes or energies not above 0; reductions
// that do not tell the exponent.
//
// Source: least squares of the integrated law of Walker et al., as GeneralLaw.
func FitLaw(reductions ...Reduction) (FittedLaw, error) {
	if len(reductions) < 3 {
		return FittedLaw{}, fmt.Errorf("comminution: a fit of exponent and coefficient needs three reductions or more, and here are %d", len(reductions))
	}
	var energies, feeds, products []float64
	logs := 0.0
	for i, r := range reductions {
		e, err := energyPerMass(r.Energy, "energy")
		if err != nil {
			return FittedLaw{}, fmt.Errorf("reduction %d: %w", i+1, err)
		}
		f, p, err := sizes(r.Feed, r.Product)
		if err != nil {
			return FittedLaw{}, fmt.Errorf("reduction %d: %w", i+1, err)
		}
		energies, feeds, products = append(energies, e), append(feeds, f), append(products, p)
		logs += math.Log(f) + math.Log(p)
	}
	at := math.Exp(logs / float64(2*len(reductions)))
	fit := numeric.Fit(func(x, into []float64) {
		for i := range energies {
			into[i] = math.Log(energies[i]) - x[1] - math.Log(span(x[0], feeds[i]/at, products[i]/at))
		}
	}, []float64{1.5, math.Log(energies[0] / span(1.5, feeds[0]/at, products[0]/at))}, len(energies))
	n, deviation := fit.Parameters[0], fit.Deviations[0]
	if !fit.Settled || math.IsNaN(deviation) || n < 0 || n > 5 {
		return FittedLaw{}, errors.New("comminution: the reductions do not tell the exponent of the law; their sizes must span more")
	}
	return FittedLaw{
		Law: Law{quantity.Number(n), inUnitOf(math.Exp(fit.Parameters[1]), perMass, reductions[0].Energy),
			inUnitOf(at, length, reductions[0].Product)},
		ExponentDeviation: quantity.Number(deviation),
		Scatter:           percent(math.Sqrt(fit.Sum / float64(fit.Freedom))),
	}, nil
}
