package server

import (
	"sync"

	"cobber/kernel/wire"
)

// queued is a cell that waits for its turn.
type queued struct {
	request *wire.Message
	aborted bool // it will not run, as one before it failed
}

// queue holds the cells that were sent while another ran.
type queue struct {
	mu     sync.Mutex
	cells  []*queued
	signal chan struct{} // has one entry while cells may be waiting
}

func newQueue() *queue { return &queue{signal: make(chan struct{}, 1)} }

func (q *queue) push(m *wire.Message) {
	q.mu.Lock()
	q.cells = append(q.cells, &queued{request: m})
	q.mu.Unlock()
	select {
	case q.signal <- struct{}{}:
	default:
	}
}

// pop waits for the next cell. It gives nil when done is closed.
func (q *queue) pop(done <-chan struct{}) *queued {
	for {
		q.mu.Lock()
		if len(q.cells) > 0 {
			next := q.cells[0]
			q.cells = q.cells[1:]
			q.mu.Unlock()
			return next
		}
		q.mu.Unlock()
		select {
		case <-done:
			return nil
		case <-q.signal:
		}
	}
}

// abort gives up all cells that wait now. Those that come later run.
func (q *queue) abort() {
	q.mu.Lock()
	defer q.mu.Unlock()
	for _, cell := range q.cells {
		cell.aborted = true
	}
}
