package working

import "slices"

// Shown is the working of a cell.
type Shown struct{ parts []part }

// part is a *lines or a *passes, in the order in which they are shown.
type part any

// lines are rows whose equals signs stand below one another.
type lines struct{ rows []row }

// row is one assignment, or words between.
type row struct {
	words   words
	target  *node
	formula *node // nil if there is none to show
	before  []any // what the formula read
	result  any
	side    string
	depth   int
}

// words are text with formulas in it: "since", "of 12 passes".
type words []any // string, or phrase

type phrase struct {
	formula *node
	values  []any // nil for the formula itself
}

// passes is the table of a loop.
type passes struct {
	heads []*node
	rows  [][]any
	depth int
}

// Shown puts together what was noted.
func (r *Recorder) Shown() *Shown {
	r.mu.Lock()
	defer r.mu.Unlock()
	t := &teller{r: r, shown: &Shown{}, done: map[*function]bool{}}
	t.block(r.steps, window{0, r.clock + 1}, 0)
	return t.shown
}

// Empty reports whether there is nothing to show.
func (s *Shown) Empty() bool { return len(s.parts) == 0 }

type teller struct {
	r     *Recorder
	shown *Shown
	done  map[*function]bool // told once
}

// window is the part of the notes that is told: those after from, before to.
type window struct{ from, to int }

// latest is the newest kept moment of a note in a window.
func (t *teller) latest(note int, w window) (moment, bool) {
	if note < 0 {
		return moment{}, false
	}
	n := &t.r.noted[note]
	if n.count > 0 && w.from < n.last.at && n.last.at < w.to {
		return n.last, true
	}
	for _, m := range slices.Backward(n.first) {
		if w.from < m.at && m.at < w.to {
			return m, true
		}
	}
	return moment{}, false
}

func (t *teller) add(r row) {
	last := len(t.shown.parts) - 1
	if last >= 0 {
		if l, ok := t.shown.parts[last].(*lines); ok {
			l.rows = append(l.rows, r)
			return
		}
	}
	t.shown.parts = append(t.shown.parts, &lines{[]row{r}})
}

func (t *teller) say(depth int, w ...any) { t.add(row{words: w, depth: depth}) }

func (t *teller) block(b block, w window, depth int) {
	for i, it := range b {
		switch it := it.(type) {
		case *remark:
			if i+1 < len(b) && t.ran(b[i+1:], w) {
				t.say(depth, it.text)
			}
		case *assignment:
			t.assignment(it, w, depth)
		case *branch:
			t.branch(it, w, depth)
		case *loop:
			t.loop(it, w, depth)
		}
	}
}

// ran tells whether the first item behind remarks was run.
func (t *teller) ran(b block, w window) bool {
	for _, it := range b {
		switch it := it.(type) {
		case *remark:
			continue
		case *assignment:
			_, ok := t.latest(it.after, w)
			return ok
		case *branch:
			for _, a := range it.arms {
				if _, ok := t.latest(a.note, w); ok {
					return true
				}
			}
			return false
		case *loop:
			_, ok := t.latest(it.note, w)
			return ok
		}
	}
	return false
}

func (t *teller) assignment(a *assignment, w window, depth int) {
	after, ok := t.latest(a.after, w)
	if !ok {
		return
	}
	before, _ := t.latest(a.before, window{w.from, after.at})
	shown := false
	for _, target := range a.targets {
		result := after.values[target.leaf-1]
		if _, unknown := result.(opaque); unknown {
			continue
		}
		r := row{target: target, result: result, depth: depth}
		if !shown {
			r.formula, r.before, r.side = a.formula, before.values, a.side
		}
		if target.kind == name && t.r.set[target.text] && a.defines {
			r.formula, r.side = nil, "set from outside"
		}
		shown = true
		t.add(r)
	}
	if !shown {
		return
	}
	for _, f := range a.called {
		t.expand(f, window{before.at, after.at}, depth+1)
	}
}

// expand tells the first call of a function, once.
func (t *teller) expand(f *function, w window, depth int) {
	begun, ok := t.latest(f.enter, w)
	if !ok || t.done[f] {
		return
	}
	t.done[f] = true
	said := words{"in ", phrase{formula: &node{kind: call, text: f.name, args: f.parameters}}}
	for i, p := range f.parameters {
		if _, unknown := begun.values[i].(opaque); unknown {
			continue
		}
		said = append(said, " with ", phrase{formula: &node{kind: operation, text: "==", args: []*node{withoutLeaf(p), p}}, values: begun.values})
		if len(said) > 4 {
			said[len(said)-2] = ", "
		}
	}
	t.say(depth, append(said, ":")...)
	t.block(f.body, window{begun.at, w.to}, depth)
}

func withoutLeaf(n *node) *node {
	c := *n
	c.leaf = 0
	return &c
}

func (t *teller) branch(b *branch, w window, depth int) {
	for _, a := range b.arms {
		taken, ok := t.latest(a.note, w)
		if !ok {
			continue
		}
		t.say(depth, t.reason(a, taken.values)...)
		t.block(a.body, window{taken.at, w.to}, depth+1)
	}
}

// reason says why an arm was taken, in symbols and in numbers.
func (t *teller) reason(a *arm, values []any) words {
	if a.holds == nil && len(a.failed) == 0 {
		return words{"otherwise:"}
	}
	said := words{"since "}
	if a.holds != nil {
		if a.through { // what holds is not known
			return words{"in the case ", phrase{formula: a.holds}, ":"}
		}
		return append(append(said, t.holds(a.holds, values)...), ":")
	}
	last := a.failed[len(a.failed)-1]
	return append(append(append(said, "not "), t.holds(last, values)...), ":")
}

func (t *teller) holds(condition *node, values []any) words {
	said := words{phrase{formula: condition}}
	if plainText(condition, nil) != plainText(condition, values) {
		said = append(said, ", ", phrase{condition, values})
	}
	return said
}

func (t *teller) loop(l *loop, w window, depth int) {
	last, ok := t.latest(l.note, w)
	if !ok {
		return
	}
	count := t.passes(l.note, w)
	said := words{lastOf(count)}
	for _, v := range l.variables {
		if _, unknown := last.values[v.leaf-1].(opaque); !unknown {
			said = append(said, ", ", phrase{&node{kind: operation, text: "==", args: []*node{withoutLeaf(v), v}}, last.values})
		}
	}
	t.say(depth, append(said, ":")...)
	t.block(l.body, window{last.at, w.to}, depth+1)
	t.table(l, w, count, depth)
}
