package quantity_test

import (
	"fmt"

	"cobber/stdlib/quantity"
)

// The side of a square screen of 12 m², the edge of a cube of 27 m³.
func ExampleSqrt() {
	fmt.Printf("%.3g, %.3g\n", quantity.Sqrt(quantity.Of(12, "m²")), quantity.Cbrt(quantity.Of(27, "m³")))
	// Output: 3.46 m, 3 m
}

// A heap of 5 m across and 2 m high: the angle of its side, and back.
func ExampleAtan2() {
	angle := quantity.Atan2(quantity.Of(2, "m"), quantity.Of(2.5, "m"))
	fmt.Printf("%.4g, tan %.2g\n", angle.To("deg"), quantity.Tan(angle))
	// Output: 38.66 deg, tan 0.8
}

// Of a slope of 30°: sine, cosine, and the angle back from the sine.
func ExampleSin() {
	slope := quantity.Of(30, "deg")
	fmt.Printf("%.3g %.3g %.3g\n", quantity.Sin(slope), quantity.Cos(slope), quantity.Asin(quantity.Number(0.5)).To("deg"))
	// Output: 0.5 0.866 30 deg
}

// The pH of 0.001 mol/L of acid, and an octave of crushing.
func ExampleLog10() {
	fmt.Println(quantity.Log10(quantity.Number(0.001)), quantity.Log2(quantity.Number(8)))
	// Output: -3 3
}

// Four weighings in mixed units: least, most, middle, and their sum.
func ExampleMin() {
	a, b, c, d := quantity.Of(1.2, "kg"), quantity.Of(900, "g"), quantity.Of(1.5, "kg"), quantity.Of(1, "kg")
	fmt.Println(quantity.Min(a, b, c, d), quantity.Max(a, b, c, d), quantity.MedianOf(a, b, c, d), quantity.Sum(a, b, c, d))
	// Output: 900 g 1.5 kg 1.1 kg 4.6 kg
}

// The scatter of five assays: their standard deviation with n − 1.
func ExampleDeviation() {
	assays, err := quantity.Slice("%", 1, 2, 3, 4, 5)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.4g\n", quantity.Deviation(assays...))
	// Output: 1.581 %
}

// Dimensions multiply as quantities do: a force times a length is an energy.
func ExampleDimension_Mul() {
	force, length := quantity.Of(1, "N").Dimension(), quantity.Of(1, "m").Dimension()
	fmt.Println(force.Mul(length).Equal(quantity.Of(1, "J").Dimension()), length.Div(length).IsOne(), length.Pow(2, 1))
	// Output: true true area
}

// Of a normal assay of 1.00 ± 0.10 %, about one part in six lies above 1.10 %.
func ExampleQuantity_ChanceAbove() {
	quantity.Restart() // the same samples whatever ran before
	assay := quantity.Must(quantity.Normal(quantity.Of(1, "%"), quantity.Of(0.1, "%")))
	fmt.Printf("%.2f\n", assay.ChanceAbove(quantity.Of(1.1, "%")))
	// Output: 0.16
}

// What is made of the same input moves with it: a difference from it is certain.
func ExampleCorrelation() {
	feed := quantity.Must(quantity.Normal(quantity.Of(100, "t/h"), quantity.Of(5, "t/h")))
	tailing := feed.Sub(quantity.Of(10, "t/h"))
	fmt.Printf("%.3f, %v\n", quantity.Correlation(feed, tailing), feed.Sub(tailing).StdDev())
	// Output: 1.000, 0 t/h
}

// A loss by its sign, its size, and what a program reads of it.
func ExampleQuantity_Abs() {
	loss := quantity.Of(-2.5, "kg")
	fmt.Println(loss.Neg(), loss.Abs(), loss.SI(), loss.Less(quantity.Of(0, "g")), loss.Unit())
	// Output: 2.5 kg 2.5 kg -2.5 true kg
}
