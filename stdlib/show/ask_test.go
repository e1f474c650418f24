package show

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"testing"
)

func TestAsk(t *testing.T) {
	var asked []Event
	stop := Listen(func(e Event) {
		asked = append(asked, e)
		if e.Text != "nobody" {
			e.Answer("36.5", nil)
		}
	})
	defer stop()
	if line, err := Ask("feed? "); line != "36.5" || err != nil {
		t.Errorf("got %q, %v", line, err)
	}
	if _, err := AskSecret("nobody"); !errors.Is(err, ErrNobody) {
		t.Errorf("a listener that cannot ask: %v", err)
	}
	if len(asked) != 2 || asked[0].Kind != KindAsk || asked[0].Text != "feed? " || asked[0].Secret || !asked[1].Secret {
		t.Errorf("asked %+v", asked)
	}
}

func TestReadLine(t *testing.T) {
	in := strings.NewReader("one\r\n\nlast")
	var out bytes.Buffer
	for _, want := range []string{"one", "", "last"} {
		if got, err := readLine(in, &out, "? "); got != want || err != nil {
			t.Errorf("got %q, %v; want %q", got, err, want)
		}
	}
	if _, err := readLine(in, &out, "? "); !errors.Is(err, io.EOF) {
		t.Errorf("at the end: %v", err)
	}
	if out.String() != "? ? ? ? " {
		t.Errorf("prompts %q", out.String())
	}
}
