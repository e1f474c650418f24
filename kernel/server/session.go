package server

import (
	"context"

	"cobber/kernel/source"
	"cobber/stdlib/show"
)

// Session is what the server needs of a session.
//
// Run is called by one goroutine only. Interrupt, Aside, IsComplete, Complete
// and Inspect are called by others while Run runs; so they must be safe then. An
// Interrupt while nothing runs does nothing. Close may be called again.
type Session interface {
	// Run runs a cell. The context ends when the user interrupts it.
	Run(ctx context.Context, cell source.Cell, out Output) Outcome
	Interrupt()
	Close()
	// Aside calls a function that calls functions of cells, between cells or
	// beside the one that runs.
	Aside(ctx context.Context, do func()) error
	// IsComplete gives "complete", "incomplete" or "invalid", and for an
	// incomplete text the indent of the line to come.
	IsComplete(text string) (status, indent string)
	// Complete and Inspect take the cursor in code points.
	Complete(text string, cursor int) Completion
	Inspect(text string, cursor int) (Inspection, bool)
}

// Output takes what a running cell says. It may be used by several goroutines,
// and after the cell has ended by those it left running. An event that asks is
// answered before Event returns.
type Output interface {
	Stream(name, text string) // name is "stdout" or "stderr"
	Event(show.Event)
}

// Outcome is how a cell ended.
type Outcome struct {
	Values []any    // of the last expression; none when there is nothing to show
	Types  []string // of the values, as Go writes them
	Err    error
	Bound  []string // names that the cell has bound
}

// Completion is what may stand between Start and End, in code points.
type Completion struct {
	Matches    []Match
	Start, End int
}

// Match is one possible completion. Type is what front ends draw an icon for:
// function, module, instance, class, keyword and the like.
type Match struct{ Text, Type, Signature string }

// Inspection is what is known about a name.
type Inspection struct{ Text, Markdown, HTML string }
