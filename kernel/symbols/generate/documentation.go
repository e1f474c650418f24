package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/doc"
	"go/format"
	"go/parser"
	"go/token"
	"go/types"
	"path/filepath"
	"strings"
)

// documented is stored by kernel/docs; the names of its fields are those there.
type documented struct {
	Signature string `json:"d,omitempty"`
	Comment   string `json:"c,omitempty"`
}

// documents collects the documentation of one package by name.
type documents struct {
	fset    *token.FileSet
	pkg     *types.Package
	full    bool              // whole comments, not only first paragraphs
	shared  map[string]string // examples of other names that use a function
	entries map[string]documented
}

// writeDocumentation makes one file of documentation a package: for our own
// all that is written, for Go's the first paragraph of each comment.
func writeDocumentation(p *packages, out *output) error {
	shared, err := sharedExamples(p)
	if err != nil {
		return err
	}
	var raw, names int
	for _, one := range p.all {
		if one.ImportPath == sortingPath {
			continue
		}
		d := &documents{fset: token.NewFileSet(), pkg: one.types, full: one.own(), shared: shared[one.ImportPath], entries: map[string]documented{}}
		if err := d.read(one); err != nil {
			return fmt.Errorf("%s: %w", one.ImportPath, err)
		}
		text, err := json.Marshal(d.entries) // sorted by name
		if err != nil {
			return err
		}
		raw += len(text)
		names += len(d.entries)
		out.add("kernel/docs/text/"+one.ImportPath+".doc", deflate(text))
	}
	fmt.Printf("%d names documented, %d bytes before compression\n", names, raw)
	return nil
}

func (d *documents) read(one *listed) error {
	var files []*ast.File
	for _, name := range one.GoFiles {
		file, err := parser.ParseFile(d.fset, filepath.Join(one.Dir, name), nil, parser.ParseComments)
		if err != nil {
			return err
		}
		files = append(files, file)
	}
	pkg, err := doc.NewFromFiles(d.fset, files, one.ImportPath)
	if err != nil {
		return err
	}
	d.add("", "package "+pkg.Name, pkg.Doc)
	d.functions("", pkg.Funcs)
	d.values(pkg.Consts)
	d.values(pkg.Vars)
	for _, t := range pkg.Types {
		d.typ(t)
	}
	if d.full {
		return d.examples(one.Dir)
	}
	return nil
}

func (d *documents) typ(t *doc.Type) {
	d.add(t.Name, d.print(t.Decl), t.Doc)
	d.functions("", t.Funcs) // constructors
	d.functions(t.Name+".", t.Methods)
	d.values(t.Consts)
	d.values(t.Vars)
	spec, ok := t.Decl.Specs[0].(*ast.TypeSpec)
	if !ok {
		return
	}
	switch body := spec.Type.(type) {
	case *ast.StructType:
		d.members(t.Name, body.Fields)
	case *ast.InterfaceType:
		d.members(t.Name, body.Methods)
	}
}

// members adds the fields of a struct or the methods of an interface.
func (d *documents) members(typeName string, list *ast.FieldList) {
	for _, field := range list.List {
		text := field.Doc.Text()
		if text == "" {
			text = field.Comment.Text()
		}
		for _, name := range field.Names {
			if !name.IsExported() {
				continue
			}
			signature := name.Name + " " + d.print(field.Type)
			if function, ok := field.Type.(*ast.FuncType); ok && !function.Func.IsValid() {
				signature = "func " + name.Name + strings.TrimPrefix(d.print(function), "func") // a method of an interface
			}
			d.add(typeName+"."+name.Name, signature, text)
		}
	}
}

func (d *documents) functions(prefix string, list []*doc.Func) {
	for _, function := range list {
		declaration := *function.Decl
		declaration.Doc, declaration.Body = nil, nil
		d.add(prefix+function.Name, d.print(&declaration), function.Doc)
	}
}

// values adds constants and variables, each with its own line of the group it
// is declared in, and the comment of the group where it has none.
func (d *documents) values(list []*doc.Value) {
	for _, group := range list {
		for _, spec := range group.Decl.Specs {
			value, ok := spec.(*ast.ValueSpec)
			if !ok {
				continue
			}
			text := value.Doc.Text()
			if text == "" {
				text = value.Comment.Text()
			}
			if text == "" {
				text = group.Doc
			}
			plain := *value
			plain.Doc, plain.Comment = nil, nil
			for _, name := range value.Names {
				if name.IsExported() {
					d.add(name.Name, d.valueSignature(group.Decl.Tok, &plain, name.Name), text)
				}
			}
		}
	}
}

// valueSignature writes the declaration of one constant or variable. A constant
// that counts along in its group is given by its value.
func (d *documents) valueSignature(kind token.Token, spec *ast.ValueSpec, name string) string {
	constant, ok := d.pkg.Scope().Lookup(name).(*types.Const)
	if !ok {
		return kind.String() + " " + d.print(spec)
	}
	typeName := types.TypeString(constant.Type(), types.RelativeTo(d.pkg)) + " "
	if basic, ok := constant.Type().(*types.Basic); ok && basic.Info()&types.IsUntyped != 0 {
		typeName = ""
	}
	value := constant.Val().String()
	if len(spec.Names) == 1 && len(spec.Values) == 1 && !mentions(spec.Values[0], "iota") {
		value = d.print(spec.Values[0]) // says more, and has all digits
	}
	return fmt.Sprintf("const %s %s= %s", name, typeName, value)
}

func mentions(expression ast.Expr, name string) bool {
	found := false
	ast.Inspect(expression, func(node ast.Node) bool {
		identifier, ok := node.(*ast.Ident)
		found = found || ok && identifier.Name == name
		return !found
	})
	return found
}

// print writes a node as source text, without the comment of a declaration.
func (d *documents) print(node any) string {
	if declaration, ok := node.(*ast.GenDecl); ok {
		plain := *declaration
		plain.Doc = nil
		node = &plain
	}
	var text bytes.Buffer
	if err := format.Node(&text, d.fset, node); err != nil {
		return ""
	}
	return text.String()
}

func (d *documents) add(name, signature, text string) {
	if !d.full {
		text = firstParagraph(text)
	}
	d.entries[name] = documented{Signature: signature, Comment: strings.TrimRight(text, "\n")}
}

func firstParagraph(text string) string {
	text, _, _ = strings.Cut(text, "\n\n")
	return text
}
