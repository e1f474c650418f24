package wire

import (
	"fmt"
	"net"
	"sync"
	"time"

	"github.com/go-zeromq/zmq4"
)

// Sockets are the five sockets of a kernel. The heartbeat answers by itself.
type Sockets struct {
	Shell, Control, Stdin *Router
	IOPub                 *Publisher
	heartbeat             *socket
	listeners             []net.Listener
}

// bindTime is how long the ports of a connection file may stay taken: a kernel
// that is started again gets those of its predecessor, which may just be going.
const bindTime = 5 * time.Second

// Bind opens the sockets of a connection. Messages of the kernel itself are
// made by sender. What goes wrong with a single peer is told to logf, which
// may be nil.
func Bind(c Connection, sender *Sender, logf func(format string, args ...any)) (*Sockets, error) {
	if err := c.check(); err != nil {
		return nil, fmt.Errorf("connection: %w", err)
	}
	if logf == nil {
		logf = func(string, ...any) {}
	}
	s := &Sockets{}
	for _, port := range []int{c.ShellPort, c.ControlPort, c.StdinPort, c.IOPubPort, c.HeartbeatPort} {
		listener, err := listenPatiently(c, port, time.Now().Add(bindTime))
		if err != nil {
			for _, open := range s.listeners {
				open.Close()
			}
			return nil, fmt.Errorf("cannot listen for the front end: %w", err)
		}
		s.listeners = append(s.listeners, listener)
	}
	codec := NewCodec(c.Key)
	s.Shell = newRouter(s.listeners[0], codec, logf)
	s.Control = newRouter(s.listeners[1], codec, logf)
	s.Stdin = newRouter(s.listeners[2], codec, logf)
	s.IOPub = newPublisher(s.listeners[3], codec, sender, logf)
	s.heartbeat = newSocket(zmq4.Router, s.listeners[4], logf)
	s.heartbeat.took = func(p *peer, frames [][]byte) { p.send(frames) }
	go s.heartbeat.accept()
	return s, nil
}

func listenPatiently(c Connection, port int, deadline time.Time) (net.Listener, error) {
	for {
		listener, err := c.listen(port)
		if err == nil || port == 0 || time.Now().After(deadline) {
			return listener, err
		}
		time.Sleep(50 * time.Millisecond)
	}
}

// Connection gives c with the ports that were really taken, for a connection
// whose ports were 0.
func (s *Sockets) Connection(c Connection) Connection {
	ports := []*int{&c.ShellPort, &c.ControlPort, &c.StdinPort, &c.IOPubPort, &c.HeartbeatPort}
	for i, listener := range s.listeners {
		if address, ok := listener.Addr().(*net.TCPAddr); ok {
			*ports[i] = address.Port
		}
	}
	return c
}

// Close parts from all peers, giving them up to linger to take what is queued
// for them.
func (s *Sockets) Close(linger time.Duration) {
	deadline := time.Now().Add(linger)
	var parting sync.WaitGroup
	for _, part := range []interface{ close(time.Time) }{s.Control, s.Shell, s.Stdin, s.IOPub, s.heartbeat} {
		parting.Go(func() { part.close(deadline) })
	}
	parting.Wait()
}
