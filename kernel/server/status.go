package server

import (
	"sync"

	"cobber/kernel/wire"
)

type statusContent struct {
	State string `json:"execution_state"`
}

// status keeps what front ends believe of the kernel true. They take the last
// status they saw for that of the kernel, whatever request it belongs to. So
// when a request is answered while a cell runs, "busy" is said again for the
// cell after the "idle" of that request.
type status struct {
	mu   sync.Mutex
	cell *wire.Message // the running cell's request, or nil
}

func (s *Server) beginCell(m *wire.Message) {
	s.status.mu.Lock()
	defer s.status.mu.Unlock()
	s.status.cell = m
	s.publish("status", m, statusContent{"busy"})
}

func (s *Server) endCell(m *wire.Message) {
	s.status.mu.Lock()
	defer s.status.mu.Unlock()
	s.status.cell = nil
	s.publish("status", m, statusContent{"idle"})
}

func (s *Server) beginAside(m *wire.Message) {
	s.publish("status", m, statusContent{"busy"})
}

func (s *Server) endAside(m *wire.Message) {
	s.status.mu.Lock()
	defer s.status.mu.Unlock()
	s.publish("status", m, statusContent{"idle"})
	if s.status.cell != nil {
		s.publish("status", s.status.cell, statusContent{"busy"})
	}
}
