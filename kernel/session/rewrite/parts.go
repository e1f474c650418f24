package rewrite

import (
	"go/ast"
	"go/token"
	"go/types"

	"cobber/kernel/session/check"
)

// This file follows the elements of slices and the fields of structs that a
// cell writes out, and that nothing can change afterwards.

// collectParts finds slices and structs whose parts may change: those that are
// used for anything but reading a part, and fields that are assigned.
func (d *dimensions) collectParts(root ast.Node) {
	var parents []ast.Node
	ast.Inspect(root, func(n ast.Node) bool {
		if n == nil {
			parents = parents[:len(parents)-1]
			return true
		}
		if id, ok := n.(*ast.Ident); ok && len(parents) > 0 {
			if object, ok := d.r.Info.Uses[id].(*types.Var); ok && !d.readsPart(id, parents) {
				d.open[object] = true
			}
		}
		parents = append(parents, n)
		return true
	})
}

// readsPart tells whether a mention of a variable only reads a part of it, or
// gives it its value.
func (d *dimensions) readsPart(id *ast.Ident, parents []ast.Node) bool {
	parent := parents[len(parents)-1]
	switch p := parent.(type) {
	case *ast.AssignStmt:
		return isAmong(id, p.Lhs) && (p.Tok == token.ASSIGN || p.Tok == token.DEFINE)
	case *ast.RangeStmt:
		return p.X == ast.Expr(id)
	case *ast.CallExpr:
		return d.onlyReads(p)
	case *ast.IndexExpr:
		return p.X != ast.Expr(id) || len(parents) > 1 && !changes(p, parents[len(parents)-2])
	case *ast.SelectorExpr:
		if p.X != ast.Expr(id) {
			return len(parents) > 1 && !changes(p, parents[len(parents)-2]) // the name of a field
		}
		selection := d.r.Info.Selections[p]
		return selection != nil && selection.Kind() == types.FieldVal && len(parents) > 1 && !changes(p, parents[len(parents)-2])
	case *ast.KeyValueExpr:
		return p.Key == ast.Expr(id)
	}
	return false
}

func isAmong(id *ast.Ident, list []ast.Expr) bool {
	for _, x := range list {
		if x == ast.Expr(id) {
			return true
		}
	}
	return false
}

// onlyReads tells calls that leave the slices they get as they are.
func (d *dimensions) onlyReads(call *ast.CallExpr) bool {
	switch fun := ast.Unparen(call.Fun).(type) {
	case *ast.Ident:
		_, isBuiltin := d.r.Info.Uses[fun].(*types.Builtin)
		return isBuiltin && (fun.Name == "len" || fun.Name == "cap")
	case *ast.SelectorExpr:
		f, ok := d.r.Info.Uses[fun.Sel].(*types.Func)
		return ok && f.Pkg() == d.r.Quantity.Obj().Pkg() && (f.Name() == "Sum" || f.Name() == "Mean" || f.Name() == "MedianOf")
	}
	return false
}

// changes tells whether what stands around a part may change it.
func changes(part ast.Expr, around ast.Node) bool {
	switch a := around.(type) {
	case *ast.AssignStmt:
		for _, x := range a.Lhs {
			if x == part {
				return true
			}
		}
		return false
	case *ast.IncDecStmt:
		return true
	case *ast.UnaryExpr:
		return a.Op == token.AND
	case *ast.RangeStmt:
		return a.Key == part || a.Value == part
	case *ast.SelectorExpr, *ast.IndexExpr, *ast.SliceExpr:
		return true // a part of a part, or a method that may have its address
	}
	return false
}

// written returns the composite literal that is all a variable of the cell
// ever holds.
func (d *dimensions) written(x ast.Expr) (*ast.CompositeLit, bool) {
	object, ok := d.object(x).(*types.Var)
	if !ok || object.Pkg() != d.r.Package || d.spoiled[object] || d.open[object] || d.isShared(object) || len(d.values[object]) != 1 {
		return nil, false
	}
	if object.Parent() == nil || len(d.parameters) > 0 {
		return nil, false
	}
	literal, ok := ast.Unparen(d.values[object][0]).(*ast.CompositeLit)
	return literal, ok
}

// isShared tells whether a variable of the cell takes the memory of an earlier
// one of the same name, which earlier functions may assign.
func (d *dimensions) isShared(object *types.Var) bool {
	if object.Parent() != d.r.Package.Scope() {
		return false
	}
	known, ok := d.r.State.Lookup(object.Name())
	return ok && known.Object != nil && !known.Steady && types.Identical(known.Object.Type(), object.Type())
}

// element is what all elements of a slice measure.
func (d *dimensions) element(x ast.Expr) (measure, bool) {
	literal, ok := d.written(x)
	if !ok {
		return measure{}, false
	}
	switch t := d.r.Info.Types[literal].Type.Underlying().(type) {
	case *types.Slice:
		ok = isQuantity(d.r, t.Elem())
	default:
		ok = false // the elements of an array that are left out, and of a map that are missing, are nothing
	}
	var all measure
	for i, e := range literal.Elts {
		m, known := d.of(e)
		if _, keyed := e.(*ast.KeyValueExpr); !ok || keyed || !known || m.zero || i > 0 && !m.dimension.Equal(all.dimension) {
			return measure{}, false
		}
		if i == 0 {
			all = m
		}
	}
	return all, ok && len(literal.Elts) > 0
}

// field is what a field of a struct measures.
func (d *dimensions) field(x *ast.SelectorExpr) (measure, bool) {
	selection := d.r.Info.Selections[x]
	if selection == nil || selection.Kind() != types.FieldVal || len(selection.Index()) != 1 || d.open[selection.Obj()] {
		return measure{}, false
	}
	literal, ok := d.written(x.X)
	if !ok || !isQuantity(d.r, selection.Obj().Type()) || !d.isOwn(d.r.Info.Types[literal].Type) {
		return measure{}, false
	}
	for i, e := range literal.Elts {
		pair, keyed := e.(*ast.KeyValueExpr)
		switch {
		case keyed && isNamed(pair.Key, selection.Obj().Name()):
			m, ok := d.of(pair.Value)
			return m, ok && !m.zero
		case !keyed && i == selection.Index()[0]:
			m, ok := d.of(e)
			return m, ok && !m.zero
		}
	}
	return measure{}, false
}

func isNamed(x ast.Expr, name string) bool {
	id, ok := x.(*ast.Ident)
	return ok && id.Name == name
}

// isOwn tells struct types that no method of an earlier cell or of a package
// can change.
func (d *dimensions) isOwn(t types.Type) bool {
	named, ok := types.Unalias(t).(*types.Named)
	if !ok {
		_, ok = t.Underlying().(*types.Struct)
		return ok
	}
	_, isStruct := named.Underlying().(*types.Struct)
	return isStruct && (named.NumMethods() == 0 || named.Obj().Pkg() == d.r.Package && named.Obj().Name() != check.QuantityType)
}
