package table

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// ReadFile reads a table from a CSV file, as ReadCSV does, or from the first
// sheet of an Excel workbook (.xlsx), as ReadSheet does. The path is looked up
// from the folder the program runs in; for a notebook that is the notebook's own.
//
// Errors: the file cannot be opened, or as ReadCSV and ReadSheet say.
func ReadFile(path string) (Table, error) {
	switch extension(path) {
	case ".xlsx", ".xlsm":
		return ReadSheet(path, "", "")
	case ".xls":
		return Table{}, fmt.Errorf("table: %s: the old format .xls is not read; save it as .xlsx or .csv", path)
	}
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

// WriteFile writes a table to a CSV file or an Excel workbook, as the path ends in
// .csv or .xlsx, so that ReadFile reads the same table back: all digits (of a
// workbook 15), units in the headers, a missing value as n/a or as an empty cell. An uncertain column is
// written as its means, and a column "± name" of standard deviations beside it;
// samples and correlations are not written. A file that is there already is
// replaced.
//
// Errors: another ending, no columns, a file that cannot be written.
func WriteFile(path string, t Table) error {
	switch extension(path) {
	case ".xlsx":
		return WriteWorkbook(path, t)
	case ".csv":
		var out strings.Builder
		if err := t.WriteCSV(&out); err != nil {
			return err
		}
		if err := os.WriteFile(path, []byte(out.String()), 0o644); err != nil {
			return fmt.Errorf("table: %w", err)
		}
		return nil
	}
	return fmt.Errorf("table: %s: a table is written to a file that ends in .csv or .xlsx", path)
}

func extension(path string) string { return strings.ToLower(filepath.Ext(path)) }

// WriteFile is the function WriteFile for this table.
//
// Errors: as the function.
func (t Table) WriteFile(path string) error { return WriteFile(path, t) }

// Complete is nil if no value is missing in the named columns, or in any column
// if none is named.
//
// Errors: each missing value with its row, counted below the header, and column;
// a name that is no column's.
func (t Table) Complete(names ...string) error {
	if len(names) == 0 {
		names = t.Names()
	}
	var gaps []string
	for _, name := range names {
		column, err := t.find(name)
		if err != nil {
			return err
		}
		for i, q := range column.quantities {
			if q.IsNaN() {
				gaps = append(gaps, fmt.Sprintf("row %d, column %q", i+1, name))
			}
		}
		for i, text := range column.texts {
			if text == "" {
				gaps = append(gaps, fmt.Sprintf("row %d, column %q", i+1, name))
			}
		}
	}
	if len(gaps) > 0 {
		return errors.New("table: missing values: " + strings.Join(gaps, "; "))
	}
	return nil
}
