package check

import (
	"errors"
	"go/ast"
	"go/types"
	"strconv"
	"strings"

	"cobber/kernel/diag"
	"cobber/kernel/symbols"
)

// resolveImports loads what the cell imports.
func (t *Tree) resolveImports(state *State) {
	t.imports = make(map[string]imported)
	for _, spec := range t.Cell.Imports {
		path, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			continue // Go's parser has refused it
		}
		if text, ok := refusedImports[path]; ok {
			t.Refuse(RefusedImport, spec.Path, text)
			continue
		}
		pkg, err := state.Importer.Import(path)
		if err != nil {
			t.unknownPackage(spec.Path, path, err)
			continue
		}
		t.bind(spec, pkg, path)
	}
}

// bind gives an imported package the name it has in the cell.
func (t *Tree) bind(spec *ast.ImportSpec, pkg *types.Package, path string) {
	name := pkg.Name()
	var at ast.Node = spec.Path
	if spec.Name != nil {
		name, at = spec.Name.Name, spec.Name
	}
	switch {
	case name == "_":
		return
	case name == ".":
		t.dots = append(t.dots, pkg)
		return
	}
	if other, ok := t.imports[name]; ok && other.path != path || t.Declared[name] {
		t.fault(diag.Diagnostic{Code: Redeclared, Detail: "Give the import another name: import other " + spec.Path.Value + "."},
			at, name+" redeclared in this cell")
		return
	}
	t.imports[name] = imported{pkg, path, spec.Pos()}
}

func (t *Tree) unknownPackage(at ast.Node, path string, err error) {
	d := diag.Diagnostic{Code: UnknownImport}
	var unknown *symbols.UnknownPackageError
	if errors.As(err, &unknown) {
		d.Detail = didYouMean(quoteAll(unknown.Nearest))
		t.fault(d, at, "package "+strconv.Quote(path)+" cannot be imported in a cell")
		return
	}
	t.fault(d, at, err.Error())
}

// packageNamed returns the package that a name stands for in the cell if no
// declaration of the cell takes the name: its own import, one of the session,
// or a package of the library. It returns nil if the name means something else.
func (t *Tree) packageNamed(state *State, name string) *types.Package {
	if own, ok := t.imports[name]; ok {
		return own.pkg
	}
	return state.packageNamed(name)
}

func (s *State) packageNamed(name string) *types.Package {
	known, ok := s.Lookup(name)
	path := known.Import
	if !ok {
		if path, ok = library[name]; !ok {
			return nil
		}
	}
	if path == "" {
		return nil
	}
	pkg, err := s.Importer.Import(path)
	if err != nil {
		return nil
	}
	return pkg
}

// library is the packages that are there without an import.
var library = symbols.Library()

// pathOf returns the path of a package of Go's standard library or of ours that
// a name most likely means.
func pathOf(name string) string {
	var found string
	for _, path := range symbols.Packages() {
		if path[strings.LastIndexByte(path, '/')+1:] == name && (found == "" || len(path) < len(found)) {
			found = path
		}
	}
	return found
}

func quoteAll(texts []string) []string {
	quoted := make([]string, len(texts))
	for i, t := range texts {
		quoted[i] = strconv.Quote(t)
	}
	return quoted
}
