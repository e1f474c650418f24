package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// uncertainParts is a text that stands for an uncertain quantity, and where in it
// the marks are.
type uncertainParts struct {
	text         string
	mark         int    // where the ± or the "to" begins
	after        int    // where it ends
	end          int    // where a note in parentheses at the end begins
	note         string // what that note says
	isRange      bool
	inside       bool // value and deviation stand in parentheses
	open, closed int  // of a deviation in units of the last digits
}

var plusMinusMarks = []string{"±", "+/-", "+-", "&plusmn;"}

// uncertainForm finds the marks that make a text one of an uncertain quantity.
func uncertainForm(text string) (uncertainParts, bool) {
	p := uncertainParts{text: text, end: len(text)}
	p.cutNote()
	for _, mark := range plusMinusMarks {
		if at := strings.Index(text[:p.end], mark); at >= 0 {
			p.mark, p.after = at, at+len(mark)
			p.inside = strings.HasPrefix(strings.TrimLeft(text, " "), "(")
			return p, true
		}
	}
	for _, mark := range []string{" to ", "–", "…"} {
		if at := strings.Index(text[:p.end], mark); at > 0 {
			p.mark, p.after, p.isRange = at, at+len(mark), true
			return p, true
		}
	}
	start := len(text) - len(strings.TrimLeft(text, " \t\n"))
	at := start + numberLength(text[start:])
	if at > start && strings.HasPrefix(text[at:], "(") {
		if digits := leading(text[at+1:], "0123456789."); digits != "" && strings.HasPrefix(text[at+1+len(digits):], ")") {
			p.open, p.closed = at, at+1+len(digits)
			return p, true
		}
	}
	return p, false
}

// cutNote takes "(95 %)", "(95 %: 34 to 39)" or "(k=2)" off the end.
func (p *uncertainParts) cutNote() {
	trimmed := strings.TrimRight(p.text, " \t\n")
	at := strings.LastIndex(trimmed, "(")
	if at < 0 || !strings.HasSuffix(trimmed, ")") {
		return
	}
	note := strings.TrimSpace(trimmed[at+1 : len(trimmed)-1])
	digits := leading(note, "0123456789.")
	isLevel := digits != "" && strings.HasPrefix(strings.TrimLeft(note[len(digits):], " "), "%")
	isFactor := strings.HasPrefix(note, "k=") || strings.HasPrefix(note, "k =")
	if isLevel || isFactor {
		p.end, p.note = at, note
	}
}

func (p uncertainParts) fail(format string, args ...any) error {
	return fmt.Errorf("quantity %q: "+format, append([]any{p.text}, args...)...)
}

func (p uncertainParts) read() (Quantity, error) {
	switch {
	case p.open > 0:
		return p.readLastDigits()
	case p.isRange:
		return p.readRange()
	}
	from, end := 0, p.end
	var unit Unit
	if p.inside {
		from = strings.Index(p.text, "(") + 1
		closing := strings.IndexByte(p.text[p.after:p.end], ')')
		if closing < 0 || p.mark < from {
			return Quantity{}, p.fail("the ( is not closed after the ±")
		}
		end = p.after + closing
		u, err := parseUnitPart(p.text, end+1, p.end)
		if err != nil {
			return Quantity{}, err
		}
		unit = u
	}
	middle, err := parsePart(p.text, from, p.mark)
	if err != nil {
		return Quantity{}, err
	}
	half, err := parsePart(p.text, p.after, end)
	if err != nil {
		return Quantity{}, err
	}
	if p.inside && (middle.unit != one || half.unit != one) {
		return Quantity{}, p.fail("the unit stands after the parentheses")
	}
	if p.inside {
		middle, half = unit.Quantity(middle.value), unit.Quantity(half.value)
	}
	return p.normal(middle, half)
}

// normal is middle ± half, whose units may stand once or with each.
func (p uncertainParts) normal(middle, half Quantity) (Quantity, error) {
	left, right := middle.unit, half.unit
	isShare := len(right.terms) == 1 && right.terms[0].atom.isFraction()
	switch {
	case isShare && isFactor(left.terms) && left != one && !p.inside:
		return Quantity{}, p.fail("± %s beside %s is read in two ways; write (%s ± ...) %s with the deviation in the same unit, or give both ends as a range",
			half, middle, sensible(middle.value), middle.Unit())
	case left == one:
		middle.unit = right
	case !p.inside && isShare:
		half = Quantity{value: math.Abs(middle.value) * half.SI(), unit: left}
	}
	if half.unit == middle.unit && middle.unit.reading {
		half.unit = differenceUnit(middle.unit) // 20 ± 1 °C
	}
	if half.value == 0 && half.Unit().Compatible(Unit{middle.differenceOf()}) {
		return middle, nil
	}
	return p.spread(middle, half)
}

// spread makes the distribution that the note speaks of.
func (p uncertainParts) spread(middle, half Quantity) (Quantity, error) {
	level, isFactor, err := p.readNote()
	if err != nil {
		return Quantity{}, err
	}
	var q Quantity
	switch {
	case isFactor:
		half.value /= level
		q, err = Normal(middle, half)
	case level != 0:
		q, err = PlusMinus(middle, half, level)
	default:
		q, err = Normal(middle, half)
	}
	if err != nil {
		return Quantity{}, p.fail("%w", err)
	}
	return q, nil
}

// readNote is the level of confidence, or the coverage factor, that a note
// states; 0 for neither.
func (p uncertainParts) readNote() (x float64, isFactor bool, err error) {
	body := p.note
	if body == "" {
		return 0, false, nil
	}
	if rest, found := strings.CutPrefix(body, "k"); found {
		x, err = strconv.ParseFloat(strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(rest), "=")), 64)
		if err != nil || !(x > 0) || math.IsInf(x, 0) {
			return 0, false, p.fail("%q is no coverage factor; write one as (k=2)", body)
		}
		return x, true, nil
	}
	digits := leading(body, "0123456789.")
	x, err = strconv.ParseFloat(digits, 64)
	rest := strings.TrimSpace(strings.TrimPrefix(strings.TrimLeft(body[len(digits):], " "), "%"))
	if err != nil || !(x > 0 && x < 100) {
		return 0, false, p.fail("%q is no level of confidence; write one as (95 %%)", body)
	}
	if rest == "" {
		return x / 100, false, nil
	}
	low, high, found := strings.Cut(strings.TrimPrefix(rest, ":"), " to ")
	a, errLow := strconv.ParseFloat(strings.TrimSpace(low), 64)
	b, errHigh := strconv.ParseFloat(strings.TrimSpace(high), 64)
	if !found || errLow != nil || errHigh != nil || a > b || !strings.HasPrefix(rest, ":") {
		return 0, false, p.fail("%q is no interval; write one as (95 %%: 34.1 to 38.9)", body)
	}
	return 0, false, nil // the deviation is stated; the interval follows from it
}

// readLastDigits reads 36.5(12) t/h.
func (p uncertainParts) readLastDigits() (Quantity, error) {
	n, err := parseNumber(p.text, 0, p.open)
	if err != nil {
		return Quantity{}, err
	}
	written := p.text[p.open+1 : p.closed]
	size, err := strconv.ParseFloat(written, 64)
	if err != nil {
		return Quantity{}, p.fail("%q is no deviation", written)
	}
	if strings.ContainsAny(n.text, "eE") {
		return Quantity{}, p.fail("the digits in parentheses stand before a power of ten; write the deviation with ±")
	}
	if _, decimals, _ := strings.Cut(n.text, "."); !strings.Contains(written, ".") {
		size, err = strconv.ParseFloat(written+"e-"+strconv.Itoa(len(decimals)), 64)
		if err != nil {
			return Quantity{}, p.fail("%q is no deviation", written)
		}
	}
	u, err := parseUnitPart(p.text, p.closed+1, p.end)
	if err != nil {
		return Quantity{}, err
	}
	p.inside = true // the unit is that of both
	return p.normal(u.Quantity(n.value), u.Quantity(size))
}

// readRange reads 34 to 39 t/h.
func (p uncertainParts) readRange() (Quantity, error) {
	if p.note != "" {
		return Quantity{}, p.fail("a range is taken whole; write a value ± half a width for one with a level of confidence")
	}
	low, err := parsePart(p.text, 0, p.mark)
	if err != nil {
		return Quantity{}, err
	}
	high, err := parsePart(p.text, p.after, p.end)
	if err != nil {
		return Quantity{}, err
	}
	if low.unit == one {
		low.unit = high.unit
	}
	q, err := Uniform(low, high)
	if err != nil {
		return Quantity{}, p.fail("%w", err)
	}
	return q, nil
}

// DigitsOf is how many significant digits the number at the head of a text has,
// as written: four for "36.50 t", two for "0.0040 t", all for a whole number. The error is for a text that does not begin
// with a number.
func DigitsOf(text string) (int, error) {
	n, err := parseNumber(text, 0, len(text))
	if err != nil {
		return 0, err
	}
	mantissa := strings.ToLower(n.text)
	mantissa, _, _ = strings.Cut(mantissa, "e")
	digits := strings.Trim(mantissa, "+-−")
	if strings.Trim(digits, "0123456789.") != "" {
		return 0, fmt.Errorf("quantity %q: %q has no significant digits", text, n.text)
	}
	digits = strings.Replace(digits, ".", "", 1)
	if stripped := strings.TrimLeft(digits, "0"); stripped != "" {
		digits = stripped
	}
	return len(digits), nil
}

// AsWritten reads a quantity as Parse does, and takes the number as rounded to
// the digits that are written: 36.5 t/h is anywhere from 36.45 to 36.55 t/h,
// with equal chance (JCGM 100:2008, F.2.2.1). So results carry what their inputs'
// digits are worth. A text that states its uncertainty keeps that. Errors as for
// Parse, and for a fraction or what is not finite.
func AsWritten(text string) (Quantity, error) {
	if form, ok := uncertainForm(text); ok {
		return form.read()
	}
	n, err := parseNumber(text, 0, len(text))
	if err != nil {
		return Quantity{}, err
	}
	mantissa, power, _ := strings.Cut(strings.ToLower(n.text), "e")
	if strings.Trim(mantissa, "+-−.0123456789") != "" {
		return Quantity{}, fmt.Errorf("quantity %q: %q has no last digit; write it as a decimal number", text, n.text)
	}
	u, err := parseUnitPart(text, n.end, len(text))
	if err != nil {
		return Quantity{}, err
	}
	_, decimals, _ := strings.Cut(mantissa, ".")
	exponent, _ := strconv.Atoi(power) // empty, or read as a number before
	half := 0.5 * math.Pow(10, float64(exponent-len(decimals)))
	q, err := Uniform(u.Quantity(n.value-half), u.Quantity(n.value+half))
	if err != nil {
		return Quantity{}, fmt.Errorf("quantity %q: %w", text, err)
	}
	return q, nil
}
