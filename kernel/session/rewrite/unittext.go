package rewrite

import (
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"strings"

	"cobber/kernel/session/check"
)

// takesUnit says which argument of functions and methods of package quantity is
// a unit.
var takesUnit = map[string]int{
	"Of": 1, "New": 1, "ParseUnit": 0, "Slice": 0, "Values": 0, // functions
	"Quantity.In": 0, "Quantity.To": 0, "Quantity.Value": 0,
}

// checkUnitTexts reports constant texts that are to be units and are none. A
// cell that declares units of its own knows better.
func checkUnitTexts(r *check.Round) {
	if r.Quantity == nil {
		return
	}
	var texts []ast.Expr
	seen := make(map[ast.Expr]bool) // definitions stand in the tree twice
	declares := false
	for _, decl := range r.Tree.File.Decls {
		ast.Inspect(decl, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			name, ok := functionOfQuantity(r, call)
			declares = declares || strings.HasPrefix(name, "Declare")
			if i, takes := takesUnit[name]; ok && takes && i < len(call.Args) && !seen[call.Args[i]] {
				seen[call.Args[i]] = true
				texts = append(texts, call.Args[i])
			}
			return true
		})
	}
	if declares {
		return
	}
	for _, x := range texts {
		checkUnitText(r, x)
	}
}

func checkUnitText(r *check.Round, x ast.Expr) {
	value := r.Info.Types[x].Value
	if value == nil || value.Kind() != constant.String {
		return
	}
	offset := r.Tree.Cell.Offset(x.Pos())
	if l, ok := x.(*ast.BasicLit); ok && l.Kind == token.STRING && !strings.Contains(l.Value, `\`) {
		offset++ // behind the quote
	}
	r.Tree.CheckUnit(constant.StringVal(value), offset, check.Quoted)
}

// functionOfQuantity is the name of a function of package quantity, with its
// type for a method. Literals are looked at before.
func functionOfQuantity(r *check.Round, call *ast.CallExpr) (string, bool) {
	sel, ok := ast.Unparen(call.Fun).(*ast.SelectorExpr)
	if !ok || isLiteral(sel) {
		return "", false
	}
	fn, ok := r.Info.Uses[sel.Sel].(*types.Func)
	if !ok || fn.Pkg() != r.Quantity.Obj().Pkg() {
		return "", false
	}
	recv := fn.Signature().Recv()
	if recv == nil {
		return fn.Name(), true
	}
	if isQuantity(r, recv.Type()) {
		return "Quantity." + fn.Name(), true
	}
	return "", false
}
