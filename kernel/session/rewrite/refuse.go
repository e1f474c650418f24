package rewrite

import (
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"strings"

	"cobber/kernel/session/check"
)

// refuseQuantities refuses what go/types allows only because it sees a number
// in a quantity.
func refuseQuantities(r *check.Round) {
	if r.Quantity == nil {
		return
	}
	seen := make(map[ast.Node]bool) // definitions stand in the tree twice
	for _, d := range r.Tree.File.Decls {
		ast.Inspect(d, func(n ast.Node) bool {
			if n == nil || seen[n] {
				return false
			}
			switch n := n.(type) {
			case *ast.CallExpr:
				seen[n] = true
				refuseCall(r, n)
			case *ast.MapType:
				seen[n] = true
				if holdsQuantity(r, r.Info.Types[n.Key].Type) {
					r.Tree.Refuse(check.RefusedKey, n.Key, types.ExprString(n.Key))
				}
			case *ast.CompositeLit:
				seen[n] = true
				refuseBareZeros(r, n)
			case *ast.AssignStmt:
				seen[n] = true
				refuseZeroFields(r, n)
			case *ast.TypeSpec:
				refuseType(r, n)
			case *ast.ValueSpec:
				refuseConstants(r, n)
			}
			return true
		})
	}
}

// refuseUnsafe lets a cell ask for sizes and offsets, which are constants, and
// refuses what reaches memory past its type.
func refuseUnsafe(r *check.Round) {
	for id, object := range r.Info.Uses {
		if object.Pkg() != types.Unsafe {
			continue
		}
		switch id.Name {
		case "Sizeof", "Alignof", "Offsetof":
		default:
			r.Tree.Refuse(check.RefusedUnsafe, id, id.Name)
		}
	}
}

// refuseSize refuses the size of what holds quantities: go/types sees numbers
// in them.
func refuseSize(r *check.Round, call *ast.CallExpr) {
	sel, ok := ast.Unparen(call.Fun).(*ast.SelectorExpr)
	if !ok || r.Quantity == nil || r.Info.Uses[sel.Sel] == nil || r.Info.Uses[sel.Sel].Pkg() != types.Unsafe {
		return
	}
	arg := ast.Unparen(call.Args[0])
	if field, ok := arg.(*ast.SelectorExpr); ok && sel.Sel.Name == "Offsetof" {
		arg = field.X
	}
	if holdsQuantity(r, r.Info.Types[arg].Type) {
		r.Tree.Refuse(check.RefusedOperator, call.Fun, "unsafe."+sel.Sel.Name, "A quantity's size is no concern of a cell: leave it out.")
	}
}

// refuseBareZeros refuses 0 without a unit for a field of the library: it is the
// quantity that goes with every dimension, and a field that holds that one counts
// as not set, so that no gravity would be the Earth's.
func refuseBareZeros(r *check.Round, literal *ast.CompositeLit) {
	if !ofLibrary(r.Info.Types[literal].Type) {
		return
	}
	for _, element := range literal.Elts {
		if field, ok := element.(*ast.KeyValueExpr); ok {
			refuseBareZero(r, field.Key, field.Value)
		}
	}
}

// refuseZeroFields is the same for assignments to fields.
func refuseZeroFields(r *check.Round, s *ast.AssignStmt) {
	if s.Tok != token.ASSIGN || len(s.Lhs) != len(s.Rhs) {
		return
	}
	for i, x := range s.Lhs {
		field, ok := ast.Unparen(x).(*ast.SelectorExpr)
		if !ok {
			continue
		}
		if selection := r.Info.Selections[field]; selection != nil && ofLibrary(selection.Recv()) {
			refuseBareZero(r, field.Sel, s.Rhs[i])
		}
	}
}

func refuseBareZero(r *check.Round, field, x ast.Expr) {
	value := r.Info.Types[x]
	if isQuantity(r, value.Type) && value.Value != nil && constant.Sign(value.Value) == 0 {
		r.Tree.Refuse(check.RefusedBareZero, x, types.ExprString(field))
	}
}

// ofLibrary tells a type of the library, or a pointer to one.
func ofLibrary(t types.Type) bool {
	if t == nil {
		return false
	}
	if p, ok := t.Underlying().(*types.Pointer); ok {
		t = p.Elem()
	}
	named, ok := types.Unalias(t).(*types.Named)
	return ok && named.Obj().Pkg() != nil && strings.HasPrefix(named.Obj().Pkg().Path(), check.LibraryPrefix)
}

func isQuantity(r *check.Round, t types.Type) bool {
	return t != nil && types.Identical(t, r.Quantity)
}

// holdsQuantity tells whether equality of a type compares quantities.
func holdsQuantity(r *check.Round, t types.Type) bool {
	if t == nil || isQuantity(r, t) {
		return t != nil
	}
	switch t := t.Underlying().(type) {
	case *types.Array:
		return holdsQuantity(r, t.Elem())
	case *types.Struct:
		for i := range t.NumFields() {
			if holdsQuantity(r, t.Field(i).Type()) {
				return true
			}
		}
	}
	return false
}

func refuseCall(r *check.Round, call *ast.CallExpr) {
	fun := r.Info.Types[call.Fun]
	switch {
	case len(call.Args) == 0:
	case fun.IsType() && len(call.Args) == 1:
		refuseConversion(r, call, fun.Type)
	case fun.IsBuiltin():
		refuseSize(r, call)
		id, ok := ast.Unparen(call.Fun).(*ast.Ident)
		if ok && id.Name == "complex" && isQuantity(r, r.Info.Types[call.Args[0]].Type) {
			r.Tree.Refuse(check.RefusedOperator, call.Fun, "complex", "Take the numbers first: q.Value(\"unit\").")
		}
	}
}

func refuseConversion(r *check.Round, call *ast.CallExpr, to types.Type) {
	arg := r.Info.Types[call.Args[0]]
	if id, ok := call.Fun.(*ast.Ident); ok && id.Name == check.QuantityType {
		return // our own
	}
	written := types.ExprString(call.Args[0])
	switch {
	case isQuantity(r, to) && !isQuantity(r, arg.Type) && arg.Type != nil:
		r.Tree.Refuse(check.RefusedConversion, call.Fun, written, "quantity.Quantity",
			"Write quantity.Number("+written+") for a number without a unit, or quantity.New("+written+", \"unit\").")
	case isQuantity(r, arg.Type) && !isQuantity(r, to) && isNumeric(to):
		name := types.TypeString(to, types.RelativeTo(r.Package))
		r.Tree.Refuse(check.RefusedConversion, call.Fun, written, name,
			"Write "+written+".Value(\"unit\") for the number in a unit, or "+written+".Float() if it has no dimension.")
	}
}

func isNumeric(t types.Type) bool {
	b, ok := t.Underlying().(*types.Basic)
	return ok && b.Info()&types.IsNumeric != 0
}

func refuseType(r *check.Round, spec *ast.TypeSpec) {
	if spec.Assign.IsValid() || !isQuantity(r, r.Info.Types[spec.Type].Type) {
		return
	}
	r.Tree.Refuse(check.RefusedType, spec.Name, spec.Name.Name)
}

func refuseConstants(r *check.Round, spec *ast.ValueSpec) {
	for _, name := range spec.Names {
		if c, ok := r.Info.Defs[name].(*types.Const); ok && isQuantity(r, c.Type()) {
			r.Tree.Refuse(check.RefusedConstant, name, name.Name)
		}
	}
}
