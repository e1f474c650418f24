package electrostatic

import (
	"fmt"
	"math"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
)

// Atmosphere is what is between the electrodes. The zero Atmosphere is air of
// 101.325 kPa and 20 °C.
type Atmosphere struct {
	Vacuum                bool // nothing is there: no drag, no breakdown of a gas, no corona; electrodes bear 30 MV/m, grains 1 GV/m
	Gas                   Gas  // nothing for air
	Pressure, Temperature quantity.Quantity
	Density, Viscosity    quantity.Quantity // for drag; may be left out for air
}

// surroundings is an atmosphere in numbers.
type surroundings struct {
	vacuum             bool
	product            float64 // pressure at the reference temperature, Pa
	gas                avalanche
	air                bool
	density, viscosity float64
}

func (a Atmosphere) read(of string) (surroundings, error) {
	if a.Vacuum {
		return surroundings{vacuum: true}, nil
	}
	var err error
	if a.Gas.A.IsNothing() && a.Gas.B.IsNothing() {
		if a.Gas, err = FindGas("air"); err != nil {
			return surroundings{}, err
		}
	}
	s := surroundings{air: a.Gas.Name == "air"}
	if s.gas, err = a.Gas.avalanche(); err != nil {
		return s, err
	}
	r := fields.Of("electrostatic: " + of)
	pressure, kelvin := 101325.0, reference
	if !a.Pressure.IsNothing() {
		if pressure = r.Positive("Atmosphere.Pressure", a.Pressure, "Pa"); !(pressure > 0) {
			r.Fail("Atmosphere.Pressure is above 0; set Vacuum where there is nothing")
		}
	}
	if !a.Temperature.IsNothing() {
		kelvin = r.Positive("Atmosphere.Temperature", a.Temperature, "K")
	}
	s.product = pressure * reference / kelvin
	if s.air {
		// Ideal gas of 28.96 g/mol; viscosity by Sutherland's law, constants of the US
		// Standard Atmosphere (1976).
		s.density, s.viscosity = pressure*0.0289644/(8.314462618*kelvin), 1.458e-6*math.Pow(kelvin, 1.5)/(kelvin+110.4)
	}
	if !s.air || !a.Density.IsNothing() || !a.Viscosity.IsNothing() {
		s.density, s.viscosity = r.Positive("Atmosphere.Density", a.Density, "kg/m3"), r.Positive("Atmosphere.Viscosity", a.Viscosity, "Pa s")
	}
	return s, r.Err
}

func (a *Atmosphere) fields() []*quantity.Quantity {
	return append(a.Gas.fields(), &a.Pressure, &a.Temperature, &a.Density, &a.Viscosity)
}

// Fields at which metal electrodes and small grains give off electrons in a
// vacuum, V/m; orders of magnitude from memory, as texts on high voltage and on
// field emission give them.
const (
	vacuumGap   = 30e6
	vacuumGrain = 1e9
)

// charge is the charge per surface that grains bear between electrodes a gap apart,
// C/m².
func (s surroundings) charge(gap float64) (float64, error) {
	if s.vacuum {
		return vacuumPermittivity * vacuumGrain, nil
	}
	field, err := s.bears(gap)
	return vacuumPermittivity * field, err
}

// bears is the even field that a gap bears, V/m.
func (s surroundings) bears(gap float64) (float64, error) {
	if s.vacuum {
		return vacuumGap, nil
	}
	volts, err := s.gas.breakdown(s.product*gap, s.air)
	if err != nil {
		return 0, fmt.Errorf("electrostatic: between the electrodes: %w", err)
	}
	return volts / gap, nil
}

// drag is the deceleration per velocity, 1/s, of a sphere at a speed, by Schiller's
// and Naumann's law, and Newton's above Re = 1000.
func (s surroundings) drag(size, density, speed float64) float64 {
	if s.vacuum {
		return 0
	}
	re := s.density * speed * size / s.viscosity
	factor := 1 + 0.15*math.Pow(re, 0.687)
	if re > 1000 {
		factor = 0.44 * re / 24
	}
	return 18 * s.viscosity * factor / (density * size * size)
}
