package working

import (
	"go/ast"
	"go/token"
	"strings"
)

// branches plans an if and what follows its else.
func (p *planner) branches(s *ast.IfStmt, b *branch, failed []*node, leaves []ast.Expr) {
	r := p.reader(s.Cond)
	r.behind = !r.safe // the note stands behind all of the condition
	r.leaves = append([]ast.Expr(nil), leaves...)
	holds := r.read(s.Cond)
	taken := &arm{failed: failed, holds: holds, note: p.number()}
	taken.body = p.body(s.Body, taken.note, r.leaves)
	b.arms = append(b.arms, taken)
	failed = append(append([]*node(nil), failed...), holds)
	switch other := s.Else.(type) {
	case *ast.IfStmt:
		if other.Init == nil {
			p.branches(other, b, failed, r.leaves)
		}
	case *ast.BlockStmt:
		rest := &arm{failed: failed, note: p.number()}
		rest.body = p.body(other, rest.note, r.leaves)
		b.arms = append(b.arms, rest)
	}
}

// cases plans a switch. Each case is told by itself; only names are noted, as
// it is not known how far the cases were looked at.
func (p *planner) cases(s *ast.SwitchStmt) *branch {
	b := &branch{}
	through := false
	for _, clause := range s.Body.List {
		clause := clause.(*ast.CaseClause)
		r := p.reader()
		r.safe, r.behind = false, true
		taken := &arm{note: p.number(), through: through}
		through = fallsThrough(clause.Body)
		for _, x := range clause.List {
			holds := r.read(x)
			if s.Tag != nil {
				holds = &node{kind: operation, text: "==", args: []*node{r.read(s.Tag), holds}}
			}
			if taken.holds != nil {
				holds = &node{kind: operation, text: "||", args: []*node{taken.holds, holds}}
			}
			taken.holds = holds
		}
		var list []ast.Stmt
		list, taken.body = p.list(clause.Body)
		clause.Body = append([]ast.Stmt{p.note(taken.note, clause.Colon, r.leaves)}, list...)
		b.arms = append(b.arms, taken)
	}
	return b
}

func fallsThrough(list []ast.Stmt) bool {
	if len(list) == 0 {
		return false
	}
	last, ok := list[len(list)-1].(*ast.BranchStmt)
	return ok && last.Tok == token.FALLTHROUGH
}

func (p *planner) loop(body *ast.BlockStmt, variables []ast.Expr) *loop {
	l := &loop{note: p.number()}
	var noted []ast.Expr
	for _, x := range variables {
		if id, ok := x.(*ast.Ident); ok && id.Name != "_" {
			noted = append(noted, id)
			l.variables = append(l.variables, &node{kind: name, text: id.Name, leaf: len(noted)})
		}
	}
	l.body = p.body(body, l.note, noted)
	return l
}

func loopVariables(init ast.Stmt) []ast.Expr {
	if a, ok := init.(*ast.AssignStmt); ok && a.Tok == token.DEFINE {
		return a.Lhs
	}
	return nil
}

// side is the comment behind a statement, in its last line.
func (p *planner) side(s ast.Stmt) string {
	cell := p.cell
	end := cell.Offset(s.End())
	line := cell.Source.At(max(end-1, 0)).Line
	if c, ok := p.comments[line]; ok && c.Offset >= end {
		p.used[line] = true
		return plain(c.Text)
	}
	return ""
}

// remarks are the comments that stand in lines of their own directly above a
// statement.
func (p *planner) remarks(s ast.Stmt) block {
	cell := p.cell
	var told block
	for line := cell.Source.At(cell.Offset(s.Pos())).Line - 1; line > 0; line-- {
		c, ok := p.comments[line]
		if !ok || p.used[line] || strings.TrimSpace(cell.Source.Line(line)) != strings.TrimSpace(c.Text) {
			break
		}
		p.used[line] = true
		told = append(block{&remark{plain(c.Text)}}, told...)
	}
	return told
}

// plain takes the marks off a comment.
func plain(comment string) string {
	text := strings.TrimPrefix(comment, "//")
	if inner, ok := strings.CutPrefix(comment, "/*"); ok {
		text = strings.TrimSuffix(inner, "*/")
	}
	return strings.Join(strings.Fields(text), " ")
}
