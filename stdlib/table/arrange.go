package table

import (
	"fmt"
	"slices"

	"cobber/stdlib/quantity"
)

// arrangement is what is shown of a table beside its cells.
type arrangement struct {
	totals     []total
	group      string // the column of texts by which rows are grouped; may be empty
	highlights []highlight
	decimals   map[string]int
}

// total is one figure of the last row: a sum, or where a weight is named, a
// mean weighted by that column.
type total struct{ column, weight string }

type highlight struct {
	column string
	number func(quantity.Quantity) bool // one of the two
	text   func(string) bool
}

// Totals is the table with a row of sums below, of the columns named, or of all
// columns of quantities and numbers where none is. Missing values count for
// nothing. Shares and flows may be added; grades may not: see Mean. The row is
// shown and is not among the rows of the table.
//
// Errors: there is no such column, or it holds texts.
func (t Table) Totals(names ...string) (Table, error) {
	if len(names) == 0 {
		for _, column := range t.columns {
			if !column.isText {
				names = append(names, column.name)
			}
		}
	}
	totals := slices.Clone(t.shown.totals)
	for _, name := range names {
		if _, err := t.Column(name); err != nil {
			return Table{}, err
		}
		totals = append(totals, total{column: name})
	}
	t.shown.totals = totals
	return t, nil
}

// Mean is the table with the mean of a column in the row below, weighted by
// another: of grades by the masses they belong to. Rows where either is missing
// are left out.
//
// Errors: there is no such column, or it holds texts.
func (t Table) Mean(name, weight string) (Table, error) {
	for _, column := range []string{name, weight} {
		if _, err := t.Column(column); err != nil {
			return Table{}, err
		}
	}
	t.shown.totals = append(slices.Clone(t.shown.totals), total{name, weight})
	return t, nil
}

// Group is the table shown in groups, one for each text of a column: the text
// stands above its rows in place of the column, and totals stand below each
// group too. Groups come in the order in which their texts first appear.
//
// Errors: there is no such column, or it holds no texts; it is the only one.
func (t Table) Group(name string) (Table, error) {
	if _, err := t.Text(name); err != nil {
		return Table{}, err
	}
	if len(t.columns) == 1 {
		return Table{}, fmt.Errorf("table: column %q is the only one; there is nothing to group", name)
	}
	t.shown.group = name
	return t, nil
}

// Highlight is the table with those cells of a column made to stand out for
// which rule says so: on a tinted ground on pages, bold in LaTeX and Markdown,
// with a * as text. Missing values never do.
//
// Errors: there is no such column, or it holds texts.
func (t Table) Highlight(name string, rule func(q quantity.Quantity) bool) (Table, error) {
	if _, err := t.Column(name); err != nil {
		return Table{}, err
	}
	t.shown.highlights = append(slices.Clone(t.shown.highlights), highlight{column: name, number: rule})
	return t, nil
}

// HighlightText is Highlight for a column of texts.
//
// Errors: there is no such column, or it holds no texts.
func (t Table) HighlightText(name string, rule func(text string) bool) (Table, error) {
	if _, err := t.Text(name); err != nil {
		return Table{}, err
	}
	t.shown.highlights = append(slices.Clone(t.shown.highlights), highlight{column: name, text: rule})
	return t, nil
}

// Decimals is the table with so many decimals in a column, in place of those
// that suit its values. Uncertain values keep the decimals of their deviation.
//
// Errors: there is no such column, or it holds texts; a number outside 0 to 12.
func (t Table) Decimals(name string, decimals int) (Table, error) {
	if _, err := t.Column(name); err != nil {
		return Table{}, err
	}
	if decimals < 0 || decimals > 12 {
		return Table{}, fmt.Errorf("table: column %q cannot have %d decimals; give 0 to 12", name, decimals)
	}
	all := map[string]int{name: decimals}
	for other, n := range t.shown.decimals {
		if other != name {
			all[other] = n
		}
	}
	t.shown.decimals = all
	return t, nil
}

// standsOut reports whether a cell is highlighted.
func (t Table) standsOut(column Column, row int) bool {
	for _, h := range t.shown.highlights {
		switch {
		case h.column != column.name:
		case h.text != nil:
			if h.text(column.texts[row]) {
				return true
			}
		case column.quantities[row].IsNaN():
		case h.number(column.quantities[row]):
			return true
		}
	}
	return false
}

// foot is the row of totals over some rows: for each column a quantity, or
// nothing.
func (t Table) foot(rows []int) []quantity.Quantity {
	out := make([]quantity.Quantity, len(t.columns))
	for i := range out {
		out[i] = absent
	}
	for _, total := range t.shown.totals {
		for i, column := range t.columns {
			if column.name == total.column {
				out[i] = t.total(column, total.weight, rows)
			}
		}
	}
	return out
}

// absent is the value of a cell without one.
var absent = quantity.Number(0).Div(quantity.Number(0))

func (t Table) total(column Column, weight string, rows []int) quantity.Quantity {
	var sum, weights quantity.Quantity
	any := false
	for _, row := range rows {
		q := column.quantities[row]
		if q.IsNaN() {
			continue
		}
		if weight != "" {
			w := t.columnOf(weight).quantities[row]
			if w.IsNaN() {
				continue
			}
			q, weights = q.Mul(w), weights.Add(w)
		}
		sum, any = sum.Add(q), true
	}
	switch {
	case !any:
		return absent
	case weight != "":
		sum = sum.Div(weights)
	}
	if shown, err := sum.In(column.unit); err == nil {
		return shown
	}
	return sum
}

// columnOf is the column of a name that is known to be there.
func (t Table) columnOf(name string) Column {
	column, _ := t.find(name)
	return column
}
