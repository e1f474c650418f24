package settling

import (
	"errors"
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// Criterion is the concentration criterion of two minerals in a fluid,
//
//	CC = (ρh − ρf)/(ρl − ρf)
//
// a plain number that says how well they part by gravity. Ease puts it in words.
//
// Units: densities of the heavy and light mineral and of the fluid.
//
// Range: heavy above light above fluid.
//
// Errors: quantities that are no densities; an order other than that.
//
// Source: A.F. Taggart, Handbook of Mineral Dressing (1945), from memory.
func Criterion(heavy, light, fluid quantity.Quantity) (quantity.Quantity, error) {
	if err := order(heavy, light, fluid); err != nil {
		return quantity.Quantity{}, err
	}
	return heavy.Sub(fluid).Div(light.Sub(fluid)).To("1"), nil
}

func order(heavy, light, fluid quantity.Quantity) error {
	var x [3]float64
	for i, q := range []quantity.Quantity{heavy, light, fluid} {
		var err error
		if x[i], err = q.Value("kg/m³"); err != nil || !(x[i] >= 0) {
			return fmt.Errorf("settling: a density is given as in g/cm³, and %v is not", q)
		}
	}
	if !(x[0] > x[1] && x[1] > x[2]) {
		return fmt.Errorf("settling: the heavy mineral is heavier than the light one, and that than the fluid; %v, %v, %v are not in this order", heavy, light, fluid)
	}
	return nil
}

// Ease says in words what a concentration criterion promises.
//
// Units: criterion is a plain number, as from Criterion.
//
// Range: separations in water by jigs, tables and the like; a rule of thumb.
//
// Errors: a criterion with a dimension or not above 0.
//
// Source: Taggart's rule, after B.A. Wills, Mineral Processing Technology, ch.
// 10 (from memory).
func Ease(criterion quantity.Quantity) (string, error) {
	cc, err := criterion.Float()
	if err != nil || !(cc > 0) {
		return "", fmt.Errorf("settling: a concentration criterion is a plain number above 0, and %v is not", criterion)
	}
	switch {
	case cc > 2.5:
		return "easy, down to 75 µm", nil
	case cc > 1.75:
		return "possible down to 150 µm", nil
	case cc > 1.5:
		return "possible down to 1.7 mm", nil
	case cc > 1.25:
		return "possible down to 6 mm", nil
	}
	return "not possible at any size", nil
}

// EqualSettlingRatio is the ratio of the sizes of a light and a heavy particle
// that fall alike,
//
//	dl/dh = CC^n
//
// with the Criterion CC and n = 1/2 by the law of Stokes, 1 by that of Newton.
//
// Units: densities; a plain number.
//
// Range: Stokes for fine particles, Newton for coarse ones; between them
// EqualSettlingSize.
//
// Errors: densities as Criterion refuses them; another law.
//
// Source: both laws of drag; Coulson and Richardson, vol. 2, ch. 1.
func EqualSettlingRatio(heavy, light, fluid quantity.Quantity, law Law) (quantity.Quantity, error) {
	cc, err := Criterion(heavy, light, fluid)
	if err != nil {
		return quantity.Quantity{}, err
	}
	switch law {
	case Stokes:
		return cc.Sqrt(), nil
	case Newton:
		return cc, nil
	}
	return quantity.Quantity{}, fmt.Errorf("settling: the law of %v gives no ratio that holds for all sizes; use EqualSettlingSize", law)
}

// EqualSettlingSize is the size of a particle of another density that falls as
// fast as a given one, by any law: the d for which
//
//	Cd(Re)/Re = 4/3·g·µ·|ρ₂ − ρ|/(ρ²·v³),  d = Re·µ/(ρ·v)
//
// Units: the size in the unit of the particle's.
//
// Range: as Terminal, for both. The other particle has the sphericity of the
// first. The fluid is taken without slip.
//
// Errors: as Terminal; a density on the other side of the fluid's, so that one
// falls and the other rises; a fluid with a mean free path.
//
// Source: Terminal.
func EqualSettlingSize(p Particle, density quantity.Quantity, f Fluid, gravity quantity.Quantity, law Law) (quantity.Quantity, error) {
	if f.FreePath.SI() != 0 {
		return quantity.Quantity{}, errors.New("settling: equal settling with slip is not known here; leave out the mean free path, or compare falls by Terminal")
	}
	if f.IsVacuum() {
		return quantity.Quantity{}, errors.New("settling: in a vacuum all bodies fall alike")
	}
	if p.Sphericity.IsNothing() {
		p.Sphericity = quantity.Number(1)
	}
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		return equalSize(v, law)
	}, p.Size, p.Density, p.Sphericity, f.Density, f.Viscosity, quantity.Of(0, "m"), gravity, density)
}

func equalSize(v []quantity.Quantity, law Law) (quantity.Quantity, error) {
	fall, err := terminal(v[:7], law)
	if err != nil {
		return quantity.Quantity{}, err
	}
	other, err := positive(v[7], "kg/m³", "density of the particle")
	if err != nil {
		return quantity.Quantity{}, err
	}
	sphericity, density, viscosity, g := v[2].SI(), v[3].SI(), v[4].SI(), v[6].SI()
	speed := fall.Velocity.SI()
	if speed*(other-density) <= 0 {
		return quantity.Quantity{}, fmt.Errorf("settling: particles of %v and of %v do not move the same way in a fluid of %v", v[1], v[7], v[3])
	}
	speed = math.Abs(speed)
	wanted := 4.0 / 3 * g * viscosity * math.Abs(other-density) / (density * density * speed * speed * speed)
	low, high := math.Log(1e-12), math.Log(1e9) // Cd/Re falls
	for range 200 {
		middle := (low + high) / 2
		if re := math.Exp(middle); law.coefficient(re, sphericity)/re > wanted {
			low = middle
		} else {
			high = middle
		}
	}
	re := math.Exp((low + high) / 2)
	if err := law.holds(re, sphericity); err != nil {
		return quantity.Quantity{}, err
	}
	return quantity.Of(re*viscosity/(density*speed), "m").InUnit(v[0].Unit())
}

// SharpDensity is the least density of a fluid in which the largest light
// particle falls no faster than the smallest heavy one, so that a whole range of
// sizes can be parted by falling:
//
//	ρf = (dl^k·ρl − dh^k·ρh)/(dl^k − dh^k)
//
// with k = 2 by the law of Stokes and 1 by that of Newton.
//
// Units: sizes and densities; the result in the unit of the light density.
//
// Range: largest light size above the smallest heavy size. A result of 0 or
// less says that any fluid will do.
//
// Errors: quantities of another kind or not above 0, sizes the other way round,
// a heavy particle lighter than the light one, another law.
//
// Source: Coulson and Richardson, vol. 2, example 1.4.
func SharpDensity(light, heavy Particle, law Law) (quantity.Quantity, error) {
	power := map[Law]int{Stokes: 2, Newton: 1}[law]
	if power == 0 {
		return quantity.Quantity{}, fmt.Errorf("settling: the law of %v gives no formula for this; use Stokes or Newton", law)
	}
	for _, q := range []quantity.Quantity{light.Size, heavy.Size} {
		if _, err := positive(q, "m", "size"); err != nil {
			return quantity.Quantity{}, err
		}
	}
	if err := order(heavy.Density, light.Density, quantity.Of(0, "kg/m³")); err != nil {
		return quantity.Quantity{}, err
	}
	if !heavy.Size.Less(light.Size) {
		return quantity.Quantity{}, fmt.Errorf("settling: the largest light particle, %v, is not larger than the smallest heavy one, %v; they part in any fluid", light.Size, heavy.Size)
	}
	ratio := heavy.Size.Div(light.Size).To("1").Pow(power, 1)
	return light.Density.Sub(heavy.Density.Mul(ratio)).Div(quantity.Number(1).Sub(ratio)).To(light.Density.Unit().String()), nil
}
