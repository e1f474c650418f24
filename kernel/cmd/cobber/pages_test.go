package main

import (
	"bytes"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"cobber/kernel/notebook"
)

func TestRunWritesMarkdown(t *testing.T) {
	root := folder(t, map[string][]string{"a.ipynb": {"one"}, "b.ipynb": {"two"}})
	if code, _, stderr := cobber("run", "-md", "text/", "-code", "hide", "a.ipynb", "b.ipynb"); code != ok {
		t.Fatal(stderr)
	}
	data, err := os.ReadFile(filepath.Join(root, "text", "b.md"))
	if err != nil {
		t.Fatal(err)
	}
	if text := string(data); !strings.HasPrefix(text, "```text\ntwo\n```\n") || !strings.Contains(text, "*b.ipynb, run from the first cell to the last with cobber ") {
		t.Errorf("the text is\n%s", text)
	}
	if code, _, stderr := cobber("run", "-code", "x", "a.ipynb"); code != misused || !strings.Contains(stderr, "none of show, fold and hide") {
		t.Errorf("code %d, %s", code, stderr)
	}
}

// A picture of one pixel, for the folder beside the text.
const pixel = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg=="

func TestMarkdownHasItsPicturesBesideIt(t *testing.T) {
	folder := t.TempDir()
	nb := &notebook.Notebook{Cells: []notebook.Cell{{Kind: notebook.Code, Source: "x", Outputs: []notebook.Output{
		{Kind: notebook.Display, Data: map[string]any{"image/png": pixel, "text/plain": "a pixel"}}}}}}
	var stderr bytes.Buffer
	p := &program{stderr: &stderr}
	if code := p.writeMarkdown(job{path: "a.ipynb", markdown: filepath.Join(folder, "out.md")}, nb); code != ok {
		t.Fatal(stderr.String())
	}
	if data, err := os.ReadFile(filepath.Join(folder, "out_files", "cell-1-1.png")); err != nil || !bytes.HasPrefix(data, []byte("\x89PNG")) {
		t.Errorf("the picture: %v", err)
	}
	if text, _ := os.ReadFile(filepath.Join(folder, "out.md")); !strings.Contains(string(text), "![a pixel](out_files/cell-1-1.png)") {
		t.Errorf("the text does not name it:\n%s", text)
	}
}

func TestPDF(t *testing.T) {
	if browser() == "" {
		if os.Getenv("CI") == "true" {
			t.Fatal("no browser of the Chromium family is found: install one")
		}
		t.Skip("no browser of the Chromium family is found, so no page can be printed")
	}
	folder(t, map[string][]string{"a.ipynb": {"one"}})
	if code, _, stderr := cobber("run", "-pdf", "a.pdf", "a.ipynb"); code != ok {
		t.Fatal(stderr)
	}
	data, err := os.ReadFile("a.pdf")
	if err != nil || !bytes.HasPrefix(data, []byte("%PDF-")) || !bytes.Contains(data[max(0, len(data)-64):], []byte("%%EOF")) {
		t.Errorf("%d bytes that are no PDF, %v", len(data), err)
	}
}

func TestPDFWithoutAPrinter(t *testing.T) {
	folder(t, map[string][]string{"a.ipynb": {"one"}})
	t.Setenv("COBBER_BROWSER", "no-such-browser")
	t.Setenv("PATH", "")
	if code, _, stderr := cobber("run", "-pdf", "a.pdf", "a.ipynb"); code != failed || !strings.Contains(stderr, "a PDF needs a browser") {
		t.Errorf("code %d, %s", code, stderr)
	}
}

// Where there is no browser, nbconvert sets the notebook: a program of that name
// shows with what it is called.
func TestPDFByNbconvert(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("the program that stands for Jupyter is a shell script")
	}
	root := folder(t, map[string][]string{"a.ipynb": {"one"}})
	script := "#!/bin/sh\n[ \"$1 $2 $3\" = \"nbconvert --to pdf\" ] || exit 3\n[ -s \"$4\" ] || exit 4\nprintf %%PDF-x > \"${4%.ipynb}.pdf\"\n"
	if err := os.WriteFile(filepath.Join(root, "jupyter"), []byte(script), 0o777); err != nil {
		t.Fatal(err)
	}
	t.Setenv("COBBER_BROWSER", "no-such-browser")
	t.Setenv("PATH", root)
	if code, _, stderr := cobber("run", "-pdf", "a.pdf", "a.ipynb"); code != ok {
		t.Fatal(stderr)
	}
	if data, err := os.ReadFile("a.pdf"); err != nil || string(data) != "%PDF-x" {
		t.Errorf("%q, %v", data, err)
	}
}
