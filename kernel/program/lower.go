package program

import (
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"reflect"

	"cobber/kernel/session/check"
	"cobber/kernel/session/parse"
)

// A lowering turns operators on quantities into the methods that package run
// calls for them.
type lowering struct {
	info      *types.Info
	quantity  *types.Named
	constants map[ast.Expr]bool // the outermost constants that stand for quantities
	within    map[ast.Expr]bool // parts of such constants
	made      map[ast.Expr]bool // what has been put in, all quantities
	problem   string
}

func newLowering(p *check.Program, quantity *types.Named) *lowering {
	l := &lowering{info: p.Info, quantity: quantity, constants: map[ast.Expr]bool{}, within: map[ast.Expr]bool{}, made: map[ast.Expr]bool{}}
	for _, file := range p.Files {
		ast.Inspect(file, l.find)
	}
	return l
}

// find notes the constants that go/types has given the type of quantities.
func (l *lowering) find(n ast.Node) bool {
	x, ok := n.(ast.Expr)
	if !ok || !l.isQuantityType(x) || l.info.Types[x].Value == nil {
		return true
	}
	l.constants[x] = true
	ast.Inspect(x, func(n ast.Node) bool {
		if part, ok := n.(ast.Expr); ok && part != x {
			l.within[part] = true
		}
		return true
	})
	return false
}

func (l *lowering) isQuantityType(x ast.Expr) bool {
	tv, ok := l.info.Types[x]
	return ok && l.quantity != nil && tv.IsValue() && types.Identical(tv.Type, l.quantity)
}

func (l *lowering) isQuantity(x ast.Expr) bool { return l.made[x] || l.isQuantityType(x) }

// apply lowers all of a statement or declaration, and returns it.
func (l *lowering) apply(root ast.Node) ast.Node {
	parse.Replace(root, l.expression)
	replaceStatements(reflect.ValueOf(root), l.statement)
	if s, ok := root.(ast.Stmt); ok {
		return l.statement(s)
	}
	return root
}

func (l *lowering) expression(x ast.Expr) ast.Expr {
	switch {
	case l.within[x]:
		return x
	case l.constants[x]:
		if constant.Sign(l.info.Types[x].Value) == 0 {
			zero := &ast.Ident{NamePos: x.Pos(), Name: zeroName}
			l.made[zero] = true
			return zero
		}
		return l.number(unwrapped(x))
	}
	switch e := x.(type) {
	case *ast.BinaryExpr:
		if l.isQuantity(e.X) && l.isQuantity(e.Y) {
			return l.binary(e)
		}
	case *ast.UnaryExpr:
		if l.isQuantity(e.X) && e.Op == token.SUB {
			return l.method(e.X, "Neg", e.OpPos)
		}
		if l.isQuantity(e.X) && e.Op == token.ADD {
			return e.X
		}
	case *ast.CallExpr:
		return l.call(e)
	}
	return x
}

// zeroName is what the constant 0 is as a quantity: it goes with every dimension,
// as in a cell.
const zeroName = "zeroQuantity"

// unwrapped takes the conversion off that package rewrite has put around a
// number.
func unwrapped(x ast.Expr) ast.Expr {
	if call, ok := x.(*ast.CallExpr); ok && isWrap(call) {
		return call.Args[0]
	}
	return x
}

func isWrap(call *ast.CallExpr) bool {
	id, ok := call.Fun.(*ast.Ident)
	return ok && id.Name == check.QuantityType && len(call.Args) == 1
}

// number is a number as a quantity without a dimension.
func (l *lowering) number(x ast.Expr) ast.Expr {
	made := l.quantities("Number", x.Pos(), x)
	l.made[made] = true
	return made
}

// quantities is a call of a function of package quantity.
func (l *lowering) quantities(name string, pos token.Pos, args ...ast.Expr) *ast.CallExpr {
	end := pos
	if len(args) > 0 {
		end = args[len(args)-1].End()
	}
	return &ast.CallExpr{
		Fun:    &ast.SelectorExpr{X: &ast.Ident{NamePos: pos, Name: parse.Quantities}, Sel: &ast.Ident{NamePos: pos, Name: name}},
		Lparen: pos, Args: args, Rparen: end,
	}
}

// method is the call of a method of a quantity.
func (l *lowering) method(x ast.Expr, name string, pos token.Pos, args ...ast.Expr) *ast.CallExpr {
	switch x.(type) {
	case *ast.UnaryExpr, *ast.StarExpr, *ast.BinaryExpr:
		x = &ast.ParenExpr{Lparen: x.Pos(), X: x, Rparen: x.End()}
	}
	end := pos
	if len(args) > 0 {
		end = args[len(args)-1].End()
	}
	made := &ast.CallExpr{Fun: &ast.SelectorExpr{X: x, Sel: &ast.Ident{NamePos: pos, Name: name}}, Lparen: pos, Args: args, Rparen: end}
	l.made[made] = true
	return made
}

var arithmetic = map[token.Token]string{token.ADD: "Add", token.SUB: "Sub", token.MUL: "Mul", token.QUO: "Div"}

func (l *lowering) binary(e *ast.BinaryExpr) ast.Expr {
	x, y := stripped(e.X), stripped(e.Y)
	if name, ok := arithmetic[e.Op]; ok {
		return l.method(x, name, e.OpPos, y)
	}
	truth := func(name string) ast.Expr {
		call := l.method(x, name, e.OpPos, y)
		delete(l.made, call)
		return call
	}
	not := func(x ast.Expr) ast.Expr { return &ast.UnaryExpr{OpPos: e.Pos(), Op: token.NOT, X: x} }
	helped := func(name string) ast.Expr { // the order of the operands stays, in calls too
		return &ast.CallExpr{Fun: &ast.Ident{NamePos: e.Pos(), Name: name}, Lparen: e.Pos(), Args: []ast.Expr{x, y}, Rparen: e.End()}
	}
	switch e.Op {
	case token.EQL:
		return truth("Equal")
	case token.NEQ:
		return not(truth("Equal"))
	case token.LSS:
		return truth("Less")
	case token.GTR:
		return helped("isGreater")
	case token.LEQ:
		return helped("isAtMost")
	case token.GEQ:
		return helped("isAtLeast")
	}
	return e
}

// stripped takes brackets off that a call has of itself.
func stripped(x ast.Expr) ast.Expr {
	p, ok := x.(*ast.ParenExpr)
	if !ok {
		return x
	}
	switch inner := stripped(p.X).(type) {
	case *ast.CallExpr, *ast.Ident, *ast.SelectorExpr, *ast.IndexExpr:
		return inner
	}
	return x
}

// angles are the functions of package math that take one.
var angles = map[string]bool{"Sin": true, "Cos": true, "Tan": true}

func (l *lowering) call(call *ast.CallExpr) ast.Expr {
	if isWrap(call) {
		x := call.Args[0]
		return l.number(&ast.CallExpr{Fun: &ast.Ident{NamePos: x.Pos(), Name: "float64"}, Lparen: x.Pos(), Args: []ast.Expr{x}, Rparen: x.End()})
	}
	id, ok := call.Fun.(*ast.Ident)
	if !ok {
		return call
	}
	if (id.Name == "min" || id.Name == "max") && l.info.Types[call.Fun].IsBuiltin() && l.isQuantity(call) {
		made := l.quantities(map[string]string{"min": "Min", "max": "Max"}[id.Name], call.Pos(), call.Args...)
		l.made[made] = true
		return made
	}
	if id.Name != check.Elementary {
		return call
	}
	name := call.Args[0].(*ast.BasicLit).Value
	name = name[1 : len(name)-1]
	helper := "ofOne"
	switch {
	case len(call.Args) == 3:
		helper = "ofTwo"
	case angles[name]:
		helper = "ofAngle"
	}
	pos := call.Pos()
	call.Fun = &ast.Ident{NamePos: pos, Name: helper}
	call.Args[0] = &ast.SelectorExpr{X: &ast.Ident{NamePos: pos, Name: mathName}, Sel: &ast.Ident{NamePos: pos, Name: name}}
	l.made[call] = true
	return call
}

// mathName stands for the import of package math in trees.
const mathName = "math·"

// statement lowers what assigns and operates at once.
func (l *lowering) statement(s ast.Stmt) ast.Stmt {
	switch s := s.(type) {
	case *ast.AssignStmt:
		ops := map[token.Token]token.Token{token.ADD_ASSIGN: token.ADD, token.SUB_ASSIGN: token.SUB, token.MUL_ASSIGN: token.MUL, token.QUO_ASSIGN: token.QUO}
		if op, ok := ops[s.Tok]; ok && l.isQuantity(s.Lhs[0]) {
			return l.step(s, s.Lhs[0], op, s.Rhs[0])
		}
	case *ast.IncDecStmt:
		if l.isQuantity(s.X) {
			op := token.ADD
			if s.Tok == token.DEC {
				op = token.SUB
			}
			one := l.quantities("Number", s.TokPos, &ast.BasicLit{ValuePos: s.TokPos, Kind: token.INT, Value: "1"})
			return l.step(s, s.X, op, one)
		}
	case *ast.SwitchStmt:
		if s.Tag != nil && l.isQuantity(s.Tag) {
			l.problem = "it switches on a quantity"
		}
	}
	return s
}

func (l *lowering) step(s ast.Stmt, x ast.Expr, op token.Token, y ast.Expr) ast.Stmt {
	calls := false
	ast.Inspect(x, func(n ast.Node) bool {
		_, isCall := n.(*ast.CallExpr)
		calls = calls || isCall
		return true
	})
	if calls {
		l.problem = "it changes a quantity in a place that a call finds: the call would be made twice"
	}
	return &ast.AssignStmt{Lhs: []ast.Expr{x}, TokPos: s.Pos(), Tok: token.ASSIGN, Rhs: []ast.Expr{l.method(x, arithmetic[op], s.Pos(), y)}}
}

var (
	statementType = reflect.TypeFor[ast.Stmt]()
	nodeType      = reflect.TypeFor[ast.Node]()
)

// replaceStatements puts f(s) in the place of every statement below v.
func replaceStatements(v reflect.Value, f func(ast.Stmt) ast.Stmt) {
	switch v.Kind() {
	case reflect.Interface:
		if v.IsNil() || !v.Type().Implements(nodeType) {
			return
		}
		replaceStatements(v.Elem(), f)
		if v.Type() == statementType {
			old := v.Interface().(ast.Stmt)
			if s := f(old); s != old {
				v.Set(reflect.ValueOf(s))
			}
		}
	case reflect.Pointer:
		if v.IsNil() || !v.Type().Implements(nodeType) {
			return
		}
		for i := range v.Elem().NumField() {
			replaceStatements(v.Elem().Field(i), f)
		}
	case reflect.Slice:
		for i := range v.Len() {
			replaceStatements(v.Index(i), f)
		}
	}
}
