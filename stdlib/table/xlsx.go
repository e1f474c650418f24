package table

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// largestWorkbook is to how many bytes a workbook may unpack; one that claims
// more is broken or meant to do harm.
const largestWorkbook = 1 << 30

// Sheets are the names of the sheets of an Excel workbook (.xlsx), in their order.
//
// Errors: a file that cannot be opened or is no workbook.
func Sheets(path string) ([]string, error) {
	book, err := openWorkbook(path)
	if err != nil {
		return nil, err
	}
	defer book.Close()
	return book.GetSheetList(), nil
}

func openWorkbook(path string) (*excelize.File, error) {
	book, err := excelize.OpenFile(path, excelize.Options{UnzipSizeLimit: largestWorkbook})
	if err != nil {
		return nil, fmt.Errorf("table: %s: %w", path, err)
	}
	return book, nil
}

// ReadSheet reads a table from an Excel workbook (.xlsx): from the sheet of a
// name, the first if it is empty; from an area such as "B3:F20", or from all cells
// used if that is empty. The first row of the area holds the headers, as ReadCSV
// reads them; rows wholly empty, and rows above the header that begin with #, are
// passed over. A formula counts by the result that stands in the file. A number
// that the sheet shows as a percentage, such as 0.12 shown as 12 %, counts as
// 12 %, under a header with the unit % or with none.
//
// Errors: as ReadCSV, with the cell, such as C7; a sheet that does not exist, with
// those that do; an area that is none; a formula without a result; a cell that
// the spreadsheet could not compute; percentages under a header with another unit.
func ReadSheet(path, sheet, area string) (Table, error) {
	book, err := openWorkbook(path)
	if err != nil {
		return Table{}, err
	}
	defer book.Close()
	if sheet == "" {
		sheet = book.GetSheetName(0)
	}
	if index, err := book.GetSheetIndex(sheet); err != nil || index < 0 {
		return Table{}, fmt.Errorf("table: %s: no sheet %q; there are %s", path, sheet, strings.Join(book.GetSheetList(), ", "))
	}
	s := sheetReader{book: book, sheet: sheet, percents: map[int]numberForm{}}
	t, err := s.read(area)
	if err != nil {
		return Table{}, fmt.Errorf("%s, sheet %s: %w", path, sheet, err)
	}
	return t, nil
}

// numberForm is how a cell shows its number.
type numberForm int

const (
	asNumber numberForm = iota
	asPercent
	asDate
)

type sheetReader struct {
	book     *excelize.File
	sheet    string
	shown    [][]string
	raw      [][]string
	percents map[int]numberForm // by style
}

// corner is a cell of the sheet, counted from 1.
type corner struct{ column, row int }

func (c corner) String() string {
	name, err := excelize.CoordinatesToCellName(c.column, c.row)
	if err != nil {
		return fmt.Sprintf("column %d, row %d", c.column, c.row)
	}
	return name
}

func (s *sheetReader) read(area string) (Table, error) {
	var err error
	if s.shown, err = s.book.GetRows(s.sheet); err != nil {
		return Table{}, fmt.Errorf("table: %w", err)
	}
	if s.raw, err = s.book.GetRows(s.sheet, excelize.Options{RawCellValue: true}); err != nil {
		return Table{}, fmt.Errorf("table: %w", err)
	}
	from, to, err := s.area(area)
	if err != nil {
		return Table{}, err
	}
	for from.row <= to.row && (s.isEmpty(from.row, from.column, to.column) || strings.HasPrefix(s.text(corner{from.column, from.row}), "#")) {
		from.row++
	}
	if from.row > to.row {
		return Table{}, errors.New("table: no header row")
	}
	header := make([]string, 0, to.column-from.column+1)
	for column := from.column; column <= to.column; column++ {
		header = append(header, s.text(corner{column, from.row}))
	}
	columns, err := readHeader(header)
	if err != nil {
		return Table{}, fmt.Errorf("%w; the header is row %d", err, from.row)
	}
	for row := from.row + 1; row <= to.row; row++ {
		if s.isEmpty(row, from.column, to.column) {
			continue
		}
		for i := range columns {
			at := corner{from.column + i, row}
			cell, err := s.cell(at, &columns[i])
			if err != nil {
				return Table{}, err
			}
			columns[i].add(cell, "cell "+at.String())
		}
	}
	return finish(columns)
}

// area reads "B3:F20"; an empty one is the smallest that holds all cells used.
func (s *sheetReader) area(text string) (from, to corner, err error) {
	if text == "" {
		from, to = corner{math.MaxInt, 1}, corner{0, len(s.shown)}
		for _, row := range s.shown {
			for i, cell := range row {
				if strings.TrimSpace(cell) != "" {
					from.column, to.column = min(from.column, i+1), max(to.column, i+1)
				}
			}
		}
		if to.column == 0 {
			return from, to, errors.New("table: the sheet is empty")
		}
		return from, to, nil
	}
	first, last, found := strings.Cut(strings.ReplaceAll(text, "$", ""), ":")
	if found {
		if from.column, from.row, err = excelize.CellNameToCoordinates(first); err == nil {
			to.column, to.row, err = excelize.CellNameToCoordinates(last)
		}
	}
	if !found || err != nil || to.column < from.column || to.row <= from.row {
		return from, to, fmt.Errorf("table: %q is no area; write its corners, as in B3:F20, with the header in the first row", text)
	}
	return from, to, nil
}

func at(rows [][]string, c corner) string {
	if c.row > len(rows) || c.column > len(rows[c.row-1]) {
		return ""
	}
	return strings.TrimSpace(rows[c.row-1][c.column-1])
}

func (s *sheetReader) text(c corner) string { return at(s.shown, c) }

func (s *sheetReader) isEmpty(row, first, last int) bool {
	for column := first; column <= last; column++ {
		if s.text(corner{column, row}) != "" || at(s.raw, corner{column, row}) != "" {
			return false
		}
	}
	return true
}

// cell is what a cell holds, as ReadCSV would find it.
func (s *sheetReader) cell(c corner, column *rawColumn) (string, error) {
	raw := at(s.raw, c)
	name := c.String()
	if raw == "" {
		if formula, err := s.book.GetCellFormula(s.sheet, name); err == nil && formula != "" {
			return "", fmt.Errorf("table: cell %s, column %q: the formula =%s has no result in the file; open it in a spreadsheet program and save it", name, column.name, formula)
		}
		return "", nil
	}
	kind, err := s.book.GetCellType(s.sheet, name)
	if err != nil {
		return "", fmt.Errorf("table: cell %s: %w", name, err)
	}
	switch {
	case kind == excelize.CellTypeError:
		return "", fmt.Errorf("table: cell %s, column %q: the spreadsheet could not compute this cell; it says %q", name, column.name, raw)
	case kind != excelize.CellTypeUnset && kind != excelize.CellTypeNumber:
		return s.text(c), nil
	}
	x, err := strconv.ParseFloat(raw, 64)
	if err != nil {
		return s.text(c), nil
	}
	switch s.form(name) {
	case asDate:
		return s.text(c), nil
	case asPercent:
		return s.percent(x, name, column)
	}
	return raw, nil
}

// percent is a number shown as a percentage, told in the column's unit.
func (s *sheetReader) percent(x float64, name string, column *rawColumn) (string, error) {
	if !column.hasUnit && !column.isText && len(column.cells) == countMissing(column.cells) {
		column.unit, column.hasUnit = "%", true
	}
	if column.unit != "%" {
		return "", fmt.Errorf("table: cell %s, column %q: the sheet shows this number as a percentage, and the column is not in %%; give the header the unit (%%) or the cells a plain number format", name, column.name)
	}
	return strconv.FormatFloat(100*x, 'g', 15, 64), nil // the 15 digits a spreadsheet keeps
}

func countMissing(cells []string) int {
	n := 0
	for _, cell := range cells {
		if isMissing(cell) {
			n++
		}
	}
	return n
}

// form is how a cell shows its number, by the format of its style.
func (s *sheetReader) form(name string) numberForm {
	style, err := s.book.GetCellStyle(s.sheet, name)
	if err != nil {
		return asNumber
	}
	form, known := s.percents[style]
	if !known {
		form = s.formOf(style)
		s.percents[style] = form
	}
	return form
}

func (s *sheetReader) formOf(index int) numberForm {
	style, err := s.book.GetStyle(index)
	if err != nil {
		return asNumber
	}
	code := ""
	if style.CustomNumFmt != nil {
		code = bareFormat(*style.CustomNumFmt)
	}
	dates := [][2]int{{14, 22}, {27, 36}, {45, 47}, {50, 58}} // numbers of built-in formats, ECMA-376 part 1, 18.8.30
	isDate := slices.ContainsFunc(dates, func(r [2]int) bool { return style.NumFmt >= r[0] && style.NumFmt <= r[1] })
	switch {
	case style.NumFmt == 9 || style.NumFmt == 10 || strings.Contains(code, "%"):
		return asPercent
	case isDate || strings.ContainsAny(strings.ToLower(code), "ydh"):
		return asDate
	}
	return asNumber
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

// WriteWorkbook writes tables to an Excel workbook (.xlsx), each on a sheet of its
// own that is called by the table's caption, or "Table 1", "Table 2" and so on.
// ReadSheet reads the same tables back; numbers are written as numbers, of
// which 15 digits are read back, missing values as empty cells. A file that is there already is
// replaced.
//
// Errors: no table, a table without rows, a file that cannot be written.
func WriteWorkbook(path string, tables ...Table) error {
	if len(tables) == 0 {
		return errors.New("table: there is nothing to write")
	}
	book := excelize.NewFile()
	defer book.Close()
	head, err := book.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}})
	if err != nil {
		return fmt.Errorf("table: %w", err)
	}
	for i, t := range tables {
		name := sheetName(t.caption, i, book.GetSheetList()[:i])
		if i == 0 {
			err = book.SetSheetName(book.GetSheetName(0), name)
		} else {
			_, err = book.NewSheet(name)
		}
		if err == nil {
			err = writeSheet(book, name, head, t)
		}
		if err != nil {
			return fmt.Errorf("table: %s, sheet %s: %w", path, name, err)
		}
	}
	if err := book.SaveAs(path); err != nil {
		return fmt.Errorf("table: %w", err)
	}
	return nil
}

// sheetName makes a caption into a name that Excel takes: at most 31 letters,
// none of []:*?/\, no quote at an end, and used once.
func sheetName(caption string, index int, taken []string) string {
	name := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`[]:*?/\`, r) {
			return ' '
		}
		return r
	}, caption)
	name = strings.Trim(strings.Join(strings.Fields(name), " "), "'")
	for utf8.RuneCountInString(name) > excelize.MaxSheetNameLength || len(name) > 2*excelize.MaxSheetNameLength {
		_, last := utf8.DecodeLastRuneInString(name)
		name = strings.Trim(name[:len(name)-last], " '")
	}
	isTaken := slices.ContainsFunc(taken, func(other string) bool { return strings.EqualFold(other, name) })
	if name == "" || isTaken {
		return fmt.Sprintf("Table %d", index+1)
	}
	return name
}

func writeSheet(book *excelize.File, sheet string, head int, t Table) error {
	columns, err := t.written()
	if err != nil {
		return err
	}
	for i, column := range columns {
		header := corner{i + 1, 1}.String()
		if err := book.SetCellStr(sheet, header, column.writtenHeader()); err != nil {
			return err
		}
		width := float64(max(10, utf8.RuneCountInString(column.writtenHeader())+2))
		letters := strings.TrimSuffix(header, "1")
		if err := book.SetColWidth(sheet, letters, letters, min(width, 60)); err != nil {
			return err
		}
		for row := range column.length() {
			if err := column.writeCell(book, sheet, corner{i + 1, row + 2}.String(), row); err != nil {
				return err
			}
		}
	}
	return book.SetCellStyle(sheet, "A1", corner{len(columns), 1}.String(), head)
}

func (c Column) writeCell(book *excelize.File, sheet, cell string, row int) error {
	if c.isText {
		return book.SetCellStr(sheet, cell, c.texts[row])
	}
	if x := c.number(c.quantities[row]); !math.IsNaN(x) && !math.IsInf(x, 0) {
		return book.SetCellFloat(sheet, cell, x, -1, 64)
	}
	return nil
}
