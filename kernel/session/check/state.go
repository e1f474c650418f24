package check

import (
	"go/types"
	"sort"

	"cobber/kernel/source"
)

// State is what a session knows by name. Functions of this package only read
// it; Commit alone changes it. A Copy is cheap and lives on its own.
type State struct {
	Set      *source.Set
	Importer *Importer

	names *layer[Name]
	dots  []*types.Package
}

// Name is what a name of the session stands for: an object or an import.
type Name struct {
	Object types.Object // variable, function, type or constant; nil for an import
	Import string       // path of the import
	Doc    string       // the comment above its declaration

	// Body says of a function where its text is, and what the names in it meant.
	Body *Body

	// Steady says of a variable that nothing but its definitions assigns it: no
	// function and no other statement.
	Steady bool
}

// NewState returns the state of a session in which nothing has run.
func NewState(set *source.Set) *State {
	return &State{Set: set, Importer: NewImporter(set.Fset)}
}

// Copy returns a state with the same names.
func (s *State) Copy() *State {
	c := *s
	return &c
}

// Lookup returns what a name stands for in the session: the newest variable,
// function, type, constant or import of that name. Library packages that no
// cell imported are not found here.
func (s *State) Lookup(name string) (Name, bool) { return s.names.get(name) }

// Names returns all names of the session, sorted.
func (s *State) Names() []string {
	var names []string
	for name := range s.names.all {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}

// Commit takes over what a program defined. Of its variables it takes those
// whose statements were finished: the ones before statement upTo, as the
// program's Progress variable counts them.
func (s *State) Commit(p *Program, upTo int) {
	entries := make(map[string]Name)
	for name, path := range p.Imports {
		entries[name] = Name{Import: path}
	}
	for name := range p.assigned {
		if known, ok := s.names.get(name); ok && known.Steady {
			known.Steady = false
			entries[name] = known
		}
	}
	unfinished := make(map[types.Object]bool)
	for _, f := range p.Fresh {
		if f.Statement >= upTo {
			unfinished[f.Var] = true
		}
	}
	for name, object := range p.Defines {
		if !unfinished[object] {
			entries[name] = Name{Object: object, Doc: p.docs[name], Body: p.bodies[name], Steady: p.steady[object]}
		}
	}
	s.names = s.names.with(entries)
	s.dots = append(s.dots[:len(s.dots):len(s.dots)], p.dots...)
}

// Forget takes names out, as if no cell had bound them. It returns the names
// that are not bound; if there are any it changes nothing.
func (s *State) Forget(names []string) (unknown []string) {
	left := make(map[string]Name)
	for name, known := range s.names.all {
		left[name] = known
	}
	for _, name := range names {
		if _, ok := left[name]; !ok {
			unknown = append(unknown, name)
		}
	}
	if unknown != nil {
		return unknown
	}
	for _, name := range names {
		delete(left, name)
	}
	s.names = (*layer[Name])(nil).with(left)
	return nil
}
