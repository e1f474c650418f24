package bound

import (
	"html"

	"cobber/stdlib/table"
)

// StaleCell is a cell whose output would be another one by now: a name that it
// read has changed since it ran.
type StaleCell struct {
	Cell string // "cell 3", by the number it has run with
	Code string // its first line
	Why  string // which name has changed, and by which cell
}

// StaleCells is a list of outdated cells. As the last value of a cell it is shown
// as a table.
type StaleCells []StaleCell

// Stale lists the cells that are out of date, in the order in which they ran: a
// name that they read, directly or in a function that they call, was bound or
// assigned by a cell that ran later, or comes from a cell that is itself out of
// date. Run them again, in this order, to bring the notebook up to date. What
// changes behind a pointer or in a file is not seen. In a program without a
// session the list is empty.
func Stale() StaleCells {
	if s := attached(); s != nil {
		return s.Stale()
	}
	return nil
}

// Table has one row a cell: which it is, how it begins, and what has changed.
func (l StaleCells) Table() table.Table {
	columns := make([][]string, 3)
	for _, o := range l {
		for i, text := range []string{o.Cell, o.Code, o.Why} {
			columns[i] = append(columns[i], text)
		}
	}
	t, err := table.New(table.Texts("out of date", columns[0]), table.Texts("begins", columns[1]), table.Texts("because", columns[2]))
	if err != nil {
		panic(err) // three columns of one length under three names
	}
	return t
}

// none is what is shown where there is nothing to list.
const none = "No cell is out of date."

// String is the table as text.
func (l StaleCells) String() string {
	if len(l) == 0 {
		return none
	}
	return l.Table().String()
}

// HTML is the table for pages.
func (l StaleCells) HTML() string {
	if len(l) == 0 {
		return none
	}
	return l.Table().HTML()
}

// Markdown is the table in Markdown.
func (l StaleCells) Markdown() string {
	if len(l) == 0 {
		return none
	}
	return l.Table().Markdown()
}

// LaTeX is the table for LaTeX.
func (l StaleCells) LaTeX() string {
	if len(l) == 0 {
		return ""
	}
	return l.Table().LaTeX()
}

// Note is a line that the session puts beside the output of a cell.
type Note string

// String is the note as text.
func (n Note) String() string { return string(n) }

// HTML is the note for pages, set apart from what the cell itself shows.
func (n Note) HTML() string {
	return `<div style="border-left:4px solid #a8864b;padding:.1em .7em;font-size:.92em;font-style:italic">` + html.EscapeString(string(n)) + `</div>`
}
