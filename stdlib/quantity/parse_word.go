package quantity

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

func isUnitLetter(c rune) bool {
	return unicode.IsLetter(c) && !unicode.Is(unicode.Lm, c) || strings.ContainsRune("%‰°'_$€£¥₹₽₺℃℉", c)
}

// word is the run of letters and digits at an offset, as written and with the
// look-alikes of some letters replaced.
func (p *unitParser) word(at int) (written, normal string) {
	end := at
	for end < len(p.text) {
		c, n := utf8.DecodeRuneInString(p.text[end:])
		isDigit := c >= '0' && c <= '9'
		if !isUnitLetter(c) && !(isDigit && end > at) {
			break
		}
		end += n
	}
	// "%w/w" is one word although it holds a stroke.
	for _, whole := range []string{"%w/w", "%v/v"} {
		if strings.HasPrefix(p.text[at:], whole) {
			return whole, whole
		}
	}
	return p.text[at:end], lookAlikes.Replace(p.text[at:end])
}

var lookAlikes = strings.NewReplacer("μ", "µ", "Ω", "Ω", "Å", "Å", "K", "K", "º", "°", "℃", "°C", "℉", "°F", "∆", "Δ")

// longestName is how many words the name of a unit may have.
const longestName = 7

// named reads the name of a unit, which may be several words, and its power.
func (p *unitParser) named() ([]term, error) {
	start := p.at
	if a, end := p.longest(); a != nil {
		p.at = end
		return p.raise([]term{{a, whole(1)}})
	}
	written, normal := p.word(start)
	if refused, ok := p.registry.refused[normal]; ok {
		return nil, &UnitError{p.text, written, start, refused.choices, refused.reason}
	}
	stem := strings.TrimRight(normal, "0123456789")
	a := p.registry.find(stem)
	if digits := normal[len(stem):]; a != nil && digits != "" {
		p.at = start + len(written)
		n, err := strconv.Atoi(digits)
		if err != nil || n > largestPower {
			return nil, p.fail(written, start, "the power of "+stem+" is too large")
		}
		return []term{{a, whole(n)}}, nil
	}
	if refused, ok := p.registry.refused[stem]; ok {
		return nil, &UnitError{p.text, written, start, refused.choices, refused.reason}
	}
	return nil, &UnitError{Text: p.text, Part: written, Offset: start, Nearest: p.registry.nearest(stem)}
}

// longest finds the unit whose name takes most words from here.
func (p *unitParser) longest() (found *atom, end int) {
	name, at := "", p.at
	for range longestName {
		written, normal := p.word(at)
		if written == "" {
			break
		}
		name += normal
		at += len(written)
		if a := p.registry.find(name); a != nil && !p.registry.isRefused(name) {
			found, end = a, at
		}
		if at == len(p.text) || p.text[at] != ' ' && p.text[at] != '-' {
			break
		}
		name += p.text[at : at+1]
		at++
	}
	return found, end
}

var lowerDigits = strings.NewReplacer("⁻", "-", "⁰", "0", "¹", "1", "²", "2", "³", "3", "⁴", "4",
	"⁵", "5", "⁶", "6", "⁷", "7", "⁸", "8", "⁹", "9")

// power reads what follows a unit or a parenthesis: ², ⁻¹, ^2, ^-1, ^(1/2),
// **2, -1 directly after the symbol; nothing is the power 1.
func (p *unitParser) power() (exponent, error) {
	rest := p.text[p.at:]
	if raised := leading(rest, "⁻⁰¹²³⁴⁵⁶⁷⁸⁹"); raised != "" {
		p.at += len(raised)
		return p.exponent(lowerDigits.Replace(raised), raised)
	}
	if len(rest) > 1 && rest[0] == '-' && rest[1] >= '0' && rest[1] <= '9' {
		digits := "-" + leading(rest[1:], "0123456789")
		p.at += len(digits)
		return p.exponent(digits, digits)
	}
	if rest != "" && (rest[0] >= '0' && rest[0] <= '9') {
		digits := leading(rest, "0123456789")
		p.at += len(digits)
		return p.exponent(digits, digits)
	}
	mark := ""
	for _, m := range []string{"^", "**"} {
		if strings.HasPrefix(rest, m) {
			mark = m
		}
	}
	if mark == "" {
		return whole(1), nil
	}
	p.at += len(mark)
	rest = rest[len(mark):]
	if strings.HasPrefix(rest, "(") {
		end := strings.IndexByte(rest, ')')
		if end < 0 {
			return exponent{}, p.fail(rest, p.at, "this ( is not closed")
		}
		p.at += end + 1
		return p.exponent(strings.TrimSpace(rest[1:end]), rest[:end+1])
	}
	sign := leading(rest, "-+−")
	digits := leading(rest[len(sign):], "0123456789.")
	p.at += len(sign) + len(digits)
	return p.exponent(sign+digits, sign+digits)
}

func leading(text, set string) string {
	return text[:len(text)-len(strings.TrimLeft(text, set))]
}

// exponent reads a whole number, a fraction or a decimal.
func (p *unitParser) exponent(text, written string) (exponent, error) {
	at := p.at - len(written)
	f, err := parseRational(strings.Replace(strings.TrimPrefix(text, "+"), "−", "-", 1))
	if err != nil {
		return exponent{}, p.fail(written, at, "a power must be a whole number or a fraction, such as ^2 or ^(1/2)")
	}
	if !f.Num().IsInt64() || !f.Denom().IsInt64() || max(f.Num().Int64(), -f.Num().Int64(), f.Denom().Int64()) > largestPower {
		return exponent{}, p.fail(written, at, "the power is out of range")
	}
	return mustExponent(int(f.Num().Int64()), int(f.Denom().Int64())), nil
}
