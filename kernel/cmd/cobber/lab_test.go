package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"runtime"
	"strings"
	"testing"
)

func TestLabOperands(t *testing.T) {
	for _, test := range []struct {
		operands []string
		notebook string
		flags    []string
	}{
		{nil, "", nil},
		{[]string{"a.ipynb"}, "a.ipynb", []string{}},
		{[]string{"a.ipynb", "--no-browser"}, "a.ipynb", []string{"--no-browser"}},
		{[]string{"--no-browser"}, "", []string{"--no-browser"}},
	} {
		notebook, flags := labOperands(test.operands)
		if notebook != test.notebook || !reflect.DeepEqual(flags, test.flags) {
			t.Errorf("%v: got %q, %v", test.operands, notebook, flags)
		}
	}
}

// standIn makes a folder with a program jupyter-lab that says its version, or
// else what it was started with and in.
func standIn(t *testing.T, version string) string {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("a script stands for JupyterLab, which Windows does not start")
	}
	folder := t.TempDir()
	script := "#!/bin/sh\nif [ \"$1\" = --version ]; then echo " + version + "; exit; fi\n" +
		"echo started with \"$@\"\npwd\ncat \"${JUPYTER_PATH%%:*}/kernels/cobber/kernel.json\"\nexit 7\n"
	if err := os.WriteFile(filepath.Join(folder, "jupyter-lab"), []byte(script), 0o755); err != nil {
		t.Fatal(err)
	}
	return folder
}

func TestLabOfThePath(t *testing.T) {
	root := folder(t, map[string][]string{"a.ipynb": {"1"}})
	t.Setenv("PATH", standIn(t, "4.5.0")+string(os.PathListSeparator)+os.Getenv("PATH"))
	code, out, errs := cobber("lab", "a.ipynb", "--", "--no-browser")
	if code != 7 {
		t.Errorf("exit code %d, want that of JupyterLab: %s", code, errs)
	}
	running, _ := os.Executable()
	want(t, "output", out, "started with a.ipynb --no-browser", root, running, `"{connection_file}"`)
	if code, _, errs := cobber("lab", "b.ipynb"); code != failed || !strings.Contains(errs, "b.ipynb") {
		t.Errorf("a notebook that is not there: %d, %s", code, errs)
	}
}

// An old JupyterLab is named and not used; where there is no Python either, it
// is said what to install.
func TestLabWithoutPython(t *testing.T) {
	folder(t, nil)
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	t.Setenv("HOME", t.TempDir())
	lab := standIn(t, "3.6.1")
	t.Setenv("PATH", lab)
	if err := os.WriteFile(filepath.Join(lab, "jupyter-lab"), []byte("#!/bin/sh\necho 3.6.1\n"), 0o755); err != nil {
		t.Fatal(err)
	}
	if _, err := exec.LookPath("python3"); err == nil {
		t.Fatal("python3 should not be found")
	}
	code, _, errs := cobber("lab")
	if code != failed {
		t.Errorf("exit code %d", code)
	}
	want(t, "error", errs, "JupyterLab 3.6.1, and 4 or newer is wanted", "Python is not on the PATH: install Python 3.10")
}

func TestLabIsTakenAway(t *testing.T) {
	home := t.TempDir()
	t.Setenv("XDG_CACHE_HOME", home)
	t.Setenv("HOME", home)
	cache, err := cobberCache()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{labPrefix + "old/bin", labPrefix + "new/bin", "other"} {
		if err := os.MkdirAll(filepath.Join(cache, name), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	code, out, _ := cobber("lab", "-remove")
	if code != ok || strings.Count(out, "removed") != 2 {
		t.Errorf("exit code %d: %s", code, out)
	}
	left, err := os.ReadDir(cache)
	if err != nil || len(left) != 1 || left[0].Name() != "other" {
		t.Errorf("left are %v, %v", left, err)
	}
	if _, out, _ := cobber("lab", "-remove"); !strings.Contains(out, "there is no JupyterLab") {
		t.Errorf("removing again: %s", out)
	}
}
