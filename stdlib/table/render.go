package table

import (
	"fmt"
	"html"
	"math"
	"strings"
	"unicode/utf8"
)

// defaultLimit is how many rows are shown unless Limit says otherwise.
const defaultLimit = 50

// grid is a table as texts, cut to the rows that are shown.
type grid struct {
	caption string
	headers []string
	numeric []bool
	rows    [][]string
	more    int // rows left out below
}

func (t Table) grid() grid {
	limit := t.limit
	if limit == 0 {
		limit = defaultLimit
	}
	shown := min(t.Rows(), limit)
	g := grid{caption: t.caption, more: t.Rows() - shown, rows: make([][]string, shown)}
	for _, column := range t.columns {
		g.headers = append(g.headers, column.header())
		g.numeric = append(g.numeric, !column.isText)
		for i, text := range column.cells()[:shown] {
			g.rows[i] = append(g.rows[i], text)
		}
	}
	return g
}

// cells are the column's values as shown. The digits suit the whole column, so
// that a table does not change its look when it is cut.
func (c Column) cells() []string {
	if c.isText {
		return c.texts
	}
	numbers := make([]float64, len(c.quantities))
	for i, q := range c.quantities {
		x, err := q.Value(c.unit)
		if err != nil { // New lets none but missing ones through
			x = math.NaN()
		}
		numbers[i] = x
	}
	return format(numbers)
}

func (g grid) rest() string {
	if g.more == 1 {
		return "… 1 more row"
	}
	return fmt.Sprintf("… %d more rows", g.more)
}

// String is the table as text: columns padded with spaces, a rule below the
// headers.
func (t Table) String() string {
	g := t.grid()
	widths := g.widths()
	var out strings.Builder
	if g.caption != "" {
		fmt.Fprintln(&out, g.caption)
	}
	g.line(&out, g.headers, widths)
	rules := make([]string, len(widths))
	for i, width := range widths {
		rules[i] = strings.Repeat("─", width)
	}
	g.line(&out, rules, widths)
	for _, row := range g.rows {
		g.line(&out, row, widths)
	}
	if g.more > 0 {
		fmt.Fprintln(&out, g.rest())
	}
	return strings.TrimSuffix(out.String(), "\n")
}

func (g grid) widths() []int {
	widths := make([]int, len(g.headers))
	for i, text := range g.headers {
		widths[i] = utf8.RuneCountInString(text)
		for _, row := range g.rows {
			widths[i] = max(widths[i], utf8.RuneCountInString(row[i]))
		}
	}
	return widths
}

func (g grid) line(out *strings.Builder, cells []string, widths []int) {
	parts := make([]string, len(cells))
	for i, cell := range cells {
		space := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell))
		if g.numeric[i] {
			parts[i] = space + cell
		} else {
			parts[i] = cell + space
		}
	}
	fmt.Fprintln(out, strings.TrimRight(strings.Join(parts, "  "), " "))
}

// Markdown is the table in the pipe syntax of GitHub Flavored Markdown.
func (t Table) Markdown() string {
	g := t.grid()
	var out strings.Builder
	if g.caption != "" {
		fmt.Fprintf(&out, "%s\n\n", escapeMarkdown(g.caption))
	}
	row := func(cells []string) {
		for _, cell := range cells {
			fmt.Fprintf(&out, "| %s ", escapeMarkdown(cell))
		}
		out.WriteString("|\n")
	}
	row(g.headers)
	for _, numeric := range g.numeric {
		if numeric {
			out.WriteString("|---:")
		} else {
			out.WriteString("|:---")
		}
	}
	out.WriteString("|\n")
	for _, cells := range g.rows {
		row(cells)
	}
	if g.more > 0 {
		fmt.Fprintf(&out, "\n%s\n", g.rest())
	}
	return out.String()
}

func escapeMarkdown(text string) string {
	return strings.NewReplacer("|", `\|`, "\n", " ", "*", `\*`, "_", `\_`, "<", "&lt;", "`", "\\`", "$", `\$`, `\`, `\\`).Replace(text)
}

// Styles stand in the tags, because front ends drop style sheets of notebooks
// they do not trust. Colours are left to the page, so that dark pages work.
const (
	styleTable   = "border-collapse:collapse;color:inherit;font-variant-numeric:tabular-nums;margin:0.5em 0"
	styleCaption = "text-align:left;font-weight:bold;padding:0.25em 0"
	styleHead    = "padding:0.25em 0.75em;border-bottom:1px solid currentColor;vertical-align:bottom;text-align:"
	styleCell    = "padding:0.15em 0.75em;text-align:"
)

// longestUnbroken is how many letters a cell may have that a narrow page must
// not break: a size class in two lines is hard to read, a remark is not.
const longestUnbroken = 30

// HTML is the table as a table element whose styles stand in its tags.
func (t Table) HTML() string {
	g := t.grid()
	var out strings.Builder
	fmt.Fprintf(&out, "<table style=\"%s\">\n", styleTable)
	if g.caption != "" {
		fmt.Fprintf(&out, "<caption style=\"%s\">%s</caption>\n", styleCaption, html.EscapeString(g.caption))
	}
	row := func(tag, style string, cells []string) {
		out.WriteString("<tr>")
		for i, cell := range cells {
			side := "left"
			if g.numeric[i] {
				side = "right"
			}
			if tag == "td" && utf8.RuneCountInString(cell) <= longestUnbroken {
				side += ";white-space:nowrap"
			}
			fmt.Fprintf(&out, "<%s style=\"%s%s\">%s</%s>", tag, style, side, html.EscapeString(cell), tag)
		}
		out.WriteString("</tr>\n")
	}
	out.WriteString("<thead>\n")
	row("th", styleHead, g.headers)
	out.WriteString("</thead>\n<tbody>\n")
	for _, cells := range g.rows {
		row("td", styleCell, cells)
	}
	if g.more > 0 {
		fmt.Fprintf(&out, "<tr><td colspan=\"%d\" style=\"%sleft\">%s</td></tr>\n", len(g.headers), styleCell, g.rest())
	}
	out.WriteString("</tbody>\n</table>\n")
	return out.String()
}

// LaTeX is the table as a tabular environment that needs no package.
func (t Table) LaTeX() string {
	g := t.grid()
	var out strings.Builder
	if g.caption != "" {
		fmt.Fprintf(&out, "\\textbf{%s}\n\n", escapeLaTeX(g.caption))
	}
	sides := make([]string, len(g.numeric))
	for i, numeric := range g.numeric {
		sides[i] = "l"
		if numeric {
			sides[i] = "r"
		}
	}
	fmt.Fprintf(&out, "\\begin{tabular}{%s}\n\\hline\n", strings.Join(sides, ""))
	row := func(cells []string) {
		escaped := make([]string, len(cells))
		for i, cell := range cells {
			escaped[i] = escapeLaTeX(cell)
		}
		fmt.Fprintf(&out, "%s \\\\\n", strings.Join(escaped, " & "))
	}
	row(g.headers)
	out.WriteString("\\hline\n")
	for _, cells := range g.rows {
		row(cells)
	}
	if g.more > 0 {
		fmt.Fprintf(&out, "\\multicolumn{%d}{l}{%s} \\\\\n", len(g.headers), escapeLaTeX(g.rest()))
	}
	out.WriteString("\\hline\n\\end{tabular}\n")
	return out.String()
}

func escapeLaTeX(text string) string {
	return strings.NewReplacer(`\`, `\textbackslash{}`, "%", `\%`, "&", `\&`, "$", `\$`, "#", `\#`, "_", `\_`,
		"<", `\textless{}`, ">", `\textgreater{}`, "|", `\textbar{}`,
		"{", `\{`, "}", `\}`, "~", `\textasciitilde{}`, "^", `\textasciicircum{}`,
		"µ", `$\mu$`, "μ", `$\mu$`, "−", "$-$", "–", "--", "°", `$^{\circ}$`, "·", `$\cdot$`, "∞", `$\infty$`, "…", `\ldots{}`,
		"⁻", "$^{-}$", "⁰", "$^{0}$", "¹", "$^{1}$", "²", "$^{2}$", "³", "$^{3}$", "⁴", "$^{4}$",
		"⁵", "$^{5}$", "⁶", "$^{6}$", "⁷", "$^{7}$", "⁸", "$^{8}$", "⁹", "$^{9}$").Replace(text)
}
