package table

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"cobber/stdlib/quantity"
)

// WriteCSV writes the table as comma-separated values (RFC 4180) that ReadCSV
// reads back, as WriteFile says.
//
// Errors: no columns; what the writer says.
func (t Table) WriteCSV(w io.Writer) error {
	columns, err := t.written()
	if err != nil {
		return err
	}
	out := csv.NewWriter(w)
	record := make([]string, len(columns))
	for i, column := range columns {
		record[i] = column.writtenHeader()
	}
	if strings.HasPrefix(record[0], "#") { // a remark to the reader
		return fmt.Errorf("table: the first column is called %q, which would be read back as a remark; give it another name", record[0])
	}
	if err := out.Write(record); err != nil {
		return fmt.Errorf("table: %w", err)
	}
	for row := range columns[0].length() {
		for i, column := range columns {
			record[i] = column.writtenCell(row)
		}
		if len(record) == 1 && record[0] == "" { // a line of its own that readers skip
			return fmt.Errorf("table: row %d: an empty text alone in its row would be lost", row+1)
		}
		if err := out.Write(record); err != nil {
			return fmt.Errorf("table: %w", err)
		}
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return fmt.Errorf("table: %w", err)
	}
	return nil
}

// written are the columns with those of standard deviations beside uncertain ones.
func (t Table) written() ([]Column, error) {
	if len(t.columns) == 0 || t.Rows() == 0 {
		return nil, errors.New("table: there is nothing to write")
	}
	var columns []Column
	for _, column := range t.columns {
		columns = append(columns, column)
		spread := Column{name: "± " + column.name, unit: differenceUnit(column)}
		isUncertain := false
		for _, q := range column.quantities {
			isUncertain = isUncertain || q.IsUncertain()
			spread.quantities = append(spread.quantities, q.StdDev())
		}
		if _, err := t.find(spread.name); isUncertain && err != nil {
			columns = append(columns, spread)
		}
	}
	return columns, nil
}

// differenceUnit is the unit in which differences of a column are told: kelvins
// for readings of a temperature scale.
func differenceUnit(c Column) string {
	for _, q := range c.quantities {
		if q.IsUncertain() {
			if _, err := q.StdDev().Value(c.unit); err != nil {
				return q.StdDev().Unit().String()
			}
		}
	}
	return c.unit
}

// writtenHeader is the header from which the column is known again.
func (c Column) writtenHeader() string {
	switch {
	case c.isText && c.looksOtherwise():
		return c.name + " (" + textMark + ")"
	case !c.isText && (c.unit == "" || c.unit == "1"):
		if strings.HasSuffix(c.name, ")") || c.allMissing() {
			return c.name + " (1)"
		}
		return c.name
	case c.isText:
		return c.name
	}
	return c.name + " (" + c.unit + ")"
}

// looksOtherwise reports whether a column of texts would be read as numbers, or
// its name as one with a unit.
func (c Column) looksOtherwise() bool {
	raw := rawColumn{cells: c.texts, places: make([]string, len(c.texts))}
	_, known, err := raw.numbers()
	return strings.HasSuffix(c.name, ")") || err == nil && known > 0
}

func (c Column) allMissing() bool {
	for _, q := range c.quantities {
		if !q.IsNaN() {
			return false
		}
	}
	return true
}

// writtenCell is a value with all its digits.
func (c Column) writtenCell(row int) string {
	if c.isText {
		return c.texts[row]
	}
	x := c.number(c.quantities[row])
	if math.IsNaN(x) {
		return "n/a"
	}
	return strconv.FormatFloat(x, 'g', -1, 64)
}

// number is a quantity of the column in its unit; not a number if missing.
func (c Column) number(q quantity.Quantity) float64 {
	x, err := q.Value(c.unit)
	if err != nil { // New lets none but missing ones through
		return math.NaN()
	}
	return x
}
