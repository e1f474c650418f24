package main

import (
	"bytes"
	"go/ast"
	"go/doc"
	"go/format"
	"go/parser"
	"go/printer"
	"path/filepath"
	"strings"
	"unicode"
	"unicode/utf8"
)

// examples adds to what is written about a name the examples of it, which the
// tests of its package run, with what they print.
func (d *documents) examples(folder string) error {
	paths, err := filepath.Glob(filepath.Join(folder, "*_test.go")) // sorted
	if err != nil {
		return err
	}
	var files []*ast.File
	for _, path := range paths {
		file, err := parser.ParseFile(d.fset, path, nil, parser.ParseComments)
		if err != nil {
			return err
		}
		files = append(files, file)
	}
	has := map[string]bool{}
	for _, example := range doc.Examples(files...) {
		name := exampleOf(example.Name)
		if entry, ok := d.entries[name]; ok && (example.Output != "" || example.EmptyOutput) {
			d.entries[name] = entry.with(d.exampleText(example))
			has[name] = true
		}
	}
	for name, entry := range d.entries {
		if example := d.shared[name]; example != "" && !has[name] && strings.HasPrefix(entry.Signature, "func ") {
			d.entries[name] = entry.with(example)
		}
	}
	return nil
}

func (e documented) with(example string) documented {
	e.Comment = strings.TrimLeft(e.Comment+"\n\nExample:\n\n"+example, "\n")
	return e
}

// exampleOf is the name that an example is about: Type_Method is a method, and
// what begins with a small letter tells one example of a name from another.
func exampleOf(name string) string {
	parts := strings.Split(name, "_")
	for i, part := range parts {
		if first, _ := utf8.DecodeRuneInString(part); i > 0 && unicode.IsLower(first) {
			parts = parts[:i]
			break
		}
	}
	return strings.Join(parts, ".")
}

// exampleText is the code of an example as a block of a comment, with its output.
func (d *documents) exampleText(example *doc.Example) string {
	var text bytes.Buffer
	if format.Node(&text, d.fset, &printer.CommentedNode{Node: example.Code, Comments: example.Comments}) != nil {
		return ""
	}
	code := text.String()
	if _, isBody := example.Code.(*ast.BlockStmt); isBody {
		code = strings.ReplaceAll(strings.TrimSuffix(strings.TrimPrefix(code, "{"), "}"), "\n\t", "\n")
	}
	if at := strings.LastIndex(code, "// Output:"); at >= 0 {
		code = code[:at]
	}
	lines := strings.Split(strings.TrimSpace(code), "\n")
	for line := range strings.Lines(strings.TrimSpace(example.Output)) {
		lines = append(lines, strings.TrimRight("// "+line, " \n"))
	}
	return "\t" + strings.Join(lines, "\n\t")
}
