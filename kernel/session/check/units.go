package check

import (
	"errors"
	"strings"
	"unicode/utf8"

	"cobber/kernel/diag"
	"cobber/stdlib/quantity"
)

// checkUnits looks at the unit of every quantity literal of the cell.
func (t *Tree) checkUnits() {
	for _, l := range t.Cell.Literals {
		_, err := quantity.ParseUnit(l.Unit)
		if err == nil {
			continue
		}
		offset, width := l.UnitOffset, utf8.RuneCountInString(l.Unit)
		summary, detail := err.Error(), ""
		var wrong *quantity.UnitError
		if errors.As(err, &wrong) {
			if wrong.Part != "" {
				offset += wrong.Offset
				width = utf8.RuneCountInString(wrong.Part)
			}
			detail = didYouMean(backQuoted(wrong.Nearest))
			short := *wrong
			short.Nearest = nil // said in the detail
			summary = short.Error()
		}
		t.faults = append(t.faults, func() diag.Diagnostic {
			d := diag.New(BadUnit, t.Cell.Source, offset, width, strings.ReplaceAll(summary, "\n", " "))
			d.Detail = detail
			return d
		}())
	}
}

func backQuoted(units []string) []string {
	quoted := make([]string, len(units))
	for i, u := range units {
		quoted[i] = "`" + u + "`"
	}
	return quoted
}
