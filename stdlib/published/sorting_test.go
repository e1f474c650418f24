package published

import (
	"testing"

	"cobber/stdlib/mineral"
	"cobber/stdlib/quantity"
	"cobber/stdlib/sorting"
	"cobber/stdlib/stream"
)

// TestSortedRefuse: W.A. Worrell, P.A. Vesilind, Solid Waste Engineering, 3rd ed.,
// problem 5.9: of 100 lb with 80 % organics, 80 % of the organics and 80 % of the rest
// are placed right: 64 lb and 16 lb, 80 % of all. Two minerals stand for the two, and
// the noise is the one that places 80 % right: 0.5/0.8416 of the range.
func TestSortedRefuse(t *testing.T) {
	wanted, err := mineral.Find("calcite")
	if err != nil {
		t.Fatal(err)
	}
	rest, err := mineral.Find("quartz")
	if err != nil {
		t.Fatal(err)
	}
	first, _ := stream.Free(wanted)
	second, _ := stream.Free(rest)
	grid, err := stream.NewClasses([]quantity.Quantity{quantity.Of(50, "mm")}, first, second)
	if err != nil {
		t.Fatal(err)
	}
	feed, err := stream.New("refuse", grid, [][]float64{{0.080, 0.020}}, quantity.Quantity{})
	if err != nil {
		t.Fatal(err)
	}
	s := sorting.Sorter{Component: "calcite", Threshold: quantity.Of(50, "%"), Noise: quantity.Number(0.5 / 0.841621), Width: quantity.Of(1, "m"), Speed: quantity.Of(2, "m/s")}
	products, err := s.Apply(feed)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "wanted pieces accepted", products[0].Flow(0, 0), 0.064, 1e-5)
	near(t, "others rejected", products[1].Flow(0, 1), 0.016, 1e-5)
	grade, err := products[0].Grade("calcite")
	if err != nil {
		t.Fatal(err)
	}
	near(t, "purity of 64/68", in(t, grade, "%"), 94.1176, 1e-5)
}
