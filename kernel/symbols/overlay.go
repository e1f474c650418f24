package symbols

import (
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
)

// Checked is a package of source text, checked and ready to be built.
type Checked struct {
	Package *types.Package
	Files   []*ast.File
	Info    *types.Info
}

// CheckFiles checks source text as the package at path.
func CheckFiles(fset *token.FileSet, importer types.Importer, path string, texts []File) (*Checked, error) {
	checked := &Checked{Info: &types.Info{
		Types:        map[ast.Expr]types.TypeAndValue{},
		Instances:    map[*ast.Ident]types.Instance{},
		Defs:         map[*ast.Ident]types.Object{},
		Uses:         map[*ast.Ident]types.Object{},
		Implicits:    map[ast.Node]types.Object{},
		Selections:   map[*ast.SelectorExpr]*types.Selection{},
		Scopes:       map[ast.Node]*types.Scope{},
		FileVersions: map[*ast.File]string{},
	}}
	for _, text := range texts {
		file, err := parser.ParseFile(fset, text.Name, text.Text, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		checked.Files = append(checked.Files, file)
	}
	config := types.Config{Importer: importer}
	pkg, err := config.Check(path, fset, checked.Files, checked.Info)
	checked.Package = pkg
	return checked, err
}

// AddOverlay checks the overlay of a package that Import gave and puts its
// functions into the package's scope, so that a cell finds sync.OnceValue
// where it looks for it. The functions belong to the package in Checked, which
// has bodies. Without an overlay for the package, it returns nil.
func AddOverlay(fset *token.FileSet, importer types.Importer, compiled *types.Package) (*Checked, error) {
	texts, ok := Overlay(compiled.Path())
	if !ok {
		return nil, nil
	}
	checked, err := CheckFiles(fset, importer, OverlayPath(compiled.Path()), texts)
	if err != nil {
		return nil, err
	}
	scope := checked.Package.Scope()
	for _, name := range scope.Names() {
		if function, ok := scope.Lookup(name).(*types.Func); ok && function.Exported() {
			compiled.Scope().Insert(function)
		}
	}
	return checked, nil
}
