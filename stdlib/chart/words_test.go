package chart

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"cobber/stdlib/partition"
	"cobber/stdlib/plot"
	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
)

func TestNumbersInWords(t *testing.T) {
	for x, want := range map[float64]string{0: "0", 0.5: "0.5", 1234.5: "1234", 2345000: "2345000", 4e12: "4e12", -1.5e9: "−1.5e9", 1e-9: "1e−9", 12.34: "12.3"} {
		if got := number(x); got != want {
			t.Errorf("%v is written %q, want %q", x, got, want)
		}
	}
	zero := 0.0
	for x, want := range map[float64]string{2: "+2", -2: "−2", -zero: "0"} {
		if got := signed(x); got != want {
			t.Errorf("%v is written %q with its sign, want %q", x, got, want)
		}
	}
}

// What a histogram says of a value tells it from the ends of the interval.
func TestValuesBesideAWidth(t *testing.T) {
	for _, c := range []struct {
		x, width float64
		unit     string
		want     string
	}{
		{7.99e-19, 3.92, "t/h", "0 t/h"}, {-1.96, 3.92, "t/h", "−1.96 t/h"}, {1.7784, 0.56, "t/h", "1.778 t/h"},
		{999999998040, 3920, "W", "999999998040 W"}, {8.04e-13, 3.9e-13, "kg", "8.04e-13 kg"}, {5, 0, "kW", "5 kW"},
	} {
		if got := besides(quantity.Of(c.x, c.unit), quantity.Of(c.width, c.unit)); got != c.want {
			t.Errorf("%v beside %v: %q, want %q", c.x, c.width, got, c.want)
		}
	}
}

// The sieves of a second, finer sample are ticks too, where the first has none.
func TestTicksOfTwoSetsOfSieves(t *testing.T) {
	coarse := must(size.New(of("mm", 4, 2, 1), of("g", 1, 2, 3, 1)))(t)
	fine := must(size.New(of("µm", 1400, 500, 250), of("g", 1, 2, 3, 1)))(t)
	var got []string
	for _, q := range ticks([]SizeCurve{{Measured: coarse}, {Measured: fine}, {Measured: coarse}}) {
		got = append(got, fmt.Sprint(q))
	}
	if want := []string{"4 mm", "2 mm", "1 mm", "500 µm", "250 µm"}; !slices.Equal(got, want) {
		t.Errorf("ticks %v, want %v", got, want)
	}
}

// Without a model a line joins the points, on which the noted sizes lie.
func TestPartitionWithoutAModel(t *testing.T) {
	c := must(partition.New(of("mm", 0.1, 1), of("%", 10, 80)))(t)
	f := must(Partition("", c))(t)
	points := must(plot.Draw(plot.Axes{X: plot.Axis{Log: true}}, plot.Points{X: c.Points(), Y: c.Shares()}))(t)
	strokes := func(f *plot.Figure) int { return strings.Count(string(f.SVG()), "stroke:#162D71") }
	if strokes(f) <= strokes(points) {
		t.Errorf("%d strokes in the colour of the curve, and its points alone have %d", strokes(f), strokes(points))
	}
}
