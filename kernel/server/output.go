package server

import (
	"context"
	"sync"
	"time"
	"unicode/utf8"

	"cobber/kernel/display"
	"cobber/kernel/wire"
	"cobber/stdlib/show"
)

const (
	streamDelay = 50 * time.Millisecond // how long text may wait to be sent with more
	streamSize  = 32 << 10              // bytes that are sent without waiting
)

type streamContent struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

type displayContent struct {
	Data      map[string]any `json:"data"`
	Metadata  map[string]any `json:"metadata"`
	Transient transient      `json:"transient"`
}

type transient struct {
	DisplayID string `json:"display_id,omitempty"`
}

type clearContent struct {
	Wait bool `json:"wait"`
}

// payload is something for the front end to do that is part of the reply.
type payload struct {
	Source string         `json:"source"`
	Data   map[string]any `json:"data"`
	Start  int            `json:"start"`
}

// output sends what one cell says. Text is collected for a moment, as front
// ends suffer from thousands of small messages; everything else, and the end
// of the cell, sends the collected text first. It goes on working after the
// cell has ended, for the goroutines the cell left running.
type output struct {
	server  *Server
	ctx     context.Context
	parent  *wire.Message
	request executeRequest

	mu      sync.Mutex
	name    string // of the stream that text is collected for
	text    []byte
	timer   *time.Timer
	shown   map[string]bool // places that this cell has shown something in
	payload []payload
}

func newOutput(ctx context.Context, s *Server, parent *wire.Message, request executeRequest) *output {
	return &output{
		server: s, ctx: ctx, parent: parent, request: request,
		shown: map[string]bool{}, payload: []payload{},
	}
}

// Stream implements Output.
func (o *output) Stream(name, text string) {
	if o.request.Silent || text == "" {
		return
	}
	o.mu.Lock()
	defer o.mu.Unlock()
	if name != o.name {
		o.flush(true)
		o.name = name
	}
	o.text = append(o.text, text...)
	switch {
	case len(o.text) >= streamSize:
		o.flush(false)
	case o.timer == nil:
		o.timer = time.AfterFunc(streamDelay, func() {
			o.mu.Lock()
			defer o.mu.Unlock()
			o.flush(false)
		})
	}
}

// flush sends the collected text. Unless it is the last of its stream, the
// beginning of a character that is not complete stays.
func (o *output) flush(last bool) {
	if o.timer != nil {
		o.timer.Stop()
		o.timer = nil
	}
	end := len(o.text)
	if !last {
		end = completeLength(o.text)
	}
	if end == 0 {
		return
	}
	o.server.publish("stream", o.parent, streamContent{o.name, string(o.text[:end])})
	o.text = append(o.text[:0], o.text[end:]...)
}

// completeLength is the length of text without a character that is cut off at
// its end.
func completeLength(text []byte) int {
	for back := 1; back < utf8.UTFMax && back <= len(text); back++ {
		if at := len(text) - back; utf8.RuneStart(text[at]) {
			if !utf8.FullRune(text[at:]) {
				return at
			}
			break
		}
	}
	return len(text)
}

// Event implements Output.
func (o *output) Event(event show.Event) {
	if event.Kind == show.KindAsk {
		event.Answer(o.Input(event.Text, event.Secret))
		return
	}
	o.mu.Lock()
	defer o.mu.Unlock()
	if event.Kind == show.KindPage {
		o.payload = append(o.payload, payload{"page", map[string]any{"text/plain": event.Text}, 0})
		return
	}
	if o.request.Silent {
		return
	}
	o.flush(true)
	switch event.Kind {
	case show.KindDisplay, show.KindUpdate:
		o.display(event)
	case show.KindClear:
		o.server.publish("clear_output", o.parent, clearContent{event.Wait})
	case show.KindPanel:
		o.panel(event)
	}
}

// display shows values in a place of their own, or anew in the place that this
// cell has shown something in under the same id. The place of an earlier run
// of the cell is gone: its front end has cleared it.
func (o *output) display(event show.Event) {
	msgType := "display_data"
	if event.Kind == show.KindUpdate && o.shown[event.ID] {
		msgType = "update_display_data"
	}
	if event.ID != "" {
		o.shown[event.ID] = true
	}
	for _, value := range event.Values {
		o.server.publish(msgType, o.parent, displayOf(value, event.ID))
	}
}

func displayOf(value any, id string) displayContent {
	data, metadata := display.Bundle(value)
	if data == nil {
		data, metadata = map[string]any{"text/plain": display.Text(value)}, map[string]any{}
	}
	return displayContent{data, metadata, transient{id}}
}

// end sends what is left of the cell, and gives what its reply must carry.
func (o *output) end() []payload {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.flush(true)
	return o.payload
}

// discard is an Output that nobody sees.
type discard struct{}

func (discard) Stream(string, string) {}
func (discard) Event(show.Event)      {}
