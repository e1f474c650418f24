package server

import "cobber/kernel/wire"

type cursorRequest struct {
	Code   string `json:"code"`
	Cursor *int   `json:"cursor_pos"` // in code points; missing means the end
}

// cursor gives the place of the cursor, within the code.
func (r cursorRequest) cursor() int {
	length := len([]rune(r.Code))
	if r.Cursor == nil {
		return length
	}
	return min(max(*r.Cursor, 0), length)
}

// completeReply must carry metadata, empty or not: JupyterLab fails without.
type completeReply struct {
	Status   string         `json:"status"`
	Matches  []string       `json:"matches"`
	Start    int            `json:"cursor_start"`
	End      int            `json:"cursor_end"`
	Metadata map[string]any `json:"metadata"`
}

type matchType struct {
	Start     int    `json:"start"`
	End       int    `json:"end"`
	Text      string `json:"text"`
	Type      string `json:"type"`
	Signature string `json:"signature,omitempty"`
}

func (s *Server) complete(m *wire.Message) (any, error) {
	var request cursorRequest
	if err := decode(m, &request); err != nil {
		return nil, err
	}
	completion := s.session.Complete(request.Code, request.cursor())
	reply := completeReply{
		Status: "ok", Matches: []string{},
		Start: completion.Start, End: completion.End,
		Metadata: map[string]any{},
	}
	types := []matchType{}
	for _, match := range completion.Matches {
		reply.Matches = append(reply.Matches, match.Text)
		types = append(types, matchType{completion.Start, completion.End, match.Text, match.Type, match.Signature})
	}
	reply.Metadata["_jupyter_types_experimental"] = types
	return reply, nil
}
