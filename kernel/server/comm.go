package server

import "cobber/kernel/wire"

type commInfoReply struct {
	Status string         `json:"status"`
	Comms  map[string]any `json:"comms"`
}

// commInfo answers which channels for widgets are open: none.
func (s *Server) commInfo(*wire.Message) (any, error) {
	return commInfoReply{"ok", map[string]any{}}, nil
}

type commClose struct {
	CommID string         `json:"comm_id"`
	Data   map[string]any `json:"data"`
}

// commOpen closes a channel that a front end opens to something the kernel
// does not have, as the protocol asks. Without that, front ends wait for
// seconds for an answer.
func (s *Server) commOpen(m *wire.Message) (any, error) {
	var request struct {
		CommID string `json:"comm_id"`
	}
	if err := decode(m, &request); err != nil {
		s.logf("%v", err)
		return nil, nil
	}
	s.publish("comm_close", m, commClose{request.CommID, map[string]any{}})
	return nil, nil
}
