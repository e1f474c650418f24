package table

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
)

// ReadCSV reads comma-separated values (RFC 4180). The first line holds the
// names of the columns, each with its unit in parentheses at the end, as in
// "mass (g)" or "TiO2 (%)". A column without a unit holds plain numbers if all
// of its cells are numbers, else texts; "id (text)" in the header makes it texts
// whatever its cells are. Lines above the header that begin with # are remarks;
// below it they are not, because a sieve may be called #10. Decimal sign is the
// point.
//
// In a column of numbers a cell that is empty or says n/a, NA, nd or – is a
// missing value: a quantity that is not a number, shown as a dash. Methods refuse
// it by name; Complete finds it beforehand.
//
// Errors name the line and the column: a unit that does not exist, a cell that
// is no number in a column with a unit, a row that is too long or too short, two
// columns of one name, no row at all.
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
	if len(header) == 1 && strings.ContainsAny(header[0], ";\t") {
		return Table{}, fmt.Errorf("table: the header %q has one cell; separate cells by commas, not by semicolons or tabs", header[0])
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
			columns[i].add(record[i], fmt.Sprintf("line %d", line+skipped))
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
