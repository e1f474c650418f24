package settling

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// Law is an equation for the drag coefficient of a particle by its Reynolds
// number Re = v·d·ρ/µ.
type Law int

// The laws. Each is refused outside its range of Reynolds numbers.
const (
	// HaiderLevenspiel holds for spheres up to Re = 2.6·10⁵ and for other
	// isometric grains, by their sphericity, up to Re = 2.5·10⁴ (A. Haider, O.
	// Levenspiel, Powder Technol. 58 (1989) 63).
	HaiderLevenspiel Law = iota
	// SchillerNaumann is 24/Re·(1 + 0.15·Re^0.687) for spheres up to Re = 1000
	// (L. Schiller, A. Naumann, Z. VDI 77 (1933) 318, from memory).
	SchillerNaumann
	// Stokes is 24/Re for spheres that creep; refused above Re = 1, where it
	// gives velocities too high by a tenth.
	Stokes
	// Newton is 0.44 for spheres from Re = 750 to 2·10⁵.
	Newton
)

// String is the name of the law.
func (l Law) String() string {
	switch l {
	case HaiderLevenspiel:
		return "Haider–Levenspiel"
	case SchillerNaumann:
		return "Schiller–Naumann"
	case Stokes:
		return "Stokes"
	case Newton:
		return "Newton"
	}
	return fmt.Sprintf("law %d", int(l))
}

func (l Law) limits(sphericity float64) (low, high float64) {
	switch {
	case l == HaiderLevenspiel && sphericity == 1:
		return 0, 2.6e5
	case l == HaiderLevenspiel:
		return 0, 2.5e4
	case l == SchillerNaumann:
		return 0, 1000
	case l == Stokes:
		return 0, 1
	}
	return 750, 2e5
}

// coefficient is the drag coefficient without asking whether the law holds.
func (l Law) coefficient(re, sphericity float64) float64 {
	switch l {
	case Stokes:
		return 24 / re
	case SchillerNaumann:
		return 24 / re * (1 + 0.15*math.Pow(re, 0.687))
	case Newton:
		return 0.44
	}
	a, b, c, d := 0.1806, 0.6459, 0.4251, 6880.95
	if s := sphericity; s != 1 {
		a = math.Exp(2.3288 - 6.4581*s + 2.4486*s*s)
		b = 0.0964 + 0.5565*s
		c = math.Exp(4.905 - 13.8944*s + 18.4222*s*s - 10.2599*s*s*s)
		d = math.Exp(1.4681 + 12.2584*s - 20.7322*s*s + 15.8855*s*s*s)
	}
	return 24/re*(1+a*math.Pow(re, b)) + c/(1+d/re)
}

func (l Law) check(sphericity float64) error {
	if l < HaiderLevenspiel || l > Newton {
		return fmt.Errorf("settling: there is no %v", l)
	}
	if !(sphericity > 0 && sphericity <= 1) {
		return fmt.Errorf("settling: a sphericity lies between 0 and 1, and %.4g does not", sphericity)
	}
	if sphericity == 1 {
		return nil
	}
	if l != HaiderLevenspiel {
		return fmt.Errorf("settling: the law of %v is for spheres, and the sphericity is %.4g; use HaiderLevenspiel", l, sphericity)
	}
	if sphericity < 0.5 {
		return fmt.Errorf("settling: the law of %v holds for grains of a sphericity of 0.5 or more, and here it is %.4g", l, sphericity)
	}
	return nil
}

func (l Law) holds(re, sphericity float64) error {
	low, high := l.limits(sphericity)
	if re >= low && re <= high {
		return nil
	}
	if low > 0 {
		return fmt.Errorf("settling: the law of %v holds from Re = %.3g to %.3g, and here Re = %.4g; use another law", l, low, high, re)
	}
	return fmt.Errorf("settling: the law of %v holds up to Re = %.3g, and here Re = %.4g; use another law", l, high, re)
}

// Drag is the drag coefficient of a particle, the force over the pressure ρv²/2
// on the section of a sphere of its volume.
//
// Units: reynolds and sphericity are plain numbers, and so is the result.
//
// Range: as the law's. Sphericity 1 is a sphere; less is for HaiderLevenspiel
// only, from 0.5 on.
//
// Errors: a Reynolds number not above 0 or outside the law's range, a sphericity
// outside 0 to 1 or that the law does not know.
//
// Source: as the law's comment says.
func Drag(law Law, reynolds, sphericity quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		re, err := v[0].Float()
		if err != nil || !(re > 0) {
			return quantity.Quantity{}, fmt.Errorf("settling: a Reynolds number is a plain number above 0, and %v is not", v[0])
		}
		s, err := v[1].Float()
		if err != nil {
			return quantity.Quantity{}, fmt.Errorf("settling: a sphericity is a plain number, and %v is not", v[1])
		}
		if err := law.check(s); err != nil {
			return quantity.Quantity{}, err
		}
		if err := law.holds(re, s); err != nil {
			return quantity.Quantity{}, err
		}
		return quantity.Number(law.coefficient(re, s)), nil
	}, reynolds, sphericity)
}

// Sphericity is the surface of a sphere of a body's volume over the surface of
// the body:
//
//	φ = π^(1/3)·(6V)^(2/3)/A
//
// Units: a volume and an area; a plain number.
//
// Range: above 0, up to 1 for a sphere.
//
// Errors: what is no volume or area or not above 0; a surface smaller than that
// of the sphere, which no body has.
//
// Source: H. Wadell, J. Geol. 40 (1932) 443 (reference from memory).
func Sphericity(volume, surface quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		volume, err := positive(v[0], "m³", "volume")
		if err != nil {
			return quantity.Quantity{}, err
		}
		surface, err := positive(v[1], "m²", "surface")
		if err != nil {
			return quantity.Quantity{}, err
		}
		s := math.Cbrt(math.Pi) * math.Pow(6*volume, 2.0/3) / surface
		if s > 1+1e-9 {
			return quantity.Quantity{}, fmt.Errorf("settling: no body of %v has a surface as small as %v; that of the sphere is %.4g times larger", v[0], v[1], s)
		}
		return quantity.Number(min(s, 1)), nil
	}, volume, surface)
}

// positive is the number of a quantity in an SI unit, above 0.
func positive(q quantity.Quantity, unit, what string) (float64, error) {
	x, err := q.Value(unit)
	if err != nil || q.IsNothing() {
		return 0, fmt.Errorf("settling: the %s is given in units such as %s, and %v is not", what, unit, q)
	}
	if !(x > 0) || math.IsInf(x, 0) {
		return 0, fmt.Errorf("settling: the %s is above 0, and %v is not", what, q)
	}
	return x, nil
}
