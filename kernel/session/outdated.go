package session

import (
	"fmt"
	"go/types"
	"strings"

	"cobber/kernel/session/check"
	"cobber/kernel/session/stale"
	"cobber/stdlib/bound"
	"cobber/stdlib/quantity"
	"cobber/stdlib/show"
)

// follow notes what a cell has read and changed, and says in a line with its
// output which cells show old values since, and whether this one has used some.
func (s *Session) follow(program *check.Program, names []string, out Output) {
	since, own := s.trail.Ran(program, names, s.plain)
	var lines []string
	if own != "" {
		lines = append(lines, "This cell has used values that are out of date: "+own+".")
	}
	if len(since) > 0 {
		lines = append(lines, "Out of date now: "+listed(since)+".")
	}
	if lines != nil {
		out.Event(show.Event{Kind: show.KindDisplay, Values: []any{bound.Note(strings.Join(lines, " "))}})
	}
}

// listed names a few cells, each with its reason.
func listed(cells []stale.Cell) string {
	const enough = 5
	var parts []string
	for i, c := range cells {
		if i == enough {
			parts = append(parts, fmt.Sprintf("and %d more, which bound.Stale() lists", len(cells)-enough))
			break
		}
		parts = append(parts, c.Cell.Name+" ("+c.Why+")")
	}
	return strings.Join(parts, ", ")
}

// plain is the value of a variable where two of them can be compared to see
// whether it has changed; otherwise nil.
func (s *Session) plain(name string) any {
	known, ok := s.now().Lookup(name)
	v, isVar := known.Object.(*types.Var)
	if !ok || !isVar {
		return nil
	}
	g := s.builder.Global(v)
	if g == nil {
		return nil
	}
	if _, isBasic := v.Type().(*types.Basic); !isBasic && !check.IsQuantity(v.Type()) {
		return nil
	}
	return s.machine.Value(g)
}

var _ = quantity.Quantity{} == quantity.Quantity{} // plain values are compared by ==

func (s names) Stale() []bound.StaleCell {
	var list []bound.StaleCell
	for _, c := range s.trail.Outdated() {
		list = append(list, bound.StaleCell{Cell: c.Cell.Name, Code: firstLine(c.Cell.Text), Why: c.Why})
	}
	return list
}

// firstLine is the first line of code, cut to what fits a table.
func firstLine(text string) string {
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "//") {
			continue
		}
		if runes := []rune(line); len(runes) > 48 {
			line = string(runes[:47]) + "…"
		}
		return line
	}
	return ""
}
