package parse

import (
	"go/ast"
	"reflect"
)

// Replace walks the tree below root, children before their parents, and puts
// f(x) in the place of every expression x that stands where any expression may.
func Replace(root ast.Node, f func(ast.Expr) ast.Expr) {
	replaceIn(reflect.ValueOf(root), f)
}

// ReplaceExpr is Replace for an expression that may itself be replaced.
func ReplaceExpr(x ast.Expr, f func(ast.Expr) ast.Expr) ast.Expr {
	Replace(x, f)
	return f(x)
}

var (
	exprType = reflect.TypeFor[ast.Expr]()
	nodeType = reflect.TypeFor[ast.Node]()
)

// replaceIn walks v, a node or a list of nodes. It goes by the fields of the
// nodes, so that no kind of node can be forgotten.
func replaceIn(v reflect.Value, f func(ast.Expr) ast.Expr) {
	switch v.Kind() {
	case reflect.Interface:
		if v.IsNil() || !v.Type().Implements(nodeType) {
			return
		}
		replaceIn(v.Elem(), f)
		if v.Type() == exprType {
			old := v.Interface().(ast.Expr)
			if x := f(old); x != old {
				v.Set(reflect.ValueOf(x))
			}
		}
	case reflect.Pointer:
		if v.IsNil() || !v.Type().Implements(nodeType) || v.Type() == commentsType {
			return
		}
		for i := range v.Elem().NumField() {
			replaceIn(v.Elem().Field(i), f)
		}
	case reflect.Slice:
		for i := range v.Len() {
			replaceIn(v.Index(i), f)
		}
	}
}

var commentsType = reflect.TypeFor[*ast.CommentGroup]()
