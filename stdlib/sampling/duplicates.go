package sampling

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Precision is what pairs of duplicates say of one measurement. Make one with
// Duplicates. A standard deviation is that of one result, not of the difference.
type Precision struct {
	Pairs     int
	Mean      quantity.Quantity // of all results
	Deviation quantity.Quantity // s = √(Σ(a − b)²/(2n))
	Relative  quantity.Quantity // √(Σ((a − b)/((a + b)/2))²/(2n)), in %; not a number if a pair adds up to 0
	Bias      quantity.Quantity // mean of a − b
	BiasError quantity.Quantity // its standard deviation
}

// Duplicates is the precision shown by pairs of results a and b of the same
// samples.
//
// Units: first and second are of one kind, as in g/t; pair i is first[i] and
// second[i]. Uncertain ones count with their means.
//
// Range: two pairs or more, some twenty for a figure worth reporting. Deviation
// suits errors that are alike at all grades, Relative those that grow with grade;
// ThompsonHowarth tells which.
//
// Errors: lengths that differ, fewer than two pairs, results of unlike kinds or
// that are not numbers.
//
// Source: the pooled variance of pairs; A.J. Sinclair, G.H. Blackwell, Applied
// Mineral Inventory Estimation (2002), from memory.
func Duplicates(first, second []quantity.Quantity) (Precision, error) {
	a, b, unit, err := pairs(first, second, 2)
	if err != nil {
		return Precision{}, err
	}
	var sum, squares, ratios, difference float64
	for i := range a {
		d := a[i] - b[i]
		sum, difference = sum+a[i]+b[i], difference+d
		squares += d * d
		ratios += math.Pow(2*d/(a[i]+b[i]), 2)
	}
	n := float64(len(a))
	bias, spread := difference/n, 0.0
	for i := range a {
		spread += math.Pow(a[i]-b[i]-bias, 2)
	}
	return Precision{
		Pairs:     len(a),
		Mean:      unit.Quantity(sum / (2 * n)),
		Deviation: unit.Quantity(math.Sqrt(squares / (2 * n))),
		Relative:  percent(math.Sqrt(ratios / (2 * n))),
		Bias:      unit.Quantity(bias),
		BiasError: unit.Quantity(math.Sqrt(spread / (n - 1) / n)),
	}, nil
}

func pairs(first, second []quantity.Quantity, least int) (a, b []float64, unit quantity.Unit, err error) {
	if len(first) != len(second) || len(first) < least {
		return nil, nil, unit, fmt.Errorf("sampling: %d pairs are needed at least, each with two results; there are %d and %d results", least, len(first), len(second))
	}
	unit = first[0].Unit()
	for i := range first {
		x, err := first[i].Value(unit.String())
		if err != nil {
			return nil, nil, unit, fmt.Errorf("sampling: pair %d: %v and %v are not of one kind", i+1, first[0], first[i])
		}
		y, err := second[i].Value(unit.String())
		if err != nil {
			return nil, nil, unit, fmt.Errorf("sampling: pair %d: %v and %v are not of one kind", i+1, first[0], second[i])
		}
		if math.IsNaN(x-y) || math.IsInf(x-y, 0) {
			return nil, nil, unit, fmt.Errorf("sampling: pair %d, %v and %v: a result is missing", i+1, first[i], second[i])
		}
		a, b = append(a, x), append(b, y)
	}
	return a, b, unit, nil
}

// IsBiased reports whether the two results of the pairs differ on the whole by
// more than chance allows in 95 of 100 cases, by Student's t. A result twice given
// by the same laboratory should not; a check by another may.
func (p Precision) IsBiased() bool {
	limit := numeric.StudentQuantile(0.975, float64(p.Pairs-1))
	return math.Abs(p.Bias.SI()) > limit*p.BiasError.SI()
}

// Table is the precision as a table.
func (p Precision) Table() table.Table {
	show := func(q quantity.Quantity) string { return fmt.Sprintf("%.4g", q) }
	t, err := table.New(
		table.Texts("figure", []string{"pairs", "mean", "standard deviation of one result", "relative standard deviation", "bias, first less second", "standard error of the bias"}),
		table.Texts("value", []string{fmt.Sprint(p.Pairs), show(p.Mean), show(p.Deviation), show(p.Relative), show(p.Bias), show(p.BiasError)}))
	if err != nil {
		panic("sampling: " + err.Error()) // the columns are built alike
	}
	return t.Caption("Precision from duplicates")
}

// String is Table as text.
func (p Precision) String() string { return p.Table().String() }

// HTML is Table as HTML.
func (p Precision) HTML() string { return p.Table().HTML() }

// Markdown is Table as Markdown.
func (p Precision) Markdown() string { return p.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (p Precision) LaTeX() string { return p.Table().LaTeX() }

// groupSize is how many pairs Thompson and Howarth put in a group.
const groupSize = 11

// medianToDeviation turns the median of absolute differences of pairs into the
// standard deviation of one result, for normal errors: 1/(√2·0.67449).
var medianToDeviation = 1 / (math.Sqrt2 * numeric.NormalQuantile(0.75))

// ThompsonHowarth is how the standard deviation of one result grows with grade c,
// by the straight line
//
//	s(c) = s₀ + k·c
//
// Pairs are put in order of their mean and in groups of 11; the line goes by
// least squares through the groups' means and the medians of their absolute
// differences, times 1.048.
//
// Units: results as for Duplicates; s₀ in their unit, k a plain number.
//
// Range: 50 pairs or more whose grades spread; errors near normal. A last group of
// fewer than 11 pairs is left out. s₀ may come below 0, which says that the line
// is not known near 0.
//
// Errors: as Duplicates; fewer than 50 pairs; grades that are all the same.
//
// Source: M. Thompson, R.J. Howarth, Analyst 101 (1976) 690; the factor after
// C.R. Stanley, D. Lawie, GEEA 8 (2008) 173.
func ThompsonHowarth(first, second []quantity.Quantity) (atZero, slope quantity.Quantity, err error) {
	a, b, unit, err := pairs(first, second, 50)
	if err != nil {
		return atZero, slope, err
	}
	order := make([]int, len(a))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(a[i]+b[i], a[j]+b[j]) })
	var means, medians []float64
	for from := 0; from+groupSize <= len(order); from += groupSize {
		mean, differences := 0.0, make([]float64, 0, groupSize)
		for _, i := range order[from : from+groupSize] {
			mean += (a[i] + b[i]) / 2 / groupSize
			differences = append(differences, math.Abs(a[i]-b[i]))
		}
		slices.Sort(differences)
		means, medians = append(means, mean), append(medians, differences[groupSize/2]*medianToDeviation)
	}
	s0, k, ok := line(means, medians)
	if !ok {
		return atZero, slope, fmt.Errorf("sampling: the pairs all have the grade %v, so nothing grows with grade; use Duplicates", first[0])
	}
	return unit.Quantity(s0), quantity.Number(k), nil
}

// line is the straight line of least squares.
func line(xs, ys []float64) (at0, slope float64, ok bool) {
	n := float64(len(xs))
	mx, my := numeric.Sum(xs...)/n, numeric.Sum(ys...)/n
	var xx, xy float64
	for i := range xs {
		xx += (xs[i] - mx) * (xs[i] - mx)
		xy += (xs[i] - mx) * (ys[i] - my)
	}
	if !(xx > 1e-24*mx*mx) {
		return 0, 0, false
	}
	return my - xy/xx*mx, xy / xx, true
}
