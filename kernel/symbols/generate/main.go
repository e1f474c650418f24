// Command generate writes what kernel/symbols and kernel/docs embed: export
// data, tables of compiled symbols, adapters, fast calls, and documentation,
// for the packages of Go's standard library that a cell may import and for all
// packages under stdlib.
//
// It must be run again when a package under stdlib changes what it exports:
//
//	go generate ./kernel/symbols
//
// It imports nothing of what it writes, so it also runs when that is broken. A
// package under stdlib that does not compile is left out, and said so.
package main

import (
	"bytes"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

func main() {
	target := flag.String("into", "", "folder to write into instead of the module (its kernel/symbols and kernel/docs)")
	flag.Parse()
	if err := run(*target); err != nil {
		fmt.Fprintln(os.Stderr, "generate:", err)
		os.Exit(1)
	}
}

func run(target string) error {
	start := time.Now()
	root, err := moduleRoot()
	if err != nil {
		return err
	}
	if target == "" {
		target = root
	}
	loaded, err := load(root)
	if err != nil {
		return err
	}
	fmt.Printf("loaded %d packages of Go and %d of our own in %v\n", loaded.countGo(), loaded.countOwn(), since(start))
	out := output{files: map[string][]byte{}}
	for _, step := range []struct {
		name string
		do   func(*packages, *output) error
	}{
		{"types", writeExports},
		{"tables", writeTables},
		{"adapters", writeAdapters},
		{"fast calls", writeFastCalls},
		{"documentation", writeDocumentation},
	} {
		began := time.Now()
		before := out.size()
		if err := step.do(loaded, &out); err != nil {
			return fmt.Errorf("%s: %w", step.name, err)
		}
		fmt.Printf("%-14s %8d bytes in %v\n", step.name, out.size()-before, since(began))
	}
	changed, err := out.writeTo(target)
	if err != nil {
		return err
	}
	fmt.Printf("%d files, %d changed, %v in all\n", len(out.files), changed, since(start))
	return nil
}

func since(start time.Time) time.Duration { return time.Since(start).Round(10 * time.Millisecond) }

func moduleRoot() (string, error) {
	file, err := exec.Command("go", "env", "GOMOD").Output()
	if err != nil {
		return "", fmt.Errorf("go env GOMOD: %w", err)
	}
	path := strings.TrimSpace(string(file))
	if path == "" || path == os.DevNull {
		return "", fmt.Errorf("run inside the module")
	}
	return filepath.Dir(path), nil
}

// output collects files by path from the root of the module, and writes them
// all at the end: a run that fails changes nothing.
type output struct{ files map[string][]byte }

func (o *output) add(path string, data []byte) { o.files[path] = data }

func (o *output) size() int {
	total := 0
	for _, data := range o.files {
		total += len(data)
	}
	return total
}

// owned are the places that hold nothing but generated files; what a run did
// not make is removed there.
var owned = []string{"kernel/symbols/export", "kernel/docs/text"}

func (o *output) writeTo(root string) (changed int, err error) {
	for path, data := range o.files {
		full := filepath.Join(root, filepath.FromSlash(path))
		if old, err := os.ReadFile(full); err == nil && bytes.Equal(old, data) {
			continue
		}
		changed++
		if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
			return changed, err
		}
		if err := os.WriteFile(full, data, 0o644); err != nil {
			return changed, err
		}
	}
	return changed, o.removeStale(root)
}

func (o *output) removeStale(root string) error {
	for _, folder := range owned {
		top := filepath.Join(root, filepath.FromSlash(folder))
		err := filepath.WalkDir(top, func(path string, entry fs.DirEntry, err error) error {
			if err != nil || entry.IsDir() {
				return err
			}
			relative, err := filepath.Rel(root, path)
			if err != nil {
				return err
			}
			if _, made := o.files[filepath.ToSlash(relative)]; made {
				return nil
			}
			fmt.Println("removed", relative)
			return os.Remove(path)
		})
		if err != nil && !os.IsNotExist(err) {
			return err
		}
	}
	return nil
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for key := range m {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	return keys
}
