package quantity

import (
	"strconv"
	"strings"
)

// The base dimensions, in the order in which they are written.
const (
	length = iota
	mass
	duration
	current
	temperature
	amount
	luminous
	money
	baseCount
)

var baseNames = [baseCount]string{"length", "mass", "time", "electric current", "temperature", "amount of substance", "luminous intensity", "money"}
var baseSymbols = [baseCount]string{"m", "kg", "s", "A", "K", "mol", "cd", "currency"}

// Dimension is what a unit measures: a product of rational powers of length,
// mass, time, electric current, temperature, amount of substance, luminous
// intensity and money. The zero value is the dimension of a pure number.
// Dimensions compare with ==.
type Dimension struct {
	power [baseCount]exponent
}

func baseDimension(base int) Dimension {
	var d Dimension
	d.power[base] = whole(1)
	return d
}

// Mul is the dimension of a product.
func (d Dimension) Mul(e Dimension) Dimension {
	for i := range d.power {
		if !e.power[i].isZero() {
			d.power[i] = d.power[i].add(e.power[i])
		}
	}
	return d
}

// Div is the dimension of a quotient.
func (d Dimension) Div(e Dimension) Dimension { return d.Mul(e.raise(whole(-1))) }

// Pow is the dimension of the power num/den. It panics with a *DimensionError
// if den is 0 or the power is beyond 999.
func (d Dimension) Pow(num, den int) Dimension { return d.raise(mustExponent(num, den)) }

func (d Dimension) raise(e exponent) Dimension {
	for i := range d.power {
		if !d.power[i].isZero() {
			d.power[i] = d.power[i].mul(e)
		}
	}
	return d
}

// Equal reports whether both dimensions are the same.
func (d Dimension) Equal(e Dimension) bool { return d == e }

// IsOne reports whether this is the dimension of a pure number.
func (d Dimension) IsOne() bool { return d == Dimension{} }

// String names the dimension in words, for example "mass per time".
func (d Dimension) String() string {
	name, _ := d.describe()
	return name
}

// Example is a unit of this dimension, made of SI units, for example "kg/s";
// it is empty for a pure number. Money appears as the word "currency".
func (d Dimension) Example() string {
	_, unit := d.describe()
	return unit
}

// named are the dimensions that have a name in use, with an SI unit for each.
// Those at the head serve to build names for others: money per energy.
var named = []struct {
	base, name, unit string
}{
	{"kg", "mass", "kg"},
	{"s", "time", "s"},
	{"m2", "area", "m²"},
	{"m3", "volume", "m³"},
	{"m2 kg s-2", "energy", "J"},
	{"m2 kg s-3", "power", "W"},
	{"m", "length", "m"},
	{"K", "temperature", "K"},
	{"mol", "amount of substance", "mol"},
	{"currency", "money", "currency"},
	{"A", "electric current", "A"},
	{"cd", "luminous intensity", "cd"},
	{"m kg s-2", "force", "N"},
	{"m-1 kg s-2", "pressure", "Pa"},
	{"m s-1", "speed", "m/s"},
	{"m s-2", "acceleration", "m/s²"},
	{"m-3 kg", "mass per volume", "kg/m³"},
	{"m-2 kg", "mass per area", "kg/m²"},
	{"m3 kg-1", "volume per mass", "m³/kg"},
	{"kg s-1", "mass per time", "kg/s"},
	{"m3 s-1", "volume per time", "m³/s"},
	{"m-2 kg s-1", "mass per area and time", "kg/(m²·s)"},
	{"m2 s-2", "energy per mass", "J/kg"},
	{"kg s-3 K-1", "power per area and temperature", "W/(m²·K)"},
	{"m kg s-3 K-1", "power per length and temperature", "W/(m·K)"},
	{"m2 s-2 K-1", "energy per mass and temperature", "J/(kg·K)"},
	{"m-1 kg s-1", "viscosity", "Pa·s"},
	{"m2 s-1", "area per time", "m²/s"},
	{"m-1 A", "magnetic field strength", "A/m"},
	{"kg s-2 A-1", "magnetic flux density", "T"},
	{"m2 kg s-2 A-1", "magnetic flux", "Wb"},
	{"m2 A", "magnetic moment", "A·m²"},
	{"m2 kg-1 A", "magnetic moment per mass", "A·m²/kg"},
	{"s A", "electric charge", "C"},
	{"m2 kg s-3 A-1", "voltage", "V"},
	{"m kg s-3 A-1", "electric field strength", "V/m"},
	{"m2 kg s-3 A-2", "electric resistance", "Ω"},
	{"m-2 kg-1 s4 A2", "capacitance", "F"},
	{"m2 kg s-2 A-2", "inductance", "H"},
	{"s-1", "per time", "s⁻¹"},
	{"m-1", "per length", "m⁻¹"},
}

type description struct{ name, unit string }

var descriptions = func() map[Dimension]description {
	all := map[Dimension]description{{}: {"a pure number", ""}}
	for _, n := range named {
		d, err := parseBase(n.base)
		if err != nil {
			panic(err)
		}
		all[d] = description{n.name, n.unit}
	}
	return all
}()

// builders is how many entries at the head of named may stand after "per".
const builders = 7

func (d Dimension) describe() (name, unit string) {
	if known, ok := descriptions[d]; ok {
		return known.name, known.unit
	}
	for _, n := range named[:builders] {
		under, _ := parseBase(n.base)
		over, ok := descriptions[d.Mul(under)]
		if ok && !strings.Contains(over.name, "per ") && !d.Mul(under).IsOne() {
			return over.name + " per " + n.name, over.unit + "/" + n.unit
		}
	}
	return d.spell(baseNames, " times ", " per "), d.spell(baseSymbols, "·", "/")
}

// spell writes the base dimensions out, numerator first.
func (d Dimension) spell(names [baseCount]string, times, per string) string {
	var over, under []string
	for i, e := range d.power {
		switch e.sign() {
		case 1:
			over = append(over, names[i]+e.superscript())
		case -1:
			under = append(under, names[i]+e.neg().superscript())
		}
	}
	text := strings.Join(over, times)
	if len(under) == 0 {
		return text
	}
	if per != "/" {
		return strings.TrimSpace(text + per + strings.Join(under, " and "))
	}
	below := strings.Join(under, times)
	if len(under) > 1 {
		below = "(" + below + ")"
	}
	if text == "" {
		text = "1"
	}
	return text + per + below
}

// parseBase reads a product of powers of base units, such as "m2 kg s-3".
func parseBase(text string) (Dimension, error) {
	var d Dimension
	for _, field := range strings.Fields(text) {
		symbol := strings.TrimRight(field, "-0123456789")
		power := 1
		if rest := field[len(symbol):]; rest != "" {
			n, err := strconv.Atoi(rest)
			if err != nil {
				return Dimension{}, err
			}
			power = n
		}
		base := -1
		for i, s := range baseSymbols {
			if s == symbol {
				base = i
			}
		}
		if base < 0 {
			return Dimension{}, &UnitError{Text: text, Part: field, Reason: "not a base unit"}
		}
		d = d.Mul(baseDimension(base).Pow(power, 1))
	}
	return d, nil
}
