package quantity

import (
	"math/big"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// atom is one unit of the table, with its prefix if it has one: kg, h, USD.
type atom struct {
	id         int
	symbol     string // as written alone
	inCompound string // as written beside other units, where that differs
	name       string
	plural     string
	size       factor
	dimension  Dimension
	mark       string   // currency or other thing without a fixed rate
	angle      bool     // radian, degree, revolution
	kind       string   // of a fraction: mass fraction, volume fraction
	basis      string   // in what state something is weighed or measured: dry, wet, bank, loose
	zero       *big.Rat // of a temperature scale: what to add to reach absolute zero
	difference *atom    // of a temperature scale: its unit as a difference
	isDelta    bool     // a temperature difference
	declared   bool     // by Declare, not in the table
	prefix     string
	unprefixed *atom
	madeOf     []term // kWh is kept as kW·h, so that kWh/h is kW
}

func (a *atom) isFraction() bool {
	return a.dimension.IsOne() && a.mark == "" && !a.angle
}

func (a *atom) sameSort(b *atom) bool {
	return a.dimension == b.dimension && a.mark == b.mark && a.angle == b.angle &&
		(a.basis == b.basis || a.basis == "" || b.basis == "")
}

type term struct {
	atom  *atom
	power exponent
}

// unit is a product of powers of atoms. Units are interned: two units with the
// same terms are the same pointer.
type unit struct {
	id         uint32
	terms      []term
	symbol     string
	size       factor
	num, den   float64 // SI value = value * num / den + shift
	shift      float64
	dimension  Dimension
	marks      string
	angle      exponent
	bareRadian bool // every angle in it is in radians, which may be dropped
	kind       string
	basis      string // of its parts, in an order of their own: dry, dry/wet
	mixed      bool   // a wet tonne stands against a dry one, beside other units
	reading    bool   // a point on a temperature scale, not an amount
	isDelta    bool
}

// Unit is a unit of measure, such as t/h. The zero Unit is that of a pure number.
type Unit struct{ u *unit }

var units = struct {
	sync.Mutex
	byKey map[string]*unit
}{byKey: map[string]*unit{}}

// one is the unit of a pure number.
var one = intern(nil)

// intern puts what is above the stroke first, as it is written.
func intern(terms []term) *unit {
	terms = slices.Clone(terms)
	slices.SortStableFunc(terms, func(a, b term) int { return b.power.sign() - a.power.sign() })
	key := make([]byte, 0, 64)
	for _, t := range terms {
		key = strconv.AppendInt(key, int64(t.atom.id), 36)
		key = append(key, '^')
		key = append(key, t.power.String()...)
		key = append(key, ' ')
	}
	units.Lock()
	defer units.Unlock()
	if u, ok := units.byKey[string(key)]; ok {
		return u
	}
	u := newUnit(terms)
	u.id = uint32(len(units.byKey))
	units.byKey[string(key)] = u
	return u
}

func newUnit(terms []term) *unit {
	u := &unit{terms: terms, size: unity(), bareRadian: true, symbol: spellTerms(terms, plainText)}
	var marks, bases []term
	for _, t := range terms {
		u.size = u.size.mul(t.atom.size.pow(t.power))
		u.dimension = u.dimension.Mul(t.atom.dimension.raise(t.power))
		if t.atom.angle {
			u.angle = u.angle.add(t.power)
			u.bareRadian = u.bareRadian && t.atom.size.isOne()
		}
		if t.atom.mark != "" {
			marks = append(marks, term{&atom{symbol: t.atom.mark}, t.power})
		}
		if t.atom.basis != "" {
			bases = append(bases, term{&atom{symbol: t.atom.basis}, t.power})
		}
	}
	u.marks, u.basis = spellMarks(marks), spellMarks(bases)
	u.mixed = len(terms) > 2 && strings.Contains(u.basis, "/")
	u.num, u.den = u.size.split()
	u.kind = fractionKind(terms)
	if len(terms) == 1 && terms[0].power.isOne() {
		a := terms[0].atom
		u.isDelta = a.isDelta
		if a.zero != nil {
			u.reading = true
			u.shift, _ = new(big.Rat).Mul(a.zero, a.size.rational).Float64()
		}
	}
	return u
}

// spellMarks writes the currencies or the states of a unit in an order of their own, for the
// order in which units were written must not matter.
func spellMarks(marks []term) string {
	slices.SortFunc(marks, func(a, b term) int { return strings.Compare(a.atom.symbol, b.atom.symbol) })
	var joined []term
	for _, m := range marks {
		if last := len(joined) - 1; last >= 0 && joined[last].atom.symbol == m.atom.symbol {
			joined[last].power = joined[last].power.add(m.power)
		} else {
			joined = append(joined, m)
		}
	}
	joined = slices.DeleteFunc(joined, func(m term) bool { return m.power.isZero() })
	return spellTerms(joined, plainText)
}

// fractionKind tells fractions of mass, volume and amount apart: g/t is not
// a fraction of volume, and a sum of the two is a mistake.
func fractionKind(terms []term) string {
	if len(terms) == 1 && terms[0].power.isOne() {
		return terms[0].atom.kind
	}
	if len(terms) != 2 {
		return ""
	}
	over := terms[0].atom.dimension.raise(terms[0].power)
	if !over.Mul(terms[1].atom.dimension.raise(terms[1].power)).IsOne() || terms[0].atom.mark != "" {
		return ""
	}
	switch over {
	case baseDimension(mass):
		return "mass fraction"
	case baseDimension(length).Pow(3, 1):
		return "volume fraction"
	case baseDimension(amount):
		return "amount fraction"
	}
	return ""
}

func (u Unit) real() *unit {
	if u.u == nil {
		return one
	}
	return u.u
}

// Symbol is the unit as printed, for example "g/(m²·s)"; empty for a pure number.
func (u Unit) Symbol() string { return u.real().symbol }

// String is the unit as printed, for example "kWh/t"; empty for a pure number.
func (u Unit) String() string { return u.real().symbol }

// Dimension is what the unit measures.
func (u Unit) Dimension() Dimension { return u.real().dimension }

// Compatible reports whether quantities in the two units can be compared and
// added. It is stricter than equal dimensions: currencies, revolutions per
// minute and hertz, and fractions of mass and of volume stay apart, and so do
// readings of a temperature scale and temperature differences.
func (u Unit) Compatible(v Unit) bool {
	return unlike(u.real(), v.real()) == "" && u.Dimension() == v.Dimension()
}

// IsReading reports whether the unit is a temperature scale with its own zero
// (°C, °F), whose readings cannot be added or multiplied.
func (u Unit) IsReading() bool { return u.real().reading }

// Quantity is value in this unit.
func (u Unit) Quantity(value float64) Quantity { return Quantity{value: value, unit: u.real()} }
