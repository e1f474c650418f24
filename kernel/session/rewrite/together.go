package rewrite

import (
	"go/ast"
	"go/token"
	"go/types"

	"cobber/kernel/session/check"
)

// together reports calls whose arguments must be alike and are known not to be.
func (d *dimensions) together(call *ast.CallExpr) {
	var args []ast.Expr
	switch fun := ast.Unparen(call.Fun).(type) {
	case *ast.Ident:
		if _, isBuiltin := d.r.Info.Uses[fun].(*types.Builtin); isBuiltin && (fun.Name == "min" || fun.Name == "max") {
			args = call.Args
		}
	case *ast.SelectorExpr:
		fn, ok := d.r.Info.Uses[fun.Sel].(*types.Func)
		if !ok || fn.Pkg() != d.r.Quantity.Obj().Pkg() {
			return
		}
		switch isMethod := fn.Signature().Recv() != nil; {
		case isMethod && fn.Name() == "Add":
			d.alike(token.ADD, fun.Sel.Pos(), fun.X, call.Args[0])
		case isMethod && fn.Name() == "Sub":
			d.alike(token.SUB, fun.Sel.Pos(), fun.X, call.Args[0])
		case !isMethod && fn.Name() == "Sum":
			d.allAlike(token.ADD, spread(call))
		case !isMethod && (fn.Name() == "Min" || fn.Name() == "Max"):
			args = spread(call)
		}
	}
	d.allAlike(token.LSS, args)
}

// allAlike compares each argument with the first that is known.
func (d *dimensions) allAlike(op token.Token, args []ast.Expr) {
	for i, x := range args {
		if m, ok := d.of(x); !ok || m.zero {
			continue
		}
		for _, y := range args[i+1:] {
			d.alike(op, y.Pos(), x, y)
		}
		return
	}
}

// conversions reports To, and In and Value where nobody takes their error, to a
// unit that measures something else.
func (d *dimensions) conversions(call *ast.CallExpr) {
	if len(call.Args) > 0 {
		if inner, ok := ast.Unparen(call.Args[0]).(*ast.CallExpr); ok && d.isFunction(call, "Must") {
			d.convert(inner, "In")
		}
	}
	d.convert(call, "To")
}

func (d *dimensions) isFunction(call *ast.CallExpr, name string) bool {
	sel, ok := ast.Unparen(call.Fun).(*ast.SelectorExpr)
	if !ok {
		return false
	}
	fn, ok := d.r.Info.Uses[sel.Sel].(*types.Func)
	return ok && fn.Name() == name && fn.Pkg() == d.r.Quantity.Obj().Pkg()
}

// ignored reports In and Value whose error is thrown away.
func (d *dimensions) ignored(s *ast.AssignStmt) {
	if len(s.Lhs) != 2 || len(s.Rhs) != 1 || !isNamed(s.Lhs[1], "_") {
		return
	}
	if call, ok := ast.Unparen(s.Rhs[0]).(*ast.CallExpr); ok {
		d.convert(call, "In")
		d.convert(call, "Value")
	}
}

func (d *dimensions) convert(call *ast.CallExpr, name string) {
	sel, ok := ast.Unparen(call.Fun).(*ast.SelectorExpr)
	if !ok || !d.isFunction(call, name) || len(call.Args) != 1 {
		return
	}
	from, ok := d.of(sel.X)
	to, ok2 := d.unitOf(call.Args)
	if !ok || !ok2 || from.zero || from.dimension.Equal(to.dimension) {
		return
	}
	d.r.Tree.Fault(check.Dimensions, call.Args[0].Pos(), 1, "cannot show "+from.String()+" as "+to.String(), "")
}
