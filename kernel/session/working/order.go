package working

import (
	"go/ast"
	"go/token"
	"go/types"
	"strings"

	"cobber/kernel/session/check"
)

// A note before a statement has the value that the statement reads only where no
// call in it changes the variable first. This file tells which variables a call
// may change.

// mayChange tells variables that functions of the session may change.
func (p *planner) mayChange(object types.Object) bool {
	if p.changing == nil {
		p.changing = p.changed()
	}
	if object == nil || p.changing[object] {
		return true
	}
	if object.Parent() == nil || object.Pkg() == nil || object.Parent() != object.Pkg().Scope() {
		return false
	}
	known, ok := p.round.State.Lookup(strings.TrimSuffix(object.Name(), check.Earlier))
	return ok && known.Object != nil && !known.Steady
}

// changed are the variables that functions of the cell assign, and those whose
// addresses are taken.
func (p *planner) changed() map[types.Object]bool {
	changed := map[types.Object]bool{}
	mark := func(x ast.Expr) {
		if id := check.Root(x); id != nil {
			changed[p.round.Info.ObjectOf(id)] = true
		}
	}
	entry := p.round.Tree.Entry()
	var visit func(n ast.Node, within bool)
	visit = func(root ast.Node, within bool) {
		ast.Inspect(root, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.FuncLit:
				if !within {
					visit(n.Body, true)
					return false
				}
			case *ast.AssignStmt:
				for _, x := range n.Lhs {
					if within {
						mark(x)
					}
				}
			case *ast.IncDecStmt:
				if within {
					mark(n.X)
				}
			case *ast.RangeStmt:
				if within && n.Tok == token.ASSIGN {
					mark(n.Key)
					mark(n.Value)
				}
			case *ast.UnaryExpr:
				if n.Op == token.AND {
					mark(n.X)
				}
			case *ast.SelectorExpr:
				if s := p.round.Info.Selections[n]; s != nil && s.Kind() == types.MethodVal {
					if _, toPointer := s.Obj().(*types.Func).Signature().Recv().Type().(*types.Pointer); toPointer {
						mark(n.X)
					}
				}
			}
			return true
		})
	}
	for _, d := range p.round.Tree.File.Decls {
		f, ok := d.(*ast.FuncDecl)
		visit(d, ok && f.Body != entry)
	}
	return changed
}
