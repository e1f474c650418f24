package numeric_test

import (
	"fmt"
	"math"

	"cobber/stdlib/numeric"
)

// Adding with what rounding loses kept: plain addition gives 0 here.
func ExampleSum() {
	fmt.Println(numeric.Sum(1e16, 1, -1e16))
	// Output: 1
}

// Two equations: x + y = 10 and 2x + 5y = 35.
func ExampleSolve() {
	x, _ := numeric.Solve([][]float64{{1, 1}, {2, 5}}, []float64{10, 35})
	fmt.Printf("%.6g\n", x)
	// Output: [5 5]
}

// The area under half a wave is 2.
func ExampleIntegrate() {
	fmt.Printf("%.6f\n", numeric.Integrate(math.Sin, 0, math.Pi, 100))
	// Output: 2.000000
}

// The quantiles of printed tables: 1.960, 2.228 and 18.307.
func ExampleNormalQuantile() {
	fmt.Printf("%.3f %.3f %.3f\n", numeric.NormalQuantile(0.975), numeric.StudentQuantile(0.975, 10), numeric.ChiSquareQuantile(0.95, 10))
	fmt.Printf("%.3f\n", numeric.ChiSquareAbove(18.307, 10))
	// Output:
	// 1.960 2.228 18.307
	// 0.050
}

// A line of least squares through four readings.
func ExampleFit() {
	xs, ys := []float64{0, 1, 2, 3}, []float64{1, 3.1, 4.9, 7}
	fitted := numeric.Fit(func(parameters, into []float64) {
		for i, x := range xs {
			into[i] = parameters[0] + parameters[1]*x - ys[i]
		}
	}, []float64{0, 1}, len(xs))
	fmt.Printf("%.3f ± %.3f\n", fitted.Parameters, fitted.Deviations)
	// Output: [1.030 1.980] ± [0.079 0.042]
}

// A sieve analysis read between its sieves, both ways.
func ExampleStraight() {
	passing := numeric.Straight([]float64{50, 100, 200}, []float64{20, 50, 90})
	fmt.Println(passing.At(150), passing.Where(80))
	// Output: 70 175
}

// Shares of three minerals that explain two assays, none below 0 and all adding up to 1.
func ExampleBoundedLeastSquares() {
	rows := [][]float64{{0.4, 0, 0}, {0, 0.5, 0}}
	found := numeric.BoundedLeastSquares(rows, []float64{0.08, 0.15}, []float64{0, 0, 0}, []float64{1, 1, 1}, 1)
	fmt.Printf("%.3f\n", found.X)
	// Output: [0.200 0.300 0.500]
}

// A chain of three nodes, each bound to its neighbours.
func ExampleNewSymmetric() {
	chain := numeric.NewSymmetric(3)
	for i := range 3 {
		chain.Add(i, i, 2)
	}
	chain.Add(1, 0, -1)
	chain.Add(2, 1, -1)
	factored, ok := chain.Factor()
	if !ok {
		fmt.Println("not positive definite")
		return
	}
	x := factored.Solve([]float64{1, 2, 1})
	fmt.Printf("%.3f, back %.3f, variances %.2f\n", x, chain.Times(x), factored.InverseDiagonal())
	// Output: [2.000 3.000 2.000], back [1.000 2.000 1.000], variances [0.75 1.00 0.75]
}
