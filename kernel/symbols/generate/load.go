package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"slices"
	"strings"

	"golang.org/x/tools/go/gcexportdata"
)

// leftOut are packages of Go's standard library that a cell has no use for, or
// that would break a session, each with the reason.
var leftOut = map[string]string{
	"crypto/fips140":         "a setting of the whole process",
	"crypto/mlkem/mlkemtest": "for tests of Go itself",
	"crypto/hkdf":            "generic throughout",
	"crypto/pbkdf2":          "generic throughout",
	"embed":                  "needs files at compile time",
	"log/syslog":             "not on every platform",
	"plugin":                 "loads machine code into the process",
	"runtime/cgo":            "for C",
	"runtime/coverage":       "for instrumented programs",
	"runtime/race":           "no exported names",
	"structs":                "describes memory layouts, which a session does not promise",
	"syscall":                "differs by platform",
	"testing/cryptotest":     "for test binaries",
	"testing/synctest":       "for test binaries",
	"time/tzdata":            "no exported names",
	"unique":                 "generic throughout; bound to the runtime",
	"unsafe":                 "known to the checker itself",
	"weak":                   "generic throughout; bound to the runtime",
}

const (
	libraryPath = "cobber/stdlib"
	sortingPath = "cobber/kernel/symbols/sorting"
	testsOnly   = "cobber/stdlib/published"
)

// listed is what the go command says of a package.
type listed struct {
	ImportPath, Name, Dir, Export string
	GoFiles                       []string
	Standard                      bool
	Error                         *struct{ Err string }
	types                         *types.Package
}

func (l *listed) own() bool { return !l.Standard }

// packages is everything the run works on, in order of path.
type packages struct {
	root    string
	fset    *token.FileSet
	imports map[string]*types.Package
	all     []*listed
	hidden  map[string]*listed // what cannot be imported, but may be mentioned
}

func (p *packages) countGo() int { return len(p.all) - p.countOwn() }
func (p *packages) countOwn() int {
	count := 0
	for _, one := range p.all {
		if one.own() {
			count++
		}
	}
	return count
}

func load(root string) (*packages, error) {
	found, err := list(root)
	if err != nil {
		return nil, err
	}
	p := &packages{root: root, fset: token.NewFileSet(), imports: map[string]*types.Package{}, hidden: map[string]*listed{}}
	for _, one := range found {
		if !wanted(one) {
			p.hidden[one.ImportPath] = one
			continue
		}
		if one.Error != nil || one.Export == "" {
			fmt.Printf("LEFT OUT %s: it does not compile\n", one.ImportPath)
			continue
		}
		if err := p.read(one); err != nil {
			return nil, err
		}
		p.all = append(p.all, one)
	}
	slices.SortFunc(p.all, func(a, b *listed) int { return strings.Compare(a.ImportPath, b.ImportPath) })
	return p, nil
}

func wanted(one *listed) bool {
	path := one.ImportPath
	switch {
	case leftOut[path] != "" || one.Name == "main":
		return false
	case path == libraryPath || path == testsOnly || strings.HasPrefix(path, testsOnly+"/"):
		return false // the map of the library, and published cases for tests
	}
	return !slices.ContainsFunc(strings.Split(path, "/"), func(element string) bool {
		return element == "internal" || element == "vendor" || element == "testdata"
	})
}

// list asks the go command for Go's packages and ours; -e, so that a package
// of ours that does not compile is reported instead of stopping the run.
func list(root string) ([]*listed, error) {
	command := exec.Command("go", "list", "-e", "-export",
		"-json=ImportPath,Name,Dir,Export,GoFiles,Standard,Error",
		"std", "./stdlib/...", "./kernel/symbols/sorting")
	command.Dir = root
	// Without C, the lists of files and the types are those of every platform.
	command.Env = append(os.Environ(), "CGO_ENABLED=0")
	var complaints bytes.Buffer
	command.Stderr = &complaints
	text, err := command.Output()
	if err != nil && len(text) == 0 {
		return nil, fmt.Errorf("go list: %w\n%s", err, complaints.Bytes())
	}
	if complaints.Len() > 0 {
		fmt.Printf("go list says:\n%s", complaints.Bytes())
	}
	var found []*listed
	decoder := json.NewDecoder(bytes.NewReader(text))
	for {
		one := new(listed)
		if err := decoder.Decode(one); errors.Is(err, io.EOF) {
			return found, nil
		} else if err != nil {
			return nil, fmt.Errorf("go list: %w", err)
		}
		found = append(found, one)
	}
}

func (p *packages) read(one *listed) error {
	file, err := os.Open(one.Export)
	if err != nil {
		return err
	}
	defer file.Close()
	reader, err := gcexportdata.NewReader(file)
	if err != nil {
		return fmt.Errorf("%s: %w", one.ImportPath, err)
	}
	one.types, err = gcexportdata.Read(reader, p.fset, p.imports, one.ImportPath)
	if err != nil {
		return fmt.Errorf("%s: %w", one.ImportPath, err)
	}
	return nil
}

func (p *packages) find(path string) *listed {
	for _, one := range p.all {
		if one.ImportPath == path {
			return one
		}
	}
	return nil
}
