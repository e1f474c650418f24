package cells

import (
	"flag"
	"os"
	"os/exec"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the outputs of the stories again, from the Go compiler")

// TestOutputs holds the output written in each story to the Go compiler.
func TestOutputs(t *testing.T) {
	if testing.Short() {
		t.Skip("compiling all stories takes a while: not in -short runs")
	}
	if _, err := exec.LookPath("go"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("the go command is missing: install Go")
		}
		t.Skip("the go command is missing, so the stories cannot be compiled")
	}
	stories := readStories(t)
	ref, err := compileStories(stories, t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	for _, one := range stories {
		got, err := ref.run(one)
		if err != nil {
			t.Errorf("%s: %v\n%s", one.name, err, one.text())
			continue
		}
		if *update {
			writeResult(t, one, got)
		} else if diff := cmp.Diff(one.golden, got, cmp.AllowUnexported(result{})); diff != "" || !one.hasOutput() {
			t.Errorf("%s: the story's output is not what the compiler gives (-story +compiler); write it by -update\n%s\n%s", one.name, diff, one.text())
		}
	}
	t.Logf("%d stories compiled and run", len(stories))
}

func writeResult(t *testing.T, one *story, got result) {
	t.Helper()
	if one.hasOutput() && one.golden == got {
		return
	}
	if err := one.write("output", got.output, true); err != nil {
		t.Fatal(err)
	}
	if err := one.write("panic", got.panic, false); err != nil {
		t.Fatal(err)
	}
}
