package partition

import (
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Washability is a sink-float test: the material in fractions by density, with
// an assay of each, such as ash or tin. Make one with NewWashability. It says
// what a perfect separation by density could give.
//
// Fractions run from the lightest, which floated at the first density, to the
// heaviest, which sank at the last. Within a fraction, mass and assayed matter are
// taken to be spread evenly over density.
type Washability struct {
	densities []quantity.Quantity
	unit      quantity.Unit
	at        []float64 // the densities, in unit
	mass      []float64 // shares of the fractions
	grade     []float64
	assay     string
	shown     quantity.Unit // of the grades
}

// NewWashability is a sink-float test with n densities and n + 1 fractions.
//
// Units: densities are those of the liquids, rising; masses (or shares of one
// mass) of the fractions, lightest first; grades of the fractions by what assay
// names, as in %.
//
// Range: one density or more. Masses may be 0; the masses are not made to add up
// to 100 % where they are shares.
//
// Errors: lengths that do not fit, densities that are none or do not rise,
// masses below 0, of unlike kinds or all 0, grades outside 0 to 100 % where
// there is mass; masses given as shares that do not add up to 100 % within 0.5 %.
//
// Source: the sink-float test, ISO 7936 (reference from memory).
func NewWashability(densities, masses []quantity.Quantity, assay string, grades []quantity.Quantity) (Washability, error) {
	n := len(densities)
	if n == 0 || len(masses) != n+1 || len(grades) != n+1 {
		return Washability{}, fmt.Errorf("partition: %d densities make %d fractions; there are %d masses and %d grades", n, n+1, len(masses), len(grades))
	}
	w := Washability{densities: slices.Clone(densities), unit: densities[0].Unit(), assay: assay, shown: grades[0].Unit()}
	for i, density := range densities {
		x, sizes, err := position(density)
		if err != nil || sizes {
			return Washability{}, fmt.Errorf("partition: liquid %d has a density, and %v is none", i+1, density)
		}
		if x, err = density.Value(w.unit.String()); err != nil {
			return Washability{}, fmt.Errorf("partition: liquid %d: %w", i+1, err)
		}
		if i > 0 && !(x > w.at[i-1]) {
			return Washability{}, fmt.Errorf("partition: the densities rise, and %v after %v does not", density, densities[i-1])
		}
		w.at = append(w.at, x)
	}
	if err := w.weigh(masses, grades); err != nil {
		return Washability{}, err
	}
	return w, nil
}

func (w *Washability) weigh(masses, grades []quantity.Quantity) error {
	unit := masses[0].Unit().String()
	for i := range masses {
		mass, err := masses[i].Value(unit)
		if err != nil || !(mass >= 0) || math.IsInf(mass, 0) {
			return fmt.Errorf("partition: fraction %s: a mass of the kind of %v, 0 or more, and %v is none", w.name(i), masses[0], masses[i])
		}
		grade, err := grades[i].Float()
		absent := mass == 0 && grades[i].IsNaN()
		if err != nil || !absent && !(grade >= 0 && grade <= 1) {
			return fmt.Errorf("partition: fraction %s: a grade lies between 0 and 100 %%, and %v does not; write a percentage with its unit", w.name(i), grades[i])
		}
		if absent {
			grade = 0 // weighs nothing
		}
		w.mass, w.grade = append(w.mass, mass), append(w.grade, grade)
	}
	total := numeric.Sum(w.mass...)
	if total == 0 {
		return fmt.Errorf("partition: there is no mass in any fraction")
	}
	if masses[0].Dimension().IsOne() {
		if whole := total * masses[0].Unit().Quantity(1).SI(); math.Abs(whole-1) > 0.005 {
			return fmt.Errorf("partition: the shares of the fractions add up to %.5g %%, not to 100 %%; look at them, or give masses", 100*whole)
		}
	}
	for i := range w.mass {
		w.mass[i] /= total
	}
	return nil
}

// name is the fraction as the trade writes it.
func (w Washability) name(i int) string {
	switch {
	case i == 0:
		return "−" + w.densities[0].String()
	case i == len(w.densities):
		return "+" + w.densities[i-1].String()
	}
	return fmt.Sprintf("+%.6g −%v", w.densities[i-1].Shown(), w.densities[i])
}

// sums are mass and assayed matter of all that is lighter than each density.
func (w Washability) sums() (mass, matter []float64) {
	mass, matter = []float64{0}, []float64{0}
	for i := range w.mass {
		mass = append(mass, mass[i]+w.mass[i])
		matter = append(matter, matter[i]+w.mass[i]*w.grade[i])
	}
	return mass, matter
}

// Grade is the grade of all fractions together.
func (w Washability) Grade() quantity.Quantity {
	mass, matter := w.sums()
	return w.asGrade(matter[len(matter)-1] / mass[len(mass)-1])
}

func (w Washability) asGrade(share float64) quantity.Quantity {
	return w.shown.Quantity(share / w.shown.Quantity(1).SI())
}

// Cut is what a perfect separation at one density gives.
type Cut struct {
	Density       quantity.Quantity
	Floats        quantity.Quantity // yield of floats, in %
	FloatsGrade   quantity.Quantity
	SinksGrade    quantity.Quantity
	FloatsContent quantity.Quantity // share of the assayed matter that floats, in %
}

// Sinks is the yield of sinks, in %.
func (c Cut) Sinks() quantity.Quantity { return one().Sub(c.Floats).To("%") }

// SinksContent is the share of the assayed matter that sinks, in %.
func (c Cut) SinksContent() quantity.Quantity { return one().Sub(c.FloatsContent).To("%") }

// At is a perfect separation at a density.
//
// Units: density; yields in %, grades in the unit of the first fraction's.
//
// Range: between the lightest and the heaviest liquid. Between two liquids,
// yields and content are straight in density.
//
// Errors: what is no density, or lies outside the liquids.
//
// Source: the cumulative curves of washability, Henry (1905), after common
// practice.
func (w Washability) At(density quantity.Quantity) (Cut, error) {
	x, err := density.Value(w.unit.String())
	last := len(w.at) - 1
	for _, liquid := range w.at {
		if numeric.AlmostEqual(x, liquid, 1e-12) {
			x = liquid // 1.4 − 0.1 is a rounding below 1.3
		}
	}
	if err != nil || !(x >= w.at[0] && x <= w.at[last]) {
		return Cut{}, fmt.Errorf("partition: a density between the liquids, %v to %v, and %v is none", w.densities[0], w.densities[last], density)
	}
	mass, matter := w.sums()
	i := 0 // the liquid at or below x
	for i < last && w.at[i+1] <= x {
		i++
	}
	floats, content := mass[i+1], matter[i+1]
	if x > w.at[i] {
		part := (x - w.at[i]) / (w.at[i+1] - w.at[i])
		floats += part * w.mass[i+1]
		content += part * w.mass[i+1] * w.grade[i+1]
	}
	return w.cut(density, floats, content), nil
}

func (w Washability) cut(density quantity.Quantity, floats, content float64) Cut {
	_, matter := w.sums()
	all := matter[len(matter)-1]
	return Cut{
		Density:       density,
		Floats:        percent(floats),
		FloatsGrade:   w.asGrade(content / floats),
		SinksGrade:    w.asGrade((all - content) / (1 - floats)),
		FloatsContent: percent(content / all),
	}
}

// FloatsOf is the perfect separation whose floats have a wanted grade: the
// theoretical yield at, for instance, 10 % ash.
//
// Units: grade as in %.
//
// Range: grades between that of the lightest fraction and that of the whole.
// The density of the cut is not a number if it lies in the lightest or the
// heaviest fraction, which have one bound only; the yield is known all the same.
//
// Errors: a grade outside that range; fractions whose grade falls with density,
// so that there is more than one answer.
//
// Source: the cumulative float curve; common practice.
func (w Washability) FloatsOf(grade quantity.Quantity) (Cut, error) {
	wanted, err := shareOf(grade)
	if err != nil {
		return Cut{}, fmt.Errorf("partition: %w", err)
	}
	mass, matter := w.sums()
	lightest, place := math.NaN(), -1
	previous := math.NaN()
	for i := range w.mass {
		if mass[i+1] == 0 {
			continue
		}
		now := matter[i+1] / mass[i+1]
		if math.IsNaN(previous) {
			lightest = now
		} else if now < previous && !numeric.AlmostEqual(now, previous, 1e-12) {
			return Cut{}, fmt.Errorf("partition: with fraction %s the floats become poorer in %s, so one grade may have two yields; read the curve by At", w.name(i), w.assay)
		}
		if place < 0 && wanted <= now {
			place = i
		}
		previous = now
	}
	if place < 0 || wanted < lightest {
		return Cut{}, fmt.Errorf("partition: floats can have from %v to %v %s, and not %v", w.asGrade(lightest), w.Grade(), w.assay, grade)
	}
	// Within fraction place: (matter + s·Δmatter)/(mass + s·Δmass) = wanted.
	part := 1.0
	if rising := w.mass[place] * (w.grade[place] - wanted); rising > 0 {
		part = (wanted*mass[place] - matter[place]) / rising
	}
	density := w.unit.Quantity(math.NaN())
	switch {
	case part == 1 && place < len(w.at):
		density = w.densities[place]
	case place > 0 && place < len(w.at):
		density = w.unit.Quantity(w.at[place-1] + part*(w.at[place]-w.at[place-1]))
	}
	return w.cut(density, mass[place]+part*w.mass[place], matter[place]+part*w.mass[place]*w.grade[place]), nil
}

// OrganicEfficiency is the yield that a washer reached over that which a perfect
// separation of the same material gives at the same grade, in %:
//
//	E = yield / theoretical yield
//
// Units: yield and grade of the floats, as in %.
//
// Range: as FloatsOf. Above 100 % the figures cannot all be right.
//
// Errors: as FloatsOf; a yield that is no share.
//
// Source: H.F. Yancey, T. Fraser (1929, from memory).
func (w Washability) OrganicEfficiency(yield, grade quantity.Quantity) (quantity.Quantity, error) {
	y, err := shareOf(yield)
	if err != nil {
		return quantity.Quantity{}, fmt.Errorf("partition: the yield: %w", err)
	}
	best, err := w.FloatsOf(grade)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return percent(y / fraction(best.Floats)), nil
}

// NearDensity is the share of the material that lies within a distance of a
// density, by which one judges how hard a separation there is: within 0.1 g/cm³,
// more than some 10 % is called difficult.
//
// Units: densities; the share in %.
//
// Range: the whole distance must lie between the liquids.
//
// Errors: as At; a distance that is not above 0.
//
// Source: B.M. Bird (1928, from memory).
func (w Washability) NearDensity(density, within quantity.Quantity) (quantity.Quantity, error) {
	x, err := density.Value(w.unit.String())
	if err != nil {
		return quantity.Quantity{}, fmt.Errorf("partition: %v is no density", density)
	}
	half, err := within.Value(w.unit.String())
	if err != nil || !(half > 0) {
		return quantity.Quantity{}, fmt.Errorf("partition: the distance is a density difference above 0, and %v is none", within)
	}
	low, err := w.At(w.unit.Quantity(x - half))
	if err != nil {
		return quantity.Quantity{}, err
	}
	high, err := w.At(w.unit.Quantity(x + half))
	if err != nil {
		return quantity.Quantity{}, err
	}
	return high.Floats.Sub(low.Floats).To("%"), nil
}

// Wash is what a separator with a given partition makes of the material: each
// fraction is shared out by the model at its mean density, (ρi + ρi+1)/2.
//
// Units: lightest and heaviest are the mean densities of the two open fractions,
// which the test does not tell; a Cut whose Density is the model's cut.
//
// Range: a model over densities.
//
// Errors: a model over sizes; a mean density that does not lie outside the
// liquids; a product without mass.
//
// Source: mass balance of each fraction.
func (w Washability) Wash(m Model, lightest, heaviest quantity.Quantity) (Cut, error) {
	if _, err := m.cut.Value(w.unit.String()); err != nil {
		return Cut{}, fmt.Errorf("partition: the model cuts at %v, which is no density", m.cut)
	}
	first, err := lightest.Value(w.unit.String())
	if err != nil || !(first > 0 && first < w.at[0]) {
		return Cut{}, fmt.Errorf("partition: the lightest fraction is lighter than %v, and %v is not", w.densities[0], lightest)
	}
	last := len(w.at) - 1
	final, err := heaviest.Value(w.unit.String())
	if err != nil || !(final > w.at[last]) {
		return Cut{}, fmt.Errorf("partition: the heaviest fraction is heavier than %v, and %v is not", w.densities[last], heaviest)
	}
	floats, content := 0.0, 0.0
	for i := range w.mass {
		x := first
		if i > last {
			x = final
		} else if i > 0 {
			x = (w.at[i-1] + w.at[i]) / 2
		}
		sinks, err := m.Share(w.unit.Quantity(x))
		if err != nil {
			return Cut{}, err
		}
		up := (1 - fraction(sinks)) * w.mass[i]
		floats, content = floats+up, content+up*w.grade[i]
	}
	if floats == 0 || floats == 1 {
		return Cut{}, fmt.Errorf("partition: everything goes to one product; the cut, %v, lies outside the material", m.cut)
	}
	return w.cut(m.cut, floats, content), nil
}

// Table is the test as a table: the fractions, and what floats and sinks in all
// at the density that bounds each from above.
func (w Washability) Table() table.Table {
	mass, matter := w.sums()
	all := matter[len(matter)-1]
	var names []string
	var shares, grades, floats, floatGrades, contents, sinkGrades []quantity.Quantity
	for i := range w.mass {
		names = append(names, w.name(i))
		shares, grades = append(shares, percent(w.mass[i])), append(grades, w.asGrade(w.grade[i]))
		floats = append(floats, percent(mass[i+1]))
		floatGrades = append(floatGrades, w.asGrade(matter[i+1]/mass[i+1]))
		contents = append(contents, percent(matter[i+1]/all))
		sinks := math.NaN()
		if i < len(w.at) {
			sinks = (all - matter[i+1]) / (1 - mass[i+1])
		}
		sinkGrades = append(sinkGrades, w.asGrade(sinks))
	}
	t, err := table.New(table.Texts("fraction", names), table.Quantities("mass", shares), table.Quantities(w.assay, grades),
		table.Quantities("floats", floats), table.Quantities(w.assay+" of floats", floatGrades),
		table.Quantities(w.assay+" in floats", contents), table.Quantities(w.assay+" of sinks", sinkGrades))
	if err != nil {
		panic("partition: " + err.Error()) // the columns are built alike
	}
	return t.Caption("Sink-float test")
}

// String is Table as text.
func (w Washability) String() string { return w.Table().String() }

// HTML is Table as HTML.
func (w Washability) HTML() string { return w.Table().HTML() }

// Markdown is Table as Markdown.
func (w Washability) Markdown() string { return w.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (w Washability) LaTeX() string { return w.Table().LaTeX() }
