package kerneltest

import (
	"fmt"
	"strings"
)

// Exchange is what the kernel sent for one request, in the order of sending.
type Exchange []Received

// Idle says whether the request is done.
func (e Exchange) Idle() bool {
	for _, m := range e {
		if m.Type == "status" && m.Content["execution_state"] == "idle" {
			return true
		}
	}
	return false
}

// Reply is the reply to the request; its zero value if there is none.
func (e Exchange) Reply() Received {
	for _, m := range e {
		if m.Channel != "iopub" && strings.HasSuffix(m.Type, "_reply") {
			return m
		}
	}
	return Received{}
}

// Replied says whether the reply has come.
func (e Exchange) Replied() bool { return e.Reply().Type != "" }

// Outputs gives what was broadcast, without statuses and the cell's text.
func (e Exchange) Outputs() Exchange {
	var outputs Exchange
	for _, m := range e {
		if m.Channel == "iopub" && m.Type != "status" && m.Type != "execute_input" {
			outputs = append(outputs, m)
		}
	}
	return outputs
}

// Of gives the messages of a type.
func (e Exchange) Of(msgType string) Exchange {
	var found Exchange
	for _, m := range e {
		if m.Type == msgType {
			found = append(found, m)
		}
	}
	return found
}

// Text is all text that was sent to a stream.
func (e Exchange) Text(stream string) string {
	var b strings.Builder
	for _, m := range e.Of("stream") {
		if m.Content["name"] == stream {
			fmt.Fprint(&b, m.Content["text"])
		}
	}
	return b.String()
}

// Result is the result of the cell as media has it; empty if there is none.
func (e Exchange) Result(media string) string {
	for _, m := range e.Of("execute_result") {
		data, _ := m.Content["data"].(map[string]any)
		text, _ := data[media].(string)
		return text
	}
	return ""
}

// String gives the broadcasts in short, such as
// "busy execute_input stream idle", and the status of the reply.
func (e Exchange) String() string {
	var words []string
	for _, m := range e {
		switch {
		case m.Type == "status":
			words = append(words, fmt.Sprint(m.Content["execution_state"]))
		case m.Channel == "iopub":
			words = append(words, m.Type)
		}
	}
	if reply := e.Reply(); reply.Type != "" {
		words = append(words, fmt.Sprintf("reply:%v", reply.Content["status"]))
	}
	return strings.Join(words, " ")
}
