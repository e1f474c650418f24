package quantity

import (
	"math"
	"strconv"
	"unicode"
	"unicode/utf8"
)

// ParseUnit reads a unit as the trade writes it: t/h, kWh/t, g/(m2*s), m³/h,
// A·m²/kg, kg m^-3, 1/min, emu/g, "short tons per hour". Products are written
// with ·, *, a space, or a hyphen between letters; a quotient with / or "per";
// powers with ^, raised digits, or digits after the symbol. An empty text and
// "1" are the unit of a pure number.
//
// The error is a *UnitError. It refuses words with several meanings (ton, oz,
// gal, hp) with the choices, and a product after a division sign (a/b·c), which
// people read in two ways.
func ParseUnit(text string) (Unit, error) {
	r := known()
	r.RLock()
	u, seen := r.texts[text]
	r.RUnlock()
	if seen {
		return Unit{u}, nil
	}
	r.Lock()
	defer r.Unlock()
	p := unitParser{registry: r, text: text}
	u, err := p.unit()
	if err != nil {
		return Unit{}, err
	}
	if len(r.texts) < textsKept {
		r.texts[text] = u
	}
	return Unit{u}, nil
}

// textsKept bounds the memory that texts already read may take.
const textsKept = 4096

// longestUnit is far beyond any unit in use; it bounds the work on bad input.
const longestUnit = 200

// asWritten makes the terms of a unit read from text: units kept as products
// are spelled out, and beside other units a degree is a difference.
func asWritten(terms []term) []term {
	if len(terms) == 1 && terms[0].power.isOne() {
		return spellOut(terms)
	}
	out := make([]term, len(terms))
	for i, t := range terms {
		if t.atom.difference != nil {
			t.atom = t.atom.difference
		}
		out[i] = t
	}
	return joinSame(spellOut(out))
}

func spellOut(terms []term) []term {
	var out []term
	for _, t := range terms {
		if t.atom.madeOf == nil {
			out = append(out, t)
		}
		for _, part := range t.atom.madeOf {
			out = append(out, term{part.atom, part.power.mul(t.power)})
		}
	}
	return out
}

// joinSame adds the powers of the same unit and drops those that vanish.
func joinSame(terms []term) []term {
	var out []term
next:
	for _, t := range terms {
		for i := range out {
			if out[i].atom == t.atom {
				out[i].power = out[i].power.add(t.power)
				continue next
			}
		}
		out = append(out, t)
	}
	kept := out[:0]
	for _, t := range out {
		if !t.power.isZero() {
			kept = append(kept, t)
		}
	}
	return kept
}

type unitParser struct {
	registry *registry
	text     string
	at       int
}

// unit reads the text and interns what it means.
func (p *unitParser) unit() (u *unit, err error) {
	defer func() {
		switch failure := recover().(type) {
		case nil:
		case *DimensionError: // powers beyond the range, from exponent arithmetic
			u, err = nil, p.fail(p.text, 0, failure.Reason)
		default:
			panic(failure)
		}
	}()
	terms, err := p.parse()
	if err != nil {
		return nil, err
	}
	for _, t := range terms {
		if num, den := t.power.parts(); max(num, -num, den) > largestPower {
			return nil, p.fail(p.text, 0, "the power of "+t.atom.symbol+" is out of range")
		}
	}
	u = intern(terms)
	if size := u.num / u.den; size == 0 || math.IsInf(size, 0) || math.IsNaN(size) {
		return nil, p.fail(p.text, 0, "the unit is too large or too small for numbers in it to be converted")
	}
	return u, nil
}

// largestPower bounds what may be written; it bounds the work on bad input.
const largestPower = 99

func (p *unitParser) parse() (terms []term, err error) {
	if len(p.text) > longestUnit {
		return nil, p.fail("", longestUnit, "it is longer than any unit; put the unit alone between the quotes")
	}
	if !utf8.ValidString(p.text) {
		return nil, p.fail("", 0, "it is not valid text")
	}
	if p.skipSpace(); p.at == len(p.text) {
		return nil, nil
	}
	terms, err = p.product(false)
	if err == nil && p.at < len(p.text) {
		return nil, p.fail(p.text[p.at:], p.at, "nothing opens this )")
	}
	if err != nil {
		return nil, err
	}
	return asWritten(terms), nil
}

func (p *unitParser) fail(part string, at int, reason string) *UnitError {
	return &UnitError{Text: p.text, Part: part, Offset: at, Reason: reason}
}

func (p *unitParser) peek() rune {
	if p.at >= len(p.text) {
		return 0
	}
	r, _ := utf8.DecodeRuneInString(p.text[p.at:])
	return r
}

func (p *unitParser) next() rune {
	r, n := utf8.DecodeRuneInString(p.text[p.at:])
	p.at += n
	return r
}

func (p *unitParser) skipSpace() {
	for p.at < len(p.text) && unicode.IsSpace(p.peek()) {
		p.next()
	}
}

// product reads factors up to the end or a closing parenthesis.
func (p *unitParser) product(inside bool) ([]term, error) {
	terms, err := p.factor()
	if err != nil {
		return nil, err
	}
	divided := false
	for {
		p.skipSpace()
		start := p.at
		if p.at == len(p.text) || p.peek() == ')' {
			return terms, nil
		}
		divide := p.operator()
		if divided && !divide {
			return nil, p.fail(p.text[start:], start, "a product after a division is read in two ways; write a/(b·c) or a·c/b")
		}
		divided = divided || divide
		more, err := p.factor()
		if err != nil {
			return nil, err
		}
		for _, t := range more {
			if divide {
				t.power = t.power.neg()
			}
			terms = append(terms, t)
		}
	}
}

// operator reads what joins two factors; a space alone is a product.
func (p *unitParser) operator() (divide bool) {
	switch p.peek() {
	case '/', '⁄', '÷':
		p.next()
		return true
	case '*', '·', '⋅', '∙', '×', '.', '-', '‐', '‑':
		p.next()
		return false
	}
	if word, _ := p.word(p.at); word == "per" {
		p.at += len(word)
		return true
	}
	return false
}

// factor reads a unit, 1, or a parenthesis, and the power after it.
func (p *unitParser) factor() ([]term, error) {
	p.skipSpace()
	start := p.at
	switch c := p.peek(); {
	case p.at == len(p.text):
		return nil, p.fail("", p.at, "a unit is missing at the end")
	case c == '(':
		p.next()
		terms, err := p.product(true)
		if err != nil {
			return nil, err
		}
		if p.peek() != ')' {
			return nil, p.fail(p.text[start:], start, "this ( is not closed")
		}
		p.next()
		return p.raise(terms)
	case unicode.IsDigit(c):
		for unicode.IsDigit(p.peek()) || p.peek() == '.' && p.at < len(p.text) {
			p.next()
		}
		if number := p.text[start:p.at]; number != "1" {
			return nil, p.fail(number, start, "a number other than 1 cannot stand inside a unit")
		}
		return nil, nil
	case !isUnitLetter(c):
		return nil, p.fail(string(c), start, "a unit cannot begin with "+strconv.Quote(string(c)))
	}
	return p.named()
}

func (p *unitParser) raise(terms []term) ([]term, error) {
	power, err := p.power()
	if err != nil {
		return nil, err
	}
	for i := range terms {
		terms[i].power = terms[i].power.mul(power)
	}
	return terms, nil
}
