package rewrite

import (
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"

	"cobber/kernel/session/check"
)

// call follows literals, the functions and methods of package quantity, and
// functions of the cell whose results follow from their bodies.
func (d *dimensions) call(call *ast.CallExpr) (measure, bool) {
	switch fun := ast.Unparen(call.Fun).(type) {
	case *ast.Ident:
		switch {
		case fun.Name == check.QuantityType || fun.Name == check.Elementary:
			return measure{}, true
		case fun.Name == "min" || fun.Name == "max":
			if _, isBuiltin := d.r.Info.Uses[fun].(*types.Builtin); isBuiltin {
				return d.allKnown(call.Args)
			}
		}
		return d.own(fun, call)
	case *ast.SelectorExpr:
		fn, ok := d.r.Info.Uses[fun.Sel].(*types.Func)
		if !ok || fn.Pkg() != d.r.Quantity.Obj().Pkg() {
			return measure{}, false
		}
		if fn.Signature().Recv() != nil {
			return d.method(fn.Name(), fun.X, call.Args)
		}
		return d.library(fn.Name(), call)
	}
	return measure{}, false
}

// library follows functions of package quantity. Those that may fail without a
// panic are followed only where they cannot, or inside Must.
func (d *dimensions) library(name string, call *ast.CallExpr) (measure, bool) {
	switch name {
	case "Of", "New":
		return d.unitOf(call.Args)
	case "Number", "Exp", "Log", "Log10", "Log2":
		return measure{}, true
	case "Sum", "Mean":
		return d.firstKnown(spread(call))
	case "Min", "Max":
		if !call.Ellipsis.IsValid() {
			return d.allKnown(call.Args)
		}
	case "Sqrt":
		m, ok := d.of(call.Args[0])
		return measure{dimension: m.dimension.Pow(1, 2)}, ok && !m.zero
	case "Must":
		if inner, ok := ast.Unparen(call.Args[0]).(*ast.CallExpr); ok && len(call.Args) == 1 {
			return d.must(inner)
		}
	}
	return measure{}, false
}

// must follows what gives a quantity or an error, where an error is a panic.
func (d *dimensions) must(call *ast.CallExpr) (measure, bool) {
	sel, ok := ast.Unparen(call.Fun).(*ast.SelectorExpr)
	if !ok {
		return d.call(call)
	}
	fn, ok := d.r.Info.Uses[sel.Sel].(*types.Func)
	if !ok || fn.Pkg() != d.r.Quantity.Obj().Pkg() {
		return measure{}, false
	}
	switch fn.Name() {
	case "In":
		return d.unitOf(call.Args)
	case "Normal", "Uniform", "Triangular", "PlusMinus", "ArcSine", "Lognormal", "Student", "Readings", "Empirical":
		return d.firstKnown(spread(call))
	}
	return d.call(call)
}

// spread is the arguments of a call, without a slice that is passed as them.
func spread(call *ast.CallExpr) []ast.Expr {
	if call.Ellipsis.IsValid() {
		return call.Args[:len(call.Args)-1]
	}
	return call.Args
}

// firstKnown is the measure of quantities that must be alike.
func (d *dimensions) firstKnown(args []ast.Expr) (measure, bool) {
	for _, x := range args {
		if m, ok := d.of(x); ok && !m.zero {
			return m, true
		}
	}
	return measure{}, false
}

// allKnown is the measure of the one of several quantities that is chosen: one
// that is not known may be the zero Quantity, which has no dimension yet.
func (d *dimensions) allKnown(args []ast.Expr) (measure, bool) {
	for _, x := range args {
		if m, ok := d.of(x); !ok || m.zero {
			return measure{}, false
		}
	}
	return d.firstKnown(args)
}

func (d *dimensions) method(name string, x ast.Expr, args []ast.Expr) (measure, bool) {
	switch name {
	case "Abs", "Neg", "Add", "Sub", "Certain", "Named", "NamedOnce", "Best":
		m, ok := d.of(x)
		return m, ok && !m.zero
	case "To":
		return d.unitOf(args)
	case "In":
		return d.converted(x, args)
	case "Mul":
		return d.binary(token.MUL, x, args[0])
	case "Div":
		return d.binary(token.QUO, x, args[0])
	case "Sqrt":
		m, ok := d.of(x)
		return measure{dimension: m.dimension.Pow(1, 2)}, ok && !m.zero
	case "Pow":
		return d.raised(x, args)
	}
	return measure{}, false
}

// converted is what In gives, where it is known to give no error.
func (d *dimensions) converted(x ast.Expr, args []ast.Expr) (measure, bool) {
	from, ok := d.of(x)
	to, ok2 := d.unitOf(args)
	return to, ok && ok2 && !from.zero && from.dimension.Equal(to.dimension)
}

func (d *dimensions) raised(x ast.Expr, args []ast.Expr) (measure, bool) {
	m, ok := d.of(x)
	if !ok || m.zero || len(args) != 2 {
		return measure{}, false
	}
	var parts [2]int64
	for i, arg := range args {
		value := d.r.Info.Types[arg].Value
		if value == nil || value.Kind() != constant.Int {
			return measure{}, false
		}
		parts[i], _ = constant.Int64Val(value)
	}
	if parts[1] < 1 || parts[1] > 12 || parts[0] < -12 || parts[0] > 12 {
		return measure{}, false
	}
	return measure{dimension: m.dimension.Pow(int(parts[0]), int(parts[1]))}, true
}

// own follows a function of the cell, with the measures of its arguments. All
// that it may return must be known and alike.
func (d *dimensions) own(fun *ast.Ident, call *ast.CallExpr) (measure, bool) {
	object := d.r.Info.Uses[fun]
	f := d.functions[object]
	if f == nil || f.Body == nil || d.asked[object] || f.Type.TypeParams != nil || call.Ellipsis.IsValid() {
		return measure{}, false
	}
	signature, ok := object.Type().(*types.Signature)
	if !ok || signature.Results().Len() != 1 || signature.Variadic() || signature.Params().Len() != len(call.Args) {
		return measure{}, false
	}
	parameters := make(map[types.Object]measure)
	for i, arg := range call.Args {
		if m, ok := d.of(arg); ok && isQuantity(d.r, signature.Params().At(i).Type()) {
			parameters[signature.Params().At(i)] = m
		}
	}
	before := d.parameters
	d.parameters, d.asked[object] = parameters, true
	defer func() { d.parameters = before; delete(d.asked, object) }()
	return d.returned(f)
}

func (d *dimensions) returned(f *ast.FuncDecl) (result measure, ok bool) {
	ok = true
	found := false
	ast.Inspect(f.Body, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.FuncLit:
			return false
		case *ast.DeferStmt:
			ok = false // it may recover, and return nothing
		case *ast.ReturnStmt:
			if len(n.Results) != 1 {
				ok = false
				return false
			}
			m, known := d.of(n.Results[0])
			if !known || m.zero || found && !m.dimension.Equal(result.dimension) {
				ok = false
			}
			result, found = m, true
		}
		return ok
	})
	return result, ok && found
}
