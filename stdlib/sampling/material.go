package sampling

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Material is what is to be sampled, as far as Gy's formula asks.
type Material struct {
	TopSize    quantity.Quantity // the opening that retains 5 % of it
	Grade      quantity.Quantity // mass share of the mineral that is looked for, not of its metal
	Mineral    quantity.Quantity // density of that mineral
	Gangue     quantity.Quantity // density of all else
	Liberation quantity.Quantity // size at which the mineral is free of gangue
	Shape      quantity.Quantity // f; if left out, 0.5, of most grains; 0.2 for flakes of gold or mica
	Spread     quantity.Quantity // g; if left out, 0.25, of unsized material; SizeFactor gives others
}

// SizeFactor is Gy's factor g for the spread of sizes, from those that 95 % and
// 5 % of the material pass:
//
//	d95/d05 > 4: 0.25; from 2 to 4: 0.5; below 2: 0.75; 1: 1
//
// Units: two sizes; a plain number.
//
// Range: d95 not below d05.
//
// Errors: sizes of another kind, not above 0, or the wrong way round.
//
// Source: P. Gy (1979); B.A. Wills, Mineral Processing Technology, ch. 3.
func SizeFactor(d95, d05 quantity.Quantity) (quantity.Quantity, error) {
	coarse, err := positive(d95, "cm", "size d95")
	if err != nil {
		return quantity.Quantity{}, err
	}
	fine, err := positive(d05, "cm", "size d05")
	if err != nil {
		return quantity.Quantity{}, err
	}
	switch ratio := coarse / fine; {
	case ratio < 1:
		return quantity.Quantity{}, fmt.Errorf("sampling: d95, %v, is not below d05, %v", d95, d05)
	case ratio == 1:
		return quantity.Number(1), nil
	case ratio < 2:
		return quantity.Number(0.75), nil
	case ratio <= 4:
		return quantity.Number(0.5), nil
	}
	return quantity.Number(0.25), nil
}

// factors are f, g, l and m, the last in g/cm³.
type factors struct{ shape, size, liberation, composition float64 }

func (m Material) inputs() []quantity.Quantity {
	if m.Shape.IsNothing() {
		m.Shape = quantity.Number(0.5)
	}
	if m.Spread.IsNothing() {
		m.Spread = quantity.Number(0.25)
	}
	return []quantity.Quantity{m.TopSize, m.Grade, m.Mineral, m.Gangue, m.Liberation, m.Shape, m.Spread}
}

func factorsOf(v []quantity.Quantity) (factors, error) {
	var x [7]float64
	for i, input := range []struct{ unit, what string }{{"cm", "top size"}, {"1", "grade"}, {"g/cm³", "density of the mineral"},
		{"g/cm³", "density of the gangue"}, {"cm", "liberation size"}, {"1", "shape factor"}, {"1", "size factor"}} {
		var err error
		if x[i], err = positive(v[i], input.unit, input.what); err != nil {
			return factors{}, err
		}
	}
	if x[1] >= 1 {
		return factors{}, fmt.Errorf("sampling: the grade is a share of the mineral below 100 %%, and %v is not; write a percentage with its unit", v[1])
	}
	for i, name := range []string{"shape", "size"} {
		if x[5+i] > 1 {
			return factors{}, fmt.Errorf("sampling: the %s factor lies between 0 and 1, and %v does not", name, v[5+i])
		}
	}
	a := x[1]
	return factors{
		shape:       x[5],
		size:        x[6],
		liberation:  math.Sqrt(min(1, x[4]/x[0])),
		composition: (1 - a) / a * ((1-a)*x[2] + a*x[3]),
	}, nil
}

func (f factors) constant() float64 { return f.shape * f.size * f.liberation * f.composition }

// Gy is the material's heterogeneity, by its sampling constant
//
//	C = f·g·l·m,  l = √(L/d) up to 1,  m = (1 − a)/a·((1 − a)·ρ + a·ρg)
//
// with the grade a, the densities ρ of mineral and ρg of gangue, the liberation
// size L and the top size d.
//
// Units: as Material says; the constant in g/cm³.
//
// Range: one mineral of interest. l is a rule of thumb, and far too large for
// gold; tests tell the constant better (Constant).
//
// Errors: a quantity of another kind or not above 0, a grade of 100 % or more, a
// factor above 1.
//
// Source: P. Gy (1979); B.A. Wills, Mineral Processing Technology, ch. 3.
func (m Material) Gy() (Gy, error) {
	constant, err := quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		f, err := factorsOf(v)
		return quantity.Of(f.constant(), "g/cm³"), err
	}, m.inputs()...)
	if err != nil {
		return Gy{}, err
	}
	return Constant(constant, m.TopSize)
}

// TopSizeFor is the size to which the material must be crushed so that a sample
// of a given mass has no larger fundamental error than wanted. Crushing changes
// the liberation factor too:
//
//	s² = f·g·m·√L·d^2.5/M above the liberation size, f·g·m·d³/M below it
//
// Units: sample is a mass, wanted a relative error as in %; the size in mm.
//
// Range: a lot much larger than the sample.
//
// Errors: as Gy; a mass of another kind, an error outside 0 to 100 %.
//
// Source: the fundamental error solved for d.
func (m Material) TopSizeFor(sample, wanted quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		f, err := factorsOf(v[:7])
		if err != nil {
			return quantity.Quantity{}, err
		}
		mass, err := positive(v[7], "g", "sample")
		if err != nil {
			return quantity.Quantity{}, err
		}
		s, err := relative(v[8])
		if err != nil {
			return quantity.Quantity{}, err
		}
		free, _ := v[4].Value("cm") // factorsOf has read it
		room := s * s * mass / (f.shape * f.size * f.composition)
		d := math.Cbrt(room)
		if d > free {
			d = math.Pow(room/math.Sqrt(free), 0.4)
		}
		return quantity.Of(10*d, "mm"), nil
	}, append(m.inputs(), sample, wanted)...)
}

// Factors is a table of f, g, l, m and C, to show how the constant comes about.
//
// Units: m and C in g/cm³, the others plain numbers. Uncertain quantities count
// with their means.
//
// Range: as Gy.
//
// Errors: as Gy.
//
// Source: as Gy.
func (m Material) Factors() (table.Table, error) {
	f, err := factorsOf(m.inputs())
	if err != nil {
		return table.Table{}, err
	}
	show := func(x float64, unit string) string { return fmt.Sprintf("%.4g", quantity.Of(x, unit)) }
	return table.New(
		table.Texts("factor", []string{"shape, f", "size, g", "liberation, l", "composition, m", "sampling constant, C"}),
		table.Texts("value", []string{show(f.shape, "1"), show(f.size, "1"), show(f.liberation, "1"),
			show(f.composition, "g/cm³"), show(f.constant(), "g/cm³")}))
}
