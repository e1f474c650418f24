package balance

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

func TestMeasuresAgree(t *testing.T) {
	b := grades(t, pc(10), pc(30), pc(1))
	se, err := b.SeparationEfficiency(pc(60))
	if err != nil {
		t.Fatal(err)
	}
	// The gangue is all but the mineral of 60 %: 10 % metal is 1/6 mineral.
	y, r := float(t, b.Yield()), float(t, b.Recovery())
	gangue := y * (1 - 30.0/60) / (1 - 10.0/60)
	s, err := Separate(quantity.Number(r), quantity.Number(gangue))
	if err != nil {
		t.Fatal(err)
	}
	close(t, "difference", float(t, s.Difference()), float(t, se), 1e-12)
	hancock := (0.3 - 0.1) * (0.1 - 0.01) * 0.6 / (0.1 * (0.6 - 0.1) * (0.3 - 0.01))
	close(t, "Hancock's form", float(t, se), hancock, 1e-12)
	close(t, "product", float(t, s.Product()), r*(1-gangue), 1e-12)
	close(t, "root", float(t, s.Root()), math.Sqrt(r*(1-gangue)), 1e-12)
	close(t, "selectivity", float(t, s.Selectivity()), math.Sqrt(r*(1-gangue)/(gangue*(1-r))), 1e-12)
	splitter, err := Separate(pc(40), pc(40))
	if err != nil {
		t.Fatal(err)
	}
	if d := float(t, splitter.Difference()); d != 0 {
		t.Errorf("a splitter separates by %v", d)
	}
	close(t, "a splitter's selectivity", float(t, splitter.Selectivity()), 1, 1e-12)
	if _, err := Separate(quantity.Number(90), pc(10)); err == nil || !strings.Contains(err.Error(), "write a percentage") {
		t.Errorf("a plain percentage: %v", err)
	}
}

// Uncertain grades: the yield's deviation is what the sensitivities say, small
// where assays lie apart, blown up where they are close.
func TestUncertainGrades(t *testing.T) {
	for _, test := range []struct {
		f, c, t, tolerance float64
	}{{10, 30, 1, 0.03}, {1, 20, 0.8, 0.05}} {
		uncertain := func(x float64) quantity.Quantity {
			return quantity.Must(quantity.Normal(pc(x), pc(x/100)))
		}
		b := grades(t, uncertain(test.f), uncertain(test.c), uncertain(test.t))
		certain := grades(t, pc(test.f), pc(test.c), pc(test.t))
		close(t, "yield", b.Yield().StdDev().SI()/b.Yield().SI(), 0.01*certain.YieldSensitivity().Together(), test.tolerance)
		close(t, "recovery", b.Recovery().StdDev().SI()/b.Recovery().SI(), 0.01*certain.RecoverySensitivity().Together(), test.tolerance)
		many, err := Products([]string{"concentrate", "tailing"}, Metal{"Cu", b.Feed(), []quantity.Quantity{b.Concentrate(), b.Tailing()}})
		if err != nil {
			t.Fatal(err)
		}
		close(t, "yield of two products", many.Yields()[0].StdDev().SI(), b.Yield().StdDev().SI(), 1e-9)
		shown, err := certain.Trust(pc(1))
		if err != nil {
			t.Fatal(err)
		}
		out, err := shown.Column("relative error")
		if err != nil {
			t.Fatal(err)
		}
		close(t, "table", out[0].SI(), 0.01*certain.YieldSensitivity().Together(), 1e-12)
	}
	if _, err := grades(t, pc(10), pc(30), pc(1)).Trust(pc(0)); err == nil {
		t.Error("a relative error of 0")
	}
}

func TestBestYield(t *testing.T) {
	// Two components of one split, 20 %, and a third that is off.
	split := func(name string, c, tail, off float64) Metal {
		return Metal{name, pc(0.2*c + 0.8*tail + off), []quantity.Quantity{pc(c), pc(tail)}}
	}
	best, each, err := BestYield(split("Cu", 20, 1, 0), split("Fe", 30, 10, 0))
	if err != nil {
		t.Fatal(err)
	}
	close(t, "best", float(t, best), 0.2, 1e-12)
	close(t, "each", float(t, each[1]), 0.2, 1e-12)
	best, each, err = BestYield(split("Cu", 20, 1, 0), split("Fe", 30, 10, 0), split("As", 0.3, 0.1, 0.1))
	if err != nil {
		t.Fatal(err)
	}
	close(t, "best, hardly moved", float(t, best), 0.2, 2e-4)
	close(t, "the one that is off", float(t, each[2]), 0.7, 1e-9)
	if _, _, err := BestYield(); err == nil {
		t.Error("no component")
	}
	if _, _, err := BestYield(Metal{"Cu", pc(1), []quantity.Quantity{pc(1), pc(1)}}); err == nil {
		t.Error("products alike")
	}
}

func parts(unit string, figures ...float64) []Part {
	var all []Part
	for i := 0; i < len(figures); i += 2 {
		all = append(all, Part{fmt.Sprintf("part %d", i/2+1), quantity.Of(figures[i], unit), pc(figures[i+1])})
	}
	return all
}

func TestCumulative(t *testing.T) {
	g, err := Cumulative(parts("g", 50, 40, 150, 10, 800, 1)...) // metal 20, 15, 8
	if err != nil {
		t.Fatal(err)
	}
	close(t, "feed", float(t, g.Grade()), 0.043, 1e-12)
	close(t, "recovery of two", float(t, g.Recoveries()[1]), 35.0/43, 1e-12)
	close(t, "grade of two", float(t, g.Grades()[1]), 0.175, 1e-12)
	close(t, "yield of two", float(t, g.Yields()[1]), 0.2, 1e-12)
	for i, grade := range g.Grades() {
		r, err := g.RecoveryAt(grade)
		if err != nil {
			t.Fatal(err)
		}
		close(t, "at a point", float(t, r), float(t, g.Recoveries()[i]), 1e-12)
	}
	r, err := g.RecoveryAt(pc(25)) // 50 g and x of the second: (20 + 0.1x)/(50 + x) = 0.25, x = 50
	if err != nil {
		t.Fatal(err)
	}
	close(t, "between", float(t, r), 25.0/43, 1e-12)
	for _, grade := range []float64{41, 4} {
		if _, err := g.RecoveryAt(pc(grade)); err == nil || !strings.Contains(err.Error(), "from 40 % to 4.3 %") {
			t.Errorf("%v %%: %v", grade, err)
		}
	}
	wrong, err := Cumulative(parts("g", 50, 4, 150, 10)...)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := wrong.RecoveryAt(pc(5)); err == nil || !strings.Contains(err.Error(), "richer than part 1") {
		t.Errorf("out of order: %v", err)
	}
	for name, test := range map[string][]Part{
		"two parts":        parts("g", 1, 1),
		"0 or more":        parts("g", -1, 1, 2, 3),
		"none of":          nil,
		"add up to 90 %":   parts("%", 20, 30, 70, 1),
		"holds any of":     parts("g", 1, 0, 2, 0),
		"between 0 and 10": parts("g", 1, 110, 2, 0),
	} {
		if _, err := Cumulative(test...); err == nil || name != "none of" && !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
