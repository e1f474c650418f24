package show

import (
	"fmt"
	"html"
	"math"
	"strings"
	"sync"
	"sync/atomic"
	"time"
)

// Progress is the progress of a long calculation, shown in place: how much is
// done, how fast it goes and how long it will take. Where there is no page it
// is plain lines, few of them. Begin one with Begin, call Step as the work goes
// on, and Done at its end. It may be used by several goroutines.
//
// A cell that is interrupted leaves what was reached; the last state of one that
// ends says nothing of time, so that a notebook that is run again shows the same.
type Progress struct {
	what  string
	steps int
	id    string
	clock func() time.Time
	page  bool // somebody shows values in place

	lock   sync.Mutex
	done   int
	began  time.Time
	shown  time.Time
	line   int // of the tenths, the last that was written as a line
	closed bool
}

// How often the state is shown: in place, and as lines where it takes long.
const (
	inPlace = 200 * time.Millisecond
	asLines = 10 * time.Second
)

var progresses atomic.Int64

// Begin shows the progress of work of so many steps; 0 steps for a number that
// is not known.
func Begin(what string, steps int) *Progress {
	p := newProgress(what, steps, time.Now)
	p.show(p.began)
	return p
}

func newProgress(what string, steps int, clock func() time.Time) *Progress {
	p := &Progress{what: what, steps: max(0, steps), clock: clock, page: listening() != nil}
	p.id = fmt.Sprintf("progress %d", progresses.Add(1))
	p.began = clock()
	return p
}

// Step says that one more step is done.
func (p *Progress) Step() { p.Add(1) }

// Add says that n more steps are done.
func (p *Progress) Add(n int) {
	p.lock.Lock()
	defer p.lock.Unlock()
	p.done += n
	if p.closed {
		return
	}
	if now := p.clock(); p.due(now) {
		p.show(now)
	}
}

// due reports whether the state is to be shown again.
func (p *Progress) due(now time.Time) bool {
	if p.page {
		return now.Sub(p.shown) >= inPlace
	}
	tenth := 0
	if p.steps > 0 {
		tenth = 10 * p.done / p.steps
	}
	if tenth > p.line && tenth < 10 && now.Sub(p.shown) >= time.Second || now.Sub(p.shown) >= asLines {
		p.line = tenth
		return true
	}
	return false
}

// Done shows the end of the work. Calling it again does nothing, so that it can
// be deferred.
func (p *Progress) Done() {
	p.lock.Lock()
	defer p.lock.Unlock()
	if p.closed {
		return
	}
	p.closed = true
	Live(p.id, state{what: p.what, done: p.done, steps: p.steps, closed: true})
}

func (p *Progress) show(now time.Time) {
	p.shown = now
	Live(p.id, state{what: p.what, done: p.done, steps: p.steps, passed: now.Sub(p.began)})
}

// Each does something for 0 to n-1 and shows the progress. It stops at the first
// error and returns it with the number of the step.
func Each(what string, n int, do func(i int) error) error {
	p := Begin(what, n)
	for i := range n {
		if err := do(i); err != nil {
			return fmt.Errorf("%s, step %d of %d: %w", what, i+1, n, err)
		}
		p.Step()
	}
	p.Done()
	return nil
}

// state is a Progress at one moment, as it is shown.
type state struct {
	what        string
	done, steps int
	passed      time.Duration
	closed      bool
}

// String is the state in a line.
func (s state) String() string {
	parts := []string{fmt.Sprintf("%s: %d", s.what, s.done)}
	if s.steps > 0 {
		parts[0] = fmt.Sprintf("%s: %d of %d (%.0f %%)", s.what, s.done, s.steps, 100*s.share())
	}
	switch {
	case s.closed && s.steps > 0 && s.done < s.steps:
		parts = append(parts, "ended early")
	case s.closed:
		parts = append(parts, "done")
	case s.done > 0 && s.passed > 0:
		parts = append(parts, s.rate())
		if left, ok := s.left(); ok {
			parts = append(parts, duration(left)+" left")
		}
	}
	return strings.Join(parts, ", ")
}

// HTML is the state with a bar.
func (s state) HTML() string {
	bar := ""
	if s.steps > 0 {
		bar = fmt.Sprintf(`<span style="display:inline-block;width:16em;height:0.7em;border:1px solid currentColor;margin-right:0.75em;vertical-align:middle" role="progressbar" aria-valuemin="0" aria-valuemax="%d" aria-valuenow="%d"><span style="display:block;height:100%%;width:%.1f%%;background:#00a0c1"></span></span>`,
			s.steps, s.done, 100*s.share())
	}
	return `<div style="font-variant-numeric:tabular-nums">` + bar + html.EscapeString(s.String()) + "</div>"
}

func (s state) share() float64 {
	return math.Min(1, math.Max(0, float64(s.done)/float64(s.steps)))
}

// rate is how many steps are done in a second, a minute or an hour.
func (s state) rate() string {
	perSecond := float64(s.done) / s.passed.Seconds()
	for _, unit := range []struct {
		name    string
		seconds float64
	}{{"s", 1}, {"min", 60}} {
		if x := perSecond * unit.seconds; x >= 1 {
			return number(x) + "/" + unit.name
		}
	}
	return number(perSecond*3600) + "/h"
}

// number writes a number to two digits, or more before the point.
func number(x float64) string {
	if x >= 10 {
		return fmt.Sprintf("%.0f", x)
	}
	return fmt.Sprintf("%.2g", x)
}

// left is the time the rest will take at the rate so far.
func (s state) left() (time.Duration, bool) {
	if s.steps == 0 || s.done <= 0 || s.done > s.steps {
		return 0, false
	}
	seconds := s.passed.Seconds() * float64(s.steps-s.done) / float64(s.done)
	if seconds > 1e8 { // years: no time to wait for
		return 0, false
	}
	return time.Duration(seconds * float64(time.Second)), true
}

// duration writes a time in two units at most: 3 h 12 min, 45 s.
func duration(d time.Duration) string {
	seconds := int(math.Ceil(d.Seconds()))
	switch {
	case seconds < 60:
		return fmt.Sprintf("%d s", seconds)
	case seconds < 3600:
		return fmt.Sprintf("%d min %d s", seconds/60, seconds%60)
	case seconds < 86400:
		return fmt.Sprintf("%d h %d min", seconds/3600, seconds%3600/60)
	}
	return fmt.Sprintf("%d d %d h", seconds/86400, seconds%86400/3600)
}
