package check

import (
	"go/token"
	"go/types"
	"strings"
	"sync"

	"cobber/kernel/symbols"
)

const (
	// LibraryPrefix begins the paths of the library's packages.
	LibraryPrefix = "cobber/stdlib/"
	// QuantityPath is the path of the package of quantities.
	QuantityPath = LibraryPrefix + "quantity"
)

// Importer loads the packages that the cells of a session mention, each once.
type Importer struct {
	mu       sync.Mutex
	fset     *token.FileSet
	packages map[string]*types.Package
	loaded   map[string]bool
	sources  []*symbols.Checked
}

// NewImporter returns an importer for one session.
func NewImporter(fset *token.FileSet) *Importer {
	return &Importer{fset: fset, packages: make(map[string]*types.Package), loaded: make(map[string]bool)}
}

// Import returns the package at path, or a *symbols.UnknownPackageError.
func (im *Importer) Import(path string) (*types.Package, error) {
	im.mu.Lock()
	defer im.mu.Unlock()
	return im.load(path)
}

// Sources returns the packages loaded so far that have bodies to be built, in
// the order in which one may depend on another. The list only grows.
func (im *Importer) Sources() []*symbols.Checked {
	im.mu.Lock()
	defer im.mu.Unlock()
	return im.sources[:len(im.sources):len(im.sources)]
}

// locked lets packages checked from source import others while the importer
// is already held.
type locked struct{ im *Importer }

func (l locked) Import(path string) (*types.Package, error) { return l.im.load(path) }

func (im *Importer) load(path string) (*types.Package, error) {
	if path == "unsafe" {
		return types.Unsafe, nil
	}
	if im.loaded[path] {
		return im.packages[path], nil
	}
	if err := im.before(path); err != nil {
		return nil, err
	}
	pkg, err := im.read(path)
	if err != nil {
		return nil, err
	}
	im.packages[path], im.loaded[path] = pkg, true
	if path == QuantityPath {
		operable(pkg)
	}
	// The text of an overlay may import the package that it belongs to.
	checked, err := symbols.AddOverlay(im.fset, locked{im}, pkg)
	if err != nil {
		return nil, err
	}
	if checked != nil {
		im.sources = append(im.sources, checked)
	}
	return pkg, nil
}

// before loads what must be there first: packages run from source, since the
// export data of others mention their types, and quantity, since the types of
// the library must mention the one whose values have operators.
func (im *Importer) before(path string) error {
	if path != "cmp" {
		if _, err := im.load("cmp"); err != nil {
			return err
		}
	}
	if strings.HasPrefix(path, LibraryPrefix) && path != QuantityPath {
		_, err := im.load(QuantityPath)
		return err
	}
	return nil
}

func (im *Importer) read(path string) (*types.Package, error) {
	if texts, ok := symbols.Source(path); ok {
		checked, err := symbols.CheckFiles(im.fset, locked{im}, path, texts)
		if err != nil {
			return nil, err
		}
		im.sources = append(im.sources, checked)
		return checked.Package, nil
	}
	return symbols.Import(im.fset, im.packages, path)
}

// operable lets the checker see a number in a quantity, so that Go's operators
// are defined on it. Nothing else may: conversions are refused.
func operable(pkg *types.Package) {
	if named := quantityIn(pkg); named != nil {
		named.SetUnderlying(types.Typ[types.Float64])
	}
}

// IsQuantity tells whether a type is that of quantities, whichever session it is of.
func IsQuantity(t types.Type) bool {
	named, ok := types.Unalias(t).(*types.Named)
	return ok && named.Obj().Name() == "Quantity" && named.Obj().Pkg() != nil && named.Obj().Pkg().Path() == QuantityPath
}

func quantityIn(pkg *types.Package) *types.Named {
	object := pkg.Scope().Lookup("Quantity")
	if object == nil {
		return nil
	}
	named, _ := object.Type().(*types.Named)
	return named
}

// Quantity returns the type of quantities, or nil if no cell has mentioned a
// package that knows it.
func (im *Importer) Quantity() *types.Named {
	im.mu.Lock()
	defer im.mu.Unlock()
	if !im.loaded[QuantityPath] {
		return nil
	}
	return quantityIn(im.packages[QuantityPath])
}
