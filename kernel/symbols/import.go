package symbols

import (
	"bytes"
	"compress/flate"
	"embed"
	"errors"
	"fmt"
	"go/token"
	"go/types"
	"io"
	"io/fs"
	"slices"
	"strings"

	"golang.org/x/tools/go/gcexportdata"
)

//go:embed export
var exportData embed.FS

// UnknownPackageError says that no package of that path can be imported.
type UnknownPackageError struct {
	Path    string
	Nearest []string // paths that may have been meant, best first
}

func (e *UnknownPackageError) Error() string {
	if len(e.Nearest) == 0 {
		return fmt.Sprintf("package %q cannot be imported in a cell", e.Path)
	}
	quoted := make([]string, len(e.Nearest))
	for i, path := range e.Nearest {
		quoted[i] = fmt.Sprintf("%q", path)
	}
	return fmt.Sprintf("package %q cannot be imported in a cell; did you mean %s?", e.Path, strings.Join(quoted, " or "))
}

// Import gives the types of the package at path. The map imports is the
// caller's: it must be the same one for all packages of a session, since a
// type that two packages mention is one type only through it. Import adds to
// it, also packages not yet complete; it is not safe for use by several
// goroutines at once.
func Import(fset *token.FileSet, imports map[string]*types.Package, path string) (*types.Package, error) {
	if path == "unsafe" {
		return types.Unsafe, nil
	}
	if known := imports[path]; known != nil && known.Complete() {
		return known, nil
	}
	data, err := readExport(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, &UnknownPackageError{Path: path, Nearest: nearestPaths(path)}
	}
	if err != nil {
		return nil, fmt.Errorf("types of package %q: %w", path, err)
	}
	insertPlatformConstants(imports, path)
	return gcexportdata.Read(bytes.NewReader(data), fset, imports, path)
}

func readExport(path string) ([]byte, error) {
	if !fs.ValidPath(path) {
		return nil, fs.ErrNotExist
	}
	file, err := exportData.Open("export/" + path + ".types")
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(flate.NewReader(file))
}

// Packages lists the paths a cell may import, sorted.
func Packages() []string {
	paths := make([]string, 0, len(packageNames))
	for _, entry := range packageNames {
		if !strings.HasPrefix(entry.path, ownPrefix) {
			paths = append(paths, entry.path)
		}
	}
	return paths
}

// ownPrefix begins the paths of helpers that only our own sources import.
const ownPrefix = "cobber/kernel/"

// packageName pairs the path of a package with the name it declares.
type packageName struct{ path, name string }

func nameOf(path string) (string, bool) {
	i, ok := slices.BinarySearchFunc(packageNames, path, func(entry packageName, path string) int {
		return strings.Compare(entry.path, path)
	})
	if !ok {
		return "", false
	}
	return packageNames[i].name, true
}
