package table

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"strings"

	"cobber/stdlib/quantity"
)

// ReadFile reads a CSV file, as ReadCSV does. The path is looked up from the
// folder the program runs in; for a notebook that is the notebook's own.
//
// Errors: the file cannot be opened, or as ReadCSV says.
func ReadFile(path string) (Table, error) {
	file, err := os.Open(path)
	if err != nil {
		return Table{}, fmt.Errorf("table: %w", err)
	}
	defer file.Close()
	t, err := ReadCSV(file)
	if err != nil {
		return Table{}, fmt.Errorf("%s: %w", path, err)
	}
	return t, nil
}

// ReadCSV reads comma-separated values (RFC 4180). The first line holds the
// names of the columns, each with its unit in parentheses at the end, as in
// "mass (g)" or "TiO2 (%)". A column without a unit holds plain numbers if all
// of its cells are numbers, else texts. Lines above the header that begin with #
// are remarks; below it they are not, because a sieve may be called #10.
// Decimal sign is the point.
//
// Errors name the line and the column: a unit that does not exist, a cell that
// is empty or is no number in a column with a unit, a row that is too long or
// too short, two columns of one name, no row at all.
func ReadCSV(r io.Reader) (Table, error) {
	below, skipped, err := skipRemarks(r)
	if err != nil {
		return Table{}, fmt.Errorf("table: %w", err)
	}
	reader := csv.NewReader(below)
	reader.TrimLeadingSpace = true
	header, err := reader.Read()
	if errors.Is(err, io.EOF) {
		return Table{}, errors.New("table: no header line")
	}
	if err != nil {
		return Table{}, fmt.Errorf("table: %w", lineOf(err, skipped))
	}
	columns, err := readHeader(header)
	if err != nil {
		return Table{}, err
	}
	for {
		record, err := reader.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if errors.Is(err, csv.ErrFieldCount) {
			line, _ := reader.FieldPos(0)
			return Table{}, fmt.Errorf("table: line %d has %d cells, the header has %d", line+skipped, len(record), len(header))
		}
		if err != nil {
			return Table{}, fmt.Errorf("table: %w", lineOf(err, skipped))
		}
		line, _ := reader.FieldPos(0)
		for i := range columns {
			columns[i].add(record[i], line+skipped)
		}
	}
	return finish(columns)
}

// skipRemarks drops the byte order mark that spreadsheets put before UTF-8 and
// the remarks above the header, and counts the lines that takes.
func skipRemarks(r io.Reader) (below io.Reader, skipped int, err error) {
	lines := bufio.NewReader(r)
	if start, _ := lines.Peek(3); string(start) == "\ufeff" {
		if _, err := lines.Discard(3); err != nil {
			return nil, 0, err
		}
	}
	for {
		start, err := lines.Peek(1)
		if err != nil || start[0] != '#' { // the end of the file is the CSV reader's to report
			return lines, skipped, nil
		}
		skipped++
		if _, err := lines.ReadString('\n'); err != nil && !errors.Is(err, io.EOF) {
			return nil, 0, err
		}
	}
}

// lineOf counts the skipped lines in an error of the CSV reader.
func lineOf(err error, skipped int) error {
	var parse *csv.ParseError
	if !errors.As(err, &parse) {
		return err
	}
	moved := *parse
	moved.StartLine += skipped
	moved.Line += skipped
	return &moved
}

// rawColumn is a column before it is known whether its cells are numbers.
type rawColumn struct {
	name, unit string
	hasUnit    bool
	cells      []string
	lines      []int
}

func (c *rawColumn) add(cell string, line int) {
	c.cells = append(c.cells, strings.TrimSpace(cell))
	c.lines = append(c.lines, line)
}

func readHeader(header []string) ([]rawColumn, error) {
	columns := make([]rawColumn, len(header))
	for i, text := range header {
		name, unit, hasUnit := splitHeader(text)
		if name == "" {
			return nil, fmt.Errorf("table: column %d has no name in the header", i+1)
		}
		if hasUnit {
			if _, err := quantity.ParseUnit(unit); err != nil {
				return nil, fmt.Errorf("table: header of column %d, %q: %w", i+1, strings.TrimSpace(text), err)
			}
		}
		columns[i] = rawColumn{name: name, unit: unit, hasUnit: hasUnit}
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
		numbers, err := r.numbers()
		switch {
		case err == nil && r.hasUnit:
			columns[i] = r.inUnit(numbers)
		case err == nil:
			columns[i] = Numbers(r.name, numbers)
		case r.hasUnit:
			return Table{}, err
		default:
			columns[i] = Texts(r.name, r.cells)
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

func (c *rawColumn) numbers() ([]float64, error) {
	numbers := make([]float64, len(c.cells))
	for i, cell := range c.cells {
		x, err := strconv.ParseFloat(cell, 64)
		if err == nil && !math.IsNaN(x) && !math.IsInf(x, 0) {
			numbers[i] = x
			continue
		}
		what := fmt.Sprintf("%q is no number", cell)
		if cell == "" {
			what = "the cell is empty"
		} else if strings.Contains(cell, ",") {
			what += "; write the decimal sign as a point"
		}
		return nil, fmt.Errorf("table: line %d, column %q: %s", c.lines[i], c.name, what)
	}
	return numbers, nil
}
