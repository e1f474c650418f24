package quantity

import (
	"math"
	"strings"
)

// ladders are the units among which Best chooses, from small to large, each
// with the others that measure the same. A unit that is in none, such as one of
// money or a gauss, takes a prefix, if the table has prefixes for it.
var ladders = []string{
	"nm µm mm m km",
	"µg mg g kg t kt Mt Gt",
	"µs ms s min h d a",
	"mil in ft mi",
	"lb st kst Mst",
}

// Best is q in the unit, of those that differ from its own by a prefix or that
// stand beside it in use (g, kg, t; s, min, h), in which its number lies between
// 1 and 1000, or nearest to that: 0.00021 m is 210 µm, 36500 kg/h is 36.5 t/h.
// Only the first unit above the stroke changes; what has none stays.
func (q Quantity) Best() Quantity {
	u := q.Unit().real()
	if q.val() == 0 || math.IsNaN(q.val()) || math.IsInf(q.val(), 0) || u.reading || len(u.terms) == 0 || !u.terms[0].power.isOne() {
		return q
	}
	first := u.terms[0].atom
	rungs := rungsOf(first, len(u.terms) == 1)
	best, badness := q, q.distanceFromPlain()
	for _, rung := range rungs {
		terms := append([]term{{rung, whole(1)}}, u.terms[1:]...)
		r, err := q.InUnit(Unit{intern(terms)})
		if err != nil {
			continue
		}
		if b := r.distanceFromPlain(); b < badness {
			best, badness = r, b
		}
	}
	return best
}

// distanceFromPlain is by how many powers of ten the number is outside 1 to 1000.
func (q Quantity) distanceFromPlain() float64 {
	power := exponentOf(q.val(), significantDigits)
	return float64(max(0, -power, power-2))
}

// rungsOf is the units that may take the place of an atom. Time is shown in
// minutes and hours only where it stands alone.
func rungsOf(a *atom, alone bool) []*atom {
	r := known()
	r.RLock()
	defer r.RUnlock()
	for _, ladder := range ladders {
		names := strings.Fields(ladder)
		var rungs []*atom
		on := false
		for _, name := range names {
			rung := r.find(name)
			if rung == nil {
				continue
			}
			on = on || rung == a
			rungs = append(rungs, rung)
		}
		if on && (alone || a.dimension != baseDimension(duration)) {
			return rungs
		}
	}
	base := a
	if a.unprefixed != nil {
		base = a.unprefixed
	}
	rungs := []*atom{base}
	for _, p := range prefixes {
		if b := r.prefixed[p.symbol+base.symbol]; p.power%3 == 0 && b != nil && b.unprefixed == base {
			rungs = append(rungs, b)
		}
	}
	return rungs
}
