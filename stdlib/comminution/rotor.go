package comminution

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// Blow is how a rotor gives its energy to particles.
type Blow int

// The ways a rotor strikes.
const (
	// Struck is a hammer or bar that hits particles at rest: an impact of v²/2 per
	// mass, v being the speed of the tips.
	Struck Blow = iota
	// Thrown is a rotor that flings particles against a wall or bed; they leave with
	// v along the rim and as much outwards, an impact of v² per mass.
	Thrown
)

// String is the blow in a word.
func (b Blow) String() string {
	switch b {
	case Struck:
		return "struck"
	case Thrown:
		return "thrown"
	}
	return fmt.Sprintf("blow %d", int(b))
}

// energy is the impact energy per mass at a speed of the tips.
func (b Blow) energy(speed float64) float64 {
	if b == Thrown {
		return speed * speed
	}
	return speed * speed / 2
}

// Rotor is the turning part of an impact mill.
type Rotor struct {
	Diameter quantity.Quantity // at the tips
	Speed    quantity.Quantity // as in rpm
}

// turning is a speed of turning in rad/s. Hertz are refused, for they do not say
// whether turns or radians are counted.
func turning(q quantity.Quantity, what string) (float64, error) {
	x, err := positive(q, "rpm", what)
	return x * math.Pi / 30, err
}

func (r Rotor) of(f func(speed float64) (quantity.Quantity, error)) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		d, err := positive(v[0], length, "diameter of the rotor")
		if err != nil {
			return quantity.Quantity{}, err
		}
		w, err := turning(v[1], "speed of the rotor, as in rpm,")
		if err != nil {
			return quantity.Quantity{}, err
		}
		return f(w * d / 2)
	}, r.Diameter, r.Speed)
}

// TipSpeed is the speed of the tips,
//
//	v = π·D·n
//
// Units: m/s.
//
// Range: crushers run at some 20 to 70 m/s (equipment literature).
//
// Errors: a diameter that is no length or a speed that is none of turning (rpm), or
// not above 0.
//
// Source: motion on a circle.
func (r Rotor) TipSpeed() (quantity.Quantity, error) {
	return r.of(func(speed float64) (quantity.Quantity, error) { return quantity.Of(speed, "m/s"), nil })
}

// Turning is the speed of turning that a tip speed asks for.
//
// Units: diameter is a length, tip speed a velocity; in rpm.
//
// Range: both above 0.
//
// Errors: quantities of another kind or not above 0.
//
// Source: as TipSpeed.
func Turning(diameter, tipSpeed quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		d, err := positive(v[0], length, "diameter of the rotor")
		if err != nil {
			return quantity.Quantity{}, err
		}
		speed, err := positive(v[1], "m/s", "tip speed")
		return quantity.Of(speed/(math.Pi*d)*60, "rpm"), err
	}, diameter, tipSpeed)
}

// ImpactEnergy is the energy per mass of one impact,
//
//	E = v²/2 (Struck),  E = v² (Thrown)
//
// Units: kWh/t; 60 m/s struck are 0.5 kWh/t.
//
// Range: the hammer is much heavier than the particle, which is at rest or is thrown
// without slip. What air takes from fine particles is not in it.
//
// Errors: as TipSpeed; a blow that is none.
//
// Source: kinetic energy; for thrown ones D. Djordjevic, F.N. Shi, R.D. Morrison, Miner.
// Eng. 16 (2003) 983, who have 3.046·10⁻⁶·R²·n² kWh/t with R in m and n in rpm (from
// memory).
func (r Rotor) ImpactEnergy(blow Blow) (quantity.Quantity, error) {
	if blow != Struck && blow != Thrown {
		return quantity.Quantity{}, fmt.Errorf("comminution: there is no %v", blow)
	}
	return r.of(func(speed float64) (quantity.Quantity, error) {
		return quantity.Of(blow.energy(speed), perMass).To("kWh/t"), nil
	})
}

// Body is the shape of a rotor by which its stress is judged.
type Body int

// The bodies.
const (
	Rim  Body = iota // a thin free ring
	Disc             // a disc of even thickness without a hole, at its centre
)

// RimStress is the greatest stress that turning alone puts on a rotor of one
// material,
//
//	σ = ρ·v² (Rim),  σ = (3 + ν)/8·ρ·v² (Disc), ν = 0.3
//
// Units: density; a stress in MPa.
//
// Range: elastic and of even section. Hammers, bolts, keyways, holes (which double the
// stress at their edge), welds, wear and unbalance come on top: the figure says when a
// rotor is certainly too fast, never that it is safe. Rotors are designed, tested and
// guarded by those licensed to do so.
//
// Errors: as TipSpeed; a density not above 0; a body that is none.
//
// Source: S.P. Timoshenko, J.N. Goodier, Theory of Elasticity, rotating discs.
func (r Rotor) RimStress(density quantity.Quantity, body Body) (quantity.Quantity, error) {
	factor, err := body.factor()
	if err != nil {
		return quantity.Quantity{}, err
	}
	speed, err := r.TipSpeed()
	if err != nil {
		return quantity.Quantity{}, err
	}
	if _, err := positive(density, "kg/m³", "density of the rotor"); err != nil {
		return quantity.Quantity{}, err
	}
	return density.Mul(speed).Mul(speed).Mul(quantity.Number(factor)).To("MPa"), nil
}

func (b Body) factor() (float64, error) {
	switch b {
	case Rim:
		return 1, nil
	case Disc:
		return 3.3 / 8, nil
	}
	return 0, fmt.Errorf("comminution: there is no body %d; Rim or Disc", int(b))
}

// LimitingSpeed is the tip speed at which RimStress reaches a stress.
//
// Units: stress and density; in m/s.
//
// Range: as RimStress.
//
// Errors: quantities of another kind or not above 0; a body that is none.
//
// Source: as RimStress.
func LimitingSpeed(stress, density quantity.Quantity, body Body) (quantity.Quantity, error) {
	factor, err := body.factor()
	if err != nil {
		return quantity.Quantity{}, err
	}
	if _, err := positive(stress, "Pa", "stress"); err != nil {
		return quantity.Quantity{}, err
	}
	if _, err := positive(density, "kg/m³", "density of the rotor"); err != nil {
		return quantity.Quantity{}, err
	}
	return stress.Div(density.Mul(quantity.Number(factor))).Sqrt().To("m/s"), nil
}

// product is what particles of one size have become after a number of impacts.
type product struct {
	size   float64
	after  func(n float64) float64 // share finer than size/n, for n of 1 or more
	finest float64                 // n of the finest that is followed
}

// newProduct strikes particles of one size. Fragments are struck like their parents: one
// impact is the family itself, several are followed on classes.
func newProduct(m impact, f family, size, energy, impacts float64) product {
	if impacts <= 1 {
		t10 := m.t10(size, energy)
		return product{size, func(n float64) float64 {
			if n <= 1 {
				return 1
			}
			return impacts * f.passing(t10, n)
		}, 1e6}
	}
	const classes = 96
	ratio := math.Exp2(-1.0 / 6)
	uppers := make([]float64, classes)
	uppers[0] = size / math.Sqrt(ratio) // the particle is the middle of its class
	for k := 1; k < classes; k++ {
		uppers[k] = uppers[k-1] * ratio
	}
	flows := make([]float64, classes)
	flows[0] = 1
	flows = newBlows(uppers, m, f, energy).repeat(flows, impacts)
	below := make([]float64, classes+1) // below[k] is the share finer than uppers[k]
	for k := classes - 1; k >= 0; k-- {
		below[k] = below[k+1] + flows[k]
	}
	return product{size, func(n float64) float64 {
		x := math.Log(uppers[0]/size*n) / -math.Log(ratio)
		k := int(x)
		if k >= classes-1 {
			return below[classes-1] * math.Exp(float64(classes-1)-x)
		}
		return below[k] + (x-float64(k))*(below[k+1]-below[k])
	}, size / uppers[classes-1]}
}

// p80 is the size that 80 % passes, found by halving the logarithm.
func (p product) p80() float64 {
	low, high := 0.0, math.Log(p.finest)
	for range 50 {
		if middle := (low + high) / 2; p.after(math.Exp(middle)) > 0.8 {
			low = middle
		} else {
			high = middle
		}
	}
	return p.size / math.Exp((low+high)/2)
}

// p80 is that of particles that have been struck.
func p80(m impact, f family, size, energy, impacts float64) float64 {
	return newProduct(m, f, size, energy, impacts).p80()
}

// ProductSize is the size that 80 % passes when particles of one size have been
// struck by a rotor.
//
// Units: size is a length; impacts a plain number; in the unit of size.
//
// Range: every impact meets the fragments of the one before, each with the same energy
// per mass. A fraction of an impact strikes that share of them. Give the Impact its At
// where there is more than one impact: without it fines break as easily as coarse
// particles, and the product is far too fine.
//
// Errors: as TipSpeed and Impact.T10; an empty family.
//
// Source: Impact and Family, applied again and again.
func (r Rotor) ProductSize(blow Blow, m Impact, f Family, size, impacts quantity.Quantity) (quantity.Quantity, error) {
	energy, err := r.ImpactEnergy(blow)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return strike(energy, m, f, size, impacts, func(m impact, f family, x, e, k float64, _ []quantity.Quantity) (quantity.Quantity, error) {
		return inUnitOf(p80(m, f, x, e, k), length, size), nil
	})
}

// Passing is the share of the product of particles of one size that passes an opening.
//
// Units: size and opening are lengths; impacts a plain number; in %.
//
// Range: as ProductSize. Over openings it is the size distribution of the product.
//
// Errors: as ProductSize; an opening not above 0.
//
// Source: as ProductSize.
func (r Rotor) Passing(blow Blow, m Impact, f Family, size, impacts, opening quantity.Quantity) (quantity.Quantity, error) {
	energy, err := r.ImpactEnergy(blow)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return strike(energy, m, f, size, impacts, func(m impact, f family, from, e, k float64, more []quantity.Quantity) (quantity.Quantity, error) {
		x, err := positive(more[0], length, "opening")
		if err != nil {
			return quantity.Quantity{}, err
		}
		return percent(newProduct(m, f, from, e, k).after(max(from/x, 1))), nil
	}, opening)
}

// strike carries the uncertainty of what strikes particles, and how, into a result.
func strike(second quantity.Quantity, m Impact, f Family, size, impacts quantity.Quantity,
	of func(m impact, f family, x, y, k float64, more []quantity.Quantity) (quantity.Quantity, error), more ...quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		n, err := numbersOf(v)
		if err != nil {
			return quantity.Quantity{}, err
		}
		g, err := f.numbers(v[4])
		if err != nil {
			return quantity.Quantity{}, err
		}
		x, err := positive(v[5], length, "size of the particle")
		if err != nil {
			return quantity.Quantity{}, err
		}
		k, err := positive(v[6], "1", "number of impacts")
		if err != nil {
			return quantity.Quantity{}, err
		}
		return of(n, g, x, v[7].SI(), k, v[8:])
	}, append(append(m.inputs(), or(f.alpha, quantity.Number(0)), size, impacts, second), more...)...)
}

// SpeedFor is the tip speed at which a rotor brings particles of one size to a wanted
// product: the inverse of ProductSize.
//
// Units: size and product (that 80 % passes) are lengths; in m/s.
//
// Range: as ProductSize, between 1 and 300 m/s.
//
// Errors: as ProductSize; a product that no speed in the range gives, as because one
// impact never breaks so far.
//
// Source: as ProductSize; solved by halving.
func SpeedFor(product quantity.Quantity, blow Blow, m Impact, f Family, size, impacts quantity.Quantity) (quantity.Quantity, error) {
	if blow != Struck && blow != Thrown {
		return quantity.Quantity{}, fmt.Errorf("comminution: there is no %v", blow)
	}
	if _, err := positive(product, length, "size of the product"); err != nil {
		return quantity.Quantity{}, err
	}
	return strike(product, m, f, size, impacts, func(m impact, f family, x, wanted, k float64, _ []quantity.Quantity) (quantity.Quantity, error) {
		const slow, fast = 1.0, 300.0
		// Whether 80 % is finer than wanted takes one look at the product, p80 itself many.
		enough := func(speed float64) bool {
			return newProduct(m, f, x, blow.energy(speed), k).after(max(x/wanted, 1)) >= 0.8
		}
		if wanted >= x || enough(slow) || !enough(fast) {
			coarse, fine := p80(m, f, x, blow.energy(slow), k), p80(m, f, x, blow.energy(fast), k)
			return quantity.Quantity{}, fmt.Errorf("comminution: %.4g impacts at 1 to 300 m/s bring %v to between %.4g and %.4g mm, not to %v; change the number of impacts",
				k, size, 1e3*coarse, 1e3*fine, product)
		}
		low, high := slow, fast
		for range 60 {
			if middle := (low + high) / 2; enough(middle) {
				high = middle
			} else {
				low = middle
			}
		}
		return quantity.Of((low+high)/2, "m/s"), nil
	})
}
