package cells

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"cobber/kernel/diag"
	"cobber/kernel/session"
	"cobber/kernel/source"
	"cobber/stdlib/show"

	"github.com/google/go-cmp/cmp"
)

const storyTime = 30 * time.Second

// TestCells runs each story through a session and holds what it shows to what
// the compiled program showed. A refusal must be written in the story.
func TestCells(t *testing.T) {
	var right int
	var refused []string
	for _, one := range readStories(t) {
		t.Run(one.name, func(t *testing.T) {
			got, err := runInSession(one)
			var refusal *refusedError
			switch {
			case errors.As(err, &refusal):
				refused = append(refused, one.name)
				checkRefusal(t, one, refusal.text)
			case err != nil:
				t.Errorf("%s%v\n%s", one.archive.Comment, err, one.text())
			case one.refused != "":
				t.Errorf("%sthe story says that it is refused (%s), but it ran: take the section out, or use -update\n%s", one.archive.Comment, one.refused, one.text())
				fallthrough
			default:
				if diff := cmp.Diff(one.golden, got, cmp.AllowUnexported(result{})); diff != "" {
					t.Errorf("%sa session shows something else than the compiled program\n%s\nwant\n%s%s\ngot\n%s%s\ndifference (-compiled +session)\n%s",
						one.archive.Comment, one.text(), one.golden.output, one.golden.panic, got.output, got.panic, diff)
					return
				}
				right++
			}
		})
	}
	t.Logf("%d stories right, %d refused: %s", right, len(refused), strings.Join(refused, " "))
}

func checkRefusal(t *testing.T, one *story, text string) {
	t.Helper()
	t.Logf("refused: %s", text)
	if text == one.refused {
		return
	}
	if *update {
		if err := one.write("refused", text+"\n", false); err != nil {
			t.Fatal(err)
		}
		return
	}
	t.Errorf("%srefused\n    %s\nbut the story says %q\n%s", one.archive.Comment, text, one.refused, one.text())
}

// A refusedError is the engine's word that it cannot run a story.
type refusedError struct{ text string }

func (e *refusedError) Error() string { return "refused: " + e.text }

// runInSession runs the cells one after the other, on after one that fails,
// and gathers what they print and show, and the first failure.
func runInSession(one *story) (result, error) {
	s := session.New()
	defer s.Close()
	var out recorder
	var got result
	for i, text := range one.cells {
		cell := source.Cell{Name: fmt.Sprintf("cell %d", i+1), Count: i + 1, Text: text}
		outcome, err := runCell(s, cell, &out)
		if err != nil {
			return got, fmt.Errorf("%s: %v; it had printed\n%s", cell.Name, err, out.text())
		}
		for _, value := range outcome.Values {
			out.Stream("stdout", fmt.Sprintf("= %v\n", value))
		}
		if outcome.Err != nil {
			message, err := failureOf(outcome.Err)
			if err != nil {
				return got, err
			}
			if got.panic == "" {
				got.panic = message
			}
		}
	}
	got.output = out.text()
	return got, nil
}

// runCell runs a cell, and interrupts it when it takes too long.
func runCell(s *session.Session, cell source.Cell, out *recorder) (session.Outcome, error) {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	ended := make(chan session.Outcome, 1)
	go func() { ended <- s.Run(ctx, cell, out) }()
	select {
	case outcome := <-ended:
		return outcome, nil
	case <-time.After(storyTime):
	}
	cancel()
	s.Interrupt()
	select {
	case <-ended:
		return session.Outcome{}, fmt.Errorf("did not end in %v", storyTime)
	case <-time.After(storyTime):
		return session.Outcome{}, fmt.Errorf("did not end in %v, nor when interrupted", storyTime)
	}
}

// failureOf turns the error of a cell that ran into the form of a story's
// panic section; a cell that did not check is an error.
func failureOf(err error) (string, error) {
	var faults diag.List
	if errors.As(err, &faults) {
		var refusals []string
		for _, fault := range faults {
			if !strings.HasPrefix(fault.Code, "refused") {
				return "", fmt.Errorf("does not check:\n%v", err)
			}
			refusals = append(refusals, fault.Summary)
		}
		return "", &refusedError{strings.Join(refusals, "; ")}
	}
	var failure *session.Failure
	if !errors.As(err, &failure) {
		return "", fmt.Errorf("failed without saying where: %w", err)
	}
	d := failure.Diagnostic()
	if strings.HasPrefix(d.Code, "refused") {
		return "", &refusedError{d.Summary}
	}
	return fmt.Sprintf("%s\n%s, line %d\n", d.Summary, d.Pos.Cell, d.Pos.Line), nil
}

// A recorder gathers what cells write, goroutines of theirs too.
type recorder struct {
	mu     sync.Mutex
	stdout strings.Builder
}

func (r *recorder) Stream(name, text string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if name == "stdout" {
		r.stdout.WriteString(text)
	}
}

func (r *recorder) Event(show.Event) {}

func (r *recorder) text() string {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.stdout.String()
}
