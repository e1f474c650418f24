package check

import (
	"go/ast"
	"go/token"
	"go/types"
	"strconv"
	"strings"
)

// Program returns the program of a round without faults.
func (r *Round) Program() *Program {
	t := r.Tree
	p := &Program{
		Cell: t.Cell, Package: r.Package, Companion: r.Companion, Files: []*ast.File{t.File}, Info: r.Info,
		Fset: r.State.Set.Fset, Imported: r.imported, Entry: entryName, Progress: r.progress, Statements: t.Statements(),
		Defines: make(map[string]types.Object), Imports: make(map[string]string), dots: t.dots, Reuse: r.reuse,
		Replaces: make(map[*types.Func]*types.Func), docs: make(map[string]string), steady: make(map[types.Object]bool),
		assigned: make(map[string]bool),
	}
	for name, own := range t.imports {
		p.Imports[name] = own.path
	}
	scope := r.Package.Scope()
	for i := range t.results {
		p.Results = append(p.Results, scope.Lookup(resultName+strconv.Itoa(i)).(*types.Var))
	}
	for name := range t.Declared {
		if object := scope.Lookup(name); object != nil {
			p.Defines[name] = object
			r.link(p, name, object)
		}
	}
	for _, v := range t.Vars {
		if object, ok := r.Info.Defs[v.Name].(*types.Var); ok {
			p.Fresh = append(p.Fresh, Fresh{object, v.Statement})
			p.steady[object] = true
		}
	}
	if t.Cell.Program {
		p.Entry, p.RunInit = "", true
		if _, ok := p.Defines["main"].(*types.Func); ok {
			p.Entry = "main"
		}
	} else {
		r.Info.InitOrder = nil
		p.RunInit = r.hasInit()
	}
	r.docs(p)
	r.bodies(p)
	r.assignments(p)
	return p
}

// link finds what a defined name replaces in the session.
func (r *Round) link(p *Program, name string, object types.Object) {
	known, ok := r.State.Lookup(name)
	if !ok || known.Object == nil || !types.Identical(known.Object.Type(), object.Type()) {
		return
	}
	switch object := object.(type) {
	case *types.Var:
		if old, ok := known.Object.(*types.Var); ok {
			p.Reuse[object] = old
		}
	case *types.Func:
		if old, ok := known.Object.(*types.Func); ok && object.Signature().TypeParams() == nil {
			p.Replaces[object] = old
		}
	}
}

func (r *Round) hasInit() bool {
	for _, d := range r.Tree.Cell.Decls {
		if f, ok := d.(*ast.FuncDecl); ok && f.Recv == nil && f.Name.Name == "init" {
			return true
		}
	}
	return false
}

// docs keeps the comments above declarations for inspection.
func (r *Round) docs(p *Program) {
	for _, d := range r.Tree.Cell.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Recv == nil {
				p.docs[d.Name.Name] = d.Doc.Text()
			}
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				switch spec := spec.(type) {
				case *ast.TypeSpec:
					p.docs[spec.Name.Name] = docOf(spec.Doc, d)
				case *ast.ValueSpec:
					for _, name := range spec.Names {
						p.docs[name.Name] = docOf(spec.Doc, d)
					}
				}
			}
		}
	}
}

func docOf(own *ast.CommentGroup, d *ast.GenDecl) string {
	if own != nil || len(d.Specs) > 1 {
		return own.Text()
	}
	return d.Doc.Text()
}

// assignments finds the variables that something else than their definition
// may change: what is assigned, or has its address taken, in any statement or
// function. Adding to a quantity and taking from it leave its dimension.
func (r *Round) assignments(p *Program) {
	changed := func(x ast.Expr) {
		id, ok := ast.Unparen(x).(*ast.Ident)
		if !ok || r.Tree.defining[id] {
			return
		}
		v, ok := r.Info.Uses[id].(*types.Var)
		if !ok {
			return
		}
		p.steady[v] = false
		if v.Pkg() != r.Package {
			p.assigned[strings.TrimSuffix(id.Name, Earlier)] = true
		}
	}
	ast.Inspect(r.Tree.File, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.AssignStmt:
			if n.Tok != token.ADD_ASSIGN && n.Tok != token.SUB_ASSIGN {
				for _, x := range n.Lhs {
					changed(x)
				}
			}
		case *ast.UnaryExpr:
			if n.Op == token.AND {
				changed(n.X)
			}
		case *ast.RangeStmt:
			changed(n.Key)
			changed(n.Value)
		}
		return true
	})
}
