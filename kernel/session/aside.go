package session

import (
	"context"

	"cobber/kernel/session/run"
)

// Aside calls a function that calls functions of cells, as a control does when it is moved: between
// cells, or beside the one that runs, as its goroutines do. An interrupt stops it; so does the end of
// ctx. What it prints goes to the cell that ran last.
func (s *Session) Aside(ctx context.Context, do func()) error {
	underWay := !s.running.TryLock()
	r := run.NewRun()
	if !underWay {
		defer s.running.Unlock()
		r.Stdin = new(terminal)
		s.begin(r)
		defer s.end()
		defer context.AfterFunc(ctx, r.Stop)()
	}
	err := s.machine.Beside(r, underWay, do)
	if err != nil {
		return s.failure(nil, err, nil)
	}
	return nil
}
