package symbols

import (
	"bytes"
	"go/build"
	"go/importer"
	"go/token"
	"go/types"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"testing"
)

// What is executed from source must look to the checker exactly as the package
// it stands for, names of parameters included.
func TestSourcesDeclareWhatGoDeclares(t *testing.T) {
	for _, path := range fromSource {
		s := newSession()
		ours, err := s.Import(path)
		if err != nil {
			t.Errorf("%s: %v", path, err)
			continue
		}
		real, err := Import(token.NewFileSet(), map[string]*types.Package{}, path)
		if err != nil {
			t.Fatal(err)
		}
		compareScopes(t, ours, real)
	}
}

func compareScopes(t *testing.T, ours, real *types.Package) {
	t.Helper()
	for _, name := range real.Scope().Names() {
		if !token.IsExported(name) {
			continue
		}
		mine := ours.Scope().Lookup(name)
		if mine == nil {
			t.Errorf("%s.%s is missing", real.Path(), name)
			continue
		}
		if got, want := declaration(mine), declaration(real.Scope().Lookup(name)); got != want {
			t.Errorf("%s.%s is declared as\n%s, want\n%s", real.Path(), name, got, want)
		}
	}
	for _, name := range ours.Scope().Names() {
		if token.IsExported(name) && real.Scope().Lookup(name) == nil {
			t.Errorf("%s.%s does not exist in Go", ours.Path(), name)
		}
	}
}

func declaration(object types.Object) string {
	t := object.Type()
	if _, ok := object.(*types.TypeName); ok {
		t = t.Underlying()
	}
	text := types.TypeString(t, (*types.Package).Path)
	return strings.ReplaceAll(text, OverlayPath(""), "")
}

// generatedBy is the version of Go that the export data was written by.
func generatedBy(t *testing.T) string {
	t.Helper()
	version, err := exportData.ReadFile("export/go.version")
	if err != nil {
		t.Fatal(err)
	}
	return strings.TrimSpace(string(version))
}

// Overlays are the functions taken out of the export data, so they are compared
// with what the go command says.
func TestOverlaysDeclareWhatGoDeclares(t *testing.T) {
	if _, err := exec.LookPath("go"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("the go command is missing: install Go")
		}
		t.Skip("the go command is missing, so its declarations cannot be compared")
	}
	found := 0
	for _, path := range Packages() {
		if _, ok := Overlay(path); !ok {
			continue
		}
		s := newSession()
		ours, err := s.Import(path)
		if err != nil {
			t.Errorf("%s: %v", path, err)
			continue
		}
		real, err := importer.ForCompiler(token.NewFileSet(), "source", nil).Import(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range real.Scope().Names() {
			object := real.Scope().Lookup(name)
			if _, isFunc := object.(*types.Func); !isFunc || !object.Exported() || !isGeneric(object) {
				continue
			}
			mine := ours.Scope().Lookup(name)
			if mine == nil && generatedBy(t) != runtime.Version() {
				continue // an earlier Go may not have it
			}
			if mine == nil {
				t.Errorf("%s.%s is missing", path, name)
				continue
			}
			if mine.Pkg().Path() != OverlayPath(path) {
				continue // refused; TestEveryNameIsFoundOrRefused sees to those
			}
			found++
			if got, want := declaration(mine), declaration(object); got != want {
				t.Errorf("%s.%s is declared as\n%s, want\n%s", path, name, got, want)
			}
		}
	}
	if found < 8 {
		t.Errorf("compared %d functions only", found)
	}
}

// Export data is read on other machines: it must not name places on this one.
func TestExportDataNamesNoPlaces(t *testing.T) {
	folder, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range Packages() {
		data, err := readExport(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, place := range []string{folder, build.Default.GOROOT + "/", os.TempDir() + "/"} {
			if bytes.Contains(data, []byte(place)) {
				t.Errorf("the export data of %s contains %s", path, place)
			}
		}
	}
}
