package flowsheet

import (
	"math"
	"slices"

	"cobber/stdlib/numeric"
)

// tolerance is by how much of the fresh feed a settled recycle may be off.
const tolerance = 1e-11

// Loop is how one group of recycles was solved.
type Loop struct {
	Cut      []string // the streams whose flows were sought
	Method   string   // "class by class", "accelerated" or "Newton"
	Passes   int      // how often the group was worked through
	Residual float64  // what comes back less what went in, summed over the classes of the cut streams, as a share of the fresh feed
	Worst    string   // the class that is furthest off, with its stream
	Furthest float64  // by how much, as a share of the fresh feed
}

// ring is the equation x = g(x) for flows that are not below 0.
type ring struct {
	g           func(x []float64) ([]float64, error)
	size, tears int
	scale       float64
	start       []float64 // the flows of the fresh feed, by which passes are probed
	passes      int
}

// call is g, counted.
func (r *ring) call(x []float64) ([]float64, error) {
	r.passes++
	return r.g(x)
}

// off is the sum of the differences as a share of the feed.
func (r *ring) off(x, back []float64) float64 {
	var sum float64
	for k := range x {
		sum += math.Abs(back[k] - x[k])
	}
	return sum / r.scale
}

// solve tries one way after another; the last pass leaves the streams as x says.
func (r *ring) solve() ([]float64, Loop, error) {
	x, back, err := r.classByClass()
	if err != nil {
		return nil, Loop{}, err
	}
	method := "class by class"
	if r.off(x, back) > tolerance {
		method = "accelerated"
		if x, back, err = r.accelerate(x, back); err != nil {
			return nil, Loop{}, err
		}
	}
	if r.off(x, back) > tolerance {
		method = "Newton"
		if x, back, err = r.newton(x, back); err != nil {
			return nil, Loop{}, err
		}
	}
	return x, Loop{Method: method, Passes: r.passes, Residual: r.off(x, back)}, nil
}

// classByClass takes g for linear, with each class by itself: from a pass of
// nothing and one for each cut stream it reads the equations of each class, and
// solves them. Where that is not so, x is a start for what follows.
func (r *ring) classByClass() (x, back []float64, err error) {
	nothing, err := r.call(make([]float64, r.size))
	if err != nil {
		return nil, nil, err
	}
	n := r.size / r.tears
	slopes := make([][]float64, r.tears) // of every cut stream, by that fed back
	for t := range slopes {
		probe := make([]float64, r.size)
		copy(probe[t*n:], r.start)
		if slopes[t], err = r.call(probe); err != nil {
			return r.passFrom(nothing) // a feed no unit takes; begin with what there is
		}
		for k := range slopes[t] {
			if part := r.start[k%n]; part > 0 {
				slopes[t][k] = (slopes[t][k] - nothing[k]) / part
			} else {
				slopes[t][k] = 0
			}
		}
	}
	x = make([]float64, r.size)
	for k := range n {
		r.solveClass(k, n, slopes, nothing, x)
	}
	return r.passFrom(x)
}

// solveClass solves the equations of one class over all cut streams. A class
// without a sound solution begins with what a pass of nothing brings.
func (r *ring) solveClass(k, n int, slopes [][]float64, nothing, x []float64) {
	rows, right := make([][]float64, r.tears), make([]float64, r.tears)
	for to := range rows {
		rows[to] = make([]float64, r.tears)
		for from := range rows {
			rows[to][from] = -slopes[from][to*n+k]
		}
		rows[to][to]++
		right[to] = nothing[to*n+k]
	}
	found, condition := numeric.Solve(rows, right)
	sound := found != nil && condition < 1e10
	for t := range right {
		if sound && !(found[t] >= 0 && found[t] < 1e6*r.scale) {
			sound = false
		}
	}
	for t := range right {
		x[t*n+k] = right[t]
		if sound {
			x[t*n+k] = found[t]
		}
	}
}

func (r *ring) passFrom(x []float64) ([]float64, []float64, error) {
	back, err := r.call(x)
	return x, back, err
}

// Of the accelerated passes: how many are kept to mix, how many are made.
const (
	memory    = 12
	maxPasses = 300
)

// accelerate mixes passes so that the differences of the mixture are least.
func (r *ring) accelerate(x, back []float64) ([]float64, []float64, error) {
	var steps, changes [][]float64 // of back, and of back − x, from pass to pass
	best, bestBack, bestOff := x, back, r.off(x, back)
	for pass := 0; pass < maxPasses && bestOff > tolerance; pass++ {
		residual := difference(back, x)
		next := slices.Clone(back)
		for j, weight := range leastSquares(changes, residual) {
			for k := range next {
				next[k] -= weight * steps[j][k]
			}
		}
		for k := range next {
			next[k] = max(next[k], 0)
		}
		nextBack, err := r.call(next)
		if err != nil { // a mixture no unit takes: take the plain pass
			next = back
			if nextBack, err = r.call(next); err != nil {
				return nil, nil, err
			}
		}
		off := r.off(next, nextBack)
		if math.IsNaN(off) || off > 1e9 {
			break
		}
		steps, changes = append(steps, difference(nextBack, back)), append(changes, difference(difference(nextBack, next), residual))
		if len(steps) > memory {
			steps, changes = steps[1:], changes[1:]
		}
		if off > 100*bestOff { // a bad mixture: forget what led there
			steps, changes = nil, nil
		}
		x, back = next, nextBack
		if off < bestOff {
			best, bestBack, bestOff = x, back, off
		}
	}
	return r.settleOn(best, bestBack, x)
}

// settleOn makes the last pass that of best, so that the streams are its own.
func (r *ring) settleOn(best, bestBack, last []float64) ([]float64, []float64, error) {
	if slices.Equal(best, last) {
		return best, bestBack, nil
	}
	return r.passFrom(best)
}

func difference(a, b []float64) []float64 {
	d := make([]float64, len(a))
	for k := range a {
		d[k] = a[k] - b[k]
	}
	return d
}

// leastSquares is the weights of columns that come nearest to right, by
// orthogonal columns; columns that add nothing new weigh nothing.
func leastSquares(columns [][]float64, right []float64) []float64 {
	m := len(columns)
	if m == 0 {
		return nil
	}
	unit, upper, along := make([][]float64, m), make([][]float64, m), make([]float64, m)
	for j := m - 1; j >= 0; j-- { // the newest first: they matter most
		q := slices.Clone(columns[j])
		whole := norm(q)
		upper[j] = make([]float64, m)
		for i := m - 1; i > j; i-- {
			if unit[i] != nil {
				upper[j][i] = dot(unit[i], q)
				for k := range q {
					q[k] -= upper[j][i] * unit[i][k]
				}
			}
		}
		length := norm(q)
		if length <= 1e-12*whole || length == 0 {
			continue
		}
		for k := range q {
			q[k] /= length
		}
		unit[j], upper[j][j], along[j] = q, length, dot(q, right)
	}
	weights := make([]float64, m)
	for j := range m { // the oldest depends on none that follows
		if unit[j] == nil {
			continue
		}
		sum := along[j]
		for i := range j {
			sum -= upper[i][j] * weights[i]
		}
		weights[j] = sum / upper[j][j]
	}
	return weights
}

func dot(a, b []float64) float64 {
	var sum float64
	for k := range a {
		sum += a[k] * b[k]
	}
	return sum
}

func norm(a []float64) float64 { return math.Sqrt(dot(a, a)) }

// newton solves with a Jacobian by differences, halving steps that do not help.
func (r *ring) newton(x, back []float64) ([]float64, []float64, error) {
	for range 20 {
		before := r.off(x, back)
		if before <= tolerance {
			break
		}
		step, err := r.newtonStep(x, back)
		if err != nil || step == nil {
			break
		}
		better := false
		for half := 1.0; half > 1e-3 && !better; half /= 2 {
			next := make([]float64, len(x))
			for k := range x {
				next[k] = max(0, x[k]+half*step[k])
			}
			if nextBack, err := r.call(next); err == nil && r.off(next, nextBack) < before {
				x, back, better = next, nextBack, true
			}
		}
		if !better {
			break
		}
	}
	return r.passFrom(x)
}

func (r *ring) newtonStep(x, back []float64) ([]float64, error) {
	n := len(x)
	rows := make([][]float64, n)
	for i := range rows {
		rows[i] = make([]float64, n)
		rows[i][i] = 1
	}
	for k := range x {
		moved := slices.Clone(x)
		h := max(1e-6*x[k], 1e-9*r.scale)
		moved[k] += h
		changed, err := r.call(moved)
		if err != nil {
			return nil, err
		}
		for i := range rows {
			rows[i][k] -= (changed[i] - back[i]) / h
		}
	}
	step, _ := numeric.Solve(rows, difference(back, x))
	return step, nil
}
