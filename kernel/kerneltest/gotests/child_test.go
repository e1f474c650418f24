package gotests

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"

	"cobber/kernel/session"
	"cobber/kernel/session/run"
	"cobber/kernel/source"
	"cobber/stdlib/show"
)

// programVariable names the program that a process of this test runs instead of the tests.
const programVariable = "COBBER_GO_PROGRAM"

func TestMain(m *testing.M) {
	if path := os.Getenv(programVariable); path != "" {
		os.Exit(runProgram(path))
	}
	os.Exit(m.Run())
}

// terminal passes what a cell prints on to the process's own output.
type terminal struct {
	out    *os.File
	failed atomic.Bool // in a goroutine, which in a compiled program ends the process
}

func (t *terminal) Stream(name, text string) {
	if name == "stderr" && strings.HasPrefix(text, "a goroutine of ") {
		t.failed.Store(true)
	}
	t.out.WriteString(text)
}

func (t *terminal) Event(show.Event) {}

// runProgram pastes the program into a session and gives the exit status it would have ended with.
func runProgram(path string) int {
	text, err := os.ReadFile(path)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	t := &terminal{out: os.Stdout}
	s := session.New()
	outcome := s.Run(context.Background(), source.Cell{Name: filepath.Base(path), Count: 1, Text: string(text)}, t)
	s.Close()
	var failed *run.Failure
	switch {
	case errors.As(outcome.Err, &failed) && failed.Kind == "exit":
		return failed.ExitCode
	case outcome.Err != nil:
		fmt.Fprintln(t.out, outcome.Err)
		if internal := new(session.Failure); errors.As(outcome.Err, &internal) && internal.Diagnostic().Code == "internal" {
			fmt.Fprintln(t.out, internal.Cause)
		}
		return 2
	case t.failed.Load():
		return 2
	}
	return 0
}
