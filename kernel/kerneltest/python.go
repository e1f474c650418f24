package kerneltest

import (
	_ "embed"
	"testing"

	"cobber/stdlib/published/python"
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
	return python.With(t, "clients", clients)
}

// BrowserPython is as Python, with what drives a browser, as in
// browser/requirements.txt.
func BrowserPython(t testing.TB) string {
	t.Helper()
	return python.With(t, "browser", browserDriver)
}

// Missing ends a test for want of a tool: skipped on a person's machine, failed
// where CI=true says that everything must be there.
func Missing(t testing.TB, format string, args ...any) {
	t.Helper()
	python.Missing(t, format, args...)
}
