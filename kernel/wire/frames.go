package wire

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"
	"net"
)

// Limits of what a peer may send before it is trusted. The first message of a
// peer could otherwise claim any size and have it allocated.
const (
	greetingSize = 64      // of ZMTP 3, fixed
	maxCommand   = 1 << 16 // bytes of a ZMTP command
	maxFrame     = 1 << 28 // bytes of a frame: a quarter of a gigabyte
)

// Bits of the first byte of a ZMTP frame (ZMTP 3.0, RFC 23).
const (
	frameMore    = 1
	frameLong    = 2
	frameCommand = 4
)

// framedConn stands between a TCP connection and zmq4. On the way in it
// follows the frames: it refuses sizes beyond the limits, and keeps commands
// such as PING to itself once the handshake is over, as zmq4 would hand them
// on as messages. On the way out it collects a whole message into one write.
type framedConn struct {
	net.Conn
	in        *bufio.Reader
	out       *bufio.Writer
	collect   bool // writes wait for flush
	onCommand func(name string, body []byte)

	greeting int    // bytes of the greeting still to pass
	header   []byte // bytes of a frame header still to pass
	body     int64  // bytes of a frame body still to pass
	ready    bool   // the peer's READY command has passed
}

func newFramedConn(conn net.Conn) *framedConn {
	return &framedConn{
		Conn:     conn,
		in:       bufio.NewReaderSize(conn, 16<<10),
		out:      bufio.NewWriterSize(conn, 64<<10),
		greeting: greetingSize,
	}
}

// Read implements net.Conn for zmq4.
func (c *framedConn) Read(p []byte) (int, error) {
	if len(p) == 0 {
		return 0, nil
	}
	if c.greeting > 0 {
		n, err := c.in.Read(p[:min(len(p), c.greeting)])
		c.greeting -= n
		return n, err
	}
	for len(c.header) == 0 && c.body == 0 {
		if err := c.nextFrame(); err != nil {
			return 0, err
		}
	}
	if len(c.header) > 0 {
		n := copy(p, c.header)
		c.header = c.header[n:]
		return n, nil
	}
	n, err := c.in.Read(p[:min(int64(len(p)), c.body)])
	c.body -= int64(n)
	return n, err
}

// nextFrame reads the header of the next frame that zmq4 is to see.
func (c *framedConn) nextFrame() error {
	header, size, err := c.readHeader()
	if err != nil {
		return err
	}
	isCommand := header[0]&frameCommand != 0
	limit := uint64(maxFrame)
	if isCommand || !c.ready {
		limit = maxCommand
	}
	if size > limit {
		return fmt.Errorf("a peer announces a frame of %d bytes, more than the %d allowed", size, limit)
	}
	if isCommand && c.ready {
		return c.takeCommand(size)
	}
	c.ready = c.ready || isCommand
	c.header, c.body = header, int64(size)
	return nil
}

func (c *framedConn) readHeader() (header []byte, size uint64, err error) {
	header = make([]byte, 2, 9)
	if _, err := io.ReadFull(c.in, header); err != nil {
		return nil, 0, err
	}
	if header[0]&frameLong == 0 {
		return header, uint64(header[1]), nil
	}
	header = header[:9]
	if _, err := io.ReadFull(c.in, header[2:]); err != nil {
		return nil, 0, err
	}
	return header, binary.BigEndian.Uint64(header[1:]), nil
}

func (c *framedConn) takeCommand(size uint64) error {
	body := make([]byte, size)
	if _, err := io.ReadFull(c.in, body); err != nil {
		return err
	}
	if len(body) == 0 || len(body) < 1+int(body[0]) {
		return fmt.Errorf("a peer sends a command without a name")
	}
	if c.onCommand != nil {
		c.onCommand(string(body[1:1+body[0]]), body[1+body[0]:])
	}
	return nil
}

// Write implements net.Conn for zmq4.
func (c *framedConn) Write(p []byte) (int, error) {
	if !c.collect {
		return c.Conn.Write(p)
	}
	return c.out.Write(p)
}

func (c *framedConn) flush() error { return c.out.Flush() }
