package quantity

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strconv"
	"strings"
)

// Declare names a unit of one's own, for the whole program. The definition is
//
//   - a quantity: Declare("skip", "12.5 t");
//   - a rate for a currency: Declare("EUR", "1.08 USD"), after which euros and
//     dollars convert;
//   - the choice for a word with several meanings: Declare("ton", "1 st");
//   - "currency", for money of its own: Declare("USD2015", "currency");
//   - nothing, for things that are counted: Declare("truck", ""), so that
//     trucks per hour and tonnes per truck multiply.
//
// A unit of the table cannot be declared again, except a currency. Declaring
// a name again changes what is read afterwards; quantities made before keep the
// unit they have.
func Declare(name, definition string) error {
	a, err := declared(name, strings.TrimSpace(definition))
	if err != nil {
		return fmt.Errorf("declare unit %q: %w", name, err)
	}
	r := known()
	r.Lock()
	defer r.Unlock()
	before := r.find(name)
	switch {
	case before == nil, r.refused[name].reason != "":
	case before.declared && before.equivalent(a):
		return nil
	case !before.declared && (before.symbol != name || before.mark != name):
		return fmt.Errorf("declare unit %q: it is %s already; choose another name", name, before.name)
	}
	r.nextID++
	a.id = r.nextID
	r.atoms[name] = a
	clear(r.texts)
	return nil
}

func (a *atom) equivalent(b *atom) bool {
	return a.size.equal(b.size) && a.dimension == b.dimension && a.mark == b.mark && a.angle == b.angle && a.kind == b.kind && a.basis == b.basis
}

func declared(name, definition string) (*atom, error) {
	if err := checkName(name); err != nil {
		return nil, err
	}
	a := &atom{symbol: name, name: name, plural: name, size: unity(), declared: true}
	switch definition {
	case "":
		a.mark = name
		return a, nil
	case "currency":
		a.mark, a.dimension = name, baseDimension(money)
		return a, nil
	}
	q, err := Parse(definition)
	if err != nil {
		return nil, err
	}
	if q.cloud != nil {
		return nil, fmt.Errorf("%s is uncertain; a unit has one size, so multiply by the uncertain quantity instead", q)
	}
	if !(q.val() > 0) || math.IsInf(q.val(), 0) {
		return nil, fmt.Errorf("%s is not a size; give a positive number and a unit", q)
	}
	return a, a.define(q)
}

// define gives the atom the size and dimension of q.
func (a *atom) define(q Quantity) error {
	u := q.unit
	if u.basis != "" && !slices.ContainsFunc(u.terms, func(t term) bool { return t.atom.basis == u.basis }) {
		return fmt.Errorf("%s is not one unit of dry, wet, bank or loose material; define the unit without it", q)
	}
	if u.reading {
		return fmt.Errorf("%s is a reading of a temperature scale, not a size", q)
	}
	isOneMark := u.marks == "" || slices.ContainsFunc(u.terms, func(t term) bool { return t.atom.mark == u.marks })
	if !isOneMark || !u.angle.isZero() && !u.angle.isOne() {
		return fmt.Errorf("%s is not one unit of money, of angle or of things counted; define the unit without it", q)
	}
	decimal, _ := new(big.Rat).SetString(strconv.FormatFloat(q.val(), 'g', -1, 64)) // written by FormatFloat
	a.size = u.size.mul(factor{decimal, 0, 1})
	a.dimension, a.mark, a.angle, a.kind, a.basis = u.dimension, u.marks, u.angle.isOne(), u.kind, u.basis
	a.isDelta = u.isDelta
	return nil
}

func checkName(name string) error {
	p := unitParser{text: name}
	if written, _ := p.word(0); written != name || name == "" || name == "per" || !isUnitLetter(p.peek()) || strings.Contains(name, "/") {
		return fmt.Errorf("a name is one word of letters and digits that begins with a letter")
	}
	return nil
}
