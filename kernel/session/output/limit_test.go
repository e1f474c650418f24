package output

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"
)

func TestLimit(t *testing.T) {
	line := strings.Repeat("µ", 49) + "\n"
	size := len(line) + 8 // with its number
	for _, c := range []struct {
		name  string
		lines int
		note  string // what must be said; "" if everything goes through
	}{
		{"little", 100, ""},
		{"more than the beginning, no more than is kept of the end", headSize/size + 100, ""},
		{"a lot", 1_000_000, "MB of output left out here"},
		{"a little too much", headSize/size + 300, "bytes of output left out here"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var got, notes strings.Builder
			l := newLimit(func(name, text string) {
				if !utf8.ValidString(text) {
					t.Errorf("half a character in %q", text)
				}
				if name == "stderr" {
					notes.WriteString(text)
					return
				}
				got.WriteString(text)
			})
			for i := range c.lines {
				l.write("stdout", fmt.Sprintf("%7d %s", i, line))
			}
			l.end()
			last := fmt.Sprintf("%7d %s", c.lines-1, line)
			if !strings.HasPrefix(got.String(), "      0 µ") || !strings.HasSuffix(got.String(), last) {
				t.Errorf("the beginning or the end is missing")
			}
			if max := headSize + tailSize + 2<<10; got.Len() > max {
				t.Errorf("%d bytes went through, more than %d", got.Len(), max)
			}
			if c.note == "" && (notes.Len() > 0 || got.Len() != c.lines*len(last)) {
				t.Errorf("%d of %d bytes went through; said %q", got.Len(), c.lines*len(last), notes.String())
			}
			if !strings.Contains(notes.String(), c.note) {
				t.Errorf("said %q", notes.String())
			}
		})
	}
}

func TestLimitKeepsStreamsApart(t *testing.T) {
	var said []string
	l := newLimit(func(name, text string) { said = append(said, name) })
	l.write("stdout", strings.Repeat("x", headSize))
	l.write("stdout", "one")
	l.write("stderr", "two")
	l.write("stdout", "three")
	l.end()
	if got := strings.Join(said, " "); got != "stdout stdout stderr stdout" {
		t.Error(got)
	}
}

func TestLimitAfterTheEnd(t *testing.T) {
	var got strings.Builder
	l := newLimit(func(name, text string) { got.WriteString(text) })
	l.end()
	for range 100 {
		l.write("stdout", strings.Repeat("x", headSize/10))
	}
	if n := strings.Count(got.String(), "left out"); n != 1 || got.Len() > headSize+1<<10 {
		t.Errorf("%d bytes, said %d times that there is more", got.Len(), n)
	}
}
