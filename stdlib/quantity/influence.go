package quantity

import (
	"fmt"
	"html"
	"strings"
)

// Influences is a list of inputs by how much they matter, greatest first; it is
// shown as a table.
type Influences []Influence

// String is a line for each input.
func (list Influences) String() string {
	lines := make([]string, len(list))
	for i, in := range list {
		lines[i] = in.String()
	}
	return strings.Join(lines, "\n")
}

var influenceHeads = []string{"input", "contribution", "share of the variance", "rank correlation"}

func (i Influence) cells() []string {
	return []string{i.Name, i.Contribution.String(), fmt.Sprintf("%.1f %%", 100*i.Share), fmt.Sprintf("%.2f", i.RankCorrelation)}
}

// HTML is the list as a table for a web page.
func (list Influences) HTML() string {
	var b strings.Builder
	b.WriteString("<table style=\"border-collapse:collapse;color:inherit;font-variant-numeric:tabular-nums;margin:0.5em 0\">\n<tr>")
	for i, head := range influenceHeads {
		fmt.Fprintf(&b, "<th style=\"padding:0.25em 0.75em;border-bottom:1px solid currentColor;text-align:%s\">%s</th>", sideOf(i), head)
	}
	b.WriteString("</tr>\n")
	for _, in := range list {
		b.WriteString("<tr>")
		for i, cell := range in.cells() {
			fmt.Fprintf(&b, "<td style=\"padding:0.15em 0.75em;text-align:%s\">%s</td>", sideOf(i), html.EscapeString(cell))
		}
		b.WriteString("</tr>\n")
	}
	return b.String() + "</table>"
}

// sideOf is where the column stands: names to the left, numbers to the right.
func sideOf(column int) string {
	if column == 0 {
		return "left"
	}
	return "right"
}

// Markdown is the list as a table in Markdown.
func (list Influences) Markdown() string {
	var b strings.Builder
	b.WriteString("| " + strings.Join(influenceHeads, " | ") + " |\n|---|---:|---:|---:|\n")
	for _, in := range list {
		cells := in.cells()
		for i := range cells {
			cells[i] = strings.ReplaceAll(markdownSigns.Replace(cells[i]), "|", `\|`)
		}
		b.WriteString("| " + strings.Join(cells, " | ") + " |\n")
	}
	return b.String()
}

// LaTeX is the list as a table in LaTeX.
func (list Influences) LaTeX() string {
	var b strings.Builder
	b.WriteString("\\begin{tabular}{lrrr}\n" + strings.Join(influenceHeads, " & ") + ` \\ \hline` + "\n")
	for _, in := range list {
		fmt.Fprintf(&b, "%s & $%s$ & $%.1f\\,\\%%$ & $%.2f$ \\\\\n", latexText.Replace(in.Name), in.Contribution.Math(), 100*in.Share, in.RankCorrelation)
	}
	return b.String() + `\end{tabular}`
}

// latexText keeps the signs of a name that mean something in LaTeX.
var latexText = strings.NewReplacer(`\`, `\textbackslash{}`, "_", `\_`, "%", `\%`, "$", `\$`, "&", `\&`, "#", `\#`,
	"{", `\{`, "}", `\}`, "~", `\textasciitilde{}`, "^", `\textasciicircum{}`, "µ", `$\mu$`)

// HTML is the value ± the standard uncertainty for a web page.
func (f FirstOrder) HTML() string { return f.form().HTML() }

// Markdown is the value ± the standard uncertainty in Markdown.
func (f FirstOrder) Markdown() string { return markdownSigns.Replace(f.String()) }

// LaTeX is the value ± the standard uncertainty as a formula between dollar signs.
func (f FirstOrder) LaTeX() string { return "$" + f.form().Math() + "$" }

// form is the text of the value in its unit, in matching digits.
func (f FirstOrder) form() Form {
	value, digits := matched(f.Value.value, f.Uncertainty.value)
	text := value + " ± " + digits(f.Uncertainty.value)
	return Form{f.Value, func(float64) string { return text }}
}

// FirstOrderHolds reports whether the interval to first order, Value ± Expanded,
// agrees with the sampled one at a level of confidence, both ends to half a unit
// in the last of the given significant digits of the uncertainty (JCGM 101:2008,
// 8.1), usually 2, or 1 where that is enough. Where they do not, trust the sampled
// one. The samples must be many enough for such ends to be stable: JCGM 101 uses a
// million. The error is for a level outside 0 to 1, for digits below 1, and for
// too few degrees of freedom.
func (q Quantity) FirstOrderHolds(level float64, digits int) (bool, error) {
	if digits < 1 {
		return false, fmt.Errorf("FirstOrderHolds to %d digits: give 1 or more", digits)
	}
	low, high, err := q.Interval(level)
	if err != nil {
		return false, err
	}
	if q.cloud == nil {
		return true, nil
	}
	first := q.FirstOrder()
	half, err := first.Expanded(level)
	if err != nil {
		return false, err
	}
	tolerance := halfUnitOf(first.Uncertainty.value, digits)
	offLow := first.Value.value - half.value - low.value
	offHigh := first.Value.value + half.value - high.value
	return max(offLow, -offLow, offHigh, -offHigh) <= tolerance, nil
}
