package parse

import (
	"go/token"
	"strings"

	"cobber/kernel/source"
)

// IsComplete tells whether a text can be run as it stands ("complete"), goes on
// in the next line ("incomplete", with the indent that line should have), or
// cannot be mended by going on ("invalid").
func IsComplete(text string) (status, indent string) {
	s := scan(source.Cell{Text: text})
	for _, e := range s.errors {
		if strings.HasSuffix(e.text, "not terminated") && goesOn(e.text) {
			return "incomplete", ""
		}
	}
	w := &splitter{s: s}
	for w.i < len(s.tokens) {
		w.item()
	}
	if len(s.faults) > 0 {
		return "invalid", ""
	}
	if len(w.open) > 0 {
		return "incomplete", strings.Repeat("\t", depth(w.open))
	}
	if s.endsOpen() {
		return "incomplete", "\t"
	}
	if _, err := Parse(source.NewSet(), source.Cell{Text: text}); err != nil {
		return "invalid", ""
	}
	return "complete", ""
}

// goesOn tells the literals and comments that may run over several lines.
func goesOn(message string) bool {
	return strings.HasPrefix(message, "raw string") || strings.HasPrefix(message, "comment")
}

// depth counts the brackets a line is indented for: two that open on one line
// indent once.
func depth(open []lexeme) int {
	n := 0
	for i, l := range open {
		if l.kind == token.LBRACE || i == len(open)-1 {
			n++
		}
	}
	return n
}

// endsOpen tells whether the last token asks for more: Go puts no semicolon
// behind an operator, a comma or a keyword.
func (s *scanned) endsOpen() bool {
	for i := len(s.tokens) - 1; i >= 0; i-- {
		if s.tokens[i].kind != token.COMMENT {
			return s.tokens[i].kind != token.SEMICOLON
		}
	}
	return false
}
