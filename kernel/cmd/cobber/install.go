package main

import (
	"errors"
	"flag"
	"fmt"

	"cobber/kernel/kernelspec"
)

// place is where a kernel specification is installed.
type place struct {
	user, environment bool
	prefix            string
}

var installCommand = command{
	name:      "install",
	arguments: "[-user | -prefix FOLDER | -env]",
	summary:   "tell Jupyter of cobber",
	help: `
This writes the kernel specification, a small folder that says how Jupyter
starts this very program, over one that is there. Install again after the
program has moved; "cobber doctor" tells whether that is needed.`,
	flags: placeFlags,
	run: func(p *program, s *settings, operands []string) int {
		return p.atPlace("install", s, operands, kernelspec.Install, "Jupyter finds the kernel \"Cobber\" in")
	},
}

var removeCommand = command{
	name:      "remove",
	arguments: "[-user | -prefix FOLDER | -env]",
	summary:   "let Jupyter forget cobber",
	help: `
This removes the kernel specification that "cobber install" wrote with the same
flags. The program and the notebooks stay.`,
	flags: placeFlags,
	run: func(p *program, s *settings, operands []string) int {
		return p.atPlace("remove", s, operands, kernelspec.Remove, "removed")
	},
}

func placeFlags(flags *flag.FlagSet, s *settings) {
	flags.BoolVar(&s.place.user, "user", false, "for the user who runs this (as without a flag)")
	flags.StringVar(&s.place.prefix, "prefix", "", "under `FOLDER`, such as /usr/local: in FOLDER/share/jupyter")
	flags.BoolVar(&s.place.environment, "env", false, "in the active environment of Python or Conda")
}

// target is the one place that the flags name.
func (w place) target() (kernelspec.Target, error) {
	named := 0
	target := kernelspec.Target{Kind: kernelspec.User}
	if w.user {
		named++
	}
	if w.prefix != "" {
		named++
		target = kernelspec.Target{Kind: kernelspec.Prefix, Prefix: w.prefix}
	}
	if w.environment {
		named++
		target = kernelspec.Target{Kind: kernelspec.Environment}
	}
	if named > 1 {
		return target, errors.New("-user, -prefix and -env name different places: give one of them")
	}
	return target, nil
}

func (p *program) atPlace(command string, s *settings, operands []string, do func(kernelspec.Target) (string, error), done string) int {
	if len(operands) > 0 {
		return p.misuse(command, fmt.Sprintf("%q is one argument too many", operands[0]))
	}
	target, err := s.place.target()
	if err != nil {
		return p.misuse(command, err.Error())
	}
	target.Executable = p.executable
	folder, err := do(target)
	if err != nil {
		return p.fail("%v", err)
	}
	fmt.Fprintln(p.stdout, done, folder)
	if command == "install" {
		p.warnOfOthers(folder)
	}
	return ok
}

// warnOfOthers names the specifications that Jupyter would take instead of the
// one that was just installed, or that are broken.
func (p *program) warnOfOthers(folder string) {
	before := true
	for _, found := range kernelspec.Find() {
		switch {
		case found.Dir == folder:
			before = false
		case found.Err != nil:
			fmt.Fprintf(p.stderr, "cobber: the kernel in %s is broken: %v\n", found.Dir, found.Err)
		case before:
			fmt.Fprintf(p.stderr, "cobber: Jupyter uses the kernel in %s instead, which starts %s\n", found.Dir, found.Spec.Argv[0])
		default:
			continue
		}
		fmt.Fprintln(p.stderr, "  "+mend(found))
	}
}
