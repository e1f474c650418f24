package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"cobber/kernel/diag"
	"cobber/kernel/notebook"
	"cobber/kernel/server"
	"cobber/kernel/source"
)

// echo is a session for tests: a cell prints its own text; "fail" fails, "pwd"
// prints the working folder, "stop" interrupts the program.
type echo struct{ server.Session }

func (echo) Close() {}

func (echo) Run(ctx context.Context, cell source.Cell, out server.Output) server.Outcome {
	switch cell.Text {
	case "fail":
		return server.Outcome{Err: diag.List{diag.New("name", cell, 0, 4, "there is no fail")}}
	case "pwd":
		folder, err := os.Getwd()
		return server.Outcome{Values: []any{folder}, Err: err}
	case "stop":
		process, err := os.FindProcess(os.Getpid())
		if err != nil {
			return server.Outcome{Err: err}
		}
		if err := process.Signal(os.Interrupt); err != nil {
			return server.Outcome{Err: err}
		}
		<-ctx.Done()
		return server.Outcome{Err: errors.New("stopped")}
	}
	out.Stream("stdout", cell.Text+"\n")
	return server.Outcome{}
}

// cobber runs the program with the session above.
func cobber(args ...string) (code int, stdout, stderr string) {
	var out, errs bytes.Buffer
	p := &program{stdout: &out, stderr: &errs, newSession: func() (server.Session, error) { return echo{}, nil }}
	p.executable, _ = os.Executable() // that of the test: it lies where go run puts its programs, and is refused by itself
	code = p.main(args)
	return code, out.String(), errs.String()
}

// folder makes a folder with notebooks: name, then the text of its cells.
func folder(t *testing.T, notebooks map[string][]string) string {
	t.Helper()
	root := t.TempDir()
	for name, cells := range notebooks {
		nb := &notebook.Notebook{}
		for _, text := range cells {
			nb.Cells = append(nb.Cells, notebook.Cell{Kind: notebook.Code, Source: text})
		}
		data, err := notebook.Write(nb)
		if err != nil {
			t.Fatal(err)
		}
		if err := writeFile(filepath.Join(root, name), data); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(root)
	return root
}

func read(t *testing.T, path string) *notebook.Notebook {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	nb, err := notebook.Read(data)
	if err != nil {
		t.Fatal(err)
	}
	return nb
}

func want(t *testing.T, what, got string, parts ...string) {
	t.Helper()
	for _, part := range parts {
		if !strings.Contains(got, part) {
			t.Errorf("%s should contain %q:\n%s", what, part, got)
		}
	}
}

func TestRunKeepsTheSource(t *testing.T) {
	folder(t, map[string][]string{"a.ipynb": {"one", "two"}})
	before, err := os.ReadFile("a.ipynb")
	if err != nil {
		t.Fatal(err)
	}
	code, stdout, stderr := cobber("run", "a.ipynb")
	if code != ok || stdout != "" {
		t.Errorf("exit code %d, printed %q", code, stdout)
	}
	want(t, "progress", stderr, "a.ipynb: cell 1 of 2, ", "a.ipynb: cell 2 of 2, ", "a.ipynb: 2 of 2 cells in ")
	after, err := os.ReadFile("a.ipynb")
	if err != nil || !bytes.Equal(before, after) {
		t.Errorf("the notebook was changed (error %v)", err)
	}
	files, err := os.ReadDir(".")
	if err != nil || len(files) != 1 {
		t.Errorf("files %v, error %v", files, err)
	}
}

func TestRunWrites(t *testing.T) {
	tests := []struct {
		name        string
		args        []string
		ipynb, html string
	}{
		{"flags first", []string{"-o", "b.ipynb", "-html", "b.html", "a.ipynb"}, "b.ipynb", "b.html"},
		{"flags last", []string{"a.ipynb", "-html=b.html", "-o=b.ipynb"}, "b.ipynb", "b.html"},
		{"two hyphens", []string{"--o", "b.ipynb", "--", "a.ipynb"}, "b.ipynb", ""},
		{"over itself", []string{"a.ipynb", "-o", "a.ipynb"}, "a.ipynb", ""},
		{"into a folder", []string{"a.ipynb", "-o", "out/", "-html", "out/"}, "out/a.ipynb", "out/a.html"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			folder(t, map[string][]string{"a.ipynb": {"one"}})
			if code, _, stderr := cobber(append([]string{"run"}, test.args...)...); code != ok {
				t.Fatalf("exit code %d: %s", code, stderr)
			}
			nb := read(t, test.ipynb)
			if len(nb.Cells[0].Outputs) != 1 || nb.Cells[0].Outputs[0].Text != "one\n" || nb.Cells[0].Count != 1 {
				t.Errorf("the cell was written as %+v", nb.Cells[0])
			}
			info, _ := nb.Metadata["language_info"].(map[string]any)
			if info["version"] != goVersion() {
				t.Errorf("metadata %v", nb.Metadata)
			}
			if test.html == "" {
				return
			}
			page, err := os.ReadFile(test.html)
			if err != nil {
				t.Fatal(err)
			}
			want(t, "page", string(page), "<!DOCTYPE html>", "<title>a</title>", "one")
		})
	}
}

func TestRunSeveral(t *testing.T) {
	folder(t, map[string][]string{"a.ipynb": {"one"}, "c/b.ipynb": {"pwd"}})
	code, _, stderr := cobber("run", "a.ipynb", "c/b.ipynb", "-html", "pages", "-o", "done")
	if code != ok {
		t.Fatalf("exit code %d: %s", code, stderr)
	}
	for _, path := range []string{"pages/a.html", "pages/b.html", "done/a.ipynb", "done/b.ipynb"} {
		if _, err := os.Stat(path); err != nil {
			t.Error(err)
		}
	}
	shown, _ := read(t, "done/b.ipynb").Cells[0].Outputs[0].Data["text/plain"].(string)
	if filepath.Base(strings.Trim(shown, `"`)) != "c" {
		t.Errorf("the cell ran in %s, not where its notebook lies", shown)
	}
}

func TestRunStopsAtFailure(t *testing.T) {
	folder(t, map[string][]string{"a.ipynb": {"one", "fail", "never"}, "b.ipynb": {"two"}})
	code, _, stderr := cobber("run", "a.ipynb", "b.ipynb", "-o", "done/", "-html", "done/")
	if code != failed {
		t.Errorf("exit code %d", code)
	}
	want(t, "messages", stderr, "cobber: a.ipynb: cell 2 failed: name error", "cell 2, line 1, column 1: there is no fail", "^^^^",
		"a.ipynb: 1 of 3 cells", "b.ipynb: 1 of 1 cells")
	if strings.Contains(stderr, "\x1b") {
		t.Errorf("commands to a terminal where there is none: %q", stderr)
	}
	nb := read(t, "done/a.ipynb")
	if len(nb.Cells[1].Outputs) != 1 || nb.Cells[1].Outputs[0].Kind != notebook.Failure || nb.Cells[2].Count != 0 {
		t.Errorf("cells written as %+v", nb.Cells)
	}
	read(t, "done/b.ipynb")
}

func TestInterrupt(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("Windows cannot send an interrupt to one process")
	}
	folder(t, map[string][]string{"a.ipynb": {"one", "stop", "never"}, "b.ipynb": {"two"}})
	code, _, stderr := cobber("run", "a.ipynb", "b.ipynb", "-o", "done")
	if code != interrupted || strings.Contains(stderr, "b.ipynb") {
		t.Errorf("exit code %d: %s", code, stderr)
	}
	nb := read(t, "done/a.ipynb")
	if got := nb.Cells[1].Outputs[0].ErrorName; got != "interrupted" || len(nb.Cells[0].Outputs) != 1 {
		t.Errorf("the stopped cell was written with the error %q", got)
	}
}

func TestErrors(t *testing.T) {
	folder(t, map[string][]string{"a.ipynb": {"one"}, "b.ipynb": {"two"}, "c/a.ipynb": {"three"}})
	for name, text := range map[string]string{"cut.ipynb": "{\n", "r.ipynb": `{"nbformat":4,"nbformat_minor":5,"metadata":{"language_info":{"name":"R"}},"cells":[]}`, "file": ""} {
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	tests := []struct {
		name, args string
		code       int
		want       string
	}{
		{"no command", "", misused, "Commands:"},
		{"unknown command", "rum a.ipynb", misused, `cobber: there is no command "rum"`},
		{"no notebook", "run", misused, "cobber run: no notebook is named"},
		{"unknown flag", "run -x a.ipynb", misused, "flag provided but not defined: -x"},
		{"no such file", "run none.ipynb", failed, "cobber: none.ipynb: no such file"},
		{"not a notebook", "run cut.ipynb", failed, "cobber: cut.ipynb: line 2, column 1: the file ends in the middle"},
		{"other language", "run r.ipynb -o out.ipynb", failed, "cobber runs Go"},
		{"one file for two", "run a.ipynb b.ipynb -o out.ipynb", misused, "-o out.ipynb is one file, and there are several notebooks: name a folder"},
		{"one page for two", "run a.ipynb b.ipynb -html file", misused, "-html file is one file"},
		{"same name twice", "run a.ipynb c/a.ipynb -o out/", misused, "would both be written to"},
		{"cannot write", "run a.ipynb -o file/x.ipynb", failed, "cobber: writing "},
		{"connection file", "kernel", misused, "one connection file is wanted"},
		{"two places", "install -user -env", misused, "name different places"},
		{"a name too many", "install user", misused, `cobber install: "user" is one argument too many`},
		{"nothing to remove", "remove -prefix none", failed, "none is installed in"},
		{"version of what", "version 2", misused, "one argument too many"},
		{"no connection file", "kernel none.json", failed, "cobber: none.json: no such file"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			code, stdout, stderr := cobber(strings.Fields(test.args)...)
			if code != test.code || stdout != "" {
				t.Errorf("exit code %d, want %d; printed %q", code, test.code, stdout)
			}
			want(t, "message", stderr, test.want)
		})
	}
	for _, path := range []string{"out.ipynb", "out"} {
		if _, err := os.Stat(path); err == nil {
			t.Errorf("%s was written by a command that failed before a cell ran", path)
		}
	}
}

func TestHelp(t *testing.T) {
	for _, c := range commands {
		for _, args := range [][]string{{"help", c.name}, {c.name, "-h"}, {c.name, "--help"}} {
			code, stdout, stderr := cobber(args...)
			if code != ok || stderr != "" {
				t.Errorf("%v: exit code %d: %s", args, code, stderr)
			}
			want(t, "help", stdout, "cobber "+c.name, capital(c.summary))
		}
		_, all, _ := cobber("help")
		want(t, "list of commands", all, c.summary)
	}
	for _, args := range [][]string{{"version"}, {"--version"}} {
		code, stdout, _ := cobber(args...)
		if code != ok {
			t.Errorf("%v: exit code %d", args, code)
		}
		want(t, "version", stdout, "cobber ", "Go "+goVersion())
	}
}

func TestInstallAndRemove(t *testing.T) {
	root := t.TempDir()
	t.Setenv("JUPYTER_DATA_DIR", filepath.Join(root, "user"))
	t.Setenv("VIRTUAL_ENV", filepath.Join(root, "env"))
	tests := []struct {
		name   string
		flags  []string
		folder string
	}{
		{"for the user", nil, "user/kernels/cobber"},
		{"for the user, said", []string{"--user"}, "user/kernels/cobber"},
		{"under a prefix", []string{"-prefix", filepath.Join(root, "usr")}, "usr/share/jupyter/kernels/cobber"},
		{"in the environment", []string{"-env"}, "env/share/jupyter/kernels/cobber"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			folder := filepath.Join(root, filepath.FromSlash(test.folder))
			code, stdout, stderr := cobber(append([]string{"install"}, test.flags...)...)
			if code != ok {
				t.Fatalf("exit code %d: %s", code, stderr)
			}
			want(t, "message", stdout, folder)
			spec, err := os.ReadFile(filepath.Join(folder, "kernel.json"))
			if err != nil {
				t.Fatal(err)
			}
			want(t, "kernel.json", string(spec), `"kernel"`, `"{connection_file}"`)
			if code, _, stderr := cobber(append([]string{"remove"}, test.flags...)...); code != ok {
				t.Fatalf("exit code %d: %s", code, stderr)
			}
			if _, err := os.Stat(folder); err == nil {
				t.Errorf("%s is still there", folder)
			}
		})
	}
}

// A page and a notebook come out the same each time: they are kept in version
// control.
func TestSameBytes(t *testing.T) {
	folder(t, map[string][]string{"a.ipynb": {"one", "fail"}})
	var first []byte
	for range 2 {
		cobber("run", "a.ipynb", "-o", "b.ipynb", "-html", "b.html")
		notebook, err := os.ReadFile("b.ipynb")
		if err != nil {
			t.Fatal(err)
		}
		page, err := os.ReadFile("b.html")
		if err != nil {
			t.Fatal(err)
		}
		both := append(notebook, page...)
		if first != nil && !bytes.Equal(first, both) {
			t.Error("two runs wrote different files")
		}
		first = both
	}
}

func TestTerminalProgress(t *testing.T) {
	folder(t, map[string][]string{"a.ipynb": {"one", "fail"}})
	var out, errs bytes.Buffer
	p := &program{stdout: &out, stderr: &errs, terminal: true, newSession: func() (server.Session, error) { return echo{}, nil }}
	p.main([]string{"run", "a.ipynb"})
	want(t, "terminal", errs.String(), "\r\x1b[Ka.ipynb: cell 2 of 2, ", "\r\x1b[Ka.ipynb: 1 of 2 cells in ", "\x1b[1m")
}
