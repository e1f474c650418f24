package rewrite

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"go/types"

	"golang.org/x/tools/go/ssa"

	"cobber/kernel/session/check"
)

// builder makes SSA of programs as the kernel does, with the sanity checks of
// go/ssa on: what this package returns must be a tree that can be built.
type builder struct {
	state *check.State
	prog  *ssa.Program
	made  map[*types.Package]bool
	built int
}

func newBuilder(state *check.State) *builder {
	return &builder{state: state, made: map[*types.Package]bool{},
		prog: ssa.NewProgram(state.Set.Fset, ssa.InstantiateGenerics|ssa.SanityCheckFunctions)}
}

func (b *builder) build(p *check.Program) *ssa.Function {
	sources := b.state.Importer.Sources()
	for ; b.built < len(sources); b.built++ {
		s := sources[b.built]
		b.made[s.Package] = true
		b.imports(s.Package)
		b.prog.CreatePackage(s.Package, s.Files, s.Info, true).Build()
	}
	for _, pkg := range p.Imported {
		b.create(pkg)
	}
	b.prog.CreatePackage(p.Companion, nil, nil, false)
	pkg := b.prog.CreatePackage(p.Package, p.Files, p.Info, false)
	pkg.Build()
	if p.Entry == "" {
		return nil
	}
	return pkg.Func(p.Entry)
}

func (b *builder) create(pkg *types.Package) {
	if b.made[pkg] {
		return
	}
	b.made[pkg] = true
	// Of a package that only others mention part is known; the rest would be
	// missing for ever. Packages that cannot be imported stay in part.
	_, _ = b.state.Importer.Import(pkg.Path())
	b.imports(pkg)
	b.prog.CreatePackage(pkg, nil, nil, true)
}

func (b *builder) imports(pkg *types.Package) {
	for _, other := range pkg.Imports() {
		b.create(other)
	}
}

// The stories are cells that the Go compiler accepts, so that every one must
// check and build. What they mean is for the tests of the executor.
func TestStoriesCheckAndBuild(t *testing.T) {
	files, err := filepath.Glob("../../../testdata/cells/*.txt")
	if err != nil || len(files) < 100 {
		t.Fatalf("%d stories found, error %v", len(files), err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			s := newSession()
			b := newBuilder(s.state)
			for _, cell := range cellsOf(string(text)) {
				p, err := s.check(cell)
				if err != nil {
					if strings.Contains(string(text), "-- refused --") {
						return
					}
					t.Fatalf("cell %d: %v", s.count, err)
				}
				if f := b.build(p); f == nil && p.Entry != "" {
					t.Errorf("cell %d: no function %s", s.count, p.Entry)
				}
				s.state.Commit(p, p.Statements)
			}
		})
	}
}

// cellsOf returns the sections "-- cell N --" of a story.
func cellsOf(story string) []string {
	var cells []string
	inside := false
	for line := range strings.Lines(story) {
		if strings.HasPrefix(line, "-- ") && strings.HasSuffix(strings.TrimSpace(line), " --") {
			if inside = strings.HasPrefix(line, "-- cell"); inside {
				cells = append(cells, "")
			}
			continue
		}
		if inside {
			cells[len(cells)-1] += line
		}
	}
	return cells
}
