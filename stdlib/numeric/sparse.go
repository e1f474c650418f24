package numeric

import (
	"math"
	"slices"
)

// Symmetric is a symmetric matrix of which most entries are 0, as a network's is:
// each of its rows meets only its neighbours. Make one with NewSymmetric.
type Symmetric struct {
	size    int
	index   map[[2]int]int // row ≥ column
	entries []sparseEntry
	plan    *sparsePlan // for the entries there were when it was made
}

type sparseEntry struct {
	row, column int
	value       float64
}

// NewSymmetric is a matrix of zeros.
//
// It panics if size is below 1.
func NewSymmetric(size int) *Symmetric {
	if size < 1 {
		panic("numeric: a matrix has one row at least")
	}
	return &Symmetric{size: size, index: map[[2]int]int{}}
}

// Add adds to an entry and to the one opposite.
//
// It panics if the entry lies outside the matrix.
func (s *Symmetric) Add(row, column int, value float64) {
	if row < column {
		row, column = column, row
	}
	if column < 0 || row >= s.size {
		panic("numeric: an entry outside the matrix")
	}
	at, known := s.index[[2]int{row, column}]
	if !known {
		at = len(s.entries)
		s.index[[2]int{row, column}] = at
		s.entries = append(s.entries, sparseEntry{row: row, column: column})
		s.plan = nil
	}
	s.entries[at].value += value
}

// Clear sets all entries to 0 and keeps their places, so that the next Factor
// spares the search for an order.
func (s *Symmetric) Clear() {
	for i := range s.entries {
		s.entries[i].value = 0
	}
}

// Times is the product with a vector.
//
// It panics if the vector has another length.
func (s *Symmetric) Times(x []float64) []float64 {
	if len(x) != s.size {
		panic("numeric: a vector of the wrong length")
	}
	product := make([]float64, s.size)
	for _, e := range s.entries {
		product[e.row] += e.value * x[e.column]
		if e.row != e.column {
			product[e.column] += e.value * x[e.row]
		}
	}
	return product
}

// sparsePlan is the order of elimination and the places that fill.
type sparsePlan struct {
	order []int   // order[k] is the row eliminated k-th
	place []int   // its inverse
	below [][]int // below[k] are the later ones that k-th column of the factor meets, rising
}

// planned orders by least degree: the row with the fewest neighbours goes first,
// and its neighbours become neighbours of one another (Tinney and Walker, Proc.
// IEEE 55 (1967) 1801).
func (s *Symmetric) planned() *sparsePlan {
	if s.plan != nil {
		return s.plan
	}
	neighbours := make([][]int, s.size)
	for _, e := range s.entries {
		if e.row != e.column {
			neighbours[e.row] = append(neighbours[e.row], e.column)
			neighbours[e.column] = append(neighbours[e.column], e.row)
		}
	}
	buckets := make([][]int, s.size) // rows by degree; entries may be out of date
	for i := range neighbours {
		slices.Sort(neighbours[i])
		buckets[len(neighbours[i])] = append(buckets[len(neighbours[i])], i)
	}
	plan := &sparsePlan{place: slices.Repeat([]int{-1}, s.size)}
	met := make([][]int, 0, s.size)
	for degree := 0; degree < s.size; {
		last := len(buckets[degree]) - 1
		if last < 0 {
			degree++
			continue
		}
		row := buckets[degree][last]
		buckets[degree] = buckets[degree][:last]
		if plan.place[row] >= 0 || len(neighbours[row]) != degree {
			continue
		}
		plan.place[row] = len(plan.order)
		plan.order = append(plan.order, row)
		met = append(met, neighbours[row])
		for _, other := range neighbours[row] {
			neighbours[other] = joined(neighbours[other], neighbours[row], row, other)
			d := len(neighbours[other])
			buckets[d] = append(buckets[d], other)
			degree = min(degree, d)
		}
	}
	plan.below = make([][]int, s.size)
	for k, rows := range met {
		plan.below[k] = make([]int, len(rows))
		for i, row := range rows {
			plan.below[k][i] = plan.place[row]
		}
		slices.Sort(plan.below[k])
	}
	s.plan = plan
	return plan
}

// joined is the union of two rising lists without two members.
func joined(a, b []int, without, self int) []int {
	union := make([]int, 0, len(a)+len(b))
	for len(a) > 0 || len(b) > 0 {
		var next int
		switch {
		case len(b) == 0 || len(a) > 0 && a[0] < b[0]:
			next, a = a[0], a[1:]
		case len(a) == 0 || b[0] < a[0]:
			next, b = b[0], b[1:]
		default:
			next, a, b = a[0], a[1:], b[1:]
		}
		if next != without && next != self {
			union = append(union, next)
		}
	}
	return union
}

// Factored is a matrix split into L·D·Lᵀ, with which systems are solved.
type Factored struct {
	plan  *sparsePlan
	pivot []float64   // D
	lower [][]float64 // L below its diagonal, beside plan.below
}

// Factor splits the matrix into L·D·Lᵀ, in an order that keeps L sparse and without
// looking at the size of pivots. That is safe for matrices that are positive
// definite, or quasi-definite as the equations of least squares with constraints
// are: a positive block, a negative block, anything between them (R.J. Vanderbei,
// SIAM J. Optim. 5 (1995) 100). It is false if a pivot is 0 or not finite.
func (s *Symmetric) Factor() (*Factored, bool) {
	plan := s.planned()
	f := &Factored{plan: plan, pivot: make([]float64, s.size), lower: make([][]float64, s.size)}
	at := make([]int, s.size) // where a row stands in the column at hand
	for k := range f.lower {
		f.lower[k] = make([]float64, len(plan.below[k]))
	}
	for _, e := range s.entries {
		row, column := plan.place[e.row], plan.place[e.column]
		if row == column {
			f.pivot[row] += e.value
			continue
		}
		if row < column {
			row, column = column, row
		}
		i, _ := slices.BinarySearch(plan.below[column], row)
		f.lower[column][i] += e.value
	}
	for k := range f.pivot {
		if f.pivot[k] == 0 || math.IsNaN(f.pivot[k]) || math.IsInf(f.pivot[k], 0) {
			return nil, false
		}
		f.eliminate(k, at)
	}
	return f, true
}

// eliminate divides column k by its pivot and takes its outer product from the
// columns it meets.
func (f *Factored) eliminate(k int, at []int) {
	rows, values := f.plan.below[k], f.lower[k]
	for j, column := range rows {
		if values[j] == 0 {
			continue
		}
		scaled := values[j] / f.pivot[k]
		f.pivot[column] -= scaled * values[j]
		into := f.lower[column]
		for i, row := range f.plan.below[column] {
			at[row] = i
		}
		for i := j + 1; i < len(rows); i++ {
			into[at[rows[i]]] -= scaled * values[i]
		}
	}
	for j := range values {
		values[j] /= f.pivot[k]
	}
}

// Solve is the x for which the matrix times x is right.
//
// It panics if right has another length.
func (f *Factored) Solve(right []float64) []float64 {
	if len(right) != len(f.pivot) {
		panic("numeric: a right side of the wrong length")
	}
	x := make([]float64, len(right))
	for k, row := range f.plan.order {
		x[k] = right[row]
	}
	for k := range x {
		for i, row := range f.plan.below[k] {
			x[row] -= f.lower[k][i] * x[k]
		}
	}
	for k := len(x) - 1; k >= 0; k-- {
		x[k] /= f.pivot[k]
		for i, row := range f.plan.below[k] {
			x[k] -= f.lower[k][i] * x[row]
		}
	}
	solution := make([]float64, len(x))
	for k, row := range f.plan.order {
		solution[row] = x[k]
	}
	return solution
}

// InverseDiagonal is the diagonal of the inverse, found without the rest of it
// (Takahashi, Fagan and Chin, 1973): from the last column back, each entry of the
// inverse where L has one follows from those after it. It loses the digits by which
// one pivot is smaller than another; InverseEntry loses half as many.
func (f *Factored) InverseDiagonal() []float64 {
	n := len(f.pivot)
	diagonal := make([]float64, n)
	inverse := make([][]float64, n) // beside plan.below
	sum := make([]float64, n)
	mark := slices.Repeat([]int{-1}, n)
	share := make([]float64, n)
	for k := n - 1; k >= 0; k-- {
		rows := f.plan.below[k]
		for i, row := range rows {
			sum[row], mark[row], share[row] = 0, k, f.lower[k][i]
		}
		for i, column := range rows {
			sum[column] += f.lower[k][i] * diagonal[column]
			for j, row := range f.plan.below[column] {
				if mark[row] == k {
					sum[row] += f.lower[k][i] * inverse[column][j]
					sum[column] += share[row] * inverse[column][j]
				}
			}
		}
		inverse[k] = make([]float64, len(rows))
		diagonal[k] = 1 / f.pivot[k]
		for i, row := range rows {
			inverse[k][i] = -sum[row]
			diagonal[k] += f.lower[k][i] * sum[row]
		}
	}
	ordered := make([]float64, n)
	for k, row := range f.plan.order {
		ordered[row] = diagonal[k]
	}
	return ordered
}

// InverseEntry is one entry of the diagonal of the inverse: Σ y²/d with y the
// solution of L·y = unit, which meets only the columns that follow one another from
// its row down.
//
// It panics if there is no such row.
func (f *Factored) InverseEntry(row int) float64 { return f.InverseEntries([]int{row})[0] }

// InverseEntries are entries of the diagonal of the inverse, each as InverseEntry
// finds it. Many at once are found in place of one after the other, since the vector
// that one needs, as long as the matrix, then serves them all.
//
// It panics if there is no such row.
func (f *Factored) InverseEntries(rows []int) []float64 {
	y := make([]float64, len(f.pivot)) // all 0 between two rows
	entries := make([]float64, len(rows))
	for i, row := range rows {
		at := f.plan.place[row]
		y[at] = 1
		for {
			value := y[at]
			y[at] = 0
			entries[i] += value * value / f.pivot[at]
			below, lower := f.plan.below[at], f.lower[at]
			if len(below) == 0 {
				break
			}
			for j, next := range below {
				y[next] -= lower[j] * value
			}
			at = below[0]
		}
	}
	return entries
}
