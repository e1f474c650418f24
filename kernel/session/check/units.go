package check

import (
	"errors"
	"strconv"
	"strings"
	"unicode/utf8"

	"cobber/kernel/diag"
	"cobber/stdlib/quantity"
)

// checkUnits looks at the unit of every quantity literal of the cell.
func (t *Tree) checkUnits() {
	for _, l := range t.Cell.Literals {
		t.CheckUnit(l.Unit, l.UnitOffset, backQuoted)
	}
}

// CheckUnit reports a unit that is not known. It is written as it is at an
// offset of the cell; quoted writes units as the cell does.
func (t *Tree) CheckUnit(unit string, offset int, quoted func(units []string) []string) {
	_, err := quantity.ParseUnit(unit)
	if err == nil {
		return
	}
	width := utf8.RuneCountInString(unit)
	summary, detail := err.Error(), ""
	var wrong *quantity.UnitError
	if errors.As(err, &wrong) {
		if wrong.Part != "" {
			offset += wrong.Offset
			width = utf8.RuneCountInString(wrong.Part)
		}
		detail = didYouMean(quoted(wrong.Nearest))
		short := *wrong
		short.Nearest = nil // said in the detail
		summary = short.Error()
	}
	d := diag.New(BadUnit, t.Cell.Source, offset, width, strings.ReplaceAll(summary, "\n", " "))
	d.Detail = detail
	t.faults = append(t.faults, d)
}

// Quoted writes units as texts of Go.
func Quoted(units []string) []string {
	quoted := make([]string, len(units))
	for i, u := range units {
		quoted[i] = strconv.Quote(u)
	}
	return quoted
}

func backQuoted(units []string) []string {
	quoted := make([]string, len(units))
	for i, u := range units {
		quoted[i] = "`" + u + "`"
	}
	return quoted
}
