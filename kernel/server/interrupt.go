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
	s.running.mu.Lock()
	defer s.running.mu.Unlock()
	if s.running.cancel != nil {
		s.running.cancel()
		s.session.Interrupt()
	}
}

// interrupt answers interrupt_request, without waiting for the cell to end.
func (s *Server) interrupt(*wire.Message) (any, error) {
	s.Interrupt()
	return struct {
		Status string `json:"status"`
	}{"ok"}, nil
}
