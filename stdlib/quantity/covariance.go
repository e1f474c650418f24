package quantity

import (
	"fmt"
	"math"
)

// JointCovariance is normal quantities of the given means and covariances:
// covariance[i][j] is a number in the unit of means[i] times that of means[j], and
// on the diagonal stand the squares of the standard deviations. The errors are for
// a matrix that is not square or not symmetric, for a variance that is not above
// zero, and as for Joint.
func JointCovariance(means []Quantity, covariance [][]float64) ([]Quantity, error) {
	if len(covariance) != len(means) {
		return nil, fmt.Errorf("JointCovariance: %d means and %d rows of covariances; give a row for each mean", len(means), len(covariance))
	}
	deviations, roots := make([]Quantity, len(means)), make([]float64, len(means))
	for i, row := range covariance {
		if len(row) != len(means) {
			return nil, fmt.Errorf("JointCovariance: row %d has %d numbers, not %d", i+1, len(row), len(means))
		}
		if !(row[i] > 0) || math.IsInf(row[i], 0) {
			return nil, fmt.Errorf("JointCovariance: the variance of value %d is %g; it must be above zero", i+1, row[i])
		}
		roots[i] = math.Sqrt(row[i])
		deviations[i] = Quantity{value: roots[i], unit: means[i].differenceOf()}
	}
	correlations := make([][]float64, len(means))
	for i, row := range covariance {
		correlations[i] = make([]float64, len(means))
		for j, c := range row {
			if off := math.Abs(c - covariance[j][i]); !(off <= 1e-9*roots[i]*roots[j]) {
				return nil, fmt.Errorf("JointCovariance: %g at %d, %d and %g at %d, %d; a covariance is the same on both sides of the diagonal", c, i+1, j+1, covariance[j][i], j+1, i+1)
			}
			correlations[i][j] = (c + covariance[j][i]) / 2 / (roots[i] * roots[j])
		}
		correlations[i][i] = 1
	}
	if len(means) == 1 {
		q, err := Normal(means[0], deviations[0])
		return []Quantity{q}, err
	}
	return Joint(means, deviations, correlations)
}

// Covariance is the covariances of the samples of several quantities, each a
// number in the unit of the one times that of the other, and variances on the
// diagonal; zeros for a certain one. JointCovariance takes it back.
func Covariance(quantities ...Quantity) [][]float64 {
	setOfAll(quantities) // refuses inputs of two sets
	out := make([][]float64, len(quantities))
	for i, q := range quantities {
		out[i] = make([]float64, len(quantities))
		for j, r := range quantities[:i+1] {
			if q.cloud != nil && r.cloud != nil {
				out[i][j] = covarianceOfSamples(q.cloud.samples(), r.cloud.samples())
				out[j][i] = out[i][j]
			}
		}
	}
	return out
}

func covarianceOfSamples(x, y []float64) float64 {
	a, b, sum := mean(x), mean(y), 0.0
	for i, v := range x {
		sum += (v - a) * (y[i] - b)
	}
	return sum / float64(len(x)-1)
}
