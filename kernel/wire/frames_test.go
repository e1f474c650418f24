package wire

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"net"
	"strings"
	"testing"
	"time"
)

// rawGreeting is a ZMTP 3.0 greeting with the NULL mechanism, as RFC 23 has it.
func rawGreeting() []byte {
	greeting := make([]byte, greetingSize)
	greeting[0], greeting[9] = 0xff, 0x7f
	greeting[10] = 3
	copy(greeting[12:], "NULL")
	return greeting
}

// rawReady is the READY command of RFC 23 with the type of a socket.
func rawReady(kind string) []byte {
	var body bytes.Buffer
	body.WriteString("\x05READY\x0bSocket-Type")
	binary.Write(&body, binary.BigEndian, uint32(len(kind)))
	body.WriteString(kind)
	return append([]byte{frameCommand, byte(body.Len())}, body.Bytes()...)
}

func rawDial(t *testing.T, port int) net.Conn {
	t.Helper()
	conn, err := net.Dial("tcp", fmt.Sprintf("127.0.0.1:%d", port))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { conn.Close() })
	conn.SetDeadline(time.Now().Add(10 * time.Second))
	return conn
}

// readUntil reads what the kernel sends until text comes or the end.
func readUntil(conn net.Conn, text string) (all string, found bool) {
	buffer := make([]byte, 4096)
	for !strings.Contains(all, text) {
		n, err := conn.Read(buffer)
		all += string(buffer[:n])
		if err != nil {
			return all, strings.Contains(all, text)
		}
	}
	return all, true
}

func TestPingIsAnsweredAndIsNoMessage(t *testing.T) {
	s, c := bind(t, "")
	conn := rawDial(t, c.ShellPort)
	conn.Write(rawGreeting())
	conn.Write(rawReady("DEALER"))
	conn.Write([]byte("\x04\x0a\x04PING\x00\x0aabc"))
	if all, found := readUntil(conn, "\x04PONGabc"); !found {
		t.Fatalf("no PONG with the context of the PING, but %q", all)
	}
	select {
	case m := <-s.Shell.Messages():
		t.Fatalf("the PING came out as message %+v", m)
	default:
	}
}

func TestBadPeersAreDropped(t *testing.T) {
	huge := binary.BigEndian.AppendUint64([]byte{frameLong}, 1<<62)
	large := binary.BigEndian.AppendUint64([]byte{frameLong}, maxFrame+1)
	malformed := []byte("\x04\x08\x05READY\xff\xff")
	for name, sent := range map[string][]byte{
		"no ZMTP at all":               []byte(strings.Repeat("GET / HTTP/1.1\r\n", 8)),
		"frame of an impossible size":  bytes.Join([][]byte{rawGreeting(), rawReady("DEALER"), huge}, nil),
		"frame beyond the limit":       bytes.Join([][]byte{rawGreeting(), rawReady("DEALER"), large}, nil),
		"command beyond the limit":     append(rawGreeting(), binary.BigEndian.AppendUint64([]byte{frameCommand | frameLong}, 1<<40)...),
		"malformed metadata":           append(rawGreeting(), malformed...),
		"a socket that does not match": append(rawGreeting(), rawReady("SUB")...),
	} {
		t.Run(name, func(t *testing.T) {
			_, c := bind(t, "")
			conn := rawDial(t, c.ShellPort)
			conn.Write(sent)
			if all, found := readUntil(conn, "this never comes"); found || len(all) > 4096 {
				t.Errorf("got %q", all)
			}
		})
	}
}

// FuzzDecode holds Decode to this: it never panics, and what it accepts can be
// sent again and is then the same.
func FuzzDecode(f *testing.F) {
	join := func(frames [][]byte) []byte { return bytes.Join(frames, []byte("\x00\x00")) }
	f.Add(join(request(NewCodec(""), "execute_request", map[string]string{"code": "1+1"})))
	f.Add([]byte("a\x00\x00<IDS|MSG>\x00\x00\x00\x00{\"msg_id\":\"1\",\"msg_type\":\"x\"}\x00\x00{}\x00\x00{}\x00\x00{}"))
	f.Add([]byte("<IDS|MSG>"))
	f.Fuzz(func(t *testing.T, data []byte) {
		codec := NewCodec("")
		m, err := codec.Decode(bytes.Split(data, []byte("\x00\x00")))
		if err != nil {
			return
		}
		frames, err := codec.Encode(m)
		if err != nil {
			t.Fatalf("accepted, but cannot be sent: %v", err)
		}
		again, err := codec.Decode(frames)
		if err != nil {
			t.Fatalf("accepted, sent, but not accepted again: %v", err)
		}
		if again.Header != m.Header || !bytes.Equal(again.Content, m.Content) {
			t.Fatalf("%+v became %+v", m, again)
		}
	})
}

// FuzzPeer sends any bytes as a peer would, after a good handshake, in pieces
// of any size: the connection must end or stay, but never panic, and never
// allocate what is merely announced.
func FuzzPeer(f *testing.F) {
	f.Add([]byte("\x00\x05hello"), 3)
	f.Add([]byte("\x04\x05\x04PING"), 1)
	f.Add([]byte("\x02\x7f\xff\xff\xff\xff\xff\xff\xff"), 64)
	f.Add([]byte("\x01\x01a\x00\x00"), 2)
	f.Fuzz(func(t *testing.T, data []byte, piece int) {
		here, there := net.Pipe()
		defer there.Close()
		go func() {
			buffer := make([]byte, 4096)
			for {
				if _, err := there.Read(buffer); err != nil {
					return
				}
			}
		}()
		go func() {
			there.Write(rawGreeting())
			there.Write(rawReady("DEALER"))
			step := max(piece%64, 1)
			for part := range chunks(data, step) {
				if _, err := there.Write(part); err != nil {
					return
				}
			}
			there.Close()
		}()
		p, err := greet(here, "ROUTER")
		if err != nil {
			t.Fatal(err)
		}
		go p.write()
		p.read(func(_ *peer, frames [][]byte) {
			for _, frame := range frames {
				if len(frame) > len(data) {
					t.Errorf("a frame of %d bytes out of %d", len(frame), len(data))
				}
			}
		})
		p.close()
	})
}

func chunks(data []byte, size int) func(func([]byte) bool) {
	return func(yield func([]byte) bool) {
		for len(data) > 0 {
			n := min(size, len(data))
			if !yield(data[:n]) {
				return
			}
			data = data[n:]
		}
	}
}
