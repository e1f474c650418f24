package claims

import (
	"fmt"
	"strings"

	"cobber/stdlib/table"
)

// Table is the ledger as a table fit for a review: below each figure with its
// place what it was held against, what was found, the ratio of the figure to it,
// the verdict and the reason. Figures stand in the order in which they were
// stated.
func (l *Ledger) Table() table.Table {
	var rows [5][]string
	add := func(cells ...string) {
		for i, cell := range cells {
			rows[i] = append(rows[i], cell)
		}
	}
	for _, e := range l.entries {
		head := fmt.Sprintf("%s, %s: %s", e.Name, e.Where, plain(e.Value))
		verdicts := l.of(e.Name)
		for _, v := range verdicts {
			found := "–"
			if !v.Found.IsNaN() {
				found = amount(v.Found)
			}
			add(head, orDash(v.How), found, times(v.Ratio), joined(v.Kind.String(), v.Reason))
		}
		if len(verdicts) == 0 {
			reason := ""
			if e.Rests != "" {
				reason = "it rests on " + e.Rests
			}
			add(head, "–", "–", "–", joined("not checked", reason))
		}
	}
	names := [5]string{"figure", "held against", "found", "ratio", "verdict"}
	columns := make([]table.Column, len(names))
	for i, name := range names {
		columns[i] = table.Texts(name, rows[i])
	}
	t, err := table.New(columns...)
	if err != nil { // columns of one length
		return table.Table{}
	}
	if marked, err := t.HighlightText("verdict", stands); err == nil {
		t = marked
	}
	if grouped, err := t.Group("figure"); err == nil {
		t = grouped
	}
	return t.Caption("Figures of " + l.document).Limit(0)
}

func orDash(text string) string { return choose(text == "", "–", text) }

// of is the verdicts on one figure.
func (l *Ledger) of(name string) []Verdict {
	var out []Verdict
	for _, v := range l.verdicts {
		if v.Name == name {
			out = append(out, v)
		}
	}
	return out
}

// joined is a verdict with its reason, if it has one.
func joined(verdict, reason string) string {
	return strings.TrimSuffix(verdict+": "+reason, ": ")
}

// stands reports whether a verdict is one that a reader must not miss.
func stands(verdict string) bool {
	return strings.HasPrefix(verdict, Differs.String()) || strings.HasPrefix(verdict, Impossible.String())
}

// unchecked are the figures without a verdict.
func (l *Ledger) unchecked() []Entry {
	var out []Entry
	for _, e := range l.entries {
		if len(l.of(e.Name)) == 0 {
			out = append(out, e)
		}
	}
	return out
}

// Text is the ledger as sentences, a line for each figure and below it a line
// for each check, for a review in prose.
func (l *Ledger) Text() string {
	var out strings.Builder
	fmt.Fprintf(&out, "%s: %s\n", l.document, l.Summary())
	for i, e := range l.entries {
		fmt.Fprintf(&out, "%d. %s (%s): %s", i+1, e.Name, e.Where, plain(e.Value))
		if e.Rests != "" {
			fmt.Fprintf(&out, ", from %s", e.Rests)
		}
		out.WriteString("\n")
		verdicts := l.of(e.Name)
		for _, v := range verdicts {
			fmt.Fprintf(&out, "   %s", strings.ToUpper(v.Kind.String()[:1])+v.Kind.String()[1:])
			if v.How != "" {
				fmt.Fprintf(&out, ", %s", v.How)
			}
			fmt.Fprintf(&out, ": %s.\n", v.words())
		}
		if len(verdicts) == 0 {
			out.WriteString("   Not checked.\n")
		}
	}
	return out.String()
}

// Summary counts the verdicts in a line.
func (l *Ledger) Summary() string {
	counts := map[Kind]int{}
	for _, v := range l.verdicts {
		counts[v.Kind]++
	}
	parts := []string{counted(len(l.entries), "figure"), counted(len(l.verdicts), "check")}
	for kind := Agrees; kind <= Open; kind++ {
		if counts[kind] > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", counts[kind], kind))
		}
	}
	if n := len(l.unchecked()); n > 0 {
		parts = append(parts, fmt.Sprintf("%d not checked", n))
	}
	return strings.Join(parts, ", ")
}

func counted(n int, word string) string {
	return fmt.Sprintf("%d %s%s", n, word, choose(n == 1, "", "s"))
}

// String is Table as text.
func (l *Ledger) String() string { return l.Table().String() }

// HTML is Table as HTML.
func (l *Ledger) HTML() string { return l.Table().HTML() }

// Markdown is Table as Markdown.
func (l *Ledger) Markdown() string { return l.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (l *Ledger) LaTeX() string { return l.Table().LaTeX() }
