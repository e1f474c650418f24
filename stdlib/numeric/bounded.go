package numeric

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Bounded is the answer of BoundedLeastSquares.
type Bounded struct {
	X        []float64 // within its bounds
	Residual []float64 // right − rows·X
	Unique   bool      // no other x within the bounds leaves as little
	Settled  bool      // the search came to its end; false only after very many steps
}

// BoundedLeastSquares is the x with low ≤ x ≤ high for which Σ (right − rows·x)²
// is least. If total is not NaN, the x also add up to total. With every low 0,
// every high +Inf and no total this is the non-negative least squares of Lawson
// and Hanson (Solving Least Squares Problems, 1974, ch. 23), which is the method
// used here: free the variable that helps most, solve, and stop at the first
// bound on the way.
//
// It panics if lengths differ, a low is not finite or above its high, or the
// total cannot be reached within the bounds.
func BoundedLeastSquares(rows [][]float64, right, low, high []float64, total float64) Bounded {
	s := newBounded(rows, right, low, high, total)
	settled := false
	for range 100 * (len(low) + 10) {
		if s.advance() {
			continue
		}
		if !s.release() {
			settled = true
			break
		}
	}
	return Bounded{X: s.x, Residual: s.residual(), Unique: s.unique(), Settled: settled}
}

type bounded struct {
	a         *mat.Dense
	right     []float64
	low, high []float64
	summed    bool // the x keep their sum
	x         []float64
	free      []bool
	tolerance float64 // below which a slope counts as none
}

func newBounded(rows [][]float64, right, low, high []float64, total float64) *bounded {
	n := len(low)
	if n == 0 || len(high) != n || len(rows) != len(right) || len(rows) == 0 {
		panic("numeric: bounded least squares needs a bound on both sides of each variable and a right side for each row")
	}
	s := &bounded{a: mat.NewDense(len(rows), n, nil), right: right, low: low, high: high,
		summed: !math.IsNaN(total), x: append([]float64(nil), low...), free: make([]bool, n)}
	for i, row := range rows {
		if len(row) != n {
			panic("numeric: a row of bounded least squares has the wrong length")
		}
		s.a.SetRow(i, row)
	}
	for j := range low {
		if math.IsInf(low[j], 0) || !(low[j] <= high[j]) {
			panic("numeric: a bound of bounded least squares is not finite or above its partner")
		}
		column := mat.Norm(s.a.ColView(j), 2)
		s.tolerance = math.Max(s.tolerance, column)
	}
	s.tolerance *= 1e-12 * mat.Norm(mat.NewVecDense(len(right), right), 2)
	if s.summed {
		s.fill(total)
	}
	return s
}

// fill opens all variables by the same part of their range until they add up.
func (s *bounded) fill(total float64) {
	missing := total - Sum(s.low...)
	room := make([]float64, len(s.x))
	for j := range room {
		room[j] = math.Min(s.high[j]-s.low[j], math.Max(missing, 0))
	}
	all := Sum(room...)
	slack := 1e-12 * math.Max(1, math.Abs(total))
	if missing < -slack || missing > all+slack {
		panic("numeric: no x within the bounds has that total")
	}
	if missing <= 0 || all == 0 {
		return
	}
	part := math.Min(1, missing/all)
	for j := range s.x {
		s.x[j] = s.low[j] + part*room[j]
		s.free[j] = s.x[j] > s.low[j] && s.x[j] < s.high[j]
	}
}

func (s *bounded) residual() []float64 {
	out := mat.NewVecDense(len(s.right), nil)
	out.MulVec(s.a, mat.NewVecDense(len(s.x), s.x))
	out.SubVec(mat.NewVecDense(len(s.right), s.right), out)
	return out.RawVector().Data
}

// advance moves the free variables to their best place, or to the first bound
// on the way, and reports whether that moved anything worth another look.
func (s *bounded) advance() bool {
	step := s.step()
	if step == nil {
		return false
	}
	part, stop := 1.0, -1
	for j, d := range step {
		var reach float64
		switch {
		case d < 0:
			reach = (s.low[j] - s.x[j]) / d
		case d > 0:
			reach = (s.high[j] - s.x[j]) / d
		default:
			continue
		}
		if reach < part {
			part, stop = reach, j
		}
	}
	part = math.Max(part, 0)
	for j, d := range step {
		if d == 0 {
			continue
		}
		s.x[j] += part * d
		switch {
		case d < 0 && (j == stop || s.x[j] <= s.low[j]):
			s.x[j], s.free[j] = s.low[j], false
		case d > 0 && (j == stop || s.x[j] >= s.high[j]):
			s.x[j], s.free[j] = s.high[j], false
		}
	}
	return stop >= 0
}

// columns are the free variables, and the matrix of what moving each does. When
// the sum is kept, each moves against the last free one.
func (s *bounded) columns() (free []int, m *mat.Dense) {
	for j, is := range s.free {
		if is {
			free = append(free, j)
		}
	}
	n := len(free)
	if s.summed {
		n--
	}
	if n < 1 {
		return free, nil
	}
	count, _ := s.a.Dims()
	m = mat.NewDense(count, n, nil)
	for k := range n {
		for i := range count {
			value := s.a.At(i, free[k])
			if s.summed {
				value -= s.a.At(i, free[n])
			}
			m.Set(i, k, value)
		}
	}
	return free, m
}

// step is the move of all variables that makes the residual least while those
// at a bound stay; nil if there is none to make.
func (s *bounded) step() []float64 {
	free, m := s.columns()
	if m == nil {
		return nil
	}
	move, _ := shortestSolution(m, s.residual())
	out := make([]float64, len(s.x))
	for k, d := range move {
		out[free[k]] = d
		if s.summed {
			out[free[len(move)]] -= d
		}
	}
	return out
}

// shortestSolution is the least squares solution of m·y = r, the shortest if
// there are several, and the rank of m.
func shortestSolution(m *mat.Dense, r []float64) ([]float64, int) {
	rows, columns := m.Dims()
	if rows >= columns {
		var qr mat.QR
		qr.Factorize(m)
		if qr.Cond() < 1e10 {
			var y mat.VecDense
			err := qr.SolveVecTo(&y, false, mat.NewVecDense(rows, r))
			var near mat.Condition
			if err == nil || errors.As(err, &near) {
				return y.RawVector().Data, columns
			}
		}
	}
	var svd mat.SVD
	if !svd.Factorize(m, mat.SVDThin) {
		return make([]float64, columns), 0
	}
	rank := svd.Rank(1e-12)
	if rank == 0 {
		return make([]float64, columns), 0
	}
	var y mat.VecDense
	svd.SolveVecTo(&y, mat.NewVecDense(rows, r), rank)
	return y.RawVector().Data, rank
}

// release frees the variable at a bound that would lower the residual most by
// leaving it, and reports whether there was one. When the sum is kept and
// nothing is free, two are released, one to rise and one to fall.
func (s *bounded) release() bool {
	slopes := mat.NewVecDense(len(s.x), nil)
	slopes.MulVec(s.a.T(), mat.NewVecDense(len(s.right), s.residual()))
	level, atLow, atHigh, count := 0.0, -1, -1, 0
	for j := range s.x {
		switch {
		case s.free[j]:
			level += slopes.AtVec(j)
			count++
		case s.low[j] == s.high[j]:
		case s.x[j] == s.low[j]:
			if atLow < 0 || slopes.AtVec(j) > slopes.AtVec(atLow) {
				atLow = j
			}
		default:
			if atHigh < 0 || slopes.AtVec(j) < slopes.AtVec(atHigh) {
				atHigh = j
			}
		}
	}
	if s.summed && count == 0 {
		if atLow < 0 || atHigh < 0 || slopes.AtVec(atLow)-slopes.AtVec(atHigh) <= s.tolerance {
			return false
		}
		s.free[atLow], s.free[atHigh] = true, true
		return true
	}
	if s.summed {
		level /= float64(count)
	} else {
		level = 0
	}
	best, gain := -1, s.tolerance
	if atLow >= 0 && slopes.AtVec(atLow)-level > gain {
		best, gain = atLow, slopes.AtVec(atLow)-level
	}
	if atHigh >= 0 && level-slopes.AtVec(atHigh) > gain {
		best = atHigh
	}
	if best < 0 {
		return false
	}
	s.free[best] = true
	return true
}

// unique reports whether no movement within the bounds keeps the residual. It
// looks at the free variables together with those at a bound whose slope is
// none, for these could leave it at no cost.
func (s *bounded) unique() bool {
	slopes := mat.NewVecDense(len(s.x), nil)
	slopes.MulVec(s.a.T(), mat.NewVecDense(len(s.right), s.residual()))
	level, count := 0.0, 0
	for j, free := range s.free {
		if free {
			level += slopes.AtVec(j)
			count++
		}
	}
	if s.summed && count > 0 {
		level /= float64(count)
	} else {
		level = 0
	}
	loose := &bounded{a: s.a, summed: s.summed, free: append([]bool(nil), s.free...)}
	for j := range loose.free {
		if s.low[j] < s.high[j] && math.Abs(slopes.AtVec(j)-level) <= 100*s.tolerance {
			loose.free[j] = true
		}
	}
	_, m := loose.columns()
	if m == nil {
		return true
	}
	_, columns := m.Dims()
	var svd mat.SVD
	return svd.Factorize(m, mat.SVDNone) && svd.Rank(1e-10) == columns
}
