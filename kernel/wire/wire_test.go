package wire

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/go-zeromq/zmq4"
)

func TestReadConnection(t *testing.T) {
	tests := []struct{ name, text, wrong string }{
		{"as Jupyter writes it", `{"shell_port": 50001, "iopub_port": 50002, "stdin_port": 50003, "control_port": 50004,
			"hb_port": 50005, "ip": "127.0.0.1", "key": "a-b", "transport": "tcp", "signature_scheme": "hmac-sha256",
			"kernel_name": "", "jupyter_session": "x.ipynb"}`, ""},
		{"no JSON", `{`, "unexpected end"},
		{"other transport", `{"ip": "127.0.0.1", "transport": "pgm"}`, `transport "pgm" is not known`},
		{"other signature", `{"ip": "127.0.0.1", "key": "k", "signature_scheme": "hmac-md5"}`, "use hmac-sha256"},
		{"no address", `{"transport": "tcp"}`, "ip is missing"},
		{"impossible port", `{"ip": "127.0.0.1", "hb_port": 70000}`, "hb_port 70000"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "kernel.json")
			if err := os.WriteFile(path, []byte(test.text), 0o600); err != nil {
				t.Fatal(err)
			}
			c, err := ReadConnection(path)
			if test.wrong == "" {
				if err != nil || c.ShellPort != 50001 || c.HeartbeatPort != 50005 || c.Key != "a-b" {
					t.Errorf("got %+v, %v", c, err)
				}
				return
			}
			if err == nil || !strings.Contains(err.Error(), test.wrong) || !strings.Contains(err.Error(), path) {
				t.Errorf("error %v does not name the file and say %q", err, test.wrong)
			}
		})
	}
}

// The date must be what jupyter_client's jsonutil.py takes for a date.
func TestFormatDate(t *testing.T) {
	accepted := regexp.MustCompile(`^(\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2})(\.\d{1,6})?(Z|([\+\-]\d{2}:?\d{2}))?$`)
	text := FormatDate(time.Date(2026, 3, 4, 5, 6, 7, 80_000, time.FixedZone("east", 3600)))
	if want := "2026-03-04T04:06:07.000080Z"; text != want || !accepted.MatchString(text) {
		t.Errorf("got %s, want %s", text, want)
	}
}

// The signature is that of Python: hmac.new(b"key", b'{"a":1}{}{}{"b":"µ"}', sha256).
func TestSignature(t *testing.T) {
	const python = "9e52e6c98b1496b2192f9c9e5a47995795c026898d7f3c2e52c7d42e8097c928"
	codec := NewCodec("key")
	body := [][]byte{[]byte(`{"a":1}`), []byte(`{}`), []byte(`{}`), []byte(`{"b":"µ"}`)}
	if got := string(codec.sign(body)); got != python {
		t.Errorf("got %s, want %s", got, python)
	}
}

func TestSignatureThatComesAgain(t *testing.T) {
	codec := NewCodec("key")
	if !codec.isNew([]byte("first")) || codec.isNew([]byte("first")) {
		t.Error("the same signature is new twice, or never")
	}
	for i := range 3 * remembered {
		if !codec.isNew(fmt.Append(nil, i)) {
			t.Fatalf("signature %d is taken for an earlier one", i)
		}
		if i == remembered/2 && codec.isNew([]byte("first")) {
			t.Error("a signature is forgotten too soon")
		}
	}
	if kept := len(codec.seen) + len(codec.older); kept > 2*remembered {
		t.Errorf("%d signatures are kept", kept)
	}
	if open := NewCodec(""); !open.isNew(nil) || !open.isNew(nil) {
		t.Error("without a key nothing is signed, and nothing comes again")
	}
}

func request(codec *Codec, msgType string, content any) [][]byte {
	frames, err := codec.Encode(NewSender().New(msgType, nil, content))
	if err != nil {
		panic(err)
	}
	return frames
}

func TestDecode(t *testing.T) {
	codec := NewCodec("key")
	good := request(codec, "kernel_info_request", map[string]any{})
	change := func(at int, text string) [][]byte {
		frames := bytes.Split(bytes.Join(good, []byte{0}), []byte{0})
		frames[at] = []byte(text)
		return frames
	}
	m, err := codec.Decode(append([][]byte{[]byte("who")}, append(good, []byte("buffer"))...))
	if err != nil || m.Header.MsgType != "kernel_info_request" || string(m.Identities[0]) != "who" || string(m.Buffers[0]) != "buffer" {
		t.Fatalf("got %+v, %v", m, err)
	}
	if _, err := codec.Decode(change(1, "00")); !errors.Is(err, ErrSignature) {
		t.Errorf("a wrong signature: %v", err)
	}
	if _, err := codec.Decode(change(5, `{"code":"other"}`)); !errors.Is(err, ErrSignature) {
		t.Errorf("changed content: %v", err)
	}
	open := NewCodec("")
	for name, frames := range map[string][][]byte{
		"no delimiter":    good[1:],
		"frames missing":  good[:5],
		"header a list":   change(2, `[]`),
		"header no JSON":  change(2, `{"msg_id"`),
		"header nameless": change(2, `{"msg_id":"1"}`),
		"header mistyped": change(2, `{"msg_id":1,"msg_type":"x"}`),
		"content a text":  change(5, `"x"`),
		"metadata null":   change(4, `null`),
		"nothing at all":  {},
	} {
		if _, err := open.Decode(frames); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := open.Decode(change(1, "")); err != nil {
		t.Errorf("without a key an unsigned message must be accepted: %v", err)
	}
}

func TestAnswerCarriesTheHeaderAsItCame(t *testing.T) {
	codec := NewCodec("")
	frames := request(codec, "x_request", struct{}{})
	frames[2] = []byte(`{"msg_id":"1", "msg_type":"x_request", "subshell_id":null}`)
	m, err := codec.Decode(frames)
	if err != nil {
		t.Fatal(err)
	}
	answer, err := codec.Encode(NewSender().New("x_reply", m, struct{ A string }{"<µ>"}))
	if err != nil {
		t.Fatal(err)
	}
	if string(answer[3]) != string(frames[2]) {
		t.Errorf("parent header is %s", answer[3])
	}
	if string(answer[5]) != `{"A":"<µ>"}` {
		t.Errorf("content is %s", answer[5])
	}
	if string(answer[1]) != "" {
		t.Errorf("signature without a key is %q", answer[1])
	}
}

// bind opens sockets on free ports.
func bind(t *testing.T, key string) (*Sockets, Connection) {
	t.Helper()
	c := Connection{IP: "127.0.0.1", Transport: "tcp", Key: key}
	s, err := Bind(c, NewSender(), t.Logf)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close(time.Second) })
	return s, s.Connection(c)
}

func dial(t *testing.T, make func(context.Context, ...zmq4.Option) zmq4.Socket, port int, opts ...zmq4.Option) zmq4.Socket {
	t.Helper()
	socket := make(t.Context(), opts...)
	if err := socket.Dial(fmt.Sprintf("tcp://127.0.0.1:%d", port)); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { socket.Close() })
	return socket
}

func subscribe(t *testing.T, port int) zmq4.Socket {
	t.Helper()
	sub := dial(t, zmq4.NewSub, port)
	if err := sub.SetOption(zmq4.OptionSubscribe, ""); err != nil {
		t.Fatal(err)
	}
	return sub
}

// receive waits for one message, and fails the test when none comes.
func receive(t *testing.T, socket zmq4.Socket) [][]byte {
	t.Helper()
	type result struct {
		msg zmq4.Msg
		err error
	}
	got := make(chan result, 1)
	go func() {
		msg, err := socket.Recv()
		got <- result{msg, err}
	}()
	select {
	case r := <-got:
		if r.err != nil {
			t.Fatal(r.err)
		}
		return r.msg.Frames
	case <-time.After(10 * time.Second):
		t.Fatal("nothing came within 10 s")
		return nil
	}
}

func take(t *testing.T, r *Router) *Message {
	t.Helper()
	select {
	case m := <-r.Messages():
		return m
	case <-time.After(10 * time.Second):
		t.Fatal("no message came within 10 s")
		return nil
	}
}

func TestRequestAndReply(t *testing.T) {
	s, c := bind(t, "key")
	codec := NewCodec("key")
	// Both choose the same identity: each must get its own reply.
	first := dial(t, zmq4.NewDealer, c.ShellPort, zmq4.WithID(zmq4.SocketIdentity("same")))
	second := dial(t, zmq4.NewDealer, c.ShellPort, zmq4.WithID(zmq4.SocketIdentity("same")))
	for i, client := range []zmq4.Socket{first, second} {
		sent := request(codec, "x_request", map[string]int{"client": i})
		if err := client.Send(zmq4.NewMsgFrom(sent...)); err != nil {
			t.Fatal(err)
		}
		m := take(t, s.Shell)
		if err := s.Shell.Send(NewSender().New("x_reply", m, m.Content)); err != nil {
			t.Fatal(err)
		}
		answer, err := codec.Decode(receive(t, client))
		if err != nil {
			t.Fatal(err)
		}
		if string(answer.Content) != fmt.Sprintf(`{"client":%d}`, i) || string(answer.Parent) != string(sent[2]) {
			t.Errorf("client %d got %s for %s", i, answer.Content, answer.Parent)
		}
	}
}

// A front end gives its shell and its stdin socket one identity.
func TestRouteLike(t *testing.T) {
	s, c := bind(t, "")
	name := zmq4.WithID(zmq4.SocketIdentity("front end"))
	shell := dial(t, zmq4.NewDealer, c.ShellPort, name)
	stdin := dial(t, zmq4.NewDealer, c.StdinPort, name)
	other := dial(t, zmq4.NewDealer, c.ShellPort, zmq4.WithID(zmq4.SocketIdentity("other")))
	ask := func(client zmq4.Socket) Route {
		if err := client.Send(zmq4.NewMsgFrom(request(NewCodec(""), "x_request", struct{}{})...)); err != nil {
			t.Fatal(err)
		}
		return take(t, s.Shell).Route
	}
	shellRoute, otherRoute := ask(shell), ask(other)
	waitFor(t, func() bool { _, ok := s.Stdin.RouteLike(shellRoute); return ok })
	route, _ := s.Stdin.RouteLike(shellRoute)
	question := NewSender().New("input_request", nil, struct{}{})
	question.Route = route
	if err := s.Stdin.Send(question); err != nil {
		t.Fatal(err)
	}
	receive(t, stdin)
	for _, stranger := range []Route{otherRoute, {}} {
		if _, ok := s.Stdin.RouteLike(stranger); ok {
			t.Error("a front end without stdin got the way to that of another")
		}
	}
}

func TestHeartbeat(t *testing.T) {
	_, c := bind(t, "")
	client := dial(t, zmq4.NewReq, c.HeartbeatPort)
	if err := client.Send(zmq4.NewMsgString("ping")); err != nil {
		t.Fatal(err)
	}
	if got := receive(t, client); string(got[0]) != "ping" {
		t.Errorf("got %q", got)
	}
}

func TestSilentConnectionKeepsNobodyOut(t *testing.T) {
	s, c := bind(t, "")
	for _, port := range []int{c.ShellPort, c.IOPubPort} {
		silent, err := net.Dial("tcp", fmt.Sprintf("127.0.0.1:%d", port))
		if err != nil {
			t.Fatal(err)
		}
		defer silent.Close()
	}
	sub := subscribe(t, c.IOPubPort)
	receive(t, sub)
	client := dial(t, zmq4.NewDealer, c.ShellPort)
	if err := client.Send(zmq4.NewMsgFrom(request(NewCodec(""), "x_request", struct{}{})...)); err != nil {
		t.Fatal(err)
	}
	take(t, s.Shell)
}

func TestWelcome(t *testing.T) {
	s, c := bind(t, "key")
	for range 2 { // the second subscriber to the same topic must be welcomed too
		frames := receive(t, subscribe(t, c.IOPubPort))
		m, err := NewCodec("key").Decode(frames)
		if err != nil {
			t.Fatal(err)
		}
		if m.Header.MsgType != "iopub_welcome" || string(m.Content) != `{"subscription":""}` || string(m.Parent) != "{}" || string(frames[0]) != "" {
			t.Errorf("got %s %s of parent %s, topic %q", m.Header.MsgType, m.Content, m.Parent, frames[0])
		}
	}
	_ = s
}

func TestCloseLosesNothing(t *testing.T) {
	s, c := bind(t, "")
	sub := subscribe(t, c.IOPubPort)
	receive(t, sub)
	const count = 2000
	for i := range count {
		if err := s.IOPub.Publish("stream", NewSender().New("stream", nil, map[string]int{"i": i})); err != nil {
			t.Fatal(err)
		}
	}
	closed := make(chan bool)
	go func() { s.Close(10 * time.Second); close(closed) }()
	for i := range count {
		m, err := NewCodec("").Decode(receive(t, sub))
		if err != nil {
			t.Fatal(err)
		}
		if want := fmt.Sprintf(`{"i":%d}`, i); string(m.Content) != want {
			t.Fatalf("got %s, want %s", m.Content, want)
		}
	}
	sub.Close()
	<-closed
}

func TestStalledSubscriberStopsNobody(t *testing.T) {
	s, c := bind(t, "")
	stalled, err := net.Dial("tcp", fmt.Sprintf("127.0.0.1:%d", c.IOPubPort))
	if err != nil {
		t.Fatal(err)
	}
	defer stalled.Close()
	stalled.Write(rawGreeting())
	stalled.Write(rawReady("SUB"))
	stalled.Write([]byte{0, 1, 1})
	healthy := subscribe(t, c.IOPubPort)
	receive(t, healthy)
	waitFor(t, func() bool {
		s.IOPub.mu.Lock()
		defer s.IOPub.mu.Unlock()
		return len(s.IOPub.subscribed) == 2
	})
	text := strings.Repeat("x", 1<<20)
	done := make(chan error, 1)
	const count = 30 // megabytes: more than the backlog and the system's buffers
	go func() {
		for range count {
			if err := s.IOPub.Publish("stream", NewSender().New("stream", nil, map[string]string{"text": text})); err != nil {
				done <- err
				return
			}
		}
		done <- nil
	}()
	for range count {
		receive(t, healthy)
	}
	if err := <-done; err != nil {
		t.Fatal(err)
	}
}

func TestPortsCanBeTakenAgainAtOnce(t *testing.T) {
	first, c := bind(t, "")
	client := dial(t, zmq4.NewDealer, c.ShellPort)
	if err := client.Send(zmq4.NewMsgFrom(request(NewCodec(""), "x_request", struct{}{})...)); err != nil {
		t.Fatal(err)
	}
	take(t, first.Shell)
	first.Close(time.Second)
	second, err := Bind(c, NewSender(), t.Logf)
	if err != nil {
		t.Fatal(err)
	}
	second.Close(time.Second)
}

func TestUnixSockets(t *testing.T) {
	c := Connection{Transport: "ipc", IP: filepath.Join(t.TempDir(), "kernel"), ShellPort: 1, ControlPort: 2, StdinPort: 3, IOPubPort: 4, HeartbeatPort: 5}
	// What a killed kernel leaves must not be in the way.
	if err := os.WriteFile(c.IP+"-1", nil, 0o600); err != nil {
		t.Fatal(err)
	}
	s, err := Bind(c, NewSender(), t.Logf)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close(time.Second)
	client := zmq4.NewDealer(t.Context())
	defer client.Close()
	if err := client.Dial("ipc://" + c.IP + "-1"); err != nil {
		t.Fatal(err)
	}
	if err := client.Send(zmq4.NewMsgFrom(request(NewCodec(""), "x_request", struct{}{})...)); err != nil {
		t.Fatal(err)
	}
	take(t, s.Shell)
}

func TestBindSaysWhatIsTaken(t *testing.T) {
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer taken.Close()
	port := taken.Addr().(*net.TCPAddr).Port
	c := Connection{Transport: "tcp", IP: "127.0.0.1", ShellPort: port}
	if _, err := listenPatiently(c, port, time.Now()); err == nil || !strings.Contains(err.Error(), "in use") {
		t.Errorf("got %v", err)
	}
}

func waitFor(t *testing.T, condition func() bool) {
	t.Helper()
	for end := time.Now().Add(10 * time.Second); !condition(); time.Sleep(time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("what was waited for did not happen within 10 s")
		}
	}
}

func BenchmarkEncode(b *testing.B) {
	codec, sender := NewCodec("key"), NewSender()
	parent := &Message{HeaderBytes: json.RawMessage(`{"msg_id":"1"}`)}
	for b.Loop() {
		if _, err := codec.Encode(sender.New("stream", parent, map[string]string{"name": "stdout", "text": "hello, world\n"})); err != nil {
			b.Fatal(err)
		}
	}
}
