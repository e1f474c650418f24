package quantity_test

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// The figures of the examples are invented. Seed makes each show the same, in
// whatever order they run.

func ExampleNormal() {
	quantity.Seed(1)
	feed := quantity.Must(quantity.Normal(quantity.Of(40, "t/h"), quantity.Of(2, "t/h"))).Named("feed")
	grade := quantity.Must(quantity.Normal(quantity.Of(5, "%"), quantity.Of(0.5, "%"))).Named("grade")
	metal := feed.Mul(grade)
	fmt.Println(metal)
	fmt.Println(metal.FirstOrder())
	for _, influence := range metal.Influences() {
		fmt.Println(influence)
	}
	fmt.Println(feed.Sub(feed))
	// Output:
	// 2.00 ± 0.22 t/h (95 %: 1.57 to 2.45)
	// 2.00 ± 0.22 t/h
	// grade: 80.0 % of the variance, rank correlation 0.89
	// feed: 20.0 % of the variance, rank correlation 0.43
	// 0 ± 0 t/h (95 %: 0 to 0)
}

func ExamplePlusMinus() {
	quantity.Seed(1)
	fmt.Println(quantity.PlusMinus(quantity.Of(62, "%"), quantity.Of(1, "%"), 0.95))
	// Output:
	// 62.00 ± 0.51 % (95 %: 61.00 to 63.00) <nil>
}

func ExampleUniform() {
	quantity.Seed(1)
	fmt.Println(quantity.Uniform(quantity.Of(34, "t/h"), quantity.Of(39, "t/h")))
	// Output:
	// 36.5 ± 1.4 t/h (95 %: 34.1 to 38.9) <nil>
}

func ExampleTriangular() {
	quantity.Seed(1)
	fmt.Println(quantity.Triangular(quantity.Of(10, "kWh/t"), quantity.Of(12, "kWh/t"), quantity.Of(17, "kWh/t")))
	// Output:
	// 13.0 ± 1.5 kWh/t (95 %: 10.6 to 16.1) <nil>
}

func ExampleLognormal() {
	quantity.Seed(1)
	fmt.Println(quantity.Lognormal(quantity.Of(3, "g/t"), 1.5))
	// Output:
	// 3.3 ± 1.4 g/t (95 %: 1.4 to 6.6) <nil>
}

func ExampleArcSine() {
	quantity.Seed(1)
	fmt.Println(quantity.ArcSine(quantity.Of(18, "°C"), quantity.Of(22, "°C")))
	// Output:
	// 20.0 ± 1.4 °C (95 %: 18.0 to 22.0) <nil>
}

func ExampleCount() {
	quantity.Seed(1)
	fmt.Println(quantity.Count(25))
	fmt.Println(quantity.Proportion(12, 400))
	// Output:
	// 26.0 ± 5.1 (95 %: 17.0 to 36.9) <nil>
	// 0.0323 ± 0.0088 (95 %: 0.0174 to 0.0517) <nil>
}

func ExampleDiscrete() {
	quantity.Seed(1)
	trucks := []quantity.Quantity{quantity.Of(40, "t"), quantity.Of(90, "t")}
	fmt.Println(quantity.Discrete(trucks, []float64{3, 1}))
	fmt.Println(quantity.Empirical(trucks...))
	// Output:
	// 52 ± 22 t (95 %: 40 to 90) <nil>
	// 65 ± 25 t (95 %: 40 to 90) <nil>
}

func ExampleReadings() {
	quantity.Seed(1)
	weights, _ := quantity.Slice("g", 12.41, 12.44, 12.39, 12.43, 12.42)
	mean := quantity.Must(quantity.Readings(weights...))
	fmt.Println(mean.FirstOrder())
	fmt.Println(mean.FirstOrder().Expanded(0.95))
	// Output:
	// 12.4180 ± 0.0086 g
	// 0.02388 g <nil>
}

func ExampleStudent() {
	quantity.Seed(1)
	scale := quantity.Must(quantity.Student(quantity.Of(40, "t/h"), quantity.Of(0.5, "t/h"), 6))
	fmt.Println(scale.FirstOrder().Expanded(0.95))
	// Output:
	// 1.223 t/h <nil>
}

func ExampleCorrelate() {
	quantity.Seed(1)
	iron := quantity.Must(quantity.Normal(quantity.Of(62, "%"), quantity.Of(0.5, "%")))
	silica := quantity.Must(quantity.Normal(quantity.Of(6, "%"), quantity.Of(0.4, "%")))
	both, err := quantity.Correlate([][]float64{{1, -0.8}, {-0.8, 1}}, iron, silica)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f\n", quantity.Correlation(both[0], both[1]))
	fmt.Println(both[0].Add(both[1]).StdDev(), "against", iron.Add(silica).StdDev())
	// Output:
	// -0.80
	// 0.3 % against 0.6403 %
}

func ExampleCorrelateRanks() {
	quantity.Seed(1)
	a := quantity.Must(quantity.Lognormal(quantity.Of(3, "g/t"), 1.5))
	b := quantity.Must(quantity.Uniform(quantity.Of(2, "t/m3"), quantity.Of(3, "t/m3")))
	both, err := quantity.CorrelateRanks([][]float64{{1, 0.5}, {0.5, 1}}, a, b)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f\n", quantity.RankCorrelation(both[0], both[1]))
	// Output:
	// 0.50
}

func ExampleJointCovariance() {
	quantity.Seed(1)
	means := []quantity.Quantity{quantity.Of(62, "%"), quantity.Of(6, "%")}
	assays, err := quantity.JointCovariance(means, [][]float64{{0.25, -0.16}, {-0.16, 0.16}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(assays[0].Add(assays[1]).StdDev())
	fmt.Printf("%.2f\n", quantity.Covariance(assays...))
	// Output:
	// 0.3 %
	// [[0.25 -0.16] [-0.16 0.16]]
}

func ExampleJoint() {
	quantity.Seed(1)
	means := []quantity.Quantity{quantity.Of(62, "%"), quantity.Of(6, "%")}
	deviations := []quantity.Quantity{quantity.Of(0.5, "%"), quantity.Of(0.4, "%")}
	assays, err := quantity.Joint(means, deviations, [][]float64{{1, -0.8}, {-0.8, 1}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(assays[0].Add(assays[1]).StdDev())
	// Output:
	// 0.3 %
}

// A function on plain numbers, with a loop in it, gets uncertain arguments.
func ExampleThrough() {
	quantity.Seed(1)
	passes := func(arguments []quantity.Quantity) (quantity.Quantity, error) {
		size, err := arguments[0].Value("mm")
		if err != nil {
			return quantity.Quantity{}, err
		}
		count := 0.0
		for size > 10 {
			size, count = size/2, count+1
		}
		return quantity.Number(count), nil
	}
	feed := quantity.Must(quantity.Uniform(quantity.Of(60, "mm"), quantity.Of(100, "mm")))
	fmt.Println(quantity.Through(passes, feed))
	// Output:
	// 3.50 ± 0.50 (95 %: 3.00 to 4.00) <nil>
}

func ExampleApply() {
	quantity.Seed(1)
	x := quantity.Must(quantity.Normal(quantity.Number(0.5), quantity.Number(0.01)))
	fmt.Println(quantity.Apply(math.Erf, x))
	// Output:
	// 0.5205 ± 0.0088 (95 %: 0.5031 to 0.5376)
}

func ExampleQuantity_Interval() {
	quantity.Seed(1)
	q := quantity.Must(quantity.Lognormal(quantity.Of(3, "g/t"), 1.5))
	fmt.Println(q.Interval(0.9))
	fmt.Println(q.Shortest(0.9))
	fmt.Println(q.Median(), q.StdDev())
	fmt.Println(q.Quantile(0.1))
	fmt.Println(q.Certain())
	// Output:
	// 1.54 g/t 5.845 g/t <nil>
	// 1.24 g/t 5.228 g/t <nil>
	// 3 g/t 1.376 g/t
	// 1.784 g/t <nil>
	// 3.257 g/t
}

func ExampleQuantity_ChanceBelow() {
	quantity.Seed(1)
	grade := quantity.Must(quantity.Normal(quantity.Of(65, "%"), quantity.Of(0.5, "%")))
	silica := quantity.Must(quantity.Normal(quantity.Of(4.2, "%"), quantity.Of(0.3, "%")))
	fmt.Printf("%.3f\n", grade.ChanceBelow(quantity.Of(64, "%")))
	fmt.Printf("%.3f\n", silica.ChanceAbove(quantity.Of(4.5, "%")))
	sold := func(v []quantity.Quantity) bool {
		return quantity.Of(64.5, "%").Less(v[0]) && v[1].Less(quantity.Of(4.5, "%"))
	}
	fmt.Printf("%.2f\n", quantity.Chance(sold, grade, silica))
	// Output:
	// 0.023
	// 0.159
	// 0.71
}

func ExampleQuantity_Against() {
	quantity.Seed(1)
	recovery := quantity.Must(quantity.Normal(quantity.Of(83, "%"), quantity.Of(1.5, "%")))
	fmt.Println(recovery.Against(quantity.Of(85, "%")))
	fmt.Println(recovery.Against(quantity.Of(90, "%")))
	// Output:
	// agrees with the claim: difference -2.0 ± 1.5 % (95 %: -4.9 to 0.9), 1.3 standard deviations; 90.9 % of the samples lie below it <nil>
	// differs from the claim: difference -7.0 ± 1.5 % (95 %: -9.9 to -4.1), 4.7 standard deviations; 100.0 % of the samples lie below it <nil>
}

func ExampleQuantity_Named() {
	quantity.Seed(1)
	feed := quantity.Must(quantity.Normal(quantity.Of(40, "t/h"), quantity.Of(2, "t/h"))).Named("fresh feed")
	water := quantity.Must(quantity.Normal(quantity.Of(60, "t/h"), quantity.Of(6, "t/h"))).Named("water")
	for _, influence := range feed.Add(water).Influences() {
		fmt.Println(influence)
	}
	// Output:
	// water: 90.0 % of the variance, rank correlation 0.94
	// fresh feed: 10.0 % of the variance, rank correlation 0.30
}

func ExampleSeed() {
	draw := func() float64 {
		return quantity.Must(quantity.Uniform(quantity.Number(0), quantity.Number(1))).Samples()[0]
	}
	quantity.Seed(7)
	first := draw()
	quantity.Seed(7)
	fmt.Println(first == draw())
	quantity.Seed(1)
	// Output:
	// true
}

func ExampleSetSamples() {
	fmt.Println(quantity.SetSamples(10))
	fmt.Println(quantity.SetSamples(quantity.DefaultSamples))
	// Output:
	// 10 samples: give a number from 100 to 10000000
	// <nil>
}

func ExampleQuantity_FirstOrderHolds() {
	quantity.Seed(1)
	x := quantity.Must(quantity.Normal(quantity.Number(4), quantity.Number(0.2)))
	fmt.Println(x.Mul(quantity.Number(3)).FirstOrderHolds(0.95, 1))
	fmt.Println(quantity.Exp(x).FirstOrderHolds(0.95, 2))
	// Output:
	// true <nil>
	// false <nil>
}
