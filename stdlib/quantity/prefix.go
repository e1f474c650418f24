package quantity

import (
	"math/big"
	"strings"
)

// prefixes are those of the SI brochure, 9th edition with the four of 2022.
var prefixes = []struct {
	symbol, name string
	power        int64
}{
	{"Q", "quetta", 30}, {"R", "ronna", 27}, {"Y", "yotta", 24}, {"Z", "zetta", 21}, {"E", "exa", 18},
	{"P", "peta", 15}, {"T", "tera", 12}, {"G", "giga", 9}, {"M", "mega", 6}, {"k", "kilo", 3},
	{"h", "hecto", 2}, {"da", "deca", 1}, {"d", "deci", -1}, {"c", "centi", -2}, {"m", "milli", -3},
	{"µ", "micro", -6}, {"n", "nano", -9}, {"p", "pico", -12}, {"f", "femto", -15}, {"a", "atto", -18},
	{"z", "zepto", -21}, {"y", "yocto", -24}, {"r", "ronto", -27}, {"q", "quecto", -30},
}

func prefixList(text string) []string {
	if text != "all" {
		return strings.Fields(text)
	}
	var out []string
	for _, p := range prefixes {
		out = append(out, p.symbol)
	}
	return out
}

func tenTo(power int64) *big.Rat {
	n := new(big.Int).Exp(big.NewInt(10), big.NewInt(max(power, -power)), nil)
	if power < 0 {
		return new(big.Rat).SetFrac(big.NewInt(1), n)
	}
	return new(big.Rat).SetInt(n)
}

// addPrefixed adds kW beside W, under every spelling that no unit of the table
// has for itself: min is the minute, not a thousandth of an inch.
func (r *registry) addPrefixed(symbol string, a *atom, spellings []string) {
	for _, p := range prefixes {
		if p.symbol != symbol {
			continue
		}
		b := *a
		b.symbol, b.name, b.plural = p.symbol+a.symbol, p.name+a.name, p.name+a.plural
		b.prefix, b.unprefixed = p.symbol, a
		b.size = a.size.mul(factor{tenTo(p.power), 0, 1})
		r.nextID++
		b.id = r.nextID
		for _, s := range spellings {
			for _, with := range prefixSpellings(p.symbol, p.name, s, a) {
				if r.prefixed[with] == nil {
					r.prefixed[with] = &b
				}
			}
		}
	}
}

// prefixSpellings joins km and kilometre, but not kmetre or kilom.
func prefixSpellings(symbol, name, spelling string, a *atom) []string {
	full := spelling == a.name || spelling == a.plural
	isWord := len(spelling) >= 4 && spelling == strings.ToLower(spelling) && !strings.ContainsAny(spelling, "_°µ%")
	var out []string
	if full || isWord && !strings.Contains(spelling, " ") {
		out = append(out, name+spelling)
	}
	if spelling == a.symbol || !isWord && !full && !strings.Contains(spelling, " ") {
		out = append(out, symbol+spelling)
		if symbol == "µ" {
			out = append(out, "u"+spelling)
		}
	}
	return out
}
