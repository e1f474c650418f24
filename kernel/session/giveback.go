package session

import (
	"go/ast"
	"go/types"

	"golang.org/x/tools/go/ssa"

	"cobber/kernel/session/check"
)

// giveBack lets go of what a cell that has run needed for its run alone, and of what its names meant
// before: large values above all. earlier is the state before the cell.
func (s *Session) giveBack(program *check.Program, earlier *check.State) {
	generic := s.pin(program)
	pkg := s.builder.Program.Package(program.Package)
	s.release(pkg)
	for name := range program.Defines {
		if known, ok := earlier.Lookup(name); ok && known.Object != nil {
			s.drop(known.Object)
		}
	}
	if f := pkg.Func(program.Entry); f != nil && !program.Cell.Program {
		s.machine.Finished(f, pkg.Func("init"))
	}
	if program.Companion != nil {
		hidden := s.builder.Program.Package(program.Companion)
		s.release(hidden)
		if !generic {
			*hidden = ssa.Package{} // the program keeps it for ever, its variables not
		}
	}
	if len(program.Defines) == 0 {
		*pkg = ssa.Package{}
	}
}

// release lets go of the variables of a package that no name of the session stands for.
func (s *Session) release(pkg *ssa.Package) {
	for name, member := range pkg.Members {
		g, ok := member.(*ssa.Global)
		if !ok {
			continue
		}
		if known, ok := s.state.Lookup(name); ok && known.Object != nil && known.Object == g.Object() {
			continue
		}
		if !s.pinned[g.Object()] {
			s.machine.Release(g)
		}
	}
}

// drop lets go of an object whose name means something else now.
func (s *Session) drop(object types.Object) {
	if now, ok := s.state.Lookup(object.Name()); s.pinned[object] || ok && now.Object == object {
		return
	}
	switch object := object.(type) {
	case *types.Var:
		if g := s.builder.Global(object); g != nil {
			s.machine.Release(g)
		}
	case *types.Func:
		if f := s.builder.Program.FuncValue(object); f != nil && object.Signature().TypeParams() == nil {
			s.machine.Finished(f)
		}
	}
}

// pin notes what the generic functions of a cell mention: it is looked up when they are instantiated,
// which may be at any time. It reports whether there are any.
func (s *Session) pin(program *check.Program) (generic bool) {
	for _, file := range program.Files {
		for _, d := range file.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok {
				continue
			}
			object, _ := program.Info.Defs[f.Name].(*types.Func)
			if object == nil || object.Signature().TypeParams() == nil && object.Signature().RecvTypeParams() == nil {
				continue
			}
			generic = true
			ast.Inspect(f, func(n ast.Node) bool {
				if id, ok := n.(*ast.Ident); ok && program.Info.Uses[id] != nil {
					s.pinned[program.Info.Uses[id]] = true
				}
				return true
			})
		}
	}
	return generic
}
