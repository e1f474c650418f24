package wire

import (
	"maps"
	"net"
	"strings"
	"sync"
	"time"
	"unicode/utf8"

	"github.com/go-zeromq/zmq4"
)

const (
	publishBacklog = 16 << 20        // bytes a subscriber may lag behind before senders wait
	publishWait    = 5 * time.Second // how long they wait before the subscriber is dropped
)

// Publisher is the iopub socket: what is published goes to every subscriber.
//
// Nothing is ever left out for a subscriber that stays. One that lags far
// behind slows the sender down, and one that does not read at all is dropped,
// so that it neither stops the others nor fills the memory.
type Publisher struct {
	socket *socket
	codec  *Codec
	sender *Sender

	mu         sync.Mutex // also keeps the order of messages the same for all
	subscribed map[*peer]map[string]bool
}

func newPublisher(listener net.Listener, codec *Codec, sender *Sender, logf func(string, ...any)) *Publisher {
	p := &Publisher{
		socket:     newSocket(zmq4.XPub, listener, logf),
		codec:      codec,
		sender:     sender,
		subscribed: map[*peer]map[string]bool{},
	}
	p.socket.took = p.took
	go p.socket.accept()
	return p
}

// took follows the subscriptions of a peer: one frame, whose first byte says
// whether it begins or ends one. A beginning is answered with iopub_welcome
// (Jupyter enhancement proposal 65), by which a front end knows that it hears.
func (p *Publisher) took(who *peer, frames [][]byte) {
	if len(frames) != 1 || len(frames[0]) == 0 {
		return
	}
	topic := string(frames[0][1:])
	p.mu.Lock()
	defer p.mu.Unlock()
	p.forget()
	switch frames[0][0] {
	case 0:
		delete(p.subscribed[who], topic)
	case 1:
		if p.subscribed[who] == nil {
			p.subscribed[who] = map[string]bool{}
		}
		p.subscribed[who][topic] = true
		p.welcome(who, topic)
	}
}

func (p *Publisher) welcome(who *peer, topic string) {
	if !utf8.ValidString(topic) {
		return
	}
	m := p.sender.New("iopub_welcome", nil, map[string]string{"subscription": topic})
	frames, err := p.codec.Encode(m)
	if err != nil {
		p.socket.logf("iopub_welcome: %v", err)
		return
	}
	who.send(append([][]byte{[]byte(topic)}, frames...))
}

// forget drops the subscriptions of peers that have gone.
func (p *Publisher) forget() {
	maps.DeleteFunc(p.subscribed, func(who *peer, _ map[string]bool) bool {
		select {
		case <-who.gone:
			return true
		default:
			return false
		}
	})
}

// Publish queues a message for every subscriber of topic.
func (p *Publisher) Publish(topic string, m *Message) error {
	m.Identities = [][]byte{[]byte(topic)}
	frames, err := p.codec.Encode(m)
	if err != nil {
		return err
	}
	for _, who := range p.hand(topic, frames) {
		if !who.waitBelow(publishBacklog, time.Now().Add(publishWait)) {
			p.socket.logf("a subscriber does not read its messages: it is dropped")
			who.close()
		}
	}
	return nil
}

func (p *Publisher) hand(topic string, frames [][]byte) []*peer {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.forget()
	var took []*peer
	for who, topics := range p.subscribed {
		for prefix := range topics {
			if strings.HasPrefix(topic, prefix) {
				who.send(frames)
				took = append(took, who)
				break
			}
		}
	}
	return took
}

func (p *Publisher) close(deadline time.Time) { p.socket.close(deadline) }
