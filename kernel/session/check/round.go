package check

import (
	"go/ast"
	"go/token"
	"go/types"
	"runtime"
	"strings"

	"cobber/kernel/session/parse"
)

// goVersion is the language that cells are written in.
const goVersion = "go1.26"

// Round is one pass of go/types over a tree.
type Round struct {
	Tree      *Tree
	State     *State
	Package   *types.Package
	Companion *types.Package
	Info      *types.Info
	Quantity  *types.Named // the type of quantities, or nil if nothing in the session knows it

	errors   []types.Error
	imported []*types.Package
	reuse    map[*types.Var]*types.Var
	progress *types.Var
}

// Check runs go/types over the tree, with the names of the session that it
// mentions in scope.
func Check(state *State, t *Tree) *Round {
	r := &Round{
		Tree: t, State: state,
		Package:   types.NewPackage("main", "main"),
		Companion: types.NewPackage("main", "main"),
		Info:      newInfo(),
		reuse:     make(map[*types.Var]*types.Var),
	}
	r.progress = types.NewVar(token.NoPos, r.Companion, progressName, types.Typ[types.Int])
	r.Companion.Scope().Insert(r.progress)
	r.Package.Scope().Insert(r.progress)
	r.mention()
	r.shieldTypes()
	r.Companion.MarkComplete()
	r.Quantity = state.Importer.Quantity()
	config := types.Config{
		Importer:  state.Importer,
		GoVersion: goVersion,
		Sizes:     types.SizesFor("gc", runtime.GOARCH),
		Error:     func(err error) { r.errors = append(r.errors, err.(types.Error)) },
	}
	// The error is the first of those that Error collects.
	_ = types.NewChecker(&config, state.Set.Fset, r.Package, r.Info).Files([]*ast.File{t.File})
	r.Package.SetImports(r.imported)
	return r
}

func newInfo() *types.Info {
	return &types.Info{
		Types:        make(map[ast.Expr]types.TypeAndValue),
		Instances:    make(map[*ast.Ident]types.Instance),
		Defs:         make(map[*ast.Ident]types.Object),
		Uses:         make(map[*ast.Ident]types.Object),
		Implicits:    make(map[ast.Node]types.Object),
		Selections:   make(map[*ast.SelectorExpr]*types.Selection),
		Scopes:       make(map[ast.Node]*types.Scope),
		FileVersions: make(map[*ast.File]string),
	}
}

// mention puts every session name that the tree mentions into the scope of the
// package. The cost is that of the cell, however long the session.
func (r *Round) mention() {
	seen := make(map[string]bool)
	var visit func(n ast.Node) bool
	visit = func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.SelectorExpr:
			ast.Inspect(n.X, visit)
			return false
		case *ast.Ident:
			if !seen[n.Name] {
				seen[n.Name] = true
				r.insert(n.Name)
			}
		}
		return true
	}
	for _, d := range r.Tree.File.Decls {
		ast.Inspect(d, visit)
	}
}

// shieldTypes writes type A B as type A (B) where B is not declared in the cell: the checker looks
// for cycles of declarations by name in the scope of the package, and takes all it finds there for
// declared in the cell.
func (r *Round) shieldTypes() {
	for _, d := range r.Tree.File.Decls {
		g, ok := d.(*ast.GenDecl)
		if !ok {
			continue
		}
		for _, s := range g.Specs {
			t, ok := s.(*ast.TypeSpec)
			if !ok {
				continue
			}
			if name, ok := t.Type.(*ast.Ident); ok && !r.Tree.Declared[name.Name] {
				t.Type = &ast.ParenExpr{Lparen: name.Pos(), X: name, Rparen: name.End()}
			}
		}
	}
}

// insert puts what a name means before the cell into scope, unless the cell
// declares the name.
func (r *Round) insert(name string) {
	scope := r.Package.Scope()
	if plain, ok := strings.CutSuffix(name, Earlier); ok {
		r.insertEarlier(plain, name)
		return
	}
	switch name {
	case parse.Quantities:
		r.insertPackage(name, QuantityPath)
		return
	case QuantityType:
		if q := r.State.Importer.Quantity(); q != nil {
			scope.Insert(types.NewTypeName(token.NoPos, r.Package, name, q))
		}
		return
	}
	if r.insertHook(name) || r.Tree.Declared[name] {
		return
	}
	if own, ok := r.Tree.imports[name]; ok {
		r.insertPackage(name, own.path)
		return
	}
	known, ok := r.State.Lookup(name)
	switch {
	case ok && known.Object != nil:
		scope.Insert(known.Object)
	case ok:
		r.insertPackage(name, known.Import)
	default:
		r.insertUnnamed(name)
	}
}

// insertUnnamed looks a name up that the session has not given: among dot
// imports and the packages of the library.
func (r *Round) insertUnnamed(name string) {
	for _, dots := range [][]*types.Package{r.Tree.dots, r.State.dots} {
		for _, pkg := range dots {
			if object := pkg.Scope().Lookup(name); object != nil && object.Exported() {
				r.Package.Scope().Insert(object)
				r.remember(pkg)
				return
			}
		}
	}
	if path, ok := library[name]; ok {
		r.insertPackage(name, path)
	}
}

func (r *Round) insertPackage(name, path string) {
	pkg, err := r.State.Importer.Import(path)
	if err != nil {
		return // the name stays undefined, which go/types will say
	}
	r.Package.Scope().Insert(types.NewPkgName(token.NoPos, r.Package, name, pkg))
	r.remember(pkg)
}

func (r *Round) remember(pkg *types.Package) {
	for _, known := range r.imported {
		if known == pkg {
			return
		}
	}
	r.imported = append(r.imported, pkg)
}

// insertEarlier puts into scope, under a hidden name, what a name meant before
// the cell. Package rewrite asks only for names that CanBeEarlier allows.
func (r *Round) insertEarlier(name, hidden string) {
	scope := r.Package.Scope()
	known, ok := r.State.Lookup(name)
	if !ok {
		if path, ok := library[name]; ok {
			r.insertPackage(hidden, path)
		}
		return
	}
	switch object := known.Object.(type) {
	case nil:
		r.insertPackage(hidden, known.Import)
	case *types.Var:
		v := types.NewVar(object.Pos(), r.Companion, hidden, object.Type())
		r.Companion.Scope().Insert(v)
		scope.Insert(v)
		r.reuse[v] = object
	case *types.Const:
		scope.Insert(types.NewConst(object.Pos(), r.Package, hidden, object.Type(), object.Val()))
	case *types.TypeName:
		scope.Insert(types.NewTypeName(object.Pos(), r.Package, hidden, object.Type()))
	}
}

// CanBeEarlier tells whether a name meant something before the cell that
// the tree can be made to mention as name+Earlier; known is false if the name
// meant nothing.
func (r *Round) CanBeEarlier(name string) (can, known bool) {
	n, ok := r.State.Lookup(name)
	if !ok {
		_, ok := library[name]
		return ok, ok
	}
	_, isFunc := n.Object.(*types.Func)
	return !isFunc, true
}
