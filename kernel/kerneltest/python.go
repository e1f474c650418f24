package kerneltest

import (
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"
)

//go:embed requirements.txt
var clients string

//go:embed browser/requirements.txt
var browserDriver string

// Python gives the path of a Python that has the clients of Jupyter named in
// requirements.txt. They are installed on first use, into the user's cache,
// and used again as long as the requirements are the same. Where that is not
// possible the test is skipped; with CI=true in the environment it fails.
func Python(t testing.TB) string {
	t.Helper()
	return pythonWith(t, "clients", clients)
}

// BrowserPython is as Python, with what drives a browser, as in
// browser/requirements.txt.
func BrowserPython(t testing.TB) string {
	t.Helper()
	return pythonWith(t, "browser", browserDriver)
}

func pythonWith(t testing.TB, name, requirements string) string {
	t.Helper()
	cache, err := os.UserCacheDir()
	if err != nil {
		Missing(t, "no cache folder for packages of Python: %v", err)
	}
	base, err := exec.LookPath("python3")
	if err != nil {
		Missing(t, "python3 is not on the PATH: install Python 3.10 or newer")
	}
	sum := sha256.Sum256([]byte(base + "\n" + requirements))
	dir := filepath.Join(cache, "cobber", name+"-"+hex.EncodeToString(sum[:6]))
	python := pythonIn(dir)
	if _, err := os.Stat(python); err == nil {
		return python
	}
	if err := makeEnvironment(t, base, dir, requirements); err != nil {
		Missing(t, "the packages of Python for %s cannot be installed: %v", name, err)
	}
	return python
}

// Missing ends a test for want of a tool: skipped on a person's machine, failed
// where CI=true says that everything must be there.
func Missing(t testing.TB, format string, args ...any) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatalf(format, args...)
	}
	t.Skipf(format, args...)
}

func pythonIn(environment string) string {
	if runtime.GOOS == "windows" {
		return filepath.Join(environment, "Scripts", "python.exe")
	}
	return filepath.Join(environment, "bin", "python")
}

// makeEnvironment builds beside dir and renames, so that half an environment
// is never taken for one, and tests that run at once do not meet.
func makeEnvironment(t testing.TB, base, dir, requirements string) error {
	t.Logf("installing packages of Python into %s", dir)
	if err := os.MkdirAll(filepath.Dir(dir), 0o755); err != nil {
		return err
	}
	making, err := os.MkdirTemp(filepath.Dir(dir), "making-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(making)
	list := filepath.Join(making, "requirements.txt")
	if err := os.WriteFile(list, []byte(requirements), 0o644); err != nil {
		return err
	}
	for _, command := range [][]string{
		{base, "-m", "venv", making},
		{pythonIn(making), "-m", "pip", "install", "--quiet", "--no-deps", "-r", list},
	} {
		if report, err := exec.Command(command[0], command[1:]...).CombinedOutput(); err != nil {
			return fmt.Errorf("%v: %w\n%s", command, err, report)
		}
	}
	if err := os.Rename(making, dir); err != nil {
		if _, there := os.Stat(pythonIn(dir)); there != nil {
			return err
		}
	}
	return nil
}
