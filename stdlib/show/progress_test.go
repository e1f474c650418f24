package show

import (
	"errors"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"
)

// stepped is a clock that a test moves.
type stepped struct{ time.Time }

func (c *stepped) now() time.Time { return c.Time }

func TestProgressInPlace(t *testing.T) {
	events := record(t)
	clock := &stepped{time.Unix(0, 0)}
	p := newProgress("milling", 1000, clock.now)
	p.show(clock.Time)
	for range 400 {
		clock.Time = clock.Add(50 * time.Millisecond)
		p.Step()
	}
	// 400 steps in 20 s, shown every 0.2 s.
	if n := len(*events); n != 101 {
		t.Errorf("shown %d times, want 101", n)
	}
	last := (*events)[len(*events)-1]
	if got, want := fmt.Sprint(last.Values[0]), "milling: 400 of 1000 (40 %), 20/s, 30 s left"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	for _, event := range (*events)[1:] {
		if event.Kind != KindUpdate || event.ID != (*events)[0].ID {
			t.Fatalf("not shown in place: %+v", event)
		}
	}
	html := last.Values[0].(state).HTML()
	for _, part := range []string{`aria-valuenow="400"`, "width:40.0%", "20/s"} {
		if !strings.Contains(html, part) {
			t.Errorf("no %s in %s", part, html)
		}
	}
	p.Add(600)
	p.Done()
	p.Done()
	p.Step()
	if got, want := fmt.Sprint((*events)[len(*events)-1].Values[0]), "milling: 1000 of 1000 (100 %), done"; got != want {
		t.Errorf("at the end %q, want %q: no time, so that it is the same each time", got, want)
	}
}

func TestProgressesHaveTheirOwnPlaces(t *testing.T) {
	events := record(t)
	Begin("a", 1).Done()
	Begin("a", 1).Done()
	if (*events)[0].ID == (*events)[len(*events)-1].ID {
		t.Error("two progresses share a place")
	}
}

// Without a page there are few lines: for tenths at least a second apart, and
// every ten seconds.
func TestProgressAsLines(t *testing.T) {
	clock := &stepped{time.Unix(0, 0)}
	fast := newProgress("fast", 1_000_000, clock.now)
	fast.page, fast.shown = false, clock.Time
	lines := 0
	for range 1_000_000 / 1000 {
		clock.Time = clock.Add(time.Millisecond)
		fast.done += 1000
		if fast.due(clock.Time) {
			lines++
			fast.shown = clock.Time
		}
	}
	if lines > 1 {
		t.Errorf("a second of work writes %d lines", lines)
	}
	slow := newProgress("slow", 100, clock.now)
	slow.page, slow.shown = false, clock.Time
	lines = 0
	for range 100 {
		clock.Time = clock.Add(15 * time.Second)
		slow.done++
		if slow.due(clock.Time) {
			lines++
			slow.shown = clock.Time
		}
	}
	if lines < 90 || lines > 100 {
		t.Errorf("25 minutes of work write %d lines", lines)
	}
}

func TestStatesInWords(t *testing.T) {
	for want, s := range map[string]state{
		"x: 0 of 5 (0 %)": {what: "x", steps: 5},
		"x: 7, 2/min":     {what: "x", done: 7, passed: 210 * time.Second},
		"x: 1 of 9 (11 %), 0.5/h, 16 h 0 min left":  {what: "x", done: 1, steps: 9, passed: 2 * time.Hour},
		"x: 1 of 100 (1 %), 1/h, 4 d 3 h left":      {what: "x", done: 1, steps: 100, passed: time.Hour},
		"x: 1 of 4 (25 %), 1.5/min, 2 min 0 s left": {what: "x", done: 1, steps: 4, passed: 40 * time.Second},
		"x: 3 of 5 (60 %), ended early":             {what: "x", done: 3, steps: 5, closed: true},
		"x: 3, done":                                {what: "x", done: 3, closed: true},
		"x: 6 of 5 (100 %), 6/s":                    {what: "x", done: 6, steps: 5, passed: time.Second},
	} {
		if got := s.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestEach(t *testing.T) {
	events := record(t)
	sum := 0
	if err := Each("adding", 5, func(i int) error { sum += i; return nil }); err != nil || sum != 10 {
		t.Errorf("sum %d (%v)", sum, err)
	}
	if got := fmt.Sprint((*events)[len(*events)-1].Values[0]); got != "adding: 5 of 5 (100 %), done" {
		t.Errorf("at the end %q", got)
	}
	broken := errors.New("the belt broke")
	err := Each("hauling", 5, func(i int) error {
		if i == 2 {
			return broken
		}
		return nil
	})
	if !errors.Is(err, broken) || !strings.Contains(err.Error(), "hauling, step 3 of 5") {
		t.Errorf("error %v", err)
	}
}

func TestProgressOfManyGoroutines(t *testing.T) {
	events := record(t)
	p := Begin("together", 200)
	var group sync.WaitGroup
	for range 20 {
		group.Go(func() {
			for range 10 {
				p.Step()
			}
		})
	}
	group.Wait()
	p.Done()
	if got := fmt.Sprint((*events)[len(*events)-1].Values[0]); got != "together: 200 of 200 (100 %), done" {
		t.Errorf("at the end %q", got)
	}
}

func BenchmarkStep(b *testing.B) {
	stop := Listen(func(Event) {})
	defer stop()
	p := Begin("bench", 1<<30)
	for b.Loop() {
		p.Step()
	}
}
