package quantity

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// Parse reads a number and a unit, as printed or as in a cell: "36.5 t/h",
// "36.5`t/h`", "-5 °C", "1.2e3 kg", "12 %", "7". The error is a *UnitError for
// the unit, its Offset counted in text, or says what is wrong with the number.
func Parse(text string) (Quantity, error) {
	body := strings.TrimLeft(text, " \t\n")
	start := len(text) - len(body)
	length := numberLength(body)
	if length == 0 {
		return Quantity{}, fmt.Errorf("quantity %q: it does not begin with a number", text)
	}
	number := strings.Replace(body[:length], "−", "-", 1)
	value, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return Quantity{}, fmt.Errorf("quantity %q: the number %s is too large", text, number)
	}
	rest := body[length:]
	if strings.HasPrefix(rest, ",") {
		return Quantity{}, fmt.Errorf("quantity %q: a comma in a number is read in two ways; use a point for decimals and nothing for thousands", text)
	}
	if after, _, ok := splitBackquotes(rest); ok {
		start++
		rest = after
	}
	u, err := ParseUnit(rest)
	if err != nil {
		var failure *UnitError
		if errors.As(err, &failure) {
			moved := *failure
			moved.Text, moved.Offset = text, failure.Offset+start+length
			return Quantity{}, &moved
		}
		return Quantity{}, err
	}
	return u.Quantity(value), nil
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
