package kerneltest

import (
	"encoding/json"
	"fmt"
	"sync"
	"testing"
	"time"

	"cobber/kernel/server"
	"cobber/kernel/wire"
)

// patience is how long a front end waits for what must come.
const patience = 20 * time.Second

// FrontEnd is a front end in the same process as the server: the server's
// Transport on one side, requests and answers on the other. Every message it
// gets is checked against its shape.
type FrontEnd struct {
	t      testing.TB
	sender *wire.Sender
	codec  *wire.Codec
	inbox  map[server.Channel]chan *wire.Message

	mu      sync.Mutex
	changed *sync.Cond
	got     []Received
	Answer  func(prompt string) string // answers input requests; nil for a front end without input
}

// Received is one message from the kernel.
type Received struct {
	Channel string // shell, control, stdin or iopub
	Type    string
	Parent  string // id of the request it belongs to; empty for none
	Content map[string]any
	Message *wire.Message
}

// NewFrontEnd starts a server for session, and a front end for it. Both end
// with the test.
func NewFrontEnd(t testing.TB, session server.Session) *FrontEnd {
	return NewFrontEndOf(t, session, server.About{})
}

// NewFrontEndOf is NewFrontEnd with what else is to be said of the kernel.
func NewFrontEndOf(t testing.TB, session server.Session, about server.About) *FrontEnd {
	f := &FrontEnd{
		t: t, sender: wire.NewSender(), codec: wire.NewCodec("a key"),
		inbox: map[server.Channel]chan *wire.Message{
			server.Shell: make(chan *wire.Message, 100), server.Control: make(chan *wire.Message, 100),
			server.Stdin: make(chan *wire.Message, 100),
		},
	}
	f.changed = sync.NewCond(&f.mu)
	about.Implementation, about.Version, about.GoVersion, about.Banner = "cobber", "0.0.0", "1.26", "cobber in a test"
	kernel := server.New(session, f, wire.NewSender(), about, t.Logf)
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		kernel.Run(t.Context())
	}()
	t.Cleanup(func() {
		kernel.Stop()
		select {
		case <-ended:
		case <-time.After(patience):
			t.Error("the server did not end")
		}
	})
	return f
}

// Requests implements server.Transport.
func (f *FrontEnd) Requests(channel server.Channel) <-chan *wire.Message { return f.inbox[channel] }

// Reply implements server.Transport.
func (f *FrontEnd) Reply(channel server.Channel, m *wire.Message) error {
	name := map[server.Channel]string{server.Shell: "shell", server.Control: "control", server.Stdin: "stdin"}[channel]
	received := f.receive(name, m)
	if received.Type == "input_request" {
		value := f.Answer(fmt.Sprint(received.Content["prompt"]))
		f.Send(server.Stdin, "input_reply", map[string]any{"value": value})
	}
	return nil
}

// Publish implements server.Transport.
func (f *FrontEnd) Publish(_ string, m *wire.Message) error {
	f.receive("iopub", m)
	return nil
}

// StdinRoute implements server.Transport.
func (f *FrontEnd) StdinRoute(route wire.Route) (wire.Route, bool) { return route, f.Answer != nil }

// receive takes a message as it would come over a socket.
func (f *FrontEnd) receive(channel string, m *wire.Message) Received {
	frames, err := f.codec.Encode(m)
	if err != nil {
		f.t.Errorf("%s: %v", m.Header.MsgType, err)
		return Received{}
	}
	decoded, err := f.codec.Decode(frames)
	if err != nil {
		f.t.Errorf("%s: %v", m.Header.MsgType, err)
		return Received{}
	}
	received := Received{Channel: channel, Type: m.Header.MsgType, Message: decoded}
	var parent wire.Header
	if err := json.Unmarshal(decoded.Parent, &parent); err != nil {
		f.t.Errorf("%s: parent header: %v", received.Type, err)
	}
	received.Parent = parent.MsgID
	if err := json.Unmarshal(decoded.Content, &received.Content); err != nil {
		f.t.Errorf("%s: %v", received.Type, err)
	}
	if err := CheckShape(received.Type, received.Content); err != nil {
		f.t.Errorf("%v, in %s", err, decoded.Content)
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	f.got = append(f.got, received)
	f.changed.Broadcast()
	return received
}

// Send sends a request and gives its id.
func (f *FrontEnd) Send(channel server.Channel, msgType string, content any) string {
	frames, err := f.codec.Encode(f.sender.New(msgType, nil, content))
	if err != nil {
		f.t.Fatal(err)
	}
	m, err := f.codec.Decode(frames)
	if err != nil {
		f.t.Fatal(err)
	}
	f.inbox[channel] <- m
	return m.Header.MsgID
}

// Ask sends a request and waits for all that belongs to it.
func (f *FrontEnd) Ask(channel server.Channel, msgType string, content any) Exchange {
	f.t.Helper()
	return f.Await(f.Send(channel, msgType, content))
}

// Execute sends a cell. more holds pairs of fields to change and their values.
func (f *FrontEnd) Execute(code string, more ...any) string {
	content := map[string]any{
		"code": code, "silent": false, "store_history": true, "user_expressions": map[string]string{},
		"allow_stdin": f.Answer != nil, "stop_on_error": true,
	}
	for i := 0; i+1 < len(more); i += 2 {
		content[more[i].(string)] = more[i+1]
	}
	return f.Send(server.Shell, "execute_request", content)
}

// Run sends a cell and waits for all that belongs to it.
func (f *FrontEnd) Run(code string, more ...any) Exchange {
	f.t.Helper()
	return f.Await(f.Execute(code, more...))
}

// Await waits until a request has its idle, and its reply if it is one that
// gets a reply.
func (f *FrontEnd) Await(id string) Exchange {
	f.t.Helper()
	return f.AwaitThat(id, "the request to be done", func(e Exchange) bool { return e.Idle() && e.Replied() })
}

// AwaitThat waits until what belongs to a request meets a condition.
func (f *FrontEnd) AwaitThat(id, what string, condition func(Exchange) bool) Exchange {
	f.t.Helper()
	late := time.AfterFunc(patience, func() {
		f.mu.Lock()
		defer f.mu.Unlock()
		f.changed.Broadcast()
	})
	defer late.Stop()
	f.mu.Lock()
	defer f.mu.Unlock()
	for end := time.Now().Add(patience); ; f.changed.Wait() {
		exchange := f.exchange(id)
		if condition(exchange) {
			return exchange
		}
		if time.Now().After(end) {
			f.t.Fatalf("waited in vain for %s; got %s", what, exchange)
		}
	}
}

// All gives every message so far, in the order of sending.
func (f *FrontEnd) All() []Received {
	f.mu.Lock()
	defer f.mu.Unlock()
	return append([]Received{}, f.got...)
}

func (f *FrontEnd) exchange(id string) Exchange {
	var e Exchange
	for _, m := range f.got {
		if m.Parent == id {
			e = append(e, m)
		}
	}
	return e
}
