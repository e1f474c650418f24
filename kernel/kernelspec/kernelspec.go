package kernelspec

import (
	"bytes"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
)

//go:embed logo
var logo embed.FS

// Spec is the content of kernel.json.
type Spec struct {
	Argv          []string          `json:"argv"`
	DisplayName   string            `json:"display_name"`
	Language      string            `json:"language"`
	InterruptMode string            `json:"interrupt_mode"`
	Env           map[string]string `json:"env,omitempty"`
	Metadata      map[string]any    `json:"metadata"`
}

// New is the specification of the kernel that is started with an executable.
// Interrupts come as messages: Windows knows no signal for them.
func New(executable string) Spec {
	return Spec{
		Argv:          []string{executable, "kernel", "{connection_file}"},
		DisplayName:   "Cobber",
		Language:      "go",
		InterruptMode: "message",
		Metadata:      map[string]any{"debugger": false},
	}
}

// Install writes the kernel specification to a target, over one that is there,
// and gives its folder.
func Install(target Target) (dir string, err error) {
	dir, err = target.Dir()
	if err != nil {
		return "", fmt.Errorf("install the kernel: %w", err)
	}
	executable, err := executablePath(target.Executable)
	if err != nil {
		return "", fmt.Errorf("install the kernel: %w", err)
	}
	if err := writeSpec(dir, New(executable)); err != nil {
		if errors.Is(err, fs.ErrPermission) {
			return "", fmt.Errorf("install the kernel: %w: install it for the user, or with the rights to write there", err)
		}
		return "", fmt.Errorf("install the kernel: %w", err)
	}
	return dir, nil
}

func writeSpec(dir string, spec Spec) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	var text bytes.Buffer
	encoder := json.NewEncoder(&text)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", " ")
	if err := encoder.Encode(spec); err != nil {
		return err
	}
	if err := eachLogo(func(name string, content []byte) error {
		return os.WriteFile(filepath.Join(dir, name), content, 0o644)
	}); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "kernel.json"), text.Bytes(), 0o644)
}

func eachLogo(do func(name string, content []byte) error) error {
	entries, err := logo.ReadDir("logo")
	if err != nil {
		return err
	}
	for _, entry := range entries {
		content, err := logo.ReadFile("logo/" + entry.Name())
		if err != nil {
			return err
		}
		if err := do(entry.Name(), content); err != nil {
			return err
		}
	}
	return nil
}

// executablePath is the absolute path that kernel.json is to name.
func executablePath(given string) (string, error) {
	if given != "" {
		path, err := filepath.Abs(given)
		if err != nil {
			return "", err
		}
		if info, err := os.Stat(path); err != nil || info.IsDir() {
			return "", fmt.Errorf("there is no program %s", path)
		}
		return path, nil
	}
	path, err := os.Executable()
	if err != nil {
		return "", fmt.Errorf("the path of the running program is not known: %w", err)
	}
	if strings.Contains(filepath.ToSlash(path), "/go-build") {
		return "", errors.New("the running program is one that go run made and deletes: build it first with go install ./kernel/cmd/cobber")
	}
	return path, nil
}

// Found is a kernel specification under our name.
type Found struct {
	Dir  string
	Spec Spec
	Err  error // it cannot be read, or would not start a kernel as this one is
}

// Find gives the kernel specifications under our name in the folders Jupyter
// looks in, in its order: it uses the first.
func Find() []Found { return FindIn(SearchDirs()) }

// SearchDirs gives the folders for data in which Jupyter looks, in its order.
func SearchDirs() []string { return searchDirs(runtime.GOOS, os.Getenv) }

// FindIn is Find in given folders for data, such as those that a Jupyter names.
func FindIn(dirs []string) []Found {
	var all []Found
	for _, data := range dirs {
		dir := filepath.Join(data, "kernels", Name)
		spec, err := read(dir)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err == nil {
			err = spec.check()
		}
		all = append(all, Found{dir, spec, err})
	}
	return all
}

// check says what is stale or broken in a specification.
func (s Spec) check() error {
	if _, err := executablePath(s.Argv[0]); err != nil {
		return err
	}
	want := New(s.Argv[0])
	switch {
	case !slices.Equal(s.Argv, want.Argv):
		return fmt.Errorf("it starts %s, which is not how a cobber is started", strings.Join(s.Argv, " "))
	case s.InterruptMode != want.InterruptMode:
		return fmt.Errorf("its interrupt_mode is %q and must be %q, or cells could not be stopped everywhere", s.InterruptMode, want.InterruptMode)
	case s.Language != want.Language:
		return fmt.Errorf("its language is %q and must be %q", s.Language, want.Language)
	}
	return nil
}

func read(dir string) (Spec, error) {
	path := filepath.Join(dir, "kernel.json")
	text, err := os.ReadFile(path)
	if err != nil {
		return Spec{}, err
	}
	var spec Spec
	if err := json.Unmarshal(text, &spec); err != nil {
		return Spec{}, fmt.Errorf("%s: %w", path, err)
	}
	if len(spec.Argv) == 0 {
		return spec, fmt.Errorf("%s: argv is missing: install the kernel again", path)
	}
	return spec, nil
}

// Remove takes the kernel specification away from a target, and gives its
// folder. Files that are not ours stay, and so does a folder under our name
// that starts something else.
func Remove(target Target) (dir string, err error) {
	dir, err = target.Dir()
	if err != nil {
		return "", fmt.Errorf("remove the kernel: %w", err)
	}
	spec, err := read(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return "", fmt.Errorf("remove the kernel: none is installed in %s", dir)
	}
	if err == nil && (len(spec.Argv) < 2 || spec.Argv[1] != "kernel" || spec.Language != "go") {
		return "", fmt.Errorf("remove the kernel: %s is that of another kernel, which starts %s", dir, strings.Join(spec.Argv, " "))
	}
	err = eachLogo(func(name string, _ []byte) error {
		if err := os.Remove(filepath.Join(dir, name)); !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		return nil
	})
	if err == nil {
		err = os.Remove(filepath.Join(dir, "kernel.json"))
	}
	if err != nil {
		return "", fmt.Errorf("remove the kernel: %w", err)
	}
	os.Remove(dir) // stays if somebody put something else there
	return dir, nil
}
