package parse

import (
	"go/scanner"
	"go/token"
	"strings"

	"cobber/kernel/diag"
	"cobber/kernel/source"
)

// lexeme is one token of a cell.
type lexeme struct {
	offset int
	kind   token.Token
	text   string // of names, literals, comments and semicolons ("\n" if Go put it in)
}

// end returns the offset behind the token.
func (s *scanned) end(l lexeme) int {
	switch {
	case l.kind == token.SEMICOLON:
		return l.offset
	case l.kind == token.STRING && l.text[0] == '`':
		// Go's scanner leaves carriage returns out of the text it reports.
		if n := strings.IndexByte(s.cell.Text[l.offset+1:], '`'); n >= 0 {
			return l.offset + 1 + n + 1
		}
		return len(s.cell.Text)
	case l.text != "":
		return l.offset + len(l.text)
	}
	return l.offset + len(l.kind.String())
}

// scanned is a cell cut into tokens.
type scanned struct {
	cell       source.Cell
	plain      []byte // the text with every quantity literal as an index expression of equal length
	tokens     []lexeme
	units      map[int]unit // quantity literals by the offset of the back quote
	directives []Directive
	faults     diag.List
	errors     []scanError // what the scanner of Go found
}

// unit is the text between the back quotes of a quantity literal.
type unit struct{ text string }

type scanError struct {
	offset int
	text   string
}

func scan(cell source.Cell) *scanned {
	s := &scanned{cell: cell, plain: []byte(cell.Text), units: make(map[int]unit)}
	if strings.HasPrefix(cell.Text, "\uFEFF") {
		copy(s.plain, "   ")
	}
	file := token.NewFileSet().AddFile("", -1, len(s.plain))
	var sc scanner.Scanner
	sc.Init(file, append([]byte(nil), s.plain...), func(pos token.Position, msg string) {
		s.errors = append(s.errors, scanError{pos.Offset, msg})
	}, scanner.ScanComments)
	for {
		pos, kind, text := sc.Scan()
		if kind == token.EOF {
			break
		}
		l := lexeme{file.Offset(pos), kind, text}
		s.quantity(l)
		s.tokens = append(s.tokens, l)
	}
	s.headDirectives()
	return s
}

// quantity notes the literal if l is a raw string that directly follows a
// number, and replaces it in the text that Go's parser will read.
func (s *scanned) quantity(l lexeme) {
	if l.kind != token.STRING || l.text[0] != '`' || len(s.tokens) == 0 {
		return
	}
	number := s.tokens[len(s.tokens)-1]
	if number.kind != token.INT && number.kind != token.FLOAT || s.end(number) != l.offset {
		return
	}
	end := l.offset + 1
	for end < len(s.plain) && s.plain[end] != '`' {
		end++
	}
	if end == len(s.plain) {
		return // not terminated: the scanner of Go has said so
	}
	text := string(s.plain[l.offset+1 : end])
	s.units[l.offset] = unit{text}
	s.plain[l.offset], s.plain[end] = '[', ']'
	for i := l.offset + 1; i < end; i++ {
		s.plain[i] = '0'
	}
	switch {
	case strings.ContainsAny(text, "\r\n"):
		s.fault(l.offset, 1, "the unit of a quantity must be on one line", "")
	case strings.TrimSpace(text) == "":
		s.fault(number.offset, end+1-number.offset, "there is no unit between the back quotes",
			"Write the unit, for instance 36.5`t/h`, or the number alone.")
		if text == "" {
			s.plain[l.offset], s.plain[end] = ' ', ' '
		}
	case oldOctal(number):
		s.fault(number.offset, len(number.text), "the number "+number.text+" starts with 0, which Go reads as octal",
			"Write it without the leading 0, or with 0o if octal is meant.")
	}
}

// oldOctal tells 010, which Go reads as 8: in a quantity it is taken for ten.
func oldOctal(number lexeme) bool {
	t := number.text
	return number.kind == token.INT && len(t) > 1 && t[0] == '0' && (t[1] == '_' || '0' <= t[1] && t[1] <= '9')
}

// isProgram tells whether a whole program was pasted.
func (s *scanned) isProgram() bool {
	for _, l := range s.tokens {
		if l.kind != token.COMMENT {
			return l.kind == token.PACKAGE
		}
	}
	return false
}
