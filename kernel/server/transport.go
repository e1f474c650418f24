package server

import "cobber/kernel/wire"

// Channel is one of the sockets that requests come by.
type Channel int

// The channels that requests come by.
const (
	Shell Channel = iota
	Control
	Stdin
)

// Transport brings requests and takes answers.
type Transport interface {
	// Requests gives the messages that come by a channel.
	Requests(Channel) <-chan *wire.Message
	// Reply sends a message to the peer its Route leads to.
	Reply(Channel, *wire.Message) error
	// Publish broadcasts a message. It may wait for subscribers that lag.
	Publish(topic string, m *wire.Message) error
	// StdinRoute gives the way to the stdin socket of the front end that a
	// request of another channel came from, if it has one.
	StdinRoute(wire.Route) (wire.Route, bool)
}

// socketTransport is a Transport over real sockets.
type socketTransport struct{ sockets *wire.Sockets }

func (t socketTransport) router(channel Channel) *wire.Router {
	switch channel {
	case Control:
		return t.sockets.Control
	case Stdin:
		return t.sockets.Stdin
	}
	return t.sockets.Shell
}

func (t socketTransport) Requests(channel Channel) <-chan *wire.Message {
	return t.router(channel).Messages()
}

func (t socketTransport) Reply(channel Channel, m *wire.Message) error {
	return t.router(channel).Send(m)
}

func (t socketTransport) Publish(topic string, m *wire.Message) error {
	return t.sockets.IOPub.Publish(topic, m)
}

func (t socketTransport) StdinRoute(route wire.Route) (wire.Route, bool) {
	return t.sockets.Stdin.RouteLike(route)
}
