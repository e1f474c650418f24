package rewrite

import (
	"go/ast"
	"go/types"

	"cobber/kernel/session/check"
)

// keyLiterals gives keys to the values of struct literals whose type was
// declared in an earlier cell: for go/types that is another package, where
// unexported fields cannot be set without their names.
func keyLiterals(r *check.Round) bool {
	if !r.HasUnexportedField() {
		return false
	}
	changed := false
	ast.Inspect(r.Tree.File, func(n ast.Node) bool {
		if lit, ok := n.(*ast.CompositeLit); ok && keyLiteral(r, lit) {
			changed = true
		}
		return true
	})
	return changed
}

func keyLiteral(r *check.Round, lit *ast.CompositeLit) bool {
	tv, ok := r.Info.Types[lit]
	if !ok || len(lit.Elts) == 0 {
		return false
	}
	t := tv.Type
	if p, ok := t.Underlying().(*types.Pointer); ok {
		t = p.Elem() // &T left out inside a slice or map
	}
	s, ok := t.Underlying().(*types.Struct)
	if !ok || len(lit.Elts) != s.NumFields() {
		return false
	}
	if pkg := s.Field(0).Pkg(); pkg == r.Package || pkg.Path() != r.Package.Path() {
		return false
	}
	for _, x := range lit.Elts {
		if _, keyed := x.(*ast.KeyValueExpr); keyed {
			return false
		}
	}
	for i, x := range lit.Elts {
		lit.Elts[i] = &ast.KeyValueExpr{
			Key:   &ast.Ident{NamePos: x.Pos(), Name: s.Field(i).Name()},
			Colon: x.Pos(), Value: x,
		}
	}
	return true
}
