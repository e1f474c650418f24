package output

import (
	"fmt"
	"strings"
	"sync"
	"unicode/utf8"
)

const (
	headSize = 512 << 10 // so much of what a cell prints goes on at once
	tailSize = 16 << 10  // and so much is kept of what comes last
)

// limit passes on the first of what a cell prints. When the cell has ended it says how much it left
// out, and gives the last. A front end would be brought down by a cell that prints without end.
type limit struct {
	receiver Receiver

	mu    sync.Mutex
	room  int // left for the first
	cut   int // bytes not passed on, those kept for the end among them
	kept  int // bytes in last
	last  []piece
	ended bool
}

type piece struct{ name, text string }

func newLimit(receiver Receiver) *limit { return &limit{receiver: receiver, room: headSize} }

func (l *limit) write(name, text string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if len(text) <= l.room {
		l.room -= len(text)
		l.receiver(name, text)
		return
	}
	if l.room > 0 {
		n := whole(text, l.room)
		l.receiver(name, text[:n])
		text, l.room = text[n:], 0
		if l.ended {
			l.receiver("stderr", "\n[what this cell's goroutines print from here on is left out]\n")
		}
	}
	if !l.ended {
		l.keep(name, text)
	}
}

// keep remembers the latest text, and forgets what is older than the last tailSize bytes.
func (l *limit) keep(name, text string) {
	l.cut += len(text)
	if len(text) > tailSize {
		text, l.last, l.kept = strings.Clone(text[fromWhole(text, len(text)-tailSize):]), nil, 0
	}
	if n := len(l.last); n > 0 && l.last[n-1].name == name && len(l.last[n-1].text) < 1<<10 {
		l.last[n-1].text += text
	} else {
		l.last = append(l.last, piece{name, text})
	}
	for l.kept += len(text); l.kept-len(l.last[0].text) >= tailSize; l.last = l.last[1:] {
		l.kept -= len(l.last[0].text)
	}
}

func (l *limit) end() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.ended = true
	if l.cut == 0 {
		return
	}
	if left := l.cut - l.kept; left > 0 {
		l.receiver("stderr", fmt.Sprintf("\n[%s of output left out here: a cell keeps the first %d kB of what it prints, and the last %d kB]\n",
			amount(left), headSize>>10, tailSize>>10))
	}
	for _, p := range l.last {
		l.receiver(p.name, p.text)
	}
	l.cut, l.kept, l.last = 0, 0, nil
}

func amount(n int) string {
	if n < 1<<20 {
		return fmt.Sprintf("%d bytes", n)
	}
	return fmt.Sprintf("%.1f MB", float64(n)/(1<<20))
}

// whole is the most of the first n bytes that ends with a character.
func whole(text string, n int) int {
	for n > 0 && !utf8.RuneStart(text[n]) {
		n--
	}
	return n
}

// fromWhole is the first place from n on where a character begins.
func fromWhole(text string, n int) int {
	for n < len(text) && !utf8.RuneStart(text[n]) {
		n++
	}
	return n
}
