package page

import (
	"html"
	"strings"
)

// formula returns one formula as HTML. One that cannot be typeset is shown as
// it is written, and warned about.
func (b *builder) formula(tex string, display bool) string {
	typeset, err := b.typeset.HTML(tex, display)
	if err == nil {
		return typeset
	}
	b.warn("a formula cannot be typeset: %v (%s)", err, shortenTo(tex, 60))
	return `<code class="untypeset" title="` + html.EscapeString(err.Error()) + `">` + html.EscapeString(tex) + `</code>`
}

// latex returns the HTML of a text/latex output: words with formulas between
// their signs. It reports false when a formula of it cannot be typeset, as with
// a table meant for a LaTeX document: another media type then does better.
func (b *builder) latex(source string) (string, bool) {
	source = strings.TrimSpace(source)
	var out strings.Builder
	formulas := 0
	for source != "" {
		start := strings.IndexAny(source, `$\`)
		if start < 0 {
			break
		}
		out.WriteString(html.EscapeString(source[:start]))
		source = source[start:]
		tex, length, display := leadingDocumentFormula(source)
		if length == 0 {
			out.WriteString(html.EscapeString(source[:1]))
			source = source[1:]
			continue
		}
		typeset, err := b.typeset.HTML(tex, display)
		if err != nil {
			return "", false
		}
		formulas++
		out.WriteString(typeset)
		source = source[length:]
	}
	out.WriteString(html.EscapeString(source))
	return out.String(), formulas > 0
}

// leadingDocumentFormula is leadingFormula for LaTeX itself, where a bracket
// has one backslash: Markdown needs the second.
func leadingDocumentFormula(text string) (tex string, length int, display bool) {
	for _, pair := range [][2]string{{`\[`, `\]`}, {`\(`, `\)`}} {
		if inner, ok := strings.CutPrefix(text, pair[0]); ok {
			if i := strings.Index(inner, pair[1]); i >= 0 {
				return strings.TrimSpace(inner[:i]), i + 4, pair[0] == `\[`
			}
		}
	}
	return leadingFormula(text)
}

func shortenTo(text string, limit int) string {
	text = strings.Join(strings.Fields(text), " ")
	if runes := []rune(text); len(runes) > limit {
		return string(runes[:limit-1]) + "…"
	}
	return text
}
