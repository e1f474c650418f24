package wire

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"time"

	"github.com/go-zeromq/zmq4"
)

// Client is the side of a front end, as far as it takes to try a kernel: it
// sends requests by shell and control, and hears what comes back and is
// broadcast.
type Client struct {
	shell, control, iopub zmq4.Socket
	codec                 *Codec
	sender                *Sender
	received              chan *Message
	stop                  context.CancelFunc
}

// Dial opens the sockets of a connection, trying again until ctx ends while
// the kernel does not listen yet.
func Dial(ctx context.Context, c Connection) (*Client, error) {
	if c.Transport != "tcp" {
		return nil, errors.New("only kernels that listen at TCP ports can be dialled")
	}
	living, stop := context.WithCancel(context.Background())
	client := &Client{
		shell: zmq4.NewDealer(living), control: zmq4.NewDealer(living), iopub: zmq4.NewSub(living),
		codec: NewCodec(c.Key), sender: NewSender(), received: make(chan *Message, 256), stop: stop,
	}
	for _, part := range []struct {
		socket zmq4.Socket
		port   int
	}{{client.iopub, c.IOPubPort}, {client.shell, c.ShellPort}, {client.control, c.ControlPort}} {
		if err := dialPatiently(ctx, part.socket, c.IP, part.port); err != nil {
			client.Close()
			return nil, err
		}
	}
	if err := client.iopub.SetOption(zmq4.OptionSubscribe, ""); err != nil {
		client.Close()
		return nil, err
	}
	for _, socket := range []zmq4.Socket{client.shell, client.control, client.iopub} {
		go client.listen(living, socket)
	}
	return client, nil
}

// dialPatiently finds out with a bare connection whether somebody listens:
// zmq4's own retries cannot be cut short.
func dialPatiently(ctx context.Context, socket zmq4.Socket, ip string, port int) error {
	address := net.JoinHostPort(ip, fmt.Sprint(port))
	for {
		conn, err := net.Dial("tcp", address)
		if err == nil {
			conn.Close()
			return socket.Dial("tcp://" + address)
		}
		select {
		case <-ctx.Done():
			return fmt.Errorf("nobody listens at %s: %w", address, ctx.Err())
		case <-time.After(5 * time.Millisecond):
		}
	}
}

func (c *Client) listen(ctx context.Context, socket zmq4.Socket) {
	for {
		msg, err := socket.Recv()
		if err != nil {
			return
		}
		m, err := c.codec.Decode(msg.Frames)
		if err != nil {
			continue
		}
		select {
		case c.received <- m:
		case <-ctx.Done():
			return
		}
	}
}

// Request sends a request by shell, or by control, and gives its id.
func (c *Client) Request(msgType string, content any, byControl bool) (id string, err error) {
	m := c.sender.New(msgType, nil, content)
	frames, err := c.codec.Encode(m)
	if err != nil {
		return "", err
	}
	socket := c.shell
	if byControl {
		socket = c.control
	}
	return m.Header.MsgID, socket.Send(zmq4.NewMsgFrom(frames...))
}

// Received gives all that comes, replies and broadcasts.
func (c *Client) Received() <-chan *Message { return c.received }

// ParentID is the id of the request that a message belongs to; empty for none.
func (m *Message) ParentID() string {
	var parent Header
	if json.Unmarshal(m.Parent, &parent) != nil {
		return ""
	}
	return parent.MsgID
}

// Close parts from the kernel.
func (c *Client) Close() {
	c.stop()
	for _, socket := range []zmq4.Socket{c.shell, c.control, c.iopub} {
		socket.Close()
	}
}

// FreeConnection is a connection on this machine at ports that are free now,
// with a key nobody else has.
func FreeConnection() (Connection, error) {
	c := Connection{Transport: "tcp", IP: "127.0.0.1", SignatureScheme: "hmac-sha256", Key: NewID()}
	for _, port := range []*int{&c.ShellPort, &c.ControlPort, &c.StdinPort, &c.IOPubPort, &c.HeartbeatPort} {
		listener, err := net.Listen("tcp", "127.0.0.1:0")
		if err != nil {
			return c, fmt.Errorf("no port is free: %w", err)
		}
		defer listener.Close() // all are held until all are known, so that they differ
		*port = listener.Addr().(*net.TCPAddr).Port
	}
	return c, nil
}
