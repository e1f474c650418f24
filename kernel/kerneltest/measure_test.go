package kerneltest

import (
	_ "embed"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"cobber/kernel/kernelspec"
	"cobber/stdlib/published/python"
)

//go:embed measure/requirements.txt
var measured string

var measure = flag.Bool("measure", false, "measure the kernel beside ipykernel and print the table of the readme; takes minutes")

// TestMeasure prints figures and holds nothing to them: they are those of one
// machine, at one time.
func TestMeasure(t *testing.T) {
	if !*measure {
		t.Skip("measures only with -measure, on a machine that does nothing else")
	}
	program, took, cores := buildFromNothing(t)
	about, err := os.Stat(program)
	if err != nil {
		t.Fatal(err)
	}
	target := kernelspec.Target{Kind: kernelspec.Prefix, Prefix: t.TempDir(), Executable: program}
	if _, err := kernelspec.Install(target); err != nil {
		t.Fatal(err)
	}
	command := exec.Command(python.With(t, "measure", measured), filepath.Join("measure", "measure.py"))
	command.Env = append(os.Environ(),
		"JUPYTER_PATH="+filepath.Join(target.Prefix, "share", "jupyter"),
		"COBBER_HISTORY="+filepath.Join(t.TempDir(), "history.jsonl"),
		"MPLCONFIGDIR="+t.TempDir(), "IPYTHONDIR="+t.TempDir(), "JUPYTER_RUNTIME_DIR="+t.TempDir(),
	)
	command.Stderr = os.Stderr
	table, err := command.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, table)
	}
	fmt.Printf("%d cores, %s, %s/%s\n%s", runtime.NumCPU(), runtime.Version(), runtime.GOOS, runtime.GOARCH, table)
	fmt.Printf("| size of the program | %d MB | |\n| time to build it from nothing | %.0f s, %.0f s of processors | |\n", about.Size()>>20, took.Seconds(), cores.Seconds())
}

// buildFromNothing builds the program with an empty cache, and tells the time
// and that of the processors, which hangs less on what else the machine does.
func buildFromNothing(t *testing.T) (program string, took, cores time.Duration) {
	t.Helper()
	program = filepath.Join(t.TempDir(), "cobber")
	build := exec.Command("go", "build", "-o", program, "cobber/kernel/cmd/cobber")
	build.Env = append(os.Environ(), "GOCACHE="+t.TempDir())
	began := time.Now()
	if report, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, report)
	}
	return program, time.Since(began), build.ProcessState.UserTime() + build.ProcessState.SystemTime()
}
