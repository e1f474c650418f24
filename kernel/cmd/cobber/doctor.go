package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"cobber/kernel/kernelspec"
	"cobber/kernel/trial"
)

var doctorCommand = command{
	name:    "doctor",
	summary: "say whether Jupyter finds cobber, and whether it works",
	help: `
This says where Jupyter looks for kernels and what it finds there, which program
it would start, and what is stale or broken. Then it starts that program as
Jupyter does, has it add and stop a loop, and ends it. Nothing is changed. The
exit status is 1 if something is to be mended.`,
	run: (*program).doctor,
}

// A checkup gathers what is to be mended.
type checkup struct {
	*program
	troubles []string
}

func (p *program) doctor(_ *settings, operands []string) int {
	if len(operands) > 0 {
		return p.misuse("doctor", fmt.Sprintf("%q is one argument too many", operands[0]))
	}
	c := &checkup{program: p}
	this := c.aboutThis()
	dirs := c.aboutJupyter()
	argv := c.aboutKernels(dirs, this)
	c.try(argv)
	if len(c.troubles) == 0 {
		fmt.Fprintln(p.stdout, "\nAll is well.")
		return ok
	}
	fmt.Fprintln(p.stdout, "\nTo mend:")
	for _, trouble := range c.troubles {
		fmt.Fprintln(p.stdout, "  - "+trouble)
	}
	return failed
}

func (c *checkup) say(format string, args ...any) { fmt.Fprintf(c.stdout, format+"\n", args...) }

func (c *checkup) trouble(format string, args ...any) {
	c.troubles = append(c.troubles, fmt.Sprintf(format, args...))
}

func (c *checkup) aboutThis() string {
	this := c.executable
	if this == "" {
		this, _ = os.Executable()
	}
	c.say("This is cobber %s for Go %s, %s/%s\n  %s", programVersion(), goVersion(), runtime.GOOS, runtime.GOARCH, this)
	return this
}

// aboutJupyter gives the folders that Jupyter looks in: by its own word, or
// else by its rules.
func (c *checkup) aboutJupyter() []string {
	c.say("\nJupyter")
	jupyter, err := exec.LookPath("jupyter")
	if err != nil {
		c.say("  is not on the PATH; \"cobber lab\" brings its own. By its rules it looks in")
		return kernelspec.SearchDirs()
	}
	text, err := exec.Command(jupyter, "--paths", "--json").Output()
	var paths struct {
		Data []string `json:"data"`
	}
	if err == nil {
		err = json.Unmarshal(text, &paths)
	}
	if err != nil || len(paths.Data) == 0 {
		c.say("  is %s, and does not say where it looks (%v). By its rules it looks in", jupyter, err)
		return kernelspec.SearchDirs()
	}
	c.say("  is %s, and looks in", jupyter)
	return paths.Data
}

// aboutKernels says what each folder holds, and gives the command line of the
// kernel that Jupyter would start: this program's, if it would start none.
func (c *checkup) aboutKernels(dirs []string, this string) []string {
	found := map[string]kernelspec.Found{}
	all := kernelspec.FindIn(dirs)
	for _, f := range all {
		found[f.Dir] = f
	}
	for _, dir := range dirs {
		kernel := filepath.Join(dir, "kernels", kernelspec.Name)
		switch f, is := found[kernel]; {
		case !is:
			c.say("  %s: no cobber", dir)
		case f.Err != nil:
			c.say("  %s: broken: %v", dir, f.Err)
			c.trouble("the kernel in %s is broken: %v. %s", f.Dir, f.Err, mend(f))
		default:
			c.say("  %s: starts %s", dir, f.Spec.Argv[0])
		}
	}
	if len(all) == 0 {
		c.trouble("Jupyter does not know of cobber. Say: cobber install")
		return kernelspec.New(this).Argv
	}
	if used := all[0]; used.Err == nil {
		if !sameFile(used.Spec.Argv[0], this) {
			c.say("  Jupyter starts another program than this one")
		}
		return used.Spec.Argv
	}
	return kernelspec.New(this).Argv
}

// mend says what to do about a specification.
func mend(found kernelspec.Found) string {
	if user, err := (kernelspec.Target{}).Dir(); err == nil && user == found.Dir {
		return `Say "cobber install -user" to mend it, or "cobber remove -user"`
	}
	tail := filepath.Join("share", "jupyter", "kernels", kernelspec.Name)
	if prefix, is := strings.CutSuffix(found.Dir, string(filepath.Separator)+tail); is {
		return fmt.Sprintf(`Say "cobber install -prefix %[1]s" to mend it, or "cobber remove -prefix %[1]s"`, prefix)
	}
	return "Delete that folder"
}

func sameFile(a, b string) bool {
	first, err := os.Stat(a)
	if err != nil {
		return false
	}
	second, err := os.Stat(b)
	return err == nil && os.SameFile(first, second)
}

func (c *checkup) try(argv []string) {
	c.say("\nA trial of %s", strings.Join(argv[:1], " "))
	for _, step := range trial.Run(context.Background(), argv) {
		if step.Err != nil {
			c.say("  %-30s failed: %v", step.Name, step.Err)
			c.trouble("the kernel failed its trial: %s: %v", step.Name, step.Err)
			return
		}
		c.say("  %-30s %v", step.Name, step.Took.Round(100*time.Microsecond))
	}
}
