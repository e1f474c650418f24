package stale

import (
	"go/ast"
	"go/token"
	"go/types"
	"strings"

	"cobber/kernel/session/check"
)

// An effect is what a piece of code does to the names of the session.
type effect struct {
	reads, writes map[string]bool
	calls         map[*types.Func]bool // functions and methods of cells that it mentions
}

func newEffect() *effect {
	return &effect{reads: map[string]bool{}, writes: map[string]bool{}, calls: map[*types.Func]bool{}}
}

// A reader collects effects from one program.
type reader struct {
	program *check.Program
	effect  *effect
	own     bool // names of the program itself count too
}

// effects returns what the statements of a program do, and what each function
// that it declares does when it is called.
func effects(p *check.Program) (cell *effect, functions map[*types.Func]*effect) {
	cell, functions = newEffect(), map[*types.Func]*effect{}
	for _, file := range p.Files {
		for _, d := range file.Decls {
			r := &reader{program: p, effect: cell}
			if f, ok := d.(*ast.FuncDecl); ok && f.Name.Name != p.Entry {
				if object, ok := p.Info.Defs[f.Name].(*types.Func); ok {
					functions[object] = newEffect()
					r = &reader{program: p, effect: functions[object], own: true}
				}
			}
			ast.Inspect(d, r.visit)
		}
	}
	return cell, functions
}

func (r *reader) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.Ident:
		r.use(n)
	case *ast.AssignStmt:
		for _, x := range n.Lhs {
			r.assigned(x)
		}
		if n.Tok == token.ASSIGN { // what is only assigned is not read
			for _, x := range n.Lhs {
				if _, plain := ast.Unparen(x).(*ast.Ident); !plain {
					ast.Inspect(x, r.visit)
				}
			}
			for _, x := range n.Rhs {
				ast.Inspect(x, r.visit)
			}
			return false
		}
	case *ast.IncDecStmt:
		r.assigned(n.X)
	case *ast.RangeStmt:
		if n.Tok == token.ASSIGN {
			r.assigned(n.Key)
			r.assigned(n.Value)
		}
	case *ast.UnaryExpr:
		if n.Op == token.AND {
			r.assigned(n.X)
		}
	case *ast.SelectorExpr:
		r.method(n)
	}
	return true
}

func (r *reader) use(id *ast.Ident) {
	object := r.program.Info.Uses[id]
	if f, ok := object.(*types.Func); ok && f.Pkg() != nil && f.Pkg().Path() == r.program.Package.Path() {
		r.effect.calls[f.Origin()] = true
	}
	if name, ok := r.name(object); ok {
		r.effect.reads[name] = true
	}
}

// name is the name under which the session knows an object.
func (r *reader) name(object types.Object) (string, bool) {
	if object == nil || object.Pkg() == nil || object.Pkg().Path() != r.program.Package.Path() || object.Parent() != object.Pkg().Scope() {
		return "", false
	}
	if object.Pkg() == r.program.Package && !r.own {
		return "", false
	}
	if _, isImport := object.(*types.PkgName); isImport {
		return "", false
	}
	name := strings.TrimSuffix(object.Name(), check.Earlier)
	return name, !strings.Contains(name, "·")
}

// assigned notes the variable of which x is the whole or a part.
func (r *reader) assigned(x ast.Expr) {
	id := check.Root(x)
	if id == nil {
		return
	}
	if object, ok := r.program.Info.Uses[id].(*types.Var); ok {
		if name, ok := r.name(object); ok {
			r.effect.writes[name] = true
		}
	}
}

// method notes a variable whose address a method takes, to change it.
func (r *reader) method(x *ast.SelectorExpr) {
	selection := r.program.Info.Selections[x]
	if selection == nil || selection.Kind() != types.MethodVal {
		return
	}
	f, ok := selection.Obj().(*types.Func)
	if !ok || f.Signature().Recv() == nil {
		return
	}
	_, wantsPointer := f.Signature().Recv().Type().(*types.Pointer)
	_, isPointer := selection.Recv().Underlying().(*types.Pointer)
	if wantsPointer && !isPointer {
		r.assigned(x.X)
	}
}
