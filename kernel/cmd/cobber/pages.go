package main

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"

	"cobber/kernel/notebook"
	"cobber/kernel/notebook/page"
)

// writePages writes the notebook in the forms that people read.
func (p *program) writePages(j job, nb *notebook.Notebook) int {
	code := ok
	if j.html != "" || j.pdf != "" {
		data, warnings, err := page.HTML(nb, j.pageOptions())
		p.warnings(j, warnings)
		if err != nil {
			return p.fail("writing the page of %s: %v", j.path, err)
		}
		if j.html != "" {
			if err := writeFile(j.html, data); err != nil {
				code = p.fail("writing %s: %v", j.html, plain(err))
			}
		}
		if j.pdf != "" {
			if err := writePDF(j.pdf, data, nb); err != nil {
				code = p.fail("writing %s: %v", j.pdf, plain(err))
			}
		}
	}
	if j.markdown != "" {
		code = max(code, p.writeMarkdown(j, nb))
	}
	return code
}

func (p *program) warnings(j job, list []string) {
	for _, warning := range list {
		fmt.Fprintf(p.stderr, "cobber: %s: %s\n", j.path, warning)
	}
}

func (j job) pageOptions() page.Options {
	return page.Options{
		Name: j.name(),
		Code: j.code,
		Made: []string{
			fmt.Sprintf("%s, run from the first cell to the last with cobber %s, Go %s, on %s/%s.",
				filepath.Base(j.path), programVersion(), goVersion(), runtime.GOOS, runtime.GOARCH),
		},
		File: func(path string) ([]byte, error) {
			data, err := os.ReadFile(filepath.Join(j.folder, filepath.FromSlash(path)))
			return data, plain(err)
		},
	}
}

func (j job) name() string {
	return strings.TrimSuffix(filepath.Base(j.path), filepath.Ext(j.path))
}

// writeMarkdown writes the text, and beside it the folder of its pictures.
func (p *program) writeMarkdown(j job, nb *notebook.Notebook) int {
	folder := strings.TrimSuffix(filepath.Base(j.markdown), filepath.Ext(j.markdown)) + "_files"
	text, files, warnings := page.Markdown(nb, j.pageOptions(), folder)
	if j.html == "" && j.pdf == "" {
		p.warnings(j, warnings)
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		where := filepath.Join(filepath.Dir(j.markdown), filepath.FromSlash(name))
		if err := writeFile(where, files[name]); err != nil {
			return p.fail("writing %s: %v", where, plain(err))
		}
	}
	if err := writeFile(j.markdown, text); err != nil {
		return p.fail("writing %s: %v", j.markdown, plain(err))
	}
	return ok
}

// browsers are the names under which browsers that print without a window are
// found, and where they lie when the path does not say.
var browsers = []string{
	"chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "microsoft-edge", "msedge", "brave-browser",
	"/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
	"/Applications/Chromium.app/Contents/MacOS/Chromium",
	"/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
	`C:\Program Files\Google\Chrome\Application\chrome.exe`,
	`C:\Program Files (x86)\Microsoft\Edge\Application\msedge.exe`,
}

// browser finds a browser; COBBER_BROWSER names another.
func browser() string {
	list := browsers
	if named := os.Getenv("COBBER_BROWSER"); named != "" {
		list = []string{named}
	}
	for _, name := range list {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	return ""
}

// printTime is how long a browser or LaTeX may take for one notebook.
const printTime = 5 * time.Minute

var errNoPrinter = errors.New("a PDF needs a browser of the Chromium family (COBBER_BROWSER names one that is not found), or Jupyter's nbconvert with LaTeX; or print the page of -html from any browser")

// writePDF lets a browser print the page, or LaTeX set the notebook.
func writePDF(target string, page []byte, nb *notebook.Notebook) error {
	folder, err := os.MkdirTemp("", "cobber-pdf-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	ctx, cancel := context.WithTimeout(context.Background(), printTime)
	defer cancel()
	result := filepath.Join(folder, "notebook.pdf")
	if program := browser(); program != "" {
		err = printPage(ctx, program, folder, page)
	} else if jupyter, err2 := exec.LookPath("jupyter"); err2 == nil {
		err = setByLaTeX(ctx, jupyter, folder, nb)
	} else {
		return errNoPrinter
	}
	if err != nil {
		return err
	}
	data, err := os.ReadFile(result)
	if err != nil {
		return fmt.Errorf("nothing was printed: %w", plain(err))
	}
	return writeFile(target, data)
}

func printPage(ctx context.Context, program, folder string, page []byte) error {
	source := filepath.Join(folder, "notebook.html")
	if err := os.WriteFile(source, page, 0o600); err != nil {
		return err
	}
	args := []string{"--headless", "--disable-gpu", "--no-first-run", "--user-data-dir=" + filepath.Join(folder, "profile"),
		"--no-pdf-header-footer", "--print-to-pdf=" + filepath.Join(folder, "notebook.pdf")}
	if os.Geteuid() == 0 {
		args = append(args, "--no-sandbox") // a browser of root's has none, and starts only when told so
	}
	address := url.URL{Scheme: "file", Path: filepath.ToSlash(source)}
	return quiet(exec.CommandContext(ctx, program, append(args, address.String())...))
}

func setByLaTeX(ctx context.Context, jupyter, folder string, nb *notebook.Notebook) error {
	data, err := notebook.Write(nb)
	if err != nil {
		return err
	}
	source := filepath.Join(folder, "notebook.ipynb")
	if err := os.WriteFile(source, data, 0o600); err != nil {
		return err
	}
	command := exec.CommandContext(ctx, jupyter, "nbconvert", "--to", "pdf", source)
	command.Dir = folder
	return quiet(command)
}

// quiet runs a program, and shows what it said only if it failed.
func quiet(command *exec.Cmd) error {
	said, err := command.CombinedOutput()
	if err == nil {
		return nil
	}
	text := strings.TrimSpace(string(said))
	if len(text) > 2000 {
		text = "…" + text[len(text)-2000:]
	}
	return fmt.Errorf("%s: %w\n%s", filepath.Base(command.Path), err, text)
}
