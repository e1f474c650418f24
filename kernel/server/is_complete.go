package server

import "cobber/kernel/wire"

type isCompleteReply struct {
	Status string `json:"status"`
	Indent string `json:"indent,omitempty"` // of the next line of an incomplete text
}

func (s *Server) isComplete(m *wire.Message) (any, error) {
	var request struct {
		Code string `json:"code"`
	}
	if err := decode(m, &request); err != nil {
		return isCompleteReply{Status: "unknown"}, nil
	}
	status, indent := s.session.IsComplete(request.Code)
	if status != "incomplete" {
		indent = ""
	}
	return isCompleteReply{status, indent}, nil
}
