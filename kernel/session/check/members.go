package check

import (
	"go/ast"
	"go/types"
	"sort"
)

// membersOf returns the fields and methods that x.name can mean for an x of
// type t, seen from a package.
func membersOf(t types.Type, from *types.Package) []types.Object {
	found := make(map[string]types.Object)
	addMethods(t, found)
	if _, isPointer := t.Underlying().(*types.Pointer); !isPointer && !types.IsInterface(t) {
		addMethods(types.NewPointer(t), found)
	}
	addFields(t, found, make(map[types.Type]bool))
	members := make([]types.Object, 0, len(found))
	for name, m := range found {
		if ast.IsExported(name) || m.Pkg() != nil && m.Pkg().Path() == from.Path() {
			members = append(members, m)
		}
	}
	sort.Slice(members, func(i, j int) bool { return members[i].Name() < members[j].Name() })
	return members
}

func addMethods(t types.Type, found map[string]types.Object) {
	set := types.NewMethodSet(t)
	for i := range set.Len() {
		m := set.At(i).Obj()
		found[m.Name()] = m
	}
}

func addFields(t types.Type, found map[string]types.Object, seen map[types.Type]bool) {
	if p, ok := t.Underlying().(*types.Pointer); ok {
		t = p.Elem()
	}
	s, ok := t.Underlying().(*types.Struct)
	if !ok || seen[t] {
		return
	}
	seen[t] = true
	for i := range s.NumFields() {
		f := s.Field(i)
		if found[f.Name()] == nil {
			found[f.Name()] = f
		}
		if f.Embedded() {
			addFields(f.Type(), found, seen)
		}
	}
}
