// Package python gives tests a Python with the packages that they name, so that
// results can be held to general libraries of Python such as numpy. It is for
// tests only, and nothing of the library needs it.
//
// In goes a list of packages as pip reads it, with exact versions; out comes the
// path of a Python that has them. They are installed on first use, into the
// user's cache, and used again as long as the list is the same. It never
// installs into a Python that somebody else uses.
package python

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"
)

// With is the path of a Python with the packages of a list of requirements,
// under a name for the folder. Where that is not possible the test ends as
// Missing says.
func With(t testing.TB, name, requirements string) string {
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
	python := programIn(dir)
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

func programIn(environment string) string {
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
		{programIn(making), "-m", "pip", "install", "--quiet", "--no-deps", "-r", list},
	} {
		if report, err := exec.Command(command[0], command[1:]...).CombinedOutput(); err != nil {
			return fmt.Errorf("%v: %w\n%s", command, err, report)
		}
	}
	if err := os.Rename(making, dir); err != nil {
		if _, there := os.Stat(programIn(dir)); there != nil {
			return err
		}
	}
	return nil
}
