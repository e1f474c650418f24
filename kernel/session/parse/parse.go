package parse

import (
	"go/ast"
	"go/token"

	"cobber/kernel/diag"
	"cobber/kernel/source"
)

// Cell is a parsed cell.
type Cell struct {
	Source source.Cell
	File   *token.File // offsets are those of Source.Text

	Directives []Directive
	Comments   []Comment // but for directives, in text order
	Imports    []*ast.ImportSpec
	Decls      []ast.Decl // functions, methods, types and constants; for a program also its variables
	Statements []ast.Stmt // in text order, var declarations among them, without the last expression
	Final      ast.Expr   // the last expression, or nil
	Program    bool       // a whole program was pasted: Statements and Final are empty
	Literals   []*Literal
}

// Literal is a quantity literal. In the tree it stands as Call, whose function
// is the selector Quantities.Of: two arguments, the number and the unit.
type Literal struct {
	Call       *ast.CallExpr
	Unit       string
	UnitOffset int // byte offset of the unit in the cell, behind the back quote
}

// Quantities is the name under which trees refer to the package of quantities.
// The dot in it is no letter of Go: no cell can define or hide the name.
const Quantities = "quantity·"

// Offset returns the byte offset in the cell of a position of its trees.
func (c *Cell) Offset(pos token.Pos) int {
	return min(max(int(pos)-c.File.Base(), 0), len(c.Source.Text))
}

// Pos is the inverse of Offset.
func (c *Cell) Pos(offset int) token.Pos { return c.File.Pos(offset) }

// Parse parses a cell and adds it to the set. The error is a diag.List; then
// the Cell holds what could be parsed.
func Parse(set *source.Set, text source.Cell) (*Cell, error) {
	cell := &Cell{Source: text, File: set.Add(text)}
	s := scan(text)
	cell.Directives, cell.Comments = s.directives, s.comments()
	p := &parser{cell: cell, scan: s}
	if s.isProgram() {
		p.program()
	} else {
		p.items()
	}
	p.literals()
	p.faults = append(p.faults, s.faults...)
	return cell, p.faults.Sorted(maxFaults).OrNil()
}

const maxFaults = 10

// Syntax is the code of every fault this package reports about Go's grammar.
const Syntax = "syntax"

func (s *scanned) fault(offset, width int, summary, detail string) {
	d := diag.New(Syntax, s.cell, offset, width, summary)
	d.Detail = detail
	s.faults = append(s.faults, d)
}
