package server

import (
	"encoding/json"
	"fmt"
	"io"

	"cobber/stdlib/show"
)

type inputRequest struct {
	Prompt   string `json:"prompt"`
	Password bool   `json:"password"`
}

// endOfInput is what a front end sends where its user ends the input.
const endOfInput = "\x04"

// ErrNoInput is the error of a cell that asks where nobody can answer.
var ErrNoInput = fmt.Errorf("this front end takes no input while a cell runs: %w", show.ErrNobody)

// Input asks the user who runs the cell for a line. It fails at once where the
// front end does not allow it, and when the cell is interrupted.
func (o *output) Input(prompt string, password bool) (string, error) {
	if !o.request.AllowStdin {
		return "", ErrNoInput
	}
	link := o.server.link
	route, ok := link.StdinRoute(o.parent.Route)
	if !ok {
		return "", ErrNoInput
	}
	o.mu.Lock()
	o.flush(true)
	o.mu.Unlock()
	for stale := true; stale; {
		select {
		case <-link.Requests(Stdin):
		default:
			stale = false
		}
	}
	ask := o.server.sender.New("input_request", o.parent, inputRequest{prompt, password})
	ask.Route, ask.Identities = route, nil
	if err := link.Reply(Stdin, ask); err != nil {
		return "", fmt.Errorf("input: %w", err)
	}
	return o.awaitInput()
}

func (o *output) awaitInput() (string, error) {
	for {
		select {
		case <-o.ctx.Done():
			return "", fmt.Errorf("input: %w", o.ctx.Err())
		case m := <-o.server.link.Requests(Stdin):
			var content struct {
				Value string `json:"value"`
			}
			if m.Header.MsgType != "input_reply" || json.Unmarshal(m.Content, &content) != nil {
				continue
			}
			if content.Value == endOfInput {
				return "", io.EOF
			}
			return content.Value, nil
		}
	}
}
