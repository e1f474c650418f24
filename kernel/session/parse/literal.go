package parse

import (
	"go/ast"
	"go/token"
)

// literals replaces, in all trees of the cell, the index expressions that stand
// for quantity literals by calls of Quantities.Of.
func (p *parser) literals() {
	if len(p.scan.units) == 0 {
		return
	}
	c := p.cell
	for _, d := range c.Decls {
		Replace(d, p.literal)
	}
	for _, s := range c.Statements {
		Replace(s, p.literal)
	}
	if c.Final != nil {
		c.Final = ReplaceExpr(c.Final, p.literal)
	}
}

// literal returns what stands in the tree for a quantity literal, and any
// other expression as it is.
func (p *parser) literal(e ast.Expr) ast.Expr {
	index, ok := e.(*ast.IndexExpr)
	if !ok {
		return e
	}
	offset := p.cell.Offset(index.Lbrack)
	u, ok := p.scan.units[offset]
	number, isNumber := index.X.(*ast.BasicLit)
	if !ok || !isNumber {
		return e
	}
	call := &ast.CallExpr{
		Fun: &ast.SelectorExpr{
			X:   &ast.Ident{NamePos: number.ValuePos, Name: Quantities},
			Sel: &ast.Ident{NamePos: number.ValuePos, Name: "Of"},
		},
		Lparen: index.Lbrack,
		Args: []ast.Expr{
			number,
			&ast.BasicLit{ValuePos: index.Lbrack, Kind: token.STRING, Value: "`" + u.text + "`"},
		},
		Rparen: index.Rbrack,
	}
	p.cell.Literals = append(p.cell.Literals, &Literal{Call: call, Unit: u.text, UnitOffset: offset + 1})
	return call
}
