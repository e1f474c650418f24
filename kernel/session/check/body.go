package check

import (
	"go/ast"
	"go/types"

	"cobber/kernel/session/parse"
	"cobber/kernel/source"
)

// Body is the text of a session function, and what its names meant when it was
// declared.
type Body struct {
	Cell  source.Cell
	means map[string]meaning
}

// meaning is what a name stands for: an object of the session, a package, or,
// with neither, something of Go's own.
type meaning struct {
	object types.Object
	path   string
}

// ShownFunction is a copy of a function of an earlier cell.
type ShownFunction struct {
	Decl *ast.FuncDecl
	Cell *parse.Cell // that it was declared in, parsed again
}

// bodies notes where the functions of a cell have their text.
func (r *Round) bodies(p *Program) {
	p.bodies = make(map[string]*Body)
	for _, d := range r.Tree.Cell.Decls {
		f, ok := d.(*ast.FuncDecl)
		if !ok || f.Recv != nil || f.Body == nil || f.Type.TypeParams != nil || r.Tree.Cell.Program {
			continue
		}
		b := &Body{Cell: r.Tree.Cell.Source, means: make(map[string]meaning)}
		ast.Inspect(f, func(n ast.Node) bool {
			if id, ok := n.(*ast.Ident); ok {
				r.noteMeaning(b, id)
			}
			return true
		})
		p.bodies[f.Name.Name] = b
	}
}

func (r *Round) noteMeaning(b *Body, id *ast.Ident) {
	switch object := r.Info.Uses[id].(type) {
	case nil:
	case *types.PkgName:
		b.means[id.Name] = meaning{path: object.Imported().Path()}
	default:
		switch object.Parent() {
		case types.Universe:
			b.means[id.Name] = meaning{}
		case r.Package.Scope():
			b.means[id.Name] = meaning{object: object}
		default:
			if object.Pkg() != nil && object.Pkg() != r.Package && object.Pkg().Path() == "main" && object.Parent() == object.Pkg().Scope() {
				b.means[id.Name] = meaning{object: object}
			}
		}
	}
}

// stands tells whether every name of a body means in this cell what it meant
// where the function was declared.
func (t *Tree) stands(state *State, b *Body) bool {
	for name, was := range b.means {
		known, ok := state.Lookup(name)
		if name == parse.Quantities || name == QuantityType || name == Elementary {
			continue
		}
		path, isLibrary := library[name]
		if own, ok := t.imports[name]; ok {
			known, isLibrary = Name{Import: own.path}, false
			if was.path != own.path {
				return false
			}
			continue
		}
		switch {
		case t.Declared[name]:
			return false
		case ok && known.Object != was.object, ok && known.Import != was.path:
			return false
		case !ok && was.object != nil, !ok && was.path != "" && !(isLibrary && path == was.path):
			return false
		}
	}
	return true
}

// Mark is put behind the name of a copy. No cell can write it.
const Mark = "··"

// ShowFunctions puts copies of the session's functions that the cell calls into
// its tree, and has the cell call them. It reports whether there are any.
// Functions are left alone whose names have come to mean something else, and
// names that the cell uses for anything but calls.
func (t *Tree) ShowFunctions(state *State) bool {
	for name, calls := range t.calls() {
		known, ok := state.Lookup(name)
		if !ok || known.Body == nil || t.Declared[name] || !t.stands(state, known.Body) {
			continue
		}
		cell, err := parse.Parse(state.Set, known.Body.Cell)
		if err != nil {
			continue // it has been parsed before
		}
		for _, d := range cell.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok || f.Recv != nil || f.Name.Name != name {
				continue
			}
			f.Name.Name += Mark
			t.Shown = append(t.Shown, ShownFunction{f, cell})
			t.decls = append(t.decls, f)
			t.File.Decls = append(t.File.Decls, f)
			for _, id := range calls {
				id.Name = f.Name.Name
			}
		}
	}
	return len(t.Shown) > 0
}

// calls returns the names that the cell's statements use for calls alone.
func (t *Tree) calls() map[string][]*ast.Ident {
	calls := make(map[string][]*ast.Ident)
	called := make(map[*ast.Ident]bool)
	other := make(map[string]bool)
	visit := func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.CallExpr:
			if id, ok := n.Fun.(*ast.Ident); ok && !called[id] {
				called[id] = true
				calls[id.Name] = append(calls[id.Name], id)
			}
		case *ast.Ident:
			if !called[n] {
				other[n.Name] = true
			}
		}
		return true
	}
	for _, d := range t.decls {
		ast.Inspect(d, visit)
	}
	ast.Inspect(t.entry.Body, visit)
	for name := range other {
		delete(calls, name)
	}
	return calls
}
