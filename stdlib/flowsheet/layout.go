package flowsheet

import (
	"math"
	"slices"
)

var infinity = math.Inf(1)

// What a node of a drawing stands for.
const (
	feedNode = iota
	stepNode
	productNode
	passing // where a stream passes a column on its way
)

// node is a place in a drawing: in a column, with its height and the middle it
// ends up at.
type node struct {
	kind   int
	index  int // of the step; of the flow for all others
	column int
	height float64
	y      float64
}

// link is a stream in a drawing: the nodes it runs through, from its maker to
// its taker. One that leads back runs below everything.
type link struct {
	flow int
	path []int
	back bool
}

// layout is where the nodes of a drawing stand: columns follow one another along
// the flow, and y runs across it.
type layout struct {
	f       *Flowsheet
	measure measure
	nodes   []node
	links   []link
	columns [][]int // the nodes of each column, by rising y
	leave   []float64
	arrive  []float64 // of each link, where it meets its nodes, from their middle
}

// measure says how large a kind of drawing makes things.
type measure struct {
	size   func(n node, links []link) float64
	gap    float64                              // between two nodes of a column
	leave  func(n node, links []link) []float64 // where links meet a node, from its middle
	arrive func(n node, links []link) []float64
}

// lay puts steps in columns by how far they are from the feeds, streams that lead
// back aside.
func (f *Flowsheet) lay(m measure) *layout {
	l := &layout{f: f, measure: m}
	backs := f.leadBack()
	columns := f.columnsOf(backs)
	steps := make([]int, len(f.steps))
	for u := range f.steps {
		steps[u] = l.add(node{kind: stepNode, index: u, column: columns[u]})
	}
	for at, s := range f.flows {
		var from, to int
		switch {
		case s.from < 0 && s.to < 0:
			continue
		case s.from < 0:
			to = steps[s.to]
			from = l.add(node{kind: feedNode, index: at, column: columns[s.to] - 1})
		case s.to < 0:
			from = steps[s.from]
			to = l.add(node{kind: productNode, index: at, column: columns[s.from] + 1})
		default:
			from, to = steps[s.from], steps[s.to]
		}
		l.join(at, from, to, backs[at])
	}
	for k := range l.nodes {
		n := &l.nodes[k]
		for len(l.columns) <= n.column {
			l.columns = append(l.columns, nil)
		}
		l.columns[n.column] = append(l.columns[n.column], k)
		n.height = m.size(*n, l.linksOf(k))
	}
	l.leave, l.arrive = make([]float64, len(l.links)), make([]float64, len(l.links))
	l.sort()
	l.settle()
	return l
}

func (l *layout) add(n node) int {
	l.nodes = append(l.nodes, n)
	return len(l.nodes) - 1
}

// join adds a link, with a node to pass in each column between.
func (l *layout) join(at, from, to int, back bool) {
	path := []int{from}
	if !back {
		for c := l.nodes[from].column + 1; c < l.nodes[to].column; c++ {
			path = append(path, l.add(node{kind: passing, index: at, column: c}))
		}
	}
	l.links = append(l.links, link{at, append(path, to), back})
}

func (l *layout) linksOf(k int) []link {
	var links []link
	for _, e := range l.links {
		if slices.Contains(e.path, k) {
			links = append(links, e)
		}
	}
	return links
}

// leadBack finds the flows that lead to a step still being followed from the
// feeds.
func (f *Flowsheet) leadBack() []bool {
	back := make([]bool, len(f.flows))
	const open, done = 1, 2
	state := make([]int, len(f.steps))
	var follow func(u int)
	follow = func(u int) {
		state[u] = open
		for _, at := range f.outlets[u] {
			if to := f.flows[at].to; to >= 0 {
				back[at] = state[to] == open
				if state[to] == 0 {
					follow(to)
				}
			}
		}
		state[u] = done
	}
	for at := range f.feeds {
		if to := f.flows[at].to; to >= 0 && state[to] == 0 {
			follow(to)
		}
	}
	return back
}

// columnsOf is the longest way to each step from a feed, which stands in column
// 0 or further.
func (f *Flowsheet) columnsOf(back []bool) []int {
	columns := make([]int, len(f.steps))
	for u := range columns {
		columns[u] = 1
	}
	for range f.steps {
		for at, s := range f.flows {
			if s.from >= 0 && s.to >= 0 && !back[at] {
				columns[s.to] = max(columns[s.to], columns[s.from]+1)
			}
		}
	}
	return columns
}

// neighbours are the nodes that links join to one, before and behind it.
func (l *layout) neighbours(k int) (before, behind []int) {
	for _, e := range l.links {
		if e.back {
			continue
		}
		if at := slices.Index(e.path, k); at >= 0 {
			if at > 0 {
				before = append(before, e.path[at-1])
			}
			if at+1 < len(e.path) {
				behind = append(behind, e.path[at+1])
			}
		}
	}
	return before, behind
}

// sort orders columns so that links cross little: each node by the mean place of
// its neighbours in the column before, then behind, a few times (K. Sugiyama and
// others, IEEE Trans. Syst. Man Cybern. 11 (1981) 109). Those from which something
// leads back, which runs below, stand lowest.
func (l *layout) sort() {
	place := make([]float64, len(l.nodes))
	number := func(column []int) {
		for i, k := range column {
			place[k] = float64(i)
		}
	}
	for _, column := range l.columns {
		number(column)
	}
	for sweep := range 8 {
		for c := range l.columns {
			at := c
			if sweep%2 == 1 {
				at = len(l.columns) - 1 - c
			}
			wish := map[int]float64{}
			for _, k := range l.columns[at] {
				before, behind := l.neighbours(k)
				if sweep%2 == 1 {
					before, behind = behind, before
				}
				wish[k] = mean(before, place, place[k])
				if l.turnsBack(k) {
					wish[k] += 1e3
				}
			}
			slices.SortStableFunc(l.columns[at], func(a, b int) int {
				switch {
				case wish[a] < wish[b]:
					return -1
				case wish[a] > wish[b]:
					return 1
				}
				return 0
			})
			number(l.columns[at])
		}
	}
}

// turnsBack reports whether a link that leads back leaves a node.
func (l *layout) turnsBack(k int) bool {
	return slices.ContainsFunc(l.links, func(e link) bool { return e.back && e.path[0] == k })
}

func mean(nodes []int, of []float64, otherwise float64) float64 {
	if len(nodes) == 0 {
		return otherwise
	}
	var sum float64
	for _, k := range nodes {
		sum += of[k]
	}
	return sum / float64(len(nodes))
}

// settle moves each node to where its links run straight, as far as those beside
// it in its column allow.
func (l *layout) settle() {
	y := make([]float64, len(l.nodes))
	put := func() {
		for k := range l.nodes {
			l.nodes[k].y = y[k]
		}
		l.putEnds()
	}
	for _, column := range l.columns {
		l.spread(column, y, make([]float64, len(l.nodes)), l.measure.gap)
	}
	put()
	for range 24 {
		for _, column := range l.columns {
			wish := slices.Clone(y)
			for _, k := range column {
				if at, count := l.straightAt(k, y); count > 0 {
					wish[k] = at / float64(count)
				}
			}
			l.spread(column, y, wish, l.measure.gap)
		}
		put()
	}
	top := infinity
	for k, n := range l.nodes {
		top = min(top, y[k]-n.height/2)
	}
	for k := range y {
		y[k] -= top
	}
	put()
}

// straightAt adds up the places of a node at which one of its links is straight.
func (l *layout) straightAt(k int, y []float64) (sum float64, count int) {
	for e, line := range l.links {
		at := slices.Index(line.path, k)
		if line.back || at < 0 {
			continue
		}
		for _, other := range []int{at - 1, at + 1} {
			if other >= 0 && other < len(line.path) {
				sum += y[line.path[other]] + l.offset(e, other) - l.offset(e, at)
				count++
			}
		}
	}
	return sum, count
}

// offset is where a link meets a node of its path, from the node's middle.
func (l *layout) offset(e, part int) float64 {
	switch part {
	case 0:
		return l.leave[e]
	case len(l.links[e].path) - 1:
		return l.arrive[e]
	}
	return 0
}

// putEnds finds where links meet their nodes.
func (l *layout) putEnds() {
	for k, n := range l.nodes {
		leaving, arriving := l.ends(k)
		for i, at := range l.measure.leave(n, l.linksAt(leaving)) {
			l.leave[leaving[i]] = at
		}
		for i, at := range l.measure.arrive(n, l.linksAt(arriving)) {
			l.arrive[arriving[i]] = at
		}
	}
}

func (l *layout) linksAt(indices []int) []link {
	links := make([]link, len(indices))
	for i, e := range indices {
		links[i] = l.links[e]
	}
	return links
}

// spread gives the nodes of a column the places nearest to those wished for in
// which none overlaps: nodes that would are moved together as a block.
func (l *layout) spread(column []int, y, wish []float64, gap float64) {
	type group struct {
		sum   float64 // of the places that its members wish for the first of them
		count int
	}
	offset := 0.0 // of a node from the first of the column, if all lie close
	offsets := make([]float64, len(column))
	var groups []group
	for i, k := range column {
		if i > 0 {
			offset += (l.nodes[column[i-1]].height+l.nodes[k].height)/2 + gap
		}
		offsets[i] = offset
		groups = append(groups, group{wish[k] - offset, 1})
		for n := len(groups); n > 1 && groups[n-2].sum/float64(groups[n-2].count) > groups[n-1].sum/float64(groups[n-1].count); n-- {
			groups[n-2] = group{groups[n-2].sum + groups[n-1].sum, groups[n-2].count + groups[n-1].count}
			groups = groups[:n-1]
		}
	}
	i := 0
	for _, g := range groups {
		for range g.count {
			y[column[i]] = g.sum/float64(g.count) + offsets[i]
			i++
		}
	}
}

// bottom is the lowest edge of all nodes.
func (l *layout) bottom() float64 {
	var low float64
	for _, n := range l.nodes {
		low = max(low, n.y+n.height/2)
	}
	return low
}

// ends are the links that leave a node and those that arrive, each from the top:
// by where they lead, those that lead back at the bottom.
func (l *layout) ends(k int) (leaving, arriving []int) {
	for e, line := range l.links {
		if line.path[0] == k {
			leaving = append(leaving, e)
		}
		if line.path[len(line.path)-1] == k {
			arriving = append(arriving, e)
		}
	}
	by := func(toward func(e link) int) func(a, b int) int {
		return func(a, b int) int {
			if l.links[a].back != l.links[b].back {
				if l.links[a].back {
					return 1
				}
				return -1
			}
			ya, yb := l.nodes[toward(l.links[a])].y, l.nodes[toward(l.links[b])].y
			switch {
			case ya < yb:
				return -1
			case ya > yb:
				return 1
			}
			return 0
		}
	}
	slices.SortStableFunc(leaving, by(func(e link) int { return e.path[1] }))
	slices.SortStableFunc(arriving, by(func(e link) int { return e.path[len(e.path)-2] }))
	return leaving, arriving
}
