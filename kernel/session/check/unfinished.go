package check

import (
	"go/ast"
	"go/scanner"
	"go/token"
	"strings"
	"unicode"
	"unicode/utf8"

	"cobber/kernel/session/parse"
	"cobber/kernel/source"
)

// This file reads cells that are still being written: the text up to the
// cursor, with an end put to it so that it parses.

// marker is put where the name at the cursor may be missing.
const marker = "completion_"

// unfinished is a cell up to the cursor, checked as far as it goes.
type unfinished struct {
	round *Round
	at    token.Pos // of the name at the cursor
}

// checkUnfinished checks text, which ends in the name at offset at. It returns
// nil if the text cannot be mended.
func checkUnfinished(state *State, text string, at int) *unfinished {
	closing := closers(text)
	for _, tail := range []string{"", ",", " {}", ":", "\n"} {
		if u := checkWhole(state, text+tail+closing, at); u != nil {
			return u
		}
	}
	start := expressionStart(text, at)
	for cut := strings.LastIndexByte(text[:start], '\n'); ; cut = strings.LastIndexByte(text[:cut], '\n') {
		before := ""
		if cut >= 0 {
			before = text[:cut+1]
		}
		if u := checkWhole(state, before+text[start:], len(before)+at-start); u != nil {
			return u
		}
		if cut < 0 {
			return nil
		}
	}
}

func checkWhole(state *State, text string, at int) *unfinished {
	apart := *state
	apart.Set = source.NewSet()
	cell, err := parse.Parse(apart.Set, source.Cell{Text: text})
	if err != nil {
		return nil
	}
	return &unfinished{round: Check(&apart, Assemble(&apart, cell)), at: cell.Pos(at)}
}

// closers returns the brackets that close what is open at the end of a text.
func closers(text string) string {
	var open []string
	for _, l := range tokensOf(text) {
		switch l.kind {
		case token.LPAREN:
			open = append(open, ")")
		case token.LBRACK:
			open = append(open, "]")
		case token.LBRACE:
			open = append(open, "}")
		case token.RPAREN, token.RBRACK, token.RBRACE:
			if len(open) > 0 {
				open = open[:len(open)-1]
			}
		}
	}
	var b strings.Builder
	for i := len(open) - 1; i >= 0; i-- {
		b.WriteString(open[i])
	}
	return b.String()
}

// lexeme is a token and where it stands.
type lexeme struct {
	offset int
	kind   token.Token
	text   string
}

// tokensOf scans a text and ignores what is wrong with it.
func tokensOf(text string) []lexeme {
	file := token.NewFileSet().AddFile("", -1, len(text))
	var sc scanner.Scanner
	sc.Init(file, []byte(text), func(token.Position, string) {}, scanner.ScanComments)
	var list []lexeme
	for {
		pos, kind, lit := sc.Scan()
		if kind == token.EOF {
			return list
		}
		if kind == token.SEMICOLON && lit == "\n" {
			continue
		}
		list = append(list, lexeme{file.Offset(pos), kind, lit})
	}
}

// expressionStart returns where the operand that ends in the name at offset at
// begins: a chain of names, calls and indices.
func expressionStart(text string, at int) int {
	tokens := tokensOf(text[:at])
	start, i := at, len(tokens)-1
	for i >= 1 && tokens[i].kind == token.PERIOD {
		i--
		for i > 0 && (tokens[i].kind == token.RPAREN || tokens[i].kind == token.RBRACK || tokens[i].kind == token.RBRACE) {
			i = opening(tokens, i) - 1
		}
		if i < 0 {
			return start
		}
		start = tokens[i].offset
		if tokens[i].kind == token.STRING && i > 0 && (tokens[i-1].kind == token.INT || tokens[i-1].kind == token.FLOAT) {
			i--
			start = tokens[i].offset
		}
		i--
	}
	return start
}

// opening returns the index of the bracket that the one at i closes.
func opening(tokens []lexeme, i int) int {
	depth := 0
	for ; i >= 0; i-- {
		switch tokens[i].kind {
		case token.RPAREN, token.RBRACK, token.RBRACE:
			depth++
		case token.LPAREN, token.LBRACK, token.LBRACE:
			if depth--; depth == 0 {
				return i
			}
		}
	}
	return 0
}

// nameAround returns where the name at an offset begins and ends.
func nameAround(text string, offset int) (start, end int) {
	start, end = offset, offset
	for start > 0 {
		r, size := utf8.DecodeLastRuneInString(text[:start])
		if !isNameRune(r) {
			break
		}
		start -= size
	}
	for end < len(text) {
		r, size := utf8.DecodeRuneInString(text[end:])
		if !isNameRune(r) {
			break
		}
		end += size
	}
	return start, end
}

func isNameRune(r rune) bool { return r == '_' || unicode.IsLetter(r) || unicode.IsDigit(r) }

// find returns the name at the cursor, the selector it is selected by, and the
// composite literal it is an element of; each nil if there is none.
func (u *unfinished) find() (id *ast.Ident, sel *ast.SelectorExpr, lit *ast.CompositeLit) {
	ast.Inspect(u.round.Tree.File, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.Ident:
			if n.Pos() == u.at && !strings.Contains(n.Name, "·") {
				id = n
			}
		case *ast.SelectorExpr:
			if n.Sel.Pos() == u.at {
				sel = n
			}
		case *ast.CompositeLit:
			for _, x := range n.Elts {
				if x.Pos() == u.at {
					lit = n
				}
			}
		}
		return true
	})
	return id, sel, lit
}
