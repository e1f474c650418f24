package working

import (
	"slices"
	"strings"
	"unicode/utf8"

	"cobber/stdlib/quantity"
)

var latexStyle = &style{
	number: func(q quantity.Quantity) string {
		text := q.Math()
		if q.IsUncertain() {
			text, _, _ = strings.Cut(text, `\;(`)
		}
		return text
	},
	words:  func(text string) string { return `\text{` + escapeLaTeX(text) + "}" },
	symbol: func(name string) string { return symbolOf(name).latex() },
	member: func(base, field string) string { return latexIndex(base, []string{wordLaTeX(spaced(field), true)}) },
	index:  latexIndex,
	signs: map[string]string{"+": " + ", "-": " - ", "*": ` \cdot `, "==": " = ", "!=": ` \neq `, "<": " < ", "<=": ` \leq `,
		">": " > ", ">=": ` \geq `, "&&": ` \text{ and } `, "||": ` \text{ or } `, "!": `\text{not }`, "%": ` \bmod `},
	fraction:  func(top, bottom string) string { return `\frac{` + top + "}{" + bottom + "}" },
	power:     func(base, exponent string) string { return "{" + base + "}^{" + exponent + "}" },
	root:      latexRoot,
	magnitude: func(of string) string { return `\left|` + of + `\right|` },
	exponent:  func(of string) string { return "e^{" + of + "}" },
	call: func(name string, known bool, args []string) string {
		if command, ok := latexFunctions[name]; ok && known {
			return command + latexBrackets(strings.Join(args, `,\; `))
		}
		return `\operatorname{` + escapeLaTeX(name) + "}" + latexBrackets(strings.Join(args, `,\; `))
	},
	method: func(on, name string, args []string) string {
		return on + `.\operatorname{` + escapeLaTeX(name) + "}" + latexBrackets(strings.Join(args, `,\; `))
	},
	list:     func(values []string) string { return latexBrackets(strings.Join(values, `,\; `)) },
	brackets: latexBrackets,
	dots:     `\dots`,
}

// latexIndex puts an index to what may have one: x_a with the index b is x_{a,b}.
func latexIndex(base string, indices []string) string {
	if inner, ok := strings.CutSuffix(base, "}"); ok && strings.Contains(inner, "_{") {
		return inner + "," + strings.Join(indices, ",") + "}"
	}
	return base + "_{" + strings.Join(indices, ",") + "}"
}

func latexBrackets(text string) string { return `\left(` + text + `\right)` }

func latexRoot(degree, of string) string {
	if degree == "2" {
		return `\sqrt{` + of + "}"
	}
	return `\sqrt[` + degree + "]{" + of + "}"
}

var latexFunctions = map[string]string{
	"Log": `\ln`, "Log10": `\log_{10}`, "Log2": `\log_{2}`, "Sin": `\sin`, "Cos": `\cos`, "Tan": `\tan`,
	"Asin": `\arcsin`, "Acos": `\arccos`, "Atan": `\arctan`, "Sinh": `\sinh`, "Cosh": `\cosh`, "Tanh": `\tanh`,
	"Max": `\max`, "Min": `\min`, "Erf": `\operatorname{erf}`, "Gamma": `\Gamma `,
}

var latexEscapes = strings.NewReplacer(`\`, `\textbackslash `, "{", `\{`, "}", `\}`, "$", `\$`, "&", `\&`, "#", `\#`, "%", `\%`,
	"_", `\_`, "^", `\textasciicircum `, "~", `\textasciitilde `)

func escapeLaTeX(text string) string { return latexEscapes.Replace(text) }

// LaTeX is the working as displayed formulas.
func (s *Shown) LaTeX() string {
	var out []string
	for _, p := range s.parts {
		switch p := p.(type) {
		case *lines:
			out = append(out, p.latex())
		case *passes:
			out = append(out, p.latex())
		}
	}
	return strings.Join(out, "\n\n")
}

func (l *lines) latex() string {
	var written []string
	for _, r := range l.rows {
		if r.target == nil {
			written = append(written, "&"+strings.Repeat(`\quad `, r.depth)+r.words.write(latexStyle, latexStyle.words))
			continue
		}
		for j, line := range broken(latexStyle, r) {
			left := ""
			if j == 0 {
				left = latexStyle.write(withoutLeaf(r.target), nil) + " "
			}
			if j == 0 && r.side != "" {
				line += ` \qquad \textit{` + escapeLaTeX(r.side) + "}"
			}
			written = append(written, left+"&"+line)
		}
	}
	var b strings.Builder
	b.WriteString("$$\\begin{aligned}\n")
	for i, line := range written {
		if i > 0 {
			b.WriteString(` \\[` + gap(written[i-1], line) + "]\n")
		}
		b.WriteString(line)
	}
	b.WriteString("\n\\end{aligned}$$")
	return b.String()
}

// gap is the room between two lines: fractions below one another need more.
func gap(above, below string) string {
	if strings.Contains(above, `\frac`) && strings.Contains(below, `\frac`) {
		return "8pt"
	}
	return "3pt"
}

func (p *passes) latex() string {
	var b strings.Builder
	b.WriteString("$$\\begin{array}{" + strings.Repeat("r", len(p.heads)) + "}\n")
	for i, head := range p.heads {
		if i > 0 {
			b.WriteString(" & ")
		}
		b.WriteString(latexStyle.write(head, nil))
	}
	b.WriteString(" \\\\ \\hline\n")
	for i, r := range p.rows {
		if i > 0 {
			b.WriteString(" \\\\\n")
		}
		for j, v := range r {
			if j > 0 {
				b.WriteString(" & ")
			}
			text, _, _ := latexStyle.value(v)
			b.WriteString(text)
		}
	}
	b.WriteString("\n\\end{array}$$")
	return b.String()
}

func (w words) write(s *style, plain func(string) string) string {
	var b strings.Builder
	for _, one := range w {
		switch one := one.(type) {
		case string:
			b.WriteString(plain(one))
		case phrase:
			b.WriteString(s.write(one.formula, one.values))
		}
	}
	return b.String()
}

// Widths in characters of the text form, which a page, a sheet of paper and a
// column of a notebook have room for.
const (
	oneLine  = 62
	lineEnds = 76
)

// broken writes what stands right of a symbol, in lines of moderate width, each
// with its sign of equality.
func broken(s *style, r row) []string {
	var steps [][]string // each in lines
	var widths []int
	last := ""
	add := func(n *node, values []any) {
		text := plainText(n, values)
		if text == last || n.kind == unreadable {
			return
		}
		last = text
		steps = append(steps, brokenSum(s, n, values))
		widths = append(widths, utf8.RuneCountInString(text)+3)
	}
	if r.formula != nil && r.formula.kind != literal {
		add(r.formula, nil)
		if r.before != nil || hasValues(r.formula) {
			add(r.formula, nonNil(r.before))
		}
	}
	result := &node{kind: literal, value: r.result}
	add(result, nil)
	width := utf8.RuneCountInString(plainText(withoutLeaf(r.target), nil))
	for _, w := range widths {
		width += w
	}
	var out []string
	for _, step := range steps {
		for i, line := range step {
			if i > 0 {
				out = append(out, s.continued()+line)
				continue
			}
			out = append(out, "= "+line)
		}
	}
	if width <= oneLine && len(out) == len(steps) {
		return []string{strings.Join(out, " ")}
	}
	return out
}

func nonNil(values []any) []any {
	if values == nil {
		return []any{}
	}
	return values
}

// hasValues tells whether a formula mentions constants.
func hasValues(n *node) bool {
	if n.kind == name && n.value != nil {
		return true
	}
	for _, arg := range n.args {
		if hasValues(arg) {
			return true
		}
	}
	return false
}

// continued is what a line begins with that goes on with a sum.
func (s *style) continued() string {
	if s == latexStyle {
		return `\quad {}`
	}
	return "    "
}

// brokenSum writes a formula in lines, broken before the signs of its sum, or
// else of its product or of its conditions.
func brokenSum(s *style, n *node, values []any) []string {
	if utf8.RuneCountInString(plainText(n, values)) <= lineEnds {
		return []string{s.write(n, values)}
	}
	var out []string
	line, width := "", 0
	for i, t := range termsOf(n) {
		tight := tightness(t.sign)
		if t.sign == "-" {
			tight++
		}
		text := s.in(t.term, values, tight)
		size := utf8.RuneCountInString(plainText(t.term, values)) + 3
		if i > 0 {
			text = strings.TrimSpace(s.signs[t.sign]) + " " + s.right(t.term, values, tight)
		}
		if i > 0 && width+size > lineEnds {
			out = append(out, line)
			line, width = "", 0
		}
		if line != "" {
			line += " "
		}
		line += text
		width += size
	}
	return append(out, line)
}

type term struct {
	sign string
	term *node
}

// breakable are the operators before which a line may be broken, those that
// hold together least first.
var breakable = [][]string{{"||"}, {"&&"}, {"+", "-"}, {"*"}}

// termsOf takes a formula apart at the operators that hold together least.
func termsOf(n *node) []term {
	for _, signs := range breakable {
		if terms := apart(n, signs); len(terms) > 1 {
			return terms
		}
	}
	return []term{{"||", n}}
}

func apart(n *node, signs []string) []term {
	if n.kind == operation && len(n.args) == 2 && slices.Contains(signs, n.text) && n.leaf == 0 {
		return append(apart(n.args[0], signs), term{n.text, n.args[1]})
	}
	return []term{{signs[0], n}}
}
