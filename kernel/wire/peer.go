package wire

import (
	"fmt"
	"net"
	"sync"
	"time"

	"github.com/go-zeromq/zmq4"
	"github.com/go-zeromq/zmq4/security/null"
)

const (
	handshakeTime = 10 * time.Second // a peer that has not introduced itself by then is dropped
	writeTime     = 20 * time.Second // a peer that takes nothing for so long is dropped
)

// outgoing is one entry of a peer's queue: a message, or the answer to a PING.
type outgoing struct {
	frames [][]byte
	pong   []byte
	isPong bool
}

func (o outgoing) size() int {
	n := len(o.pong)
	for _, frame := range o.frames {
		n += len(frame)
	}
	return n
}

// peer is one connection with its queue of outgoing messages. One goroutine
// writes and one reads, so that no peer waits for another.
type peer struct {
	conn     *zmq4.Conn
	raw      *framedConn
	identity string

	mu      sync.Mutex
	changed *sync.Cond // the queue, busy or closed changed
	queue   []outgoing
	backlog int // bytes in the queue
	busy    bool
	closed  bool
	gone    chan struct{} // closed when the reader ended
}

// greet performs the ZMTP handshake, within handshakeTime.
func greet(raw net.Conn, kind zmq4.SocketType) (p *peer, err error) {
	defer func() {
		// zmq4 trusts the lengths in a peer's metadata.
		if fault := recover(); fault != nil {
			p, err = nil, fmt.Errorf("a peer sends a malformed greeting: %v", fault)
		}
	}()
	framed := newFramedConn(raw)
	raw.SetDeadline(time.Now().Add(handshakeTime))
	conn, err := zmq4.Open(framed, null.Security(), kind, nil, true, nil)
	if err != nil {
		return nil, err
	}
	raw.SetDeadline(time.Time{})
	framed.collect = true
	p = &peer{conn: conn, raw: framed, identity: conn.Peer.Meta["Identity"], gone: make(chan struct{})}
	p.changed = sync.NewCond(&p.mu)
	framed.onCommand = p.command
	return p, nil
}

// command answers a PING with its context, as ZMTP 3.1 asks. Other commands
// have no meaning here.
func (p *peer) command(name string, body []byte) {
	const ttl = 2
	if name == zmq4.CmdPing && len(body) >= ttl {
		p.push(outgoing{pong: body[ttl:], isPong: true})
	}
}

func (p *peer) send(frames [][]byte) { p.push(outgoing{frames: frames}) }

func (p *peer) push(o outgoing) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.closed {
		return
	}
	p.queue = append(p.queue, o)
	p.backlog += o.size()
	p.changed.Broadcast()
}

// write sends what is queued until the peer is closed.
func (p *peer) write() {
	for {
		batch := p.take()
		if batch == nil {
			return
		}
		if err := p.writeBatch(batch); err != nil {
			p.close()
			return
		}
	}
}

// take waits for something to send. It gives nil when the peer is closed.
func (p *peer) take() []outgoing {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.busy = false
	p.changed.Broadcast()
	for len(p.queue) == 0 && !p.closed {
		p.changed.Wait()
	}
	if p.closed {
		return nil
	}
	batch := p.queue
	p.queue, p.busy = nil, true
	return batch
}

func (p *peer) writeBatch(batch []outgoing) error {
	for _, o := range batch {
		p.raw.SetWriteDeadline(time.Now().Add(writeTime))
		var err error
		if o.isPong {
			err = p.conn.SendCmd(zmq4.CmdPong, o.pong)
		} else {
			err = p.conn.SendMsg(zmq4.NewMsgFrom(o.frames...))
		}
		if err != nil {
			return err
		}
		p.mu.Lock()
		p.backlog -= o.size()
		p.changed.Broadcast()
		p.mu.Unlock()
	}
	return p.raw.flush()
}

// read hands every message of the peer to take, until the peer is gone.
func (p *peer) read(take func(*peer, [][]byte)) {
	defer close(p.gone)
	for {
		msg, err := p.conn.RecvMsg()
		if err != nil {
			return
		}
		take(p, msg.Frames)
	}
}

// waitBelow waits until fewer than limit bytes are queued, and says whether
// that came true by the deadline.
func (p *peer) waitBelow(limit int, deadline time.Time) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.backlog < limit || p.closed {
		return true
	}
	wake := time.AfterFunc(time.Until(deadline), func() {
		p.mu.Lock()
		p.changed.Broadcast()
		p.mu.Unlock()
	})
	defer wake.Stop()
	for p.backlog >= limit && !p.closed && time.Now().Before(deadline) {
		p.changed.Wait()
	}
	return p.backlog < limit || p.closed
}

// drain waits until everything queued is handed to the operating system.
func (p *peer) drain(deadline time.Time) {
	p.mu.Lock()
	defer p.mu.Unlock()
	wake := time.AfterFunc(time.Until(deadline), func() {
		p.mu.Lock()
		p.changed.Broadcast()
		p.mu.Unlock()
	})
	defer wake.Stop()
	for (len(p.queue) > 0 || p.busy) && !p.closed && time.Now().Before(deadline) {
		p.changed.Wait()
	}
}

// farewell ends the connection so that the peer still gets all that was sent:
// it closes our half, and the rest when the peer has seen that.
func (p *peer) farewell(deadline time.Time) {
	p.drain(deadline)
	if half, ok := p.raw.Conn.(interface{ CloseWrite() error }); ok && half.CloseWrite() == nil {
		select {
		case <-p.gone:
		case <-time.After(time.Until(deadline)):
		}
	}
	p.close()
}

func (p *peer) close() {
	p.mu.Lock()
	p.closed = true
	p.queue = nil
	p.changed.Broadcast()
	p.mu.Unlock()
	p.conn.Close()
}
