package screening

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Condition is how moist what is screened without spray is.
type Condition int

// The conditions.
const (
	Dry    Condition = iota // flows freely: factor 1
	Damp                    // moist on its surface: 0.85
	Sticky                  // moist, with fines that cling: 0.75
)

// String is the condition in a word.
func (c Condition) String() string {
	switch c {
	case Dry:
		return "dry"
	case Damp:
		return "damp"
	case Sticky:
		return "sticky"
	}
	return fmt.Sprintf("condition %d", int(c))
}

func (c Condition) factor() (float64, error) {
	if c < Dry || c > Sticky {
		return 0, fmt.Errorf("screening: there is no %v", c)
	}
	return [...]float64{1, 0.85, 0.75}[c], nil
}

// Load is what a deck is fed, told against the opening that a falling particle sees
// (Mesh.ThroughFall), and how it is screened.
type Load struct {
	Oversize  quantity.Quantity // share of the feed coarser than the opening
	HalfSize  quantity.Quantity // share finer than half the opening
	NearSize  quantity.Quantity // share from 0.75 to 1.25 of the opening
	Deck      int               // 1 the uppermost, 2 the next; left out: 1
	Bulk      quantity.Quantity // bulk density of the feed
	Spray     bool              // water is sprayed on the deck
	Condition Condition         // without spray
	Gravity   quantity.Quantity // left out: the Earth's
}

// Capacity is the mass of undersize that passes a square metre an hour, with its factors.
type Capacity struct {
	Names   []string
	Factors []quantity.Quantity // the basic capacity in t/(h·m²), then plain numbers
	PerArea quantity.Quantity   // the product of all but the last
	Near    quantity.Quantity   // that product with the near-size factor too, for choosing an area
}

var factorNames = []string{"basic capacity, A", "oversize, B", "half-size, C", "deck, D", "spray, E", "bulk density, F",
	"condition", "gravity, √(g/g0)", "near-size, N"}

// CapacityOf is what a deck can pass,
//
//	A·B·C·D·E·F, with h the opening seen in mm and T = 1.26·h
//	A = 12.13·h^0.3162 − 10.30 below 51 mm, 0.3388·h + 14.41 above, in t/(h·m²)
//	B = 1.6 − 0.012·Q up to 87 % oversize Q, 4.275 − 0.0425·Q above
//	C = 0.012·R + 0.7 … 0.05·R − 1.5 by the half-size R
//	D = 1.1 − 0.1·deck;  E from 1 to 2.5 by T with spray;  F = bulk density/1602 kg/m³
//	N = 0.844·(1 − X)^3.453 by the near-size X
//
// times 0.85 or 0.75 where damp or sticky, and √(g/g0): at like throw numbers and depth
// of bed all speeds go so.
//
// Units: as Load; t/(h·m²).
//
// Range: woven square mesh from 1 to 100 mm; oversize up to 99 %; three decks.
//
// Errors: as Mesh.ThroughFall; shares outside 0 to 100 %, or that contradict each other;
// a bulk density not above 0; openings outside the range.
//
// Source: V.K. Karra, CIM Bull. 72 (April 1979) 167, as in R.P. King, Modeling and
// Simulation of Mineral Processing Systems (2001), ch. 4 (constants from memory, which
// join at all their limits); condition: factors of the trade, from memory; gravity: likeness
// of motions, unproved by tests.
func CapacityOf(m Mesh, l Load) (Capacity, error) {
	condition, err := l.Condition.factor()
	if err != nil {
		return Capacity{}, err
	}
	c := Capacity{Names: factorNames, PerArea: quantity.Of(1, "t/(h*m2)")}
	inputs := append(m.inputs(), l.Oversize, l.HalfSize, l.NearSize, l.Bulk, or(l.Gravity, earth))
	for i := range factorNames {
		f, err := quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
			n, err := readMesh(v)
			if err != nil {
				return quantity.Quantity{}, err
			}
			x, err := l.factors(n.through()*1e3, v[3:])
			x[6] = condition
			return quantity.Number(x[i]), err
		}, inputs...)
		if err != nil {
			return Capacity{}, err
		}
		if i < len(factorNames)-1 {
			c.PerArea = c.PerArea.Mul(f)
		} else {
			c.Near = c.PerArea.Mul(f)
		}
		if i == 0 {
			f = f.Mul(quantity.Of(1, "t/(h*m2)"))
		}
		c.Factors = append(c.Factors, f)
	}
	return c, nil
}

// factors are all but the condition, for an opening seen in mm.
func (l Load) factors(h float64, v []quantity.Quantity) (x [9]float64, err error) {
	var n load
	for i, into := range []*float64{&n.oversize, &n.half, &n.near} {
		if *into, err = share(v[i], []string{"oversize", "half-size", "near-size"}[i]); err != nil {
			return x, err
		}
	}
	if n.oversize+n.half > 1+1e-9 || n.oversize > 0.99 {
		return x, fmt.Errorf("screening: oversize %v and half-size %v contradict each other, or leave less than 1 %% to pass", v[0], v[1])
	}
	if n.bulk, n.gravity, err = surroundings(v[3], v[4]); err != nil {
		return x, err
	}
	n.deck, n.spray = l.Deck, l.Spray
	return n.factors(h)
}

// load is a Load in numbers.
type load struct {
	oversize, half, near, bulk, gravity float64
	deck                                int
	spray                               bool
}

func surroundings(bulk, gravity quantity.Quantity) (b, g float64, err error) {
	if b, err = positive(bulk, "kg/m³", "bulk density"); err != nil {
		return
	}
	g, err = positive(gravity, "m/s²", "gravity")
	return
}

func (n load) factors(h float64) (x [9]float64, err error) {
	if h < 1 || h > 100 {
		return x, fmt.Errorf("screening: the factors of capacity hold for openings from 1 to 100 mm, and %.4g mm is outside", h)
	}
	if n.deck < 0 || n.deck > 3 {
		return x, fmt.Errorf("screening: decks are counted from 1, the uppermost, to 3; %d is none", n.deck)
	}
	x = [9]float64{basic(h), oversize(100 * n.oversize), halfSize(100 * n.half), 1.1 - 0.1*float64(max(n.deck, 1)), 1, n.bulk / 1602, 1,
		math.Sqrt(n.gravity / earth.SI()), 0.844 * math.Pow(1-n.near, 3.453)}
	if n.spray {
		x[4] = spray(1.26 * h)
	}
	return x, nil
}

func basic(h float64) float64 {
	if h < 51 {
		return 12.1286*math.Pow(h, 0.3162) - 10.2991
	}
	return 0.3388*h + 14.4122
}

func oversize(q float64) float64 {
	if q <= 87 {
		return 1.6 - 0.012*q
	}
	return 4.275 - 0.0425*q
}

func halfSize(r float64) float64 {
	switch {
	case r <= 30:
		return 0.012*r + 0.7
	case r < 55:
		return 0.1528 * math.Pow(r, 0.564)
	case r < 80:
		return 0.0061 * math.Pow(r, 1.37)
	}
	return 0.05*r - 1.5
}

func spray(t float64) float64 {
	switch {
	case t < 1:
		return 1
	case t < 2:
		return t
	case t < 4:
		return 1.5 + 0.25*t
	case t < 6:
		return 2.5
	case t < 10:
		return 3.25 - 0.125*t
	case t < 12:
		return 4.5 - 0.25*t
	case t < 16:
		return 2.1 - 0.05*t
	case t < 24:
		return 1.5 - 0.0125*t
	case t < 32:
		return 1.35 - 0.00625*t
	}
	return 1.15
}

// Area is the area that a rate of undersize needs.
//
// Units: undersize is a mass flow; in m².
//
// Range: for an efficiency of some 95 %; the area of the frame is a tenth more.
//
// Errors: a rate that is none or not above 0.
//
// Source: as CapacityOf, with the near-size factor.
func (c Capacity) Area(undersize quantity.Quantity) (quantity.Quantity, error) {
	if _, err := positive(undersize, "t/h", "rate of undersize"); err != nil {
		return quantity.Quantity{}, err
	}
	if c.Near.IsNothing() {
		return quantity.Quantity{}, fmt.Errorf("screening: an empty Capacity; make one with CapacityOf")
	}
	return undersize.Div(c.Near).To("m2"), nil
}

// Table is the factors, named.
func (c Capacity) Table() table.Table {
	var names, values []string
	for i, name := range c.Names {
		names, values = append(names, name), append(values, fmt.Sprintf("%.4g", c.Factors[i]))
	}
	t, err := table.New(table.Texts("factor", append(names, "capacity without N", "capacity with N")),
		table.Texts("value", append(values, fmt.Sprintf("%.4g", c.PerArea), fmt.Sprintf("%.4g", c.Near))))
	if err != nil {
		panic("screening: " + err.Error()) // the columns are built alike
	}
	return t.Caption("Capacity of a deck in undersize per area")
}

// String is Table as text.
func (c Capacity) String() string { return c.Table().String() }

// HTML is Table as HTML.
func (c Capacity) HTML() string { return c.Table().HTML() }

// Markdown is Table as Markdown.
func (c Capacity) Markdown() string { return c.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (c Capacity) LaTeX() string { return c.Table().LaTeX() }
