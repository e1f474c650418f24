package server

import "cobber/kernel/wire"

type inspectReply struct {
	Status   string         `json:"status"`
	Found    bool           `json:"found"`
	Data     map[string]any `json:"data"`
	Metadata map[string]any `json:"metadata"`
}

func (s *Server) inspect(m *wire.Message) (any, error) {
	var request cursorRequest
	if err := decode(m, &request); err != nil {
		return nil, err
	}
	reply := inspectReply{Status: "ok", Data: map[string]any{}, Metadata: map[string]any{}}
	inspection, found := s.session.Inspect(request.Code, request.cursor())
	if !found {
		return reply, nil
	}
	reply.Found = true
	reply.Data["text/plain"] = inspection.Text
	if inspection.Markdown != "" {
		reply.Data["text/markdown"] = inspection.Markdown
	}
	if inspection.HTML != "" {
		reply.Data["text/html"] = inspection.HTML
	}
	return reply, nil
}
