package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"

	"cobber/kernel/notebook"
)

var runCommand = command{
	name:      "run",
	arguments: "[-set NAME=VALUE]… [-o OUT] [-html OUT] [-pdf OUT] [-md OUT] NOTEBOOK…",
	summary:   "run notebooks from the first cell to the last, without Jupyter",
	help: `
The cells of each notebook run in a session of their own, in the folder that
the notebook lies in. A run stops at the first cell that fails, unless the cell
has the tag raises-exception; the error is printed, and the exit status is 1.

The notebook itself is not changed. What it printed and showed is kept only
where -o, -html, -pdf or -md say so, also when a cell failed. The readme says how
a notebook gets a title, authors, captions and sources.`,
	flags: func(flags *flag.FlagSet, s *settings) {
		flags.StringVar(&s.out, "o", "", "write the notebook with its new outputs to `OUT`: a file, which may be\nthe notebook itself, or with several notebooks a folder")
		flags.StringVar(&s.html, "html", "", "write a page to `OUT` that can be read and printed without a network:\na file, or with several notebooks a folder")
		flags.StringVar(&s.pdf, "pdf", "", "print that page to `OUT`, by a browser or by nbconvert and LaTeX")
		flags.StringVar(&s.markdown, "md", "", "write the notebook as Markdown to `OUT`, its pictures in the folder OUT_files")
		flags.Func("set", "take `NAME=VALUE` in place of the value that a cell with //cobber:inputs\ngives NAME, such as -set feed=40t/h, or a control called NAME begins with;\nmay be given several times", func(text string) error {
			s.set = append(s.set, text)
			return nil
		})
		flags.StringVar(&s.code, "code", "", "`HOW` a page or Markdown shows code: show, fold or hide")
	},
	run: (*program).runNotebooks,
}

// A job is one notebook to run and where its results go.
type job struct {
	path                     string // as the user wrote it
	folder                   string
	out, html, pdf, markdown string // absolute, or empty
	code                     string
	set                      map[string]string // of its inputs
}

func (p *program) runNotebooks(s *settings, paths []string) int {
	if len(paths) == 0 {
		return p.misuse("run", "no notebook is named")
	}
	if s.code != "" && s.code != "show" && s.code != "fold" && s.code != "hide" {
		return p.misuse("run", "-code "+s.code+" is none of show, fold and hide")
	}
	jobs, err := plan(paths, s)
	if err != nil {
		return p.misuse("run", err.Error())
	}
	setting, err := giveInputs(jobs, s.set)
	if err != nil {
		return p.misuse("run", err.Error())
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // a second interrupt ends the program, whatever it does
	code := ok
	for _, job := range jobs {
		code = max(code, setting.during(func() int { return p.runNotebook(ctx, job) }))
		if ctx.Err() != nil {
			return interrupted
		}
	}
	if code == ok && len(setting.loose) > 0 {
		return p.misuse("run", setting.refusal())
	}
	return code
}

// plan says where the results of each notebook go. It finds out before the
// first cell runs what would go wrong after the last.
func plan(paths []string, s *settings) ([]job, error) {
	jobs := make([]job, len(paths))
	taken := map[string]string{}
	for i, path := range paths {
		full, err := filepath.Abs(path)
		if err != nil {
			return nil, err
		}
		j := job{path: path, folder: filepath.Dir(full), code: s.code}
		if j.out, err = target(s.out, "-o", full, ".ipynb", len(paths) > 1); err != nil {
			return nil, err
		}
		if j.html, err = target(s.html, "-html", full, ".html", len(paths) > 1); err != nil {
			return nil, err
		}
		if j.pdf, err = target(s.pdf, "-pdf", full, ".pdf", len(paths) > 1); err != nil {
			return nil, err
		}
		if j.markdown, err = target(s.markdown, "-md", full, ".md", len(paths) > 1); err != nil {
			return nil, err
		}
		for _, result := range []string{j.out, j.html, j.pdf, j.markdown} {
			if other, twice := taken[result]; twice && result != "" {
				return nil, fmt.Errorf("the results of %s and of %s would both be written to %s: run them one by one", other, path, result)
			}
			taken[result] = path
		}
		jobs[i] = j
	}
	return jobs, nil
}

// target is the file that a result is written to: the one named, or one called
// as the notebook in the folder named.
func target(named, flag, notebook, extension string, several bool) (string, error) {
	if named == "" {
		return "", nil
	}
	full, err := filepath.Abs(named)
	if err != nil {
		return "", err
	}
	about, err := os.Stat(full)
	isFolder := err == nil && about.IsDir() || strings.HasSuffix(named, string(filepath.Separator)) || strings.HasSuffix(named, "/")
	if several && !isFolder {
		if err == nil || strings.EqualFold(filepath.Ext(full), extension) {
			return "", fmt.Errorf("%s %s is one file, and there are several notebooks: name a folder", flag, named)
		}
		isFolder = true
	}
	if isFolder {
		name := filepath.Base(notebook)
		return filepath.Join(full, strings.TrimSuffix(name, filepath.Ext(name))+extension), nil
	}
	return full, nil
}

func (p *program) runNotebook(ctx context.Context, j job) int {
	data, err := os.ReadFile(j.path)
	if err != nil {
		return p.fail("%v", plain(err))
	}
	nb, err := notebook.Read(data)
	if err != nil {
		return p.fail("%s: %v", j.path, err)
	}
	failure := p.execute(ctx, j, nb)
	code := p.report(j, failure)
	var cell *notebook.CellError
	if failure != nil && !errors.As(failure, &cell) && ctx.Err() == nil {
		return code // no cell has run: there is nothing new to keep
	}
	return max(code, p.write(j, nb))
}

// execute runs the cells where the notebook lies, as Jupyter does, so that the
// files it names are found.
func (p *program) execute(ctx context.Context, j job, nb *notebook.Notebook) error {
	session, err := p.newSession()
	if err != nil {
		return err
	}
	defer session.Close()
	setInputs(session, j.set)
	here, err := os.Getwd()
	if err != nil {
		return err
	}
	if err := os.Chdir(j.folder); err != nil {
		return plain(err)
	}
	defer os.Chdir(here)
	progress := p.newProgress(j.path)
	defer progress.end()
	return notebook.Run(ctx, nb, adapter{session}, notebook.Options{
		LanguageInfo: languageInfo(),
		KernelSpec:   map[string]any{"name": "cobber", "display_name": "Cobber", "language": "go"},
		Step:         progress.step,
	})
}

// report prints why a run did not reach its end.
func (p *program) report(j job, failure error) int {
	if failure == nil {
		return ok
	}
	var cell *notebook.CellError
	if !errors.As(failure, &cell) {
		return p.fail("%s: %v", j.path, failure)
	}
	fmt.Fprintf(p.stderr, "cobber: %s: %s failed: %s\n", j.path, cell.Cell, cell.Trouble.Name)
	for _, line := range cell.Trouble.Traceback {
		fmt.Fprintln(p.stderr, "  "+p.coloured(line))
	}
	return failed
}

func (p *program) write(j job, nb *notebook.Notebook) int {
	if j.out != "" {
		data, err := notebook.Write(nb)
		if err == nil {
			err = writeFile(j.out, data)
		}
		if err != nil {
			return p.fail("writing %s: %v", j.out, plain(err))
		}
	}
	return p.writePages(j, nb)
}
