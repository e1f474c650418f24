package rewrite

import (
	"go/ast"
	"go/token"
	"go/types"
	"strconv"

	"cobber/kernel/session/check"
)

// acceptQuantities lets functions of Go's package math, from numbers to a
// number, take quantities: it puts a function of quantities in their place.
// Whether their dimension is 1 is looked at later.
func acceptQuantities(r *check.Round) bool {
	if r.Quantity == nil || !r.HasErrors() {
		return false
	}
	changed := false
	seen := make(map[*ast.CallExpr]bool) // definitions stand in the tree twice
	w := &wrapper{r: r, known: make(map[types.Object]bool)}
	for _, d := range r.Tree.File.Decls {
		ast.Inspect(d, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || seen[call] {
				return true
			}
			seen[call] = true
			name, ok := functionOfMath(r, call)
			if !ok || !takesQuantity(r, call) {
				return true
			}
			for i := range call.Args {
				w.wrap(&call.Args[i])
			}
			pos := call.Fun.Pos()
			call.Fun = &ast.Ident{NamePos: pos, Name: check.Elementary}
			text := &ast.BasicLit{ValuePos: pos, Kind: token.STRING, Value: strconv.Quote(name)}
			call.Args = append([]ast.Expr{text}, call.Args...)
			changed = true
			return true
		})
	}
	return changed
}

// functionOfMath tells calls of package math's functions from float64s, one or
// two, to a float64.
func functionOfMath(r *check.Round, call *ast.CallExpr) (name string, ok bool) {
	sel, ok := ast.Unparen(call.Fun).(*ast.SelectorExpr)
	if !ok {
		return "", false
	}
	f, ok := r.Info.Uses[sel.Sel].(*types.Func)
	if !ok || f.Pkg() == nil || f.Pkg().Path() != "math" {
		return "", false
	}
	signature := f.Signature()
	n := signature.Params().Len()
	if n < 1 || n > 2 || n != len(call.Args) || signature.Results().Len() != 1 {
		return "", false
	}
	for _, tuple := range []*types.Tuple{signature.Params(), signature.Results()} {
		for i := range tuple.Len() {
			if tuple.At(i).Type() != types.Typ[types.Float64] {
				return "", false
			}
		}
	}
	return f.Name(), true
}

func takesQuantity(r *check.Round, call *ast.CallExpr) bool {
	takes := false
	for _, x := range call.Args {
		tv, ok := r.Info.Types[x]
		if !ok || isInvalid(tv.Type) {
			return false // a later round will know
		}
		takes = takes || isQuantity(r, tv.Type)
	}
	return takes
}
