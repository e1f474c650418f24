package server

import (
	"time"

	"cobber/kernel/wire"
)

type shutdownContent struct {
	Status  string `json:"status"`
	Restart bool   `json:"restart"`
}

// shutdown answers shutdown_request, and tells the other front ends. A restart
// is the front end's to do: it starts a new process with the same connection
// file.
func (s *Server) shutdown(m *wire.Message) (any, error) {
	var request struct {
		Restart bool `json:"restart"`
	}
	if err := decode(m, &request); err != nil {
		return nil, err
	}
	content := shutdownContent{"ok", request.Restart}
	s.publish("shutdown_reply", m, content)
	return content, nil
}

// windUpTime is how long a running cell has to let itself be stopped at the
// end. jupyter_client kills after 2.5 seconds.
const windUpTime = time.Second

// windUp stops the running cell and closes the session, unless the cell does
// not end.
func (s *Server) windUp(ended <-chan struct{}) {
	s.queue.abort()
	s.Interrupt()
	select {
	case <-ended:
		s.session.Close()
	case <-time.After(windUpTime):
		s.logf("the running cell did not stop: the kernel ends without it")
	}
}
