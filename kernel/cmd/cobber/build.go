package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"

	"cobber/kernel/diag"
	"cobber/kernel/display"
	"cobber/kernel/notebook"
	written "cobber/kernel/program"
	"cobber/kernel/source"
)

var buildCommand = command{
	name:      "build",
	arguments: "[-o FOLDER] [-library FOLDER] [-source] NOTEBOOK",
	summary:   "write a Go program that does what a notebook does",
	help: `
The program prints what the cells print and show, as text, and runs as compiled
code. What a cell with //cobber:inputs assigns is a flag of it: -feed "40 t/h".
With -results FILE it writes the numbers and texts that it has at the end as
CSV. It reads files by the names in the notebook, so run it where the notebook
lies. The readme says how to run many of them.

The folder gets main.go, support.go, go.mod and go.work, which says where the
library's source lies; then the Go command, if there is one, makes the program
of it.`,
	flags: func(flags *flag.FlagSet, s *settings) {
		flags.StringVar(&s.out, "o", "", "write to `FOLDER`; the notebook's name if it is not given")
		flags.StringVar(&s.library, "library", "", "the `FOLDER` with cobber's source; found by itself if this program was built from it\nor runs below it")
		flags.BoolVar(&s.sourceOnly, "source", false, "write the source, and do not compile it")
	},
	run: (*program).buildNotebook,
}

func (p *program) buildNotebook(s *settings, paths []string) int {
	if len(paths) != 1 {
		return p.misuse("build", "name one notebook")
	}
	data, err := os.ReadFile(paths[0])
	if err != nil {
		return p.fail("%v", plain(err))
	}
	nb, err := notebook.Read(data)
	if err != nil {
		return p.fail("%s: %v", paths[0], err)
	}
	name := programName(paths[0])
	files, err := written.Write(name, programCells(nb))
	if err != nil {
		return p.reportCells(paths[0], err)
	}
	library, err := libraryFolder(s.library)
	if err != nil {
		return p.fail("%v", err)
	}
	folder := s.out
	if folder == "" {
		folder = name
	}
	if folder, err = filepath.Abs(folder); err != nil {
		return p.fail("%v", err)
	}
	version := languageVersion(library)
	files["go.mod"] = []byte("module " + name + "\n\n" + version + "\n")
	files["go.work"] = []byte(version + "\n\nuse (\n\t.\n\t" + fmt.Sprintf("%q", filepath.ToSlash(library)) + "\n)\n")
	for file, text := range files {
		if err := writeFile(filepath.Join(folder, file), text); err != nil {
			return p.fail("writing %s: %v", file, plain(err))
		}
	}
	fmt.Fprintf(p.stdout, "%s: source written\n", folder)
	if s.sourceOnly {
		return ok
	}
	return p.compile(folder, name)
}

// compile makes the program of its source.
func (p *program) compile(folder, name string) int {
	tool, err := exec.LookPath("go")
	if err != nil {
		return p.fail("the go command is not found, so the source is not compiled: go.dev/dl has it, or give -source")
	}
	target := filepath.Join(folder, name)
	if runtime.GOOS == "windows" {
		target += ".exe"
	}
	command := exec.Command(tool, "build", "-o", target, ".")
	command.Dir = folder
	command.Env = append(os.Environ(), "GOWORK="+filepath.Join(folder, "go.work"), "GOFLAGS=")
	if said, err := command.CombinedOutput(); err != nil {
		return p.fail("the source does not compile: %v\n%s", err, said)
	}
	fmt.Fprintf(p.stdout, "%s: program built\n", target)
	return ok
}

// programCells are the cells that run, each with the heading above it. One with
// the tag remove-cell is left out.
func programCells(nb *notebook.Notebook) []written.Cell {
	var cells []written.Cell
	heading, n := "", 0
	for i := range nb.Cells {
		c := &nb.Cells[i]
		switch {
		case c.Kind == notebook.Markdown:
			if found := lastHeading(c.Source); found != "" {
				heading = found
			}
		case c.Kind == notebook.Code && strings.TrimSpace(c.Source) != "":
			n++ // as in a run, also for a cell that is left out
			if c.Tagged("remove-cell") {
				continue
			}
			cells = append(cells, written.Cell{
				Cell:    source.Cell{Name: fmt.Sprintf("cell %d", n), Count: n, Text: c.Source},
				MayFail: c.Tagged("raises-exception"), Heading: heading,
			})
			heading = ""
		}
	}
	return cells
}

var headingLine = regexp.MustCompile(`(?m)^#{1,6}\s+(.+?)\s*#*$`)

func lastHeading(text string) string {
	found := headingLine.FindAllStringSubmatch(text, -1)
	if found == nil {
		return ""
	}
	return found[len(found)-1][1]
}

var notInNames = regexp.MustCompile(`[^a-z0-9-]+`)

// programName makes a name of a module and of a file of the notebook's name.
func programName(path string) string {
	base := strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
	name := strings.Trim(notInNames.ReplaceAllString(strings.ToLower(base), "-"), "-")
	if name == "" || name == "cobber" {
		return "notebook-program"
	}
	return name
}

var versionLine = regexp.MustCompile(`(?m)^go \S+$`)

// languageVersion is the line of the library's go.mod that says which Go it
// wants.
func languageVersion(library string) string {
	data, err := os.ReadFile(filepath.Join(library, "go.mod"))
	if line := versionLine.Find(data); err == nil && line != nil {
		return string(line)
	}
	return "go " + goVersion()
}

var moduleLine = regexp.MustCompile(`(?m)^module cobber$`)

// libraryFolder finds the source of the library: named, above the working
// folder, or where this program was built.
func libraryFolder(named string) (string, error) {
	if named != "" {
		full, err := filepath.Abs(named)
		if err == nil && !holdsLibrary(full) {
			err = fmt.Errorf("-library %s is not the folder of cobber's go.mod", named)
		}
		return full, err
	}
	var starts []string
	if here, err := os.Getwd(); err == nil {
		starts = append(starts, here)
	}
	if _, file, _, found := runtime.Caller(0); found && filepath.IsAbs(file) {
		starts = append(starts, filepath.Dir(file))
	}
	for _, folder := range starts {
		for {
			if holdsLibrary(folder) {
				return folder, nil
			}
			above := filepath.Dir(folder)
			if above == folder {
				break
			}
			folder = above
		}
	}
	return "", errors.New("the source of cobber is not found: name its folder by -library")
}

func holdsLibrary(folder string) bool {
	data, err := os.ReadFile(filepath.Join(folder, "go.mod"))
	return err == nil && moduleLine.Match(data)
}

// reportCells prints what is wrong with a cell.
func (p *program) reportCells(path string, err error) int {
	var faults diag.List
	if !errors.As(err, &faults) {
		return p.fail("%s: %v", path, err)
	}
	fmt.Fprintf(p.stderr, "cobber: %s:\n", path)
	for _, line := range display.Explain(err).Traceback {
		fmt.Fprintln(p.stderr, "  "+p.coloured(line))
	}
	return failed
}
