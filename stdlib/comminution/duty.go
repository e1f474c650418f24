package comminution

import (
	"fmt"
	"math"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Media is what tumbles in a mill.
type Media int

// The grinding media.
const (
	Balls Media = iota
	Rods
)

// String is the media in a word.
func (m Media) String() string {
	switch m {
	case Balls:
		return "balls"
	case Rods:
		return "rods"
	}
	return fmt.Sprintf("media %d", int(m))
}

// Duty is what a mill is asked to do, with what sets it apart from the mill that
// Bond's work index stands for: wet, in closed circuit, 2.44 m inside its liners,
// its feed as fine as it should be. Fields left out stand for that mill.
type Duty struct {
	WorkIndex     quantity.Quantity // energy per mass
	Feed, Product quantity.Quantity // sizes that 80 % passes
	Media         Media
	Dry           bool
	OpenCircuit   quantity.Quantity // of balls in open circuit: the share of the product to be finer than the size wanted, 50 to 98 %
	Diameter      quantity.Quantity // inside the liners
	RodLength     quantity.Quantity // rods only; needed there
	RodFeed       quantity.Quantity // rods only: 1.4 for feed crushed in open circuit, 1.2 in closed, 1 where a ball mill follows and the crushing is closed
}

// openCircuit is the factor by the share to pass the size of control, in per cent.
var openCircuit = numeric.Straight([]float64{50, 60, 70, 80, 90, 92, 95, 98},
	[]float64{1.035, 1.05, 1.10, 1.20, 1.40, 1.46, 1.57, 1.70})

// Factors is a Duty worked out: Bond's energy and what it is multiplied by.
type Factors struct {
	Names    []string            // what each factor allows for
	Values   []quantity.Quantity // plain numbers; 1 where nothing is to be allowed for
	Bond     quantity.Quantity   // energy per mass by Bond's law
	Required quantity.Quantity   // energy per mass at the pinion, the product of all
}

var factorNames = []string{"dry grinding, EF1", "open circuit, EF2", "diameter, EF3", "oversized feed, EF4",
	"fine product, EF5", "reduction ratio of rods, EF6", "low reduction ratio of balls, EF7", "feed of rods, EF8"}

// Factors is the energy of a duty by Bond's law with the efficiency factors of the
// trade:
//
//	EF1 1.3 for dry grinding
//	EF2 1.035 … 1.70 for balls in open circuit
//	EF3 (2.44 m/D)^0.2, not below 0.914
//	EF4 (R + (Wi − 7)·(F − F0)/F0)/R where F > F0 = 16 mm (rods) or 4 mm (balls)·√(13/Wi)
//	EF5 (P + 10.3)/(1.145·P) where P < 75 µm
//	EF6 1 + (R − R0)²/150 for rods, R0 = 8 + 5·L/D, where R is more than 2 from R0
//	EF7 (2·(R − 1.35) + 0.26)/(2·(R − 1.35)) for balls where R < 6
//	EF8 as Duty.RodFeed
//
// with R = F/P, Wi in kWh/st and P in µm.
//
// Units: as Duty; the energies in the unit of the work index.
//
// Range: as Bond; balls need R above 1.35. EF5 is unproved below some 15 µm.
//
// Errors: as Bond; fields outside their range; rods without a length.
//
// Source: C.A. Rowland, D.M. Kjos, Rod and ball mills, in A.L. Mular, R.B. Bhappu
// (eds.), Mineral Processing Plant Design (1978); constants from memory.
func (d Duty) Factors() (Factors, error) {
	if err := d.check(); err != nil {
		return Factors{}, err
	}
	d.Diameter = or(d.Diameter, quantity.Of(2.44, "m"))
	d.RodLength = or(d.RodLength, d.Diameter)
	inputs := []quantity.Quantity{d.WorkIndex, d.Feed, d.Product, d.Diameter, d.RodLength,
		or(d.OpenCircuit, quantity.Number(0)), or(d.RodFeed, quantity.Number(1))}
	f := Factors{Names: factorNames}
	var err error
	if f.Bond, err = Bond(d.WorkIndex, d.Feed, d.Product); err != nil {
		return Factors{}, err
	}
	f.Required = f.Bond
	for i := range factorNames {
		value, err := quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
			all, err := d.factors(v)
			return quantity.Number(all[i]), err
		}, inputs...)
		if err != nil {
			return Factors{}, err
		}
		f.Values = append(f.Values, value)
		f.Required = f.Required.Mul(value)
	}
	return f, nil
}

func (d Duty) check() error {
	switch {
	case d.Media != Balls && d.Media != Rods:
		return fmt.Errorf("comminution: there are no %v", d.Media)
	case d.Media == Rods && d.RodLength.IsNothing():
		return fmt.Errorf("comminution: a duty of rods needs RodLength, since the best reduction ratio depends on length over diameter")
	case d.Media == Rods && !d.OpenCircuit.IsNothing():
		return fmt.Errorf("comminution: OpenCircuit is for balls; rod mills are rated in open circuit as they are")
	case d.Media == Balls && !d.RodFeed.IsNothing():
		return fmt.Errorf("comminution: RodFeed is for rods")
	}
	return nil
}

// factors are EF1 to EF8 for numbers that are certain.
func (d Duty) factors(v []quantity.Quantity) ([8]float64, error) {
	ef := [8]float64{1, 1, 1, 1, 1, 1, 1, 1}
	wi, err := positive(v[0], "kWh/st", "work index")
	if err != nil {
		return ef, err
	}
	f, p, err := sizes(v[1], v[2])
	if err != nil {
		return ef, err
	}
	diameter, err := positive(v[3], length, "diameter")
	if err != nil {
		return ef, err
	}
	rod, err := positive(v[4], length, "length of the rods")
	if err != nil {
		return ef, err
	}
	ratio := f / p
	if d.Dry {
		ef[0] = 1.3
	}
	if !d.OpenCircuit.IsNothing() {
		passing, err := share(v[5], "share to pass the size of control in open circuit")
		if err != nil {
			return ef, err
		}
		if ef[1] = openCircuit.At(100 * passing); math.IsNaN(ef[1]) {
			return ef, fmt.Errorf("comminution: the factor for open circuit is known from 50 to 98 %% passing, and %v is outside", v[5])
		}
	}
	ef[2] = max(math.Pow(2.44/diameter, 0.2), 0.914)
	best := map[Media]float64{Rods: 16e-3, Balls: 4e-3}[d.Media] * math.Sqrt(13/wi)
	if f > best {
		ef[3] = max((ratio+(wi-7)*(f-best)/best)/ratio, 1)
	}
	if um := p * 1e6; um < 75 {
		ef[4] = max((um+10.3)/(1.145*um), 1)
	}
	if d.Media == Rods {
		if off := ratio - (8 + 5*rod/diameter); math.Abs(off) > 2 {
			ef[5] = 1 + off*off/150
		}
		if ef[7], err = v[6].Float(); err != nil || !(ef[7] >= 1 && ef[7] <= 2) {
			return ef, fmt.Errorf("comminution: RodFeed is a plain number from 1 to 2, and %v is not", v[6])
		}
		return ef, nil
	}
	if ratio <= 1.35 {
		return ef, fmt.Errorf("comminution: for a reduction ratio of %.3g the factors have no answer; they need more than 1.35", ratio)
	}
	if ratio < 6 {
		ef[6] = 1 + 0.13/(ratio-1.35)
	}
	return ef, nil
}

// Table is the factors, named, with the energies.
func (f Factors) Table() table.Table {
	var names, values []string
	for i, name := range f.Names {
		if f.Values[i].IsUncertain() || f.Values[i].SI() != 1 {
			names, values = append(names, name), append(values, f.Values[i].String())
		}
	}
	t, err := table.New(table.Texts("what", append(append([]string{"Bond's law"}, names...), "required")),
		table.Texts("value", append(append([]string{f.Bond.String()}, values...), f.Required.String())))
	if err != nil {
		panic("comminution: " + err.Error()) // the columns are built alike
	}
	return t.Caption("Energy of grinding with the factors that are not 1")
}

// String is Table as text.
func (f Factors) String() string { return f.Table().String() }

// HTML is Table as HTML.
func (f Factors) HTML() string { return f.Table().HTML() }

// Markdown is Table as Markdown.
func (f Factors) Markdown() string { return f.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (f Factors) LaTeX() string { return f.Table().LaTeX() }
