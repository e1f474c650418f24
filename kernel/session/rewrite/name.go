package rewrite

import (
	"go/ast"
	"go/token"
	"go/types"

	"cobber/kernel/session/check"
	"cobber/kernel/session/parse"
)

// nameInputs lets uncertain inputs have the names of the variables that the
// cell's own statements bind them to. Only what is called can be an input: a
// literal is certain, and the result of an operator is no input.
func nameInputs(r *check.Round) bool {
	if r.Quantity == nil || r.Tree.Cell.Program {
		return false
	}
	return AfterBindings(r, func(id *ast.Ident, a *ast.AssignStmt, value ast.Expr) ast.Stmt {
		if !mayBeInput(r, value) || !isQuantity(r, typeOf(r, id)) {
			return nil
		}
		return check.Hook(r.Tree, check.NameInput, id, a.End())
	})
}

// AfterBindings puts behind the statements of a cell that bind names what behind
// gives for each name, if anything, and tells whether there was any.
func AfterBindings(r *check.Round, behind func(id *ast.Ident, a *ast.AssignStmt, value ast.Expr) ast.Stmt) bool {
	entry := r.Tree.Entry()
	var list []ast.Stmt
	for _, s := range entry.List {
		list = append(list, s)
		a, ok := s.(*ast.AssignStmt)
		if !ok || a.Tok != token.ASSIGN {
			continue
		}
		for i, x := range a.Lhs {
			id, ok := x.(*ast.Ident)
			if !ok || id.Name == "_" || !r.Tree.Defines(id) {
				continue
			}
			if added := behind(id, a, a.Rhs[min(i, len(a.Rhs)-1)]); added != nil {
				list = append(list, added)
			}
		}
	}
	changed := len(list) > len(entry.List)
	entry.List = list
	return changed
}

func mayBeInput(r *check.Round, value ast.Expr) bool {
	call, ok := ast.Unparen(value).(*ast.CallExpr)
	if !ok {
		return false
	}
	switch fun := call.Fun.(type) {
	case *ast.Ident:
		return fun.Name != check.Elementary && fun.Name != check.QuantityType
	case *ast.SelectorExpr:
		return !isLiteral(fun)
	}
	return true
}

// isLiteral tells the function that stands for a quantity literal.
func isLiteral(fun *ast.SelectorExpr) bool {
	id, ok := fun.X.(*ast.Ident)
	return ok && id.Name == parse.Quantities
}

func typeOf(r *check.Round, id *ast.Ident) types.Type {
	if object := r.Info.ObjectOf(id); object != nil {
		return object.Type()
	}
	return nil
}
