package magnetic

import (
	"math"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
)

// Field is the field of a row of alternating poles, as under the shell of a drum
// or in a roll, above the surface on which the grains lie. Its strength is taken
// as even along the surface, which a row of narrow poles comes near to.
type Field struct {
	Surface quantity.Quantity // flux density where the grains lie, as a gaussmeter reads it on the shell or belt
	Pitch   quantity.Quantity // from the middle of one pole to that of the next, of unlike sign
	Decay   quantity.Quantity // measured decay per length, as in 1/m; if stated, Pitch is not needed
}

// shape is a field in numbers. On a cylinder of radius R the harmonic of
// n = π·R/pitch pairs of poles falls as (R/(R + y))^(n + 1); on a plane, and by
// measurement, as exp(−k·y).
type shape struct {
	surface, decay, radius float64 // T, 1/m at the surface, m; radius +Inf where the decay is exponential
}

func (f Field) shape(r *fields.Reader, radius float64) shape {
	s := shape{surface: r.Positive("Field.Surface", f.Surface, "T"), radius: math.Inf(1)}
	if !f.Decay.IsNothing() {
		s.decay = r.Positive("Field.Decay", f.Decay, "1/m")
		return s
	}
	s.decay = math.Pi / r.Positive("Field.Pitch", f.Pitch, "m")
	if !math.IsInf(radius, 1) {
		s.decay += 1 / radius
		s.radius = radius
	}
	return s
}

// at is the flux density and its fall per length at a height.
func (s shape) at(height float64) (density, gradient float64) {
	if math.IsInf(s.radius, 1) {
		density = s.surface * math.Exp(-s.decay*height)
		return density, s.decay * density
	}
	density = s.surface * math.Pow(s.radius/(s.radius+height), s.decay*s.radius)
	return density, density * s.decay * s.radius / (s.radius + height)
}

// At is the flux density at a height above the surface:
//
//	B = B₀·exp(−π·y/p)                    on a plane
//	B = B₀·(R/(R + y))^(π·R/p + 1)        on a cylinder of radius R
//	B = B₀·exp(−k·y)                      with a measured decay k
//
// Units: height and radius are lengths, radius nothing for a plane; in T.
//
// Range: the field of the first harmonic. Close to the poles higher harmonics
// add to it; real arrays fall off a quarter to a third more slowly than π/p
// says, so measure at two heights and state Decay.
//
// Errors: a field that lacks Surface, or both Pitch and Decay; a height below 0; a
// radius not above 0.
//
// Source: Laplace's equation for one harmonic; K. Halbach, Nucl. Instrum. Methods
// 169 (1980) 1; measured decays: Sci. Rep. 15 (2025), s41598-025-32086-8, table 1.
func (f Field) At(height, radius quantity.Quantity) (quantity.Quantity, error) {
	return f.throughout(height, radius, func(density, _ float64) quantity.Quantity { return quantity.Of(density, "T") })
}

// Gradient is by how much the flux density falls per length at a height.
//
// Units: as At; in T/m.
//
// Range: as At.
//
// Errors: as At.
//
// Source: the derivative of At.
func (f Field) Gradient(height, radius quantity.Quantity) (quantity.Quantity, error) {
	return f.throughout(height, radius, func(_, gradient float64) quantity.Quantity { return quantity.Of(gradient, "T/m") })
}

func (f Field) throughout(height, radius quantity.Quantity, of func(density, gradient float64) quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("magnetic: a field")
		around := math.Inf(1)
		if !radius.IsNothing() {
			around = r.Positive("the radius", v[4], "m")
		}
		s := Field{v[0], fields.Keep(f.Pitch, v[1]), fields.Keep(f.Decay, v[2])}.shape(r, around)
		density, gradient := s.at(r.AtLeast("the height", v[3], "m", 0))
		return of(density, gradient), r.Err
	}, f.Surface, f.Pitch, f.Decay, height, radius)
}

// DecayBetween is the decay per length from flux densities at two heights,
//
//	k = ln(B₁/B₂)/(y₂ − y₁)
//
// for the field Decay.
//
// Units: flux densities as in mT or G, heights are lengths; in 1/m.
//
// Range: both heights in the burden's reach, and the probe at like places along
// the poles.
//
// Errors: densities not above 0, heights not rising, a field that grows with
// height.
//
// Source: B = B₀·exp(−k·y).
func DecayBetween(density1, height1, density2, height2 quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("magnetic: a decay")
		b1, b2 := r.Positive("the first flux density", v[0], "T"), r.Positive("the second flux density", v[2], "T")
		y1, y2 := r.Number("the first height", v[1], "m"), r.Number("the second height", v[3], "m")
		k := math.Log(b1/b2) / (y2 - y1)
		if !(y2 > y1) || !(k > 0) {
			r.Fail("the field falls with height; %v at %v and %v at %v do not", v[0], v[1], v[2], v[3])
		}
		return quantity.Of(k, "1/m"), r.Err
	}, density1, height1, density2, height2)
}
