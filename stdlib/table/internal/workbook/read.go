package workbook

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"
)

// largest is to how many bytes a workbook may unpack; one that claims more is
// broken or meant to do harm.
const largest = 1 << 30

// Kind is what a cell holds.
type Kind int

// The kinds of cells.
const (
	Empty   Kind = iota
	Number       // a plain number
	Percent      // a number that is shown as a percentage
	Text         // anything else that can be read, dates too
	Failed       // what the spreadsheet could not compute
	Pending      // a formula without a result
)

// Cell is one cell of a sheet.
type Cell struct {
	Kind   Kind
	Text   string  // as shown; the formula of a Pending one
	Stored string  // a number as stored, with all its digits
	Value  float64 // the same
}

// Sheet is the cells of a sheet, row by row; rows may differ in length.
type Sheet struct {
	Name  string
	Cells [][]Cell
}

// Names are the names of the sheets of a workbook, in their order.
func Names(path string) ([]string, error) {
	book, err := open(path)
	if err != nil {
		return nil, err
	}
	defer book.Close()
	return book.GetSheetList(), nil
}

func open(path string) (*excelize.File, error) {
	return excelize.OpenFile(path, excelize.Options{UnzipSizeLimit: largest})
}

// Read is the cells of the sheet of a name, or of the first if it is empty.
func Read(path, sheet string) (Sheet, error) {
	book, err := open(path)
	if err != nil {
		return Sheet{}, err
	}
	defer book.Close()
	if sheet == "" {
		sheet = book.GetSheetName(0)
	}
	if index, err := book.GetSheetIndex(sheet); err != nil || index < 0 {
		return Sheet{}, fmt.Errorf("no sheet %q; there are %s", sheet, strings.Join(book.GetSheetList(), ", "))
	}
	shown, err := book.GetRows(sheet)
	if err != nil {
		return Sheet{}, err
	}
	stored, err := book.GetRows(sheet, excelize.Options{RawCellValue: true})
	if err != nil {
		return Sheet{}, err
	}
	merged, err := book.GetMergeCells(sheet, true)
	if err != nil {
		return Sheet{}, err
	}
	r := reader{book, sheet, map[int]Kind{}, merged}
	out := Sheet{Name: sheet, Cells: make([][]Cell, max(len(shown), len(stored)))}
	for i := range out.Cells {
		for j := range max(len(at(shown, i)), len(at(stored, i))) {
			cell, err := r.cell(j, i, at(at(shown, i), j), at(at(stored, i), j))
			if err != nil {
				return Sheet{}, err
			}
			out.Cells[i] = append(out.Cells[i], cell)
		}
	}
	return out, nil
}

func at[T any](all []T, i int) T {
	var none T
	if i < len(all) {
		return all[i]
	}
	return none
}

type reader struct {
	book  *excelize.File
	sheet string
	kinds map[int]Kind // by style, of numbers

	merged []excelize.MergeCell
}

// covered tells a cell that belongs to merged ones and is not the first of them,
// which alone holds something.
func (r reader) covered(column, row int) bool {
	for _, m := range r.merged {
		left, top, err := ParseCell(m.GetStartAxis())
		right, bottom, wrong := ParseCell(m.GetEndAxis())
		if err == nil && wrong == nil && left <= column && column <= right && top <= row && row <= bottom {
			return column != left || row != top
		}
	}
	return false
}

func (r reader) cell(column, row int, shown, stored string) (Cell, error) {
	shown, stored = strings.TrimSpace(shown), strings.TrimSpace(stored)
	name := CellName(column, row)
	if stored == "" {
		if r.covered(column, row) {
			return Cell{}, nil // the library would give the formula of the first cell of the merged ones
		}
		formula, err := r.book.GetCellFormula(r.sheet, name)
		if err != nil || formula == "" {
			return Cell{}, err
		}
		return Cell{Kind: Pending, Text: formula}, nil
	}
	kind, err := r.book.GetCellType(r.sheet, name)
	if err != nil {
		return Cell{}, err
	}
	if kind == excelize.CellTypeError {
		return Cell{Kind: Failed, Text: stored}, nil
	}
	x, err := strconv.ParseFloat(stored, 64)
	if err != nil || kind != excelize.CellTypeUnset && kind != excelize.CellTypeNumber {
		return Cell{Kind: Text, Text: shown}, nil
	}
	style, err := r.book.GetCellStyle(r.sheet, name)
	if err != nil {
		return Cell{}, err
	}
	if _, known := r.kinds[style]; !known {
		r.kinds[style] = r.kindOf(style)
	}
	return Cell{Kind: r.kinds[style], Text: shown, Stored: stored, Value: x}, nil
}

// dates are the numbers of built-in formats that show a number as a date or time,
// ECMA-376 part 1, 18.8.30.
var dates = [][2]int{{14, 22}, {27, 36}, {45, 47}, {50, 58}}

// elapsedTime finds the part of a format that shows days as hours, minutes or
// seconds, such as [h]:mm.
var elapsedTime = regexp.MustCompile(`(?i)\[(h+|m+|s+)\]`)

// kindOf is what a number is by the format of its style.
func (r reader) kindOf(index int) Kind {
	style, err := r.book.GetStyle(index)
	if err != nil {
		return Number
	}
	code, elapsed := "", false
	if style.CustomNumFmt != nil {
		code = bareFormat(*style.CustomNumFmt)
		elapsed = elapsedTime.MatchString(*style.CustomNumFmt)
	}
	isDate := slices.ContainsFunc(dates, func(d [2]int) bool { return style.NumFmt >= d[0] && style.NumFmt <= d[1] })
	switch {
	case style.NumFmt == 9 || style.NumFmt == 10 || strings.Contains(code, "%"):
		return Percent
	case isDate || elapsed || strings.ContainsAny(strings.ToLower(code), "ymdhs"):
		return Text
	}
	return Number
}

// bareFormat is a number format without the texts in quotes, in brackets and
// after a backslash.
func bareFormat(code string) string {
	var out strings.Builder
	quoted, bracketed, escaped := false, false, false
	for _, r := range code {
		switch {
		case escaped:
			escaped = false
		case r == '\\' || r == '_':
			escaped = true
		case r == '"':
			quoted = !quoted
		case r == '[':
			bracketed = true
		case r == ']':
			bracketed = false
		case !quoted && !bracketed:
			out.WriteRune(r)
		}
	}
	return out.String()
}

// CellName is the name of a cell, such as C7, from its column and row, from 0.
func CellName(column, row int) string {
	name, err := excelize.CoordinatesToCellName(column+1, row+1)
	if err != nil {
		return fmt.Sprintf("column %d, row %d", column+1, row+1)
	}
	return name
}

// ParseCell is the column and row, from 0, of a cell such as C7 or $C$7.
func ParseCell(name string) (column, row int, err error) {
	column, row, err = excelize.CellNameToCoordinates(strings.ReplaceAll(name, "$", ""))
	return column - 1, row - 1, err
}
