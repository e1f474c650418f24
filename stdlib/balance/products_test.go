package balance

import (
	"math"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

func TestTwoProductsAreTheTwoProductFormula(t *testing.T) {
	whole := grades(t, pc(10), pc(30), pc(1))
	many, err := Products([]string{"concentrate", "tailing"}, Metal{"Cu", pc(10), []quantity.Quantity{pc(30), pc(1)}})
	if err != nil {
		t.Fatal(err)
	}
	recoveries, err := many.Recoveries("Cu")
	if err != nil {
		t.Fatal(err)
	}
	if a, b := float(t, many.Yields()[0]), float(t, whole.Yield()); math.Abs(a-b) > 1e-14 {
		t.Errorf("yield %v, by the formula %v", a, b)
	}
	if a, b := float(t, recoveries[0]), float(t, whole.Recovery()); math.Abs(a-b) > 1e-14 {
		t.Errorf("recovery %v, by the formula %v", a, b)
	}
}

// A made-up split, 20, 30 and 50 % of the feed, is found again from its grades,
// with one metal in % and the other in g/t.
func TestProductsFindASplitAgain(t *testing.T) {
	cu, au := []float64{20, 5, 0.4}, []float64{1.5, 8, 0.25} // %, g/t
	yields := []float64{0.2, 0.3, 0.5}
	metals := []Metal{{Name: "Cu"}, {Name: "Au"}}
	var f, g float64
	for i, y := range yields {
		f, g = f+y*cu[i], g+y*au[i]
	}
	metals[0].Feed, metals[0].Products = pc(f), of("%", cu)
	metals[1].Feed, metals[1].Products = quantity.Of(g, "g/t"), of("g/t", au)
	b, err := Products([]string{"copper", "gold", "tailing"}, metals...)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range yields {
		if got := float(t, b.Yields()[i]); math.Abs(got-want) > 1e-12 {
			t.Errorf("yield %d: %v, want %v", i, got, want)
		}
	}
	for _, metal := range []string{"Cu", "Au"} {
		recoveries, err := b.Recoveries(metal)
		if err != nil {
			t.Fatal(err)
		}
		total := 0.0
		for _, r := range recoveries {
			total += float(t, r)
		}
		if math.Abs(total-1) > 1e-12 {
			t.Errorf("%s: the recoveries add up to %v", metal, total)
		}
	}
	if text := b.String(); !strings.Contains(text, "Au grade (g/t)") || !strings.Contains(text, "Cu share (%)") {
		t.Errorf("the table is\n%s", text)
	}
}

func TestProductsRefuse(t *testing.T) {
	three := []string{"a", "b", "c"}
	cu := Metal{"Cu", pc(5), of("%", []float64{20, 5, 0.4})}
	tests := []struct {
		name   string
		names  []string
		metals []Metal
		want   string
	}{
		{"one product", []string{"a"}, nil, "need the grades"},
		{"too few metals", three, []Metal{cu}, "3 products need the grades of 2 metals; there are 1"},
		{"a grade missing", three, []Metal{cu, {"Zn", pc(5), of("%", []float64{1, 2})}}, "Zn: 3 products and 2 grades"},
		{"one name twice", three, []Metal{cu, cu}, "name of its own"},
		{"no name", three, []Metal{cu, {"", pc(5), of("%", []float64{1, 2, 9})}}, "name of its own"},
		{"a mass", three, []Metal{cu, {"Zn", quantity.Of(5, "kg"), of("%", []float64{1, 2, 9})}}, "the grade of the feed"},
		{"no metal in the feed", three, []Metal{cu, {"Zn", pc(0), of("%", []float64{1, 2, 9})}}, "the feed holds none"},
		{"a grade above 100 %", three, []Metal{cu, {"Zn", pc(5), of("%", []float64{1, 200, 9})}}, "the grade of b"},
		{"two products alike", three, []Metal{{"Cu", pc(5), of("%", []float64{20, 1, 1})}, {"Zn", pc(5), of("%", []float64{1, 9, 9})}}, "cannot tell the products"},
		{"no such split", three, []Metal{cu, {"Zn", pc(50), of("%", []float64{1, 2, 9})}}, "no split of the feed"},
	}
	for _, test := range tests {
		if _, err := Products(test.names, test.metals...); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: error %v, want one with %q", test.name, err, test.want)
		}
	}
	b, err := Products([]string{"concentrate", "tailing"}, Metal{"Cu", pc(10), of("%", []float64{30, 1})})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.Recoveries("Zn"); err == nil || !strings.Contains(err.Error(), "there are Cu") {
		t.Errorf("a metal that is not there: %v", err)
	}
}
