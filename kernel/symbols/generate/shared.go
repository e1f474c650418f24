package main

import (
	"errors"
	"go/ast"
	"go/doc"
	"go/parser"
	"go/token"
	"go/types"
	"path/filepath"
	"strings"
)

// sharedExamples finds for each function and method of the library, by package and
// name, the shortest example that uses it, one of its own package where there is
// one. So a worked problem serves all that it calls.
func sharedExamples(p *packages) (map[string]map[string]string, error) {
	near, far := map[string]map[string]string{}, map[string]map[string]string{}
	for _, one := range p.all {
		if !one.own() {
			continue
		}
		paths, err := filepath.Glob(filepath.Join(one.Dir, "*_test.go")) // sorted
		if err != nil {
			return nil, err
		}
		d := &documents{fset: token.NewFileSet()}
		for _, path := range paths {
			file, err := parser.ParseFile(d.fset, path, nil, parser.ParseComments)
			if err != nil {
				return nil, err
			}
			examples := doc.Examples(file)
			if len(examples) == 0 || !strings.HasSuffix(file.Name.Name, "_test") {
				continue
			}
			uses := p.usesOf(d.fset, file)
			for _, example := range examples {
				if example.Output == "" {
					continue
				}
				text := d.exampleText(example)
				ast.Inspect(example.Code, func(n ast.Node) bool {
					if id, ok := n.(*ast.Ident); ok {
						if f, ok := uses[id].(*types.Func); ok && f.Pkg() != nil {
							into := far
							if f.Pkg().Path() == one.ImportPath {
								into = near
							}
							keepShortest(into, f, text)
						}
					}
					return true
				})
			}
		}
	}
	for path, names := range far {
		if near[path] == nil {
			near[path] = map[string]string{}
		}
		for name, text := range names {
			if near[path][name] == "" {
				near[path][name] = text
			}
		}
	}
	return near, nil
}

func keepShortest(into map[string]map[string]string, f *types.Func, text string) {
	path := f.Pkg().Path()
	if into[path] == nil {
		into[path] = map[string]string{}
	}
	name := f.Name()
	if receiver := f.Signature().Recv(); receiver != nil {
		t := receiver.Type()
		if pointer, ok := t.(*types.Pointer); ok {
			t = pointer.Elem()
		}
		named, ok := t.(*types.Named)
		if !ok {
			return
		}
		name = named.Obj().Name() + "." + name
	}
	if old := into[path][name]; old == "" || len(text) < len(old) || len(text) == len(old) && text < old {
		into[path][name] = text
	}
}

// usesOf tells what the names of a file of examples mean, as far as that is known
// without the other files of its package.
func (p *packages) usesOf(fset *token.FileSet, file *ast.File) map[*ast.Ident]types.Object {
	info := &types.Info{Uses: map[*ast.Ident]types.Object{}}
	config := types.Config{Importer: known(p.imports), Error: func(error) {}}
	_, _ = config.Check(file.Name.Name, fset, []*ast.File{file}, info) // faults are those of the tests
	return info.Uses
}

// known imports what is loaded.
type known map[string]*types.Package

func (k known) Import(path string) (*types.Package, error) {
	if pkg := k[path]; pkg != nil {
		return pkg, nil
	}
	return nil, errors.New("not loaded")
}
