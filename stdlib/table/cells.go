package table

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"cobber/stdlib/quantity"
)

// textMark stands where the unit would in the header of a column of texts whose
// cells or name could be taken for something else.
const textMark = "text"

// rawColumn is a column before it is known whether its cells are numbers.
type rawColumn struct {
	name, unit string
	hasUnit    bool
	isText     bool // by its header
	byCells    bool // the unit is %, as the sheet shows the first numbers so
	cells      []string
	places     []string // where each cell stands, for errors
}

func (c *rawColumn) add(cell, place string) {
	c.cells = append(c.cells, strings.TrimSpace(cell))
	c.places = append(c.places, place)
}

func readHeader(header []string) ([]rawColumn, error) {
	columns := make([]rawColumn, len(header))
	for i, text := range header {
		name, unit, hasUnit := splitHeader(text)
		if name == "" {
			return nil, fmt.Errorf("table: column %d has no name in the header", i+1)
		}
		isText := hasUnit && unit == textMark
		if isText {
			unit, hasUnit = "", false
		}
		if hasUnit {
			if _, err := quantity.ParseUnit(unit); err != nil {
				return nil, fmt.Errorf("table: header of column %d, %q: %w", i+1, strings.TrimSpace(text), err)
			}
		}
		columns[i] = rawColumn{name: name, unit: unit, hasUnit: hasUnit, isText: isText}
	}
	return columns, nil
}

// splitHeader takes "mass (g)" apart. Only parentheses at the very end hold a
// unit, and they may hold a pair of their own: "dose (g/(m2*s))".
func splitHeader(text string) (name, unit string, hasUnit bool) {
	text = strings.TrimSpace(text)
	if !strings.HasSuffix(text, ")") {
		return text, "", false
	}
	depth := 0
	for i := len(text) - 1; i >= 0; i-- {
		switch text[i] {
		case ')':
			depth++
		case '(':
			depth--
		}
		if depth == 0 {
			return strings.TrimSpace(text[:i]), strings.TrimSpace(text[i+1 : len(text)-1]), true
		}
	}
	return text, "", false
}

func finish(raw []rawColumn) (Table, error) {
	if len(raw[0].cells) == 0 {
		return Table{}, errors.New("table: no row below the header")
	}
	columns := make([]Column, len(raw))
	for i, r := range raw {
		numbers, known, err := r.numbers()
		switch {
		case r.isText || !r.hasUnit && (err != nil || known == 0):
			columns[i] = Texts(r.name, r.cells)
		case err != nil:
			return Table{}, err
		case r.hasUnit:
			columns[i] = r.inUnit(numbers)
		default:
			columns[i] = Numbers(r.name, numbers)
		}
	}
	return New(columns...)
}

func (c *rawColumn) inUnit(numbers []float64) Column {
	column := Column{name: c.name, unit: c.unit}
	for _, x := range numbers {
		column.quantities = append(column.quantities, quantity.Of(x, c.unit)) // the header's unit has been parsed before
	}
	return column
}

// isMissing reports whether a cell says that there is no value.
func isMissing(cell string) bool {
	return slices.Contains([]string{"", "n/a", "na", "n.a.", "nd", "n.d.", "-", "–", "—"}, strings.ToLower(cell))
}

// numbers reads the cells; known is how many are not missing.
func (c *rawColumn) numbers() (numbers []float64, known int, err error) {
	numbers = make([]float64, len(c.cells))
	for i, cell := range c.cells {
		if isMissing(cell) {
			numbers[i] = math.NaN()
			continue
		}
		x, err := strconv.ParseFloat(cell, 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return nil, 0, fmt.Errorf("table: %s, column %q: %q is no number%s", c.places[i], c.name, cell, remedy(cell))
		}
		numbers[i] = x
		known++
	}
	return numbers, known, nil
}

// remedy says what to do about a cell that is no number.
func remedy(cell string) string {
	switch {
	case strings.HasPrefix(cell, "<") || strings.HasPrefix(cell, ">"):
		return "; what lies beyond a limit is a decision of yours: write a number, or n/a for a missing value"
	case strings.Contains(cell, ","):
		return "; write the decimal sign as a point"
	case strings.HasPrefix(cell, "#"):
		return "; the spreadsheet could not compute this cell"
	}
	return "; write n/a for a missing value"
}
