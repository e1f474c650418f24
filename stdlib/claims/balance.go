package claims

import (
	"errors"
	"fmt"

	"cobber/stdlib/quantity"
)

// Carried names the figures of a stream: its flow, and the grade of what it
// carries. Without a grade the stream itself is meant.
type Carried struct{ Flow, Grade string }

// Conserved holds what leaves a process against what enters it: no more metal
// comes out than went in. The verdict is on the first figure that leaves.
//
// Units: flows of one kind, as t/h or t/d; grades are shares, as in % or g/t.
//
// Range: at rest, and where nothing is drawn from a stock. Less out than in is
// Possible, as a document may leave out a stream. The rounding of all figures is
// allowed for.
//
// Errors: nothing that enters or leaves; flows of unlike dimensions; no figure
// of the name of the first flow that leaves.
//
// Source: conservation of mass.
func (l *Ledger) Conserved(what string, in, out []Carried) (Verdict, error) {
	if len(in) == 0 || len(out) == 0 {
		return Verdict{}, errors.New("claims: say what enters and what leaves")
	}
	first, err := l.Entry(out[0].Flow)
	if err != nil {
		return Verdict{}, err
	}
	how := what + " out against " + what + " in"
	var names []string
	for _, c := range append(append([]Carried{}, out...), in...) {
		names = append(names, c.Flow)
		if c.Grade != "" {
			names = append(names, c.Grade)
		}
	}
	found, missing := l.find(names)
	if len(missing) > 0 {
		return l.record(open(first, how, missing)), nil
	}
	leaving, entering, excess := carry(out, in)
	if err := alike(found, names, append(append([]Carried{}, out...), in...)); err != nil {
		return Verdict{}, err
	}
	_, within, err := corners(found, excess)
	if err != nil {
		return Verdict{}, fmt.Errorf("claims: %s: %w", what, err)
	}
	values := make([]quantity.Quantity, len(found))
	for i, e := range found {
		values[i] = e.Value
	}
	outs, ins := leaving(values), entering(values)
	v := Verdict{Kind: Possible, Name: first.Name, Stated: outs, Found: ins, Ratio: ratio(outs, ins), How: how}
	v.Reason = fmt.Sprintf("%s out, %s in", amount(outs), amount(ins))
	if within.low.Shown() > 0 {
		v.Kind = Impossible
	}
	return l.record(v), nil
}

// carry is the sums of what leaves and enters, of figures in the order of out
// and then in, and the excess of the first over the second.
func carry(out, in []Carried) (leaving, entering func([]quantity.Quantity) quantity.Quantity, excess func([]quantity.Quantity) (quantity.Quantity, error)) {
	sum := func(streams []Carried, start int) func([]quantity.Quantity) quantity.Quantity {
		return func(figures []quantity.Quantity) quantity.Quantity {
			var total quantity.Quantity
			at := start
			for _, c := range streams {
				part := figures[at]
				at++
				if c.Grade != "" {
					part = part.Mul(figures[at])
					at++
				}
				total = total.Add(part)
			}
			return total
		}
	}
	after := 0
	for _, c := range out {
		after += choose(c.Grade != "", 2, 1)
	}
	leaving, entering = sum(out, 0), sum(in, after)
	return leaving, entering, func(figures []quantity.Quantity) (quantity.Quantity, error) {
		return leaving(figures).Sub(entering(figures)), nil
	}
}

// alike refuses streams that cannot be added.
func alike(found []Entry, names []string, streams []Carried) error {
	at := 0
	var first quantity.Quantity
	for _, c := range streams {
		q := found[at].Value
		at++
		if c.Grade != "" {
			q = q.Mul(found[at].Value)
			at++
		}
		if first.IsNothing() {
			first = q
			continue
		}
		if !q.Unit().Compatible(first.Unit()) {
			return fmt.Errorf("claims: %s carries %v, and %s %v: they cannot be added", c.Flow, q, names[0], first)
		}
	}
	return nil
}

// Separation names the figures of a separation into a concentrate and a tailing.
// Empty names are those that the document does not state.
type Separation struct {
	Feed, Concentrate, Tailing string // grades
	Yield, Recovery            string // of mass, and of what the grades are of
}

// TwoProduct holds the figures of a separation against one another, by
//
//	Y = (f − t)/(c − t)    R = Y·c/f
//
// as far as they are stated: the yield from the three grades; the recovery from
// yield and grades, or from the three grades; and that the feed lies between the
// two products. What is stated and cannot be checked says what is missing.
//
// Units: grades of one kind, yield and recovery shares; tolerance is a share, as
// in Against.
//
// Range: two products at rest.
//
// Errors: fewer than two figures named; a name that the ledger does not hold;
// what Against refuses.
//
// Source: the two-product formula, A.F. Taggart, Handbook of Mineral Dressing
// (1945), section 19 (reference from memory).
func (l *Ledger) TwoProduct(s Separation, tolerance quantity.Quantity) ([]Verdict, error) {
	stated := 0
	for _, name := range []string{s.Feed, s.Concentrate, s.Tailing, s.Yield, s.Recovery} {
		if name == "" {
			continue
		}
		if _, err := l.Entry(name); err != nil {
			return nil, err
		}
		stated++
	}
	if stated < 2 {
		return nil, errors.New("claims: a separation needs two figures or more to be held against one another")
	}
	before := len(l.verdicts)
	for _, check := range []func(Separation, quantity.Quantity) error{l.feedBetween, l.yieldOf, l.recoveryOf} {
		if err := check(s, tolerance); err != nil {
			return nil, err
		}
	}
	return append([]Verdict{}, l.verdicts[before:]...), nil
}

// feedBetween holds the feed against both products.
func (l *Ledger) feedBetween(s Separation, _ quantity.Quantity) error {
	if s.Feed == "" {
		return nil
	}
	for _, product := range []struct {
		name string
		top  bool
	}{{s.Concentrate, true}, {s.Tailing, false}} {
		if product.name == "" {
			continue
		}
		e, err := l.Entry(product.name)
		if err != nil {
			return err
		}
		// The bound is another figure, known to its own rounding.
		limit := e.Value.Add(choose(product.top, e.Rounding, e.Rounding.Neg()))
		bound, why := l.AtMost, "a feed is not richer than its concentrate"
		if !product.top {
			bound, why = l.AtLeast, "a feed is not poorer than its tailing"
		}
		if _, err := bound(s.Feed, limit, why); err != nil {
			return err
		}
	}
	return nil
}

func (l *Ledger) yieldOf(s Separation, tolerance quantity.Quantity) error {
	if s.Yield == "" {
		return nil
	}
	_, err := l.implied(s.Yield, "the yield that the three grades imply", tolerance, func(q []quantity.Quantity) (quantity.Quantity, error) {
		return q[0].Sub(q[2]).Div(q[1].Sub(q[2])).In("%")
	}, part{"the grade of the feed", s.Feed}, part{"the grade of the concentrate", s.Concentrate}, part{"the grade of the tailing", s.Tailing})
	return err
}

func (l *Ledger) recoveryOf(s Separation, tolerance quantity.Quantity) error {
	if s.Recovery == "" {
		return nil
	}
	feed, concentrate := part{"the grade of the feed", s.Feed}, part{"the grade of the concentrate", s.Concentrate}
	if s.Yield != "" {
		_, err := l.implied(s.Recovery, "the recovery that yield and grades imply", tolerance, func(q []quantity.Quantity) (quantity.Quantity, error) {
			return q[2].Mul(q[1]).Div(q[0]).In("%")
		}, feed, concentrate, part{"the yield", s.Yield})
		if err != nil || s.Tailing == "" {
			return err
		}
	}
	_, err := l.implied(s.Recovery, "the recovery that the three grades imply", tolerance, func(q []quantity.Quantity) (quantity.Quantity, error) {
		return q[0].Sub(q[2]).Div(q[1].Sub(q[2])).Mul(q[1]).Div(q[0]).In("%")
	}, feed, concentrate, part{"the grade of the tailing", s.Tailing})
	return err
}

// part is a figure that is needed, and what it is where nobody named it.
type part struct{ what, name string }

// implied is Implied where some figures may not be stated at all.
func (l *Ledger) implied(name, how string, tolerance quantity.Quantity, by func([]quantity.Quantity) (quantity.Quantity, error), from ...part) (Verdict, error) {
	var names, missing []string
	for _, p := range from {
		if p.name == "" {
			missing = append(missing, p.what)
			continue
		}
		names = append(names, p.name)
	}
	if len(missing) > 0 {
		e, err := l.Entry(name)
		if err != nil {
			return Verdict{}, err
		}
		return l.record(open(e, how, missing)), nil
	}
	return l.Implied(name, by, how, tolerance, names...)
}
