package numeric

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Solve is the x for which rows·x = right, and the condition number of the
// system: how many times larger the relative error of x can be than that of the
// numbers given. A system without one solution has the condition +Inf, and x is
// nil.
//
// It panics unless there are as many rows, and as many numbers in each row, as
// in right.
func Solve(rows [][]float64, right []float64) (x []float64, condition float64) {
	n := len(right)
	if n == 0 || len(rows) != n {
		panic("numeric: a system needs as many rows as right sides, and one at least")
	}
	matrix := mat.NewDense(n, n, nil)
	for i, row := range rows {
		if len(row) != n {
			panic("numeric: a row of the system has the wrong length")
		}
		matrix.SetRow(i, row)
	}
	var lu mat.LU
	lu.Factorize(matrix)
	condition = lu.Cond()
	if math.IsInf(condition, 0) || math.IsNaN(condition) {
		return nil, math.Inf(1)
	}
	solution := mat.NewVecDense(n, nil)
	err := lu.SolveVecTo(solution, false, mat.NewVecDense(n, append([]float64(nil), right...)))
	var near mat.Condition
	if err != nil && !errors.As(err, &near) { // a large condition is the caller's to judge
		return nil, math.Inf(1)
	}
	return append([]float64(nil), solution.RawVector().Data...), condition
}
