package session

import (
	"cobber/kernel/session/check"
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
