package rewrite

import (
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"strings"

	"cobber/kernel/session/check"
	"cobber/stdlib/quantity"
)

// measure is what is known of the dimension of an expression.
type measure struct {
	dimension quantity.Dimension
	unit      string // as the user wrote it, or empty
	zero      bool   // the number 0, which goes with every dimension
}

func (m measure) String() string {
	unit := m.unit
	if unit == "" {
		unit = m.dimension.Example()
	}
	if m.dimension.IsOne() && (unit == "" || unit == "1") {
		return "a number without a unit"
	}
	return m.dimension.String() + " (" + unit + ")"
}

// dimensions follows dimensions from literals, constants and variables through
// the arithmetic of a cell. What it does not know it leaves to the arithmetic
// itself, which checks when the line runs.
type dimensions struct {
	r       *check.Round
	options Options
	values  map[types.Object][]ast.Expr // what each variable is assigned
	spoiled map[types.Object]bool       // variables that may change in ways not followed
	asked   map[types.Object]bool       // on the way, against circles

	functions  map[types.Object]*ast.FuncDecl // of the cell
	parameters map[types.Object]measure       // of the call that is followed
	open       map[types.Object]bool          // slices and structs whose parts may change, and such fields
}

// checkDimensions reports sums, differences and comparisons of quantities that
// are known to have unlike dimensions.
func checkDimensions(r *check.Round, options Options) {
	if r.Quantity == nil {
		return
	}
	d := &dimensions{r: r, options: options, values: make(map[types.Object][]ast.Expr),
		spoiled: make(map[types.Object]bool), asked: make(map[types.Object]bool),
		functions: make(map[types.Object]*ast.FuncDecl), open: make(map[types.Object]bool)}
	for _, decl := range r.Tree.File.Decls {
		ast.Inspect(decl, d.collect)
		d.collectParts(decl)
	}
	for _, decl := range r.Tree.File.Decls {
		ast.Inspect(decl, d.check)
	}
}

// collect notes what variables are assigned.
func (d *dimensions) collect(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.FuncDecl:
		if object := d.r.Info.Defs[n.Name]; object != nil && n.Recv == nil {
			d.functions[object] = n
		}
	case *ast.ValueSpec:
		for i, name := range n.Names {
			d.assign(name, valueFor(n.Values, len(n.Names), i))
		}
	case *ast.AssignStmt:
		d.collectAssign(n)
	case *ast.RangeStmt:
		d.assign(n.Key, nil)
		d.assign(n.Value, &ast.IndexExpr{X: n.X}) // an element
	case *ast.UnaryExpr:
		if n.Op == token.AND {
			d.assign(n.X, nil)
		}
	}
	return true
}

func (d *dimensions) collectAssign(s *ast.AssignStmt) {
	for i, x := range s.Lhs {
		switch {
		case s.Tok == token.ADD_ASSIGN || s.Tok == token.SUB_ASSIGN:
			// What is added has the dimension that the variable has.
		case s.Tok != token.ASSIGN && s.Tok != token.DEFINE:
			d.assign(x, nil)
		default:
			value := valueFor(s.Rhs, len(s.Lhs), i)
			if !d.r.Tree.Defines(x) || d.isReused(x, value) {
				d.assign(x, value)
			}
		}
	}
}

// isReused tells whether a := gives a further value to a variable that an
// earlier statement of the cell defined. The value it was defined with is
// noted from its declaration.
func (d *dimensions) isReused(x, value ast.Expr) bool {
	object := d.object(x)
	for _, known := range d.values[object] {
		if known == value {
			return false
		}
	}
	return object != nil
}

// valueFor returns the value that the i-th of n names gets, or nil if it is not
// followed. The first of several results of a call is.
func valueFor(values []ast.Expr, n, i int) ast.Expr {
	if len(values) == n {
		return values[i]
	}
	if i == 0 && len(values) == 1 {
		if call, ok := ast.Unparen(values[0]).(*ast.CallExpr); ok {
			return call
		}
	}
	return nil
}

func (d *dimensions) object(x ast.Expr) types.Object {
	if x == nil {
		return nil
	}
	id, ok := ast.Unparen(x).(*ast.Ident)
	if !ok {
		return nil
	}
	return d.r.Info.ObjectOf(id)
}

// assign notes a value; nil is one that is not followed.
func (d *dimensions) assign(x, value ast.Expr) {
	object := d.object(x)
	switch {
	case object == nil:
	case value == nil:
		d.spoiled[object] = true
	default:
		d.values[object] = append(d.values[object], value)
	}
}

// check looks at one place where dimensions must be alike.
func (d *dimensions) check(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.BinaryExpr:
		if n.Op == token.ADD || n.Op == token.SUB || compares(n.Op) {
			d.alike(n.Op, n.OpPos, n.X, n.Y)
		}
	case *ast.AssignStmt:
		if n.Tok == token.ADD_ASSIGN || n.Tok == token.SUB_ASSIGN {
			d.alike(n.Tok, n.TokPos, n.Lhs[0], n.Rhs[0])
		}
		d.ignored(n)
	case *ast.IncDecStmt:
		d.step(n)
	case *ast.SwitchStmt:
		d.cases(n)
	case *ast.CallExpr:
		d.elementary(n)
		d.conversions(n)
		d.together(n)
	}
	return true
}

func (d *dimensions) alike(op token.Token, pos token.Pos, x, y ast.Expr) {
	if !isQuantity(d.r, d.r.Info.Types[x].Type) && !isQuantity(d.r, d.r.Info.Types[y].Type) {
		return
	}
	a, ok1 := d.of(x)
	b, ok2 := d.of(y)
	if !ok1 || !ok2 || a.zero || b.zero || a.dimension.Equal(b.dimension) {
		return
	}
	text := "cannot compare " + a.String() + " with " + b.String()
	switch op {
	case token.ADD, token.ADD_ASSIGN:
		text = "cannot add " + a.String() + " and " + b.String()
	case token.SUB, token.SUB_ASSIGN:
		text = "cannot subtract " + b.String() + " from " + a.String()
	}
	d.r.Tree.Fault(check.Dimensions, pos, len(op.String()), text, "")
}

func (d *dimensions) step(s *ast.IncDecStmt) {
	m, ok := d.of(s.X)
	if !ok || m.dimension.IsOne() || !isQuantity(d.r, d.r.Info.Types[s.X].Type) {
		return
	}
	unit := m.unit
	if unit == "" {
		unit = m.dimension.Example()
	}
	op := s.Tok.String()[:1]
	d.r.Tree.Fault(check.Dimensions, s.TokPos, 2, s.Tok.String()+" adds a number without a unit to "+m.String(),
		"Write the step with its unit: "+types.ExprString(s.X)+" "+op+"= 1`"+unit+"`.")
}

func (d *dimensions) cases(s *ast.SwitchStmt) {
	if s.Tag == nil {
		return
	}
	for _, clause := range s.Body.List {
		for _, x := range clause.(*ast.CaseClause).List {
			d.alike(token.EQL, x.Pos(), s.Tag, x)
		}
	}
}

// of returns what is known of an expression.
func (d *dimensions) of(x ast.Expr) (measure, bool) {
	if value := d.r.Info.Types[x].Value; value != nil {
		if value.Kind() != constant.Int && value.Kind() != constant.Float {
			return measure{}, false
		}
		return measure{zero: constant.Sign(value) == 0}, true
	}
	switch x := x.(type) {
	case *ast.ParenExpr:
		return d.of(x.X)
	case *ast.UnaryExpr:
		if x.Op == token.ADD || x.Op == token.SUB {
			return d.of(x.X)
		}
	case *ast.BinaryExpr:
		return d.binary(x.Op, x.X, x.Y)
	case *ast.CallExpr:
		return d.call(x)
	case *ast.Ident:
		return d.variable(x)
	case *ast.SelectorExpr:
		return d.field(x)
	case *ast.IndexExpr:
		return d.element(x.X)
	}
	return measure{}, false
}

func (d *dimensions) binary(op token.Token, x, y ast.Expr) (measure, bool) {
	a, ok1 := d.of(x)
	b, ok2 := d.of(y)
	switch op {
	case token.ADD, token.SUB:
		if ok1 && !a.zero {
			return a, true
		}
		return b, ok2
	case token.MUL:
		if ok1 && ok2 && b.dimension.IsOne() && b.unit == "" {
			return a, true // the unit as written stays
		}
		if ok1 && ok2 && a.dimension.IsOne() && a.unit == "" {
			return b, true
		}
		return measure{dimension: a.dimension.Mul(b.dimension)}, ok1 && ok2 && !a.zero && !b.zero
	case token.QUO:
		if ok1 && ok2 && b.dimension.IsOne() && b.unit == "" {
			return a, true
		}
		return measure{dimension: a.dimension.Div(b.dimension)}, ok1 && ok2 && !a.zero && !b.zero
	}
	return measure{}, false
}

func (d *dimensions) variable(id *ast.Ident) (measure, bool) {
	object, ok := d.r.Info.ObjectOf(id).(*types.Var)
	if m, isParameter := d.parameters[object]; isParameter && ok && len(d.values[object]) == 0 && !d.spoiled[object] {
		return m, true
	}
	if !ok || d.spoiled[object] || d.asked[object] || !isQuantity(d.r, object.Type()) {
		return measure{}, false
	}
	values := d.values[object]
	if object.Pkg() != d.r.Package {
		return d.earlier(object, len(values))
	}
	if len(values) != 1 || d.isShared(object) {
		return measure{}, false
	}
	d.asked[object] = true
	defer delete(d.asked, object)
	return d.of(values[0])
}

// earlier asks for the value a variable has now. That tells the dimension it
// has in this cell only if nothing else than a definition ever assigns it.
func (d *dimensions) earlier(object *types.Var, assigned int) (measure, bool) {
	name := strings.TrimSuffix(object.Name(), check.Earlier)
	known, ok := d.r.State.Lookup(name)
	if !ok || !known.Steady || assigned > 0 || d.options.Dimension == nil {
		return measure{}, false
	}
	dimension, ok := d.options.Dimension(name)
	m := measure{dimension: dimension}
	if ok && d.options.Unit != nil {
		m.unit = d.options.Unit(name)
	}
	return m, ok
}

func (d *dimensions) unitOf(args []ast.Expr) (measure, bool) {
	value := d.r.Info.Types[args[len(args)-1]].Value
	if value == nil || value.Kind() != constant.String {
		return measure{}, false
	}
	text := constant.StringVal(value)
	unit, err := quantity.ParseUnit(text)
	if err != nil {
		return measure{}, false
	}
	return measure{dimension: unit.Dimension(), unit: text}, true
}
