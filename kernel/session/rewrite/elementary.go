package rewrite

import (
	"go/ast"
	"go/constant"
	"go/types"

	"cobber/kernel/session/check"
)

// elementary reports a function of package math whose argument is known to
// have a dimension.
func (d *dimensions) elementary(call *ast.CallExpr) {
	name, ok := d.elementaryName(call)
	if !ok {
		return
	}
	for _, x := range call.Args[1:] {
		m, ok := d.of(x)
		if !ok || m.zero || m.dimension.IsOne() {
			continue
		}
		advice := "Divide it by a quantity of its own kind first, so that a plain number is left."
		written := types.ExprString(x)
		if _, isName := x.(*ast.Ident); !isName {
			written = "(" + written + ")"
		}
		switch name {
		case "Sqrt":
			advice = "Write " + written + ".Sqrt(), which takes the root of the unit too."
		case "Pow":
			advice = "Write " + written + ".Pow(numerator, denominator), which raises the unit too."
		case "Abs":
			advice = "Write " + written + ".Abs()."
		case "Max", "Min":
			advice = "Go's own max and min take quantities."
		}
		d.r.Tree.Fault(check.Dimensions, x.Pos(), 1, "math."+name+" takes a number without a unit, and gets "+m.String(), advice)
	}
}

// elementaryName returns the function of package math that a call stands for.
func (d *dimensions) elementaryName(call *ast.CallExpr) (string, bool) {
	id, ok := call.Fun.(*ast.Ident)
	if !ok || id.Name != check.Elementary {
		return "", false
	}
	return constant.StringVal(d.r.Info.Types[call.Args[0]].Value), true
}
