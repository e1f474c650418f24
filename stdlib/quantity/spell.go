package quantity

import "strings"

// notation is how units are written: in plain text, HTML or LaTeX.
type notation struct {
	times  string
	symbol func(string) string
	power  func(exponent) string
}

var plainText = notation{"·", func(s string) string { return s }, exponent.superscript}

// spellTerms writes a product of units: numerator, then denominator, in the
// order in which they came, with kW·h written kWh where the table says so.
func spellTerms(terms []term, in notation) string {
	terms = contract(terms)
	above := 0
	for _, t := range terms {
		if t.power.sign() > 0 {
			above++
		}
	}
	var over, under []string
	for _, t := range terms {
		symbol := t.atom.symbol
		if t.atom.inCompound != "" && (len(terms) > 1 || !t.power.isOne()) {
			symbol = t.atom.inCompound
		}
		if t.power.sign() > 0 || above == 0 {
			over = append(over, in.symbol(symbol)+in.power(t.power))
		} else {
			under = append(under, in.symbol(symbol)+in.power(t.power.neg()))
		}
	}
	text := strings.Join(over, in.times)
	if len(under) == 0 {
		return text // with nothing above the stroke: min⁻¹, for "60 1/min" reads badly
	}
	below := strings.Join(under, in.times)
	if len(under) > 1 {
		below = "(" + below + ")"
	}
	return text + "/" + below
}

// contract puts units that have a symbol of their own back together.
func contract(terms []term) []term {
	if len(terms) < 2 {
		return terms
	}
	for _, whole := range contractions() {
		terms = contractTo(terms, whole)
	}
	return terms
}

func contractTo(terms []term, whole *atom) []term {
	for i, t := range terms {
		power, ok := powerOf(t, whole.madeOf[0])
		if !ok {
			continue
		}
		taken := map[int]bool{i: true}
		for _, part := range whole.madeOf[1:] {
			for j, other := range terms {
				if !taken[j] && other.atom == part.atom && other.power == part.power.mul(power) {
					taken[j] = true
					break
				}
			}
		}
		if len(taken) != len(whole.madeOf) {
			continue
		}
		together := *whole
		together.symbol = t.atom.prefix + whole.symbol
		var out []term
		for j, other := range terms {
			if j == i {
				out = append(out, term{&together, power})
			} else if !taken[j] {
				out = append(out, other)
			}
		}
		return out
	}
	return terms
}

// powerOf is the power, 1 or -1, in which t holds part, whatever its prefix.
func powerOf(t, part term) (exponent, bool) {
	if t.atom != part.atom && t.atom.unprefixed != part.atom {
		return exponent{}, false
	}
	switch t.power {
	case part.power:
		return whole(1), true
	case part.power.neg():
		return whole(-1), true
	}
	return exponent{}, false
}
