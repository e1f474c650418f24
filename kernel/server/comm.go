package server

import "cobber/kernel/wire"

type commInfoReply struct {
	Status string              `json:"status"`
	Comms  map[string]commInfo `json:"comms"`
}

type commInfo struct {
	Target string `json:"target_name"`
}

// commInfo answers which channels for widgets are open: those of the controls
// that cells have shown.
func (s *Server) commInfo(m *wire.Message) (any, error) {
	var request struct {
		Target string `json:"target_name"`
	}
	if err := decode(m, &request); err != nil {
		return nil, err
	}
	open := map[string]commInfo{}
	if request.Target == "" || request.Target == widgetTarget {
		for _, id := range s.models.ids() {
			open[id] = commInfo{widgetTarget}
		}
	}
	return commInfoReply{"ok", open}, nil
}

type commOpen struct {
	CommID string         `json:"comm_id"`
	Target string         `json:"target_name"`
	Data   map[string]any `json:"data"`
}

type commClose struct {
	CommID string         `json:"comm_id"`
	Data   map[string]any `json:"data"`
}

type commMsg struct {
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

// commClose forgets a control that no front end shows any more.
func (s *Server) commClose(m *wire.Message) (any, error) {
	var request commClose
	if err := decode(m, &request); err != nil {
		s.logf("%v", err)
		return nil, nil
	}
	s.models.drop(request.CommID)
	return nil, nil
}

// commMsg moves a control, or tells its state to a page that was loaded again.
func (s *Server) commMsg(m *wire.Message) {
	s.beginAside(m)
	var request struct {
		CommID string `json:"comm_id"`
		Data   struct {
			Method string         `json:"method"`
			State  map[string]any `json:"state"`
		} `json:"data"`
	}
	if err := decode(m, &request); err != nil {
		s.logf("%v", err)
		s.endAside(m)
		return
	}
	model := s.models.find(request.CommID)
	switch {
	case model == nil:
	case request.Data.Method == "request_state":
		s.publish("comm_msg", m, commMsg{model.id, map[string]any{"method": "update", "state": model.stateAgain(), "buffer_paths": []any{}}})
	case request.Data.Method == "update" && model.knob != nil:
		if s.turn(m, model, request.Data.State) {
			model.panel.redraw(m) // says that it is idle when that is done
			return
		}
	}
	s.endAside(m)
}
