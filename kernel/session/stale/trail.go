package stale

import (
	"fmt"
	"go/types"
	"maps"
	"slices"
	"sort"
	"strings"
	"sync"

	"cobber/kernel/session/check"
	"cobber/kernel/source"
)

// A Trail remembers what the cells of a session have read and changed. It may be
// used by several goroutines.
type Trail struct {
	mu        sync.Mutex
	clock     int
	names     map[string]version
	cells     map[int]*record    // by when they ran last
	known     map[string]*record // by what makes a cell the same when it runs again
	readers   map[string]int     // how many cells have read a name
	functions map[*types.Func]*effect
	found     []found // what is out of date, as of the last change that mattered
}

// A version is when a name changed last, and by what.
type version struct {
	at    int
	cell  string
	again bool // the cell had run before
	mark  any  // the value, where it is a plain one; else nil
}

// A record is the last run of one cell.
type record struct {
	cell source.Cell
	at   int
	keys []string       // under which the trail knows it
	seen map[string]int // when the names that it read had changed, as it read them
}

// A Cell is one that is out of date.
type Cell struct {
	Cell  source.Cell
	Why   string // "feed was bound anew by cell 7"
	Again bool   // by a cell that had run before, so that what it showed then counts no more
}

// NewTrail returns the trail of a session in which nothing has run.
func NewTrail() *Trail {
	return &Trail{names: map[string]version{}, cells: map[int]*record{}, known: map[string]*record{}, readers: map[string]int{},
		functions: map[*types.Func]*effect{}}
}

// Ran notes that a cell has run: what it bound, and by value what plain values
// (numbers, texts, quantities) its names have now; for others value returns nil.
// It returns the cells that are out of date only since, because a cell ran again;
// and why the cell itself is, if what it read came from such a one.
func (t *Trail) Ran(p *check.Program, bound []string, value func(name string) any) (since []Cell, own string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	e, functions := effects(p)
	maps.Copy(t.functions, functions)
	t.follow(e)
	r := &record{cell: p.Cell.Source, keys: keysOf(p.Cell.Source, bound), seen: map[string]int{}}
	again := t.forget(r)
	t.clock++
	r.at = t.clock
	for name := range e.reads {
		r.seen[name] = t.names[name].at
	}
	for _, name := range bound {
		e.writes[name] = true
	}
	matters := again || len(t.found) > 0
	for name := range e.writes {
		changed := t.change(name, r, again, value(name))
		matters = matters || changed && t.readers[name] > 0
		if _, read := r.seen[name]; read {
			r.seen[name] = t.names[name].at
		}
	}
	if isNumbered(r.cell) {
		t.remember(r)
	}
	if !matters {
		return nil, "" // the usual case, and it costs the same however long the session
	}
	return t.compare(r)
}

// compare finds anew what is out of date, and returns what was not before.
func (t *Trail) compare(r *record) (since []Cell, own string) {
	before := map[*record]bool{}
	for _, c := range t.found {
		before[c.record] = true
	}
	t.found = t.outdated()
	for _, c := range t.found {
		switch {
		case !c.Again:
		case c.record == r:
			own = c.Why
		case !before[c.record]:
			since = append(since, c.Cell)
		}
	}
	return since, own
}

// isNumbered tells a cell of the notebook from an expression that a front end
// evaluates beside it.
func isNumbered(c source.Cell) bool { return c.Name == fmt.Sprintf("cell %d", c.Count) }

func (t *Trail) change(name string, r *record, again bool, mark any) bool {
	old, known := t.names[name]
	if known && mark != nil && old.mark == mark {
		return false
	}
	t.names[name] = version{at: r.at, cell: r.cell.Name, again: again, mark: mark}
	return true
}

// follow adds what the functions do that a piece of code mentions, and those
// that they mention.
func (t *Trail) follow(e *effect) {
	seen := map[*types.Func]bool{}
	var visit func(f *types.Func)
	visit = func(f *types.Func) {
		called := t.functions[f]
		if seen[f] || called == nil {
			return
		}
		seen[f] = true
		maps.Copy(e.reads, called.reads)
		maps.Copy(e.writes, called.writes)
		for next := range called.calls {
			visit(next)
		}
	}
	for f := range e.calls {
		visit(f)
	}
}

// keysOf says what makes a cell the same when it runs again. A front end says
// which cell it is; where none does, a cell is the same if its text is, or if it
// binds the same names.
func keysOf(c source.Cell, bound []string) []string {
	if c.ID != "" {
		return []string{"cell " + c.ID}
	}
	keys := []string{"text " + c.Text}
	if len(bound) > 0 {
		keys = append(keys, "names "+strings.Join(bound, " "))
	}
	return keys
}

// forget takes out the earlier run of a cell, and reports whether there was one.
func (t *Trail) forget(r *record) (again bool) {
	for _, key := range r.keys {
		old := t.known[key]
		if old == nil {
			continue
		}
		again = true
		delete(t.cells, old.at)
		for _, key := range old.keys {
			if t.known[key] == old {
				delete(t.known, key)
			}
		}
		for name := range old.seen {
			t.readers[name]--
		}
	}
	return again
}

func (t *Trail) remember(r *record) {
	t.cells[r.at] = r
	for _, key := range r.keys {
		t.known[key] = r
	}
	for name := range r.seen {
		t.readers[name]++
	}
}

// Forget notes that the session knows names no more.
func (t *Trail) Forget(names []string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for _, name := range names {
		delete(t.names, name)
	}
}

type found struct {
	Cell
	record *record
}

// Outdated lists the cells that are out of date, in the order in which they ran.
func (t *Trail) Outdated() []Cell {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.found = t.outdated()
	var list []Cell
	for _, c := range t.found {
		list = append(list, c.Cell)
	}
	return list
}

func (t *Trail) outdated() []found {
	order := slices.Sorted(maps.Keys(t.cells))
	reasons := map[*record]*Cell{}
	for changed := true; changed; {
		changed = false
		for _, at := range order {
			r := t.cells[at]
			if c := t.reason(r, reasons); c != nil && reasons[r] == nil {
				reasons[r], changed = c, true
			}
		}
	}
	var list []found
	for _, at := range order {
		if c := reasons[t.cells[at]]; c != nil {
			list = append(list, found{*c, t.cells[at]})
		}
	}
	return list
}

// reason says why a cell is out of date, or returns nil if it is not as far as
// is known by now.
func (t *Trail) reason(r *record, reasons map[*record]*Cell) *Cell {
	var why []string
	again := false
	for _, name := range sorted(r.seen) {
		v, known := t.names[name]
		if !known {
			continue
		}
		if v.at > r.seen[name] {
			why = append(why, fmt.Sprintf("%s was changed by %s", name, v.cell))
			again = again || v.again
		} else if w := t.cells[v.at]; w != nil && w != r && reasons[w] != nil {
			why = append(why, fmt.Sprintf("%s is of %s, which is out of date", name, w.cell.Name))
			again = again || reasons[w].Again
		}
	}
	if len(why) == 0 {
		return nil
	}
	return &Cell{Cell: r.cell, Why: strings.Join(why, "; "), Again: again}
}

func sorted(seen map[string]int) []string {
	names := slices.Collect(maps.Keys(seen))
	sort.Strings(names)
	return names
}
