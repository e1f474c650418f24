package working

import (
	"go/ast"
	"go/token"
	"go/types"
	"strconv"
	"strings"

	"cobber/kernel/session/check"
	"cobber/kernel/session/parse"
)

// A block is what is told of a list of statements, in the order of the text.
type block []item

// item is a *remark, an *assignment, a *branch or a *loop.
type item any

type remark struct{ text string }

type assignment struct {
	targets       []*node
	formula       *node // nil if it has none
	side          string
	before, after int // numbers of notes; -1 for none
	called        []*function
	defines       bool // a name of the session
}

type branch struct{ arms []*arm }

type arm struct {
	failed  []*node // conditions that did not hold before
	holds   *node   // nil for what is left
	through bool    // the case before goes on into this one, whatever holds
	body    block
	note    int
}

type loop struct {
	variables []*node
	body      block
	note      int
}

// function is one of the user's own, whose first call may be told.
type function struct {
	name       string
	parameters []*node
	enter      int
	leave      int
	body       block
	called     bool
}

// planner puts notes into a cell.
type planner struct {
	rec      *Recorder
	round    *check.Round
	cell     *parse.Cell           // whose text is read
	comments map[int]parse.Comment // by the line they stand in
	used     map[int]bool
	own      map[types.Object]*function
	texts    []*ast.BasicLit       // the numbers as they stand in the notes
	changing map[types.Object]bool // see mayChange; nil until it is asked for
	results  *ast.FieldList        // of the function being planned; nil in the cell itself
	inside   string
}

// Plan makes a recorder for a cell and puts the notes into it. It reports
// whether the cell has the directive.
func Plan(round *check.Round) (*Recorder, bool) {
	cell := round.Tree.Cell
	directive, ok := cell.Has(parse.Working)
	if !ok || cell.Program {
		return nil, false
	}
	rec := &Recorder{expand: directive.Arguments == "expand", functions: map[int]*function{}, leaving: map[int]*function{}}
	p := &planner{rec: rec, round: round, own: map[types.Object]*function{}}
	p.reads(cell)
	if rec.expand {
		p.functions()
	}
	p.reads(cell)
	entry := round.Tree.Entry()
	entry.List, rec.steps = p.list(entry.List)
	rec.base = int(numbers.Add(int64(len(rec.noted)))) - len(rec.noted)
	for number, text := range p.texts {
		text.Value = strconv.Itoa(rec.base + number)
	}
	return rec, true
}

// reads turns to the text of a cell: its own, or that of an earlier function.
func (p *planner) reads(cell *parse.Cell) {
	p.cell, p.comments, p.used = cell, map[int]parse.Comment{}, map[int]bool{}
	for _, c := range cell.Comments {
		p.comments[cell.Source.At(c.Offset).Line] = c
	}
}

// functions plans the cell's own functions, and the copies of earlier ones.
func (p *planner) functions() {
	type declared struct {
		f    *ast.FuncDecl
		cell *parse.Cell
	}
	var all []declared
	for _, d := range p.round.Tree.Cell.Decls {
		if f, ok := d.(*ast.FuncDecl); ok && f.Recv == nil && f.Body != nil && f.Type.TypeParams == nil {
			all = append(all, declared{f, p.cell})
		}
	}
	for _, shown := range p.round.Tree.Shown {
		all = append(all, declared{shown.Decl, shown.Cell})
	}
	for _, d := range all {
		own := &function{name: strings.TrimSuffix(d.f.Name.Name, check.Mark), enter: p.number(), leave: p.number()}
		p.rec.functions[own.enter], p.rec.leaving[own.leave] = own, own
		p.own[p.round.Info.Defs[d.f.Name]] = own
	}
	for _, d := range all {
		if p.cell != d.cell {
			p.reads(d.cell)
		}
		p.function(d.f, p.own[p.round.Info.Defs[d.f.Name]])
	}
}

func (p *planner) function(f *ast.FuncDecl, own *function) {
	var parameters []ast.Expr
	for _, field := range f.Type.Params.List {
		for _, id := range field.Names {
			if id.Name != "_" {
				parameters = append(parameters, &ast.Ident{NamePos: f.Body.Lbrace, Name: id.Name})
				own.parameters = append(own.parameters, &node{kind: name, text: id.Name, leaf: len(parameters)})
			}
		}
	}
	p.results, p.inside = f.Type.Results, own.name
	var list []ast.Stmt
	list, own.body = p.list(f.Body.List)
	p.results = nil
	pos := f.Body.Lbrace
	leave := &ast.DeferStmt{Defer: pos, Call: p.call(own.leave, pos, nil)}
	f.Body.List = append([]ast.Stmt{p.note(own.enter, pos, parameters), leave}, list...)
}

func (p *planner) number() int {
	p.rec.noted = append(p.rec.noted, noted{})
	p.texts = append(p.texts, &ast.BasicLit{Kind: token.INT})
	return len(p.rec.noted) - 1
}

func (p *planner) call(number int, pos token.Pos, values []ast.Expr) *ast.CallExpr {
	p.texts[number].ValuePos = pos
	args := []ast.Expr{p.texts[number]}
	return &ast.CallExpr{Fun: &ast.Ident{NamePos: pos, Name: check.Note}, Lparen: pos, Args: append(args, values...), Rparen: pos}
}

func (p *planner) note(number int, pos token.Pos, values []ast.Expr) ast.Stmt {
	return &ast.ExprStmt{X: p.call(number, pos, values)}
}

// list plans a list of statements: it returns the list with notes, and what is
// told of it.
func (p *planner) list(list []ast.Stmt) ([]ast.Stmt, block) {
	var out []ast.Stmt
	var told block
	for _, s := range list {
		before, after, items := p.statement(s)
		out = append(append(append(out, before...), s), after...)
		if len(items) > 0 {
			told = append(append(told, p.remarks(s)...), items...)
		}
	}
	return out, told
}

// body plans a block that has a note at its beginning.
func (p *planner) body(b *ast.BlockStmt, number int, values []ast.Expr) block {
	var told block
	b.List, told = p.list(b.List)
	b.List = append([]ast.Stmt{p.note(number, b.Lbrace, values)}, b.List...)
	return told
}

// statement plans one statement: what goes before and after it, and what is told.
func (p *planner) statement(s ast.Stmt) (before, after []ast.Stmt, told []item) {
	switch s := s.(type) {
	case *ast.AssignStmt:
		return p.assign(s)
	case *ast.IncDecStmt:
		op := token.ADD_ASSIGN
		if s.Tok == token.DEC {
			op = token.SUB_ASSIGN
		}
		return p.change(s, s.X, op, integer(1))
	case *ast.DeclStmt:
		return p.declare(s)
	case *ast.BlockStmt:
		var inner block
		s.List, inner = p.list(s.List)
		return nil, nil, inner
	case *ast.LabeledStmt:
		// What goes before would stand before the label: only the inside is told.
		switch s.Stmt.(type) {
		case *ast.ForStmt, *ast.RangeStmt, *ast.SwitchStmt, *ast.BlockStmt:
			return p.statement(s.Stmt)
		}
	case *ast.IfStmt:
		b := &branch{}
		p.branches(s, b, nil, nil)
		return nil, nil, []item{b}
	case *ast.SwitchStmt:
		return nil, nil, []item{p.cases(s)}
	case *ast.ForStmt:
		return nil, nil, []item{p.loop(s.Body, loopVariables(s.Init))}
	case *ast.RangeStmt:
		return nil, nil, []item{p.loop(s.Body, []ast.Expr{s.Key, s.Value})}
	case *ast.ReturnStmt:
		return p.returns(s)
	}
	return nil, nil, nil
}

// reader makes a reader for a statement or condition. Where a call may change
// what the rest of it reads, nothing that could fail is read before.
func (p *planner) reader(of ...ast.Node) *reader {
	safe := true
	for _, n := range of {
		safe = safe && !callsOut(p.round.Info, n)
	}
	return &reader{info: p.round.Info, safe: safe, own: func(f *types.Func) *function { return p.own[f] },
		mayChange: p.mayChange}
}

func (p *planner) assign(s *ast.AssignStmt) (before, after []ast.Stmt, told []item) {
	if id, ok := s.Lhs[0].(*ast.Ident); ok && strings.Contains(id.Name, "·") && !strings.HasSuffix(id.Name, check.Earlier) {
		return nil, nil, nil // of the entry's own
	}
	if id, ok := s.Rhs[0].(*ast.Ident); ok && strings.HasSuffix(id.Name, "·") {
		return nil, nil, nil // the zero value that var gives
	}
	switch s.Tok {
	case token.ASSIGN, token.DEFINE:
		if len(s.Rhs) == 1 {
			return p.bind(s, s.Lhs, s.Rhs[0])
		}
		for i := range s.Lhs {
			if p.moves(s.Lhs, s.Lhs[i]) {
				continue
			}
			first, last, items := p.bind(s, s.Lhs[i:i+1], s.Rhs[i])
			before, after, told = append(before, first...), append(after, last...), append(told, items...)
		}
		return before, after, told
	}
	return p.change(s, s.Lhs[0], s.Tok, nil, s.Rhs[0])
}

// moves tells a target that is another one after the statement than before, as
// l[i] is in i, l[i] = 1, x: its value could not be read again.
func (p *planner) moves(targets []ast.Expr, target ast.Expr) bool {
	if isName(target) {
		return false
	}
	moved := false
	ast.Inspect(target, func(n ast.Node) bool {
		id, ok := n.(*ast.Ident)
		for _, other := range targets {
			changed, isIdent := other.(*ast.Ident)
			moved = moved || ok && isIdent && p.round.Info.ObjectOf(id) == p.round.Info.ObjectOf(changed)
		}
		return true
	})
	return moved
}

// bind plans one value and what takes it.
func (p *planner) bind(s ast.Stmt, targets []ast.Expr, value ast.Expr) (before, after []ast.Stmt, told []item) {
	r := p.reader(s)
	if several, ok := s.(*ast.AssignStmt); ok && len(several.Rhs) > 1 {
		r.behind = !r.safe
	}
	a := &assignment{formula: r.read(value), side: p.side(s), before: -1, called: r.called}
	if len(targets) > 1 {
		r.safe = false
	}
	noted := p.targets(a, targets, r.safe)
	if len(noted) == 0 {
		return nil, nil, nil
	}
	a.defines = p.round.Tree.Defines(targets[0])
	return p.both(s, a, r.leaves, noted)
}

// both puts a note before and a note after an assignment.
func (p *planner) both(s ast.Stmt, a *assignment, leaves, targets []ast.Expr) (before, after []ast.Stmt, told []item) {
	if len(leaves) > 0 {
		a.before = p.number()
		before = append(before, p.note(a.before, s.Pos(), leaves))
	}
	a.after = p.number()
	return before, []ast.Stmt{p.note(a.after, s.End(), targets)}, []item{a}
}

// targets reads what is assigned, and returns what to note after it. Errors
// and marks of success are not told, nor what could fail to be read again.
func (p *planner) targets(a *assignment, targets []ast.Expr, safe bool) (noted []ast.Expr) {
	for _, x := range targets {
		t := p.typeOf(x)
		if id, ok := x.(*ast.Ident); ok && id.Name == "_" || t == nil || len(targets) > 1 && isBool(t) {
			continue
		}
		if !isShown(t) || !isPure(p.round.Info, x, safe) {
			continue
		}
		r := &reader{info: p.round.Info}
		n := r.inner(x)
		noted = append(noted, x)
		n.leaf = len(noted)
		a.targets = append(a.targets, n)
	}
	return noted
}

func (p *planner) typeOf(x ast.Expr) types.Type {
	if id, ok := x.(*ast.Ident); ok {
		if object := p.round.Info.ObjectOf(id); object != nil {
			return object.Type()
		}
		return nil
	}
	return p.round.Info.Types[x].Type
}

func isBool(t types.Type) bool {
	b, ok := t.Underlying().(*types.Basic)
	return ok && b.Kind() == types.Bool
}

// change plans x += y and its kin, as x = x + y.
func (p *planner) change(s ast.Stmt, x ast.Expr, op token.Token, y *node, value ...ast.Expr) (before, after []ast.Stmt, told []item) {
	r := p.reader(s)
	left := r.read(x)
	if len(value) > 0 {
		y = r.read(value[0])
	}
	text := strings.TrimSuffix(op.String(), "=")
	a := &assignment{side: p.side(s), before: -1, called: r.called,
		formula: r.cut(&node{kind: operation, text: text, args: []*node{left, y}}, r.typeOf(x))}
	noted := p.targets(a, []ast.Expr{x}, r.safe)
	if len(noted) == 0 {
		return nil, nil, nil
	}
	return p.both(s, a, r.leaves, noted)
}

// declare plans var x = y inside a block.
func (p *planner) declare(s *ast.DeclStmt) (before, after []ast.Stmt, told []item) {
	d, ok := s.Decl.(*ast.GenDecl)
	if !ok || d.Tok != token.VAR || len(d.Specs) != 1 {
		return nil, nil, nil
	}
	spec := d.Specs[0].(*ast.ValueSpec)
	if len(spec.Names) != 1 || len(spec.Values) != 1 || strings.HasSuffix(spec.Names[0].Name, "·") {
		return nil, nil, nil
	}
	return p.bind(s, []ast.Expr{spec.Names[0]}, spec.Values[0])
}

// returns plans the return of one value: the value is bound first, so that it
// can be noted.
func (p *planner) returns(s *ast.ReturnStmt) (before, after []ast.Stmt, told []item) {
	if p.results == nil || len(s.Results) == 0 || p.results.NumFields() != len(s.Results) {
		return nil, nil, nil
	}
	tv := p.round.Info.Types[s.Results[0]]
	result := p.round.Info.Types[p.results.List[0].Type].Type
	if tv.Value != nil || result == nil || !types.Identical(tv.Type, result) || !isShown(result) {
		return nil, nil, nil
	}
	r := p.reader(s)
	formula := r.read(s.Results[0])
	a := &assignment{formula: formula, side: p.side(s), before: -1, called: r.called,
		targets: []*node{{kind: name, text: p.inside, leaf: 1}}}
	number := p.number()
	id := func() *ast.Ident { return &ast.Ident{NamePos: s.Pos(), Name: "returned" + strconv.Itoa(number) + "·"} }
	bound := &ast.AssignStmt{Lhs: []ast.Expr{id()}, TokPos: s.Pos(), Tok: token.DEFINE, Rhs: []ast.Expr{s.Results[0]}}
	if len(r.leaves) > 0 {
		a.before = p.number()
		before = append(before, p.note(a.before, s.Pos(), r.leaves))
	}
	a.after = number
	before = append(before, bound, p.note(number, s.Pos(), []ast.Expr{id()}))
	s.Results[0] = id()
	return before, nil, []item{a}
}
