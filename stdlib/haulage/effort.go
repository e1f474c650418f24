package haulage

import (
	"math"

	"cobber/stdlib/quantity"
)

// Pull is what a road resists with: rolling and grade together,
//
//	F = m·g·(r·cos θ + sin θ),  tan θ the grade
//
// Units: mass; rolling and grade are plain numbers or %, grade below 0 downhill;
// gravity an acceleration, nothing for the Earth's. The result in kN, below 0
// where the slope pushes more than rolling holds.
//
// Range: grades to 50 %, steady speed. Handbooks leave out cos and take sin for
// tan: at 10 % that is half a per cent more.
//
// Errors: quantities of another kind or outside their range.
//
// Source: balance of forces; as in S.W. Nunnally, Construction Methods and
// Management.
func Pull(mass, rolling, grade, gravity quantity.Quantity) (quantity.Quantity, error) {
	if gravity.IsNothing() {
		gravity = quantity.Of(9.80665, "m/s²")
	}
	return through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		f, err := pull(v[0], v[1], v[2], v[3])
		return quantity.Of(f/1000, "kN"), err
	}, mass, rolling, grade, gravity)
}

func pull(mass, rolling, grade, gravity quantity.Quantity) (float64, error) {
	m, err := number(mass, "kg", "mass", 0, infinite)
	if err != nil {
		return 0, err
	}
	g, err := gravityOf(gravity)
	if err != nil {
		return 0, err
	}
	share, err := resisting(rolling, grade)
	return m * g * share, err
}

// resisting is the share of the weight that rolling and a grade take.
func resisting(rolling, grade quantity.Quantity) (float64, error) {
	r, err := number(rolling, "1", "rolling resistance", 0, 1)
	if err != nil {
		return 0, err
	}
	s, err := number(grade, "1", "grade", -0.5, 0.5)
	if err != nil {
		return 0, err
	}
	along := math.Hypot(1, s)
	return (r + s) / along, nil
}

// Rimpull is the force that a drive brings to the road at a speed:
//
//	F = η·P/v
//
// Units: a power, a plain number or %, a speed; the result in kN.
//
// Range: below what the ground holds; see Grip.
//
// Errors: quantities of another kind, a speed that is not above 0, an efficiency
// outside 0 to 1.
//
// Source: the definition of power; handbooks print 375·hp·η/mph, in lb.
func Rimpull(power, efficiency, speed quantity.Quantity) (quantity.Quantity, error) {
	if _, err := number(power, "kW", "power", 0, infinite); err != nil {
		return quantity.Quantity{}, err
	}
	if _, err := number(efficiency, "1", "efficiency", least, 1); err != nil {
		return quantity.Quantity{}, err
	}
	if _, err := number(speed, "m/s", "speed", least, infinite); err != nil {
		return quantity.Quantity{}, err
	}
	return power.Mul(efficiency).Div(speed).To("kN"), nil
}

// Grip is the greatest force that driven wheels can bring to the ground:
//
//	F = µ·m·g·cos θ
//
// Units: mass is that on driven wheels; friction and grade plain numbers; gravity
// nothing for the Earth's. The result in kN.
//
// Range: grades to 50 %.
//
// Errors: quantities of another kind or outside their range.
//
// Source: Coulomb friction; common practice.
func Grip(mass, friction, grade, gravity quantity.Quantity) (quantity.Quantity, error) {
	if _, err := number(mass, "kg", "mass on driven wheels", 0, infinite); err != nil {
		return quantity.Quantity{}, err
	}
	if _, err := number(friction, "1", "friction", 0, 2); err != nil {
		return quantity.Quantity{}, err
	}
	upright, err := quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		s, err := number(v[0], "1", "grade", -0.5, 0.5)
		return quantity.Number(1 / math.Hypot(1, s)), err
	}, grade)
	if err != nil {
		return quantity.Quantity{}, err
	}
	if _, err := gravityOf(gravity); err != nil {
		return quantity.Quantity{}, err
	}
	if gravity.IsNothing() {
		gravity = quantity.Of(9.80665, "m/s²")
	}
	return mass.Mul(friction).Mul(gravity).Mul(upright).To("kN"), nil
}

// Effort is what it takes to start a vehicle or train while it rolls and climbs:
//
//	F = m·(1 + w)·a + Pull
//
// where w is what turning wheels add to the mass that is to be sped up.
//
// Units: acceleration, as in m/s²; turning, rolling and grade plain numbers or %;
// gravity nothing for the Earth's. The result in kN.
//
// Range: as Pull.
//
// Errors: quantities of another kind or outside their range.
//
// Source: balance of forces, as in railway problems: B.L. Theraja, A Textbook of
// Electrical Technology, vol. 3, ch. 43.
func Effort(mass, acceleration, turning, rolling, grade, gravity quantity.Quantity) (quantity.Quantity, error) {
	steady, err := Pull(mass, rolling, grade, gravity)
	if err != nil {
		return quantity.Quantity{}, err
	}
	if _, err := number(acceleration, "m/s²", "acceleration", -infinite, infinite); err != nil {
		return quantity.Quantity{}, err
	}
	if _, err := number(turning, "1", "share of turning masses", 0, 1); err != nil {
		return quantity.Quantity{}, err
	}
	starting := mass.Mul(quantity.Number(1).Add(turning)).Mul(acceleration).To("kN")
	return starting.Add(steady), nil
}

// Starting is the energy that brings a mass from one speed to another,
//
//	E = m·(1 + w)·(v₂² − v₁²)/2
//
// Units: speeds; turning a plain number as for Effort; the result in kJ, below 0
// for slowing down.
//
// Range: any speed met in haulage.
//
// Errors: quantities of another kind or below 0.
//
// Source: kinetic energy; W.L. Webb, Economics of Railroad Construction, §120.
func Starting(mass, from, to, turning quantity.Quantity) (quantity.Quantity, error) {
	if _, err := number(mass, "kg", "mass", 0, infinite); err != nil {
		return quantity.Quantity{}, err
	}
	for _, speed := range []quantity.Quantity{from, to} {
		if _, err := number(speed, "m/s", "speed", 0, infinite); err != nil {
			return quantity.Quantity{}, err
		}
	}
	if _, err := number(turning, "1", "share of turning masses", 0, 1); err != nil {
		return quantity.Quantity{}, err
	}
	half := quantity.Number(0.5).Mul(quantity.Number(1).Add(turning))
	return mass.Mul(half).Mul(to.Mul(to).Sub(from.Mul(from))).To("kJ"), nil
}
