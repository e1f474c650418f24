package electrostatic

import (
	"fmt"
	"math"
	"strings"

	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
)

// Gas is how a gas ionises: an electron makes α = A·p·exp(−B·p/E) pairs on a
// metre of its way, and an ion that reaches the cathode frees Secondary electrons.
type Gas struct {
	Name            string
	A, B            quantity.Quantity // as in 1/(Pa m) and V/(Pa m), at 293 K
	Secondary       quantity.Quantity // γ, a plain number; it depends on the cathode
	Lowest, Highest quantity.Quantity // between which E/p the law was fitted; nothing where that is not known
	Source          string
}

// ionising is the table of gases: A in 1/(cm·torr), B and the range of E/p in
// V/(cm·torr).
var ionising = []struct {
	name            string
	a, b, low, high float64
	source          string
}{
	{"air", 15, 365, 100, 800, "E.M. Bazelyan, Y.P. Raizer, Spark Discharge, p. 32, as quoted in the open; range from memory"},
	{"carbon dioxide", 20, 466, 0, 0, "A. von Engel, Ionized Gases (from memory)"},
	{"nitrogen", 11.8, 325, 0, 0, lieberman},
	{"argon", 11.5, 176, 0, 0, lieberman},
	{"hydrogen", 4.8, 136, 0, 0, lieberman},
}

const lieberman = "M.A. Lieberman, A.J. Lichtenberg, Principles of Plasma Discharges and Materials Processing, 2nd ed. (2005), table 14.1, as quoted in the open"

const torr = 101325.0 / 760 // Pa

// FindGas is a gas of the table: air, carbon dioxide, nitrogen, argon or
// hydrogen. Its Secondary is 0.01, a usual value for metals.
//
// Units: as Gas.
//
// Range: fits near the minimum of Paschen's curve; elsewhere and with other
// cathodes expect errors of some tens of per cent. For Mars take carbon dioxide.
//
// Errors: a name that the table lacks.
//
// Source: that of each gas, in its field Source; γ = 0.01: common practice.
func FindGas(name string) (Gas, error) {
	var names []string
	for _, g := range ionising {
		if strings.EqualFold(name, g.name) {
			gas := Gas{g.name, quantity.Of(100*g.a/torr, "1/(Pa m)"), quantity.Of(100*g.b/torr, "V/(Pa m)"), quantity.Number(0.01),
				quantity.Quantity{}, quantity.Quantity{}, g.source}
			if g.high > 0 {
				gas.Lowest, gas.Highest = quantity.Of(100*g.low/torr, "V/(Pa m)"), quantity.Of(100*g.high/torr, "V/(Pa m)")
			}
			return gas, nil
		}
		names = append(names, g.name)
	}
	return Gas{}, fmt.Errorf("electrostatic: there is no gas %q in the table, which has %s; any Gas can be stated", name, strings.Join(names, ", "))
}

func (g *Gas) fields() []*quantity.Quantity {
	return []*quantity.Quantity{&g.A, &g.B, &g.Secondary, &g.Lowest, &g.Highest}
}

// avalanche is a gas in numbers.
type avalanche struct{ a, b, threshold, low, high float64 }

func (g Gas) avalanche() (avalanche, error) {
	r := fields.Of("electrostatic: " + g.Name)
	v := avalanche{r.Positive("A", g.A, "1/(Pa m)"), r.Positive("B", g.B, "V/(Pa m)"), math.Log1p(1 / r.Positive("Secondary", g.Secondary, "1")),
		r.AtLeast("Lowest", g.Lowest, "V/(Pa m)", 0), r.AtLeast("Highest", g.Highest, "V/(Pa m)", math.Inf(1))}
	return v, r.Err
}

// reference is the temperature for which A and B stand; what counts is how many
// molecules are in the way.
const reference = 293.15

// reduced is the product of pressure and gap at the reference temperature.
func reduced(r *fields.Reader, pressure, gap, temperature quantity.Quantity) float64 {
	t := reference
	if !temperature.IsNothing() {
		t = r.Positive("the temperature", temperature, "K")
	}
	return r.Positive("the pressure", pressure, "Pa") * r.Positive("the gap", gap, "m") * reference / t
}

// Breakdown is the voltage between flat electrodes at which the gas breaks down,
// by Paschen's law:
//
//	V = B·p·d/(ln(A·p·d) − ln ln(1 + 1/γ))
//
// with p at 20 °C for the same density of gas. In air, where E/p falls below the
// law's range, that is with p·d above some 16 Pa·m, it is V = 24.22·x + 6.08·√x kV
// with x = p·d over 1013.25 Pa·m.
//
// Units: pressure, gap, a length, and temperature; temperature nothing for 20 °C;
// in V or kV.
//
// Range: even fields, between clean metal. Points, edges, and dust on plates
// break down far earlier. Left of the minimum short gaps bear more than long ones,
// and a discharge then takes the longer way round.
//
// Errors: a gas that lacks a figure; quantities not above 0; p·d so small that no
// voltage ionises enough; E/p outside Lowest to Highest.
//
// Source: F. Paschen, Ann. Phys. 273 (1889) 69; J.S. Townsend; air: M.S. Naidu, V.
// Kamaraju, High Voltage Engineering, ch. 2.
func (g Gas) Breakdown(pressure, gap, temperature quantity.Quantity) (quantity.Quantity, error) {
	return g.through(func(one Gas, a avalanche, v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("electrostatic: " + g.Name)
		product := reduced(r, v[0], v[1], fields.Keep(temperature, v[2]))
		if r.Err != nil {
			return quantity.Quantity{}, r.Err
		}
		volts, err := a.breakdown(product, strings.EqualFold(g.Name, "air"))
		if err != nil {
			return quantity.Quantity{}, fmt.Errorf("electrostatic: %s at %v over %v: %w", g.Name, v[0], v[1], err)
		}
		return inVolts(volts), nil
	}, pressure, gap, temperature)
}

func inVolts(volts float64) quantity.Quantity {
	if volts >= 1000 {
		return quantity.Of(volts, "V").To("kV")
	}
	return quantity.Of(volts, "V")
}

func (a avalanche) breakdown(product float64, air bool) (float64, error) {
	under := math.Log(a.a * product / a.threshold)
	if !(under > 0) {
		return 0, fmt.Errorf("the gap holds too little gas for an avalanche; Paschen's law ends at p·d = %s", quantity.Of(a.threshold/a.a, "Pa m"))
	}
	reduced := a.b / under // E/p
	if air && reduced < a.low {
		x := product / 1013.25
		return 1000 * (24.22*x + 6.08*math.Sqrt(x)), nil
	}
	if !(reduced >= a.low && reduced <= a.high) {
		return 0, fmt.Errorf("E/p would be %s, and the figures of the gas hold from %s to %s", quantity.Of(reduced, "V/(Pa m)"), quantity.Of(a.low, "V/(Pa m)"), quantity.Of(a.high, "V/(Pa m)"))
	}
	return reduced * product, nil
}

// through carries the uncertainty of a gas's figures and of others into a result.
func (g Gas) through(f func(one Gas, a avalanche, v []quantity.Quantity) (quantity.Quantity, error), others ...quantity.Quantity) (quantity.Quantity, error) {
	return fields.Through(g.fields(), func(put func([]*quantity.Quantity), v []quantity.Quantity) (quantity.Quantity, error) {
		one := g
		put(one.fields())
		a, err := one.avalanche()
		if err != nil {
			return quantity.Quantity{}, err
		}
		return f(one, a, v)
	}, others...)
}

// Minimum is the least voltage at which the gas breaks down in any even gap, and
// the product of pressure and gap where it does:
//
//	p·d = e·ln(1 + 1/γ)/A,  V = B·p·d
//
// No voltage below it sparks, whatever the gap.
//
// Units: in V and Pa·m, at 20 °C.
//
// Range: as Breakdown; no check of E/p, which is B there.
//
// Errors: a gas that lacks a figure.
//
// Source: the minimum of Paschen's law.
func (g Gas) Minimum() (voltage, product quantity.Quantity, err error) {
	of := func(f func(a avalanche) quantity.Quantity) (quantity.Quantity, error) {
		return g.through(func(_ Gas, a avalanche, _ []quantity.Quantity) (quantity.Quantity, error) { return f(a), nil })
	}
	product, err = of(func(a avalanche) quantity.Quantity { return quantity.Of(math.E*a.threshold/a.a, "Pa m") })
	if err != nil {
		return voltage, product, err
	}
	voltage, err = of(func(a avalanche) quantity.Quantity { return quantity.Of(a.b*math.E*a.threshold/a.a, "V") })
	return voltage, product, err
}

// Ionisation is Townsend's first coefficient, the pairs that an electron makes on
// a length,
//
//	α = A·p·exp(−B·p/E)
//
// Units: pressure and field strength, as in V/m; in 1/m.
//
// Range: E/p from Lowest to Highest, at 20 °C.
//
// Errors: a gas that lacks a figure; quantities not above 0; E/p outside the range.
//
// Source: J.S. Townsend, Electricity in Gases (1915).
func (g Gas) Ionisation(pressure, field quantity.Quantity) (quantity.Quantity, error) {
	return g.through(func(one Gas, a avalanche, v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("electrostatic: " + g.Name)
		p, e := r.Positive("the pressure", v[0], "Pa"), r.Positive("the field", v[1], "V/m")
		if reduced := e / p; r.Err == nil && !(reduced >= a.low && reduced <= a.high) {
			r.Fail("E/p is %s, and the figures of the gas hold from %s to %s", quantity.Of(reduced, "V/(Pa m)"), one.Lowest, one.Highest)
		}
		return quantity.Of(a.a*p*math.Exp(-a.b*p/e), "1/m"), r.Err
	}, pressure, field)
}

// Corona is the field at the surface of a wire at which air glows, by Peek's law
// with the constants for two parallel wires, rounded:
//
//	E = 30·m·δ·(1 + 0.3/√(δ·r))  kV/cm, peak
//
// with δ the density of air over that of 101.325 kPa and 25 °C, and r in cm.
//
// Units: radius is a length; pressure and temperature; roughness m from 0 to 1,
// nothing for 1, smooth; in kV/cm.
//
// Range: air, wires of millimetres to centimetres. For a wire along the middle of a
// cylinder Peek has 31 and 0.308, which is 3 to 6 % more; a wire beside a roll lies
// between the two and was not measured, so take the lower figure, which is this one.
//
// Errors: quantities not above 0; a roughness outside the range.
//
// Source: F.W. Peek, Dielectric Phenomena in High Voltage Engineering (1929), as
// quoted in the open; which constants belong to which wires: from memory.
func Corona(radius, pressure, temperature, roughness quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("electrostatic: corona")
		radius := 100 * r.Positive("the radius", v[0], "m")
		delta := r.Positive("the pressure", v[1], "Pa") / 101325 * 298.15 / r.Positive("the temperature", v[2], "K")
		m := r.Within("the roughness", fields.Keep(roughness, v[3]), "1", 0, 1, 1)
		return quantity.Of(30*m*delta*(1+0.3/math.Sqrt(delta*radius)), "kV/cm"), r.Err
	}, radius, pressure, temperature, roughness)
}
