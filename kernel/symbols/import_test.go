package symbols

import (
	"errors"
	"go/token"
	"go/types"
	"slices"
	"testing"
)

// session imports packages as the checker of a session does.
type session struct {
	fset    *token.FileSet
	imports map[string]*types.Package
	sources map[string]*Checked
}

func newSession() *session {
	return &session{token.NewFileSet(), map[string]*types.Package{}, map[string]*Checked{}}
}

func (s *session) Import(path string) (*types.Package, error) {
	if known := s.imports[path]; known != nil && known.Complete() {
		return known, nil
	}
	if texts, ok := Source(path); ok {
		checked, err := CheckFiles(s.fset, s, path, texts)
		if err != nil {
			return nil, err
		}
		s.imports[path], s.sources[path] = checked.Package, checked
		return checked.Package, nil
	}
	pkg, err := Import(s.fset, s.imports, path)
	if err != nil {
		return nil, err
	}
	overlay, err := AddOverlay(s.fset, s, pkg)
	if overlay != nil {
		s.sources[overlay.Package.Path()] = overlay
	}
	return pkg, err
}

func TestImportEveryPackage(t *testing.T) {
	t.Setenv("GOROOT", "/nonexistent")
	t.Setenv("PATH", "")
	together := newSession()
	for _, path := range Packages() {
		for _, s := range []*session{newSession(), together} {
			pkg, err := s.Import(path)
			if err != nil {
				t.Errorf("%s: %v", path, err)
				continue
			}
			if !pkg.Complete() || pkg.Path() != path || len(pkg.Scope().Names()) == 0 {
				t.Errorf("%s: got package %s, complete %v, of %d names", path, pkg.Path(), pkg.Complete(), len(pkg.Scope().Names()))
			}
		}
	}
}

// Types that two packages mention must be one type, whichever is imported
// first, or a value cannot pass from one to the other.
func TestTypesAreSharedBetweenPackages(t *testing.T) {
	const text = `package main

import (
	"bytes"
	"bufio"
	"fmt"
	"io"
	"iter"
	"log"
	"maps"
	"os"
	"slices"
	"strings"
	"sync"
	"errors"
	"math/rand/v2"
	"io/fs"
)

var lines []string = slices.Collect(strings.Lines("a\nb"))
var fields iter.Seq[string] = strings.FieldsSeq("a b")
var keys []string = slices.Sorted(maps.Keys(map[string]int{}))
var reader io.Reader = bufio.NewReader(&bytes.Buffer{})
var writer io.Writer = os.Stdout
var once func() int = sync.OnceValue(func() int { return 1 })
var logger = log.New(os.Stderr, "", 0)
var path, isPath = errors.AsType[*fs.PathError](fmt.Errorf("x"))
var roll int8 = rand.N(int8(6))
var next, stop = iter.Pull(fields)
`
	for _, first := range []string{"", "slices", "strings", "iter", "maps", "log", "errors"} {
		s := newSession()
		if first != "" {
			if _, err := s.Import(first); err != nil {
				t.Fatal(err)
			}
		}
		if _, err := CheckFiles(s.fset, s, "main", []File{{Name: "main.go", Text: text}}); err != nil {
			t.Errorf("with %q imported first: %v", first, err)
		}
	}
}

func TestUnknownPackage(t *testing.T) {
	for _, test := range []struct {
		path    string
		nearest string
	}{
		{"string", "strings"},
		{"rand", "math/rand"},
		{"encoding/jason", "encoding/json"},
		{"ftm", "fmt"},
		{"github.com/nobody/nothing", ""},
		{"../etc/passwd", ""},
		{"cobber/kernel/session", ""},
	} {
		_, err := Import(token.NewFileSet(), map[string]*types.Package{}, test.path)
		var unknown *UnknownPackageError
		if !errors.As(err, &unknown) {
			t.Errorf("%s: got error %v, want an UnknownPackageError", test.path, err)
			continue
		}
		if test.nearest != "" && !slices.Contains(unknown.Nearest, test.nearest) {
			t.Errorf("%s: nearest are %q, want %q among them", test.path, unknown.Nearest, test.nearest)
		}
		if test.nearest == "" && len(unknown.Nearest) > 0 {
			t.Errorf("%s: nearest are %q, want none", test.path, unknown.Nearest)
		}
	}
}
