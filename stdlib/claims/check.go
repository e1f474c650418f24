package claims

import (
	"errors"
	"fmt"
	"math"

	"cobber/stdlib/mineral"
	"cobber/stdlib/quantity"
)

// Against holds a figure against a computed value. It agrees if the two are the
// same as far as they are known: the rounding of the figure, the interval of
// 95 % of an uncertain value, and a tolerance.
//
// Units: the value measures what the figure does; tolerance is a share of the
// value, as in 2 %, and may be 0.
//
// Range: any. The verdict is about the two figures, not about the computation.
//
// Errors: no figure of that name; a value of another dimension; a tolerance that
// is no share of 0 or more.
//
// Source: JCGM 106:2012, 7, for comparing with allowance for uncertainty (from
// memory); common practice for the rounding.
func (l *Ledger) Against(name string, computed quantity.Quantity, how string, tolerance quantity.Quantity) (Verdict, error) {
	e, share, err := l.prepare(name, computed, tolerance)
	if err != nil {
		return Verdict{}, err
	}
	within, err := spanOf(computed, difference(computed, 0))
	if err != nil {
		return Verdict{}, fmt.Errorf("claims: %s: %w", name, err)
	}
	v, err := judge(e, computed, within, share, how)
	if err != nil {
		return Verdict{}, err
	}
	return l.record(v), nil
}

// prepare finds a figure and refuses what cannot be held against it.
func (l *Ledger) prepare(name string, other, tolerance quantity.Quantity) (Entry, float64, error) {
	e, err := l.Entry(name)
	if err != nil {
		return Entry{}, 0, err
	}
	if other.IsNaN() {
		return Entry{}, 0, fmt.Errorf("claims: %s: what it is held against is not a number", name)
	}
	if !e.Value.Unit().Compatible(other.Unit()) {
		return Entry{}, 0, fmt.Errorf("claims: %s is stated as %v, which %v cannot be held against", name, e.Value, other)
	}
	share, err := tolerance.Certain().Float()
	if err != nil || !(share >= 0) {
		return Entry{}, 0, fmt.Errorf("claims: %s: a tolerance is a share of 0 or more, such as 2 %%, not %v", name, tolerance)
	}
	return e, share, nil
}

// Implied holds a figure against what others of the document imply: by computes
// it from the figures named in from, in their order. What the rounding of those
// figures leaves open is allowed for. Where the document does not state one of
// them, the verdict is Open and names it.
//
// Units: as by has them; tolerance is a share, as in Against.
//
// Range: by must rise or fall with each figure over its rounding, which decides
// how far the implied value may lie.
//
// Errors: no figure of that name; no figure in from; what by refuses; as
// Against.
//
// Source: interval arithmetic at the corners of the rounding; common practice.
func (l *Ledger) Implied(name string, by func(figures []quantity.Quantity) (quantity.Quantity, error), how string, tolerance quantity.Quantity, from ...string) (Verdict, error) {
	e, err := l.Entry(name)
	if err != nil {
		return Verdict{}, err
	}
	if len(from) == 0 {
		return Verdict{}, fmt.Errorf("claims: %s: name the figures that imply it", name)
	}
	found, missing := l.find(from)
	if len(missing) > 0 {
		return l.record(open(e, how, missing)), nil
	}
	value, within, err := corners(found, by)
	if err != nil {
		return Verdict{}, fmt.Errorf("claims: %s: %w", name, err)
	}
	_, share, err := l.prepare(name, value, tolerance)
	if err != nil {
		return Verdict{}, err
	}
	v, err := judge(e, value, within, share, how)
	if err != nil {
		return Verdict{}, err
	}
	return l.record(v), nil
}

// mostCorners is of how many figures all ways to move them by their rounding are
// tried; of more, the two that move each as all by itself raises or lowers what is
// implied.
const mostCorners = 8

// corners computes a value from figures, and over their rounding its span.
func corners(from []Entry, by func([]quantity.Quantity) (quantity.Quantity, error)) (quantity.Quantity, span, error) {
	figures := make([]quantity.Quantity, len(from))
	for i, e := range from {
		figures[i] = e.Value
	}
	value, err := by(append([]quantity.Quantity{}, figures...))
	if err != nil {
		return value, span{}, err
	}
	if value.IsNaN() {
		return value, span{}, errors.New("what the figures imply is not a number")
	}
	within, err := spanOf(value, difference(value, 0))
	if err != nil {
		return value, span{}, err
	}
	widen := func(moved []quantity.Quantity) error {
		q, err := by(moved)
		if err != nil || q.IsNaN() || math.IsInf(q.Shown(), 0) {
			return nil // beyond what the formula holds for; the figures themselves do hold
		}
		here, err := spanOf(q, difference(q, 0))
		if err != nil {
			return err
		}
		within.low, within.high = quantity.Min(within.low, here.low), quantity.Max(within.high, here.high)
		return nil
	}
	for _, signs := range moves(from, value, by) {
		if err := widen(movedBy(from, signs)); err != nil {
			return value, span{}, err
		}
	}
	return value, within, nil
}

// movedBy is figures, each moved up or down by its rounding.
func movedBy(from []Entry, signs []int) []quantity.Quantity {
	moved := make([]quantity.Quantity, len(from))
	for i, e := range from {
		moved[i] = e.Value
		switch signs[i] {
		case 1:
			moved[i] = e.Value.Add(e.Rounding)
		case -1:
			moved[i] = e.Value.Sub(e.Rounding)
		}
	}
	return moved
}

// moves are the ways to move figures up or down.
func moves(from []Entry, value quantity.Quantity, by func([]quantity.Quantity) (quantity.Quantity, error)) [][]int {
	n := len(from)
	var out [][]int
	if n <= mostCorners {
		for corner := range 1 << n {
			signs := make([]int, n)
			for i := range signs {
				signs[i] = 1 - 2*(corner>>i&1)
			}
			out = append(out, signs)
		}
		return out
	}
	raising, lowering := make([]int, n), make([]int, n)
	for i := range n {
		for _, sign := range []int{1, -1} {
			single := make([]int, n)
			single[i] = sign
			out = append(out, single)
			q, err := by(movedBy(from, single))
			switch {
			case err != nil || q.IsNaN():
			case value.Less(q):
				raising[i] = sign
			case q.Less(value):
				lowering[i] = sign
			}
		}
	}
	return append(out, raising, lowering)
}

// AtMost holds a figure against the most it can be, such as an energy against
// what is supplied. Within the bound the verdict is Possible.
//
// Units: the limit measures what the figure does.
//
// Range: the rounding of the figure and the uncertainty of both are allowed for.
//
// Errors: no figure of that name; a limit of another dimension.
//
// Source: the reason given for the limit.
func (l *Ledger) AtMost(name string, limit quantity.Quantity, why string) (Verdict, error) {
	return l.bound(name, limit, why, false)
}

// AtLeast holds a figure against the least it can be, such as the energy to heat
// or to lift something, which no machine undercuts.
//
// Units: the limit measures what the figure does.
//
// Range: as AtMost.
//
// Errors: as AtMost.
//
// Source: the reason given for the limit.
func (l *Ledger) AtLeast(name string, limit quantity.Quantity, why string) (Verdict, error) {
	return l.bound(name, limit, why, true)
}

func (l *Ledger) bound(name string, limit quantity.Quantity, why string, least bool) (Verdict, error) {
	e, _, err := l.prepare(name, limit, quantity.Quantity{})
	if err != nil {
		return Verdict{}, err
	}
	stated, err := spanOf(e.Value, e.Rounding)
	if err != nil {
		return Verdict{}, fmt.Errorf("claims: %s: %w", name, err)
	}
	edge, err := spanOf(limit, difference(limit, 0))
	if err != nil {
		return Verdict{}, fmt.Errorf("claims: %s: %w", name, err)
	}
	v := Verdict{Kind: Possible, Name: name, Stated: e.Value, Found: limit, Ratio: ratio(e.Value, limit), How: why}
	word := choose(least, "least", "most")
	if choose(least, stated.high.Less(edge.low), edge.high.Less(stated.low)) {
		v.Kind = Impossible
	}
	v.Reason = fmt.Sprintf("the %s it can be is %s", word, amount(limit))
	return l.record(v), nil
}

// Share holds a figure against what every share is: between 0 and 100 %. It is
// for recoveries, yields and grades.
//
// Units: a share, as in %.
//
// Range: as AtMost.
//
// Errors: no figure of that name, or none that is a share.
//
// Source: arithmetic.
func (l *Ledger) Share(name string) (Verdict, error) {
	e, err := l.Entry(name)
	if err != nil {
		return Verdict{}, err
	}
	share, err := e.Value.Certain().Float()
	if err != nil {
		return Verdict{}, fmt.Errorf("claims: %s is %v, which is no share", name, e.Value)
	}
	if share < 0 {
		return l.AtLeast(name, quantity.Of(0, "%"), "no share is below 0")
	}
	return l.AtMost(name, quantity.Of(100, "%"), "no share is above 100 %")
}

// Purity holds the grade of a product against what the pure mineral contains:
// no separation of grains makes a product richer than the mineral itself.
//
// Units: the figure is a share, as in % or g/t. symbol is an element or an
// oxide, as "Fe" or "TiO2"; formulaOrName the mineral, as "hematite" or "Fe2O3".
//
// Range: the ideal formula; natural minerals hold less, or somewhat more where
// other elements take a place.
//
// Errors: no figure of that name, or none that is a share; a mineral or an
// element that package mineral does not know.
//
// Source: the formula and the standard atomic weights of package mineral.
func (l *Ledger) Purity(name, symbol, formulaOrName string) (Verdict, error) {
	content, err := mineral.Content(symbol, formulaOrName)
	if err != nil { // an oxide, then: what the element in it would weigh as oxide
		factor, other := mineral.Factor(formulaOrName, symbol)
		if other != nil {
			return Verdict{}, fmt.Errorf("claims: %s: %w", name, other)
		}
		content = factor.To("%")
	}
	e, err := l.Entry(name)
	if err != nil {
		return Verdict{}, err
	}
	if !e.Value.Unit().Compatible(content.Unit()) {
		return Verdict{}, fmt.Errorf("claims: %s is %v, which is no share of mass", name, e.Value)
	}
	return l.AtMost(name, content, fmt.Sprintf("%s in pure %s", symbol, formulaOrName))
}

// Missing says that a figure cannot be checked, and what the document would have
// to state for it.
//
// Units: none.
//
// Range: any figure of the ledger.
//
// Errors: no figure of that name; nothing that is missing.
//
// Source: the document.
func (l *Ledger) Missing(name string, missing ...string) (Verdict, error) {
	e, err := l.Entry(name)
	if err != nil {
		return Verdict{}, err
	}
	if len(missing) == 0 {
		return Verdict{}, fmt.Errorf("claims: %s: say what is missing", name)
	}
	return l.record(open(e, "", missing)), nil
}
