package kernel

import (
	"bytes"
	"go/format"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

func TestFormat(t *testing.T) {
	eachGoFile(t, func(path string) {
		text, err := os.ReadFile(filepath.Join("..", path))
		if err != nil {
			t.Fatal(err)
		}
		formatted, err := format.Source(text)
		if err != nil {
			t.Errorf("%s: %v", path, err)
			return
		}
		if !bytes.Equal(text, formatted) {
			t.Errorf("%s is not formatted: run gofmt -w %s", path, path)
		}
	})
}

func TestVet(t *testing.T) {
	if testing.Short() {
		t.Skip("go vet reads the whole module: not in -short runs")
	}
	if _, err := exec.LookPath("go"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("the go command is missing: install Go")
		}
		t.Skip("the go command is missing, so go vet cannot run")
	}
	command := exec.Command("go", "vet", "./...")
	command.Dir = ".."
	if report, err := command.CombinedOutput(); err != nil {
		t.Errorf("go vet ./...: %v\n%s", err, report)
	}
}
