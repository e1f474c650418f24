package comminution

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// Malleable is a metal that flattens where rock would break. Each impact spends a
// share of its energy on the work of deformation, and the grain becomes a disc,
//
//	ε = η·ρ·E/Y,  h = d·exp(−ε),  D = d·exp(ε/2)
//
// so that its volume stays. Parameters may be uncertain.
type Malleable struct {
	FlowStress quantity.Quantity // Y, the stress at which the metal flows
	Density    quantity.Quantity // ρ
	Share      quantity.Quantity // η, the share of the impact energy that deforms; left out: 100 %
	Most       quantity.Quantity // the greatest strain ε, where the metal tears or the disc lies flat; left out: 1
	Largest    quantity.Quantity // size of the largest grain before it was flattened; what is as coarse as its disc grows no more. A circuit that returns discs to the mill needs it
}

func (m Malleable) inputs() []quantity.Quantity {
	return []quantity.Quantity{m.FlowStress, m.Density, or(m.Share, quantity.Of(100, "%")), or(m.Most, quantity.Number(1))}
}

// strain is the strain per J/kg, and its limit.
func strainOf(v []quantity.Quantity) (per, most float64, err error) {
	stress, err := positive(v[0], "Pa", "flow stress")
	if err != nil {
		return 0, 0, err
	}
	density, err := positive(v[1], "kg/m³", "density of the metal")
	if err != nil {
		return 0, 0, err
	}
	part, err := share(v[2], "share of the energy that deforms")
	if err != nil {
		return 0, 0, err
	}
	most, err = positive(v[3], "1", "greatest strain")
	if err == nil && most > 3 {
		err = fmt.Errorf("comminution: a strain of more than 3 leaves a foil of a twentieth of the grain, of which this says nothing; the greatest strain is %v", v[3])
	}
	return part * density / stress, most, err
}

// Strain is the logarithmic strain after impacts with an energy per mass in all.
//
// Units: energy per mass; a plain number.
//
// Range: work that is even through the grain and a flow stress that does not rise:
// both make the strain an upper bound. It does not pass Most.
//
// Errors: parameters of another kind or outside their range; an energy below 0.
//
// Source: ideal work of deformation, M.P. Groover, Fundamentals of Modern
// Manufacturing, upsetting.
func (m Malleable) Strain(energy quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		per, most, err := strainOf(v)
		if err != nil {
			return quantity.Quantity{}, err
		}
		e, err := notNegative(v[4], perMass, "energy")
		return quantity.Number(min(per*e, most)), err
	}, append(m.inputs(), energy)...)
}

// Flattened is what a sphere of a size becomes under a strain.
//
// Units: size is a length, strain a plain number; diameter and thickness in the unit of
// size.
//
// Range: strains of 0 to 3; 0 leaves the sphere.
//
// Errors: a size not above 0, a strain outside the range.
//
// Source: volume stays.
func Flattened(size, strain quantity.Quantity) (diameter, thickness quantity.Quantity, err error) {
	by := func(power float64) (quantity.Quantity, error) {
		return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
			d, err := positive(v[0], length, "size of the grain")
			if err != nil {
				return quantity.Quantity{}, err
			}
			e, err := notNegative(v[1], "1", "strain")
			if err != nil || e > 3 {
				return quantity.Quantity{}, fmt.Errorf("comminution: a strain is a plain number from 0 to 3, and %v is not", v[1])
			}
			return inUnitOf(d*math.Exp(power*e), length, v[0]), nil
		}, size, strain)
	}
	if diameter, err = by(0.5); err != nil {
		return
	}
	thickness, err = by(-1)
	return
}

// PassingSize is the opening of the square-meshed sieve that a particle just passes,
// by its three sides long, middle and short, in any order: it goes upright, lengthwise,
// flat to a side of the opening or along its diagonal,
//
//	a = min(M, (M + S)/√2)
//
// so that flakes pass an opening of 0.71 of their breadth, and needles that of their
// thickness.
//
// Units: lengths; in the unit of the first.
//
// Range: boxes, given time to find the way through; rounded grains pass a little
// easier along the diagonal.
//
// Errors: sides that are no lengths above 0.
//
// Source: geometry of a rectangle in a square; common practice.
func PassingSize(a, b, c quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		var x [3]float64
		for i := range x {
			var err error
			if x[i], err = positive(v[i], length, "side of the particle"); err != nil {
				return quantity.Quantity{}, err
			}
		}
		long, short := max(x[0], x[1], x[2]), min(x[0], x[1], x[2])
		return inUnitOf(passing(x[0]+x[1]+x[2]-long-short, short), length, v[0]), nil
	}, a, b, c)
}

func passing(middle, short float64) float64 { return min(middle, (middle+short)/math.Sqrt2) }

// PassingGrowth is by what factor the passing size of a grain grows under a strain; the
// volume, and what the grain weighs, stay.
//
// Units: strain is a plain number, and so is the factor.
//
// Range: as Flattened; 1.28 at a strain of 0.5, 1.43 at 1.
//
// Errors: as Flattened.
//
// Source: Flattened and PassingSize.
func PassingGrowth(strain quantity.Quantity) (quantity.Quantity, error) {
	unit := quantity.Of(1, "mm")
	wide, thin, err := Flattened(unit, strain)
	if err != nil {
		return quantity.Quantity{}, err
	}
	grown, err := PassingSize(wide, wide, thin)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return grown.Div(unit), nil
}

// growth is PassingGrowth for a number.
func growth(strain float64) float64 {
	return passing(math.Exp(strain/2), math.Exp(-strain))
}

// coarsen moves flows by size to classes coarser by a factor above 1, but nothing beyond
// the limit, in m, where one is above 0. Within a class mass lies evenly over the logarithm
// of size, in the last one evenly over size.
func coarsen(uppers, flows []float64, factor, limit float64) ([]float64, error) {
	out := make([]float64, len(flows))
	if limit == 0 {
		limit = math.Inf(1)
	}
	for i, flow := range flows {
		if flow == 0 || factor == 1 {
			out[i] += flow
			continue
		}
		low, high := 0.0, uppers[i]
		if i+1 < len(flows) {
			low = uppers[i+1]
		}
		between := func(a, b float64) float64 { // the share of the class from size a to b
			a, b = max(a, low), min(b, high)
			switch {
			case a >= b:
				return 0
			case low == 0:
				return (b - a) / high
			}
			return math.Log(b/a) / math.Log(high/low)
		}
		if min(high*factor, max(high, limit)) > uppers[0]*(1+1e-12) {
			return nil, fmt.Errorf("comminution: grains of the class up to %.4g mm flatten beyond the coarsest opening, %.4g mm; add coarser openings to the classes, or say how large the Largest grain was", 1e3*high, 1e3*uppers[0])
		}
		out[i] += flow * between(limit, high) // as coarse as discs get
		for k := i; k >= 0; k-- {
			// What ends in class k came from between its bounds over the factor.
			from, to := 0.0, uppers[k]/factor
			if k+1 < len(uppers) {
				from = uppers[k+1] / factor
			}
			part := between(from, min(to, limit/factor))
			if k == 0 {
				part = between(from, limit/factor)
			}
			if limit <= uppers[k] && (k+1 == len(uppers) || limit > uppers[k+1]) {
				part += between(limit/factor, limit)
			}
			out[k] += flow * part
		}
	}
	return out, nil
}
