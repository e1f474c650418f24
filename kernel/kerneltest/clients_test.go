package kerneltest

import (
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"

	"cobber/kernel/kernelspec"
)

// TestJupyterClients runs the tests in the folder clients: Jupyter's own test
// suite for kernels, and ours with jupyter_client, nbclient and bare ZeroMQ.
// go test -v shows each of them.
func TestJupyterClients(t *testing.T) {
	if testing.Short() {
		t.Skip("starts many kernels: not in -short runs")
	}
	python := Python(t)
	target := kernelspec.Target{Kind: kernelspec.Prefix, Prefix: t.TempDir(), Executable: buildKernel(t)}
	if _, err := kernelspec.Install(target); err != nil {
		t.Fatal(err)
	}
	arguments := []string{"-m", "pytest", "-p", "no:cacheprovider", "--color=no", "-rs", "clients"}
	if testing.Verbose() {
		arguments = append(arguments, "-v")
	}
	command := exec.Command(python, arguments...)
	command.Env = append(os.Environ(),
		"JUPYTER_PATH="+filepath.Join(target.Prefix, "share", "jupyter"),
		"JUPYTER_RUNTIME_DIR="+t.TempDir(),
		"JUPYTER_CONFIG_DIR="+t.TempDir(),
		"IPYTHONDIR="+t.TempDir(),
		"COBBER_HISTORY=off",
		"PYTHONDONTWRITEBYTECODE=1",
		"PYDEVD_DISABLE_FILE_VALIDATION=1",
	)
	report, err := command.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, report)
	}
	t.Logf("%s", report)
}

// buildKernel builds the program as users have it. COBBER_PROGRAM in the
// environment names one to test instead, such as one that is to be shipped.
func buildKernel(t *testing.T) string {
	t.Helper()
	if program := os.Getenv("COBBER_PROGRAM"); program != "" {
		return program
	}
	if _, err := exec.LookPath("go"); err != nil {
		Missing(t, "the go command is missing, so the program cannot be built")
	}
	program := filepath.Join(t.TempDir(), "cobber")
	if runtime.GOOS == "windows" {
		program += ".exe"
	}
	build := exec.Command("go", "build", "-o", program, "cobber/kernel/cmd/cobber")
	if report, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, report)
	}
	return program
}
