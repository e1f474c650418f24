package symbols

import (
	"embed"
	"path"
	"slices"
)

// File is a file of Go source text that the executor is to run.
type File struct{ Name, Text string }

// The texts are also packages of this module, so that tests can compile them
// and hold them to the packages they stand for.
//
//go:embed source
var sourceText embed.FS

// fromSource lists the packages executed whole from source: all they export is
// generic, so there is nothing compiled to call.
var fromSource = []string{"cmp", "maps", "slices"}

// Source gives the text of a package that is executed from source. Its
// exported signatures are those that Import gives for the same path.
func Source(path string) ([]File, bool) {
	if !slices.Contains(fromSource, path) {
		return nil, false
	}
	return readSource(path)
}

func readSource(importPath string) ([]File, bool) {
	folder := path.Join("source", importPath)
	entries, err := sourceText.ReadDir(folder)
	if err != nil {
		return nil, false
	}
	var files []File
	for _, entry := range entries {
		if entry.IsDir() {
			continue
		}
		text, err := sourceText.ReadFile(path.Join(folder, entry.Name()))
		if err != nil {
			return nil, false
		}
		files = append(files, File{Name: path.Join(importPath, entry.Name()), Text: string(text)})
	}
	return files, len(files) > 0
}

// Overlay gives the text of the generic functions of a compiled package, such
// as sync.OnceValue. They are missing from what Import gives: the text is to
// be checked as a package of its own, under OverlayPath, and its exported
// functions put into the scope of the compiled package. AddOverlay does so.
func Overlay(path string) ([]File, bool) {
	return readSource(overlayFolder + "/" + path)
}

const overlayFolder = "overlay"

// OverlayPath is the path of the package made of the text that Overlay gives.
func OverlayPath(path string) string { return "cobber/overlay/" + path }
