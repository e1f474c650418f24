package server

import (
	"context"
	"sync"

	"cobber/kernel/wire"
)

// running is what an interrupt stops.
type running struct {
	mu     sync.Mutex
	cancel context.CancelFunc // of the running cell; nil between cells
}

// begin gives the context of a cell that runs until done is called.
func (r *running) begin(parent context.Context) (ctx context.Context, done func()) {
	ctx, cancel := context.WithCancel(parent)
	r.mu.Lock()
	r.cancel = cancel
	r.mu.Unlock()
	return ctx, func() {
		r.mu.Lock()
		r.cancel = nil
		r.mu.Unlock()
		cancel()
	}
}

// Interrupt stops the running cell, if there is one. The session and its names
// stay. The cells that wait for it are given up when it ends.
func (s *Server) Interrupt() {
	stopped := s.running.stop()
	if s.moving.stop() || stopped {
		s.session.Interrupt()
	}
}

// stop ends the context of what runs; false if nothing does.
func (r *running) stop() bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.cancel == nil {
		return false
	}
	r.cancel()
	return true
}

// interrupt answers interrupt_request, without waiting for the cell to end.
func (s *Server) interrupt(*wire.Message) (any, error) {
	s.Interrupt()
	return struct {
		Status string `json:"status"`
	}{"ok"}, nil
}
