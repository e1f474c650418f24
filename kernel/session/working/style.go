package working

import (
	"strconv"
	"strings"

	"cobber/stdlib/quantity"
)

// How tightly what is written holds together; what is looser than its place
// allows stands in brackets.
const (
	loose   = iota
	orTight // ||
	andTight
	compareTight
	sumTight
	productTight
	signTight
	powerTight
	whole
)

// A style is one way to write formulas down.
type style struct {
	number    func(q quantity.Quantity) string // of a quantity, without its interval
	words     func(text string) string
	symbol    func(name string) string
	member    func(base, field string) string
	index     func(base string, indices []string) string
	signs     map[string]string // of Go's operators
	fraction  func(top, bottom string) string
	lineQuote bool // a fraction is one line, with a stroke
	power     func(base, exponent string) string
	root      func(degree, of string) string
	magnitude func(of string) string
	exponent  func(of string) string
	call      func(name string, known bool, args []string) string
	method    func(on, name string, args []string) string
	list      func(values []string) string
	brackets  func(text string) string
	dots      string
}

// write writes a formula down, with the values noted for it, or without if
// there are none.
func (s *style) write(n *node, values []any) string {
	text, _ := s.node(n, values)
	return text
}

// in writes a part of a formula where it must hold at least so tightly.
func (s *style) in(n *node, values []any, tight int) string {
	text, own := s.node(n, values)
	if own < tight {
		return s.brackets(text)
	}
	return text
}

func (s *style) all(nodes []*node, values []any) []string {
	var texts []string
	for _, n := range nodes {
		if list, ok := valueOf(n, values).([]any); ok && n.spread {
			for _, one := range list {
				text, _, _ := s.value(one)
				texts = append(texts, text)
			}
			continue
		}
		texts = append(texts, s.write(n, values))
	}
	return texts
}

// valueOf is what was noted for a node, or nil.
func valueOf(n *node, values []any) any {
	if values == nil || n.leaf == 0 || n.leaf > len(values) {
		return nil
	}
	return values[n.leaf-1]
}

func (s *style) node(n *node, values []any) (text string, tight int) {
	if text, tight, ok := s.value(valueOf(n, values)); ok {
		return text, tight
	}
	switch n.kind {
	case literal:
		if text, tight, ok := s.value(n.value); ok {
			return text, tight
		}
		return s.words(n.text), whole
	case name:
		if values != nil && n.value != nil {
			if text, tight, ok := s.value(n.value); ok {
				return text, tight
			}
		}
		return s.symbol(n.text), whole
	case member:
		return s.member(s.in(n.args[0], values, whole), n.text), whole
	case element:
		return s.index(s.in(n.args[0], values, whole), s.all(n.args[1:], values)), whole
	case operation:
		return s.operation(n, values)
	case power:
		return s.power(s.in(n.args[0], values, whole), s.write(n.args[1], values)), powerTight
	case root:
		return s.root(n.text, s.write(n.args[0], values)), whole
	case magnitude:
		return s.magnitude(s.write(n.args[0], values)), whole
	case exponent:
		return s.exponent(s.write(n.args[0], values)), powerTight
	case call:
		return s.function(n, values), whole
	case series:
		return s.list(s.all(n.args, values)), whole
	}
	return s.dots, whole
}

func (s *style) function(n *node, values []any) string {
	switch n.value.(type) {
	case method:
		return s.method(s.in(n.args[0], values, whole), n.text, s.all(n.args[1:], values))
	case known:
		return s.call(n.text, true, s.all(n.args, values))
	}
	return s.call(n.text, false, s.all(n.args, values))
}

func (s *style) operation(n *node, values []any) (text string, tight int) {
	sign := s.signs[n.text]
	if sign == "" {
		sign = " " + s.words(n.text) + " "
	}
	if len(n.args) == 1 {
		return strings.TrimSpace(sign) + s.right(n.args[0], values, productTight), signTight
	}
	if n.text == "/" && !s.lineQuote {
		return s.fraction(s.write(n.args[0], values), s.write(n.args[1], values)), productTight
	}
	tight = tightness(n.text)
	right := tight
	if n.text == "-" || n.text == "/" || n.text == "%" {
		right++
	}
	left := tight
	if n.text == "/" {
		left, right = signTight, signTight // a unit may have a stroke of its own
		if isProduct(n.args[0]) {
			left = productTight
		}
	}
	return s.in(n.args[0], values, left) + sign + s.right(n.args[1], values, right), tight
}

func isProduct(n *node) bool {
	return n.kind == operation && len(n.args) == 2 && (n.text == "*" || n.text == "/")
}

// right writes what stands behind an operator: a sign there needs brackets.
func (s *style) right(n *node, values []any, tight int) string {
	text := s.in(n, values, tight)
	if strings.HasPrefix(text, "-") || strings.HasPrefix(text, "−") {
		return s.brackets(text)
	}
	return text
}

func tightness(operator string) int {
	switch operator {
	case "||":
		return orTight
	case "&&":
		return andTight
	case "==", "!=", "<", "<=", ">", ">=":
		return compareTight
	case "+", "-", "|", "^":
		return sumTight
	}
	return productTight
}

// value writes a value down; false if it is not one to show.
func (s *style) value(v any) (text string, tight int, ok bool) {
	switch v := v.(type) {
	case nil, opaque:
		return "", whole, false
	case elided:
		return s.dots, whole, true
	case []any:
		texts := make([]string, len(v))
		for i, one := range v {
			texts[i], _, _ = s.value(one)
		}
		return s.list(texts), whole, true
	case bool:
		return s.words(strconv.FormatBool(v)), whole, true
	case string:
		if short := []rune(v); len(short) > 40 {
			v = string(short[:39]) + "…"
		}
		return s.words(strconv.Quote(v)), whole, true
	case float64:
		return s.quantity(quantity.Number(v))
	case float32:
		return s.quantity(quantity.Number(float64(v)))
	case quantity.Quantity:
		return s.quantity(v)
	}
	text = integerText(v)
	if strings.HasPrefix(text, "-") {
		return text, signTight, true
	}
	return text, whole, text != ""
}

func (s *style) quantity(q quantity.Quantity) (text string, tight int, ok bool) {
	text = s.number(q)
	hasUnit := q.Unit().Symbol() != ""
	switch {
	case q.IsUncertain() && !strings.HasPrefix(text, "("):
		return text, sumTight, true
	case hasUnit || strings.Contains(text, "10^"):
		return text, productTight, true
	case q.Shown() < 0:
		return text, signTight, true
	}
	return text, whole, true
}

func integerText(v any) string {
	switch v := v.(type) {
	case int:
		return strconv.Itoa(v)
	case int8:
		return strconv.Itoa(int(v))
	case int16:
		return strconv.Itoa(int(v))
	case int32:
		return strconv.Itoa(int(v))
	case int64:
		return strconv.FormatInt(v, 10)
	case uint:
		return strconv.FormatUint(uint64(v), 10)
	case uint8:
		return strconv.Itoa(int(v))
	case uint16:
		return strconv.Itoa(int(v))
	case uint32:
		return strconv.FormatUint(uint64(v), 10)
	case uint64:
		return strconv.FormatUint(v, 10)
	}
	return ""
}
