package kernel

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// allowedImports is the policy of the tree, lowest package first. A line says
// which packages of the module, which library of others and which guarded
// package of Go's standard library a package may import, by name; everything
// else in Go's standard library is free. A package may name only lines above
// its own, so the block is also a proof that nothing runs in circles. A line
// that ends in /* is for all packages below a folder.
//
// A new package needs a line here, and a line is a decision: do not edit it to
// make a build pass.
const allowedImports = `
# The engineering library never imports kernel.
stdlib:
stdlib/quantity:
stdlib/numeric:         gonum
stdlib/show:
stdlib/plot:            stdlib/quantity gonum plotting images
stdlib/table/internal/workbook: workbooks
stdlib/table:           stdlib/quantity stdlib/table/internal/workbook
stdlib/bound:           stdlib/table
stdlib/exercise:        stdlib/quantity stdlib/table
stdlib/control:         stdlib/quantity stdlib/show
stdlib/published:       stdlib/quantity
stdlib/internal/fields: stdlib/quantity
stdlib/internal/expect: stdlib/quantity
stdlib/published/python:

# Materials.
stdlib/size:            stdlib/quantity stdlib/numeric stdlib/table
stdlib/mineral:         stdlib/quantity stdlib/numeric stdlib/table
stdlib/stream:          stdlib/quantity stdlib/numeric stdlib/table stdlib/size stdlib/mineral

# Models do not import one another, and none imports flowsheet.
stdlib/balance:         stdlib/quantity stdlib/numeric stdlib/table stdlib/size stdlib/mineral stdlib/stream
stdlib/partition:       stdlib/quantity stdlib/numeric stdlib/table stdlib/size
stdlib/sampling:        stdlib/quantity stdlib/numeric stdlib/table
stdlib/kinetics:        stdlib/quantity stdlib/numeric stdlib/table
stdlib/settling:        stdlib/quantity stdlib/numeric stdlib/table
stdlib/magnetic:        stdlib/quantity stdlib/internal/fields stdlib/mineral stdlib/stream
stdlib/electrostatic:   stdlib/quantity stdlib/internal/fields stdlib/mineral stdlib/stream
# gravity separates by partition curves, which are arithmetic of materials, not another model.
stdlib/gravity:         stdlib/quantity stdlib/internal/fields stdlib/stream stdlib/partition
stdlib/classification:  stdlib/quantity stdlib/internal/fields stdlib/stream
stdlib/sorting:         stdlib/quantity stdlib/internal/fields stdlib/stream
stdlib/place:           stdlib/quantity stdlib/table
stdlib/haulage:         stdlib/quantity stdlib/numeric stdlib/table stdlib/plot
stdlib/cost:            stdlib/quantity stdlib/table
stdlib/comminution:     stdlib/quantity stdlib/internal/fields stdlib/numeric stdlib/table stdlib/stream
stdlib/liberation:      stdlib/quantity stdlib/numeric stdlib/table stdlib/stream
stdlib/screening:       stdlib/quantity stdlib/internal/fields stdlib/numeric stdlib/table stdlib/stream
stdlib/flowsheet:       stdlib/quantity stdlib/numeric stdlib/table stdlib/size stdlib/mineral stdlib/stream stdlib/plot

# What is shown and checked of their results.
stdlib/chart:           stdlib/quantity stdlib/plot stdlib/size stdlib/partition
stdlib/claims:          stdlib/quantity stdlib/table stdlib/mineral

# Ground of the kernel. Of stdlib the kernel knows: all of it in symbols,
# which is generated; quantity in the stages that give operators a meaning, and
# in the session, which tells them the dimensions of its variables; show where a
# cell's requests to the page pass, and bound where its questions about names do.
kernel:
kernel/source:
kernel/diag:            kernel/source
kernel/docs:
kernel/docs/generate:   kernel/docs
kernel/symbols/signature:
kernel/symbols/sorting:
kernel/symbols/source/*: kernel/symbols/sorting stdlib/show unsafe
kernel/symbols/generate: kernel/symbols/signature gotools yaegi
kernel/symbols:         stdlib/* kernel/symbols/signature kernel/symbols/sorting gotools yaegi unsafe

# The stages: each imports only earlier ones.
kernel/inputs:          stdlib/quantity
kernel/session/parse:   kernel/source kernel/diag
kernel/session/check:   kernel/source kernel/diag kernel/docs kernel/symbols kernel/session/parse stdlib/quantity
kernel/session/rewrite: kernel/source kernel/diag kernel/symbols kernel/session/parse kernel/session/check stdlib/quantity
kernel/session/working: kernel/source kernel/session/parse kernel/session/check stdlib/quantity
kernel/session/build:   kernel/source kernel/diag kernel/symbols kernel/session/parse kernel/session/check kernel/session/rewrite gotools
kernel/session/run:     kernel/source kernel/diag kernel/symbols kernel/symbols/signature kernel/session/build stdlib/quantity gotools unsafe
kernel/session/stale:   kernel/source kernel/session/check
kernel/session/output:
kernel/session:         kernel/source kernel/diag kernel/docs kernel/inputs kernel/symbols kernel/session/parse kernel/session/check kernel/session/rewrite kernel/session/working kernel/session/build kernel/session/run kernel/session/stale kernel/session/output stdlib/quantity stdlib/show stdlib/bound gotools
kernel/program:         kernel/source kernel/diag kernel/symbols kernel/session/parse kernel/session/check kernel/session/rewrite
kernel/assist:          kernel/source kernel/diag kernel/docs kernel/symbols kernel/session/parse kernel/session/check stdlib/quantity

# What people and front ends see.
kernel/display:         kernel/source kernel/diag stdlib/show
kernel/kernelspec:
kernel/kernelspec/generate: images
kernel/wire:            zmq4
kernel/server:          kernel/source kernel/diag kernel/display kernel/wire stdlib/show
kernel/notebook:        kernel/source kernel/diag kernel/display stdlib/show
kernel/notebook/compare: kernel/notebook
kernel/notebook/page/maths: javascript
kernel/notebook/page:   kernel/notebook kernel/notebook/page/maths kernel/display goldmark chroma
kernel/trial:           kernel/wire
kernel/cmd/cobber:      kernel/source kernel/diag kernel/display kernel/kernelspec kernel/notebook kernel/notebook/compare kernel/notebook/page kernel/program kernel/server kernel/session kernel/trial stdlib/quantity stdlib/show terminal
kernel/kerneltest:      kernel/source kernel/diag kernel/wire kernel/server kernel/session stdlib/published/python
kernel/kerneltest/cells: kernel/source kernel/diag kernel/session
kernel/kerneltest/gotests: kernel/source kernel/session kernel/session/run stdlib/show
`

// libraries names the modules of others by the path their packages begin with.
var libraries = map[string]string{
	"github.com/traefik/yaegi":          "yaegi",
	"github.com/go-zeromq/zmq4":         "zmq4",
	"gonum.org/v1/gonum":                "gonum",
	"gonum.org/v1/plot":                 "plotting",
	"codeberg.org/go-fonts/liberation":  "plotting",
	"golang.org/x/image":                "images",
	"golang.org/x/tools":                "gotools",
	"golang.org/x/term":                 "terminal",
	"github.com/xuri/excelize":          "workbooks",
	"github.com/yuin/goldmark":          "goldmark",
	"github.com/alecthomas/chroma":      "chroma",
	"github.com/dop251/goja":            "javascript",
	"github.com/google/go-cmp":          "cmp-for-tests",
	"github.com/santhosh-tekuri/jsonsc": "schema-for-tests",
}

// guarded packages of Go's standard library need a word in the policy too.
var guarded = map[string]bool{"unsafe": true, "plugin": true, "C": true}

func TestImports(t *testing.T) {
	policy := readPolicy(t)
	for dir, imports := range importsOfTree(t) {
		allowed, ok := lineFor(policy, dir)
		if !ok {
			t.Errorf("package %s has no line in allowedImports: say there what it may import", dir)
			continue
		}
		for _, name := range imports {
			if !permits(allowed, name) {
				t.Errorf("package %s imports %s, which its line in allowedImports does not permit", dir, name)
			}
		}
	}
}

func TestStdlibTestsKnowNoKernel(t *testing.T) {
	eachGoFile(t, func(path string) {
		if !strings.HasPrefix(path, "stdlib/") || !strings.HasSuffix(path, "_test.go") {
			return
		}
		for _, name := range importsOfFile(t, path) {
			if name == "kernel" || strings.HasPrefix(name, "kernel/") {
				t.Errorf("%s imports cobber/%s: stdlib must be usable, and tested, without the kernel", path, name)
			}
		}
	})
}

// readPolicy parses the block, and holds it to its own rule: lowest first.
func readPolicy(t *testing.T) map[string][]string {
	t.Helper()
	policy := map[string][]string{}
	for line := range strings.Lines(allowedImports) {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		dir, list, ok := strings.Cut(line, ":")
		if !ok || policy[dir] != nil {
			t.Fatalf("allowedImports: cannot read line %q, or it stands twice", line)
		}
		allowed := append([]string{}, strings.Fields(list)...)
		for _, name := range allowed {
			isOurs := strings.HasPrefix(name, "stdlib") || strings.HasPrefix(name, "kernel")
			if _, above := policy[name]; isOurs && !above && !strings.HasSuffix(name, "/*") {
				t.Errorf("allowedImports: %s may import %s, which has no line above it", dir, name)
			}
		}
		policy[dir] = allowed
	}
	return policy
}

// lineFor finds what a package may import: by its own line, or by that of a
// folder above it.
func lineFor(policy map[string][]string, dir string) ([]string, bool) {
	if allowed, ok := policy[dir]; ok {
		return allowed, true
	}
	for above := path.Dir(dir); above != "."; above = path.Dir(above) {
		if allowed, ok := policy[above+"/*"]; ok {
			return allowed, true
		}
	}
	return nil, false
}

func permits(allowed []string, name string) bool {
	return slices.ContainsFunc(allowed, func(entry string) bool {
		if group, ok := strings.CutSuffix(entry, "/*"); ok {
			return strings.HasPrefix(name, group+"/")
		}
		return entry == name
	})
}

// importsOfTree gives, for every package of the module, what its files other
// than tests import, in the names the policy uses.
func importsOfTree(t *testing.T) map[string][]string {
	t.Helper()
	tree := map[string][]string{}
	eachGoFile(t, func(path string) {
		if strings.HasSuffix(path, "_test.go") {
			return
		}
		dir := filepath.ToSlash(filepath.Dir(path))
		for _, name := range append(tree[dir], importsOfFile(t, path)...) {
			if !slices.Contains(tree[dir], name) {
				tree[dir] = append(tree[dir], name)
			}
		}
		if tree[dir] == nil {
			tree[dir] = []string{}
		}
	})
	if len(tree) < 2 {
		t.Fatalf("found only %d packages: the walk does not see the tree", len(tree))
	}
	return tree
}

func importsOfFile(t *testing.T, path string) []string {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), filepath.Join("..", path), nil, parser.ImportsOnly)
	if err != nil {
		t.Fatalf("%v", err)
	}
	var names []string
	for _, spec := range file.Imports {
		imported, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		if name := policyName(imported); name != "" {
			names = append(names, name)
		}
	}
	return names
}

// policyName is the name by which the policy knows an import path, or "" for
// the free part of Go's standard library.
func policyName(path string) string {
	if ours, ok := strings.CutPrefix(path, "cobber/"); ok {
		return ours
	}
	for prefix, name := range libraries {
		if strings.HasPrefix(path, prefix) {
			return name
		}
	}
	first, _, _ := strings.Cut(path, "/")
	if guarded[path] || strings.Contains(first, ".") {
		return path
	}
	return ""
}

// eachGoFile calls visit with every Go file of the module, by its path from
// the module's root; data of tests and hidden folders are not the module's.
func eachGoFile(t *testing.T, visit func(path string)) {
	t.Helper()
	root := ".."
	err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := entry.Name()
		if entry.IsDir() && path != root && (name == "testdata" || name[0] == '.' || name[0] == '_') {
			return filepath.SkipDir
		}
		if !entry.IsDir() && strings.HasSuffix(name, ".go") {
			relative, err := filepath.Rel(root, path)
			if err != nil {
				return err
			}
			visit(filepath.ToSlash(relative))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
