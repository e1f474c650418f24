package check

import (
	"go/ast"
	"go/token"
	"go/types"
	"strconv"
)

// Functions that later stages put into trees. They have no text: package run
// knows them by name, and does what they stand for.
const (
	// Note tells the session of values as the cell runs: func(step int, values ...any).
	Note = "note·"
	// Input lets a value be set from outside: func(name string, variable any), with a pointer.
	Input = "input·"
	// NameInput names the uncertain input that a variable holds, if it has no name yet: func(name string, variable any), with a pointer.
	NameInput = "name·"
	// Elementary stands for a function of package math with quantities for arguments: func(name string, arguments ...Quantity) Quantity.
	Elementary = "elementary·"
)

// insertHook puts one of these functions into scope if name is one.
func (r *Round) insertHook(name string) bool {
	variable := func(name string, t types.Type) *types.Var { return types.NewParam(token.NoPos, r.Companion, name, t) }
	anything := types.Universe.Lookup("any").Type()
	var parameters, results []*types.Var
	switch name {
	case Note:
		parameters = []*types.Var{variable("step", types.Typ[types.Int]), variable("values", types.NewSlice(anything))}
	case Input, NameInput:
		parameters = []*types.Var{variable("name", types.Typ[types.String]), variable("variable", anything)}
	case Elementary:
		q := r.State.Importer.Quantity()
		if q == nil {
			return false
		}
		parameters = []*types.Var{variable("name", types.Typ[types.String]), variable("arguments", types.NewSlice(q))}
		results = []*types.Var{variable("", q)}
	default:
		return false
	}
	variadic := name == Note || name == Elementary
	signature := types.NewSignatureType(nil, nil, nil, types.NewTuple(parameters...), types.NewTuple(results...), variadic)
	f := types.NewFunc(token.NoPos, r.Companion, name, signature)
	r.Companion.Scope().Insert(f)
	r.Package.Scope().Insert(f)
	return true
}

// Entry returns the body of the function that runs the cell's statements, with
// the statements that count them among it.
func (t *Tree) Entry() *ast.BlockStmt { return t.entry.Body }

// Keeps notes that a mention of a variable put into the tree does not change
// what the variable is known to be.
func (t *Tree) Keeps(id *ast.Ident) { t.defining[id] = true }

// Hook returns the call of a hook with the name of a variable and its place.
func Hook(t *Tree, hook string, variable *ast.Ident, pos token.Pos) ast.Stmt {
	id := &ast.Ident{NamePos: pos, Name: variable.Name}
	t.Keeps(id)
	return &ast.ExprStmt{X: &ast.CallExpr{
		Fun: &ast.Ident{NamePos: pos, Name: hook}, Lparen: pos, Rparen: pos,
		Args: []ast.Expr{
			&ast.BasicLit{ValuePos: pos, Kind: token.STRING, Value: strconv.Quote(variable.Name)},
			&ast.UnaryExpr{OpPos: pos, Op: token.AND, X: id},
		},
	}}
}
