package rewrite

import (
	"go/ast"
	"go/token"
	"go/types"

	"cobber/kernel/session/check"
	"cobber/kernel/session/parse"
)

// wrapper finds numbers that stand beside a quantity and makes quantities
// without a dimension of them. Go gives untyped constants the type they need;
// a variable of type float64 or int it does not.
type wrapper struct {
	r       *check.Round
	known   map[types.Object]bool // variables whose type was not found, and which will be quantities
	changed bool
}

// wrapNumbers wraps operands in a conversion that go/types accepts. It changes
// every expression it can follow in one go, through variables too.
func wrapNumbers(r *check.Round) bool {
	if r.Quantity == nil || !r.HasErrors() {
		return false
	}
	w := &wrapper{r: r, known: make(map[types.Object]bool)}
	for {
		before := len(w.known)
		for _, d := range r.Tree.File.Decls {
			w.walk(d)
		}
		if len(w.known) == before {
			return w.changed
		}
	}
}

func (w *wrapper) walk(root ast.Node) {
	parse.Replace(root, func(x ast.Expr) ast.Expr {
		if b, ok := x.(*ast.BinaryExpr); ok && operates(b.Op) {
			w.pair(&b.X, &b.Y)
		}
		return x
	})
	ast.Inspect(root, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.AssignStmt:
			w.assign(n)
		case *ast.ValueSpec:
			if n.Type == nil && len(n.Names) == len(n.Values) {
				for i, name := range n.Names {
					w.learn(name, n.Values[i])
				}
			}
		}
		return true
	})
}

func (w *wrapper) assign(s *ast.AssignStmt) {
	switch s.Tok {
	case token.ADD_ASSIGN, token.SUB_ASSIGN, token.MUL_ASSIGN, token.QUO_ASSIGN:
		if len(s.Lhs) == 1 && len(s.Rhs) == 1 && w.isQuantity(s.Lhs[0]) {
			w.wrap(&s.Rhs[0])
		}
	case token.DEFINE:
		if len(s.Lhs) == len(s.Rhs) {
			for i, x := range s.Lhs {
				if id, ok := x.(*ast.Ident); ok {
					w.learn(id, s.Rhs[i])
				}
			}
		}
	}
}

// learn notes that a variable will be a quantity once its value is one.
func (w *wrapper) learn(name *ast.Ident, value ast.Expr) {
	object := w.r.Info.Defs[name]
	if object == nil || !isInvalid(object.Type()) || !w.isQuantity(value) {
		return
	}
	w.known[object] = true
}

func operates(op token.Token) bool {
	switch op {
	case token.ADD, token.SUB, token.MUL, token.QUO,
		token.EQL, token.NEQ, token.LSS, token.LEQ, token.GTR, token.GEQ:
		return true
	}
	return false
}

func compares(op token.Token) bool {
	return operates(op) && op != token.ADD && op != token.SUB && op != token.MUL && op != token.QUO
}

// pair wraps the one of two operands that is a number if the other is a quantity.
func (w *wrapper) pair(x, y *ast.Expr) {
	switch {
	case w.isQuantity(*x):
		w.wrap(y)
	case w.isQuantity(*y):
		w.wrap(x)
	}
}

func (w *wrapper) wrap(x *ast.Expr) {
	tv, ok := w.r.Info.Types[*x]
	if !ok || tv.Value != nil && isUntyped(tv.Type) || !isNumber(tv.Type) || w.isQuantity(*x) {
		return
	}
	*x = &ast.CallExpr{
		Fun:    &ast.Ident{NamePos: (*x).Pos(), Name: check.QuantityType},
		Lparen: (*x).Pos(), Args: []ast.Expr{*x}, Rparen: (*x).End(),
	}
	w.changed = true
}

// isNumber tells the types of Go's own numbers. A named type such as
// time.Duration is more than a number and is left to an error.
func isNumber(t types.Type) bool {
	b, ok := types.Unalias(t).(*types.Basic)
	return ok && b.Info()&(types.IsInteger|types.IsFloat) != 0 && b.Info()&types.IsUntyped == 0
}

func isUntyped(t types.Type) bool {
	b, ok := t.(*types.Basic)
	return ok && b.Info()&types.IsUntyped != 0
}

func isInvalid(t types.Type) bool { return t == nil || t == types.Typ[types.Invalid] }

// isQuantity tells whether an expression is a quantity, or will be one after
// the changes made so far.
func (w *wrapper) isQuantity(x ast.Expr) bool {
	if tv, ok := w.r.Info.Types[x]; ok && !isInvalid(tv.Type) {
		return types.Identical(tv.Type, w.r.Quantity)
	}
	switch x := x.(type) {
	case *ast.Ident:
		object := w.r.Info.Uses[x]
		if object == nil {
			return false
		}
		return w.known[object] || !isInvalid(object.Type()) && types.Identical(object.Type(), w.r.Quantity)
	case *ast.ParenExpr:
		return w.isQuantity(x.X)
	case *ast.UnaryExpr:
		return (x.Op == token.SUB || x.Op == token.ADD) && w.isQuantity(x.X)
	case *ast.BinaryExpr:
		return operates(x.Op) && !compares(x.Op) && (w.isQuantity(x.X) || w.isQuantity(x.Y))
	case *ast.CallExpr:
		id, ok := x.Fun.(*ast.Ident)
		return ok && (id.Name == check.QuantityType || id.Name == check.Elementary)
	}
	return false
}
