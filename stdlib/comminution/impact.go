package comminution

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// Impact is how a material breaks when a single particle is struck: t10, the share
// of the fragments finer than a tenth of the particle, by the energy per mass of the
// particle,
//
//	t10 = A·(1 − exp(−b·(E − E0)))
//
// Where At is given, size counts, with x the size of the particle,
//
//	b·x/At in place of b,  E0·At/x in place of E0
//
// which is the law of Shi and Kojovic; without it and with E0 left out, the law is
// that of Leung. Parameters may be uncertain.
type Impact struct {
	Most  quantity.Quantity // A, the greatest t10, such as 50 %
	Ease  quantity.Quantity // b, mass per energy, as in t/kWh
	Least quantity.Quantity // E0, energy per mass below which nothing breaks; left out: 0
	At    quantity.Quantity // size at which Ease and Least were found; left out: size does not count
}

func (m Impact) inputs() []quantity.Quantity {
	return []quantity.Quantity{m.Most, m.Ease, or(m.Least, quantity.Of(0, perMass)), or(m.At, quantity.Of(0, length))}
}

// impact is an Impact in numbers: A, b in kg/J, E0 in J/kg, At in m (0: none).
type impact struct{ most, ease, least, at float64 }

func numbersOf(v []quantity.Quantity) (impact, error) {
	var m impact
	var err error
	if v[0].IsNothing() && v[1].IsNothing() {
		return m, fmt.Errorf("comminution: an empty Impact; it needs Most (A) and Ease (b)")
	}
	if m.most, err = share(v[0], "greatest t10 (Most, A)"); err != nil {
		return m, err
	}
	if m.most == 0 || m.most == 1 {
		return m, fmt.Errorf("comminution: the greatest t10 (Most, A) lies between 0 and 100 %%, and %v is an end of that", v[0])
	}
	if m.ease, err = positive(v[1], "kg/J", "ease of breakage (b)"); err != nil {
		return m, err
	}
	if m.least, err = notNegative(v[2], perMass, "least energy of breakage (E0)"); err != nil {
		return m, err
	}
	m.at, err = notNegative(v[3], length, "size At of an Impact")
	return m, err
}

// effective is b·(E − E0) for a size, 0 or more.
func (m impact) effective(size, energy float64) float64 {
	ease, least := m.ease, m.least
	if m.at > 0 {
		ease, least = ease*size/m.at, least*m.at/size
	}
	return max(ease*(energy-least), 0)
}

func (m impact) t10(size, energy float64) float64 {
	return -m.most * math.Expm1(-m.effective(size, energy))
}

// energyFor is the energy that gives a t10 below A.
func (m impact) energyFor(size, t10 float64) float64 {
	ease, least := m.ease, m.least
	if m.at > 0 {
		ease, least = ease*size/m.at, least*m.at/size
	}
	return least - math.Log1p(-t10/m.most)/ease
}

// T10 is the share of fragments finer than a tenth of the particle.
//
// Units: size is a length, energy per mass of particle; t10 in %.
//
// Range: one impact. A is reached by none.
//
// Errors: parameters or arguments of another kind, below 0 or, for A, not between 0
// and 100 %.
//
// Source: K. Leung, PhD thesis, University of Queensland (1987); T.J. Napier-Munn et
// al., Mineral Comminution Circuits (JKMRC, 1996); with size F. Shi, T. Kojovic, Int. J.
// Miner. Process. 82 (2007) 156.
func (m Impact) T10(size, energy quantity.Quantity) (quantity.Quantity, error) {
	return m.by(size, energy, "energy of the impact", perMass, func(n impact, x, e float64, _ []quantity.Quantity) (quantity.Quantity, error) {
		return percent(n.t10(x, e)), nil
	})
}

// Energy is the energy per mass that an impact needs for a wanted t10.
//
// Units: size is a length, t10 a share; the energy in kWh/t.
//
// Range: a t10 below A.
//
// Errors: as T10; a t10 that A is never reached by.
//
// Source: the law solved for its energy.
func (m Impact) Energy(size, t10 quantity.Quantity) (quantity.Quantity, error) {
	return m.by(size, t10, "t10", "1", func(n impact, x, t float64, _ []quantity.Quantity) (quantity.Quantity, error) {
		if t >= n.most {
			return quantity.Quantity{}, fmt.Errorf("comminution: no single impact of this material gives a t10 of %.4g %%; the most is below %.4g %%; strike it more than once", 100*t, 100*n.most)
		}
		return quantity.Of(n.energyFor(x, t), perMass).To("kWh/t"), nil
	})
}

// Probability is the share of particles that some impacts of one energy break,
//
//	S = 1 − exp(−b·k·(E − E0))
//
// Units: size is a length, energy per mass, impacts a plain number k; in %.
//
// Range: as T10. The b and E0 are those of breakage; tests of probability give them
// directly.
//
// Errors: as T10; impacts below 0.
//
// Source: L. Vogel, W. Peukert, Powder Technol. 129 (2003) 101.
func (m Impact) Probability(size, energy, impacts quantity.Quantity) (quantity.Quantity, error) {
	return m.by(size, energy, "energy of the impact", perMass, func(n impact, x, e float64, more []quantity.Quantity) (quantity.Quantity, error) {
		k, err := notNegative(more[0], "1", "number of impacts")
		return percent(-math.Expm1(-k * n.effective(x, e))), err
	}, impacts)
}

// by carries the uncertainty of an impact, of a size, of a second argument and of more into a result.
func (m Impact) by(size, second quantity.Quantity, what, unit string,
	of func(n impact, x, y float64, more []quantity.Quantity) (quantity.Quantity, error), more ...quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		n, err := numbersOf(v)
		if err != nil {
			return quantity.Quantity{}, err
		}
		x, err := positive(v[4], length, "size of the particle")
		if err != nil {
			return quantity.Quantity{}, err
		}
		y, err := notNegative(v[5], unit, what)
		if err != nil {
			return quantity.Quantity{}, err
		}
		return of(n, x, y, v[6:])
	}, append(append(m.inputs(), size, second), more...)...)
}

// Hardness is A·b, the slope of t10 by energy at its beginning, in the trade's
// reckoning with A in per cent and b in t/kWh, and the word for it.
//
// Units: a plain number.
//
// Range: with At given, for particles of that size.
//
// Errors: as T10.
//
// Source: T.J. Napier-Munn et al., Mineral Comminution Circuits (JKMRC, 1996); limits of
// the words from memory.
func (m Impact) Hardness() (product quantity.Quantity, word string, err error) {
	product, err = quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		n, err := numbersOf(v)
		return quantity.Number(100 * n.most * n.ease * 3600), err
	}, m.inputs()...)
	if err != nil {
		return quantity.Quantity{}, "", err
	}
	limits := []float64{30, 38, 43, 56, 67, 127}
	words := []string{"very hard", "hard", "moderately hard", "medium", "moderately soft", "soft", "very soft"}
	i := 0
	for i < len(limits) && product.SI() >= limits[i] {
		i++
	}
	return product, words[i], nil
}

// FractureEnergy is how the energies at which particles of one size break are
// spread: their logarithms are normal, and finer particles are stronger,
//
//	E50 = E∞·(1 + (d0/d)^φ)
//
// Parameters may be uncertain.
type FractureEnergy struct {
	Coarse   quantity.Quantity // E∞, energy per mass, the median of very coarse particles
	Size     quantity.Quantity // d0
	Exponent quantity.Quantity // φ, a plain number
	Spread   quantity.Quantity // geometric standard deviation, a plain number above 1
}

// Median is E50 of particles of a size.
//
// Units: size is a length; in the unit of Coarse.
//
// Range: all parameters above 0, spread above 1.
//
// Errors: parameters of another kind or outside their range.
//
// Source: L.M. Tavares, R.P. King, Int. J. Miner. Process. 54 (1998) 1.
func (f FractureEnergy) Median(size quantity.Quantity) (quantity.Quantity, error) {
	return f.by(size, quantity.Of(0, perMass), func(median, _, _ float64) quantity.Quantity {
		return inUnitOf(median, perMass, f.Coarse)
	})
}

// Broken is the share of particles of a size that one impact of an energy breaks,
//
//	P = Φ(ln(E/E50)/ln σ)
//
// Units: size is a length, energy per mass; in %.
//
// Range: as Median.
//
// Errors: as Median; an energy below 0.
//
// Source: as Median.
func (f FractureEnergy) Broken(size, energy quantity.Quantity) (quantity.Quantity, error) {
	return f.by(size, energy, func(median, spread, e float64) quantity.Quantity {
		if e == 0 {
			return percent(0)
		}
		return percent(math.Erfc(-math.Log(e/median)/math.Log(spread)/math.Sqrt2) / 2)
	})
}

func (f FractureEnergy) by(size, energy quantity.Quantity, of func(median, spread, e float64) quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		var x [5]float64
		for i, input := range []struct{ unit, what string }{{perMass, "median energy E∞ (Coarse)"}, {length, "size d0"},
			{"1", "exponent φ"}, {"1", "spread"}, {length, "size of the particle"}} {
			var err error
			if x[i], err = positive(v[i], input.unit, input.what); err != nil {
				return quantity.Quantity{}, err
			}
		}
		if x[3] <= 1 {
			return quantity.Quantity{}, fmt.Errorf("comminution: a geometric standard deviation is above 1, and %v is not", v[3])
		}
		e, err := notNegative(v[5], perMass, "energy of the impact")
		if err != nil {
			return quantity.Quantity{}, err
		}
		return of(x[0]*(1+math.Pow(x[1]/x[4], x[2])), x[3], e), nil
	}, f.Coarse, f.Size, f.Exponent, f.Spread, size, energy)
}
