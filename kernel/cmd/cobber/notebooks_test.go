package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cobber/kernel/notebook"
	"cobber/kernel/server"
)

// TestNotebooks runs the project's notebooks as the readme says. Where testdata/notebooks has the text
// that plain Go gives for the same computation, cell by cell, the notebook must show the same.
func TestNotebooks(t *testing.T) {
	root, err := filepath.Abs("../../..")
	if err != nil {
		t.Fatal(err)
	}
	paths, err := filepath.Glob(filepath.Join(root, "notebooks", "*.ipynb"))
	if err != nil || len(paths) == 0 {
		t.Fatalf("no notebooks: %v", err)
	}
	for _, path := range paths {
		name := strings.TrimSuffix(filepath.Base(path), ".ipynb")
		t.Run(name, func(t *testing.T) {
			out := t.TempDir()
			written, page := filepath.Join(out, "run.ipynb"), filepath.Join(out, "run.html")
			var stdout, stderr bytes.Buffer
			p := &program{stdout: &stdout, stderr: &stderr, newSession: func() (server.Session, error) { return newSession() }}
			if code := p.main([]string{"run", path, "-o", written, "-html", page}); code != 0 {
				t.Fatalf("exit code %d\n%s%s", code, stdout.String(), stderr.String())
			}
			nb := read(t, written)
			if html, err := os.ReadFile(page); err != nil || !strings.Contains(string(html), "<h1") {
				t.Errorf("the page has no heading (%v)", err)
			}
			want, err := os.ReadFile(filepath.Join(root, "testdata", "notebooks", name+".txt"))
			if os.IsNotExist(err) {
				return
			}
			if diff := cmp.Diff(string(want), shownText(nb, string(want))); diff != "" {
				t.Errorf("the notebook shows something else than plain Go (-plain Go +notebook):\n%s", diff)
			}
		})
	}
}

// shownText writes what cells show as text, for the cells that want lists.
func shownText(nb *notebook.Notebook, want string) string {
	var b strings.Builder
	for _, c := range nb.Cells {
		heading := fmt.Sprintf("-- cell %d --\n", c.Count)
		if c.Kind != notebook.Code || !strings.Contains(want, heading) {
			continue
		}
		b.WriteString(heading)
		for _, o := range c.Outputs {
			switch o.Kind {
			case notebook.Stream:
				b.WriteString(o.Text)
			default:
				fmt.Fprintln(&b, o.Data["text/plain"])
			}
		}
	}
	return b.String()
}
