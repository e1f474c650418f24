package flowsheet

import "slices"

// block is steps that are worked out together, in order: one step, or a group
// that recycles join, with the flows at which the ring is cut.
type block struct {
	steps []int
	tears []int
}

// order is the blocks of the plant from feed to product.
func (f *Flowsheet) order() []block {
	var blocks []block
	for _, group := range f.groups() {
		blocks = append(blocks, f.cut(group))
	}
	return blocks
}

// groups are the strongly connected groups of steps, in the order of flow (R.
// Tarjan, SIAM J. Comput. 1 (1972) 146).
func (f *Flowsheet) groups() [][]int {
	const unseen = -1
	index, low := make([]int, len(f.steps)), make([]int, len(f.steps))
	on := make([]bool, len(f.steps))
	for u := range index {
		index[u] = unseen
	}
	var stack []int
	var groups [][]int
	count := 0
	var visit func(u int)
	visit = func(u int) {
		index[u], low[u] = count, count
		count++
		stack, on[u] = append(stack, u), true
		for _, at := range f.outlets[u] {
			v := f.flows[at].to
			switch {
			case v < 0:
			case index[v] == unseen:
				visit(v)
				low[u] = min(low[u], low[v])
			case on[v]:
				low[u] = min(low[u], index[v])
			}
		}
		if low[u] != index[u] {
			return
		}
		for at := len(stack) - 1; ; at-- {
			on[stack[at]] = false
			if stack[at] == u {
				groups = append(groups, slices.Clone(stack[at:]))
				stack = stack[:at]
				return
			}
		}
	}
	for u := range f.steps {
		if index[u] == unseen {
			visit(u)
		}
	}
	slices.Reverse(groups) // they are found from the products up
	return groups
}

// mostTried is how many selections of flows are looked through for the fewest cuts.
const mostTried = 4000

// cut finds the fewest flows of a group without which nothing goes round, or, in a
// large group, some that do.
func (f *Flowsheet) cut(group []int) block {
	inside := f.inside(group)
	selections := 1
	for count := 0; count <= len(inside) && selections <= mostTried; count++ {
		var found *block
		choose(inside, count, func(tears []int) bool {
			if steps, ok := f.straight(group, tears); ok {
				found = &block{steps, slices.Clone(tears)}
			}
			return found != nil
		})
		if found != nil {
			return *found
		}
		selections = selections * (len(inside) - count) / (count + 1)
	}
	return f.cutBack(group)
}

// cutBack cuts all that leads back as the steps are followed from the feeds: what
// is left runs forward (depth-first search).
func (f *Flowsheet) cutBack(group []int) block {
	back := f.leadBack()
	var tears []int
	for _, at := range f.inside(group) {
		if back[at] {
			tears = append(tears, at)
		}
	}
	steps, ok := f.straight(group, tears)
	if !ok {
		panic("flowsheet: a group still runs in circles after its cuts") // which depth-first search rules out
	}
	return block{steps, tears}
}

// inside are the flows between steps of a group.
func (f *Flowsheet) inside(group []int) []int {
	var flows []int
	for at, s := range f.flows {
		if slices.Contains(group, s.from) && slices.Contains(group, s.to) {
			flows = append(flows, at)
		}
	}
	return flows
}

// choose calls try with each selection of count flows until it says true.
func choose(flows []int, count int, try func(chosen []int) bool) bool {
	if count == 0 {
		return try(nil)
	}
	for k := 0; k+count <= len(flows); k++ {
		if choose(flows[k+1:], count-1, func(rest []int) bool { return try(append([]int{flows[k]}, rest...)) }) {
			return true
		}
	}
	return false
}

// straight is the steps of a group in the order of flow once the tears are cut;
// false if something still goes round.
func (f *Flowsheet) straight(group, tears []int) ([]int, bool) {
	waiting := slices.Sorted(slices.Values(group))
	var steps []int
	for len(waiting) > 0 {
		at := slices.IndexFunc(waiting, func(u int) bool {
			return !slices.ContainsFunc(f.inlets[u], func(in int) bool {
				return !slices.Contains(tears, in) && slices.Contains(waiting, f.flows[in].from)
			})
		})
		if at < 0 {
			return nil, false
		}
		steps = append(steps, waiting[at])
		waiting = slices.Delete(waiting, at, at+1)
	}
	return steps, true
}
