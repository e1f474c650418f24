package balance

import (
	"math"
	"testing"

	"cobber/stdlib/numeric"
)

// The worked example of VDI 2048, Uncertainties of measurement at acceptance tests:
// the flows of a steam turbine plant with half-widths of 95 % and two correlated
// pairs. Two flows of feed water, less 0.2 of the valve steam V, equal two of steam,
// less 0.6 V, and both equal four flows and 0.4 V; three of these equal another.
// Inputs and results as in a regression test of an open reconciliation code that
// cites the standard (the standard itself not seen). It is fulfilled by the
// equations that Reconcile uses; the network cannot hold it, because V enters with
// fractions.
func TestVDI2048(t *testing.T) {
	values := []float64{46.241, 45.668, 44.575, 44.319, 0.525, 69.978, 10.364, 3.744, 4.391, 18.498}
	halves := []float64{0.8, 0.79, 0.535, 0.532, 0.105, 0.854, 0.168, 0.058, 0.058, 0.205}
	adjusted := []float64{44.9644892064291, 44.4179721417342, 44.9259040471917, 44.6670964499405, 0.526347872422335,
		70.553060829315, 10.3757829833265, 3.74540440603423, 4.39240440603423, 18.5135917953949}
	halvesAfter := []float64{0.575626570589129, 0.572817587480311, 0.404463177421466, 0.402919370199657, 0.104623410451298,
		0.559872848891984, 0.133003389109488, 0.056695251568643, 0.056695251568643, 0.137102511396334}
	p := &problem{}
	for i, x := range values {
		// The deviation is the half-width over 1.96; that factor cancels here.
		p.variables = append(p.variables, variable{component: -1, measured: true, given: x, value: x, deviation: halves[i], scale: halves[i], place: i})
	}
	row := func(factors map[int]float64) {
		c := constraint{}
		for i := range values {
			if factors[i] != 0 {
				c.terms = append(c.terms, term{factors[i], i, -1})
			}
		}
		p.constraints = append(p.constraints, c)
	}
	row(map[int]float64{0: 1, 1: 1, 2: -1, 3: -1, 4: 0.4})
	row(map[int]float64{2: 1, 3: 1, 4: -1, 5: -1, 6: -1, 7: -1, 8: -1})
	row(map[int]float64{6: 1, 7: 1, 8: 1, 9: -1})
	// The inverse of a correlation r of a pair is 1/(1 − r²) and −r/(1 − r²).
	for pair, r := range map[int]float64{0: 0.2, 2: 0.4} {
		more := 1/(1-r*r) - 1
		for i := range 2 {
			p.weights = append(p.weights, correlated{pair + i, pair + i, more})
		}
		p.weights = append(p.weights, correlated{pair, pair + 1, -r / (1 - r*r)})
	}
	s, ok := p.step(numeric.NewSymmetric(len(values) + len(p.constraints)))
	if !ok {
		t.Fatal("no answer")
	}
	p.told(&s, true)
	for i, x := range values {
		close(t, "adjusted", x+s.change[i], adjusted[i], 1e-9)
		close(t, "half-width", halves[i]*math.Sqrt(s.variety[i]), halvesAfter[i], 1e-7)
	}
}
