package working

import "fmt"

// passes counts how often a loop went round. Of a loop inside another the
// passes of all rounds are one count, so that only a single round is counted.
func (t *teller) passes(note int, w window) int {
	n := &t.r.noted[note]
	if n.count <= len(n.first) {
		count := 0
		for _, m := range n.first {
			if w.from < m.at && m.at < w.to {
				count++
			}
		}
		return count
	}
	if w.from < n.first[0].at {
		return n.count
	}
	return 0
}

func lastOf(count int) string {
	switch count {
	case 0:
		return "in the last pass"
	case 1:
		return "in the only pass"
	}
	return fmt.Sprintf("in the last of %d passes", count)
}

// table shows what a loop assigned in each pass, if the passes are few.
func (t *teller) table(l *loop, w window, count int, depth int) {
	if count < 2 || count > firstKept {
		return
	}
	var starts []moment
	for _, m := range t.r.noted[l.note].first {
		if w.from < m.at && m.at < w.to {
			starts = append(starts, m)
		}
	}
	var heads []*node
	columns := make([][]any, len(starts))
	for _, v := range l.variables {
		heads = append(heads, withoutLeaf(v))
		for i, m := range starts {
			columns[i] = append(columns[i], m.values[v.leaf-1])
		}
	}
	assigned := 0
	for _, it := range l.body {
		a, ok := it.(*assignment)
		if !ok {
			continue
		}
		for _, target := range a.targets {
			heads = append(heads, withoutLeaf(target))
			assigned++
			for i, m := range starts {
				end := w.to
				if i+1 < len(starts) {
					end = starts[i+1].at
				}
				var value any
				if after, ok := t.latest(a.after, window{m.at, end}); ok {
					value = after.values[target.leaf-1]
				}
				columns[i] = append(columns[i], value)
			}
		}
	}
	heads, columns = withoutEmpty(heads, columns)
	if assigned > 0 && len(heads) > 0 {
		t.shown.parts = append(t.shown.parts, &passes{heads, columns, depth})
	}
}

// withoutEmpty leaves out columns in which no pass has a value to show.
func withoutEmpty(heads []*node, rows [][]any) ([]*node, [][]any) {
	var kept []*node
	out := make([][]any, len(rows))
	for column, head := range heads {
		some := false
		for _, r := range rows {
			_, unknown := r[column].(opaque)
			some = some || r[column] != nil && !unknown
		}
		if !some {
			continue
		}
		kept = append(kept, head)
		for i, r := range rows {
			out[i] = append(out[i], r[column])
		}
	}
	return kept, out
}
