package server

import (
	"bufio"
	"bytes"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"sync"
)

// Bounds of the file of past cells.
const (
	pastSize    = 1 << 20  // bytes; a longer file is cut to the newest half
	longestKept = 32 << 10 // bytes of a cell; a longer one is not kept
	pastFolder  = 0o700    // nobody else's
	pastFile    = 0o600    // cells may hold what is nobody else's business
)

// past keeps the cells of this session and of earlier ones in a file, a line
// each. Several kernels may write to it at once: each line is appended by one
// write. What two lose that cut it at the same moment is the oldest of it.
type past struct {
	path    string
	session string // names this session in the file

	mu      sync.Mutex
	off     bool // after a failure, which is told once
	read    bool
	earlier []pastCell
	count   int // of the earlier sessions
}

// pastLine is a line of the file.
type pastLine struct {
	Session string `json:"session"`
	Line    int    `json:"line"`
	Input   string `json:"input"`
}

// add writes a cell.
func (p *past) add(line int, input string) error {
	if p == nil || len(input) > longestKept {
		return nil
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.off {
		return nil
	}
	err := p.write(pastLine{p.session, line, input})
	p.off = err != nil
	return err
}

func (p *past) write(line pastLine) error {
	text, err := json.Marshal(line)
	if err != nil {
		return err
	}
	file, err := os.OpenFile(p.path, os.O_APPEND|os.O_CREATE|os.O_WRONLY, pastFile)
	if os.IsNotExist(err) {
		if err = os.MkdirAll(filepath.Dir(p.path), pastFolder); err == nil {
			file, err = os.OpenFile(p.path, os.O_APPEND|os.O_CREATE|os.O_WRONLY, pastFile)
		}
	}
	if err != nil {
		return err
	}
	defer file.Close()
	if _, err := file.Write(append(text, '\n')); err != nil {
		return err
	}
	about, err := file.Stat()
	if err != nil || about.Size() <= pastSize {
		return err
	}
	return p.cut()
}

// cut keeps the newest half of the file, in whole lines.
func (p *past) cut() error {
	text, err := os.ReadFile(p.path)
	if err != nil {
		return err
	}
	text = text[max(0, len(text)-pastSize/2):]
	text = text[bytes.IndexByte(text, '\n')+1:]
	file, err := os.CreateTemp(filepath.Dir(p.path), "history-") // made for its owner alone
	if err != nil {
		return err
	}
	_, err = file.Write(text)
	if failure := file.Close(); err == nil {
		err = failure
	}
	if err == nil {
		err = os.Rename(file.Name(), p.path)
	}
	if err != nil {
		os.Remove(file.Name())
	}
	return err
}

// sessions gives the cells of earlier sessions, numbered from 1 as they come in
// the file, and the number of this one. It reads once, on first use.
func (p *past) sessions() (earlier []pastCell, this int) {
	if p == nil {
		return nil, 1
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if !p.read {
		p.read = true
		if file, err := os.Open(p.path); err == nil {
			p.load(file)
			file.Close()
		}
	}
	return p.earlier, p.count + 1
}

// load reads lines; one that is none is passed over.
func (p *past) load(file io.Reader) {
	numbers := map[string]int{p.session: 0}
	lines := bufio.NewReaderSize(file, 64<<10)
	for {
		text, err := lines.ReadBytes('\n')
		var line pastLine
		if json.Unmarshal(text, &line) == nil && line.Session != p.session && line.Session != "" {
			if numbers[line.Session] == 0 {
				p.count++
				numbers[line.Session] = p.count
			}
			p.earlier = append(p.earlier, pastCell{session: numbers[line.Session], line: line.Line, input: line.Input})
		}
		if err != nil {
			return
		}
	}
}
