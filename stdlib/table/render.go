package table

import (
	"fmt"
	"html"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"cobber/stdlib/quantity"
)

// defaultLimit is how many rows are shown unless Limit says otherwise.
const defaultLimit = 50

// grid is a table as texts, cut to the rows that are shown.
type grid struct {
	caption string
	headers []string
	numeric []bool
	rows    []line
	more    int // rows left out below
}

// line is one row of a grid.
type line struct {
	kind  kind
	cells []string // of a heading only the first
	marks []bool   // which cells stand out
}

type kind int

const (
	plain   kind = iota
	heading      // the text of a group, over the whole width
	totals       // sums and means
)

func (t Table) grid() grid {
	limit := t.limit
	if limit == 0 {
		limit = defaultLimit
	}
	shown := min(t.Rows(), limit)
	g := grid{caption: t.caption, more: t.Rows() - shown}
	blocks, heads := t.blocks()
	cells := t.cells(blocks)
	for _, column := range t.columns {
		if column.name != t.shown.group {
			g.headers = append(g.headers, column.header())
			g.numeric = append(g.numeric, !column.isText)
		}
	}
	left := shown
	for i, block := range blocks {
		rows := block[:min(left, len(block))]
		left -= len(rows)
		if heads != nil && len(rows) > 0 {
			g.rows = append(g.rows, line{kind: heading, cells: []string{heads[i]}})
		}
		for _, row := range rows {
			g.rows = append(g.rows, t.line(cells, row))
		}
		if len(t.shown.totals) > 0 && heads != nil && len(rows) == len(block) {
			g.rows = append(g.rows, t.lineOf(totals, cells, t.Rows()+i, "together"))
		}
	}
	if len(t.shown.totals) > 0 && t.Rows() > 0 {
		g.rows = append(g.rows, t.lineOf(totals, cells, t.Rows()+len(blocks), "total"))
	}
	return g
}

// blocks are the rows of each group, and the texts above them; one block
// without a text where nothing is grouped.
func (t Table) blocks() (blocks [][]int, heads []string) {
	if t.shown.group == "" {
		all := make([]int, t.Rows())
		for i := range all {
			all[i] = i
		}
		return [][]int{all}, nil
	}
	for row, text := range t.columnOf(t.shown.group).texts {
		at := slices.Index(heads, text)
		if at < 0 {
			at = len(heads)
			heads, blocks = append(heads, text), append(blocks, nil)
		}
		blocks[at] = append(blocks[at], row)
	}
	return blocks, heads
}

// cells are the texts of all columns: the rows, then the totals of each block
// and of all. The digits suit the whole column with its totals, so that a table
// does not change its look when it is cut.
func (t Table) cells(blocks [][]int) [][]string {
	feet := make([][]quantity.Quantity, 0, len(blocks)+1)
	var all []int
	for _, block := range blocks {
		feet = append(feet, t.foot(block))
		all = append(all, block...)
	}
	feet = append(feet, t.foot(all))
	out := make([][]string, len(t.columns))
	for i, column := range t.columns {
		if column.isText {
			out[i] = append(slices.Clone(column.texts), make([]string, len(feet))...)
			continue
		}
		values := slices.Clone(column.quantities)
		for _, foot := range feet {
			if len(t.shown.totals) > 0 {
				values = append(values, foot[i])
			}
		}
		out[i] = column.cells(values, t.decimals(column))
		for at := len(column.quantities); at < len(values); at++ {
			if values[at].IsNaN() {
				out[i][at] = ""
			}
		}
	}
	return out
}

// cells writes quantities as a column shows them, with so many decimals, or the
// suitable ones where that is below 0.
func (c Column) cells(quantities []quantity.Quantity, decimals int) []string {
	if c.uncertain() {
		return plusMinus(c.unit, quantities)
	}
	numbers := make([]float64, len(quantities))
	for i, q := range quantities {
		x, err := q.Value(c.unit)
		if err != nil { // New lets none but missing ones through
			x = math.NaN()
		}
		numbers[i] = x
	}
	if decimals >= 0 {
		return formatTo(numbers, decimals)
	}
	// Totals have at most a digit more than what they are totals of.
	own, plain := decimalsFor(numbers[:len(c.quantities)])
	if all, _ := decimalsFor(numbers); plain && all > own+1 {
		return formatTo(numbers, own+1)
	}
	return format(numbers)
}

// decimals is the number of decimals asked for in a column; -1 for none.
func (t Table) decimals(column Column) int {
	if decimals, fixed := t.shown.decimals[column.name]; fixed {
		return decimals
	}
	return -1
}

func (t Table) line(cells [][]string, row int) line {
	out := line{}
	for i, column := range t.columns {
		if column.name != t.shown.group {
			out.cells = append(out.cells, cells[i][row])
			out.marks = append(out.marks, t.standsOut(column, row))
		}
	}
	return out
}

// lineOf is a row of totals, with a name in its first column of texts.
func (t Table) lineOf(kind kind, cells [][]string, row int, name string) line {
	out := line{kind: kind}
	for i, column := range t.columns {
		if column.name == t.shown.group {
			continue
		}
		text := cells[i][row]
		if column.isText && name != "" {
			text, name = name, ""
		}
		out.cells = append(out.cells, text)
		out.marks = append(out.marks, false)
	}
	return out
}

// choose is yes where a condition holds, and no elsewhere.
func choose[T any](condition bool, yes, no T) T {
	if condition {
		return yes
	}
	return no
}

func (g grid) rest() string {
	if g.more == 1 {
		return "… 1 more row"
	}
	return fmt.Sprintf("… %d more rows", g.more)
}

// String is the table as text: columns padded with spaces, a rule below the
// headers and above totals. Cells that stand out end with a *.
func (t Table) String() string {
	g := t.grid()
	for i := range g.rows {
		for j, marked := range g.rows[i].marks {
			if marked {
				g.rows[i].cells[j] += "*"
			}
		}
	}
	widths := g.widths()
	var out strings.Builder
	if g.caption != "" {
		fmt.Fprintln(&out, g.caption)
	}
	rule := func() {
		rules := make([]string, len(widths))
		for i, width := range widths {
			rules[i] = strings.Repeat("─", width)
		}
		g.write(&out, rules, widths)
	}
	g.write(&out, g.headers, widths)
	rule()
	for _, row := range g.rows {
		switch row.kind {
		case heading:
			fmt.Fprintln(&out, row.cells[0])
			continue
		case totals:
			rule()
		}
		g.write(&out, row.cells, widths)
	}
	if g.more > 0 {
		fmt.Fprintln(&out, g.rest())
	}
	return plainSpaces.Replace(strings.TrimSuffix(out.String(), "\n"))
}

// plainSpaces are for forms in which all letters are equally wide, or spaces
// count for nothing.
var plainSpaces = strings.NewReplacer(digitSpace, " ", pointSpace, " ")

func (g grid) widths() []int {
	widths := make([]int, len(g.headers))
	for i, text := range g.headers {
		widths[i] = utf8.RuneCountInString(text)
		for _, row := range g.rows {
			if row.kind != heading {
				widths[i] = max(widths[i], utf8.RuneCountInString(row.cells[i]))
			}
		}
	}
	return widths
}

func (g grid) write(out *strings.Builder, cells []string, widths []int) {
	parts := make([]string, len(cells))
	for i, cell := range cells {
		space := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell))
		if g.numeric[i] {
			parts[i] = space + cell
		} else {
			parts[i] = cell + space
		}
	}
	fmt.Fprintln(out, strings.TrimRight(strings.Join(parts, "  "), " "+digitSpace+pointSpace))
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
			fmt.Fprintf(&out, "| %s ", strings.TrimSpace(plainSpaces.Replace(cell)))
		}
		out.WriteString("|\n")
	}
	headers := make([]string, len(g.headers))
	for i, text := range g.headers {
		headers[i] = escapeMarkdown(text)
	}
	row(headers)
	for _, numeric := range g.numeric {
		if numeric {
			out.WriteString("|---:")
		} else {
			out.WriteString("|:---")
		}
	}
	out.WriteString("|\n")
	for _, line := range g.rows {
		row(g.bold(line, "**", "**", escapeMarkdown))
	}
	if g.more > 0 {
		fmt.Fprintf(&out, "\n%s\n", g.rest())
	}
	return out.String()
}

// bold is the cells of a row, escaped, with those in bold that stand out, head a
// group or are totals. A heading is followed by empty cells.
func (g grid) bold(row line, before, after string, escape func(string) string) []string {
	out := make([]string, len(g.headers))
	for i, cell := range row.cells {
		out[i] = escape(cell)
		if cell != "" && (row.kind != plain || row.marks[i]) {
			out[i] = before + out[i] + after
		}
	}
	return out
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
	styleGroup   = "padding:0.5em 0.75em 0.15em;text-align:left;font-style:italic;font-weight:normal"
	styleTotal   = ";border-top:1px solid currentColor;font-weight:bold"

	// The tint is thin enough for dark letters on light pages and light letters
	// on dark ones.
	styleMark = ";font-weight:bold;background-color:rgba(212,127,0,0.28)"
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
	out.WriteString("<thead>\n<tr>")
	for i, header := range g.headers {
		fmt.Fprintf(&out, "<th style=\"%s%s\">%s</th>", styleHead, g.side(i), html.EscapeString(header))
	}
	out.WriteString("</tr>\n</thead>\n<tbody>\n")
	for _, row := range g.rows {
		g.writeHTML(&out, row)
	}
	if g.more > 0 {
		fmt.Fprintf(&out, "<tr><td colspan=\"%d\" style=\"%sleft\">%s</td></tr>\n", len(g.headers), styleCell, g.rest())
	}
	out.WriteString("</tbody>\n</table>\n")
	return out.String()
}

func (g grid) side(i int) string { return choose(g.numeric[i], "right", "left") }

func (g grid) writeHTML(out *strings.Builder, row line) {
	if row.kind == heading {
		fmt.Fprintf(out, "<tr><th colspan=\"%d\" style=\"%s\">%s</th></tr>\n", len(g.headers), styleGroup, html.EscapeString(row.cells[0]))
		return
	}
	out.WriteString("<tr>")
	for i, cell := range row.cells {
		style := g.side(i)
		if utf8.RuneCountInString(cell) <= longestUnbroken {
			style += ";white-space:nowrap"
		}
		if row.kind == totals {
			style += styleTotal
		}
		if row.marks[i] {
			style += styleMark
		}
		fmt.Fprintf(out, "<td style=\"%s%s\">%s</td>", styleCell, style, html.EscapeString(cell))
	}
	out.WriteString("</tr>\n")
}

// LaTeX is the table as a tabular environment that needs no package.
func (t Table) LaTeX() string {
	g := t.grid()
	var out strings.Builder
	if g.caption != "" {
		fmt.Fprintf(&out, "\\textbf{%s}\n\n", escapeLaTeX(g.caption))
	}
	sides, headers := make([]string, len(g.numeric)), make([]string, len(g.headers))
	for i, numeric := range g.numeric {
		sides[i], headers[i] = choose(numeric, "r", "l"), escapeLaTeX(g.headers[i])
	}
	fmt.Fprintf(&out, "\\begin{tabular}{%s}\n\\hline\n", strings.Join(sides, ""))
	row := func(cells []string) { fmt.Fprintf(&out, "%s \\\\\n", strings.Join(cells, " & ")) }
	row(headers)
	out.WriteString("\\hline\n")
	for _, line := range g.rows {
		switch line.kind {
		case heading:
			fmt.Fprintf(&out, "\\multicolumn{%d}{l}{\\textbf{%s}} \\\\\n", len(g.headers), escapeLaTeX(line.cells[0]))
			continue
		case totals:
			out.WriteString("\\hline\n")
		}
		row(g.bold(line, "\\textbf{", "}", escapeLaTeX))
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
		"µ", `$\mu$`, "μ", `$\mu$`, "−", "$-$", "–", "--", "°", `$^{\circ}$`, "·", `$\cdot$`, "∞", `$\infty$`, "…", `\ldots{}`, "±", `$\pm$`, digitSpace, `\phantom{0}`, pointSpace, `\phantom{.}`,
		"⁻", "$^{-}$", "⁰", "$^{0}$", "¹", "$^{1}$", "²", "$^{2}$", "³", "$^{3}$", "⁴", "$^{4}$",
		"⁵", "$^{5}$", "⁶", "$^{6}$", "⁷", "$^{7}$", "⁸", "$^{8}$", "⁹", "$^{9}$").Replace(text)
}
