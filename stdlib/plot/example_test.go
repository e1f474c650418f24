package plot_test

import (
	"bytes"
	"fmt"

	"cobber/stdlib/plot"
	"cobber/stdlib/quantity"
)

// A sieve analysis, invented, with its openings on a logarithmic axis, as a picture for a paper.
func ExampleDraw() {
	var openings, passing []quantity.Quantity
	for i, share := range []float64{22, 36, 50, 67, 83, 93} {
		openings = append(openings, quantity.Of([]float64{38, 53, 75, 106, 150, 212}[i], "µm"))
		passing = append(passing, quantity.Of(share, "%"))
	}
	figure, err := plot.Draw(
		plot.Axes{Title: "Mill product", X: plot.Axis{Name: "opening", Log: true}, Y: plot.Axis{Name: "passing", Zero: true}},
		plot.Line{Name: "sample 1", X: openings, Y: passing, Marked: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(figure)
	fmt.Println(bytes.HasPrefix(figure.PDF(), []byte("%PDF")), bytes.Contains(figure.SVG(), []byte("Mill product")))
	// Output:
	// plot "Mill product": passing (%) against opening (µm); sample 1: 6 values
	// true true
}
