package main

import (
	"fmt"
	"regexp"
	"sync"
	"time"

	"cobber/kernel/notebook"
)

// A progress says which cell of a notebook runs, and for how long: on a
// terminal in one line that is written over, elsewhere in a line for each cell.
type progress struct {
	program *program
	name    string
	started time.Time
	tick    *time.Ticker
	stopped chan struct{}

	mu      sync.Mutex
	at      notebook.Step
	cell    time.Time // when the cell began
	written bool      // the terminal's line holds something
	over    bool
}

func (p *program) newProgress(name string) *progress {
	g := &progress{program: p, name: name, started: time.Now(), stopped: make(chan struct{})}
	if p.terminal {
		g.tick = time.NewTicker(200 * time.Millisecond)
		go g.follow()
	}
	return g
}

// follow keeps the time in the terminal's line going.
func (g *progress) follow() {
	for {
		select {
		case <-g.stopped:
			return
		case <-g.tick.C:
			g.mu.Lock()
			if g.at.Number > 0 && !g.over {
				g.overwrite()
			}
			g.mu.Unlock()
		}
	}
}

func (g *progress) step(s notebook.Step) {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.at = s
	if !s.Done {
		g.cell = time.Now()
	}
	switch {
	case g.program.terminal:
		g.overwrite()
	case s.Done:
		word := ""
		if s.Failed {
			word = ", failed"
		}
		fmt.Fprintf(g.program.stderr, "%s: cell %d of %d, %s%s\n", g.name, s.Number, s.Of, seconds(time.Since(g.cell)), word)
	}
}

func (g *progress) overwrite() {
	fmt.Fprintf(g.program.stderr, "\r\x1b[K%s: cell %d of %d, %s", g.name, g.at.Number, g.at.Of, seconds(time.Since(g.started)))
	g.written = true
}

// end leaves one line that says how it ended.
func (g *progress) end() {
	if g.tick != nil {
		g.tick.Stop()
		close(g.stopped)
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	g.over = true
	if g.written {
		fmt.Fprint(g.program.stderr, "\r\x1b[K")
	}
	fmt.Fprintf(g.program.stderr, "%s: %d of %d cells in %s\n", g.name, g.finished(), g.at.Of, seconds(time.Since(g.started)))
}

// finished is how many cells ran to their end.
func (g *progress) finished() int {
	if g.at.Failed || !g.at.Done && g.at.Number > 0 {
		return g.at.Number - 1
	}
	return g.at.Number
}

var colour = regexp.MustCompile("\x1b\\[[0-9;]*m")

// coloured keeps the colours of an error where there is a terminal to show them.
func (p *program) coloured(line string) string {
	if p.terminal {
		return line
	}
	return colour.ReplaceAllString(line, "")
}

// seconds writes a time as a person would.
func seconds(d time.Duration) string {
	switch {
	case d < 10*time.Second:
		return fmt.Sprintf("%.1f s", d.Seconds())
	case d < 2*time.Minute:
		return fmt.Sprintf("%.0f s", d.Seconds())
	}
	return d.Round(time.Second).String()
}
