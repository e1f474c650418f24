package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cobber/kernel/notebook"
	"cobber/kernel/notebook/compare"
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
			html, err := os.ReadFile(page)
			if err != nil {
				t.Fatal(err)
			}
			checkPage(t, string(html))
			if strings.Contains(stderr.String(), fmt.Sprintf(" of %d: ", len(nb.Cells))) {
				t.Errorf("the page was written with warnings:\n%s", stderr.String())
			}
			saved := read(t, path)
			if !compare.HasOutputs(saved) {
				t.Error("the notebook is saved without outputs")
			}
			for _, difference := range compare.Notebooks(saved, nb, compare.Options{Tolerance: 1e-6}) {
				t.Errorf("%s; cobber run -o saves the notebook anew", difference)
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

var (
	headingTag = regexp.MustCompile(`<h([1-6])[ >]`)
	pictureTag = regexp.MustCompile(`<img[^>]*>`)
	words      = regexp.MustCompile(`alt="[^"]+"`)
	anchor     = regexp.MustCompile(` id="([^"]*)"`)
)

// checkPage holds a page to what those need who hear it or move through it by
// keys: one title, headings without gaps, words for pictures, places that are
// called once (WCAG 2.1, success criteria 1.1.1, 1.3.1 and 4.1.1).
func checkPage(t *testing.T, html string) {
	t.Helper()
	level, titles := 0, 0
	for _, match := range headingTag.FindAllStringSubmatch(html, -1) {
		next := int(match[1][0] - '0')
		if next > level+1 {
			t.Errorf("a heading of level %d stands below one of level %d", next, level)
		}
		if level = next; level == 1 {
			titles++
		}
	}
	if titles != 1 {
		t.Errorf("the page has %d titles", titles)
	}
	for _, tag := range pictureTag.FindAllString(html, -1) {
		if !words.MatchString(tag) {
			t.Errorf("a picture without words: %.80s", tag)
		}
	}
	seen := map[string]bool{}
	for _, match := range anchor.FindAllStringSubmatch(html, -1) {
		if seen[match[1]] {
			t.Errorf("two places are called %s", match[1])
		}
		seen[match[1]] = true
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
