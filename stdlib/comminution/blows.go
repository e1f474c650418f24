package comminution

import "math"

// blows is what one impact makes of each size class: columns[i][k] is the share of
// class i that is in class k afterwards.
type blows struct {
	columns [][]float64
}

// newBlows is the blow of one energy per mass on classes bounded above by uppers, in
// m, coarse to fine; the last runs down to 0. Particles have the middle size of their
// class, as streams count it.
func newBlows(uppers []float64, m impact, f family, energy float64) blows {
	b := blows{make([][]float64, len(uppers))}
	for i := range uppers {
		x := middle(uppers, i)
		b.columns[i] = fragments(uppers, i, x, f, m.t10(x, energy))
	}
	return b
}

// middle is the geometric mean of a class's bounds, half the upper for the last.
func middle(uppers []float64, i int) float64 {
	if i == len(uppers)-1 {
		return uppers[i] / 2
	}
	return math.Sqrt(uppers[i] * uppers[i+1])
}

// fragments spreads particles of a size over class i and the finer ones.
func fragments(uppers []float64, i int, size float64, f family, t10 float64) []float64 {
	column := make([]float64, len(uppers))
	above := 1.0
	for k := i; k < len(uppers); k++ {
		below := 0.0
		if k+1 < len(uppers) {
			below = f.passing(t10, size/uppers[k+1])
		}
		column[k] = above - below
		above = below
	}
	return column
}

// strike is the flows after one impact on a share of them.
func (b blows) strike(flows []float64, share float64) []float64 {
	out := make([]float64, len(flows))
	for i, flow := range flows {
		if flow == 0 {
			continue
		}
		out[i] += flow * (1 - share)
		for k := i; k < len(out); k++ {
			out[k] += flow * share * b.columns[i][k]
		}
	}
	return out
}

// repeat is the flows after a number of impacts, of which the last may be a part.
func (b blows) repeat(flows []float64, number float64) []float64 {
	for ; number > 0; number-- {
		flows = b.strike(flows, min(number, 1))
	}
	return flows
}
