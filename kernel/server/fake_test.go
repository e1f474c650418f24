package server_test

import (
	"context"
	"errors"
	"strconv"
	"strings"
	"sync"
	"time"

	"cobber/kernel/server"
	"cobber/kernel/source"
	"cobber/stdlib/show"
)

// fakeSession stands for a session. Each line of its cells is a verb and an
// argument.
type fakeSession struct {
	mu          sync.Mutex
	interrupted int
	closed      bool
}

func (f *fakeSession) Run(ctx context.Context, cell source.Cell, out server.Output) (outcome server.Outcome) {
	for line := range strings.Lines(cell.Text) {
		verb, rest, _ := strings.Cut(strings.TrimSpace(line), " ")
		switch verb {
		case "print":
			out.Stream("stdout", rest+"\n")
		case "eprint":
			out.Stream("stderr", rest+"\n")
		case "bytes": // one by one
			for i := range len(rest) {
				out.Stream("stdout", rest[i:i+1])
			}
		case "flood":
			count, _ := strconv.Atoi(rest)
			for range count {
				out.Stream("stdout", "0123456789\n")
			}
		case "value":
			outcome.Values = append(outcome.Values, rest)
		case "nothing":
			outcome.Values = append(outcome.Values, nil)
		case "name":
			outcome.Values = append(outcome.Values, cell.Name)
		case "show":
			out.Event(show.Event{Kind: show.KindDisplay, Values: []any{rest, 2}})
		case "live":
			out.Event(show.Event{Kind: show.KindUpdate, ID: "bar", Values: []any{rest}})
		case "page":
			out.Event(show.Event{Kind: show.KindPage, Text: rest})
		case "clear":
			out.Event(show.Event{Kind: show.KindClear, Wait: rest == "wait"})
		case "fail":
			outcome.Err = errors.New(rest)
			return outcome
		case "fault":
			panic(rest)
		case "loop":
			out.Stream("stdout", "looping\n")
			<-ctx.Done()
			outcome.Err = ctx.Err()
			return outcome
		case "deaf":
			time.Sleep(3 * time.Second)
		case "later":
			go func() {
				time.Sleep(100 * time.Millisecond)
				out.Stream("stdout", rest+"\n")
			}()
		case "ask":
			line, err := "", show.ErrNobody
			out.Event(show.Event{Kind: show.KindAsk, Text: rest, Answer: func(text string, e error) { line, err = text, e }})
			if err != nil {
				outcome.Err = err
				return outcome
			}
			outcome.Values = append(outcome.Values, line)
		}
	}
	return outcome
}

func (f *fakeSession) Aside(ctx context.Context, do func()) error { do(); return nil }

func (f *fakeSession) Interrupt() {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.interrupted++
}

func (f *fakeSession) Close() {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.closed = true
}

func (f *fakeSession) IsComplete(text string) (status, indent string) {
	switch {
	case strings.HasSuffix(text, "{"):
		return "incomplete", "\t"
	case strings.HasSuffix(text, "}"):
		return "invalid", ""
	}
	return "complete", "unwanted"
}

func (f *fakeSession) Complete(text string, cursor int) server.Completion {
	if text == "panic" {
		panic("completion")
	}
	if cursor == 0 {
		return server.Completion{}
	}
	return server.Completion{
		Matches: []server.Match{{Text: "Mass", Type: "function", Signature: "func Mass() float64"}},
		Start:   cursor - 1, End: cursor,
	}
}

func (f *fakeSession) Inspect(text string, cursor int) (server.Inspection, bool) {
	return server.Inspection{Text: "func F()", Markdown: "`func F()`", HTML: "<code>func F()</code>"}, text == "F"
}
