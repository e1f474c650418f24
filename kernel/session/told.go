package session

import (
	"cobber/kernel/session/check"
	"cobber/kernel/session/parse"
	"cobber/kernel/session/run"
	"cobber/kernel/session/working"
	"cobber/stdlib/show"
)

// told is what a cell says of itself by directives, and what comes of it.
type told struct {
	cell    string
	set     map[string]string // what inputs are to be, as text
	inputs  []Input
	working *working.Recorder // nil without //cobber:working
	shown   bool              // copies of functions of earlier cells are in the tree
}

// prepare puts copies of functions of earlier cells into the tree of a cell
// that shows their working.
func (t *told) prepare(state *check.State) func(*check.Tree) {
	return func(tree *check.Tree) {
		if d, ok := tree.Cell.Has(parse.Working); ok && d.Arguments == "expand" && !tree.Cell.Program {
			t.shown = tree.ShowFunctions(state)
		}
	}
}

// finish puts into a checked cell what its directives call for.
func (t *told) finish(r *check.Round) bool {
	recorder, changed := working.Plan(r)
	if changed {
		t.working = recorder
	}
	return askForInputs(r) || changed
}

func (t *told) hooks() run.Hooks {
	h := run.Hooks{Input: t.input}
	if t.working != nil {
		h.Note = t.working.Note
	}
	return h
}

// show shows the working of a cell that has run, as far as it came.
func (t *told) show() {
	if t.working == nil {
		return
	}
	if shown := t.working.Shown(); !shown.Empty() {
		show.Value(shown)
	}
}
