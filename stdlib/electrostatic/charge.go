package electrostatic

import (
	"math"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
)

// LimitingCharge is the charge per surface whose field a gas just bears,
//
//	σ = ε₀·E
//
// 26.6 µC/m² in air of one atmosphere, with 3 MV/m.
//
// Units: field as in MV/m; in µC/m².
//
// Range: flat surfaces and grains above some 100 µm; around smaller ones the field
// falls off before it breaks the gas down, and they bear more. In a vacuum there
// is no such limit, only field emission, at some 1 GV/m.
//
// Errors: a field not above 0.
//
// Source: Gauss's law.
func LimitingCharge(field quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("electrostatic: a limit")
		return quantity.Of(vacuumPermittivity*r.Positive("the field", v[0], "V/m"), "C/m2").To("µC/m2"), r.Err
	}, field)
}

// PerMass is the charge per mass of a sphere with a charge per surface,
//
//	q/m = 6·σ/(ρ·d)
//
// Units: surface charge as in µC/m², size a length, density; in µC/kg.
//
// Range: spheres; rough grains have more surface.
//
// Errors: quantities of another kind; a size or density not above 0.
//
// Source: surface over mass of a sphere.
func PerMass(surfaceCharge, size, density quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("electrostatic: a charge")
		q := 6 * r.Number("the surface charge", v[0], "C/m2") / (r.Positive("the density", v[2], "kg/m3") * r.Positive("the size", v[1], "m"))
		return quantity.Of(q, "C/kg").To("µC/kg"), r.Err
	}, surfaceCharge, size, density)
}

// Contact is the charge per surface that touching leaves, by the condenser model:
// the contact potential charges the touched part across the gap that electrons
// still cross,
//
//	σ = s·ε₀·V/z
//
// with the sign of the potential. What the gas does not bear flows back.
//
// Units: potential in V, as the difference of the work functions over e; gap z a
// length, about 1 nm; touched s, the share of the surface that touches, as in %;
// in µC/m².
//
// Range: an estimate of the order only: potentials of insulators are effective ones
// and must be measured. Of two minerals the one of the lower work function becomes
// positive.
//
// Errors: a gap not above 0; a share outside 0 to 100 %.
//
// Source: S. Matsusaka et al., Chem. Eng. Sci. 65 (2010) 5781; the gap from memory.
func Contact(potential, gap, touched quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("electrostatic: a contact")
		sigma := r.Within("the touched share", v[2], "1", 0, 1, math.NaN()) * vacuumPermittivity * r.Number("the potential", v[0], "V") / r.Positive("the gap", v[1], "m")
		return quantity.Of(sigma, "C/m2").To("µC/m2"), r.Err
	}, potential, gap, touched)
}

// AfterContacts is the charge after a number of contacts on its way to what it
// would be after very many,
//
//	q = q∞·(1 − exp(−n/n₀))
//
// Units: final in any unit, as the result; contacts and constant n₀ are plain
// numbers.
//
// Range: contacts at like speed with a surface that does not itself charge up.
//
// Errors: contacts below 0, a constant not above 0.
//
// Source: S. Matsusaka et al., Chem. Eng. Sci. 65 (2010) 5781.
func AfterContacts(final, contacts, constant quantity.Quantity) (quantity.Quantity, error) {
	share, err := quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("electrostatic: contacts")
		n := r.Number("the number", v[0], "1")
		if n < 0 {
			r.Fail("the number is 0 or above, and %v is not", v[0])
		}
		return quantity.Number(-math.Expm1(-n / r.Positive("the constant", v[1], "1"))), r.Err
	}, contacts, constant)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return final.Mul(share).InUnit(final.Unit())
}

// Saturation is the greatest charge that ions give a sphere in a corona field, by
// Pauthenier,
//
//	Q = 4π·ε₀·R²·p·E,  p = 3·ε/(ε + 2)
//
// with p = 3 for a conductor.
//
// Units: size is the diameter; field as in kV/cm; permittivity ε relative to that
// of the vacuum, a plain number, nothing for a conductor; in pC.
//
// Range: spheres above a micrometre, free in the gas; on a roll about half the
// sphere is in the lee of the other.
//
// Errors: a size or field not above 0; a permittivity below 1.
//
// Source: M. Pauthenier, M. Moreau-Hanot, J. Phys. Radium 3 (1932) 590.
func Saturation(size, field, permittivity quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("electrostatic: corona charging")
		d, e := r.Positive("the size", v[0], "m"), r.Positive("the field", v[1], "V/m")
		eps := relative(r, fields.Keep(permittivity, v[2]))
		return quantity.Of(pauthenier(d, e, eps), "C").To("pC"), r.Err
	}, size, field, permittivity)
}

func relative(r *fields.Reader, q quantity.Quantity) float64 {
	if q.IsNothing() {
		return math.Inf(1)
	}
	eps := r.Number("the relative permittivity", q, "1")
	if !(eps >= 1) {
		r.Fail("the relative permittivity is 1 or above, and %v is not", q)
	}
	return eps
}

func pauthenier(size, field, permittivity float64) float64 {
	p := 3.0
	if !math.IsInf(permittivity, 1) {
		p = 3 * permittivity / (permittivity + 2)
	}
	return math.Pi * vacuumPermittivity * size * size * p * field
}

// ChargingShare is how far ions have charged a grain after a time,
//
//	Q/Qs = t/(t + τ),  τ = 4·ε₀/(N·e·b)
//
// Units: time; ions N per volume, as in 1/m3; mobility b as in m2/(V s); in %.
//
// Range: grains above a micrometre in an even flow of ions.
//
// Errors: a time below 0; ions or mobility not above 0.
//
// Source: as Saturation.
func ChargingShare(time, ions, mobility quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("electrostatic: corona charging")
		tau := 4 * vacuumPermittivity / (r.Positive("the number of ions", v[1], "1/m3") * elementaryCharge * r.Positive("the mobility", v[2], "m2/(V s)"))
		t := r.AtLeast("the time", v[0], "s", math.NaN())
		return quantity.Of(100*t/(t+tau), "%"), r.Err
	}, time, ions, mobility)
}

// Relaxation is the time in which charge leaves a material on an earthed
// surface, to a share of 1/e:
//
//	τ = ε₀·ε·ρ
//
// Grains with τ well below the time they lie on a roll act as conductors, those
// well above it as non-conductors.
//
// Units: resistivity as in Ω m, permittivity relative; in s.
//
// Range: bulk conduction; films of moisture on the surface make τ shorter.
//
// Errors: a resistivity not above 0, a permittivity below 1.
//
// Source: J.C. Maxwell; common practice.
func Relaxation(resistivity, permittivity quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("electrostatic: relaxation")
		tau := vacuumPermittivity * relative(r, v[1]) * r.Positive("the resistivity", v[0], "Ω m")
		return quantity.Of(tau, "s"), r.Err
	}, resistivity, permittivity)
}

// Constants of a conducting sphere on a conducting plane in an even field: its
// charge over 4π·ε₀·R²·E is π²/6, the force that lifts it over 4π·ε₀·R²·E² is
// ζ(3) + 1/6.
const (
	inducedCharge = math.Pi * math.Pi / 6
	liftingForce  = 1.2020569031595943 + 1.0/6
)

// Induced is the charge of a conducting sphere that lies on an electrode, and the
// force that lifts it:
//
//	Q = π²/6·4π·ε₀·R²·E,  F = (ζ(3) + 1/6)·4π·ε₀·R²·E²
//
// The force is 0.832 of Q·E.
//
// Units: size is the diameter, field as in kV/cm; in pC and µN.
//
// Range: a sphere on a plane, alone.
//
// Errors: a size or field not above 0.
//
// Source: N.N. Lebedev, I.P. Skal'skaya, Sov. Phys. Tech. Phys. 7 (1962) 268; N.J.
// Félici, Rev. Gén. Électr. 75 (1966) 1145 (references from memory).
func Induced(size, field quantity.Quantity) (charge, lift quantity.Quantity, err error) {
	of := func(f func(square, e float64) quantity.Quantity) (quantity.Quantity, error) {
		return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
			r := fields.Of("electrostatic: induction")
			d, e := r.Positive("the size", v[0], "m"), r.Positive("the field", v[1], "V/m")
			return f(math.Pi*vacuumPermittivity*d*d, e), r.Err
		}, size, field)
	}
	if charge, err = of(func(square, e float64) quantity.Quantity { return quantity.Of(inducedCharge*square*e, "C").To("pC") }); err != nil {
		return charge, lift, err
	}
	lift, err = of(func(square, e float64) quantity.Quantity { return quantity.Of(liftingForce*square*e*e, "N").To("µN") })
	return charge, lift, err
}

// Image is the force that holds a charged grain to the earthed surface it lies
// on, that of its image,
//
//	F = Q²/(4π·ε₀·d²)
//
// with the diameter d, as charge and image are d apart.
//
// Units: charge as in pC, size a length; in µN.
//
// Range: charge spread evenly over a sphere; patches near the surface hold more.
//
// Errors: a charge of another kind; a size not above 0.
//
// Source: method of images; W. Thomson (1848).
func Image(charge, size quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("electrostatic: an image force")
		q, d := r.Number("the charge", v[0], "C"), r.Positive("the size", v[1], "m")
		return quantity.Of(q*q/(4*math.Pi*vacuumPermittivity*d*d), "N").To("µN"), r.Err
	}, charge, size)
}
