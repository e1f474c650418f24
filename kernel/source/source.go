package source

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Cell is one cell as the user sent it.
type Cell struct {
	Name  string // as shown to the user: "cell 3"
	Count int    // the execution count
	Text  string
	ID    string // by which the front end knows the cell when it runs again; may be empty
}

// Position is a place in a cell. Line and Column count from 1; a column is a
// character, not a byte.
type Position struct {
	Cell         string
	Line, Column int
}

// String returns the position as users read it: "cell 3, line 2, column 7".
func (p Position) String() string {
	if p.Line == 0 {
		return p.Cell
	}
	return fmt.Sprintf("%s, line %d, column %d", p.Cell, p.Line, p.Column)
}

// byteOrderMark may open a text; no editor counts it as a column.
const byteOrderMark = "\uFEFF"

// At returns the position of a byte offset. An offset outside the text is
// taken as the nearer end.
func (c Cell) At(offset int) Position {
	offset = min(max(offset, 0), len(c.Text))
	before := c.Text[:offset]
	line := 1 + strings.Count(before, "\n")
	before = before[strings.LastIndexByte(before, '\n')+1:]
	if line == 1 {
		before = strings.TrimPrefix(before, byteOrderMark)
	}
	return Position{Cell: c.Name, Line: line, Column: 1 + utf8.RuneCountInString(before)}
}

// Line returns the n-th line of the text, counted from 1, without its end.
func (c Cell) Line(n int) string {
	rest := c.Text
	for ; n > 1; n-- {
		_, after, found := strings.Cut(rest, "\n")
		if !found {
			return ""
		}
		rest = after
	}
	line, _, _ := strings.Cut(rest, "\n")
	return strings.TrimSuffix(strings.TrimPrefix(line, byteOrderMark), "\r")
}

// Offset returns the byte offset of a cursor that counts code points from 0,
// as front ends count them.
func (c Cell) Offset(cursor int) int {
	for offset := range c.Text {
		if cursor <= 0 {
			return offset
		}
		cursor--
	}
	return len(c.Text)
}

// Cursor is the inverse of Offset.
func (c Cell) Cursor(offset int) int {
	return utf8.RuneCountInString(c.Text[:min(max(offset, 0), len(c.Text))])
}
