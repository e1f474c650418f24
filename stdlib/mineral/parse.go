package mineral

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// ParseFormula reads a chemical formula: FeTiO3, (Mg0.9Fe0.1)2SiO4,
// CaSO4·2H2O, CaSO4·½H2O, Ca10(PO4)6(OH)2, FeO·Fe2O3, Fe₂O₃.
//
// Units: counts are plain numbers, whole or decimal; round, square and curly
// brackets group. A dot between parts is written · or *; a full stop is one only
// where it cannot be a decimal point.
//
// Range: elements with a standard atomic weight.
//
// Errors: a *FormulaError with the place: a symbol that is no element, a bracket
// without its partner, a count that is no number above 0, elements parted by a
// comma without their amounts, a charge, and a full stop that may be either a
// decimal point or the dot of a compound, as in Al2O3.2SiO2.
//
// Source: the usual notation, IUPAC Nomenclature of Inorganic Chemistry (2005).
func ParseFormula(text string) (Formula, error) {
	p := &parser{text: strings.TrimSpace(text)}
	p.rest = []rune(p.text)
	f, err := p.formula()
	if err != nil {
		return Formula{}, err
	}
	return f, nil
}

type parser struct {
	text string
	rest []rune
}

func (p *parser) wrong(format string, arguments ...any) error {
	return &FormulaError{p.text, string(p.rest), fmt.Sprintf(format, arguments...)}
}

func (p *parser) next() rune {
	if len(p.rest) == 0 {
		return 0
	}
	return p.rest[0]
}

func (p *parser) after(n int) rune {
	if len(p.rest) <= n {
		return 0
	}
	return p.rest[n]
}

func isDot(r rune) bool { return r != 0 && strings.ContainsRune("·•∙⋅*", r) }

func (p *parser) formula() (Formula, error) {
	f := Formula{text: p.text}
	if p.text == "" {
		return f, p.wrong("there is nothing to read")
	}
	for {
		next, err := p.part()
		if err != nil {
			return f, err
		}
		f.parts = append(f.parts, next)
		for _, a := range next.atoms {
			f.atoms = add(f.atoms, a.element, a.count*next.count)
		}
		if len(p.rest) == 0 {
			return f, nil
		}
		if !isDot(p.next()) && !p.stopParts() {
			return f, p.unexpected()
		}
		p.rest = p.rest[1:]
		for p.next() == ' ' {
			p.rest = p.rest[1:]
		}
	}
}

// stopParts reports whether a full stop stands where it cannot be a decimal
// point.
func (p *parser) stopParts() bool {
	return p.next() == '.' && (unicode.IsUpper(p.after(1)) || closing(p.after(1)) != 0)
}

// part is what stands between dots: a number, perhaps, and groups.
func (p *parser) part() (part, error) {
	out := part{count: 1}
	if c := p.next(); isCount(c) || c == '½' || c == '¼' || c == '¾' {
		count, err := p.count()
		if err != nil {
			return out, err
		}
		out.count = count
	}
	before := p.rest
	groups, err := p.groups(0)
	if err != nil {
		return out, err
	}
	if len(groups) == 0 {
		return out, p.unexpected()
	}
	out.atoms = groups
	out.text = strings.TrimSpace(string(before[:len(before)-len(p.rest)]))
	return out, nil
}

// groups reads elements and brackets up to the end, a dot or a closing bracket.
func (p *parser) groups(depth int) ([]atoms, error) {
	if depth > 20 {
		return nil, p.wrong("brackets stand too deep in one another")
	}
	var all []atoms
	for {
		for p.next() == ' ' {
			p.rest = p.rest[1:]
		}
		var inner []atoms
		isOxygen := false
		switch c := p.next(); {
		case closing(c) != 0:
			var err error
			if inner, err = p.bracket(depth); err != nil {
				return nil, err
			}
		case unicode.IsUpper(c):
			element, err := p.element()
			if err != nil {
				return nil, err
			}
			inner, isOxygen = []atoms{{element, 1}}, element.Symbol == "O"
		default:
			return all, nil
		}
		count, err := p.countAfter(isOxygen)
		if err != nil {
			return nil, err
		}
		for _, a := range inner {
			all = add(all, a.element, a.count*count)
		}
	}
}

func closing(r rune) rune {
	switch r {
	case '(':
		return ')'
	case '[':
		return ']'
	case '{':
		return '}'
	}
	return 0
}

func (p *parser) bracket(depth int) ([]atoms, error) {
	from, want := p.rest, closing(p.next())
	p.rest = p.rest[1:]
	inner, err := p.groups(depth + 1)
	if err != nil {
		return nil, err
	}
	if p.next() != want {
		if len(p.rest) == 0 {
			p.rest = from
			return nil, p.wrong("the bracket is not closed")
		}
		return nil, p.unexpected()
	}
	if len(inner) == 0 {
		p.rest = from
		return nil, p.wrong("there is nothing in the bracket")
	}
	p.rest = p.rest[1:]
	return inner, nil
}

func (p *parser) element() (Element, error) {
	end := 1
	for end < len(p.rest) && end < 3 && unicode.IsLower(p.rest[end]) {
		end++
	}
	symbol := string(p.rest[:end])
	if element, ok := lookUp(symbol); ok {
		p.rest = p.rest[end:]
		return element, nil
	}
	read := []rune(p.text)[:len([]rune(p.text))-len(p.rest)]
	if end == 1 && len(read) > 0 {
		if element, ok := lookUp(capitalised(string(read[len(read)-1:]) + symbol)); ok {
			return Element{}, p.wrong("%s is no element; %s is written %s", symbol, element.Name, element.Symbol)
		}
	}
	if _, ok := lookUp(strings.TrimSuffix(symbol, "x")); ok {
		return Element{}, p.wrong("a count is a number; give x a value")
	}
	if _, err := FindElement(symbol); err != nil {
		return Element{}, p.wrong("%s", strings.TrimPrefix(err.Error(), "mineral: "))
	}
	return Element{}, p.wrong("%s is no element", symbol)
}

// countAfter is the count behind an element or bracket, 1 if there is none.
func (p *parser) countAfter(isOxygen bool) (float64, error) {
	from := p.rest
	if c := p.next(); c == '.' && unicode.IsDigit(p.after(1)) {
		return 0, p.wrong("the full stop may be a decimal point or the dot of a compound; write 0.%s or ·", string(p.after(1)))
	} else if !(unicode.IsDigit(c) || lowDigit(c) >= 0) {
		return 1, nil
	}
	count, err := p.count()
	if err != nil {
		return 0, err
	}
	number := string(from[:len(from)-len(p.rest)])
	if whole, decimals, found := strings.Cut(number, "."); found && strings.TrimLeft(whole, "0") != "" {
		if strings.HasPrefix(string(p.rest), "H2O") || isOxygen && (unicode.IsUpper(p.next()) || closing(p.next()) != 0) {
			p.rest = from
			return 0, p.wrong("the full stop may be a decimal point or the dot of a compound; write %s·%s, or put the atoms before it in brackets if %s is their count", whole, decimals, number)
		}
	}
	return count, nil
}

// count reads 2, 0.95, ₂, 1/2 or ½.
func (p *parser) count() (float64, error) {
	from := p.rest
	if value := map[rune]float64{'½': 0.5, '¼': 0.25, '¾': 0.75}[p.next()]; value != 0 {
		p.rest = p.rest[1:]
		return value, nil
	}
	end := 0
	for end < len(p.rest) && isCount(p.rest[end]) {
		if p.rest[end] == '.' && !unicode.IsDigit(p.after(end+1)) {
			break
		}
		end++
	}
	text := lowered(string(p.rest[:end]))
	above, below, isFraction := strings.Cut(text, "/")
	value, err := strconv.ParseFloat(above, 64)
	if err == nil && isFraction {
		var divisor float64
		if divisor, err = strconv.ParseFloat(below, 64); err == nil {
			value /= divisor
		}
	}
	if err != nil || !(value > 0 && value <= 1e6) {
		p.rest = from
		return 0, p.wrong("a count is a number above 0")
	}
	p.rest = p.rest[end:]
	return value, nil
}

func lowDigit(r rune) int {
	if r >= '₀' && r <= '₉' {
		return int(r - '₀')
	}
	return -1
}

// lowered writes subscript digits as plain ones.
func lowered(text string) string {
	return strings.Map(func(r rune) rune {
		if d := lowDigit(r); d >= 0 {
			return '0' + rune(d)
		}
		return r
	}, text)
}

// unexpected says what to write instead of what stands next.
func (p *parser) unexpected() error {
	switch c := p.next(); {
	case c == 0:
		return p.wrong("something is missing at the end")
	case c == ',' || c == ';':
		return p.wrong("elements that share a place need their amounts, as in (Mg0.9Fe0.1)2SiO4")
	case strings.ContainsRune("+^⁺⁻¹²³⁴⁵⁶", c) || c == '-' && strings.ContainsRune(p.text, '+'):
		return p.wrong("a formula is written without charges")
	case c == '-' || c == '–' || c == '−' || unicode.IsLower(c):
		return p.wrong("a count is a number, and a symbol begins with a capital letter")
	case strings.ContainsRune(")]}", c):
		return p.wrong("the bracket was not opened")
	}
	return p.wrong("%q has no place in a formula", p.next())
}

// add counts atoms to a list that holds each element once.
func add(all []atoms, element Element, count float64) []atoms {
	for i := range all {
		if all[i].element.Symbol == element.Symbol {
			all[i].count += count
			return all
		}
	}
	return append(all, atoms{element, count})
}
