package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"cobber/kernel/server"

	"golang.org/x/term"
)

// Exit codes.
const (
	ok          = 0
	failed      = 1 // a cell failed, or a file could not be read or written
	misused     = 2 // the command line is wrong
	interrupted = 130
)

// A program is one run of the command: where it writes, and what it runs cells
// with. Tests give it a session of their own.
type program struct {
	stdout, stderr io.Writer
	terminal       bool // stderr is a terminal, where a line can be written over
	newSession     func() (server.Session, error)
	executable     string // what Jupyter is to start; empty for the program itself
}

// doMain does what the arguments say and returns the exit code.
func doMain(args []string, stdout, stderr io.Writer) int {
	p := &program{stdout: stdout, stderr: stderr, newSession: newSession}
	if file, isFile := stderr.(*os.File); isFile {
		p.terminal = term.IsTerminal(int(file.Fd()))
	}
	return p.main(args)
}

// A command is one sub-command.
type command struct {
	name, arguments, summary string
	help                     string // what the summary leaves open
	flags                    func(*flag.FlagSet, *settings)
	run                      func(*program, *settings, []string) int
}

// settings are the values of the flags of all commands.
type settings struct {
	out, html           string // run
	pdf, markdown, code string // run
	set                 []string
	tolerance           float64 // check
	library             string  // build
	sourceOnly          bool    // build
	place               place   // install, remove
	private             bool    // lab
	remove              bool    // lab
}

var commands = []command{runCommand, checkCommand, buildCommand, labCommand, installCommand, removeCommand, doctorCommand, kernelCommand, versionCommand}

func (p *program) main(args []string) int {
	if len(args) == 0 {
		p.usage(p.stderr)
		return misused
	}
	name, rest := args[0], args[1:]
	switch name {
	case "help", "-h", "-help", "--help":
		return p.help(rest)
	case "-version", "--version":
		name = "version"
	}
	for i := range commands {
		if commands[i].name == name {
			return p.dispatch(&commands[i], rest)
		}
	}
	return p.misuse("", fmt.Sprintf("there is no command %q", name))
}

func (p *program) dispatch(c *command, args []string) int {
	var s settings
	flags := c.flagSet(&s)
	operands, err := parse(flags, args)
	if errors.Is(err, flag.ErrHelp) {
		c.describe(p.stdout)
		return ok
	}
	if err != nil {
		return p.misuse(c.name, err.Error())
	}
	return c.run(p, &s, operands)
}

func (c *command) flagSet(s *settings) *flag.FlagSet {
	flags := flag.NewFlagSet(c.name, flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	flags.Usage = func() {}
	if c.flags != nil {
		c.flags(flags, s)
	}
	return flags
}

// parse reads flags wherever they stand among the operands. Behind "--" there
// are no flags.
func parse(flags *flag.FlagSet, args []string) (operands []string, err error) {
	for len(args) > 0 {
		if err := flags.Parse(args); err != nil {
			return nil, err
		}
		rest := flags.Args()
		if len(rest) == 0 {
			break
		}
		if read := len(args) - len(rest); read > 0 && args[read-1] == "--" {
			return append(operands, rest...), nil
		}
		operands = append(operands, rest[0])
		args = rest[1:]
	}
	return operands, nil
}

// misuse says what is wrong with the command line, and where help is.
func (p *program) misuse(command, problem string) int {
	prefix, help := strings.TrimSpace("cobber "+command), strings.TrimSpace("cobber help "+command)
	fmt.Fprintf(p.stderr, "%s: %s\n%q says more.\n", prefix, problem, help)
	return misused
}

// fail says what went wrong.
func (p *program) fail(format string, args ...any) int {
	fmt.Fprintf(p.stderr, "cobber: "+format+"\n", args...)
	return failed
}

func (p *program) help(args []string) int {
	if len(args) == 0 {
		p.usage(p.stdout)
		return ok
	}
	for i := range commands {
		if commands[i].name == args[0] {
			commands[i].describe(p.stdout)
			return ok
		}
	}
	return p.misuse("", fmt.Sprintf("there is no command %q", args[0]))
}

func (p *program) usage(w io.Writer) {
	fmt.Fprint(w, "cobber runs notebooks whose cells are Go, with quantities that carry units.\n\nCommands:\n\n")
	for _, c := range commands {
		fmt.Fprintf(w, "  cobber %-46s %s\n", strings.TrimSpace(c.name+" "+c.arguments), c.summary)
	}
	fmt.Fprint(w, "\n\"cobber help COMMAND\" says more of one.\n")
}

func (c *command) describe(w io.Writer) {
	fmt.Fprintf(w, "cobber %s\n\n%s.\n", strings.TrimSpace(c.name+" "+c.arguments), capital(c.summary))
	if c.help != "" {
		fmt.Fprintf(w, "\n%s\n", strings.TrimSpace(c.help))
	}
	first := true
	c.flagSet(&settings{}).VisitAll(func(f *flag.Flag) {
		if first {
			fmt.Fprint(w, "\nFlags, before or behind the other arguments:\n\n")
			first = false
		}
		value, usage := flag.UnquoteUsage(f)
		fmt.Fprintf(w, "  %-14s %s\n", strings.TrimSpace("-"+f.Name+" "+value), strings.ReplaceAll(usage, "\n", "\n"+strings.Repeat(" ", 17)))
	})
}

func capital(text string) string {
	return strings.ToUpper(text[:1]) + text[1:]
}
