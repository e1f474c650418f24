package settling

import (
	"errors"
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// Particle is a grain. Its size is the diameter of the sphere of its volume.
type Particle struct {
	Size, Density quantity.Quantity
	Sphericity    quantity.Quantity // a plain number; if left out, 1, a sphere
}

// Fluid is a liquid or a gas. The zero Fluid is a vacuum.
type Fluid struct {
	Density, Viscosity quantity.Quantity // viscosity is the dynamic one, as in Pa·s
	FreePath           quantity.Quantity // mean free path of a gas; may be left out where it is short against the particles
}

// IsVacuum reports whether there is nothing to settle in.
func (f Fluid) IsVacuum() bool {
	return f.Density.SI() == 0 && f.Viscosity.SI() == 0
}

// Fall is how a particle settles.
type Fall struct {
	Velocity quantity.Quantity // in m/s; below 0 for a particle that rises
	Reynolds quantity.Quantity
	Drag     quantity.Quantity // the drag coefficient
	Galileo  quantity.Quantity // g·ρ·|Δρ|·d³/µ², by which falls compare
}

// Terminal is the velocity at which a particle falls when drag bears its
// weight:
//
//	Cd(Re)·Re² = 4/3·Ga,  Ga = g·ρ·(ρp − ρ)·d³/µ²,  v = Re·µ/(ρ·d)
//
// In a gas whose mean free path λ is given, Cd is divided by the slip
// correction 1 + Kn·(1.257 + 0.4·exp(−1.1/Kn)) with Kn = 2λ/d.
//
// Units: gravity is an acceleration; velocity in m/s.
//
// Range: one particle in a wide still fluid, in the range of the law. Walls,
// neighbours and flocs are not in it.
//
// Errors: a vacuum, which has no terminal velocity; quantities of another kind,
// or not above 0; a Reynolds number outside the law's range; a sphericity the law
// does not know; slip above Kn = 10 (free molecules).
//
// Source: balance of weight, lift and drag; the laws' own sources; slip: C.N.
// Davies, Proc. Phys. Soc. 57 (1945) 259 (reference from memory).
func Terminal(p Particle, f Fluid, gravity quantity.Quantity, law Law) (Fall, error) {
	if f.IsVacuum() {
		return Fall{}, errors.New("settling: a vacuum has no terminal velocity, a body falls ever faster until it lands; use FreeFall")
	}
	if p.Sphericity.IsNothing() {
		p.Sphericity = quantity.Number(1)
	}
	if f.FreePath.IsNothing() {
		f.FreePath = quantity.Of(0, "m")
	}
	inputs := []quantity.Quantity{p.Size, p.Density, p.Sphericity, f.Density, f.Viscosity, f.FreePath, gravity}
	var fall Fall
	for i, into := range []*quantity.Quantity{&fall.Velocity, &fall.Reynolds, &fall.Drag, &fall.Galileo} {
		q, err := quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
			one, err := terminal(v, law)
			return [...]quantity.Quantity{one.Velocity, one.Reynolds, one.Drag, one.Galileo}[i], err
		}, inputs...)
		if err != nil {
			return Fall{}, err
		}
		*into = q
	}
	return fall, nil
}

// terminal is Terminal for numbers that are certain.
func terminal(v []quantity.Quantity, law Law) (Fall, error) {
	var x [7]float64
	for i, input := range []struct{ unit, what string }{{"m", "size"}, {"kg/m³", "density of the particle"}, {"1", "sphericity"},
		{"kg/m³", "density of the fluid"}, {"Pa·s", "viscosity"}, {"m", "mean free path"}, {"m/s²", "gravity"}} {
		var err error
		if x[i], err = positive(v[i], input.unit, input.what); err != nil {
			if i == 5 && v[5].SI() == 0 {
				continue
			}
			return Fall{}, err
		}
	}
	d, heavy, sphericity, density, viscosity, path, g := x[0], x[1], x[2], x[3], x[4], x[5], x[6]
	if err := law.check(sphericity); err != nil {
		return Fall{}, err
	}
	knudsen := 2 * path / d
	if knudsen > 10 {
		return Fall{}, fmt.Errorf("settling: the mean free path, %v, is too long for a particle of %v: the gas is no fluid to it", v[5], v[0])
	}
	slip := 1.0
	if knudsen > 0 {
		slip += knudsen * (1.257 + 0.4*math.Exp(-1.1/knudsen))
	}
	galileo := g * density * math.Abs(heavy-density) * d * d * d / (viscosity * viscosity)
	if galileo == 0 {
		return Fall{quantity.Of(0, "m/s"), quantity.Number(0), quantity.Number(math.NaN()), quantity.Number(0)}, nil
	}
	re := law.reynolds(galileo, sphericity, slip)
	if err := law.holds(re, sphericity); err != nil {
		return Fall{}, err
	}
	velocity := math.Copysign(re*viscosity/(density*d), heavy-density)
	return Fall{quantity.Of(velocity, "m/s"), quantity.Number(re),
		quantity.Number(law.coefficient(re, sphericity) / slip), quantity.Number(galileo)}, nil
}

// reynolds solves Cd(Re)/slip·Re² = 4/3·Ga, whose left side rises, by halving
// the logarithm of Re.
func (l Law) reynolds(galileo, sphericity, slip float64) float64 {
	wanted := 4.0 / 3 * galileo * slip
	low, high := math.Log(wanted/24)-60, math.Log(wanted/24)+1 // drag is never less than a third of Stokes'
	for range 200 {
		middle := (low + high) / 2
		if middle == low || middle == high {
			break
		}
		re := math.Exp(middle)
		if l.coefficient(re, sphericity)*re*re < wanted {
			low = middle
		} else {
			high = middle
		}
	}
	return math.Exp((low + high) / 2)
}

// FreeFall is the time of a fall from rest through a height in a vacuum and the
// speed at its end:
//
//	t = √(2h/g),  v = √(2gh)
//
// Units: a height and a gravity; the time in s, the speed in m/s.
//
// Range: heights small against the body that attracts, so that gravity is even.
//
// Errors: quantities of another kind or not above 0.
//
// Source: uniformly accelerated motion.
func FreeFall(height, gravity quantity.Quantity) (time, speed quantity.Quantity, err error) {
	if _, err := positive(height, "m", "height"); err != nil {
		return time, speed, err
	}
	if _, err := positive(gravity, "m/s²", "gravity"); err != nil {
		return time, speed, err
	}
	twice := height.Mul(quantity.Number(2))
	return twice.Div(gravity).Sqrt().To("s"), twice.Mul(gravity).Sqrt().To("m/s"), nil
}
