package screening

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// Mesh is a screen of square openings between wires, at a slope.
type Mesh struct {
	Opening quantity.Quantity // clear width
	Wire    quantity.Quantity // thickness; left out: 0
	Slope   quantity.Quantity // angle to the horizontal; left out: 0
}

func (m Mesh) inputs() []quantity.Quantity {
	return []quantity.Quantity{m.Opening, or(m.Wire, quantity.Of(0, "m")), or(m.Slope, quantity.Of(0, "deg"))}
}

// mesh is a Mesh in numbers: m and radians.
type mesh struct{ opening, wire, slope float64 }

func readMesh(v []quantity.Quantity) (m mesh, err error) {
	if m.opening, err = positive(v[0], "m", "opening of the mesh"); err != nil {
		return m, err
	}
	if m.wire, err = notNegative(v[1], "m", "thickness of the wire"); err != nil {
		return m, err
	}
	if m.slope, err = angle(v[2], "slope", 0, 60); err != nil {
		return m, err
	}
	if m.through() <= 0 {
		return m, fmt.Errorf("screening: at a slope of %v the wires of %v hide the openings of %v", v[2], v[1], v[0])
	}
	return m, nil
}

// through is the opening that something falling straight down sees along the slope.
func (m mesh) through() float64 { return (m.opening+m.wire)*math.Cos(m.slope) - m.wire }

// chance is the chance of one try for a particle of a size.
func (m mesh) chance(size float64) float64 {
	pitch, through := m.opening+m.wire, m.through()
	if size >= min(m.opening, through) {
		return 0
	}
	return (through - size) * (m.opening - size) / (pitch * pitch * math.Cos(m.slope))
}

// OpenArea is the share of the mesh that is open,
//
//	(a/(a + w))²
//
// Units: in %.
//
// Range: square openings.
//
// Errors: lengths that are none, an opening not above 0, a slope outside 0 to 60° or that
// hides the openings.
//
// Source: geometry.
func (m Mesh) OpenArea() (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		n, err := readMesh(v)
		return quantity.Of(100*math.Pow(n.opening/(n.opening+n.wire), 2), "%"), err
	}, m.inputs()...)
}

// ThroughFall is the opening that something falling straight down sees,
//
//	(a + w)·cos θ − w
//
// Units: in the unit of the opening.
//
// Range: as OpenArea.
//
// Errors: as OpenArea.
//
// Source: geometry; V.K. Karra, CIM Bull. 72 (April 1979) 167.
func (m Mesh) ThroughFall() (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		n, err := readMesh(v)
		if err != nil {
			return quantity.Quantity{}, err
		}
		return quantity.Of(n.through(), "m").InUnit(v[0].Unit())
	}, m.inputs()...)
}

// Chance is the chance that a round particle falling straight down passes without
// touching,
//
//	(a − d)·((a + w)·cos θ − w − d)/((a + w)²·cos θ)
//
// which on a level mesh is ((a − d)/(a + w))².
//
// Units: size is a length; in %.
//
// Range: particles that come down anywhere alike. Grazing ones may pass too.
//
// Errors: as OpenArea; a size not above 0.
//
// Source: A.M. Gaudin, Principles of Mineral Dressing (1939), ch. 7.
func (m Mesh) Chance(size quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		n, err := readMesh(v)
		if err != nil {
			return quantity.Quantity{}, err
		}
		d, err := positive(v[3], "m", "size of the particle")
		return quantity.Of(100*n.chance(d), "%"), err
	}, append(m.inputs(), size)...)
}

// Stays is the share of particles of a size that have not passed after some tries,
//
//	(1 − p)^m
//
// Units: size is a length, tries a plain number; in %.
//
// Range: as Chance; tries that do not hang on each other.
//
// Errors: as Chance; tries below 0.
//
// Source: as Chance.
func (m Mesh) Stays(size, tries quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		n, err := readMesh(v)
		if err != nil {
			return quantity.Quantity{}, err
		}
		d, err := positive(v[3], "m", "size of the particle")
		if err != nil {
			return quantity.Quantity{}, err
		}
		k, err := notNegative(v[4], "1", "number of tries")
		return quantity.Of(100*stays(n.chance(d), k), "%"), err
	}, append(m.inputs(), size, tries)...)
}

func stays(chance, tries float64) float64 { return math.Exp(tries * math.Log1p(-chance)) }

// Helpers for all files of the package.

func positive(q quantity.Quantity, unit, what string) (float64, error) {
	x, err := q.Value(unit)
	if err != nil {
		if unit == "1" {
			unit = "a plain number"
		}
		return 0, fmt.Errorf("screening: the %s, %v, is not of the kind of %s", what, q, unit)
	}
	if !(x > 0) || math.IsInf(x, 0) {
		return 0, fmt.Errorf("screening: the %s is above 0, and %v is not", what, q)
	}
	return x, nil
}

func notNegative(q quantity.Quantity, unit, what string) (float64, error) {
	if x, err := q.Value(unit); err == nil && x == 0 {
		return 0, nil
	}
	return positive(q, unit, what)
}

func share(q quantity.Quantity, what string) (float64, error) {
	x, err := q.Float()
	if err != nil || !(x >= 0 && x <= 1) {
		return 0, fmt.Errorf("screening: the %s lies between 0 and 100 %%, and %v does not; write a percentage with its unit", what, q)
	}
	return x, nil
}

// angle is an angle in radians, from low to high in degrees.
func angle(q quantity.Quantity, what string, low, high float64) (float64, error) {
	x, err := q.Value("deg")
	if err != nil || !(x >= low && x <= high) {
		return 0, fmt.Errorf("screening: the %s is an angle from %g to %g°, and %v is not", what, low, high, q)
	}
	return x * math.Pi / 180, nil
}

func or(q, otherwise quantity.Quantity) quantity.Quantity {
	if q.IsNothing() {
		return otherwise
	}
	return q
}

// earth is standard gravity, which stands where no other is given.
var earth = quantity.Of(9.80665, "m/s²")
