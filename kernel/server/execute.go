package server

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"cobber/kernel/display"
	"cobber/kernel/source"
	"cobber/kernel/wire"
)

// executeRequest is the content of execute_request. What is missing has the
// value the protocol gives it.
type executeRequest struct {
	Code            string            `json:"code"`
	Silent          bool              `json:"silent"`
	StoreHistory    *bool             `json:"store_history"`
	UserExpressions map[string]string `json:"user_expressions"`
	AllowStdin      bool              `json:"allow_stdin"`
	StopOnError     *bool             `json:"stop_on_error"`
}

func (r executeRequest) storesHistory() bool {
	return !r.Silent && (r.StoreHistory == nil || *r.StoreHistory)
}

func (r executeRequest) stopsOnError() bool {
	return !r.Silent && (r.StopOnError == nil || *r.StopOnError)
}

type executeInput struct {
	Code  string `json:"code"`
	Count int    `json:"execution_count"`
}

type executeReply struct {
	Status          string         `json:"status"`
	Count           int            `json:"execution_count"`
	Payload         []payload      `json:"payload"`
	UserExpressions map[string]any `json:"user_expressions"`
}

// abortedReply carries no count: front ends would number the cell with it.
type abortedReply struct {
	Status string `json:"status"`
}

type executeResult struct {
	Count    int            `json:"execution_count"`
	Data     map[string]any `json:"data"`
	Metadata map[string]any `json:"metadata"`
}

// executeQueued runs cells in the order they came, until the server stops.
func (s *Server) executeQueued() {
	for {
		next := s.queue.pop(s.stopped.Done())
		if next == nil {
			return
		}
		s.beginCell(next.request)
		if next.aborted {
			s.reply(Shell, next.request, abortedReply{"aborted"}, nil)
		} else {
			s.executeRequest(next.request)
		}
		s.endCell(next.request)
	}
}

// executeRequest runs one cell and answers its request.
func (s *Server) executeRequest(m *wire.Message) {
	var request executeRequest
	started := time.Now()
	content, err := s.guarded(m, func(m *wire.Message) (any, error) {
		if err := decode(m, &request); err != nil {
			return nil, err
		}
		return s.execute(m, request), nil
	})
	if err != nil {
		// A fault of ours or of the request, not of the cell: said in the cell
		// all the same, for there the user looks.
		content = s.fail(m, request, display.Trouble{Name: "kernel error", Value: err.Error(), Traceback: []string{err.Error()}})
	}
	s.reply(Shell, m, content, map[string]any{
		"started": wire.FormatDate(started), "dependencies_met": true, "status": statusOf(content),
	})
}

func statusOf(content any) string {
	if _, failed := content.(errorReply); failed {
		return "error"
	}
	return "ok"
}

func (s *Server) execute(m *wire.Message, request executeRequest) any {
	if strings.TrimSpace(request.Code) == "" && len(request.UserExpressions) == 0 {
		return executeReply{"ok", s.count, []payload{}, map[string]any{}}
	}
	ctx, done := s.running.begin(s.stopped)
	defer done()
	if request.storesHistory() {
		s.count++
	}
	if !request.Silent {
		s.publish("execute_input", m, executeInput{request.Code, s.count})
	}
	s.closePanels(m)
	out := newOutput(ctx, s, m, request)
	defer out.end() // if the session panics, what it said comes before the error
	outcome := s.session.Run(ctx, s.cell(m, request), out)
	var data, metadata map[string]any
	if outcome.Err == nil {
		// Still interruptible: a value may be shown by a method of the user's.
		data, metadata = display.Bundles(outcome.Values...)
	}
	payload := out.end()
	if request.storesHistory() {
		s.history.add(s.count, request.Code, data)
		if err := s.history.past.add(s.count, request.Code); err != nil {
			s.logf("the history is not kept in its file from here on: %v", err)
		}
	}
	if outcome.Err != nil {
		s.abortQueued(ctx, request)
		return s.fail(m, request, explain(ctx, outcome.Err))
	}
	if data != nil && !request.Silent {
		s.publish("execute_result", m, executeResult{s.count, data, metadata})
	}
	return executeReply{"ok", s.count, payload, s.userExpressions(ctx, request.UserExpressions)}
}

// cell is the cell to run. JupyterLab and its kin say in the metadata which one
// it is, so that one that runs again is known.
func (s *Server) cell(m *wire.Message, request executeRequest) source.Cell {
	id, _ := m.Metadata["cellId"].(string)
	cell := source.Cell{Name: fmt.Sprintf("cell %d", s.count), Count: s.count, Text: request.Code, ID: id}
	if !request.storesHistory() {
		cell.Name = "a cell without number"
	}
	return cell
}

// abortGrace is how long after an error cells may come in that were sent
// before it was known: a front end that runs all cells sends them in a row.
const abortGrace = 20 * time.Millisecond

// abortQueued gives up the waiting cells when one failed, unless its front end
// wants the others to run. When the user stopped it, they are given up anyway.
// It is called before the error is told, so that no cell sent in the knowledge
// of it is given up.
func (s *Server) abortQueued(ctx context.Context, request executeRequest) {
	if request.stopsOnError() || ctx.Err() != nil {
		time.Sleep(abortGrace)
		s.queue.abort()
	}
}

// userExpressions evaluates what the front end wants to know besides. An
// expression that fails spoils neither the others nor the cell.
func (s *Server) userExpressions(ctx context.Context, expressions map[string]string) map[string]any {
	answers := map[string]any{}
	for _, name := range slices.Sorted(maps.Keys(expressions)) {
		cell := source.Cell{Name: "user expression " + name, Count: s.count, Text: expressions[name]}
		outcome := s.session.Run(ctx, cell, discard{})
		if outcome.Err != nil {
			answers[name] = errorReplyOf(display.Explain(outcome.Err))
			continue
		}
		data, metadata := display.Bundles(outcome.Values...)
		if data == nil {
			data, metadata = map[string]any{}, map[string]any{}
		}
		answers[name] = expressionValue{"ok", data, metadata}
	}
	return answers
}

type expressionValue struct {
	Status   string         `json:"status"`
	Data     map[string]any `json:"data"`
	Metadata map[string]any `json:"metadata"`
}
