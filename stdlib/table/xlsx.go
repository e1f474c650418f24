package table

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"cobber/stdlib/table/internal/workbook"
)

// Sheets are the names of the sheets of an Excel workbook (.xlsx), in their order.
//
// Errors: a file that cannot be opened or is no workbook.
func Sheets(path string) ([]string, error) {
	names, err := workbook.Names(path)
	if err != nil {
		return nil, fmt.Errorf("table: %s: %w", path, err)
	}
	return names, nil
}

// ReadSheet reads a table from an Excel workbook (.xlsx): from the sheet of a
// name, the first if it is empty; from an area such as "B3:F20", or from all cells
// used if that is empty. The first row of the area holds the headers, as ReadCSV
// reads them; rows and columns wholly empty, and rows above the header that begin
// with #, are passed over. A formula counts by the result that stands in the file. A number
// that the sheet shows as a percentage, such as 0.12 shown as 12 %, counts as
// 12 %, under a header with the unit % or with none.
//
// Errors: as ReadCSV, with the cell, such as C7; a sheet that does not exist, with
// those that do; an area that is none; a formula without a result; a cell that
// the spreadsheet could not compute; percentages under a header with another unit, or
// beside plain numbers under one with none.
func ReadSheet(path, sheet, area string) (Table, error) {
	found, err := workbook.Read(path, sheet)
	if err != nil {
		return Table{}, fmt.Errorf("table: %s: %w", path, err)
	}
	t, err := readCells(found.Cells, area)
	if err != nil {
		return Table{}, fmt.Errorf("%s, sheet %s: %w", path, found.Name, err)
	}
	return t, nil
}

// cellArea is part of a sheet; columns and rows count from 0, the ends included.
type cellArea struct {
	left, right, top, bottom int
}

func readCells(cells [][]workbook.Cell, text string) (Table, error) {
	area, err := areaOf(cells, text)
	if err != nil {
		return Table{}, err
	}
	at := func(column, row int) workbook.Cell {
		if row >= len(cells) || column >= len(cells[row]) {
			return workbook.Cell{}
		}
		return cells[row][column]
	}
	isEmpty := func(row int) bool {
		for column := area.left; column <= area.right; column++ {
			if at(column, row).Kind != workbook.Empty {
				return false
			}
		}
		return true
	}
	isRemark := func(row int) bool {
		for column := area.left; column <= area.right; column++ {
			if text := at(column, row).Text; text != "" {
				return strings.HasPrefix(text, "#")
			}
		}
		return true
	}
	for area.top <= area.bottom && isRemark(area.top) {
		area.top++
	}
	if area.top > area.bottom {
		return Table{}, errors.New("table: no header row")
	}
	places := area.used(at)
	header := make([]string, len(places))
	for i, column := range places {
		header[i] = at(column, area.top).Text
	}
	columns, err := readHeader(header)
	if err != nil {
		return Table{}, fmt.Errorf("%w; row %d was taken for the header: where titles stand above it, begin them with # or state the area", err, area.top+1)
	}
	for row := area.top + 1; row <= area.bottom; row++ {
		for i := 0; i < len(columns) && !isEmpty(row); i++ {
			if err := columns[i].addCell(at(places[i], row), workbook.CellName(places[i], row)); err != nil {
				return Table{}, err
			}
		}
	}
	return finish(columns)
}

// used are the columns in which there is anything, which leaves out those that
// only remarks above the header reach into.
func (a cellArea) used(at func(column, row int) workbook.Cell) []int {
	var columns []int
	for column := a.left; column <= a.right; column++ {
		for row := a.top; row <= a.bottom; row++ {
			if at(column, row).Kind != workbook.Empty {
				columns = append(columns, column)
				break
			}
		}
	}
	return columns
}

// areaOf reads "B3:F20"; an empty text is the smallest area that holds all cells
// used.
func areaOf(cells [][]workbook.Cell, text string) (cellArea, error) {
	if text == "" {
		area := cellArea{left: math.MaxInt, right: -1, bottom: len(cells) - 1}
		for _, row := range cells {
			for i, cell := range row {
				if cell.Kind != workbook.Empty {
					area.left, area.right = min(area.left, i), max(area.right, i)
				}
			}
		}
		if area.right < 0 {
			return area, errors.New("table: the sheet is empty")
		}
		return area, nil
	}
	first, last, found := strings.Cut(text, ":")
	left, top, err := workbook.ParseCell(first)
	right, bottom, wrong := workbook.ParseCell(last)
	if !found || err != nil || wrong != nil || right < left || bottom <= top {
		return cellArea{}, fmt.Errorf("table: %q is no area; write its corners, as in B3:F20, with the header in the first row", text)
	}
	return cellArea{left, right, top, bottom}, nil
}

// addCell adds what a cell holds, as ReadCSV would find it.
func (c *rawColumn) addCell(cell workbook.Cell, name string) error {
	text := cell.Text
	switch cell.Kind {
	case workbook.Pending:
		return fmt.Errorf("table: cell %s, column %q: the formula =%s has no result in the file; open it in a spreadsheet program and save it", name, c.name, cell.Text)
	case workbook.Failed:
		return fmt.Errorf("table: cell %s, column %q: the spreadsheet could not compute this cell; it says %q", name, c.name, cell.Text)
	case workbook.Number:
		if c.byCells {
			return fmt.Errorf("table: cell %s, column %q: the sheet shows this number plainly, and those above as percentages; give all the cells one format, or the header the unit (%%)", name, c.name)
		}
		if !c.isText {
			text = cell.Stored
		}
	case workbook.Percent:
		if !c.hasUnit && !c.isText && len(c.cells) == countMissing(c.cells) {
			c.unit, c.hasUnit, c.byCells = "%", true, true
		}
		if c.unit != "%" && !c.isText {
			return fmt.Errorf("table: cell %s, column %q: the sheet shows this number as a percentage, and the column is not in %%; give the header the unit (%%) or the cells a plain number format", name, c.name)
		}
		if !c.isText {
			text = strconv.FormatFloat(100*cell.Value, 'g', 15, 64) // the 15 digits a spreadsheet keeps
		}
	}
	c.add(text, "cell "+name)
	return nil
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

// WriteWorkbook writes tables to an Excel workbook (.xlsx), each on a sheet of its
// own that is called by the table's caption, or "Table 1", "Table 2" and so on.
// ReadSheet reads the same tables back; numbers are written as numbers, of which
// 15 digits are read back, missing values as empty cells. A file that is there
// already is replaced.
//
// Errors: no table, a table without rows, a file that cannot be written.
func WriteWorkbook(path string, tables ...Table) error {
	if len(tables) == 0 {
		return errors.New("table: there is nothing to write")
	}
	var pages []workbook.Page
	var names []string
	for i, t := range tables {
		columns, err := t.written()
		if err != nil {
			return err
		}
		page := workbook.Page{Name: workbook.SheetName(t.caption, names), Rows: make([][]any, t.Rows())}
		if page.Name == "" {
			page.Name = fmt.Sprintf("Table %d", i+1)
		}
		for _, column := range columns {
			page.Headers = append(page.Headers, column.writtenHeader())
			for row := range page.Rows {
				page.Rows[row] = append(page.Rows[row], column.written(row))
			}
		}
		pages, names = append(pages, page), append(names, page.Name)
	}
	if err := workbook.Write(path, pages); err != nil {
		return fmt.Errorf("table: %s: %w", path, err)
	}
	return nil
}

// written is a value for a workbook; nil if missing.
func (c Column) written(row int) any {
	if c.isText {
		return c.texts[row]
	}
	if x := c.number(c.quantities[row]); !math.IsNaN(x) && !math.IsInf(x, 0) {
		return x
	}
	return nil
}
