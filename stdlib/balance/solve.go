package balance

import (
	"errors"
	"math"
	"slices"

	"cobber/stdlib/numeric"
)

const (
	// pull holds figures that were not measured near where they are, in their
	// scales, so that the equations have an answer even where nothing tells them.
	pull = 1e-6
	// give is how far the constraints may give way, so that those that follow from
	// others do no harm.
	give = 1e-12
	// loose is the variance, in scales, above which a figure counts as not told.
	loose = 1e-3 / pull
)

// step is one round of adjustments.
type step struct {
	change  []float64 // of each variable
	variety []float64 // of each variable as adjusted: its variance in scales, by place
	factor  *numeric.Factored
	size    int // how many equations
}

// step finds the changes that make the weighted squares of the adjustments least
// while the constraints, taken as straight from here, hold:
//
//	H·dx + Jᵀ·λ = −H·(x − given)
//	J·dx        = −g
//
// with H the inverse variances. All figures are counted in their scales and each
// constraint in its largest slope.
func (p *problem) step(matrix *numeric.Symmetric) (step, bool) {
	free := 0
	for _, v := range p.variables {
		free = max(free, v.place+1)
	}
	right := make([]float64, free+len(p.constraints))
	matrix.Clear()
	for _, v := range p.variables {
		if v.place < 0 {
			continue
		}
		weight := pull
		if v.measured {
			weight = v.scale * v.scale / (v.deviation * v.deviation)
			right[v.place] = -weight * (v.value - v.given) / v.scale
		}
		matrix.Add(v.place, v.place, weight)
	}
	for _, w := range p.weights {
		a, b := p.variables[w.a], p.variables[w.b]
		matrix.Add(a.place, b.place, w.weight)
		right[a.place] -= w.weight * (b.value - b.given) / b.scale
		if w.a != w.b {
			right[b.place] -= w.weight * (a.value - a.given) / a.scale
		}
	}
	for i, c := range p.constraints {
		row := free + i
		slopes, residual := p.slopes(c)
		largest := 0.0
		for _, s := range slopes {
			largest = max(largest, math.Abs(s.factor))
		}
		matrix.Add(row, row, -give)
		if largest == 0 {
			continue
		}
		for _, s := range slopes {
			matrix.Add(row, p.variables[s.a].place, s.factor/largest)
		}
		right[row] = -residual / largest
	}
	factor, ok := matrix.Factor()
	if !ok {
		return step{}, false
	}
	return p.read(matrix, factor, right), true
}

// slopes are those of a constraint by each figure that may change, in scales, and
// by how much it does not hold.
func (p *problem) slopes(c constraint) (slopes []term, residual float64) {
	residual = -c.total
	for _, t := range c.terms {
		a := p.variables[t.a]
		if t.b < 0 {
			residual += t.factor * a.value
			if a.place >= 0 {
				slopes = append(slopes, term{t.factor * a.scale, t.a, -1})
			}
			continue
		}
		b := p.variables[t.b]
		residual += t.factor * a.value * b.value
		if a.place >= 0 {
			slopes = append(slopes, term{t.factor * b.value * a.scale, t.a, -1})
		}
		if b.place >= 0 {
			slopes = append(slopes, term{t.factor * a.value * b.scale, t.b, -1})
		}
	}
	return slopes, residual
}

// read solves and refines: what pull and give have bent is put right in a few
// rounds with the same factor.
func (p *problem) read(matrix *numeric.Symmetric, factor *numeric.Factored, right []float64) step {
	x := factor.Solve(right)
	for range 4 {
		product := matrix.Times(x)
		for i := range product {
			product[i] = right[i] - product[i]
		}
		for _, v := range p.variables { // without the pull
			if v.place >= 0 && !v.measured {
				product[v.place] += pull * x[v.place]
			}
		}
		for i := len(right) - len(p.constraints); i < len(right); i++ { // without the give
			product[i] -= give * x[i]
		}
		for i, dx := range factor.Solve(product) {
			x[i] += dx
		}
	}
	s := step{change: make([]float64, len(p.variables)), factor: factor, size: len(right)}
	for i, v := range p.variables {
		if v.place >= 0 {
			s.change[i] = x[v.place] * v.scale
		}
	}
	return s
}

// told are the variances after adjusting; of the figures that were not measured only,
// if so asked. The quick way to all of them needs pivots of one size, which figures
// without measurement do not have.
func (p *problem) told(s *step, all bool) {
	unmeasured := slices.ContainsFunc(p.variables, func(v variable) bool { return v.place >= 0 && !v.measured })
	if !unmeasured && all {
		s.variety = s.factor.InverseDiagonal()
		return
	}
	s.variety = make([]float64, s.size)
	var places []int
	for _, v := range p.variables {
		if v.place >= 0 && (all || !v.measured) {
			places = append(places, v.place)
		}
	}
	for i, entry := range s.factor.InverseEntries(places) {
		s.variety[places[i]] = entry
	}
}

// solve adjusts the figures until no step changes them any more. It is the method
// of successive linear steps for least squares under constraints.
func (p *problem) solve() (step, error) {
	free := 0
	for _, v := range p.variables {
		free = max(free, v.place+1)
	}
	matrix := numeric.NewSymmetric(free + len(p.constraints))
	for round := range 200 {
		s, ok := p.step(matrix)
		if !ok {
			return step{}, errors.New("balance: the equations of this network have no answer; look at the streams and what is exact")
		}
		p.told(&s, false)
		largest := 0.0
		damping := 1.0
		if round > 20 { // steps that go to and fro are halved
			damping = 0.5
		}
		for i, change := range s.change {
			v := &p.variables[i]
			if v.place < 0 {
				continue
			}
			next := v.value + damping*change
			if v.component < 0 && !v.measured && next <= 0 && round < 10 {
				next = v.value / 4 // a flow that was only guessed shall not turn round on the way
			}
			if v.measured || s.variety[v.place] < loose { // what nothing tells may wander
				largest = max(largest, math.Abs(next-v.value)/v.scale)
			}
			v.value = next
		}
		if math.IsNaN(largest) || math.IsInf(largest, 0) {
			break
		}
		if largest < 1e-9 {
			p.told(&s, true)
			return s, nil
		}
	}
	return step{}, errors.New("balance: the adjustment does not settle; the measurements contradict one another too much, or too few flows are known: look at Closure")
}
