package balance

import (
	"fmt"
	"math"
	"slices"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
)

// correlated is what an entry of the inverse covariance is more than for
// independent measurements, in the deviations of both.
type correlated struct {
	a, b   int
	weight float64
}

// uncorrelated is the correlation below which uncertain values count as
// independent.
const uncorrelated = 1e-6

// correlate takes over the correlations among measurements whose values are
// uncertain quantities: the inverse of their correlation matrix, group by group.
func (p *problem) correlate(measurements []Measurement, streams map[string]int) error {
	var uncertain []Measurement
	for _, m := range measurements {
		if m.Value.IsUncertain() && !m.Exact {
			uncertain = append(uncertain, m)
		}
	}
	matrix := make([][]float64, len(uncertain))
	for i := range uncertain {
		matrix[i] = make([]float64, len(uncertain))
		matrix[i][i] = 1
		for j := range i {
			r := quantity.FirstOrderCorrelation(uncertain[i].Value, uncertain[j].Value)
			matrix[i][j], matrix[j][i] = r, r
		}
	}
	done := make([]bool, len(uncertain))
	for i := range uncertain {
		group := together(matrix, i, done, nil)
		if len(group) < 2 {
			continue
		}
		if err := p.weigh(uncertain, group, matrix, streams); err != nil {
			return err
		}
	}
	return nil
}

// together gathers what hangs together with i by any correlation.
func together(matrix [][]float64, i int, done []bool, group []int) []int {
	if done[i] {
		return group
	}
	done[i] = true
	group = append(group, i)
	for j, r := range matrix[i] {
		if math.Abs(r) > uncorrelated {
			group = together(matrix, j, done, group)
		}
	}
	return group
}

func (p *problem) weigh(uncertain []Measurement, group []int, matrix [][]float64, streams map[string]int) error {
	rows := make([][]float64, len(group))
	place := make([]int, len(group))
	for i, a := range group {
		m := uncertain[a]
		component := -1
		if m.Component != "" {
			component = slices.Index(p.components, m.Component)
		}
		place[i] = p.at(streams[m.Stream], component)
		rows[i] = make([]float64, len(group))
		for j, b := range group {
			rows[i][j] = matrix[a][b]
		}
	}
	for i := range group {
		unit := make([]float64, len(group))
		unit[i] = 1
		column, condition := numeric.Solve(rows, unit)
		if condition > 1e10 {
			return fmt.Errorf("balance: %s and what it is correlated with follow from one another; give one of them only", uncertain[group[i]].of())
		}
		column[i]--
		for j := range i + 1 {
			p.weights = append(p.weights, correlated{place[i], place[j], column[j]})
		}
	}
	return nil
}

// correlatedSums are what correlations add to the sum of squares and take from the
// degrees of freedom: the sums of weight × adjustment × adjustment and weight ×
// covariance after adjusting, plus the share of the weights themselves.
func (p *problem) correlatedSums(last step) (squares, less float64) {
	columns := map[int][]float64{} // of the inverse, for what is correlated
	for _, w := range p.weights {
		a, b := p.variables[w.a], p.variables[w.b]
		if columns[w.a] == nil {
			unit := make([]float64, last.size)
			unit[a.place] = 1
			columns[w.a] = last.factor.Solve(unit)
		}
		twice := 2.0
		if w.a == w.b {
			twice = 1
		}
		squares += twice * w.weight * (a.value - a.given) / a.scale * (b.value - b.given) / b.scale
		less += twice * w.weight * columns[w.a][b.place]
	}
	return squares, less
}
