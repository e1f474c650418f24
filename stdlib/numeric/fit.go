package numeric

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Fitted is the answer of Fit.
type Fitted struct {
	Parameters []float64
	Deviations []float64   // standard errors, from the scatter of the residuals
	Covariance [][]float64 // of the parameters
	Residuals  []float64
	Sum        float64 // of the squared residuals
	Freedom    int     // residuals less parameters
	Settled    bool    // no step lowers the sum any more
}

// Fit is the parameters that make the sum of squared residuals least, by the
// method of Levenberg and Marquardt (Marquardt, J. SIAM 11 (1963) 431). The
// function residuals writes count residuals for given parameters into a slice;
// it may write NaN or Inf where parameters make no sense, and such steps are
// not taken. Derivatives are taken by differences.
//
// Deviations and Covariance are NaN if there are no more residuals than
// parameters, or if the residuals do not depend on each parameter by itself.
//
// It panics if start is empty, count is below the number of parameters, or the
// residuals at start are not finite.
func Fit(residuals func(parameters, into []float64), start []float64, count int) Fitted {
	if len(start) == 0 || count < len(start) {
		panic("numeric: a fit needs a parameter, and as many residuals as parameters")
	}
	f := &fit{residuals: residuals, at: append([]float64(nil), start...), values: make([]float64, count)}
	residuals(f.at, f.values)
	f.sum = squares(f.values)
	if math.IsNaN(f.sum) || math.IsInf(f.sum, 0) {
		panic("numeric: the residuals at the start of a fit are not finite")
	}
	settled := f.search()
	return f.report(settled)
}

type fit struct {
	residuals func(parameters, into []float64)
	at        []float64
	values    []float64
	sum       float64
}

func squares(values []float64) float64 {
	sum := 0.0
	for _, v := range values {
		sum += v * v
	}
	return sum
}

// search walks down until no step lowers the sum any more, or one changes no
// parameter in its twelfth digit. It has settled if there the residuals stand
// square on the slopes as far as differences tell.
func (f *fit) search() bool {
	damping, growth := 1e-3, 2.0
	for range 500 {
		slopes := f.slopes()
		moved, small := false, false
		for range 60 {
			next := f.trial(slopes, damping)
			if next == nil {
				damping, growth = damping*growth, growth*2
				continue
			}
			small = near(next, f.at)
			values := make([]float64, len(f.values))
			f.residuals(next, values)
			if sum := squares(values); sum <= f.sum { // false for NaN
				moved = sum < f.sum
				f.at, f.values, f.sum = next, values, sum
				damping, growth = math.Max(damping/5, 1e-15), 2
				break
			}
			if small {
				break
			}
			damping, growth = damping*growth, growth*2
		}
		if small || !moved {
			return small || f.level(slopes)
		}
	}
	return false
}

// level reports whether no parameter would lower the sum to first order: the
// cosine between the residuals and each column of the slopes is next to none.
func (f *fit) level(slopes *mat.Dense) bool {
	values := mat.NewVecDense(len(f.values), f.values)
	for j := range f.at {
		column := slopes.ColView(j)
		if math.Abs(mat.Dot(column, values)) > 1e-6*mat.Norm(column, 2)*mat.Norm(values, 2) {
			return false
		}
	}
	return true
}

func near(a, b []float64) bool {
	for i := range a {
		if math.Abs(a[i]-b[i]) > 1e-12*(math.Abs(b[i])+1e-300) {
			return false
		}
	}
	return true
}

// slopes are the derivatives of the residuals by the parameters, by central
// differences.
func (f *fit) slopes() *mat.Dense {
	count, n := len(f.values), len(f.at)
	out := mat.NewDense(count, n, nil)
	above, below := make([]float64, count), make([]float64, count)
	for j := range n {
		step := 6e-6 * math.Abs(f.at[j]) // the cube root of the rounding of a float64
		if step == 0 {
			step = 6e-6
		}
		moved := append([]float64(nil), f.at...)
		moved[j] = f.at[j] + step
		up := moved[j] - f.at[j]
		f.residuals(moved, above)
		moved[j] = f.at[j] - step
		down := f.at[j] - moved[j]
		f.residuals(moved, below)
		for i := range count {
			out.Set(i, j, (above[i]-below[i])/(up+down))
		}
	}
	return out
}

// trial is the parameters one damped step away: the least squares solution of
// the slopes beside a diagonal that shortens the step. It is nil where that has
// no finite solution.
func (f *fit) trial(slopes *mat.Dense, damping float64) []float64 {
	count, n := slopes.Dims()
	m, right := mat.NewDense(count+n, n, nil), mat.NewVecDense(count+n, nil)
	for i := range count {
		m.SetRow(i, slopes.RawRowView(i))
		right.SetVec(i, -f.values[i])
	}
	for j := range n {
		m.Set(count+j, j, math.Sqrt(damping)*math.Max(mat.Norm(slopes.ColView(j), 2), 1e-150))
	}
	for _, v := range m.RawMatrix().Data {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return nil
		}
	}
	step, _ := shortestSolution(m, right.RawVector().Data)
	next := append([]float64(nil), f.at...)
	for j := range next {
		next[j] += step[j]
		if math.IsNaN(next[j]) || math.IsInf(next[j], 0) {
			return nil
		}
	}
	return next
}

func (f *fit) report(settled bool) Fitted {
	n := len(f.at)
	out := Fitted{Parameters: f.at, Residuals: f.values, Sum: f.sum, Freedom: len(f.values) - n, Settled: settled,
		Deviations: make([]float64, n), Covariance: make([][]float64, n)}
	inverse := f.inverse()
	for i := range n {
		out.Covariance[i] = make([]float64, n)
		for j := range n {
			out.Covariance[i][j] = math.NaN()
			if inverse != nil && out.Freedom > 0 {
				out.Covariance[i][j] = inverse.At(i, j) * f.sum / float64(out.Freedom)
			}
		}
		out.Deviations[i] = math.Sqrt(out.Covariance[i][i])
	}
	return out
}

// inverse is (JᵀJ)⁻¹ of the slopes J, or nil if they are not independent. The
// columns are scaled first, so that parameters of unlike size do not look
// dependent.
func (f *fit) inverse() *mat.Dense {
	slopes := f.slopes()
	_, n := slopes.Dims()
	scales := make([]float64, n)
	for j := range n {
		scales[j] = mat.Norm(slopes.ColView(j), 2)
		if !(scales[j] > 0) || math.IsInf(scales[j], 0) {
			return nil
		}
		column := slopes.ColView(j).(*mat.VecDense)
		column.ScaleVec(1/scales[j], column)
	}
	var svd mat.SVD
	if !svd.Factorize(slopes, mat.SVDThin) || svd.Rank(1e-10) < n {
		return nil
	}
	var v mat.Dense
	svd.VTo(&v)
	out := mat.NewDense(n, n, nil)
	for i := range n {
		for j := range n {
			for k, s := range svd.Values(nil) {
				out.Set(i, j, out.At(i, j)+v.At(i, k)*v.At(j, k)/(s*s))
			}
			out.Set(i, j, out.At(i, j)/(scales[i]*scales[j]))
		}
	}
	return out
}
