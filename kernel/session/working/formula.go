package working

import (
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"strconv"
	"strings"

	"cobber/kernel/session/check"
	"cobber/kernel/session/parse"
	"cobber/stdlib/quantity"
)

// kind says what a node of a formula is.
type kind int

const (
	literal    kind = iota // value: a number, a quantity or a text of the cell
	name                   // text: a variable or constant; value of a constant
	member                 // of args[0], called text
	element                // args[0] with the indices args[1:]
	operation              // text is Go's operator; one or two args
	power                  // args[0] to the power args[1]
	root                   // text is "2" or "3"; args[0]
	magnitude              // |args[0]|
	exponent               // e to the power args[0]
	call                   // text is the function
	series                 // of args
	unreadable             // what has no formula
)

// A node is an expression as a formula.
type node struct {
	kind   kind
	text   string
	args   []*node
	value  any  // known before the run; nil if not
	spread bool // as the last argument of f(x...)
	leaf   int  // 1 + where its value stands among those noted; 0 if it is not noted
}

// reader makes formulas of the expressions of one statement, and gathers the
// expressions whose values are to be noted before it.
type reader struct {
	info      *types.Info
	leaves    []ast.Expr
	safe      bool // whether all of it is evaluated whenever the statement runs
	own       func(*types.Func) *function
	behind    bool // whether a call has been made that may change what is read from now on
	mayChange func(types.Object) bool
	called    []*function // of the user's own, to be expanded
}

// read makes the formula of an expression.
func (r *reader) read(x ast.Expr) *node {
	x = ast.Unparen(x)
	if n := r.constant(x); n != nil {
		return n
	}
	switch x := x.(type) {
	case *ast.Ident:
		return r.note(&node{kind: name, text: strings.TrimSuffix(x.Name, check.Earlier)}, x)
	case *ast.SelectorExpr:
		return r.selector(x)
	case *ast.IndexExpr:
		n := &node{kind: element, args: []*node{r.inner(x.X), r.inner(x.Index)}}
		if _, isFunc := r.typeOf(x.X).(*types.Signature); isFunc {
			return &node{kind: unreadable}
		}
		return r.note(n, x)
	case *ast.StarExpr:
		return r.note(r.inner(x.X), x)
	case *ast.UnaryExpr:
		return r.unary(x)
	case *ast.BinaryExpr:
		return r.binary(x)
	case *ast.CallExpr:
		n := r.call(x)
		r.behind = r.behind || !isQuiet(r.info, ast.Unparen(x.Fun))
		return n
	case *ast.CompositeLit:
		return r.list(x)
	}
	return &node{kind: unreadable}
}

// inner makes the formula of a part whose own value is not shown.
func (r *reader) inner(x ast.Expr) *node {
	before := len(r.leaves)
	n := r.read(x)
	r.leaves = r.leaves[:before]
	forget(n)
	return n
}

func forget(n *node) {
	n.leaf = 0
	for _, arg := range n.args {
		forget(arg)
	}
}

// note asks for the value of an expression before the statement runs, if
// evaluating it once more does nothing.
func (r *reader) note(n *node, x ast.Expr) *node {
	tv, ok := r.info.Types[x]
	if !ok && !isName(x) || ok && (tv.IsType() || tv.IsBuiltin() || tv.IsNil()) {
		return n
	}
	t := tv.Type
	if id, ok := x.(*ast.Ident); ok && r.info.ObjectOf(id) != nil {
		t = r.info.ObjectOf(id).Type()
	}
	if !isShown(t) || !isPure(r.info, x, r.safe) || r.behind && r.changes(x) {
		return n
	}
	r.leaves = append(r.leaves, x)
	n.leaf = len(r.leaves)
	return n
}

// changes tells whether a call may have changed what an expression reads.
func (r *reader) changes(x ast.Expr) bool {
	found := false
	ast.Inspect(x, func(n ast.Node) bool {
		id, ok := n.(*ast.Ident)
		if !ok {
			return true
		}
		if object, isVar := r.info.ObjectOf(id).(*types.Var); isVar && !object.IsField() {
			found = found || r.mayChange == nil || r.mayChange(object)
		}
		return true
	})
	return found
}

// isShown tells the types whose values are shown.
func isShown(t types.Type) bool {
	switch t := types.Unalias(t).(type) {
	case *types.Basic:
		return t.Kind() != types.UnsafePointer && t.Info()&types.IsComplex == 0 && t.Kind() != types.Invalid
	case *types.Named:
		return check.IsQuantity(t)
	case *types.Slice:
		elem, isBasic := types.Unalias(t.Elem()).(*types.Basic)
		return check.IsQuantity(t.Elem()) || isBasic && (elem.Kind() == types.Float64 || elem.Kind() == types.Int)
	}
	return false
}

// callsOut tells whether something in a statement is called that may change
// what its other parts read.
func callsOut(info *types.Info, root ast.Node) bool {
	out := false
	ast.Inspect(root, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.FuncLit:
			return false
		case *ast.UnaryExpr:
			out = out || n.Op == token.ARROW
		case *ast.CallExpr:
			out = out || !isQuiet(info, ast.Unparen(n.Fun))
		}
		return !out
	})
	return out
}

// isQuiet tells functions that change nothing.
func isQuiet(info *types.Info, fun ast.Expr) bool {
	if tv := info.Types[fun]; tv.IsType() {
		return true
	}
	switch fun := fun.(type) {
	case *ast.Ident:
		if _, isBuiltin := info.Uses[fun].(*types.Builtin); isBuiltin {
			return fun.Name == "len" || fun.Name == "cap" || fun.Name == "min" || fun.Name == "max"
		}
		return fun.Name == check.Elementary || fun.Name == check.QuantityType
	case *ast.SelectorExpr:
		f, ok := info.Uses[fun.Sel].(*types.Func)
		return isOf(info, fun) || ok && f.Pkg() != nil && (f.Pkg().Path() == "math" || f.Pkg().Path() == check.QuantityPath)
	}
	return false
}

func isName(x ast.Expr) bool { _, ok := x.(*ast.Ident); return ok }

// isPure tells expressions that can be evaluated once more before their
// statement: they do nothing, and if they fail, so would the statement.
func isPure(info *types.Info, x ast.Expr, safe bool) bool {
	switch x := ast.Unparen(x).(type) {
	case *ast.Ident:
		_, isVar := info.ObjectOf(x).(*types.Var)
		return isVar && x.Name != "_"
	case *ast.SelectorExpr:
		selection := info.Selections[x]
		if selection == nil {
			_, isVar := info.Uses[x.Sel].(*types.Var)
			return isVar
		}
		return selection.Kind() == types.FieldVal && (safe || !selection.Indirect()) && isPure(info, x.X, safe)
	case *ast.IndexExpr:
		tv := info.Types[x.Index]
		return safe && isPure(info, x.X, safe) && (tv.Value != nil || isPure(info, x.Index, safe))
	case *ast.StarExpr:
		return safe && isPure(info, x.X, safe)
	case *ast.BinaryExpr:
		return (x.Op == token.ADD || x.Op == token.SUB || x.Op == token.MUL) && isPart(info, x.X, safe) && isPart(info, x.Y, safe)
	}
	return false
}

func isPart(info *types.Info, x ast.Expr, safe bool) bool {
	return info.Types[x].Value != nil || isPure(info, x, safe)
}

func (r *reader) typeOf(x ast.Expr) types.Type {
	t := r.info.Types[x].Type
	if t == nil {
		return types.Typ[types.Invalid]
	}
	return t.Underlying()
}

// constant makes the formula of what Go knows before the run.
func (r *reader) constant(x ast.Expr) *node {
	value := r.info.Types[x].Value
	if value == nil {
		return nil
	}
	switch x := x.(type) {
	case *ast.BasicLit:
		return &node{kind: literal, text: x.Value, value: ofConstant(value)}
	case *ast.Ident:
		return &node{kind: name, text: x.Name, value: ofConstant(value)}
	case *ast.SelectorExpr:
		n := &node{kind: name, text: x.Sel.Name, value: ofConstant(value)}
		if n.text == "Pi" || n.text == "E" || n.text == "Phi" {
			if object := r.info.Uses[x.Sel]; object != nil && object.Pkg() != nil && object.Pkg().Path() == "math" {
				return &node{kind: name, text: map[string]string{"Pi": "pi", "E": "e", "Phi": "phi"}[n.text]}
			}
		}
		return n
	}
	return nil
}

func ofConstant(value constant.Value) any {
	switch value.Kind() {
	case constant.Int:
		if n, exact := constant.Int64Val(value); exact {
			return n
		}
	case constant.String:
		return constant.StringVal(value)
	case constant.Bool:
		return constant.BoolVal(value)
	}
	x, _ := constant.Float64Val(constant.ToFloat(value))
	return x
}

func (r *reader) selector(x *ast.SelectorExpr) *node {
	if id, ok := x.X.(*ast.Ident); ok {
		if _, isPackage := r.info.Uses[id].(*types.PkgName); isPackage {
			return r.note(&node{kind: name, text: x.Sel.Name}, x)
		}
	}
	if selection := r.info.Selections[x]; selection == nil || selection.Kind() != types.FieldVal {
		return &node{kind: unreadable}
	}
	return r.note(&node{kind: member, text: x.Sel.Name, args: []*node{r.inner(x.X)}}, x)
}

func (r *reader) unary(x *ast.UnaryExpr) *node {
	switch x.Op {
	case token.SUB, token.NOT:
		return &node{kind: operation, text: x.Op.String(), args: []*node{r.read(x.X)}}
	case token.ADD:
		return r.read(x.X)
	}
	return &node{kind: unreadable}
}

func (r *reader) binary(x *ast.BinaryExpr) *node {
	n := &node{kind: operation, text: x.Op.String(), args: []*node{r.read(x.X), nil}}
	if x.Op == token.LAND || x.Op == token.LOR {
		defer func(safe bool) { r.safe = safe }(r.safe)
		r.safe = false
	}
	n.args[1] = r.read(x.Y)
	return r.cut(n, r.typeOf(x.X))
}

// cut makes a division of whole numbers one whose remainder is dropped, so that the
// two sides of an equals sign are equal.
func (r *reader) cut(n *node, of types.Type) *node {
	if basic, ok := of.(*types.Basic); ok && n.text == "/" && basic.Info()&types.IsInteger != 0 {
		return &node{kind: call, text: "int", args: []*node{n}}
	}
	return n
}

// list makes the formula of a slice that is written out.
func (r *reader) list(x *ast.CompositeLit) *node {
	switch r.typeOf(x).(type) {
	case *types.Slice, *types.Array:
	default:
		return &node{kind: unreadable}
	}
	n := &node{kind: series}
	for _, e := range x.Elts {
		if _, keyed := e.(*ast.KeyValueExpr); keyed {
			return &node{kind: unreadable}
		}
		n.args = append(n.args, r.read(e))
	}
	if len(n.args) > listLength {
		return &node{kind: unreadable}
	}
	return n
}

// isLiteral reads a quantity that is written in the cell.
func (r *reader) isLiteral(x *ast.CallExpr) (*node, bool) {
	if len(x.Args) != 2 || !isOf(r.info, x.Fun) {
		return nil, false
	}
	number, unit := r.info.Types[x.Args[0]].Value, r.info.Types[x.Args[1]].Value
	if number == nil || unit == nil {
		return nil, false
	}
	f, _ := constant.Float64Val(constant.ToFloat(number))
	q, err := quantity.New(f, constant.StringVal(unit))
	if err != nil {
		return nil, false
	}
	return &node{kind: literal, value: q}, true
}

func isOf(info *types.Info, fun ast.Expr) bool {
	sel, ok := fun.(*ast.SelectorExpr)
	if !ok {
		return false
	}
	if id, ok := sel.X.(*ast.Ident); ok && id.Name == parse.Quantities {
		return true
	}
	f, ok := info.Uses[sel.Sel].(*types.Func)
	return ok && f.Pkg() != nil && f.Pkg().Path() == check.QuantityPath && f.Name() == "Of"
}

func integer(x int64) *node { return &node{kind: literal, text: strconv.FormatInt(x, 10), value: x} }
