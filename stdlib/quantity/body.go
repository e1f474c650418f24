package quantity

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// body is the samples of an uncertain quantity, or the arithmetic that they come
// from. Arithmetic only notes what is to be done; when somebody looks at a result,
// all that leads to it is done at once, a few hundred samples at a time, so that
// what comes between stays near the processor and is not kept.
type body struct {
	ready   atomic.Pointer[drawn]
	formula atomic.Pointer[formula] // nil once ready
	uses    atomic.Int32            // by how many formulas it is used
}

// drawn is finished samples and their mean. They are never changed.
type drawn struct {
	samples []float64
	mean    float64
}

// formula is one step of arithmetic, on one or two bodies. An operand that is nil
// is the number beside it.
type formula struct {
	op           operation
	a, b         *body
	numA, numB   float64
	sign         float64               // of b in a sum
	scale        ratio                 // what to do to the result
	f            func(float64) float64 // of a, for a function
	count, steps int                   // samples; formulas below and with this one, at most
}

type operation uint8

const (
	scaling operation = iota
	adding
	multiplying
	dividing
	function
)

// mostSteps bounds how much arithmetic is put off; what goes beyond is done.
const mostSteps = 32

func finished(samples []float64) *body {
	b := &body{}
	b.ready.Store(&drawn{samples, mean(samples)})
	return b
}

// later notes a formula.
func later(f formula) *body {
	f.steps = 1
	for _, operand := range []*body{f.a, f.b} {
		if operand == nil {
			continue
		}
		operand.uses.Add(1)
		f.steps += operand.steps()
	}
	if f.steps > mostSteps {
		f.steps = 1
		for _, operand := range []*body{f.a, f.b} {
			if operand != nil {
				operand.draw()
			}
		}
	}
	b := &body{}
	b.formula.Store(&f)
	return b
}

func (b *body) steps() int {
	if f := b.formula.Load(); f != nil {
		return f.steps
	}
	return 0
}

// draw is the samples, worked out if they are not yet. Two goroutines that ask at
// once may both do the work; they come to the same.
func (b *body) draw() *drawn {
	if d := b.ready.Load(); d != nil {
		return d
	}
	if f := b.formula.Load(); f != nil {
		newPlan(b, f.count).run()
	}
	return b.ready.Load()
}

// plan is the formulas that lead to one body, operands first.
type plan struct {
	count  int
	steps  []step
	places map[*body]int
}

// step is one body of a plan.
type step struct {
	body    *body
	formula *formula  // nil for what was ready
	a, b    int       // places of the operands; -1 for a number
	inside  int       // by how many formulas of the plan it is used
	samples []float64 // of what was ready and of what is kept
	sums    []float64 // of each block, for the mean of what is kept
}

// block is how many samples are taken at a time: those of a plan fit the cache.
const block = 512

func newPlan(root *body, count int) *plan {
	p := &plan{count: count, places: map[*body]int{}}
	p.add(root)
	for i := range p.steps {
		s := &p.steps[i]
		if s.formula != nil && (s.body == root || int(s.body.uses.Load()) > s.inside) {
			s.samples = make([]float64, count)
			s.sums = make([]float64, (count+block-1)/block)
		}
	}
	return p
}

// add puts a body behind what it needs, and gives its place. The result is kept,
// and what formulas outside the plan use.
func (p *plan) add(b *body) int {
	if b == nil {
		return -1
	}
	if at, known := p.places[b]; known {
		p.steps[at].inside++
		return at
	}
	s := step{body: b, a: -1, b: -1, inside: 1}
	if s.formula = b.formula.Load(); s.formula != nil {
		s.a, s.b = p.add(s.formula.a), p.add(s.formula.b)
	}
	// The formula is taken away only after the samples are there.
	if d := b.ready.Load(); d != nil {
		s.formula, s.samples = nil, d.samples
	}
	p.places[b] = len(p.steps)
	p.steps = append(p.steps, s)
	return len(p.steps) - 1
}

// enoughWork is from how many results on a second processor pays.
const enoughWork = 50_000

func (p *plan) run() {
	blocks := (p.count + block - 1) / block
	workers := 1
	if p.count*len(p.steps) >= enoughWork {
		workers = min(runtime.GOMAXPROCS(0), 4, blocks)
	}
	if workers == 1 {
		p.runBlocks(0, blocks)
	} else {
		var group sync.WaitGroup
		for w := range workers {
			group.Go(func() { p.runBlocks(blocks*w/workers, blocks*(w+1)/workers) })
		}
		group.Wait()
	}
	for _, s := range p.steps {
		if s.sums == nil {
			continue
		}
		total := 0.0
		for _, sum := range s.sums {
			total += sum
		}
		s.body.ready.Store(&drawn{s.samples, total / float64(p.count)})
		s.body.formula.Store(nil)
	}
}

// runBlocks works out some blocks of all steps.
func (p *plan) runBlocks(from, to int) {
	scratch := make([]float64, len(p.steps)*block)
	now := make([][]float64, len(p.steps)) // the samples of this block
	for k := from; k < to; k++ {
		low, high := k*block, min((k+1)*block, p.count)
		for i := range p.steps {
			s := &p.steps[i]
			if s.samples != nil {
				now[i] = s.samples[low:high]
			} else {
				now[i] = scratch[i*block : i*block+high-low]
			}
			if s.formula == nil {
				continue
			}
			s.formula.work(now[i], operandOf(now, s.a), operandOf(now, s.b))
			if s.sums != nil {
				s.sums[k] = sumOf(now[i])
			}
		}
	}
}

func operandOf(now [][]float64, at int) []float64 {
	if at < 0 {
		return nil
	}
	return now[at]
}

// work does one step for one block. a and b are as long as out, or nil for the
// number of the formula.
func (f *formula) work(out, a, b []float64) {
	switch f.op {
	case scaling:
		r := f.scale
		a = a[:len(out)]
		for i := range out {
			out[i] = a[i]*r.num/r.den + r.shift
		}
		return
	case function:
		for i, v := range a {
			out[i] = f.f(v)
		}
		return
	case adding:
		f.addTo(out, a, b)
	case multiplying:
		multiplyTo(out, a, b, f.numA)
	case dividing:
		divideTo(out, a, b, f.numA, f.numB)
	}
	f.scale.inPlace(out)
}

func (f *formula) addTo(out, a, b []float64) {
	switch {
	case a == nil:
		for i, v := range b[:len(out)] {
			out[i] = f.numA + f.sign*v
		}
	case b == nil:
		number := f.sign * f.numB
		for i, v := range a[:len(out)] {
			out[i] = v + number
		}
	case f.sign > 0:
		addEach(out, a, b)
	default:
		subtractEach(out, a, b)
	}
}

func multiplyTo(out, a, b []float64, number float64) {
	if a == nil {
		for i, v := range b[:len(out)] {
			out[i] = number * v
		}
		return
	}
	multiplyEach(out, a, b)
}

func divideTo(out, a, b []float64, over, under float64) {
	switch {
	case a == nil:
		for i, v := range b[:len(out)] {
			out[i] = over / v
		}
	case b == nil:
		for i, v := range a[:len(out)] {
			out[i] = v / under
		}
	default:
		a, b = a[:len(out)], b[:len(out)]
		for i := range out {
			out[i] = a[i] / b[i]
		}
	}
}
