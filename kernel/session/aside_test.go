package session

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"cobber/kernel/session/run"
	"cobber/kernel/source"
)

// TestAside calls functions of cells as a control does: from outside, between
// cells and while one runs.
func TestAside(t *testing.T) {
	s := New()
	defer s.Close()
	ctx := context.Background()
	cell := func(n int, text string) any {
		o := s.Run(ctx, source.Cell{Name: "cell 1", Count: n, Text: text}, &page{})
		if o.Err != nil {
			t.Fatal(o.Err)
		}
		if len(o.Values) == 0 {
			return nil
		}
		return o.Values[0]
	}
	double := cell(1, "n := 0\nfunc(x int) int { n++; return 2 * x }").(func(int) int)
	fails := cell(2, "func() { var m map[string]int\n\tm[\"a\"] = 1 }").(func())
	forever := cell(3, "func() { for { n++ } }").(func())

	got := 0
	if err := s.Aside(ctx, func() { got = double(21) }); err != nil || got != 42 {
		t.Errorf("between cells: %v, %v", got, err)
	}
	var failed *run.Failure
	if err := s.Aside(ctx, fails); !errors.As(err, &failed) || !strings.Contains(err.Error(), "assignment to entry in nil map") || !strings.Contains(err.Error(), "line 2") {
		t.Errorf("a failure: %v", err)
	}
	stopped, cancel := context.WithTimeout(ctx, 50*time.Millisecond)
	defer cancel()
	if err := s.Aside(stopped, forever); !errors.Is(err, run.ErrInterrupted) {
		t.Errorf("stopped: %v", err)
	}
	done := make(chan bool)
	go func() {
		cell(4, "import \"time\"\ntime.Sleep(300 * time.Millisecond)")
		close(done)
	}()
	time.Sleep(100 * time.Millisecond)
	if err := s.Aside(ctx, func() { got = double(4) }); err != nil || got != 8 {
		t.Errorf("beside a cell: %v, %v", got, err)
	}
	<-done
	if n := cell(5, "n > 3"); n != true {
		t.Errorf("afterwards n > 3 is %v", n)
	}
}
