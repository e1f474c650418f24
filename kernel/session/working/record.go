package working

import (
	"sync"
	"sync/atomic"

	"cobber/stdlib/quantity"
)

// firstKept is how many values of one note are kept from the beginning, beside
// the last: as many as the passes of a loop that a table shows.
const firstKept = 12

// A Recorder keeps what one cell notes of itself while it runs.
type Recorder struct {
	expand bool
	steps  block

	mu        sync.Mutex
	base      int // number of the first note; no two cells of a program share one
	clock     int
	noted     []noted // by the number of the note, less base
	functions map[int]*function
	leaving   map[int]*function
	calls     []bool // under way, innermost last: true for one that is not recorded
	muted     int
	set       map[string]bool // names of inputs that were set from outside
}

// numbers counts the notes of all cells.
var numbers atomic.Int64

// noted is what was noted at one place of the cell.
type noted struct {
	count int
	first []moment
	last  moment
}

// moment is one note: when, in the order of notes, and what.
type moment struct {
	at     int
	values []any
}

// Note takes the values of one note. Of goroutines that the cell started
// nothing is recorded: their steps stand in no order.
func (r *Recorder) Note(main bool, number int, values []any) {
	if number -= r.base; !main || number < 0 || number >= len(r.noted) {
		return // of a function that another cell declared
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if f := r.functions[number]; f != nil {
		r.enter(f)
	} else if f := r.leaving[number]; f != nil {
		r.leave()
		return
	}
	if r.muted > 0 {
		return
	}
	r.clock++
	kept := make([]any, len(values))
	for i, v := range values {
		kept[i] = snapshot(v)
	}
	n := &r.noted[number]
	n.count++
	n.last = moment{r.clock, kept}
	if len(n.first) < firstKept {
		n.first = append(n.first, n.last)
	}
}

// Set notes that a variable has its value from outside, whatever formula the
// cell has for it.
func (r *Recorder) Set(name string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.set == nil {
		r.set = map[string]bool{}
	}
	r.set[name] = true
}

// enter begins a call; only the first call of a function is recorded.
func (r *Recorder) enter(f *function) {
	again := f.called
	f.called = true
	r.calls = append(r.calls, again)
	if again {
		r.muted++
	}
}

func (r *Recorder) leave() {
	last := len(r.calls) - 1
	if last < 0 {
		return
	}
	if r.calls[last] {
		r.muted--
	}
	r.calls = r.calls[:last]
}

// elided stands in a list for the values left out.
type elided struct{}

// opaque is a value that is not shown.
type opaque struct{}

// listLength is how many values of a slice are shown.
const listLength = 5

// snapshot is the part of a value that is shown, and that nothing can change
// any more.
func snapshot(v any) any {
	switch v := v.(type) {
	case quantity.Quantity, bool, string, float64, float32, int, int8, int16, int32, int64,
		uint, uint8, uint16, uint32, uint64:
		return v
	case []quantity.Quantity:
		return list(v)
	case []float64:
		return list(v)
	case []int:
		return list(v)
	}
	return opaque{}
}

func list[T any](values []T) any {
	var kept []any
	for i, v := range values {
		switch {
		case len(values) <= listLength || i < listLength-2 || i == len(values)-1:
			kept = append(kept, v)
		case i == listLength-2:
			kept = append(kept, elided{})
		}
	}
	return kept
}
