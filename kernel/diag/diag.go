package diag

import (
	"slices"
	"strings"
	"unicode/utf8"

	"cobber/kernel/source"
)

// Diagnostic is one fault of a cell.
type Diagnostic struct {
	Code       string // class of the fault: "syntax", "type", "name", "unit", ...
	Summary    string // what is wrong, one line
	Detail     string // what to do about it; may be empty
	Pos        source.Position
	Width      int    // characters to underline, at least 1
	SourceLine string // the line of the cell that Pos is in
	Related    []Related
}

// Related is a second place that a fault has to do with.
type Related struct {
	Pos        source.Position
	Text       string
	SourceLine string
}

// New returns a diagnostic at a byte offset of a cell.
func New(code string, cell source.Cell, offset, width int, summary string) Diagnostic {
	pos := cell.At(offset)
	return Diagnostic{Code: code, Summary: summary, Pos: pos, Width: max(width, 1), SourceLine: cell.Line(pos.Line)}
}

// String prints the place and the summary, the source line with a mark under
// the fault, the detail, and the related places.
func (d Diagnostic) String() string {
	var b strings.Builder
	b.WriteString(d.Pos.String())
	b.WriteString(": ")
	b.WriteString(d.Summary)
	if strings.TrimSpace(d.SourceLine) != "" {
		b.WriteString("\n    ")
		b.WriteString(d.SourceLine)
		b.WriteString("\n    ")
		b.WriteString(mark(d.SourceLine, d.Pos.Column, d.Width))
	}
	if d.Detail != "" {
		b.WriteString("\n    ")
		b.WriteString(strings.ReplaceAll(d.Detail, "\n", "\n    "))
	}
	for _, r := range d.Related {
		b.WriteString("\n")
		b.WriteString(r.Pos.String())
		b.WriteString(": ")
		b.WriteString(r.Text)
	}
	return b.String()
}

// mark returns a line with carets under width characters from column. Tabs of
// the line are repeated, so that the mark stands right however wide a tab is.
func mark(line string, column, width int) string {
	var b strings.Builder
	n := 1
	for _, r := range line {
		if n >= column {
			break
		}
		if r == '\t' {
			b.WriteRune('\t')
		} else {
			b.WriteByte(' ')
		}
		n++
	}
	for ; n < column; n++ {
		b.WriteByte(' ')
	}
	left := utf8.RuneCountInString(line) - column + 1
	b.WriteString(strings.Repeat("^", max(1, min(width, left))))
	return b.String()
}

// List is the faults of one cell, in the order of the text.
type List []Diagnostic

// Error prints all faults, a blank line between two.
func (l List) Error() string {
	texts := make([]string, len(l))
	for i, d := range l {
		texts[i] = d.String()
	}
	return strings.Join(texts, "\n\n")
}

// Sorted returns the list in the order of the text, without repetitions, cut
// to at most limit entries. Two faults at one place with one text are the same.
func (l List) Sorted(limit int) List {
	sorted := slices.Clone(l)
	slices.SortStableFunc(sorted, func(a, b Diagnostic) int {
		if a.Pos.Line != b.Pos.Line {
			return a.Pos.Line - b.Pos.Line
		}
		return a.Pos.Column - b.Pos.Column
	})
	sorted = slices.CompactFunc(sorted, func(a, b Diagnostic) bool {
		return a.Pos == b.Pos && a.Summary == b.Summary
	})
	if limit > 0 && len(sorted) > limit {
		sorted = sorted[:limit]
	}
	return sorted
}

// OrNil returns the list as an error, or nil if it is empty.
func (l List) OrNil() error {
	if len(l) == 0 {
		return nil
	}
	return l
}
