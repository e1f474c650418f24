package kerneltest

import (
	"os"
	"os/exec"
	"testing"
)

// TestJupyterLab runs the tests in the folder browser: JupyterLab as cobber lab
// starts it, with a headless Chromium that does what a person does. The first
// run installs JupyterLab, as it does for a user. COBBER_PICTURES in the
// environment names a folder for screenshots; go test -v shows each test.
func TestJupyterLab(t *testing.T) {
	if testing.Short() {
		t.Skip("starts a browser: not in -short runs")
	}
	browser := findBrowser()
	if browser == "" {
		Missing(t, "Chromium is not on the PATH: install it to test with JupyterLab")
	}
	python := BrowserPython(t)
	arguments := []string{"-m", "pytest", "-p", "no:cacheprovider", "--color=no", "-rs", "--tb=short", "browser"}
	if testing.Verbose() {
		arguments = append(arguments, "-v")
	}
	command := exec.Command(python, arguments...)
	command.Env = append(os.Environ(), "COBBER_PROGRAM="+buildKernel(t), "COBBER_BROWSER="+browser, "COBBER_HISTORY=off", "PYTHONDONTWRITEBYTECODE=1")
	report, err := command.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, report)
	}
	t.Logf("%s", report)
}

func findBrowser() string {
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			return found
		}
	}
	return ""
}
