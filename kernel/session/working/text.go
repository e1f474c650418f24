package working

import (
	"strings"
	"unicode/utf8"

	"cobber/stdlib/quantity"
)

var textStyle = &style{
	number: func(q quantity.Quantity) string {
		text := q.String()
		if q.IsUncertain() {
			if at := strings.LastIndex(text, " ("); at > 0 {
				text = text[:at]
			}
		}
		return text
	},
	words:     func(text string) string { return text },
	symbol:    func(name string) string { return name },
	member:    func(base, field string) string { return base + "." + field },
	index:     func(base string, indices []string) string { return base + "[" + strings.Join(indices, ", ") + "]" },
	signs:     textSigns,
	lineQuote: true,
	power:     func(base, exponent string) string { return base + "^" + textExponent(exponent) },
	root: func(degree, of string) string {
		if degree == "2" {
			return "√(" + of + ")"
		}
		return "∛(" + of + ")"
	},
	magnitude: func(of string) string { return "|" + of + "|" },
	exponent:  func(of string) string { return "exp(" + of + ")" },
	call: func(name string, known bool, args []string) string {
		if short, ok := textFunctions[name]; ok && known {
			name = short
		}
		return name + "(" + strings.Join(args, ", ") + ")"
	},
	method: func(on, name string, args []string) string {
		return on + "." + name + "(" + strings.Join(args, ", ") + ")"
	},
	list:     func(values []string) string { return "(" + strings.Join(values, ", ") + ")" },
	brackets: func(text string) string { return "(" + text + ")" },
	dots:     "…",
}

var textSigns = map[string]string{"+": " + ", "-": " - ", "*": " · ", "/": " / ", "==": " = ", "!=": " ≠ ", "<": " < ", "<=": " ≤ ",
	">": " > ", ">=": " ≥ ", "&&": " and ", "||": " or ", "!": "not ", "%": " mod "}

var textFunctions = map[string]string{
	"Log": "ln", "Log10": "log10", "Log2": "log2", "Sin": "sin", "Cos": "cos", "Tan": "tan", "Asin": "arcsin", "Acos": "arccos",
	"Atan": "arctan", "Sinh": "sinh", "Cosh": "cosh", "Tanh": "tanh", "Max": "max", "Min": "min", "Erf": "erf",
}

func textExponent(text string) string {
	if strings.ContainsAny(text, " ") {
		return "(" + text + ")"
	}
	return text
}

// plainText is the text form of a formula.
func plainText(n *node, values []any) string { return textStyle.write(n, values) }

// String is the working as text.
func (s *Shown) String() string {
	var out []string
	for _, p := range s.parts {
		switch p := p.(type) {
		case *lines:
			out = append(out, p.text())
		case *passes:
			out = append(out, p.text())
		}
	}
	return strings.Join(out, "\n")
}

func (l *lines) text() string {
	width := 0
	for _, r := range l.rows {
		if r.target != nil {
			width = max(width, 2*r.depth+utf8.RuneCountInString(plainText(withoutLeaf(r.target), nil)))
		}
	}
	var out []string
	for _, r := range l.rows {
		indent := strings.Repeat("  ", r.depth)
		if r.target == nil {
			out = append(out, indent+r.words.write(textStyle, func(text string) string { return text }))
			continue
		}
		left := indent + plainText(withoutLeaf(r.target), nil)
		for i, line := range broken(textStyle, r) {
			if i > 0 {
				left = ""
			}
			line = left + strings.Repeat(" ", width-utf8.RuneCountInString(left)) + " " + line
			if i == 0 && r.side != "" {
				line += "    (" + r.side + ")"
			}
			out = append(out, line)
		}
	}
	return strings.Join(out, "\n")
}

func (p *passes) text() string {
	cells := make([][]string, len(p.rows)+1)
	widths := make([]int, len(p.heads))
	for i, head := range p.heads {
		cells[0] = append(cells[0], plainText(head, nil))
		for j, r := range p.rows {
			text, _, _ := textStyle.value(r[i])
			cells[j+1] = append(cells[j+1], text)
		}
		for _, r := range cells {
			widths[i] = max(widths[i], utf8.RuneCountInString(r[i]))
		}
	}
	var out []string
	for _, r := range cells {
		line := strings.Repeat("  ", p.depth+1)
		for i, text := range r {
			line += strings.Repeat(" ", widths[i]-utf8.RuneCountInString(text)) + text + "  "
		}
		out = append(out, strings.TrimRight(line, " "))
	}
	return strings.Join(out, "\n")
}
