package session

import (
	"fmt"
	"go/types"
	"strings"

	"cobber/kernel/session/check"
	"cobber/stdlib/bound"
)

// names answers what a cell asks about the session's names.
type names struct{ *Session }

func (s names) Names() []bound.Name {
	state := s.now()
	var list []bound.Name
	for _, name := range state.Names() {
		known, _ := state.Lookup(name)
		list = append(list, s.name(state, name, known))
	}
	return list
}

func (s names) name(state *check.State, name string, known check.Name) bound.Name {
	n := bound.Name{Name: name, Kind: "import", Type: known.Import}
	if known.Object == nil {
		return n
	}
	n.Type = types.TypeString(known.Object.Type(), func(p *types.Package) string {
		if p.Path() == known.Object.Pkg().Path() {
			return ""
		}
		return p.Name()
	})
	if at, ok := state.Set.Position(known.Object.Pos()); ok {
		n.Cell = at.Cell
	}
	switch object := known.Object.(type) {
	case *types.Var:
		n.Kind = "variable"
		if g := s.builder.Global(object); g != nil {
			n.Bytes = s.machine.Size(g)
		}
	case *types.Func:
		n.Kind = "function"
	case *types.Const:
		n.Kind = "constant"
	case *types.TypeName:
		n.Kind = "type"
		n.Type = types.TypeString(object.Type().Underlying(), (*types.Package).Name)
	}
	return n
}

func (s names) Forget(list []string) error {
	s.mu.Lock()
	before := s.state
	next := before.Copy()
	unknown := next.Forget(list)
	if unknown == nil {
		s.state = next
	}
	s.mu.Unlock()
	if unknown != nil {
		return fmt.Errorf("no cell has bound %s: nothing was forgotten; bound.Names() lists what is bound", strings.Join(unknown, ", "))
	}
	s.trail.Forget(list)
	for _, name := range list {
		if known, ok := before.Lookup(name); ok && known.Object != nil {
			s.drop(known.Object)
		}
	}
	return nil
}
