package size

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
)

// Distribution is what a sieve analysis says: how much lies between one opening
// and the next, and what each such class assays. It is not changed by its
// methods; those that add something return a new one.
//
// Classes run from the coarsest sieve down to the pan. Class i holds what
// passed sieve i-1 and stayed on sieve i; class 0 stayed on the coarsest sieve
// and has no upper bound, and the last class lies in the pan and has no lower
// one.
//
// Masses and grades may be uncertain; then so is what comes from them.
type Distribution struct {
	openings []quantity.Quantity // falling; one fewer than the classes
	masses   []quantity.Quantity
	metres   []float64 // the openings
	weights  []float64 // the masses, in the unit of the first
	assays   []assay
	between  Interpolation
}

type assay struct {
	name      string
	grades    []quantity.Quantity
	fractions []float64 // the grades
}

// New is the distribution of a sieve analysis.
//
// Units: openings are lengths; retained are masses (or mass flows, or shares of
// one mass), one for each opening and a last one for the pan.
//
// Range: one sieve or more, coarsest first. A mass may be 0.
//
// Errors: openings that are no lengths, do not fall, or are not above 0; a
// number of masses that is not one more than the openings; masses of unlike
// dimensions, below 0, or all 0.
//
// Source: the definition of a test sieve analysis, ISO 2591-1 and ISO 9276-1.
func New(openings, retained []quantity.Quantity) (Distribution, error) {
	metres, err := readOpenings(openings)
	if err != nil {
		return Distribution{}, err
	}
	if len(retained) != len(openings)+1 {
		return Distribution{}, fmt.Errorf("size: %d sieves need %d masses, the last for the pan; there are %d",
			len(openings), len(openings)+1, len(retained))
	}
	d := Distribution{openings: slices.Clone(openings), masses: slices.Clone(retained), metres: metres}
	if err := d.weigh(); err != nil {
		return Distribution{}, err
	}
	return d, nil
}

func readOpenings(openings []quantity.Quantity) ([]float64, error) {
	if len(openings) == 0 {
		return nil, errors.New("size: a distribution needs at least one sieve above the pan")
	}
	metres := make([]float64, len(openings))
	for i, opening := range openings {
		x, err := opening.Value("m")
		if err != nil {
			return nil, fmt.Errorf("size: sieve %d: an opening is a length, and %v is not", i+1, opening)
		}
		if !(x > 0) || math.IsInf(x, 0) {
			return nil, fmt.Errorf("size: sieve %d: an opening is above 0, and %v is not", i+1, opening)
		}
		if i > 0 && !(x < metres[i-1]) {
			return nil, fmt.Errorf("size: sieve %d: sieves stand coarsest first, and %v is not finer than %v above it",
				i+1, opening, openings[i-1])
		}
		metres[i] = x
	}
	return metres, nil
}

// weigh reads the masses as numbers.
func (d *Distribution) weigh() error {
	unit := d.masses[0].Unit().String()
	d.weights = make([]float64, len(d.masses))
	for i, mass := range d.masses {
		x, err := mass.Value(unit)
		if err != nil {
			return fmt.Errorf("size: class %s: %v and %v are not of one kind", d.class(i), mass, d.masses[0])
		}
		if !(x >= 0) || math.IsInf(x, 0) {
			return fmt.Errorf("size: class %s: a mass cannot be %v", d.class(i), mass)
		}
		d.weights[i] = x
	}
	if numeric.Sum(d.weights...) == 0 {
		return errors.New("size: there is no mass in any class")
	}
	return nil
}

// percent is a share shown in per cent.
func percent(share float64) quantity.Quantity { return quantity.Of(100*share, "%") }

// Openings are the openings of the sieves, coarsest first.
func (d Distribution) Openings() []quantity.Quantity { return slices.Clone(d.openings) }

// Masses are the masses of the classes, coarsest first, the pan last.
func (d Distribution) Masses() []quantity.Quantity { return slices.Clone(d.masses) }

// Mass is the sum of the masses of all classes, in the unit of the first.
func (d Distribution) Mass() quantity.Quantity {
	if d.isUncertain() {
		return d.massOf(0, len(d.masses))
	}
	return d.masses[0].Unit().Quantity(numeric.Sum(d.weights...))
}

// Classes are the names of the size classes, coarsest first, as the trade
// writes them: "+300 µm", "−300 +212 µm", "−45 µm".
func (d Distribution) Classes() []string {
	names := make([]string, len(d.masses))
	for i := range names {
		names[i] = d.class(i)
	}
	return names
}

func (d Distribution) class(i int) string {
	switch {
	case i == 0:
		return "+" + d.openings[0].String()
	case i == len(d.openings):
		return "−" + d.openings[i-1].String()
	}
	upper, lower := d.openings[i-1], d.openings[i]
	unit := lower.Unit().String()
	value, err := upper.Value(unit)
	if err != nil {
		return "−" + upper.String() + " +" + lower.String()
	}
	return fmt.Sprintf("−%.6g +%v", value, lower)
}

// Shares are the mass shares of the classes in %, coarsest first, pan last.
func (d Distribution) Shares() []quantity.Quantity {
	shares := make([]quantity.Quantity, len(d.masses))
	for i, share := range d.shares() {
		shares[i] = percent(share)
		if d.isUncertain() {
			shares[i] = d.masses[i].Div(d.Mass()).To("%")
		}
	}
	return shares
}

// massOf is the mass of the classes from one up to before another.
func (d Distribution) massOf(from, to int) quantity.Quantity {
	sum := d.masses[0].Unit().Quantity(0)
	for _, mass := range d.masses[from:to] {
		sum = sum.Add(mass)
	}
	return sum
}

func (d Distribution) shares() []float64 {
	total := numeric.Sum(d.weights...)
	shares := make([]float64, len(d.weights))
	for i, weight := range d.weights {
		shares[i] = weight / total
	}
	return shares
}

// Passing is the cumulative mass share in % that passes each sieve, one value
// for each of Openings.
func (d Distribution) Passing() []quantity.Quantity {
	passing := make([]quantity.Quantity, len(d.openings))
	for i, share := range d.passing() {
		passing[i] = percent(share)
		if d.isUncertain() {
			passing[i] = d.massOf(i+1, len(d.masses)).Div(d.Mass()).To("%")
		}
	}
	return passing
}

// passing sums from the pan up, so that the fine end keeps its digits; where
// nothing was retained above, it is the whole and so exactly 100 %.
func (d Distribution) passing() []float64 {
	total := numeric.Sum(d.weights...)
	passing := make([]float64, len(d.openings))
	for i := range passing {
		passing[i] = numeric.Sum(d.weights[i+1:]...) / total
		if i > 0 {
			passing[i] = min(passing[i], passing[i-1]) // rounding must not make it rise
		}
	}
	return passing
}

// MeanSizes are the geometric mean sizes √(upper · lower) of the classes. The
// classes above the coarsest sieve and in the pan lack a bound and so a mean;
// theirs is not a number, which tables show as a dash and plots leave out.
func (d Distribution) MeanSizes() []quantity.Quantity {
	means := make([]quantity.Quantity, len(d.masses))
	for i := range means {
		if i == 0 || i == len(d.openings) {
			means[i] = d.openings[0].Unit().Quantity(math.NaN())
			continue
		}
		ratio := d.metres[i-1] / d.metres[i]
		means[i] = d.openings[i].Mul(quantity.Number(math.Sqrt(ratio)))
	}
	return means
}
