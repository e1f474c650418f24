package wire

import (
	"net"
	"sync"
	"time"

	"github.com/go-zeromq/zmq4"
)

// Route leads to the peer that sent a message. It stays with that connection
// even where two peers chose the same identity.
type Route struct{ peer *peer }

// Router is a socket that requests come in by and replies go out by: shell,
// control and stdin.
type Router struct {
	socket *socket
	codec  *Codec
	in     chan *Message

	done    chan struct{}
	closing sync.Once
}

func newRouter(listener net.Listener, codec *Codec, logf func(string, ...any)) *Router {
	r := &Router{
		socket: newSocket(zmq4.Router, listener, logf),
		codec:  codec,
		in:     make(chan *Message, 64),
		done:   make(chan struct{}),
	}
	r.socket.took = r.took
	go r.socket.accept()
	return r
}

func (r *Router) took(p *peer, frames [][]byte) {
	m, err := r.codec.Decode(frames)
	if err != nil {
		r.socket.logf("a message was dropped: %v", err)
		return
	}
	if !r.codec.isNew(m.signature) {
		r.socket.logf("a %s was dropped: a message of the same signature has come before", m.Header.MsgType)
		return
	}
	m.Route = Route{p}
	select {
	case r.in <- m:
	case <-r.done:
	}
}

// Messages gives what the peers send, in the order in which each sent it.
func (r *Router) Messages() <-chan *Message { return r.in }

// Send queues a message for the peer its Route leads to. A peer that has gone
// gets nothing, which is no error.
func (r *Router) Send(m *Message) error {
	if m.Route.peer == nil {
		return nil
	}
	frames, err := r.codec.Encode(m)
	if err != nil {
		return err
	}
	m.Route.peer.send(frames)
	return nil
}

// RouteLike gives the route to the peer of this socket that calls itself as
// the one of another route does: the stdin peer of a front end whose request
// came by shell. It says whether there is one.
func (r *Router) RouteLike(other Route) (Route, bool) {
	if other.peer == nil || other.peer.identity == "" {
		return Route{}, false
	}
	for _, p := range r.socket.all() {
		if p.identity == other.peer.identity {
			return Route{p}, true
		}
	}
	return Route{}, false
}

func (r *Router) close(deadline time.Time) {
	r.closing.Do(func() { close(r.done) })
	r.socket.close(deadline)
}
