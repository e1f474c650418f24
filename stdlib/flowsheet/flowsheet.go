package flowsheet

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"cobber/stdlib/stream"
)

// Flowsheet is a plant: feeds, and steps joined by streams. It does not change.
// Make one with New.
type Flowsheet struct {
	name    string
	feeds   []stream.Stream
	steps   []Step
	flows   []flow
	inlets  [][]int // of each step: indices in flows
	outlets [][]int // of each step, in the order of its products
	blocks  []block
}

// flow is a stream's place in the plant. It comes from a feed (step -1) or a
// step's product, and goes to a step, or out of the plant (-1).
type flow struct {
	name     string
	from, to int
	product  int
}

// New joins steps to a plant that gets the feeds.
//
// Units: feeds are streams on one *Classes. A step takes streams by name: a feed's,
// or a unit and its product as in "screen.oversize"; the unit alone where it has
// one product. Steps may stand in any order and take streams of later ones.
//
// Range: any number of steps and recycles. Clean water is a feed without solids.
//
// Errors: no feed or step; names that are empty, given twice or hold a dot; a step
// that takes nothing, or a stream that nobody makes, or that another takes; a step
// that no feed reaches, or from which nothing leaves; feeds on other classes.
//
// Source: common practice.
func New(name string, feeds []stream.Stream, steps ...Step) (*Flowsheet, error) {
	f := &Flowsheet{name: name, feeds: slices.Clone(feeds), steps: slices.Clone(steps)}
	if err := f.checkNames(); err != nil {
		return nil, err
	}
	for _, s := range feeds {
		f.flows = append(f.flows, flow{name: s.Name(), from: -1, to: -1})
	}
	f.inlets, f.outlets = make([][]int, len(steps)), make([][]int, len(steps))
	for u, step := range steps {
		for k, product := range step.Unit.Products() {
			f.outlets[u] = append(f.outlets[u], len(f.flows))
			f.flows = append(f.flows, flow{name: step.Name + "." + product, from: u, to: -1, product: k})
		}
	}
	if err := f.join(); err != nil {
		return nil, err
	}
	if err := f.checkPaths(); err != nil {
		return nil, err
	}
	f.blocks = f.order()
	return f, nil
}

// Name is the plant's name.
func (f *Flowsheet) Name() string { return f.name }

func (f *Flowsheet) checkNames() error {
	if len(f.feeds) == 0 || len(f.steps) == 0 {
		return errors.New("flowsheet: a plant needs at least one feed and one step")
	}
	taken := map[string]bool{}
	for _, s := range f.feeds {
		if s.Classes() == nil || s.Classes() != f.feeds[0].Classes() {
			return fmt.Errorf("flowsheet: feed %q is told on other classes than the first; make all streams on one *Classes", s.Name())
		}
		if err := fresh(taken, s.Name()); err != nil {
			return err
		}
	}
	for _, step := range f.steps {
		if err := fresh(taken, step.Name); err != nil {
			return err
		}
		if step.Unit == nil {
			return fmt.Errorf("flowsheet: %s has no unit", step.Name)
		}
		if err := checkProducts(step); err != nil {
			return err
		}
		if len(step.From) == 0 {
			return fmt.Errorf("flowsheet: %s takes no stream", step.Name)
		}
	}
	return nil
}

func fresh(taken map[string]bool, name string) error {
	switch {
	case name == "" || strings.Contains(name, "."):
		return fmt.Errorf("flowsheet: %q is no name for a feed or a step: it must not be empty or hold a dot", name)
	case taken[name]:
		return fmt.Errorf("flowsheet: two feeds or steps are called %q", name)
	}
	taken[name] = true
	return nil
}

// join finds the streams that each step takes.
func (f *Flowsheet) join() error {
	for u, step := range f.steps {
		for _, name := range step.From {
			at, err := f.find(name)
			if err != nil {
				return fmt.Errorf("flowsheet: %s takes %q: %w", step.Name, name, err)
			}
			if to := f.flows[at].to; to >= 0 {
				return fmt.Errorf("flowsheet: %s and %s both take %q; a Splitter parts a stream", f.steps[to].Name, step.Name, name)
			}
			f.flows[at].to = u
			f.inlets[u] = append(f.inlets[u], at)
		}
	}
	return nil
}

// find is the place of a stream of a name.
func (f *Flowsheet) find(name string) (int, error) {
	for at, s := range f.flows {
		if s.name == name {
			return at, nil
		}
	}
	for u, step := range f.steps {
		if step.Name == name {
			if _, alone := only(step.Unit); alone {
				return f.outlets[u][0], nil
			}
			return 0, fmt.Errorf("%s has several products; say which: %s", name, strings.Join(f.namesOf(f.outlets[u]), ", "))
		}
	}
	all := make([]int, len(f.flows))
	for at := range all {
		all[at] = at
	}
	return 0, fmt.Errorf("there is no such stream; there are %s", strings.Join(f.namesOf(all), ", "))
}

func (f *Flowsheet) namesOf(flows []int) []string {
	names := make([]string, len(flows))
	for k, at := range flows {
		names[k] = f.flows[at].name
	}
	return names
}

// checkPaths wants each step reached by a feed and left by a product.
func (f *Flowsheet) checkPaths() error {
	reached := f.spread(func(s flow) (bool, int, int) { return s.from < 0, s.from, s.to })
	left := f.spread(func(s flow) (bool, int, int) { return s.to < 0, s.to, s.from })
	for u, step := range f.steps {
		if !reached[u] {
			return fmt.Errorf("flowsheet: no feed reaches %s", step.Name)
		}
		if !left[u] {
			return fmt.Errorf("flowsheet: nothing leaves %s for good: all that it makes comes back", step.Name)
		}
	}
	return nil
}

// spread marks the steps that can be reached from where ends says; ways gives
// for a flow whether it begins there, where it comes from and where it leads.
func (f *Flowsheet) spread(ways func(s flow) (begins bool, from, to int)) []bool {
	marked := make([]bool, len(f.steps))
	for grown := true; grown; {
		grown = false
		for _, s := range f.flows {
			begins, from, to := ways(s)
			if to >= 0 && !marked[to] && (begins || marked[from]) {
				marked[to], grown = true, true
			}
		}
	}
	return marked
}

// products are the flows that leave the plant.
func (f *Flowsheet) products() []int {
	var out []int
	for at, s := range f.flows {
		if s.to < 0 {
			out = append(out, at)
		}
	}
	return out
}

// freshRate is all that is fed, in kg/s, solids and water.
func (f *Flowsheet) freshRate() float64 {
	var sum float64
	for _, s := range f.feeds {
		sum += s.Pulp().SI()
	}
	return math.Abs(sum)
}
