package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"

	"cobber/kernel/kernelspec"
)

var labCommand = command{
	name:      "lab",
	arguments: "[NOTEBOOK] [-- FLAGS]",
	summary:   "open JupyterLab with cobber in it",
	help: `
JupyterLab 4 is taken from the PATH. Where there is none, it is installed once
into a folder of its own in your cache, from the Python package index; Python
3.10 or newer is needed for that. The kernel need not be installed: JupyterLab
is told of this very program for as long as it runs.

FLAGS are handed to JupyterLab, as in: cobber lab -- --no-browser`,
	flags: func(flags *flag.FlagSet, s *settings) {
		flags.BoolVar(&s.private, "private", false, "use the JupyterLab in the cache even if there is another")
		flags.BoolVar(&s.remove, "remove", false, "take the JupyterLab in the cache away, and do nothing else")
	},
	run: (*program).lab,
}

func (p *program) lab(s *settings, operands []string) int {
	if s.remove {
		if len(operands) > 0 {
			return p.misuse("lab", "-remove stands alone")
		}
		return p.removeLab()
	}
	notebook, flags := labOperands(operands)
	if notebook != "" {
		if about, err := os.Stat(notebook); err != nil {
			return p.fail("%v", plain(err))
		} else if about.IsDir() {
			return p.misuse("lab", fmt.Sprintf("%s is a folder: go there and say cobber lab", notebook))
		}
	}
	program, err := p.findLab(s.private)
	if err != nil {
		return p.fail("%v", err)
	}
	code, err := p.runLab(program, notebook, flags)
	if err != nil {
		return p.fail("%v", err)
	}
	return code
}

// labOperands tells the notebook from what is for JupyterLab.
func labOperands(operands []string) (notebook string, flags []string) {
	if len(operands) > 0 && !strings.HasPrefix(operands[0], "-") {
		return operands[0], operands[1:]
	}
	return "", operands
}

// runLab runs JupyterLab to its end, with a kernel specification that lasts as
// long.
func (p *program) runLab(program, notebook string, flags []string) (code int, err error) {
	data, err := os.MkdirTemp("", "cobber-lab-")
	if err != nil {
		return failed, err
	}
	defer os.RemoveAll(data)
	if err := p.supplyKernel(data); err != nil {
		return failed, err
	}
	var arguments []string
	folder := ""
	if notebook != "" {
		full, err := filepath.Abs(notebook)
		if err != nil {
			return failed, err
		}
		folder = filepath.Dir(full) // JupyterLab opens only what lies below its folder
		arguments = append(arguments, filepath.Base(full))
	}
	lab := exec.Command(program, append(arguments, flags...)...)
	lab.Dir = folder
	lab.Env = append(os.Environ(), "JUPYTER_PATH="+searchPath(filepath.Join(data, "share", "jupyter"), os.Getenv("JUPYTER_PATH")))
	lab.Stdin, lab.Stdout, lab.Stderr = os.Stdin, p.stdout, p.stderr
	return follow(lab)
}

// supplyKernel writes a kernel specification that starts this very program,
// even one that go run made: it lasts as long as JupyterLab.
func (p *program) supplyKernel(prefix string) error {
	executable := p.executable
	if executable == "" {
		running, err := os.Executable()
		if err != nil {
			return fmt.Errorf("the path of the running program is not known: %w", err)
		}
		executable = running
	}
	_, err := kernelspec.Install(kernelspec.Target{Kind: kernelspec.Prefix, Prefix: prefix, Executable: executable})
	return err
}

func searchPath(first, rest string) string {
	if rest == "" {
		return first
	}
	return first + string(os.PathListSeparator) + rest
}

// follow runs a program to its end. An interrupt of the terminal reaches it by
// itself, as it asks the user whether to end; a polite kill is passed on.
func follow(command *exec.Cmd) (code int, err error) {
	signals := make(chan os.Signal, 4)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	defer signal.Stop(signals)
	if err := command.Start(); err != nil {
		return failed, err
	}
	ended := make(chan struct{})
	defer close(ended)
	go func() {
		for {
			select {
			case <-ended:
				return
			case received := <-signals:
				if received != os.Interrupt {
					command.Process.Signal(received)
				}
			}
		}
	}()
	err = command.Wait()
	if exit, isExit := errors.AsType[*exec.ExitError](err); isExit && exit.ExitCode() >= 0 {
		return exit.ExitCode(), nil
	}
	return ok, err
}
