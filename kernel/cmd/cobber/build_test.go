package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"cobber/kernel/notebook"
	"cobber/kernel/server"
)

// TestBuiltNotebooks compiles each notebook of the project with the Go compiler,
// and holds what the program prints to what the notebook shows. A notebook that
// a program cannot say must be listed here with the reason.
func TestBuiltNotebooks(t *testing.T) {
	if testing.Short() {
		t.Skip("compiling the notebooks takes a while: not in -short runs")
	}
	if _, err := exec.LookPath("go"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("the go command is missing: install Go")
		}
		t.Skip("the go command is missing, so programs cannot be compiled")
	}
	unwritable := map[string]string{}
	root, err := filepath.Abs("../../..")
	if err != nil {
		t.Fatal(err)
	}
	paths, err := filepath.Glob(filepath.Join(root, "notebooks", "*.ipynb"))
	if err != nil || len(paths) == 0 {
		t.Fatalf("no notebooks: %v", err)
	}
	for _, path := range paths {
		t.Run(filepath.Base(path), func(t *testing.T) {
			folder := t.TempDir()
			var stdout, stderr bytes.Buffer
			p := &program{stdout: &stdout, stderr: &stderr, newSession: func() (server.Session, error) { return newSession() }}
			code := p.main([]string{"build", "-o", folder, path})
			if reason := unwritable[filepath.Base(path)]; reason != "" {
				if code == ok || !strings.Contains(stderr.String(), reason) {
					t.Errorf("code %d, %s, want a refusal with %q", code, stderr.String(), reason)
				}
				return
			}
			if code != ok {
				t.Fatalf("code %d: %s", code, stderr.String())
			}
			command := exec.Command(filepath.Join(folder, programName(path)))
			command.Dir = filepath.Dir(path)
			var said bytes.Buffer
			command.Stderr = &said
			printed, err := command.Output()
			if err != nil {
				t.Fatalf("%v\n%s", err, said.String())
			}
			written := filepath.Join(folder, "run.ipynb")
			if code := p.main([]string{"run", path, "-o", written}); code != ok {
				t.Fatal(stderr.String())
			}
			if want := printedText(read(t, written)); want != string(printed) {
				t.Errorf("the program prints something else than the notebook shows:\n%s", firstDifference(want, string(printed)))
			}
		})
	}
}

// printedText is what a notebook shows, as text from top to bottom, without the
// working of cells: a program has none.
func printedText(nb *notebook.Notebook) string {
	var b strings.Builder
	for i := range nb.Cells {
		for _, o := range nb.Cells[i].Outputs {
			if o.Kind == notebook.Failure {
				continue // a program says it on its standard error
			}
			if o.Kind == notebook.Stream {
				if o.Name == "stdout" {
					b.WriteString(o.Text)
				}
				continue
			}
			text, _ := o.Data["text/plain"].(string)
			if isWorking := strings.Contains(nb.Cells[i].Source, "//cobber:working") && o.Kind == notebook.Display && o.Data["text/latex"] != nil; !isWorking {
				b.WriteString(text + "\n")
			}
		}
	}
	return b.String()
}

func firstDifference(want, got string) string {
	a, b := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return "line " + a[i] + "\nis   " + b[i]
		}
	}
	return "one is longer than the other"
}

func TestBuildWritesSource(t *testing.T) {
	root := folder(t, map[string][]string{"A sand!.ipynb": {"x := 1", "x + 1"}, "bad.ipynb": {"y"}})
	library, err := filepath.Abs(filepath.Join(root, "library"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(library, 0o777); err != nil {
		t.Fatal(err)
	}
	if code, _, stderr := cobber("build", "-library", "library", "A sand!.ipynb"); code != failed || !strings.Contains(stderr, "not the folder of cobber's go.mod") {
		t.Errorf("code %d, %s", code, stderr)
	}
	if err := os.WriteFile(filepath.Join(library, "go.mod"), []byte("module cobber\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	if code, _, stderr := cobber("build", "-source", "-library", "library", "A sand!.ipynb"); code != ok {
		t.Fatal(stderr)
	}
	for file, want := range map[string]string{"main.go": "func cell2()", "support.go": "package main", "go.mod": "module a-sand\n", "go.work": filepath.ToSlash(library)} {
		if data, err := os.ReadFile(filepath.Join(root, "a-sand", file)); err != nil || !strings.Contains(string(data), want) {
			t.Errorf("%s lacks %q: %v\n%s", file, want, err, data)
		}
	}
	if code, _, stderr := cobber("build", "-source", "-library", "library", "bad.ipynb"); code != failed || !strings.Contains(stderr, "undefined: y") {
		t.Errorf("code %d, %s", code, stderr)
	}
	if code, _, _ := cobber("build"); code != misused {
		t.Errorf("code %d without a notebook", code)
	}
}
