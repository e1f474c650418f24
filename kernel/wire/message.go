package wire

import (
	"bytes"
	"crypto/rand"
	"encoding/json"
	"fmt"
	"os/user"
	"sync"
	"time"
)

// ProtocolVersion is the version of the messaging protocol spoken here.
const ProtocolVersion = "5.5"

// Header names a message and its sender.
type Header struct {
	MsgID    string `json:"msg_id"`
	Session  string `json:"session"`
	Username string `json:"username"`
	Date     string `json:"date"`
	MsgType  string `json:"msg_type"`
	Version  string `json:"version"`
}

// Message is one Jupyter message, received or to be sent.
type Message struct {
	// Route leads back to the peer that sent the message. The zero Route is
	// that of messages made here.
	Route Route
	// Identities are frames before the delimiter that the peer wants back.
	Identities [][]byte

	Header Header
	// HeaderBytes is the header as received, which the answers carry as their
	// parent header, so that fields unknown here come back too.
	HeaderBytes json.RawMessage
	// Parent is the parent header: an object, {} when there is no parent.
	Parent   json.RawMessage
	Metadata map[string]any
	Content  json.RawMessage
	Buffers  [][]byte

	signature []byte // as it came
}

// Sender makes new messages in the name of one kernel process.
type Sender struct {
	session  string
	username string
}

// NewSender is a sender with a session name nobody else has.
func NewSender() *Sender {
	return &Sender{session: NewID(), username: username()}
}

// Session is the name under which the sender's messages go out.
func (s *Sender) Session() string { return s.session }

// New makes a message with its own id. parent is the message it answers or
// belongs to, nil for none. It panics if content cannot be written as JSON,
// which is a fault of the kernel, never of its input.
func (s *Sender) New(msgType string, parent *Message, content any) *Message {
	m := &Message{
		Header: Header{
			MsgID:    NewID(),
			Session:  s.session,
			Username: s.username,
			Date:     FormatDate(time.Now()),
			MsgType:  msgType,
			Version:  ProtocolVersion,
		},
		Parent:   json.RawMessage("{}"),
		Metadata: map[string]any{},
		Content:  mustJSON(content),
	}
	if parent != nil {
		m.Route = parent.Route
		m.Identities = parent.Identities
		m.Parent = parent.HeaderBytes
	}
	return m
}

// FormatDate writes a time as the protocol's readers expect it: in UTC, with
// microseconds. With Go's nine digits they take it for a mere string.
func FormatDate(t time.Time) string {
	return t.UTC().Format("2006-01-02T15:04:05.000000Z")
}

// NewID is a random name in the form of a version 4 UUID.
func NewID() string {
	var b [16]byte
	rand.Read(b[:])
	b[6] = b[6]&0x0f | 0x40
	b[8] = b[8]&0x3f | 0x80
	return fmt.Sprintf("%x-%x-%x-%x-%x", b[:4], b[4:6], b[6:8], b[8:10], b[10:])
}

var username = sync.OnceValue(func() string {
	if u, err := user.Current(); err == nil && u.Username != "" {
		return u.Username
	}
	return "kernel"
})

func mustJSON(value any) json.RawMessage {
	text, err := marshal(value)
	if err != nil {
		panic(fmt.Sprintf("wire: %T cannot be written as JSON: %v", value, err))
	}
	return text
}

// marshal writes JSON without Go's habit of escaping < and >, which would
// triple the size of HTML and SVG.
func marshal(value any) ([]byte, error) {
	var out bytes.Buffer
	encoder := json.NewEncoder(&out)
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(value); err != nil {
		return nil, err
	}
	return bytes.TrimSuffix(out.Bytes(), []byte("\n")), nil
}
