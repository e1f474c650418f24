package session

import (
	"strings"
	"testing"
)

// An uncertain input has the name of the variable it was first bound to.
func TestInputsAreNamed(t *testing.T) {
	s := New()
	defer s.Close()
	said := tell(t, s,
		"feed, err := quantity.Normal(40`t/h`, 2`t/h`)\nfeedGrade := quantity.Must(quantity.Uniform(5`%`, 7`%`))\nmetal := feed * feedGrade\nsame := feedGrade",
		"for _, i := range metal.Influences() {\n\tprintln(i.Name)\n}",
		"println(same.Influences()[0].Name)",
		"func drawn() quantity.Quantity { return quantity.Must(quantity.Uniform(1`t`, 2`t`)) }\nlot := drawn()\nprintln(lot.Influences()[0].Name)\nfor range 2 {\n\tlot = drawn()\n}",
		"own := quantity.Must(quantity.Uniform(1`t`, 2`t`)).Named(\"weighbridge\")\nprintln(own.Influences()[0].Name)",
		"hours := quantity.Sum(3`h`)",
		"hours + 1`t`",
	)
	want := []string{"", "feedGrade\nfeed", "feedGrade", "lot", "weighbridge", ""}
	for i, w := range want {
		if said[i] != w {
			t.Errorf("cell %d said %q, want %q", i+1, said[i], w)
		}
	}
	if !strings.Contains(said[6], "column 7: cannot add time (h) and mass (t)") {
		t.Errorf("the name hides what is known of the dimension: %s", said[6])
	}
}

// Functions of package math carry samples.
func TestMathematicsOfUncertainQuantities(t *testing.T) {
	s := New()
	defer s.Close()
	said := tell(t, s,
		"import \"math\"",
		"x := quantity.Must(quantity.Uniform(quantity.Number(1), quantity.Number(3)))\ny := math.Log(math.Exp(x))\n(y - x).StdDev() < 1e-12 && y.IsUncertain() && y.Influences()[0].Name == \"x\"",
		// The mean of exp over 0 to 1 is e - 1.
		"u := quantity.Must(quantity.Uniform(quantity.Number(0), quantity.Number(1)))\nmean, err := math.Exp(u).Certain().Float()\nmath.Abs(mean - (math.E - 1)) < 1e-3",
	)
	for i, got := range said[1:] {
		if got != "=> true" {
			t.Errorf("cell %d said %q", i+2, got)
		}
	}
}
