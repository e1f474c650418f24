package session

import (
	"cobber/kernel/session/check"
	"cobber/kernel/session/run"
	"cobber/kernel/session/working"
	"cobber/stdlib/show"
)

// told is what a cell says of itself by directives, and what comes of it.
type told struct {
	working *working.Recorder // nil without //cobber:working
}

// finish puts into a checked cell what its directives call for.
func (t *told) finish(r *check.Round) bool {
	recorder, ok := working.Plan(r)
	if ok {
		t.working = recorder
	}
	return ok
}

func (t *told) hooks() run.Hooks {
	var h run.Hooks
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
