package server

import (
	"context"

	"cobber/kernel/display"
	"cobber/kernel/wire"
)

type errorContent struct {
	Name      string   `json:"ename"`
	Value     string   `json:"evalue"`
	Traceback []string `json:"traceback"`
}

type errorReply struct {
	Status          string         `json:"status"`
	Name            string         `json:"ename"`
	Value           string         `json:"evalue"`
	Traceback       []string       `json:"traceback"`
	Count           *int           `json:"execution_count,omitempty"`
	Payload         []payload      `json:"payload,omitempty"`
	UserExpressions map[string]any `json:"user_expressions,omitempty"`
}

func errorReplyOf(trouble display.Trouble) errorReply {
	return errorReply{Status: "error", Name: trouble.Name, Value: trouble.Value, Traceback: trouble.Traceback}
}

// explain says what went wrong with a cell. The error of one that was stopped
// may be any; one that knows its place is better than ours.
func explain(ctx context.Context, err error) display.Trouble {
	if trouble := display.Explain(err); ctx.Err() == nil || trouble.Name != display.Unclassified {
		return trouble
	}
	const text = "the cell was stopped; the session and its names are kept"
	return display.Trouble{Name: display.Interrupted, Value: text, Traceback: []string{text}}
}

// fail tells everybody of the error of a cell, and gives the reply to its
// request.
func (s *Server) fail(m *wire.Message, request executeRequest, trouble display.Trouble) errorReply {
	if !request.Silent {
		s.publish("error", m, errorContent{trouble.Name, trouble.Value, trouble.Traceback})
	}
	reply := errorReplyOf(trouble)
	count := s.count
	reply.Count = &count
	return reply
}
