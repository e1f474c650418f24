package session

import (
	"sync"

	"cobber/stdlib/show"
)

// terminal is the standard input of a cell: whoever reads it asks the user, a line at a time. A cell
// has one of its own, so that what it left of a line is not read by the next.
type terminal struct {
	mu   sync.Mutex
	left []byte
	err  error // stays, once the input has ended or nobody answers
}

// Read implements io.Reader.
func (t *terminal) Read(p []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if len(t.left) == 0 && t.err == nil {
		var line string
		if line, t.err = show.Ask(""); t.err == nil {
			t.left = []byte(line + "\n")
		}
	}
	if t.err != nil {
		return 0, t.err
	}
	n := copy(p, t.left)
	t.left = t.left[n:]
	return n, nil
}
