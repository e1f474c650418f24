package run

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"os"
	"testing"

	"golang.org/x/tools/go/ssa"

	"cobber/kernel/symbols"
)

// world is an importer and a machine for whole programs, as the session has them for cells.
type world struct {
	fset    *token.FileSet
	imports map[string]*types.Package
	source  map[*types.Package]bool
	made    map[*types.Package]bool
	program *ssa.Program
	machine *Machine
	loading bool
}

func newWorld() *world {
	w := &world{fset: token.NewFileSet(), imports: map[string]*types.Package{}, source: map[*types.Package]bool{}, made: map[*types.Package]bool{}}
	w.program = ssa.NewProgram(w.fset, ssa.InstantiateGenerics)
	w.machine = New(w.program, func(p *types.Package) bool { return w.source[p] || p.Path() == "main" })
	return w
}

func (w *world) Import(path string) (*types.Package, error) {
	if path == "unsafe" {
		return types.Unsafe, nil
	}
	if p := w.imports[path]; p != nil && p.Complete() {
		return p, nil
	}
	if files, ok := symbols.Source(path); ok {
		checked, err := symbols.CheckFiles(w.fset, w, path, files)
		if err != nil {
			return nil, err
		}
		w.imports[path] = checked.Package
		w.build(checked)
		return checked.Package, nil
	}
	for _, q := range []string{"cmp", "slices", "maps"} {
		if w.loading {
			break
		}
		w.loading = true
		if p := w.imports[q]; p == nil || !p.Complete() {
			if _, err := w.Import(q); err != nil {
				return nil, err
			}
		}
		w.loading = false
	}
	p, err := symbols.Import(w.fset, w.imports, path)
	if err != nil {
		return nil, err
	}
	checked, err := symbols.AddOverlay(w.fset, w, p)
	if err != nil {
		return nil, err
	}
	if checked != nil {
		w.build(checked)
	}
	return p, nil
}

func (w *world) build(checked *symbols.Checked) {
	w.source[checked.Package] = true
	w.make(checked.Package.Imports())
	w.made[checked.Package] = true
	w.program.CreatePackage(checked.Package, checked.Files, checked.Info, true).Build()
}

func (w *world) make(list []*types.Package) {
	for _, p := range list {
		if w.made[p] {
			continue
		}
		w.Import(p.Path()) // whole, for members that come later would be missing
		if !w.made[p] {
			w.made[p] = true
			w.make(p.Imports())
			w.program.CreatePackage(p, nil, nil, true)
		}
	}
}

// ready compiles a program.
func (w *world) ready(name, text string) (*ssa.Package, error) {
	file, err := parser.ParseFile(w.fset, name, text, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Defs: map[*ast.Ident]types.Object{},
		Uses: map[*ast.Ident]types.Object{}, Selections: map[*ast.SelectorExpr]*types.Selection{},
		Instances: map[*ast.Ident]types.Instance{}, Implicits: map[ast.Node]types.Object{},
		Scopes: map[ast.Node]*types.Scope{}, FileVersions: map[*ast.File]string{}}
	config := types.Config{Importer: w, GoVersion: "go1.26"}
	pkg, err := config.Check("main", w.fset, []*ast.File{file}, info)
	if err != nil {
		return nil, err
	}
	w.make(pkg.Imports())
	built := w.program.CreatePackage(pkg, []*ast.File{file}, info, false)
	built.Build()
	return built, w.machine.Compile(built)
}

func (w *world) run(name, text string) error {
	built, err := w.ready(name, text)
	if err != nil {
		return err
	}
	r := NewRun()
	r.Stderr = func(s string) { os.Stderr.WriteString(s) }
	r.Report = func(f *Failure) { fmt.Fprintln(os.Stderr, "panic in goroutine:", f.Message); os.Exit(2) }
	if err := w.machine.Call(r, built.Func("init")); err != nil {
		return err
	}
	return w.machine.Call(r, built.Func("main"))
}

// TestMain runs a Go program instead of the tests when asked to, for the tests that need a process.
func TestMain(m *testing.M) {
	name := os.Getenv("COBBER_TEST_PROGRAM")
	if name == "" {
		os.Exit(m.Run())
	}
	text, err := os.ReadFile(name)
	if err != nil {
		panic(err)
	}
	w := newWorld()
	if err := w.run(name, string(text)); err != nil {
		code := 2
		if f, ok := err.(*Failure); ok {
			if e, ok := f.Value.(exitRequest); ok {
				os.Exit(e.code)
			}
			for _, c := range f.Calls {
				fmt.Fprintln(os.Stderr, "  at", c.Function, w.fset.Position(c.Pos))
			}
		}
		if r, ok := err.(*Refused); ok {
			code = 3
			fmt.Fprintln(os.Stderr, w.fset.Position(r.Pos))
		}
		fmt.Fprintln(os.Stderr, "FAILED:", err)
		os.Exit(code)
	}
	os.Exit(0)
}
