package workbook

import (
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// Page is a sheet to be written: a row of headers, and rows of texts and float64
// numbers; nil leaves a cell empty.
type Page struct {
	Name    string
	Headers []string
	Rows    [][]any
}

// Write writes pages to a workbook, and replaces one that is there.
func Write(path string, pages []Page) error {
	book := excelize.NewFile()
	defer book.Close()
	head, err := book.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}})
	if err != nil {
		return err
	}
	for i, page := range pages {
		if i == 0 {
			err = book.SetSheetName(book.GetSheetName(0), page.Name)
		} else {
			_, err = book.NewSheet(page.Name)
		}
		if err == nil {
			err = page.write(book, head)
		}
		if err != nil {
			return err
		}
	}
	if err := book.SetDocProps(&excelize.DocProperties{Creator: "cobber"}); err != nil {
		return err
	}
	return book.SaveAs(path)
}

func (p Page) write(book *excelize.File, head int) error {
	for i, header := range p.Headers {
		name := CellName(i, 0)
		if err := book.SetCellStr(p.Name, name, header); err != nil {
			return err
		}
		letters := strings.TrimSuffix(name, "1")
		width := float64(min(max(10, utf8.RuneCountInString(header)+2), 60))
		if err := book.SetColWidth(p.Name, letters, letters, width); err != nil {
			return err
		}
	}
	for i, row := range p.Rows {
		for j, value := range row {
			var err error
			switch value := value.(type) {
			case string:
				err = book.SetCellStr(p.Name, CellName(j, i+1), value)
			case float64:
				err = book.SetCellFloat(p.Name, CellName(j, i+1), value, -1, 64)
			}
			if err != nil {
				return err
			}
		}
	}
	return book.SetCellStyle(p.Name, "A1", CellName(len(p.Headers)-1, 0), head)
}

// SheetName makes a text into a name that Excel takes: at most 31 letters, none of
// []:*?/\, no quote at an end. It is empty where nothing is left of the text, and
// where the name is taken.
func SheetName(text string, taken []string) string {
	name := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`[]:*?/\`, r) {
			return ' '
		}
		return r
	}, text)
	name = strings.Trim(strings.Join(strings.Fields(name), " "), "'")
	for utf8.RuneCountInString(name) > excelize.MaxSheetNameLength {
		_, last := utf8.DecodeLastRuneInString(name)
		name = strings.Trim(name[:len(name)-last], " '")
	}
	if slices.ContainsFunc(taken, func(other string) bool { return strings.EqualFold(other, name) }) {
		return ""
	}
	return name
}
