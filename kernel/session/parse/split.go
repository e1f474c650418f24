package parse

import (
	goparser "go/parser"
	"go/token"
)

// item is a part of a cell that stands by itself: an import, a declaration or
// a statement.
type item struct {
	start, end int // byte offsets; comments directly before the item belong to it
	kind       itemKind
	open       []lexeme // brackets never closed
	damaged    bool     // a closing bracket too many was taken out
}

type itemKind int

const (
	statement itemKind = iota
	importing
	declaration
)

// splitter walks the tokens of a cell and cuts it where Go would end a
// declaration or a statement: at semicolons outside all brackets, except those
// in the header of a for, if or switch.
type splitter struct {
	s    *scanned
	i    int
	out  []item
	open []lexeme
}

func (s *scanned) split() []item {
	w := &splitter{s: s}
	for w.i < len(s.tokens) {
		w.item()
	}
	return w.out
}

func (w *splitter) item() {
	tokens := w.s.tokens
	first := w.i
	start := tokens[first].offset
	for first < len(tokens) && (tokens[first].kind == token.COMMENT || tokens[first].kind == token.SEMICOLON) {
		if tokens[first].kind == token.SEMICOLON {
			start = tokens[first].offset + 1
		}
		first++
	}
	w.i, w.open = first, nil
	if first == len(tokens) {
		return
	}
	if start > tokens[first].offset {
		start = tokens[first].offset
	}
	header := w.hasHeader(first)
	faults := len(w.s.faults)
	end := start
	for ; w.i < len(tokens); w.i++ {
		l := tokens[w.i]
		if l.kind == token.SEMICOLON && len(w.open) == 0 && (!header || l.text == "\n" || w.whole(first, l.offset)) {
			w.i++
			break
		}
		if !w.bracket(l) {
			continue
		}
		if l.kind != token.COMMENT && l.kind != token.SEMICOLON {
			end = w.s.end(l)
		}
	}
	if end == start {
		return
	}
	w.out = append(w.out, item{start: start, end: min(end, len(w.s.plain)), kind: w.classify(first), open: w.open,
		damaged: len(w.s.faults) > faults})
}

// bracket keeps count of brackets; it is false for one that closes nothing.
func (w *splitter) bracket(l lexeme) bool {
	switch l.kind {
	case token.LPAREN, token.LBRACK, token.LBRACE:
		w.open = append(w.open, l)
	case token.RPAREN, token.RBRACK, token.RBRACE:
		if len(w.open) == 0 {
			w.s.fault(l.offset, 1, "unexpected "+l.kind.String(), "Nothing is open that it could close.")
			w.s.plain[l.offset] = ' '
			return false
		}
		w.open = w.open[:len(w.open)-1]
	}
	return true
}

// next returns the index of the first token from i on that is no comment.
func (w *splitter) next(i int) int {
	for i < len(w.s.tokens) && w.s.tokens[i].kind == token.COMMENT {
		i++
	}
	return i
}

func (w *splitter) kind(i int) token.Token {
	if i >= len(w.s.tokens) {
		return token.EOF
	}
	return w.s.tokens[i].kind
}

// hasHeader tells whether the item at token i may have semicolons before its
// body. Labels before it are passed over.
func (w *splitter) hasHeader(i int) bool {
	for w.kind(i) == token.IDENT {
		colon := w.next(i + 1)
		if w.kind(colon) != token.COLON {
			return false
		}
		i = w.next(colon + 1)
	}
	switch w.kind(i) {
	case token.FOR, token.IF, token.SWITCH:
		return true
	}
	return false
}

// whole tells whether the text from token first up to an explicit semicolon is
// a whole statement. Only a closing brace leaves it in doubt: it ends the body,
// or a function literal in the header.
func (w *splitter) whole(first, end int) bool {
	last := w.i - 1
	for last > first && w.s.tokens[last].kind == token.COMMENT {
		last--
	}
	if w.s.tokens[last].kind != token.RBRACE {
		return false
	}
	text := statementPrefix + string(w.s.plain[w.s.tokens[first].offset:end]) + "\n}"
	_, err := goparser.ParseFile(token.NewFileSet(), "", text, goparser.SkipObjectResolution)
	return err == nil
}

func (w *splitter) classify(first int) itemKind {
	switch w.kind(first) {
	case token.IMPORT:
		return importing
	case token.TYPE, token.CONST:
		return declaration
	case token.FUNC:
		if w.isDeclaredFunc(first) {
			return declaration
		}
	}
	return statement
}

// isDeclaredFunc tells a function or method from a function literal:
// a declaration has a name before its parameters.
func (w *splitter) isDeclaredFunc(i int) bool {
	i = w.next(i + 1)
	if w.kind(i) == token.IDENT {
		return true
	}
	if w.kind(i) != token.LPAREN {
		return false
	}
	i = w.next(w.match(i))
	if w.kind(i) != token.IDENT {
		return false
	}
	i = w.next(i + 1)
	if w.kind(i) == token.LBRACK {
		i = w.next(w.match(i))
	}
	return w.kind(i) == token.LPAREN
}

// match returns the index behind the bracket that closes the one at i.
func (w *splitter) match(i int) int {
	depth := 0
	for ; i < len(w.s.tokens); i++ {
		switch w.s.tokens[i].kind {
		case token.LPAREN, token.LBRACK, token.LBRACE:
			depth++
		case token.RPAREN, token.RBRACK, token.RBRACE:
			if depth--; depth == 0 {
				return i + 1
			}
		}
	}
	return i
}
