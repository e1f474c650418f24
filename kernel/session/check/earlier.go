package check

import (
	"go/ast"
	"go/token"
	"go/types"
	"strings"
)

// EarlyUses returns the names in statements that stand before the definition
// they would refer to. In a statement, as in a function of Go, a name is known
// from its definition on; before it means what it meant before the cell.
func (r *Round) EarlyUses() []*ast.Ident {
	scopes := make(map[types.Object]token.Pos, len(r.Tree.Vars))
	for _, v := range r.Tree.Vars {
		if object := r.Info.Defs[v.Name]; object != nil {
			scopes[object] = v.Scope
		}
	}
	if len(scopes) == 0 {
		return nil
	}
	var early []*ast.Ident
	ast.Inspect(r.Tree.entry.Body, func(n ast.Node) bool {
		id, ok := n.(*ast.Ident)
		if !ok || r.Tree.defining[id] {
			return true
		}
		if from, ok := scopes[r.Info.Uses[id]]; ok && id.Pos() < from {
			early = append(early, id)
		}
		return true
	})
	return early
}

// Redefined tells whether a statement of the cell defines the name.
func (t *Tree) Redefined(name string) (line int, ok bool) {
	for _, v := range t.Vars {
		if v.Name.Name == name {
			return t.Cell.Source.At(t.Cell.Offset(v.Name.Pos())).Line, true
		}
	}
	return 0, false
}

// ofEarlierCells says of which cell a type is, where the message names a type
// that the name no longer stands for. go/types writes all types of earlier
// cells as main.T; the type of the operand in brackets, the one wanted outside.
func (r *Round) ofEarlierCells(msg string, pos token.Pos) string {
	const qualified = "main."
	if !strings.Contains(msg, qualified) {
		return msg
	}
	operand := r.oldTypes(func(x ast.Expr) bool { return x.Pos() == pos })
	statement := r.statementAt(pos)
	others := r.oldTypes(func(x ast.Expr) bool { return statement.Pos() <= x.Pos() && x.End() <= statement.End() })
	var b strings.Builder
	depth := 0
	for i := 0; i < len(msg); i++ {
		switch msg[i] {
		case '(':
			depth++
		case ')':
			depth--
		}
		if !strings.HasPrefix(msg[i:], qualified) || i > 0 && isNameByte(msg[i-1]) {
			b.WriteByte(msg[i])
			continue
		}
		i += len(qualified)
		end := i
		for end < len(msg) && isNameByte(msg[end]) {
			end++
		}
		b.WriteString(msg[i:end])
		if cell := cellOf(msg[i:end], depth > 0, operand, others); cell != "" {
			b.WriteString(" of " + cell)
		}
		i = end - 1
	}
	return b.String()
}

// cellOf chooses the cell to name for one mention of a type.
func cellOf(name string, isOperand bool, operand, others map[string]string) string {
	if isOperand && operand[name] != "" {
		return operand[name]
	}
	if isOperand || others[name] != operand[name] {
		return others[name]
	}
	return ""
}

// statementAt returns the smallest statement or declaration around a place.
func (r *Round) statementAt(pos token.Pos) (found ast.Node) {
	found = r.Tree.File
	ast.Inspect(r.Tree.File, func(n ast.Node) bool {
		switch n.(type) {
		case ast.Stmt, ast.Spec, *ast.FuncDecl:
			if n.Pos() <= pos && pos <= n.End() {
				found = n
			}
		}
		return true
	})
	return found
}

func isNameByte(c byte) bool {
	return c == '_' || c >= 0x80 || '0' <= c && c <= '9' || 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z'
}

// oldTypes returns, for the types in chosen expressions whose names stand for
// other types by now, the cells that declared them.
func (r *Round) oldTypes(chosen func(ast.Expr) bool) map[string]string {
	old := make(map[string]string)
	for x, tv := range r.Info.Types {
		if tv.Type == nil || !chosen(x) {
			continue
		}
		eachNamed(tv.Type, make(map[types.Type]bool), func(n *types.TypeName) {
			if n.Pkg() == nil || n.Pkg().Path() != "main" || n.Pkg() == r.Package || n.Parent() != n.Pkg().Scope() {
				return
			}
			if r.means(n.Name()) == types.Object(n) {
				return
			}
			if at, ok := r.State.Set.Position(n.Pos()); ok && old[n.Name()] <= at.Cell {
				old[n.Name()] = at.Cell
			}
		})
	}
	return old
}

// means returns the object that a name stands for in the cell.
func (r *Round) means(name string) types.Object {
	if object := r.Package.Scope().Lookup(name); object != nil {
		return object
	}
	known, _ := r.State.Lookup(name)
	return known.Object
}

// eachNamed calls f for the declared types that a type is made of.
func eachNamed(t types.Type, seen map[types.Type]bool, f func(*types.TypeName)) {
	if t == nil || seen[t] {
		return
	}
	seen[t] = true
	switch t := t.(type) {
	case *types.Named:
		f(t.Obj())
		for i := range t.TypeArgs().Len() {
			eachNamed(t.TypeArgs().At(i), seen, f)
		}
	case *types.Pointer:
		eachNamed(t.Elem(), seen, f)
	case *types.Slice:
		eachNamed(t.Elem(), seen, f)
	case *types.Array:
		eachNamed(t.Elem(), seen, f)
	case *types.Chan:
		eachNamed(t.Elem(), seen, f)
	case *types.Map:
		eachNamed(t.Key(), seen, f)
		eachNamed(t.Elem(), seen, f)
	case *types.Signature:
		eachNamed(t.Params(), seen, f)
		eachNamed(t.Results(), seen, f)
	case *types.Tuple:
		for i := range t.Len() {
			eachNamed(t.At(i).Type(), seen, f)
		}
	}
}
