package mineral

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

func blend(t *testing.T, target Target, materials ...Material) Blend {
	t.Helper()
	b, err := FindBlend(target, materials...)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// The rule of the lever: two materials of 2 and 12 % make 5 % at 70 to 30.
func TestBlendOfTwoIsTheLever(t *testing.T) {
	ti := func(x float64) Composition { return assay(t, []string{"TiO2"}, of("%", x)) }
	b := blend(t, Target{Composition: ti(5)}, Material{Name: "poor", Composition: ti(2)}, Material{Name: "rich", Composition: ti(12)})
	near(t, "poor", value(t, b.Shares()[0], "%"), 70, 1e-9)
	near(t, "rich", value(t, b.Shares()[1], "%"), 30, 1e-9)
	if !b.IsOnly() || b.RootMeanMiss() > 1e-12 {
		t.Errorf("only %v, miss %v", b.IsOnly(), b.RootMeanMiss())
	}
	outside := blend(t, Target{Composition: ti(20)}, Material{Name: "poor", Composition: ti(2)}, Material{Name: "rich", Composition: ti(12)})
	near(t, "all rich", value(t, outside.Shares()[1], "%"), 100, 1e-12)
	near(t, "missed, %", outside.RootMeanMiss(), 8, 1e-12)
	bound := blend(t, Target{Composition: ti(5)}, Material{Name: "poor", Composition: ti(2), High: quantity.Of(60, "%")}, Material{Name: "rich", Composition: ti(12)})
	near(t, "bound", value(t, bound.Shares()[0], "%"), 60, 1e-12)
	third := blend(t, Target{Composition: ti(5)}, Material{Name: "a", Composition: ti(2)}, Material{Name: "b", Composition: ti(5)}, Material{Name: "c", Composition: ti(12)})
	if third.IsOnly() || !strings.Contains(third.String(), "one of several") {
		t.Errorf("three materials for one wanted share leave room to choose:\n%s", third)
	}
}

// A lunar simulant of pyroxene, olivine, feldspar and ilmenite as 4 : 4 : 1 : 1
// (KSC-1, IEEE Trans. Ind. Appl. 45 (2009) 1060) is found again from its
// chemistry, with quartz and rutile on the shelf as well.
func TestSimulantIsFoundAgain(t *testing.T) {
	oxides := []string{"SiO2", "TiO2", "Al2O3", "FeO", "MgO", "CaO"}
	shelf := []string{"diopside", "forsterite", "anorthite", "ilmenite", "quartz", "rutile"}
	recipe := []float64{40, 40, 10, 10, 0, 0}
	var materials []Material
	wanted := make([]float64, len(oxides))
	for j, name := range shelf {
		m, err := Find(name)
		if err != nil {
			t.Fatal(err)
		}
		c, err := m.Formula.Composition().As(oxides...)
		if err != nil {
			t.Fatal(err)
		}
		for i, share := range c.Shares() {
			wanted[i] += recipe[j] / 100 * value(t, share, "%")
		}
		materials = append(materials, Material{Name: name, Composition: c})
	}
	b := blend(t, Target{Composition: assay(t, oxides, of("%", wanted...))}, materials...)
	for j, want := range recipe {
		if got := value(t, b.Shares()[j], "%"); math.Abs(got-want) > 1e-8 {
			t.Errorf("%s: %v %%, in the recipe %v", shelf[j], got, want)
		}
	}
}

// No other recipe within the bounds may come nearer.
func TestNoRandomRecipeComesNearer(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	names := []string{"A", "B", "C"}
	openings := of("µm", 300, 75)
	draw := func(parts int) []float64 {
		x, sum := make([]float64, parts), 0.0
		for i := range x {
			x[i] = random.ExpFloat64()
			sum += x[i]
		}
		for i := range x {
			x[i] *= 100 / sum
		}
		return x
	}
	for range 50 {
		passing := func() []quantity.Quantity {
			high := random.Float64() * 100
			return of("%", high, high*random.Float64())
		}
		target := Target{Composition: assay(t, names, of("%", draw(3)...)), Within: quantity.Of(0.5, "%"),
			Openings: openings, Passing: passing(), PassingWithin: quantity.Of(3, "%")}
		materials := make([]Material, 5)
		for j := range materials {
			materials[j] = Material{Name: string(rune('a' + j)), Composition: assay(t, names, of("%", draw(3)...)), Passing: passing()}
		}
		materials[0].High, materials[1].Low = quantity.Of(20, "%"), quantity.Of(5, "%")
		best := blend(t, target, materials...)
		sum := quantity.Sum(best.Shares()...)
		near(t, "sum", value(t, sum, "%"), 100, 1e-12)
		for range 200 {
			other := best
			other.shares = draw(5)
			for j := range other.shares {
				other.shares[j] /= 100
			}
			if other.shares[0] > 0.2 || other.shares[1] < 0.05 {
				continue
			}
			if other.RootMeanMiss() < best.RootMeanMiss()-1e-12 {
				t.Fatalf("%v misses %v, %v only %v", best.shares, best.RootMeanMiss(), other.shares, other.RootMeanMiss())
			}
		}
	}
}

func TestBlendRefused(t *testing.T) {
	c := assay(t, []string{"A"}, of("%", 5))
	wanted := Target{Composition: c}
	both := Target{Composition: c, Openings: of("µm", 75), Passing: of("%", 50)}
	a := Material{Name: "a", Composition: c, Passing: of("%", 50)}
	with := func(change func(*Material)) Material { m := a; change(&m); return m }
	tests := []struct {
		target    Target
		materials []Material
		want      string
	}{
		{Target{}, []Material{a}, "wants nothing"}, {wanted, nil, "no material"}, {both, []Material{a}, "tolerance of composition"},
		{wanted, []Material{a, a}, "a name of its own"},
		{wanted, []Material{{Name: "b", Composition: assay(t, []string{"B"}, of("%", 5))}}, "write 0 % if it has none"},
		{Target{Openings: of("µm", 75), Passing: of("%", 50)}, []Material{{Name: "b"}}, "0 passing shares"},
		{Target{Openings: of("µm", 75, 300), Passing: of("%", 50, 40)}, []Material{a}, "less passes a finer sieve"},
		{Target{Openings: of("t", 75), Passing: of("%", 50)}, []Material{a}, "a length above 0"},
		{Target{Openings: of("µm", 75)}, []Material{a}, "each sieve needs one"},
		{wanted, []Material{with(func(m *Material) { m.Low, m.High = quantity.Of(50, "%"), quantity.Of(40, "%") })}, "cross"},
		{wanted, []Material{with(func(m *Material) { m.High = quantity.Of(40, "%") })}, "less than a whole"},
		{wanted, []Material{with(func(m *Material) { m.Low = quantity.Of(60, "%") }), with(func(m *Material) { m.Name, m.Low = "b", quantity.Of(60, "%") })}, "more than a whole"},
		{wanted, []Material{with(func(m *Material) { m.High = quantity.Of(140, "%") })}, "between 0 and 100"},
	}
	for _, test := range tests {
		if _, err := FindBlend(test.target, test.materials...); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%+v: error %v, want one with %q", test.target, err, test.want)
		}
	}
}
