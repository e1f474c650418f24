package output

import (
	"bytes"
	"log"
	"os"
	"sync"
	"unicode/utf8"
)

// Capture holds the process's output. There is one set of pipes; what comes through them belongs to
// the cell that runs or ran last.
type Capture struct{ streams []*stream }

// Receiver takes text; name is "stdout" or "stderr".
type Receiver func(name, text string)

var shared struct {
	sync.Mutex
	holders        int
	streams        []*stream
	stdout, stderr *os.File // as they were
	current        *Cell    // whose output comes through the pipes
}

// Start takes over os.Stdout and os.Stderr, and Go's standard logger, until as many Close calls.
func Start() *Capture {
	shared.Lock()
	defer shared.Unlock()
	shared.holders++
	if shared.holders == 1 {
		shared.stdout, shared.stderr = os.Stdout, os.Stderr
		shared.streams = []*stream{newStream("stdout"), newStream("stderr")}
		if shared.streams[0] != nil && shared.streams[1] != nil {
			os.Stdout, os.Stderr = shared.streams[0].writer, shared.streams[1].writer
			log.SetOutput(os.Stderr)
		}
	}
	return &Capture{shared.streams}
}

// Close gives the output back when nobody holds it any more.
func (c *Capture) Close() {
	c.Drain()
	shared.Lock()
	defer shared.Unlock()
	shared.holders--
	if shared.holders > 0 {
		return
	}
	os.Stdout, os.Stderr = shared.stdout, shared.stderr
	log.SetOutput(os.Stderr)
	for _, s := range shared.streams {
		if s != nil {
			s.writer.Close()
		}
	}
	shared.current = nil
}

// Drain waits until what has been printed so far has reached the receiver.
func (c *Capture) Drain() {
	for _, s := range c.streams {
		if s != nil {
			s.drain()
		}
	}
}

// stream is one pipe.
type stream struct {
	name           string
	reader, writer *os.File
	draining       sync.Mutex
	reached        chan struct{}
}

// mark is written by Drain and taken out by the reader; no program prints it by accident.
var mark = []byte("\x00\x01cobber reached the end of a cell\x01\x00")

func newStream(name string) *stream {
	r, w, err := os.Pipe()
	if err != nil {
		return nil
	}
	s := &stream{name: name, reader: r, writer: w, reached: make(chan struct{})}
	go s.read()
	return s
}

func (s *stream) drain() {
	s.draining.Lock()
	defer s.draining.Unlock()
	if _, err := s.writer.Write(mark); err == nil {
		<-s.reached
	}
}

func (s *stream) read() {
	buffer := make([]byte, 64<<10)
	var kept []byte
	for {
		n, err := s.reader.Read(buffer)
		kept = append(kept, buffer[:n]...)
		for {
			i := bytes.Index(kept, mark)
			if i < 0 {
				break
			}
			s.deliver(kept[:i])
			kept = append([]byte(nil), kept[i+len(mark):]...)
			s.reached <- struct{}{}
		}
		whole := s.whole(kept)
		s.deliver(kept[:whole])
		kept = append(kept[:0], kept[whole:]...)
		if err != nil {
			s.deliver(kept)
			s.reader.Close()
			return
		}
	}
}

// whole is how much of the text can be delivered: not the start of a mark, not half a character.
func (s *stream) whole(text []byte) int {
	end := len(text)
	for n := min(len(mark)-1, len(text)); n > 0; n-- {
		if bytes.HasPrefix(mark, text[len(text)-n:]) {
			end = len(text) - n
			break
		}
	}
	for n := 1; n < utf8.UTFMax && n <= end; n++ {
		if b := text[end-n]; utf8.RuneStart(b) {
			if b >= utf8.RuneSelf && !utf8.FullRune(text[end-n:end]) {
				return end - n
			}
			break
		}
	}
	return end
}

func (s *stream) deliver(text []byte) {
	if len(text) == 0 {
		return
	}
	shared.Lock()
	current, original := shared.current, shared.stdout
	if s.name == "stderr" {
		original = shared.stderr
	}
	shared.Unlock()
	if current == nil {
		original.Write(text)
		return
	}
	current.limit.write(s.name, string(text))
}
