package check

import (
	"go/ast"
	"go/token"
	"go/types"
	"strconv"
	"strings"

	"cobber/kernel/diag"
	"cobber/kernel/session/parse"
)

// Tree is a cell in the form of a Go file. Package rewrite changes it between
// two rounds of checking.
type Tree struct {
	Cell *parse.Cell
	File *ast.File
	Vars []Variable // what statements define, in their order

	// Declared are the names of the cell's package: those of Vars and of the
	// declarations.
	Declared map[string]bool

	// Shown are copies of functions of earlier cells, for this cell alone.
	Shown []ShownFunction

	faults    diag.List
	imports   map[string]imported
	dots      []*types.Package
	decls     []ast.Decl // of the file, without the result and the entry
	entry     *ast.FuncDecl
	body      []ast.Stmt // of the entry, without the last expression
	results   int        // how many values the last expression is taken to have
	defining  map[*ast.Ident]bool
	statement int
}

// Variable is a session variable that a statement defines.
type Variable struct {
	Name      *ast.Ident
	Statement int
	Scope     token.Pos // where, in the statements, it begins to be known
}

type imported struct {
	pkg  *types.Package
	path string
	at   token.Pos
}

// Assemble puts a cell into the form of a Go file.
func Assemble(state *State, cell *parse.Cell) *Tree {
	t := &Tree{Cell: cell, Declared: make(map[string]bool), defining: make(map[*ast.Ident]bool)}
	t.decls = append(t.decls, cell.Decls...)
	for _, d := range cell.Decls {
		t.declare(d)
	}
	t.resolveImports(state)
	t.refuseDecls(state)
	t.checkUnits()
	for _, s := range cell.Statements {
		t.add(s)
	}
	base := cell.Pos(0)
	end := cell.Pos(len(cell.Source.Text))
	t.entry = &ast.FuncDecl{
		Name: &ast.Ident{NamePos: base, Name: entryName},
		Type: &ast.FuncType{Func: base, Params: &ast.FieldList{Opening: base, Closing: base}},
		Body: &ast.BlockStmt{Lbrace: base, Rbrace: end},
	}
	t.File = &ast.File{Package: base, Name: &ast.Ident{NamePos: base, Name: "main"}, FileStart: base, FileEnd: end}
	t.SetResults(t.guessResults(state))
	return t
}

// Results is how many values the last expression is taken to have.
func (t *Tree) Results() int { return t.results }

// SetResults lays the file out for a last expression of n values. With none it
// is an ordinary statement.
func (t *Tree) SetResults(n int) {
	t.results = n
	t.File.Decls = append([]ast.Decl(nil), t.decls...)
	t.entry.Body.List = append([]ast.Stmt(nil), t.body...)
	if final := t.Cell.Final; final != nil {
		t.entry.Body.List = append(t.entry.Body.List, t.progress(t.statement, final.Pos()))
		if n == 0 {
			if !t.isNil(final) {
				t.entry.Body.List = append(t.entry.Body.List, &ast.ExprStmt{X: final})
			}
		} else {
			t.addResults(final, n)
		}
	}
	if !t.Cell.Program {
		t.entry.Body.List = append(t.entry.Body.List, t.progress(t.Statements(), t.entry.Body.Rbrace))
		t.File.Decls = append(t.File.Decls, t.entry)
	}
}

// Statements is how many statements the entry function has.
func (t *Tree) Statements() int {
	if t.Cell.Final != nil {
		return t.statement + 1
	}
	return t.statement
}

func (t *Tree) addResults(final ast.Expr, n int) {
	spec := &ast.ValueSpec{Values: []ast.Expr{final}}
	assign := &ast.AssignStmt{TokPos: final.Pos(), Tok: token.ASSIGN, Rhs: []ast.Expr{final}}
	for i := range n {
		name := resultName + strconv.Itoa(i)
		spec.Names = append(spec.Names, &ast.Ident{NamePos: final.Pos(), Name: name})
		assign.Lhs = append(assign.Lhs, &ast.Ident{NamePos: final.Pos(), Name: name})
	}
	t.File.Decls = append(t.File.Decls, &ast.GenDecl{TokPos: final.Pos(), Tok: token.VAR, Specs: []ast.Spec{spec}})
	t.entry.Body.List = append(t.entry.Body.List, assign)
}

// progress returns the statement that says how far the entry function is.
func (t *Tree) progress(n int, pos token.Pos) ast.Stmt {
	return &ast.AssignStmt{
		Lhs: []ast.Expr{&ast.Ident{NamePos: pos, Name: progressName}}, TokPos: pos, Tok: token.ASSIGN,
		Rhs: []ast.Expr{&ast.BasicLit{ValuePos: pos, Kind: token.INT, Value: strconv.Itoa(n)}},
	}
}

func (t *Tree) declare(d ast.Decl) {
	name := func(id *ast.Ident) {
		if id.Name != "_" && id.Name != "init" {
			t.Declared[id.Name] = true
		}
	}
	switch d := d.(type) {
	case *ast.FuncDecl:
		if d.Recv == nil {
			name(d.Name)
		}
	case *ast.GenDecl:
		for _, spec := range d.Specs {
			switch spec := spec.(type) {
			case *ast.TypeSpec:
				name(spec.Name)
			case *ast.ValueSpec:
				for _, id := range spec.Names {
					name(id)
				}
			}
		}
	}
}

// add puts one statement of the cell into the entry function.
func (t *Tree) add(s ast.Stmt) {
	t.body = append(t.body, t.progress(t.statement, s.Pos()))
	t.body = append(t.body, t.lower(s)...)
	t.statement++
}

// lower returns what stands for a statement in the entry function.
func (t *Tree) lower(s ast.Stmt) []ast.Stmt {
	switch s := s.(type) {
	case *ast.LabeledStmt:
		if list := t.lower(s.Stmt); len(list) == 1 {
			s.Stmt = list[0]
		}
	case *ast.AssignStmt:
		if s.Tok == token.DEFINE {
			return t.define(s)
		}
	case *ast.DeclStmt:
		if d, ok := s.Decl.(*ast.GenDecl); ok && d.Tok == token.VAR {
			var list []ast.Stmt
			for _, spec := range d.Specs {
				list = append(list, t.variables(d, spec.(*ast.ValueSpec))...)
			}
			return list
		}
	}
	return []ast.Stmt{s}
}

// define makes an assignment of a short variable declaration, and variables of
// the names that the cell has not defined before.
func (t *Tree) define(s *ast.AssignStmt) []ast.Stmt {
	spec := &ast.ValueSpec{Values: s.Rhs}
	fresh := make(map[string]bool)
	for _, lhs := range s.Lhs {
		id, ok := lhs.(*ast.Ident)
		if !ok {
			t.fault(diag.Diagnostic{Code: Misuse}, lhs, "non-name "+types.ExprString(lhs)+" on left side of :=")
			return nil
		}
		if fresh[id.Name] && id.Name != "_" {
			t.fault(diag.Diagnostic{Code: Misuse}, id, id.Name+" repeated on left side of :=")
			return nil
		}
		name := &ast.Ident{NamePos: id.NamePos, Name: "_"}
		if id.Name != "_" && !t.isDefined(id.Name) {
			name.Name = id.Name
			fresh[id.Name] = true
			t.Vars = append(t.Vars, Variable{Name: name, Statement: t.statement, Scope: s.End()})
		}
		t.defining[id] = true
		spec.Names = append(spec.Names, name)
	}
	if len(fresh) == 0 {
		d := diag.Diagnostic{Code: Misuse, Detail: "Use = to give it another value; another cell may define it again."}
		t.faultAt(d, s.TokPos, 2, "no new variables on left side of :=")
		return nil
	}
	t.addVariables(spec, s.TokPos)
	return []ast.Stmt{&ast.AssignStmt{Lhs: s.Lhs, TokPos: s.TokPos, Tok: token.ASSIGN, Rhs: s.Rhs}}
}

func (t *Tree) isDefined(name string) bool {
	for _, v := range t.Vars {
		if v.Name.Name == name {
			return true
		}
	}
	return false
}

func (t *Tree) addVariables(spec *ast.ValueSpec, pos token.Pos) {
	for _, name := range spec.Names {
		if name.Name != "_" {
			t.Declared[name.Name] = true
		}
	}
	t.decls = append(t.decls, &ast.GenDecl{TokPos: pos, Tok: token.VAR, Specs: []ast.Spec{spec}})
}

// variables makes an assignment of a var declaration.
func (t *Tree) variables(d *ast.GenDecl, spec *ast.ValueSpec) []ast.Stmt {
	assign := &ast.AssignStmt{TokPos: spec.Pos(), Tok: token.ASSIGN, Rhs: spec.Values}
	named := false
	for _, name := range spec.Names {
		if name.Name != "_" {
			named = true
			t.Vars = append(t.Vars, Variable{Name: name, Statement: t.statement, Scope: spec.End()})
		}
		id := &ast.Ident{NamePos: name.NamePos, Name: name.Name}
		t.defining[id] = true
		assign.Lhs = append(assign.Lhs, id)
	}
	if !named {
		return []ast.Stmt{&ast.DeclStmt{Decl: &ast.GenDecl{TokPos: d.TokPos, Tok: token.VAR, Specs: []ast.Spec{spec}}}}
	}
	t.addVariables(spec, d.TokPos)
	if len(spec.Values) > 0 {
		return []ast.Stmt{assign}
	}
	return t.zero(spec, assign)
}

// zero returns the assignment of the zero value: a variable that takes the
// memory of an earlier one must lose its value.
func (t *Tree) zero(spec *ast.ValueSpec, assign *ast.AssignStmt) []ast.Stmt {
	pos := spec.Pos()
	name := func() *ast.Ident { return &ast.Ident{NamePos: pos, Name: zeroName} }
	for range assign.Lhs {
		assign.Rhs = append(assign.Rhs, name())
	}
	local := &ast.GenDecl{TokPos: pos, Tok: token.VAR, Specs: []ast.Spec{&ast.ValueSpec{Names: []*ast.Ident{name()}, Type: spec.Type}}}
	return []ast.Stmt{&ast.BlockStmt{Lbrace: pos, List: []ast.Stmt{&ast.DeclStmt{Decl: local}, assign}, Rbrace: spec.End()}}
}

// isNil tells whether the last expression is the predeclared nil: a value
// without a type, of which nothing can be shown.
func (t *Tree) isNil(x ast.Expr) bool {
	id, ok := ast.Unparen(x).(*ast.Ident)
	return ok && id.Name == "nil" && !t.Declared["nil"]
}

// guessResults tells how many values the last expression will have, so that
// one round of checking is mostly enough. A wrong guess costs another round.
func (t *Tree) guessResults(state *State) int {
	final := t.Cell.Final
	if final == nil || t.isNil(final) {
		return 0
	}
	call, ok := ast.Unparen(final).(*ast.CallExpr)
	if !ok {
		return 1
	}
	switch fun := call.Fun.(type) {
	case *ast.Ident:
		if n, ok := t.declaredResults(fun.Name); ok {
			return n
		}
		if known, ok := state.Lookup(fun.Name); ok && !t.Declared[fun.Name] {
			return resultsOf(known.Object)
		}
	case *ast.SelectorExpr:
		id, ok := fun.X.(*ast.Ident)
		if !ok || t.Declared[id.Name] {
			return 1
		}
		if pkg := t.packageNamed(state, id.Name); pkg != nil {
			if pkg.Path() == "fmt" && isPrint(fun.Sel.Name) {
				return 0 // what it prints is what the user wants to see
			}
			return resultsOf(pkg.Scope().Lookup(fun.Sel.Name))
		}
	}
	return 1
}

func isPrint(name string) bool {
	return strings.HasPrefix(name, "Print") || strings.HasPrefix(name, "Fprint")
}

// declaredResults looks for a function among the cell's own declarations.
func (t *Tree) declaredResults(name string) (int, bool) {
	for _, d := range t.Cell.Decls {
		if f, ok := d.(*ast.FuncDecl); ok && f.Recv == nil && f.Name.Name == name {
			return f.Type.Results.NumFields(), true
		}
	}
	return 0, false
}

func resultsOf(object types.Object) int {
	if object == nil {
		return 1
	}
	if sig, ok := object.Type().Underlying().(*types.Signature); ok {
		return sig.Results().Len()
	}
	return 1
}

// Defines tells whether a name on the left of an assignment in the entry
// function stands where the cell defines it.
func (t *Tree) Defines(x ast.Expr) bool {
	id, ok := x.(*ast.Ident)
	return ok && t.defining[id]
}
