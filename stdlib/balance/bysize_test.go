package balance

import (
	"math"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
)

func sieved(t *testing.T, openings, masses, grades []float64) size.Distribution {
	t.Helper()
	d, err := size.New(of("µm", openings), of("g", masses))
	if err != nil {
		t.Fatal(err)
	}
	d, err = d.WithAssay("Fe", of("%", grades))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func of(unit string, values []float64) []quantity.Quantity {
	quantities := make([]quantity.Quantity, len(values))
	for i, x := range values {
		quantities[i] = quantity.Of(x, unit)
	}
	return quantities
}

// By hand, per 100 g of feed and a yield of 40 %:
//
//	class       concentrate      tailing          feed
//	+100 µm     10 g, 6.0 g Fe   30 g, 3.0 g Fe   40 g, 9.0 g Fe: recovery 2/3
//	−100 µm     30 g, 15.0 g Fe  30 g, 6.0 g Fe   60 g, 21.0 g Fe: recovery 5/7
//
// in all 30 g Fe in 100 g, and 21/30 = 70 % of it in the concentrate.
func TestBySizeByHand(t *testing.T) {
	concentrate := sieved(t, []float64{100}, []float64{25, 75}, []float64{60, 50})
	tailing := sieved(t, []float64{100}, []float64{200, 200}, []float64{10, 20})
	b, err := BySize(concentrate, tailing, "Fe", pc(40))
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		what string
		got  []quantity.Quantity
		want []float64
	}{
		{"feed shares", b.FeedShares(), []float64{0.4, 0.6}},
		{"feed grades", b.FeedGrades(), []float64{9.0 / 40, 21.0 / 60}},
		{"feed metal", b.FeedMetal(), []float64{0.3, 0.7}},
		{"yields", b.Yields(), []float64{0.25, 0.5}},
		{"recoveries", b.Recoveries(), []float64{2.0 / 3, 5.0 / 7}},
		{"in all", []quantity.Quantity{b.Recovery(), b.FeedGrade()}, []float64{0.7, 0.3}},
	}
	for _, test := range tests {
		for i := range test.want {
			if got := float(t, test.got[i]); math.Abs(got-test.want[i]) > 1e-12 {
				t.Errorf("%s, class %d: %v, want %v", test.what, i, got, test.want[i])
			}
		}
	}
	if text := b.String(); !strings.Contains(text, "all") || !strings.Contains(text, "71.43") {
		t.Errorf("the table is\n%s", text)
	}
}

// The two-product formula and the balance by size are two ways to one number.
func TestBySizeAgreesWithTheTwoProductFormula(t *testing.T) {
	concentrate := sieved(t, []float64{500, 250, 125}, []float64{1.2, 30.4, 61.3, 7.1}, []float64{41, 55.5, 62.1, 58})
	tailing := sieved(t, []float64{500, 250, 125}, []float64{20.5, 44, 25.5, 10}, []float64{8.1, 6.2, 9.9, 20})
	c, err := concentrate.Grade("Fe")
	if err != nil {
		t.Fatal(err)
	}
	tail, err := tailing.Grade("Fe")
	if err != nil {
		t.Fatal(err)
	}
	whole := grades(t, pc(28), c, tail)
	b, err := BySize(concentrate, tailing, "Fe", whole.Yield())
	if err != nil {
		t.Fatal(err)
	}
	if got, want := float(t, b.Recovery()), float(t, whole.Recovery()); math.Abs(got-want) > 1e-12 {
		t.Errorf("recovery %v by size, %v by the formula", got, want)
	}
	if got := float(t, b.FeedGrade()); math.Abs(got-0.28) > 1e-12 {
		t.Errorf("the calculated feed grades %v, the measured one 28 %%", got)
	}
}

func TestEmptyClasses(t *testing.T) {
	concentrate := sieved(t, []float64{200, 100}, []float64{0, 50, 50}, []float64{0, 60, 50})
	tailing := sieved(t, []float64{200, 100}, []float64{0, 50, 50}, []float64{0, 10, 0})
	b, err := BySize(concentrate, tailing, "Fe", pc(40))
	if err != nil {
		t.Fatal(err)
	}
	if !b.Recoveries()[0].IsNaN() || !b.FeedGrades()[0].IsNaN() || !b.Yields()[0].IsNaN() {
		t.Errorf("an empty class has a recovery of %v", b.Recoveries()[0])
	}
	if got := float(t, b.Recoveries()[2]); got != 1 {
		t.Errorf("recovery %v where the tailing is barren", got)
	}
	if !strings.Contains(b.String(), "–") {
		t.Errorf("the table has no dash for the empty class:\n%s", b)
	}
}

func TestBySizeRefuses(t *testing.T) {
	good := sieved(t, []float64{200, 100}, []float64{1, 2, 3}, []float64{1, 2, 3})
	barren := sieved(t, []float64{200, 100}, []float64{1, 2, 3}, []float64{0, 0, 0})
	tests := []struct {
		name       string
		conc, tail size.Distribution
		assay      string
		yield      quantity.Quantity
		want       string
	}{
		{"fewer sieves", good, sieved(t, []float64{200}, []float64{1, 2}, []float64{1, 2}), "Fe", pc(40), "2 sieves, the tailing on 1"},
		{"another sieve", good, sieved(t, []float64{200, 90}, []float64{1, 2, 3}, []float64{1, 2, 3}), "Fe", pc(40), "sieve 2 is 100 µm"},
		{"no such assay", good, good, "Cu", pc(40), `no assay "Cu"`},
		{"no metal", barren, barren, "Fe", pc(40), "no Fe in any class"},
		{"a yield in tonnes", good, good, "Fe", quantity.Of(40, "t"), "the yield is a share"},
		{"a yield of all", good, good, "Fe", pc(100), "between 0 and 100"},
		{"a yield without its unit", good, good, "Fe", quantity.Number(40), "between 0 and 100"},
	}
	for _, test := range tests {
		_, err := BySize(test.conc, test.tail, test.assay, test.yield)
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: error %v, want one with %q", test.name, err, test.want)
		}
	}
}
