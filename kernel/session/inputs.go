package session

import (
	"fmt"
	"go/ast"
	"go/token"
	"slices"
	"strings"

	"cobber/kernel/inputs"
	"cobber/kernel/session/check"
	"cobber/kernel/session/parse"
	"cobber/kernel/session/rewrite"
	"cobber/kernel/source"
)

// Input is a value of a cell with //cobber:inputs.
type Input struct {
	Name, Cell string
	Own, Value string // as the cell has it, and as it was used
	Set        bool   // from outside
}

// Set says what inputs are to be in place of what cells with //cobber:inputs
// give them, as text: "40 t/h" for a quantity.
func (s *Session) Set(values map[string]string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.set = values
}

// Inputs returns the inputs of the cells that have run, in the order in which
// they were bound.
func (s *Session) Inputs() []Input {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]Input(nil), s.inputs...)
}

// keepInputs notes the inputs of a cell that has run, in place of those of the
// same names.
func (s *Session) keepInputs(list []Input) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, input := range list {
		s.inputs = slices.DeleteFunc(s.inputs, func(old Input) bool { return old.Name == input.Name })
		s.inputs = append(s.inputs, input)
	}
}

// InputNames returns the variables that a cell with //cobber:inputs binds; none for
// other cells, and for one that does not parse.
func InputNames(text string) []string {
	cell, err := parse.Parse(source.NewSet(), source.Cell{Text: text})
	if _, ok := cell.Has(parse.Inputs); err != nil || !ok {
		return nil
	}
	var names []string
	add := func(x ast.Expr) {
		if id, ok := x.(*ast.Ident); ok && id.Name != "_" {
			names = append(names, id.Name)
		}
	}
	for _, s := range cell.Statements {
		switch s := s.(type) {
		case *ast.AssignStmt:
			if s.Tok == token.DEFINE {
				for _, x := range s.Lhs {
					add(x)
				}
			}
		case *ast.DeclStmt:
			declared := s.Decl.(*ast.GenDecl)
			if declared.Tok == token.CONST {
				continue // what Go has worked out with it is done before the cell runs
			}
			for _, spec := range declared.Specs {
				if values, ok := spec.(*ast.ValueSpec); ok {
					for _, x := range values.Names {
						add(x)
					}
				}
			}
		}
	}
	return names
}

// askForInputs puts behind each statement that binds names in a cell with
// //cobber:inputs the question whether they are set from outside.
func askForInputs(r *check.Round) bool {
	if _, ok := r.Tree.Cell.Has(parse.Inputs); !ok || r.Tree.Cell.Program {
		return false
	}
	return rewrite.AfterBindings(r, func(id *ast.Ident, a *ast.AssignStmt, _ ast.Expr) ast.Stmt {
		return check.Hook(r.Tree, check.Input, id, a.Pos())
	})
}

// input notes an input when it is bound, and sets it.
func (t *told) input(name string, variable any) error {
	own, ok := inputs.Text(variable)
	text, set := t.set[name]
	if !ok {
		if set {
			return &inputError{name, text, inputs.Assign(variable, text)}
		}
		return nil
	}
	if set {
		if err := inputs.Assign(variable, strings.TrimSpace(text)); err != nil {
			return &inputError{name, text, err}
		}
		if t.working != nil {
			t.working.Set(name)
		}
	}
	value, _ := inputs.Text(variable)
	t.inputs = append(t.inputs, Input{Name: name, Cell: t.cell, Own: own, Value: value, Set: set})
	return nil
}

type inputError struct {
	name, text string
	cause      error
}

func (e *inputError) Error() string {
	return fmt.Sprintf("cannot set %s to %q: %v", e.name, e.text, e.cause)
}
func (e *inputError) Unwrap() error { return e.cause }
