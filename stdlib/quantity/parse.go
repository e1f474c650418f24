package quantity

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Parse reads a number and a unit, as printed or as in a cell: "36.5 t/h",
// "36.5`t/h`", "-5 °C", "1.2e3 kg", "12 %", "1 3/8 in", "7". It reads what is
// uncertain too, as an input of its own:
//
//	36.5 ± 1.2 t/h              normal, of that standard deviation; "(36.5 ± 1.2) t/h" and +/- too
//	36.5 ± 1.2 t/h (95 %)       normal, within that of the middle with that confidence
//	36.5 ± 1.2 t/h (k=2)        normal, 1.2 being twice the standard deviation
//	36.5 t/h ± 5 %              a deviation as a share of the value; or in a unit of its own
//	36.5(12) t/h                a deviation in units of the last digits
//	34 to 39 t/h                anywhere between, with equal chance; 34–39 t/h too
//
// A printed interval, as in "36.5 ± 1.2 t/h (95 %: 34.1 to 38.9)", is read but
// says nothing further. The error is a *UnitError for the unit, its Offset counted
// in text, or says what is wrong with the numbers.
func Parse(text string) (Quantity, error) {
	if form, ok := uncertainForm(text); ok {
		return form.read()
	}
	return parsePart(text, 0, len(text))
}

// parsePart is the number and unit that stand between two offsets of a text.
func parsePart(text string, from, to int) (Quantity, error) {
	n, err := parseNumber(text, from, to)
	if err != nil {
		return Quantity{}, err
	}
	u, err := parseUnitPart(text, n.end, to)
	if err != nil {
		return Quantity{}, err
	}
	return u.Quantity(n.value), nil
}

// number is a number that stands in a text.
type number struct {
	value float64
	text  string // without spaces around
	end   int
}

func parseNumber(text string, from, to int) (number, error) {
	body := strings.TrimLeft(text[from:to], " \t\n")
	start := to - len(body)
	length := numberLength(body)
	if length == 0 {
		if start == to && from > 0 {
			return number{}, fmt.Errorf("quantity %q: a number is missing at byte %d", text, from)
		}
		if from > 0 {
			return number{}, fmt.Errorf("quantity %q: at byte %d, %q is not a number", text, start, body)
		}
		return number{}, fmt.Errorf("quantity %q: it does not begin with a number", text)
	}
	written := strings.Replace(body[:length], "−", "-", 1)
	value, err := strconv.ParseFloat(written, 64)
	if err != nil {
		return number{}, fmt.Errorf("quantity %q: the number %s is too large", text, written)
	}
	rest := body[length:]
	if strings.HasPrefix(rest, ",") {
		return number{}, fmt.Errorf("quantity %q: a comma in a number is read in two ways; use a point for decimals and nothing for thousands", text)
	}
	if part, taken, ok := mixedFraction(body[:length], rest); ok {
		if math.IsInf(part, 0) || math.IsNaN(part) {
			return number{}, fmt.Errorf("quantity %q: a fraction with 0 below the stroke", text)
		}
		return number{part, body[:length+taken], start + length + taken}, nil
	}
	return number{value, body[:length], start + length}, nil
}

// mixedFraction reads what makes a fraction of a whole number: " 3/8" after 1,
// or "/8" after 3.
func mixedFraction(whole, rest string) (value float64, taken int, ok bool) {
	sign := 1.0
	if bare := strings.TrimLeft(whole, "-−"); bare != whole {
		sign, whole = -1, bare
	}
	if strings.Trim(whole, "0123456789") != "" {
		return 0, 0, false
	}
	over, after := "", strings.TrimLeft(rest, " ")
	taken = len(rest) - len(after)
	if taken > 0 {
		over = leading(after, "0123456789")
		after, taken = after[len(over):], taken+len(over)
		if over == "" {
			return 0, 0, false
		}
	} else {
		whole, over = "0", whole
	}
	if !strings.HasPrefix(after, "/") {
		return 0, 0, false
	}
	under := leading(after[1:], "0123456789")
	taken += 1 + len(under)
	if end := after[1+len(under):]; under == "" || end != "" && !strings.ContainsAny(end[:1], " `\t\n") {
		return 0, 0, false
	}
	w, _ := strconv.ParseFloat(whole, 64) // digits, all three
	a, _ := strconv.ParseFloat(over, 64)
	b, _ := strconv.ParseFloat(under, 64)
	return sign * (w*b + a) / b, taken, true
}

// parseUnitPart reads a unit, in back quotes or bare, between two offsets.
func parseUnitPart(text string, from, to int) (Unit, error) {
	rest, start := text[from:to], from
	if after, _, ok := splitBackquotes(rest); ok {
		start++
		rest = after
	}
	u, err := ParseUnit(rest)
	var failure *UnitError
	if errors.As(err, &failure) {
		moved := *failure
		moved.Text, moved.Offset = text, failure.Offset+start
		return Unit{}, &moved
	}
	return u, err
}

// splitBackquotes takes the unit out of back quotes.
func splitBackquotes(text string) (inside, after string, ok bool) {
	if !strings.HasPrefix(text, "`") {
		return "", "", false
	}
	inside, after, ok = strings.Cut(text[1:], "`")
	return inside, after, ok && strings.TrimSpace(after) == ""
}

// numberLength is how many bytes at the head of text make up a number.
func numberLength(text string) int {
	at := 0
	for _, sign := range []string{"-", "+", "−"} {
		if strings.HasPrefix(text, sign) {
			at = len(sign)
			break
		}
	}
	for _, word := range []string{"NaN", "Infinity", "Inf"} {
		if strings.HasPrefix(text[at:], word) {
			return at + len(word)
		}
	}
	digits := func() int { return len(leading(text[at:], "0123456789")) }
	before := digits()
	at += before
	after := 0
	if strings.HasPrefix(text[at:], ".") {
		at++
		after = digits()
		at += after
	}
	if before+after == 0 {
		return 0
	}
	// 5e3 has a power of ten, 5eV has not.
	mark := at
	if strings.HasPrefix(text[at:], "e") || strings.HasPrefix(text[at:], "E") {
		at++
		if at < len(text) && (text[at] == '+' || text[at] == '-') {
			at++
		}
		if n := digits(); n > 0 {
			return at + n
		}
	}
	return mark
}

// MarshalText writes the quantity with every digit, for JSON and the like; the
// zero Quantity is the empty text. The error is for an uncertain quantity, whose
// samples a text cannot hold: write its mean and deviation instead.
func (q Quantity) MarshalText() ([]byte, error) {
	if q.cloud != nil {
		return nil, fmt.Errorf("%s is uncertain, which a text cannot hold: write Certain() and StdDev()", q)
	}
	if q.unit == nil && q.value == 0 {
		return nil, nil
	}
	return []byte(q.exact()), nil
}

// UnmarshalText reads what MarshalText writes, and all that Parse reads.
func (q *Quantity) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*q = Quantity{}
		return nil
	}
	r, err := Parse(string(text))
	if err != nil {
		return err
	}
	*q = r
	return nil
}
