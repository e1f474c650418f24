package table

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"cobber/stdlib/quantity"
)

// Table is rows and named columns. It is not changed by its methods; each
// returns a new one. How it is shown is settled by Caption, Limit, Totals, Mean,
// Group, Highlight and Decimals.
type Table struct {
	caption string
	columns []Column
	limit   int // rows shown; 0 means defaultLimit
	shown   arrangement
}

// Column is one named column: of quantities, all of one dimension, or of texts.
// Build one with Quantities, Numbers or Texts.
type Column struct {
	name       string
	unit       string // shown in the header
	quantities []quantity.Quantity
	texts      []string
	isText     bool
}

// Quantities is a column of quantities. They are shown in the unit of the first
// of them that is not missing; that unit stands in the header. A quantity that
// is not a number counts as missing and is shown as a dash.
func Quantities(name string, values []quantity.Quantity) Column {
	column := Column{name: name, quantities: slices.Clone(values)}
	for _, q := range values {
		if !q.IsNaN() && !q.IsNothing() {
			column.unit = q.Unit().String()
			break
		}
	}
	return column
}

// Numbers is a column of plain numbers.
func Numbers(name string, values []float64) Column {
	column := Column{name: name}
	for _, x := range values {
		column.quantities = append(column.quantities, quantity.Number(x))
	}
	return column
}

// Texts is a column of texts.
func Texts(name string, values []string) Column {
	return Column{name: name, texts: slices.Clone(values), isText: true}
}

// New joins columns into a table.
//
// Errors: columns of unlike length, two columns of one name, a column whose
// quantities have unlike dimensions.
func New(columns ...Column) (Table, error) {
	names := map[string]bool{}
	for _, column := range columns {
		if names[column.name] {
			return Table{}, fmt.Errorf("table: two columns are called %q", column.name)
		}
		names[column.name] = true
		if column.length() != columns[0].length() {
			return Table{}, fmt.Errorf("table: column %q has %d rows, column %q has %d",
				column.name, column.length(), columns[0].name, columns[0].length())
		}
		if err := column.check(); err != nil {
			return Table{}, err
		}
	}
	return Table{columns: slices.Clone(columns)}, nil
}

// check finds a quantity that cannot stand in the column's unit.
func (c Column) check() error {
	for i, q := range c.quantities {
		if q.IsNaN() {
			continue
		}
		if _, err := q.Value(c.unit); err != nil {
			return fmt.Errorf("table: column %q, row %d: %v cannot be shown in %s, the unit of the rows before it", c.name, i+1, q, c.unit)
		}
	}
	return nil
}

func (c Column) length() int {
	if c.isText {
		return len(c.texts)
	}
	return len(c.quantities)
}

// Name is the column's name without its unit.
func (c Column) Name() string { return c.name }

// header is the name with the unit people read above the numbers.
func (c Column) header() string {
	if c.unit == "" || c.unit == "1" {
		return c.name
	}
	return c.name + " (" + c.unit + ")"
}

// Caption is the table under a title that is shown above it.
func (t Table) Caption(text string) Table {
	t.caption = text
	return t
}

// Limit is the table cut, where it is shown, to so many rows; the rest is
// counted below it. All rows stay in the table. A limit below 1 shows every row.
func (t Table) Limit(rows int) Table {
	if rows < 1 {
		rows = math.MaxInt
	}
	t.limit = rows
	return t
}

// Rows is the number of rows.
func (t Table) Rows() int {
	if len(t.columns) == 0 {
		return 0
	}
	return t.columns[0].length()
}

// Names are the names of the columns, in their order.
func (t Table) Names() []string {
	names := make([]string, len(t.columns))
	for i, column := range t.columns {
		names[i] = column.name
	}
	return names
}

// Column is the quantities of one column, top to bottom.
//
// Errors: there is no such column, or it holds texts.
func (t Table) Column(name string) ([]quantity.Quantity, error) {
	column, err := t.find(name)
	if err != nil {
		return nil, err
	}
	if column.isText {
		return nil, fmt.Errorf("table: column %q holds texts; read it with Text", name)
	}
	return slices.Clone(column.quantities), nil
}

// Text is the texts of one column, top to bottom.
//
// Errors: there is no such column, or it holds quantities.
func (t Table) Text(name string) ([]string, error) {
	column, err := t.find(name)
	if err != nil {
		return nil, err
	}
	if !column.isText {
		return nil, fmt.Errorf("table: column %q holds quantities; read it with Column", name)
	}
	return slices.Clone(column.texts), nil
}

// IsText reports whether the column of that name holds texts.
//
// Errors: there is no such column.
func (t Table) IsText(name string) (bool, error) {
	column, err := t.find(name)
	return column.isText, err
}

func (t Table) find(name string) (Column, error) {
	for _, column := range t.columns {
		if column.name == name {
			return column, nil
		}
	}
	return Column{}, fmt.Errorf("table: no column %q; the columns are %s", name, strings.Join(t.Names(), ", "))
}

// Where is the rows in which the column of texts name says text.
//
// Errors: there is no such column of texts, or no row says text.
func (t Table) Where(name, text string) (Table, error) {
	texts, err := t.Text(name)
	if err != nil {
		return Table{}, err
	}
	var rows []int
	for i, found := range texts {
		if found == text {
			rows = append(rows, i)
		}
	}
	if len(rows) == 0 {
		slices.Sort(texts)
		return Table{}, fmt.Errorf("table: no row has %q in column %q; it holds %s",
			text, name, strings.Join(slices.Compact(texts), ", "))
	}
	return t.pick(rows), nil
}

func (t Table) pick(rows []int) Table {
	columns := make([]Column, len(t.columns))
	for i, column := range t.columns {
		columns[i] = Column{name: column.name, unit: column.unit, isText: column.isText}
		for _, row := range rows {
			if column.isText {
				columns[i].texts = append(columns[i].texts, column.texts[row])
			} else {
				columns[i].quantities = append(columns[i].quantities, column.quantities[row])
			}
		}
	}
	t.columns = columns
	return t
}
