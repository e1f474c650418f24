package wire

import (
	"errors"
	"net"
	"sync"
	"time"

	"github.com/go-zeromq/zmq4"
)

// socket is a listening place and the peers that came.
type socket struct {
	kind     zmq4.SocketType
	listener net.Listener
	took     func(*peer, [][]byte) // what a peer sent
	logf     func(format string, args ...any)

	mu     sync.Mutex
	peers  map[*peer]bool
	closed bool
}

func newSocket(kind zmq4.SocketType, listener net.Listener, logf func(string, ...any)) *socket {
	return &socket{kind: kind, listener: listener, logf: logf, peers: map[*peer]bool{}}
}

// accept lets peers in until the socket is closed. Each handshake has its own
// goroutine, so that a connection that says nothing keeps nobody out.
func (s *socket) accept() {
	for pause := time.Duration(0); ; {
		conn, err := s.listener.Accept()
		switch {
		case err == nil:
			pause = 0
			go s.serve(conn)
		case errors.Is(err, net.ErrClosed):
			return
		default:
			// For instance too many open files: it passes, or not.
			pause = min(max(2*pause, 5*time.Millisecond), time.Second)
			s.logf("%s socket: %v", s.kind, err)
			time.Sleep(pause)
		}
	}
}

func (s *socket) serve(conn net.Conn) {
	p, err := greet(conn, s.kind)
	if err != nil {
		conn.Close()
		return
	}
	if !s.add(p) {
		p.close()
		return
	}
	go p.write()
	p.read(s.took)
	p.close()
	s.mu.Lock()
	delete(s.peers, p)
	s.mu.Unlock()
}

func (s *socket) add(p *peer) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.closed {
		return false
	}
	s.peers[p] = true
	return true
}

func (s *socket) all() []*peer {
	s.mu.Lock()
	defer s.mu.Unlock()
	list := make([]*peer, 0, len(s.peers))
	for p := range s.peers {
		list = append(list, p)
	}
	return list
}

// close stops listening at once, and parts from each peer when it has what is
// queued for it, or when the deadline comes.
func (s *socket) close(deadline time.Time) {
	s.mu.Lock()
	s.closed = true
	s.mu.Unlock()
	s.listener.Close()
	var parting sync.WaitGroup
	for _, p := range s.all() {
		parting.Go(func() { p.farewell(deadline) })
	}
	parting.Wait()
}
