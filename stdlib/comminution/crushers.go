package comminution

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// Jaw is a jaw crusher by its opening.
type Jaw struct {
	Gape, Set, Width quantity.Quantity // at the top; at the bottom, closed; along the jaws
	Throw            quantity.Quantity // stroke at the bottom
	Speed            quantity.Quantity // as in rpm
	Gravity          quantity.Quantity // left out: the Earth's
}

// jaw is a Jaw in numbers, its speed in turns per second.
type jaw struct{ gape, set, width, throw, speed, gravity float64 }

func (j Jaw) of(f func(n jaw) (quantity.Quantity, error), more ...quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		var n jaw
		for i, into := range []*float64{&n.gape, &n.set, &n.width, &n.throw} {
			var err error
			if *into, err = positive(v[i], length, []string{"gape", "set", "width", "throw"}[i]); err != nil {
				return quantity.Quantity{}, err
			}
		}
		w, err := turning(v[4], "speed of the crusher, as in rpm,")
		if err != nil {
			return quantity.Quantity{}, err
		}
		n.speed = w / (2 * math.Pi)
		if n.gravity, err = positive(v[5], "m/s²", "gravity"); err != nil {
			return quantity.Quantity{}, err
		}
		if n.gape <= n.set {
			return quantity.Quantity{}, fmt.Errorf("comminution: the gape, %v, is wider than the set, %v", v[0], v[1])
		}
		return f(n)
	}, append([]quantity.Quantity{j.Gape, j.Set, j.Width, j.Throw, j.Speed, or(j.Gravity, earth)}, more...)...)
}

// critical is the speed at which rock still falls, in half a turn, as far as the throw
// lets it: g/2·(1/2N)² = 2·T·R/(R − 1), the chamber being twice as deep as its gape.
func (n jaw) critical() float64 {
	ratio := n.gape / n.set
	return math.Sqrt(n.gravity * (ratio - 1) / (16 * n.throw * ratio))
}

// CriticalSpeed is the speed above which a faster jaw crushes less, since rock has no
// time to fall,
//
//	N = 47·√((R − 1)/(R·T))  rpm
//
// on the Earth, with R = gape/set and the throw T in m; it goes as the root of gravity.
//
// Units: rpm.
//
// Range: chambers about twice as deep as their gape.
//
// Errors: lengths or speeds of another kind or not above 0; a gape not above the set.
//
// Source: H.E. Rose, J.E. English, Trans. Inst. Min. Metall. C 76 (1967) 32; here from
// free fall, which gives their 47 (from memory).
func (j Jaw) CriticalSpeed() (quantity.Quantity, error) {
	return j.of(func(n jaw) (quantity.Quantity, error) { return quantity.Of(n.critical()*60, "rpm"), nil })
}

// Volume is the greatest volume of broken rock that passes,
//
//	Q = N·T·W·(2·S + T)·R/(R − 1),  times (Nc/N)² above the critical speed Nc
//
// Units: in m³/h of solid rock.
//
// Range: rock that fills the chamber. Real feeds reach some 40 to 80 % of it, less with
// fines, flat pieces and uneven feeding.
//
// Errors: as CriticalSpeed.
//
// Source: as CriticalSpeed; form from memory.
func (j Jaw) Volume() (quantity.Quantity, error) {
	return j.of(func(n jaw) (quantity.Quantity, error) {
		ratio := n.gape / n.set
		q := n.speed * n.throw * n.width * (2*n.set + n.throw) * ratio / (ratio - 1)
		if c := n.critical(); n.speed > c {
			q *= c * c / (n.speed * n.speed)
		}
		return quantity.Of(q*3600, "m³/h"), nil
	})
}

// RollPair is a pair of crushing rolls.
type RollPair struct {
	Diameter, Width, Gap quantity.Quantity
	Speed                quantity.Quantity // of turning, as in rpm
}

// Nip is the greatest diameter of round particles that smooth rolls draw in,
//
//	cos(α/2) = (D + s)/(D + d)
//
// with α the angle of nip and s the gap.
//
// Units: angle as in deg; in the unit of the gap.
//
// Range: the tangent of half the angle is at most the friction of rock on steel, some
// 0.2 to 0.3.
//
// Errors: lengths not above 0; an angle outside 0 to 90°.
//
// Source: J.M. Coulson, J.F. Richardson, Chemical Engineering vol. 2, ch. 2.
func (r RollPair) Nip(angle quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		d, err := positive(v[0], length, "diameter of the rolls")
		if err != nil {
			return quantity.Quantity{}, err
		}
		gap, err := positive(v[1], length, "gap")
		if err != nil {
			return quantity.Quantity{}, err
		}
		degrees, err := v[2].Value("deg")
		if err != nil || !(degrees > 0 && degrees < 90) {
			return quantity.Quantity{}, fmt.Errorf("comminution: the angle of nip lies between 0 and 90°, and %v does not", v[2])
		}
		return inUnitOf((d+gap)/math.Cos(degrees*math.Pi/360)-d, length, v[1]), nil
	}, r.Diameter, r.Gap, angle)
}

// Throughput is the mass that a ribbon as wide and thick as the gap carries,
//
//	Q = π·D·N·W·s·ρ·f
//
// Units: density of the solid rock, share f of the ribbon that is rock; in t/h.
//
// Range: f of some 15 to 30 % for rolls that crush single particles, up to 80 % where a
// bed is pressed (common practice).
//
// Errors: quantities of another kind or not above 0, a share outside 0 to 100 %.
//
// Source: as Nip.
func (r RollPair) Throughput(density, filled quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		q := 1.0
		for i, what := range []string{"diameter of the rolls", "width", "gap"} {
			x, err := positive(v[i], length, what)
			if err != nil {
				return quantity.Quantity{}, err
			}
			q *= x
		}
		w, err := turning(v[3], "speed of the rolls, as in rpm,")
		if err != nil {
			return quantity.Quantity{}, err
		}
		rho, err := positive(v[4], "kg/m³", "density")
		if err != nil {
			return quantity.Quantity{}, err
		}
		f, err := share(v[5], "share of the ribbon that is rock")
		return quantity.Of(q*w/2*rho*f, "kg/s").To("t/h"), err
	}, r.Diameter, r.Width, r.Gap, r.Speed, density, filled)
}
