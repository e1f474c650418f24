package bound

import (
	"fmt"

	"cobber/stdlib/table"
)

// List is a list of names. As the last value of a cell it is shown as a table.
type List []Name

// Table has one row a name: what it is, its type, the size of its value, and the
// cell that bound it.
func (l List) Table() table.Table {
	columns := make([][]string, 5)
	for _, n := range l {
		size := ""
		if n.Kind == "variable" {
			size = amount(n.Bytes)
		}
		for i, text := range []string{n.Name, n.Kind, n.Type, size, n.Cell} {
			columns[i] = append(columns[i], text)
		}
	}
	t, err := table.New(table.Texts("name", columns[0]), table.Texts("kind", columns[1]),
		table.Texts("type", columns[2]), table.Texts("size", columns[3]), table.Texts("bound in", columns[4]))
	if err != nil {
		panic(err) // five columns of one length under five names
	}
	return t
}

// String is the table as text.
func (l List) String() string { return l.Table().String() }

// HTML is the table for pages.
func (l List) HTML() string { return l.Table().HTML() }

// Markdown is the table in Markdown.
func (l List) Markdown() string { return l.Table().Markdown() }

// LaTeX is the table for LaTeX.
func (l List) LaTeX() string { return l.Table().LaTeX() }

// amount writes a number of bytes in a unit that suits it; 1 kB is 1000 bytes.
func amount(bytes int64) string {
	switch {
	case bytes < 1000:
		return fmt.Sprintf("%d B", bytes)
	case bytes < 999_500:
		return fmt.Sprintf("%.3g kB", float64(bytes)/1e3)
	case bytes < 999_500_000:
		return fmt.Sprintf("%.3g MB", float64(bytes)/1e6)
	}
	return fmt.Sprintf("%.3g GB", float64(bytes)/1e9)
}
