package wire

import (
	"bytes"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"sync"
)

// delimiter stands between the routing frames and the signature.
const delimiter = "<IDS|MSG>"

// ErrSignature is the error of a message that was not signed with our key.
var ErrSignature = errors.New("the signature is wrong: the sender does not have this kernel's key")

// Codec turns messages into frames and back, signing and checking signatures
// with one key. The empty key means that nothing is signed or checked.
type Codec struct {
	key []byte

	mu          sync.Mutex
	seen, older map[string]bool // signatures that have come
}

// remembered is how many signatures are kept at least, to know one that comes
// again.
const remembered = 1 << 15

// isNew tells whether a signature comes for the first time. Every message has
// an id of its own, so that one that comes again was recorded and sent by
// somebody who need not have the key.
func (c *Codec) isNew(signature []byte) bool {
	if len(c.key) == 0 {
		return true
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	text := string(signature)
	if c.seen[text] || c.older[text] {
		return false
	}
	if c.seen == nil || len(c.seen) >= remembered {
		c.seen, c.older = map[string]bool{}, c.seen
	}
	c.seen[text] = true
	return true
}

// NewCodec is a codec with the key of a connection file.
func NewCodec(key string) *Codec { return &Codec{key: []byte(key)} }

// Encode gives the frames of m: identities, delimiter, signature, the four
// dictionaries, buffers.
func (c *Codec) Encode(m *Message) ([][]byte, error) {
	header, err := marshal(m.Header)
	if err != nil {
		return nil, fmt.Errorf("header of %s: %w", m.Header.MsgType, err)
	}
	metadata := m.Metadata
	if metadata == nil {
		metadata = map[string]any{}
	}
	metadataText, err := marshal(metadata)
	if err != nil {
		return nil, fmt.Errorf("metadata of %s: %w", m.Header.MsgType, err)
	}
	body := [][]byte{header, orEmpty(m.Parent), metadataText, orEmpty(m.Content)}
	frames := make([][]byte, 0, len(m.Identities)+2+len(body)+len(m.Buffers))
	frames = append(frames, m.Identities...)
	frames = append(frames, []byte(delimiter), c.sign(body))
	frames = append(frames, body...)
	return append(frames, m.Buffers...), nil
}

// Decode reads frames that came from a peer. The frames are kept, not copied.
func (c *Codec) Decode(frames [][]byte) (*Message, error) {
	at := -1
	for i, frame := range frames {
		if string(frame) == delimiter {
			at = i
			break
		}
	}
	if at < 0 {
		return nil, fmt.Errorf("a message of %d frames has no delimiter %s", len(frames), delimiter)
	}
	rest := frames[at+1:]
	if len(rest) < 5 {
		return nil, fmt.Errorf("a message has %d frames after the delimiter, fewer than the 5 it needs", len(rest))
	}
	signature, body := rest[0], rest[1:5]
	if len(c.key) > 0 && !hmac.Equal(signature, c.sign(body)) {
		return nil, ErrSignature
	}
	m := &Message{
		Identities:  frames[:at],
		HeaderBytes: json.RawMessage(body[0]),
		Parent:      json.RawMessage(body[1]),
		Content:     json.RawMessage(body[3]),
		Buffers:     rest[5:],
		signature:   signature,
	}
	return m, m.fill(body)
}

func (m *Message) fill(body [][]byte) error {
	for i, name := range []string{"header", "parent header", "metadata", "content"} {
		if !isObject(body[i]) {
			return fmt.Errorf("the %s of a message is not a JSON object", name)
		}
	}
	if err := json.Unmarshal(body[0], &m.Header); err != nil {
		return fmt.Errorf("the header of a message: %w", err)
	}
	if m.Header.MsgType == "" || m.Header.MsgID == "" {
		return fmt.Errorf("the header of a message lacks msg_type or msg_id")
	}
	if err := json.Unmarshal(body[2], &m.Metadata); err != nil {
		return fmt.Errorf("the metadata of a message: %w", err)
	}
	return nil
}

// sign gives the signature of the four dictionaries as the bytes that are
// sent, in hexadecimal; empty without a key.
func (c *Codec) sign(body [][]byte) []byte {
	if len(c.key) == 0 {
		return []byte{}
	}
	var mac hash.Hash = hmac.New(sha256.New, c.key)
	for _, part := range body {
		mac.Write(part)
	}
	return hex.AppendEncode(nil, mac.Sum(nil))
}

func isObject(text []byte) bool {
	return bytes.HasPrefix(bytes.TrimLeft(text, " \t\r\n"), []byte("{")) && json.Valid(text)
}

func orEmpty(text json.RawMessage) []byte {
	if len(text) == 0 {
		return []byte("{}")
	}
	return text
}
