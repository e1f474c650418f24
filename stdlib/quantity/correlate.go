package quantity

import (
	"fmt"
	"math"
	"slices"
)

// Correlate gives uncertain inputs a correlation: the samples of each stay as
// they are, but are dealt out anew so that their normal scores have the given
// correlation (Iman and Conover 1982, Commun. Stat. B 11, 311-334). For normal
// inputs that is their correlation. What comes back takes the place of the
// inputs; the old ones are not correlated with them. The errors are for what is
// no input of its own, for an input given twice, and for a matrix that is no
// correlation matrix.
func Correlate(correlation [][]float64, inputs ...Quantity) ([]Quantity, error) {
	root, err := checkedRoot(correlation, inputs)
	if err != nil {
		return nil, err
	}
	set := setOfAll(inputs)
	scores := make([][]float64, len(inputs))
	for i, q := range inputs {
		scores[i] = normalScores(q.cloud.samples())
	}
	shared := &group{cloneMatrix(correlation)}
	out := make([]Quantity, len(inputs))
	for i, q := range inputs {
		mixed := make([]float64, set.count)
		for k := 0; k <= i; k++ {
			for j, score := range scores[k] {
				mixed[j] += root[i][k] * score
			}
		}
		old := q.cloud.shares[0]
		samples := dealt(q.sorted(), mixed)
		out[i] = newInput(set, samples, q.unit, old.size, old.input.freedom)
		in := out[i].cloud.shares[0].input
		in.name, in.group, in.row = old.input.name, shared, i
	}
	return out, nil
}

// CorrelateRanks is Correlate for Spearman's rank correlations: that of the
// scores is 2 sin(π/6 × rank correlation). Errors as for Correlate.
func CorrelateRanks(ranks [][]float64, inputs ...Quantity) ([]Quantity, error) {
	scores := cloneMatrix(ranks)
	for i, row := range scores {
		for j, r := range row {
			if i != j {
				scores[i][j] = 2 * math.Sin(math.Pi/6*r)
			}
		}
	}
	return Correlate(scores, inputs...)
}

// Joint is normal quantities of the given means, standard deviations and
// correlations. Errors as for Normal and Correlate.
func Joint(means, deviations []Quantity, correlation [][]float64) ([]Quantity, error) {
	if len(means) != len(deviations) {
		return nil, fmt.Errorf("Joint: %d means and %d deviations; give one for each", len(means), len(deviations))
	}
	inputs := make([]Quantity, len(means))
	for i := range means {
		q, err := Normal(means[i], deviations[i])
		if err != nil {
			return nil, fmt.Errorf("value %d: %w", i+1, err)
		}
		inputs[i] = q
	}
	return Correlate(correlation, inputs...)
}

func cloneMatrix(m [][]float64) [][]float64 {
	out := make([][]float64, len(m))
	for i, row := range m {
		out[i] = slices.Clone(row)
	}
	return out
}

func checkedRoot(correlation [][]float64, inputs []Quantity) ([][]float64, error) {
	if len(inputs) < 2 || len(correlation) != len(inputs) {
		return nil, fmt.Errorf("correlation of %d rows for %d inputs: give a square matrix with a row for each of two or more", len(correlation), len(inputs))
	}
	ids := map[int64]bool{}
	for i, q := range inputs {
		if !q.isInput() || q.cloud.shares[0].input.group != nil {
			return nil, fmt.Errorf("value %d, %s, is not an uncertain input of its own; correlate inputs before calculating with them, and once", i+1, q)
		}
		if ids[q.cloud.shares[0].input.id] {
			return nil, fmt.Errorf("value %d is the same input as one before it", i+1)
		}
		ids[q.cloud.shares[0].input.id] = true
		if q.cloud.set != inputs[0].cloud.set {
			return nil, &SampleError{inputs[0], q}
		}
	}
	return choleskyRoot(correlation)
}

// choleskyRoot is the lower triangle L for which L Lᵀ is the matrix.
func choleskyRoot(m [][]float64) ([][]float64, error) {
	root := make([][]float64, len(m))
	for i, row := range m {
		if len(row) != len(m) {
			return nil, fmt.Errorf("row %d of the correlations has %d numbers, not %d", i+1, len(row), len(m))
		}
		root[i] = make([]float64, len(m))
		for j, r := range row {
			switch {
			case i == j && r != 1:
				return nil, fmt.Errorf("correlation %d, %d is %g; on the diagonal it is 1", i+1, j+1, r)
			case !(math.Abs(r) <= 1) || len(m[j]) != len(m) || r != m[j][i]:
				return nil, fmt.Errorf("correlation %d, %d is %g; give numbers from -1 to 1, the same on both sides of the diagonal", i+1, j+1, r)
			}
		}
		for j := 0; j <= i; j++ {
			rest := row[j]
			for k := range j {
				rest -= root[i][k] * root[j][k]
			}
			switch {
			case i == j && rest < -1e-9:
				return nil, fmt.Errorf("the correlations contradict each other at row %d: no quantities can have them all", i+1)
			case i == j:
				root[i][i] = math.Sqrt(max(rest, 0))
			case root[j][j] > 1e-7:
				root[i][j] = rest / root[j][j]
			case math.Abs(rest) > 1e-7:
				return nil, fmt.Errorf("the correlations contradict each other at row %d: no quantities can have them all", i+1)
			}
		}
	}
	return root, nil
}

// isInput tells whether q is an input as it was made, not a result.
func (q Quantity) isInput() bool {
	return q.cloud != nil && len(q.cloud.shares) == 1 && q.cloud.shares[0].input.body == q.cloud.body
}

// normalScores puts normal quantiles in the place of samples, by rank.
func normalScores(x []float64) []float64 {
	out := ranksOf(x)
	for i, rank := range out {
		out[i] = normalQuantile((rank + 0.5) / float64(len(x)))
	}
	return out
}

// dealt deals sorted values out in the order of the scores.
func dealt(sorted, scores []float64) []float64 {
	order := make([]int, len(scores))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case scores[a] < scores[b]:
			return -1
		case scores[a] > scores[b]:
			return 1
		}
		return 0
	})
	out := make([]float64, len(sorted))
	for rank, i := range order {
		out[i] = sorted[rank]
	}
	return out
}
