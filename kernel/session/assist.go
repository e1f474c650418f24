package session

import "cobber/kernel/session/check"

// Completion is what may stand between Start and End, in code points.
type Completion = check.Completion

// Inspection is what is known about a name.
type Inspection = check.Inspection

// Complete lists what may stand at the cursor, counted in code points. It runs nothing, and may be
// called while a cell runs.
func (s *Session) Complete(text string, cursor int) Completion {
	return check.Complete(s.now(), text, cursor)
}

// Inspect describes the name at the cursor, counted in code points, without running anything.
func (s *Session) Inspect(text string, cursor int) (Inspection, bool) {
	return check.Inspect(s.now(), text, cursor)
}

// now is the state that the next cell will find.
func (s *Session) now() *check.State {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.state
}
