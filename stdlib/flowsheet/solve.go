package flowsheet

import (
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/stream"
)

// run is a plant while it is being solved.
type run struct {
	*Flowsheet
	streams []stream.Stream
	scale   float64 // kg/s fed
	found   []Loop
}

// Solve finds the steady state: every stream of the plant.
//
// Plants without recycles are worked out from feed to product. A group of steps
// that recycles join is cut at the fewest streams, whose flows x by class, and
// water, must come back as they went in, x = g(x):
//
//  1. "class by class": where units part each class by shares that do not depend
//     on the rest, g is linear and each class stands alone; a few passes give
//     its equations, which are solved.
//  2. "accelerated": otherwise passes are mixed by least squares (Anderson), which
//     for linear circuits with breakage is GMRES.
//  3. "Newton": where that does not settle, with a Jacobian by differences.
//
// Units: as the streams.
//
// Range: settled when what comes back differs from what went in by less than
// 10⁻¹¹ of the fresh feed. Less than 10⁻¹⁴ of it in a class of a cut stream is sent
// on as nothing: what shrinks with each pass would otherwise never end.
//
// Errors: what a unit refuses, with its name; products that do not close against
// a unit's feed; a circuit that does not settle, with the class that is furthest off;
// recycles so large that rounding hides what is fed.
//
// Source: D.G. Anderson, J. ACM 12 (1965) 547; H.F. Walker, P. Ni, SIAM J. Numer.
// Anal. 49 (2011) 1715.
func (f *Flowsheet) Solve() (*Result, error) {
	r := &run{Flowsheet: f, streams: make([]stream.Stream, len(f.flows)), scale: f.freshRate()}
	copy(r.streams, f.feeds)
	if r.scale == 0 {
		return nil, fmt.Errorf("flowsheet: %s: the feeds are empty", f.name)
	}
	for _, b := range f.blocks {
		if err := r.solveBlock(b); err != nil {
			return nil, fmt.Errorf("%s: %w", f.name, err)
		}
	}
	result := &Result{sheet: f, streams: r.streams, loops: r.found, fresh: r.scale}
	if err := result.checkUnits(); err != nil {
		return nil, err
	}
	if err := result.checkPlant(); err != nil {
		return nil, err
	}
	return result, nil
}

func (r *run) solveBlock(b block) error {
	if len(b.tears) == 0 {
		return r.pass(b)
	}
	n := r.classes().Sizes()*r.classes().Particles() + 1
	loop := ring{
		size: n * len(b.tears), tears: len(b.tears), scale: r.scale, start: r.flat(r.feeds[0], nil),
		g: func(x []float64) ([]float64, error) { return r.round(b, x) },
	}
	for _, s := range r.feeds[1:] {
		for k, x := range r.flat(s, nil) {
			loop.start[k] += x
		}
	}
	x, how, err := loop.solve()
	if err != nil {
		return err
	}
	for _, at := range b.tears {
		how.Cut = append(how.Cut, r.flows[at].name)
	}
	back, err := r.round(b, x)
	if err != nil {
		return err
	}
	worst := furthest(x, back)
	how.Worst = r.classAt(b, worst, n)
	how.Furthest = math.Abs(back[worst]-x[worst]) / r.scale
	if how.Residual > tolerance {
		return r.unsettled(how, x[worst], back[worst])
	}
	r.found = append(r.found, how)
	return nil
}

func (r *run) classes() *stream.Classes { return r.feeds[0].Classes() }

// negligible is the share of the fresh feed below which a class is empty.
const negligible = 1e-14

// round sends flows of the cut streams once round the group.
func (r *run) round(b block, x []float64) ([]float64, error) {
	n := len(x) / len(b.tears)
	sent := slices.Clone(x)
	for k := range sent {
		if sent[k] < negligible*r.scale {
			sent[k] = 0
		}
	}
	for k, at := range b.tears {
		s, err := r.unflat(r.flows[at].name, sent[k*n:(k+1)*n])
		if err != nil {
			return nil, err
		}
		r.streams[at] = s
	}
	if err := r.pass(b); err != nil {
		return nil, err
	}
	var back []float64
	for _, at := range b.tears {
		back = r.flat(r.streams[at], back)
	}
	return back, nil
}

// pass works out the steps of a block in turn.
func (r *run) pass(b block) error {
	for _, u := range b.steps {
		feed, err := r.feedOf(u)
		if err != nil {
			return err
		}
		products, err := r.apply(u, feed)
		if err != nil {
			return fmt.Errorf("%s: %w", r.steps[u].Name, err)
		}
		for k, at := range r.outlets[u] {
			r.streams[at] = products[k].Named(r.flows[at].name)
		}
	}
	return nil
}

func (r *run) feedOf(u int) (stream.Stream, error) {
	if len(r.inlets[u]) == 1 {
		return r.streams[r.inlets[u][0]], nil
	}
	streams := make([]stream.Stream, len(r.inlets[u]))
	for k, at := range r.inlets[u] {
		streams[k] = r.streams[at]
	}
	return stream.Mix("feed of "+r.steps[u].Name, streams...)
}

// apply calls the unit. One that gets nothing makes nothing: units need not say
// what they do with an empty feed, which every recycle begins with.
func (r *run) apply(u int, feed stream.Stream) ([]stream.Stream, error) {
	want := len(r.outlets[u])
	if feed.WaterFlow() == 0 && empty(feed) {
		products := make([]stream.Stream, want)
		for k := range products {
			products[k] = feed
		}
		return products, nil
	}
	products, err := r.steps[u].Unit.Apply(feed)
	if err != nil {
		return nil, err
	}
	if len(products) != want {
		return nil, fmt.Errorf("flowsheet: it names %d products and made %d", want, len(products))
	}
	for k, s := range products {
		if s.Classes() != r.classes() {
			return nil, fmt.Errorf("flowsheet: its product %d is told on other classes", k+1)
		}
	}
	return products, nil
}

func empty(s stream.Stream) bool {
	c := s.Classes()
	for i := range c.Sizes() {
		for j := range c.Particles() {
			if s.Flow(i, j) != 0 {
				return false
			}
		}
	}
	return true
}

// flat appends the flows of a stream and its water.
func (r *run) flat(s stream.Stream, to []float64) []float64 {
	c := r.classes()
	for i := range c.Sizes() {
		for j := range c.Particles() {
			to = append(to, s.Flow(i, j))
		}
	}
	return append(to, s.WaterFlow())
}

// unflat is the stream of such flows.
func (r *run) unflat(name string, x []float64) (stream.Stream, error) {
	c := r.classes()
	rows := make([][]float64, c.Sizes())
	for i := range rows {
		rows[i] = x[i*c.Particles() : (i+1)*c.Particles()]
	}
	return stream.New(name, c, rows, kilograms(x[len(x)-1]))
}

// furthest is the class that differs most.
func furthest(x, back []float64) int {
	worst := 0
	for k := range x {
		if math.Abs(back[k]-x[k]) > math.Abs(back[worst]-x[worst]) {
			worst = k
		}
	}
	return worst
}

// classAt names a class of the cut streams.
func (r *run) classAt(b block, at, n int) string {
	c, name := r.classes(), r.flows[b.tears[at/n]].name
	if k := at % n; k < n-1 {
		return c.Size(k/c.Particles()) + " of " + c.Particle(k%c.Particles()).Name + " in " + name
	}
	return "water in " + name
}

// unsettled says which class keeps a recycle from settling.
func (r *run) unsettled(how Loop, in, back float64) error {
	return fmt.Errorf("flowsheet: a recycle does not settle: after %d passes it is still %.2g of the fresh feed off, most of all in %s, of which %.4g t/h went in and %.4g t/h came back. Where it grows, it has no way out, or the circuit has no steady state at this feed",
		how.Passes, how.Residual, how.Worst, 3.6*in, 3.6*back)
}
