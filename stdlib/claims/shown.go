package claims

import (
	"fmt"
	"math"
	"strings"

	"cobber/stdlib/table"
)

// Table is the ledger as a table fit for a review: each figure with its place,
// what it was held against, the ratio and the verdict, in the order in which the
// figures were stated.
func (l *Ledger) Table() table.Table {
	var rows [6][]string
	add := func(cells ...string) {
		for i, cell := range cells {
			rows[i] = append(rows[i], cell)
		}
	}
	row := func(e Entry, v Verdict) {
		found, ratio := "–", "–"
		if !v.Found.IsNaN() {
			found = amount(v.Found)
		}
		if !math.IsNaN(v.Ratio) {
			ratio = times(v.Ratio)
		}
		stated := e.Value
		if !v.Stated.IsNothing() {
			stated = v.Stated
		}
		add(placed(e), plain(stated), found, ratio, v.Kind.String(), because(v))
	}
	for _, e := range l.entries {
		judged := false
		for _, v := range l.verdicts {
			if v.Name == e.Name {
				judged = true
				row(e, v)
			}
		}
		if judged {
			continue
		}
		reason := "nothing was held against it"
		if e.Rests != "" {
			reason += "; it rests on " + e.Rests
		}
		add(placed(e), plain(e.Value), "–", "–", "not checked", reason)
	}
	names := [6]string{"figure", "stated", "found", "ratio", "verdict", "reason"}
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
	return t.Caption("Figures of " + l.document).Limit(0)
}

// placed is a figure with the place where it stands.
func placed(e Entry) string { return e.Name + ", " + e.Where }

// stands reports whether a verdict is one that a reader must not miss.
func stands(verdict string) bool {
	return verdict == Differs.String() || verdict == Impossible.String()
}

// because is how a figure was checked, and the reason.
func because(v Verdict) string {
	switch {
	case v.How == "":
		return v.Reason
	case v.Reason == "":
		return v.How
	}
	return v.How + ": " + v.Reason
}

// unchecked are the figures without a verdict.
func (l *Ledger) unchecked() []Entry {
	var out []Entry
	for _, e := range l.entries {
		judged := false
		for _, v := range l.verdicts {
			judged = judged || v.Name == e.Name
		}
		if !judged {
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
		any := false
		for _, v := range l.verdicts {
			if v.Name != e.Name {
				continue
			}
			any = true
			fmt.Fprintf(&out, "   %s", strings.ToUpper(v.Kind.String()[:1])+v.Kind.String()[1:])
			if v.How != "" {
				fmt.Fprintf(&out, ", %s", v.How)
			}
			fmt.Fprintf(&out, ": %s.\n", v.words())
		}
		if !any {
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
