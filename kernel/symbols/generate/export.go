package main

import (
	"bytes"
	"compress/flate"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"os"
	"path/filepath"
	"runtime"
	"slices"

	"golang.org/x/tools/go/gcexportdata"
)

// writeExports makes one blob of export data a package. Positions are left
// out: they would name files of the machine the run was made on.
func writeExports(p *packages, out *output) error {
	var raw int
	for _, one := range p.all {
		pkg := one.types
		if overlaid, err := p.overlaidNames(one.ImportPath); err != nil {
			return err
		} else if len(overlaid) > 0 {
			if pkg, err = p.without(one, overlaid); err != nil {
				return err
			}
		}
		var blob bytes.Buffer
		if err := gcexportdata.Write(&blob, token.NewFileSet(), pkg); err != nil {
			return fmt.Errorf("%s: %w", one.ImportPath, err)
		}
		raw += blob.Len()
		out.add("kernel/symbols/export/"+one.ImportPath+".types", deflate(blob.Bytes()))
	}
	out.add("kernel/symbols/export/go.version", []byte(runtime.Version()+"\n"))
	fmt.Printf("%d bytes of export data before compression\n", raw)
	return nil
}

func deflate(data []byte) []byte {
	var packed bytes.Buffer
	writer, err := flate.NewWriter(&packed, flate.BestCompression)
	if err != nil {
		panic(err) // only for a level that does not exist
	}
	writer.Write(data)
	writer.Close()
	return packed.Bytes()
}

// overlaidNames lists the generic functions of a compiled package for which
// kernel/symbols has text under source/overlay.
func (p *packages) overlaidNames(path string) ([]string, error) {
	folder := filepath.Join(p.root, "kernel", "symbols", "source", "overlay", filepath.FromSlash(path))
	entries, err := os.ReadDir(folder)
	if os.IsNotExist(err) {
		return nil, nil
	}
	var names []string
	for _, entry := range entries {
		if entry.IsDir() {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), filepath.Join(folder, entry.Name()), nil, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		for _, decl := range file.Decls {
			if function, ok := decl.(*ast.FuncDecl); ok && function.Recv == nil && function.Name.IsExported() {
				names = append(names, function.Name.Name)
			}
		}
	}
	return names, err
}

// without checks a package again, from its source, with some functions taken
// out. A scope has no way to delete, and only functions can be missed: no type
// of another package mentions one.
func (p *packages) without(one *listed, names []string) (*types.Package, error) {
	fset := token.NewFileSet()
	var files []*ast.File
	for _, name := range one.GoFiles {
		file, err := parser.ParseFile(fset, filepath.Join(one.Dir, name), nil, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		file.Decls = slices.DeleteFunc(file.Decls, func(decl ast.Decl) bool {
			function, ok := decl.(*ast.FuncDecl)
			return ok && function.Recv == nil && slices.Contains(names, function.Name.Name)
		})
		files = append(files, file)
	}
	config := types.Config{
		IgnoreFuncBodies: true,
		FakeImportC:      true,
		Importer:         importerOf{p},
		Sizes:            types.SizesFor("gc", runtime.GOARCH),
		Error:            func(error) {}, // imports now unused; what counts is compared below
	}
	pkg, _ := config.Check(one.ImportPath, fset, files, nil)
	for _, name := range one.types.Scope().Names() {
		if token.IsExported(name) && !slices.Contains(names, name) && pkg.Scope().Lookup(name) == nil {
			return nil, fmt.Errorf("%s.%s was lost with its neighbours", one.ImportPath, name)
		}
	}
	return pkg, nil
}

// importerOf reads what a package of Go imports, internal ones included.
type importerOf struct{ p *packages }

func (i importerOf) Import(path string) (*types.Package, error) {
	if path == "unsafe" {
		return types.Unsafe, nil
	}
	if known := i.p.imports[path]; known != nil && known.Complete() {
		return known, nil
	}
	one, ok := i.p.hidden[path]
	if !ok {
		return nil, fmt.Errorf("package %s was not listed", path)
	}
	if err := i.p.read(one); err != nil {
		return nil, err
	}
	return one.types, nil
}
