package server

import (
	"context"
	"encoding/json"
	"fmt"
	"runtime/debug"
	"sync"

	"cobber/kernel/wire"
)

// About is what the kernel says of itself.
type About struct {
	Implementation string // name of the program
	Version        string // of the program
	GoVersion      string // of the language that cells are written in
	Banner         string // what a console prints at the start
	HelpLinks      []HelpLink
	History        string // file that keeps the cells for later sessions, or empty
}

// HelpLink is an entry of the help menu.
type HelpLink struct {
	Text string `json:"text"`
	URL  string `json:"url"`
}

// Server is one kernel at work.
type Server struct {
	session Session
	link    Transport
	about   About
	sender  *wire.Sender
	logf    func(format string, args ...any)

	queue   *queue
	status  status
	history history
	models  models
	count   int // of the cells that were numbered; the executing goroutine's own

	running running
	moving  running    // what a control that was moved draws
	drawing sync.Mutex // one at a time
	stop    context.CancelFunc
	stopped context.Context
	ending  sync.Once
}

// New is a server for one session. logf is told of requests that make no
// sense; it may be nil.
func New(session Session, link Transport, sender *wire.Sender, about About, logf func(string, ...any)) *Server {
	if logf == nil {
		logf = func(string, ...any) {}
	}
	s := &Server{session: session, link: link, about: about, sender: sender, logf: logf, queue: newQueue()}
	if about.History != "" {
		s.history.past = &past{path: about.History, session: newID()}
	}
	s.stopped, s.stop = context.WithCancel(context.Background())
	return s
}

// Run answers requests until a front end asks for the end, Stop is called or
// ctx ends. It does not wait for a cell that does not let itself be stopped.
func (s *Server) Run(ctx context.Context) {
	defer context.AfterFunc(ctx, s.Stop)()
	s.publish("status", nil, statusContent{"starting"})
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		s.executeQueued()
	}()
	go s.serve(Control, s.controlRequest)
	s.serve(Shell, s.shellRequest)
	s.windUp(ended)
}

// Stop makes Run end.
func (s *Server) Stop() { s.ending.Do(s.stop) }

// serve hands the requests of a channel to answer, until the server stops.
func (s *Server) serve(channel Channel, answer func(*wire.Message)) {
	requests := s.link.Requests(channel)
	for {
		select {
		case <-s.stopped.Done():
			return
		case m := <-requests:
			answer(m)
		}
	}
}

func (s *Server) shellRequest(m *wire.Message) {
	if m.Header.MsgType == "execute_request" {
		s.queue.push(m)
		return
	}
	if m.Header.MsgType == "comm_msg" {
		s.commMsg(m)
		return
	}
	s.aside(Shell, m, s.shellAnswer(m.Header.MsgType))
}

// handler answers one request: it gives the content of the reply, nil for
// messages that have none.
type handler func(m *wire.Message) (content any, err error)

func (s *Server) shellAnswer(msgType string) handler {
	switch msgType {
	case "kernel_info_request":
		return s.kernelInfo
	case "is_complete_request":
		return s.isComplete
	case "complete_request":
		return s.complete
	case "inspect_request":
		return s.inspect
	case "history_request":
		return s.historyRequest
	case "comm_info_request":
		return s.commInfo
	case "comm_open":
		return s.commOpen
	case "comm_close":
		return s.commClose
	case "interrupt_request":
		return s.interrupt
	case "shutdown_request":
		return s.shutdown
	}
	return s.unknown
}

func (s *Server) controlRequest(m *wire.Message) {
	var answer handler
	switch m.Header.MsgType {
	case "kernel_info_request":
		answer = s.kernelInfo
	case "interrupt_request":
		answer = s.interrupt
	case "shutdown_request":
		answer = s.shutdown
	default:
		answer = s.unknown
	}
	s.aside(Control, m, answer)
}

func (s *Server) unknown(m *wire.Message) (any, error) {
	s.logf("a request of the unknown type %q was ignored", m.Header.MsgType)
	return nil, nil
}

// aside answers a request that is no cell, between its busy and idle.
func (s *Server) aside(channel Channel, m *wire.Message, answer handler) {
	s.beginAside(m)
	defer s.endAside(m)
	content, err := s.guarded(m, answer)
	if err != nil {
		content = errorReply{Status: "error", Name: "request error", Value: err.Error(), Traceback: []string{}}
	}
	if content != nil {
		s.reply(channel, m, content, nil)
	}
	if m.Header.MsgType == "shutdown_request" {
		s.Stop()
	}
}

// guarded calls a handler so that a fault of ours ends neither the server nor
// the session.
func (s *Server) guarded(m *wire.Message, answer handler) (content any, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			s.logf("fault while answering %s: %v\n%s", m.Header.MsgType, fault, debug.Stack())
			content, err = nil, fmt.Errorf("a fault inside cobber kept this request from being answered: %v; the session goes on", fault)
		}
	}()
	return answer(m)
}

// reply answers a request on the channel it came by.
func (s *Server) reply(channel Channel, m *wire.Message, content any, metadata map[string]any) {
	reply := s.sender.New(replyType(m.Header.MsgType), m, content)
	if metadata != nil {
		reply.Metadata = metadata
	}
	if err := s.link.Reply(channel, reply); err != nil {
		s.logf("%s: %v", reply.Header.MsgType, err)
	}
}

func replyType(requestType string) string {
	const suffix = "_request"
	if len(requestType) > len(suffix) && requestType[len(requestType)-len(suffix):] == suffix {
		requestType = requestType[:len(requestType)-len(suffix)]
	}
	return requestType + "_reply"
}

// publish broadcasts what belongs to a request, or to none if parent is nil.
func (s *Server) publish(msgType string, parent *wire.Message, content any) {
	s.send(msgType, s.sender.New(msgType, parent, content))
}

func (s *Server) send(msgType string, m *wire.Message) {
	if err := s.link.Publish(msgType, m); err != nil {
		s.logf("%s: %v", msgType, err)
	}
}

// decode reads the content of a request.
func decode(m *wire.Message, into any) error {
	if err := json.Unmarshal(m.Content, into); err != nil {
		return fmt.Errorf("the content of %s is not as the protocol has it: %w", m.Header.MsgType, err)
	}
	return nil
}
