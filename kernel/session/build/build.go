// Package build turns checked cells into functions in SSA form.
//
// In goes a check.Program, out comes an *ssa.Package in the one *ssa.Program of the session, with the
// packages it needs. It never checks and never runs anything. Read Builder first.
package build

import (
	"go/types"

	"golang.org/x/tools/go/ssa"

	"cobber/kernel/session/check"
	"cobber/kernel/symbols"
)

// Builder adds the cells of one session to its SSA program.
type Builder struct {
	Program *ssa.Program

	importer *check.Importer
	made     map[*types.Package]bool
	source   map[*types.Package]bool // packages with bodies, cells among them
	sources  int                     // of the importer's sources, how many are built
}

// New makes a builder for the session whose state is given.
func New(state *check.State) *Builder {
	return &Builder{
		Program:  ssa.NewProgram(state.Set.Fset, ssa.InstantiateGenerics),
		importer: state.Importer,
		made:     map[*types.Package]bool{},
		source:   map[*types.Package]bool{},
	}
}

// FromSource says whether the functions of a package have bodies here.
func (b *Builder) FromSource(p *types.Package) bool { return b.source[p] }

// Cell builds a checked cell.
func (b *Builder) Cell(p *check.Program) *ssa.Package {
	b.buildSources()
	b.create(p.Imported)
	b.create(p.Package.Imports())
	if p.Companion != nil {
		b.mark(p.Companion)
		b.Program.CreatePackage(p.Companion, nil, nil, false)
	}
	b.mark(p.Package)
	pkg := b.Program.CreatePackage(p.Package, p.Files, p.Info, false)
	pkg.Build()
	return pkg
}

func (b *Builder) mark(p *types.Package) { b.made[p], b.source[p] = true, true }

// buildSources builds the packages that run from source, as far as the importer has loaded them.
func (b *Builder) buildSources() {
	var fresh []*ssa.Package
	for all := b.importer.Sources(); b.sources < len(all); all = b.importer.Sources() {
		s := all[b.sources]
		b.sources++
		fresh = append(fresh, b.createSource(s))
	}
	for _, p := range fresh {
		p.Build()
	}
}

func (b *Builder) createSource(s *symbols.Checked) *ssa.Package {
	b.mark(s.Package)
	b.create(s.Package.Imports())
	return b.Program.CreatePackage(s.Package, s.Files, s.Info, true)
}

// create makes the SSA packages of compiled packages, whose functions have no bodies.
func (b *Builder) create(list []*types.Package) {
	for _, p := range list {
		if b.made[p] {
			continue
		}
		b.made[p] = true
		// What another package's types mention may be known in part only; members that come later
		// would be missing for ever.
		b.importer.Import(p.Path())
		b.create(p.Imports())
		b.Program.CreatePackage(p, nil, nil, true)
	}
}

// Global is the SSA form of a session variable, or nil.
func (b *Builder) Global(v *types.Var) *ssa.Global {
	pkg := b.Program.Package(v.Pkg())
	if pkg == nil {
		return nil
	}
	return pkg.Var(v.Name())
}
