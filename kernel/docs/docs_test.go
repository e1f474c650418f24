package docs_test

import (
	"go/doc/comment"
	"go/token"
	"go/types"
	"strings"
	"testing"

	"cobber/kernel/docs"
	"cobber/kernel/symbols"
)

// Whatever completion can offer, inspection must be able to explain.
func TestEveryExportedNameIsDocumented(t *testing.T) {
	fset, imports := token.NewFileSet(), map[string]*types.Package{}
	names := 0
	for _, path := range symbols.Packages() {
		pkg, err := symbols.Import(fset, imports, path)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range exportedNames(pkg) {
			names++
			doc, ok := docs.Of(path, name)
			if !ok {
				t.Errorf("%s.%s is not documented", path, name)
				continue
			}
			last := name[strings.LastIndex(name, ".")+1:]
			if !strings.Contains(doc.Signature, last) {
				t.Errorf("%s.%s has the declaration %q", path, name, doc.Signature)
			}
		}
		if doc, ok := docs.Of(path, ""); !ok || doc.Synopsis == "" && !strings.HasPrefix(path, "cobber/") {
			t.Errorf("package %s is not documented", path)
		}
	}
	if names < 8000 {
		t.Errorf("only %d names were looked at", names)
	}
}

// exportedNames lists what a package declares, and the methods declared for
// its types.
func exportedNames(pkg *types.Package) []string {
	var names []string
	for _, name := range pkg.Scope().Names() {
		if !token.IsExported(name) {
			continue
		}
		names = append(names, name)
		object, ok := pkg.Scope().Lookup(name).(*types.TypeName)
		if !ok || object.IsAlias() {
			continue
		}
		named, ok := object.Type().(*types.Named)
		if !ok {
			continue
		}
		for i := range named.NumMethods() {
			if method := named.Method(i); method.Exported() {
				names = append(names, name+"."+method.Name())
			}
		}
	}
	return names
}

func TestOf(t *testing.T) {
	for _, test := range []struct{ path, name, signature, synopsis string }{
		{"fmt", "Println", "func Println(a ...any) (n int, err error)", "Println formats using the default formats for its operands and writes to standard output."},
		{"strings", "Builder.Len", "func (b *Builder) Len() int", "Len returns the number of accumulated bytes; b.Len() == len(b.String())."},
		{"io", "Reader.Read", "func Read(p []byte) (n int, err error)", ""},
		{"math", "MaxInt8", "const MaxInt8 = 1<<7 - 1", "127"},
		{"time", "Sunday", "const Sunday Weekday = 0", ""},
		{"io", "EOF", `var EOF = errors.New("EOF")`, "EOF is the error returned by Read when no more input is available."},
		{"net/url", "URL.Scheme", "Scheme string", ""},
		{"cobber/stdlib/show", "", "package show", ""},
	} {
		doc, ok := docs.Of(test.path, test.name)
		if !ok || doc.Signature != test.signature {
			t.Errorf("%s.%s is declared as %q, want %q", test.path, test.name, doc.Signature, test.signature)
		}
		if test.synopsis != "" && doc.Synopsis != test.synopsis {
			t.Errorf("%s.%s has the synopsis %q, want %q", test.path, test.name, doc.Synopsis, test.synopsis)
		}
	}
	for _, test := range [][2]string{{"fmt", "Nothing"}, {"nothing", "Println"}, {"../text/fmt", "Println"}, {"fmt", "Println.x"}} {
		if doc, ok := docs.Of(test[0], test[1]); ok {
			t.Errorf("%s.%s is documented as %q", test[0], test[1], doc.Signature)
		}
	}
}

// Of the library all that is written is there, with its headings and lists.
func TestLibraryIsDocumentedInFull(t *testing.T) {
	doc, ok := docs.Of("cobber/stdlib/quantity", "")
	if !ok {
		t.Fatal("package quantity is not documented")
	}
	parsed := new(comment.Parser).Parse(doc.Text)
	if len(parsed.Content) < 2 {
		t.Errorf("the text of package quantity is one paragraph only: %q", doc.Text)
	}
	if strings.Contains(doc.Markdown, "\\[") {
		t.Errorf("a link to a name shows its brackets: %q", doc.Markdown)
	}
}

// A function without an example of its own shows one that uses it.
func TestAnExampleServesWhatItUses(t *testing.T) {
	for _, test := range []struct{ path, name, uses string }{
		{"cobber/stdlib/stream", "Stream.Grade", ".Grade("},
		{"cobber/stdlib/stream", "PulpDensityAt", "PulpDensityAt("}, // its own
	} {
		doc, _ := docs.Of(test.path, test.name)
		_, example, found := strings.Cut(doc.Text, "Example:")
		if !found || !strings.Contains(example, test.uses) {
			t.Errorf("%s.%s shows no example that uses it:\n%s", test.path, test.name, doc.Text)
		}
	}
}
