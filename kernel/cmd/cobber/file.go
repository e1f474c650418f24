package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
)

// writeFile replaces a file as a whole: a reader, or a power cut, sees the old
// one or the new one. A link stays a link.
func writeFile(path string, data []byte) error {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return err
	}
	mode := os.FileMode(0o666)
	about, err := os.Stat(path)
	if err == nil {
		mode = about.Mode().Perm()
	}
	temporary := filepath.Join(filepath.Dir(path), fmt.Sprintf(".%s.%d", filepath.Base(path), os.Getpid()))
	defer os.Remove(temporary) // does nothing once it has its new name
	if err := os.WriteFile(temporary, data, mode); err != nil {
		return err
	}
	return os.Rename(temporary, path)
}

// plain says of a file what is wrong without naming the system call.
func plain(err error) error {
	var path *os.PathError
	if errors.As(err, &path) {
		return fmt.Errorf("%s: %w", path.Path, path.Err)
	}
	return err
}
