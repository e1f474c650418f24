package working

import (
	"go/ast"
	"go/constant"
	"go/types"
	"strings"

	"cobber/kernel/session/check"
)

// call makes the formula of a call. Functions that every reader of formulas
// knows are written as in a textbook.
func (r *reader) call(x *ast.CallExpr) *node {
	if n, ok := r.isLiteral(x); ok {
		return n
	}
	fun := ast.Unparen(x.Fun)
	if r.info.Types[fun].IsType() && len(x.Args) == 1 {
		if id, ok := fun.(*ast.Ident); ok && r.cutsOff(x) {
			return r.function(id.Name, x.Args)
		}
		return r.read(x.Args[0])
	}
	switch fun := fun.(type) {
	case *ast.Ident:
		switch fun.Name {
		case check.QuantityType:
			return r.read(x.Args[0])
		case check.Elementary:
			return r.mathematics(constant.StringVal(r.info.Types[x.Args[0]].Value), x.Args[1:])
		}
		if f, ok := r.info.Uses[fun].(*types.Func); ok && r.own != nil {
			if own := r.own(f); own != nil {
				r.called = append(r.called, own)
			}
		}
		return spread(r.function(strings.TrimSuffix(fun.Name, check.Mark), x.Args), x)
	case *ast.SelectorExpr:
		return r.selected(fun, x)
	}
	return &node{kind: unreadable}
}

// cutsOff tells a conversion that drops what stands behind the point, so that the
// two sides of an equals sign would not be equal.
func (r *reader) cutsOff(x *ast.CallExpr) bool {
	to, ok := r.typeOf(x.Fun).(*types.Basic)
	from, ok2 := r.typeOf(x.Args[0]).(*types.Basic)
	return ok && ok2 && to.Info()&types.IsInteger != 0 && from.Info()&types.IsFloat != 0
}

// spread marks the last argument of f(x...), whose values stand one by one.
func spread(n *node, x *ast.CallExpr) *node {
	if x.Ellipsis.IsValid() {
		n.args[len(n.args)-1].spread = true
	}
	return n
}

func (r *reader) function(name string, args []ast.Expr) *node {
	n := &node{kind: call, text: name}
	for _, arg := range args {
		if n.text == "len" || n.text == "cap" {
			n.args = append(n.args, r.inner(arg))
			continue
		}
		n.args = append(n.args, r.read(arg))
	}
	return n
}

// selected reads calls of functions of packages and of methods.
func (r *reader) selected(fun *ast.SelectorExpr, x *ast.CallExpr) *node {
	f, ok := r.info.Uses[fun.Sel].(*types.Func)
	if !ok {
		return r.function(fun.Sel.Name, x.Args)
	}
	path := ""
	if f.Pkg() != nil {
		path = f.Pkg().Path()
	}
	if f.Signature().Recv() == nil {
		switch {
		case path == "math":
			return r.mathematics(f.Name(), x.Args)
		case path == check.QuantityPath && (f.Name() == "Must" || f.Name() == "Number") && len(x.Args) == 1:
			return r.read(x.Args[0])
		}
		return spread(r.function(f.Name(), x.Args), x)
	}
	if path == check.QuantityPath {
		if n := r.ofQuantity(f.Name(), fun.X, x.Args); n != nil {
			return n
		}
	}
	n := r.function(f.Name(), x.Args)
	n.args = append([]*node{r.inner(fun.X)}, n.args...)
	n.kind, n.value = call, method{}
	return n
}

// method marks a call whose first argument stands before the name.
type method struct{}

// ofQuantity reads methods of quantities that stand for operators, or that only
// change what a quantity is shown in.
func (r *reader) ofQuantity(name string, x ast.Expr, args []ast.Expr) *node {
	two := func(op string) *node {
		return &node{kind: operation, text: op, args: []*node{r.read(x), r.read(args[0])}}
	}
	switch name {
	case "Add":
		return two("+")
	case "Sub":
		return two("-")
	case "Mul":
		return two("*")
	case "Div":
		return two("/")
	case "Neg":
		return &node{kind: operation, text: "-", args: []*node{r.read(x)}}
	case "Abs":
		return &node{kind: magnitude, args: []*node{r.read(x)}}
	case "Sqrt":
		return &node{kind: root, text: "2", args: []*node{r.read(x)}}
	case "To", "In", "Value", "Float", "Named", "NamedOnce", "Best":
		return r.read(x)
	case "Pow":
		return r.rational(x, args)
	}
	return nil
}

// rational reads the power of a quantity, whose exponent is a fraction.
func (r *reader) rational(x ast.Expr, args []ast.Expr) *node {
	exponent := r.read(args[0])
	if exponent.value == int64(1) && r.read(args[1]).value == int64(2) {
		return &node{kind: root, text: "2", args: []*node{r.read(x)}}
	}
	if bottom := r.read(args[1]); bottom.value != int64(1) {
		exponent = &node{kind: operation, text: "/", args: []*node{exponent, bottom}}
	}
	return &node{kind: power, args: []*node{r.read(x), exponent}}
}

// mathematics reads the functions of package math.
func (r *reader) mathematics(name string, args []ast.Expr) *node {
	read := make([]*node, len(args))
	for i, arg := range args {
		read[i] = r.read(arg)
	}
	switch name {
	case "Sqrt":
		return &node{kind: root, text: "2", args: read}
	case "Cbrt":
		return &node{kind: root, text: "3", args: read}
	case "Pow":
		return &node{kind: power, args: read}
	case "Abs":
		return &node{kind: magnitude, args: read}
	case "Exp":
		return &node{kind: exponent, args: read}
	case "Exp2":
		return &node{kind: power, args: []*node{integer(2), read[0]}}
	case "Log1p":
		return &node{kind: call, text: "Log", args: []*node{{kind: operation, text: "+", args: []*node{integer(1), read[0]}}}, value: known{}}
	case "Expm1":
		return &node{kind: operation, text: "-", args: []*node{{kind: exponent, args: read}, integer(1)}}
	}
	return &node{kind: call, text: name, args: read, value: known{}}
}

// known marks a call of a function of package math.
type known struct{}
