package quantity

import (
	"html"
	"strings"
)

// HTML is the quantity for a web page, with raised powers and a space that
// does not break.
func (q Quantity) HTML() string {
	if q.cloud != nil {
		return q.uncertainHTML()
	}
	number := strings.ReplaceAll(powerOfTen(sensible(q.val()), "&thinsp;×&thinsp;10<sup>", "</sup>"), "-", "−")
	if unit := q.Unit().HTML(); unit != "" {
		return number + "&nbsp;" + unit
	}
	return number
}

// HTML is the unit for a web page.
func (u Unit) HTML() string {
	return spellTerms(u.real().terms, notation{"·", html.EscapeString, func(e exponent) string {
		if e.isOne() {
			return ""
		}
		return "<sup>" + strings.ReplaceAll(e.String(), "-", "−") + "</sup>"
	}})
}

// LaTeX is the quantity as a formula between dollar signs.
func (q Quantity) LaTeX() string { return "$" + q.Math() + "$" }

// Math is the quantity in LaTeX for use inside a formula, without dollar signs.
func (q Quantity) Math() string {
	if q.cloud != nil {
		return q.uncertainMath()
	}
	number := powerOfTen(sensible(q.val()), `\times 10^{`, "}")
	for _, word := range []string{"NaN", "Inf"} {
		number = strings.ReplaceAll(number, word, map[string]string{"NaN": `\mathrm{NaN}`, "Inf": `\infty`}[word])
	}
	if unit := q.Unit().Math(); unit != "" {
		return number + `\,` + unit
	}
	return number
}

// Math is the unit in LaTeX for use inside a formula.
func (u Unit) Math() string {
	text := spellTerms(u.real().terms, notation{`{\cdot}`, latexSymbols.Replace, func(e exponent) string {
		if e.isOne() {
			return ""
		}
		return "^{" + e.String() + "}"
	}})
	if text == "" {
		return ""
	}
	return `\mathrm{` + text + "}"
}

var latexSymbols = strings.NewReplacer("%", `\%`, "$", `\$`, "_", `\_`, "µ", `\mu `, "Ω", `\Omega `,
	"Δ", `\Delta `, "°", `{}^{\circ}`, "Å", `\text{Å}`, "‰", `\text{‰}`, "€", `\text{€}`)

// powerOfTen rewrites 1.2e-07 between the given marks.
func powerOfTen(number, open, shut string) string {
	mantissa, exponent, found := strings.Cut(number, "e")
	if !found {
		return number
	}
	sign := ""
	if exponent[0] == '-' {
		sign = "-"
	}
	return mantissa + open + sign + strings.TrimLeft(exponent, "+-0") + shut
}

// Markdown is the quantity as text in which no sign has a meaning in Markdown.
func (q Quantity) Markdown() string { return markdownSigns.Replace(q.String()) }

var markdownSigns = strings.NewReplacer("_", `\_`, "*", `\*`, "$", `\$`, "^", `\^`)
