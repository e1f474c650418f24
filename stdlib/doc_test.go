package stdlib

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// tools are the packages that hold no methods of the trade: their comments owe
// the reader no source or range.
var tools = []string{".", "quantity", "numeric", "table", "table/internal/workbook", "plot", "show", "control", "bound", "published", "internal/fields", "internal/expect", "published/python"}

// sections open a paragraph in the comment of a method.
var sections = []string{"Units:", "Range:", "Errors:", "Source:"}

// source is one Go file of the library.
type source struct {
	folder, path string
	file         *ast.File
	fset         *token.FileSet
}

func library(t *testing.T) []source {
	t.Helper()
	var sources []source
	fset := token.NewFileSet()
	err := filepath.WalkDir(".", func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() && (entry.Name() == "testdata" || entry.Name() == "generate") {
			return fs.SkipDir
		}
		if entry.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		file, err := parser.ParseFile(fset, path, nil, parser.ParseComments)
		if err != nil {
			return err
		}
		sources = append(sources, source{filepath.Dir(path), path, file, fset})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(sources) < 20 {
		t.Fatalf("only %d files found; the walk misses the library", len(sources))
	}
	return sources
}

func TestEveryExportedNameIsExplained(t *testing.T) {
	names := 0
	for _, s := range library(t) {
		for _, decl := range s.file.Decls {
			switch decl := decl.(type) {
			case *ast.FuncDecl:
				if seen(decl) {
					names++
					explain(t, s, decl.Name, decl.Doc)
				}
			case *ast.GenDecl:
				for _, spec := range decl.Specs {
					names += explainSpec(t, s, decl, spec)
				}
			}
		}
	}
	if names < 100 {
		t.Errorf("only %d exported names found; the test looks past the library", names)
	}
}

// seen reports whether users meet a function: a method of an unexported type
// they do not, and what Error does for an error everyone knows.
func seen(f *ast.FuncDecl) bool {
	if f.Recv == nil {
		return f.Name.IsExported()
	}
	return f.Name.IsExported() && ast.IsExported(receiver(f)) && f.Name.Name != "Error"
}

func receiver(f *ast.FuncDecl) string {
	of := f.Recv.List[0].Type
	if star, ok := of.(*ast.StarExpr); ok {
		of = star.X
	}
	if index, ok := of.(*ast.IndexExpr); ok {
		of = index.X
	}
	if ident, ok := of.(*ast.Ident); ok {
		return ident.Name
	}
	return ""
}

// explainSpec looks at types, constants and variables. The names of a group may
// share the group's comment, or have one at the end of their line.
func explainSpec(t *testing.T, s source, decl *ast.GenDecl, spec ast.Spec) int {
	t.Helper()
	names := 0
	switch spec := spec.(type) {
	case *ast.TypeSpec:
		if spec.Name.IsExported() {
			names++
			explain(t, s, spec.Name, firstOf(spec.Doc, decl.Doc))
		}
	case *ast.ValueSpec:
		for _, name := range spec.Names {
			if name.IsExported() {
				names++
				explain(t, s, name, firstOf(spec.Doc, spec.Comment, decl.Doc))
			}
		}
	}
	return names
}

func firstOf(comments ...*ast.CommentGroup) *ast.CommentGroup {
	for _, comment := range comments {
		if comment != nil {
			return comment
		}
	}
	return nil
}

func explain(t *testing.T, s source, name *ast.Ident, comment *ast.CommentGroup) {
	t.Helper()
	if strings.TrimSpace(comment.Text()) == "" {
		t.Errorf("%s: %s has no comment", s.fset.Position(name.Pos()), name.Name)
	}
}

// What a method of the trade owes its reader: the four sections, wherever it
// can refuse what it is given.
func TestMethodsStateUnitsRangeErrorsAndSource(t *testing.T) {
	methods := 0
	for _, s := range library(t) {
		if slices.Contains(tools, s.folder) {
			continue
		}
		for _, decl := range s.file.Decls {
			f, ok := decl.(*ast.FuncDecl)
			if !ok || !seen(f) || !returnsError(f) {
				continue
			}
			methods++
			for _, section := range sections {
				if !slices.ContainsFunc(strings.Split(f.Doc.Text(), "\n"), func(line string) bool {
					return strings.HasPrefix(line, section) && len(line) > len(section)+1
				}) {
					t.Errorf("%s: the comment of %s has no paragraph %q", s.fset.Position(f.Pos()), f.Name.Name, section)
				}
			}
		}
	}
	if methods < 10 {
		t.Errorf("only %d methods found; the test looks past the library", methods)
	}
}

func returnsError(f *ast.FuncDecl) bool {
	if f.Type.Results == nil {
		return false
	}
	last := f.Type.Results.List[len(f.Type.Results.List)-1]
	ident, ok := last.Type.(*ast.Ident)
	return ok && ident.Name == "error"
}

// Each package says what it is in its own doc.go, and is on the map above.
func TestEveryPackageSaysWhatItIs(t *testing.T) {
	text, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	done := map[string]bool{}
	for _, s := range library(t) {
		if done[s.folder] || strings.Contains(s.folder, string(filepath.Separator)) {
			continue
		}
		done[s.folder] = true
		file, err := parser.ParseFile(token.NewFileSet(), filepath.Join(s.folder, "doc.go"), nil, parser.ParseComments)
		if err != nil {
			t.Errorf("%s: %v", s.folder, err)
			continue
		}
		if !strings.HasPrefix(file.Doc.Text(), "Package "+file.Name.Name+" ") {
			t.Errorf("%s: doc.go does not begin with \"Package %s\"", s.folder, file.Name.Name)
		}
		if s.folder != "." && !strings.Contains(string(text), "//   - "+s.folder+":") {
			t.Errorf("%s is not on the map in doc.go", s.folder)
		}
	}
}
