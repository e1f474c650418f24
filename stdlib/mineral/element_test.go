package mineral

import (
	"math"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

func value(t *testing.T, q quantity.Quantity, unit string) float64 {
	t.Helper()
	x, err := q.Value(unit)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relative*math.Abs(want)) {
		t.Errorf("%s: %.8g, want %.8g (tolerance %g)", what, got, want, relative)
	}
}

func of(unit string, values ...float64) []quantity.Quantity {
	all := make([]quantity.Quantity, len(values))
	for i, x := range values {
		all[i] = quantity.Of(x, unit)
	}
	return all
}

// What a table of atomic weights must be like: the numbers rise, the weights
// too but for the four known inversions, each weight lies in its interval up to
// the rounding of the abridged value, and a neutron-rich world has more than
// twice the atomic number in weight only from argon on or so.
func TestAtomicWeightsAreInOrder(t *testing.T) {
	all := Elements()
	if len(all) != 84 {
		t.Errorf("%d elements; 84 have a standard atomic weight (IUPAC 2021)", len(all))
	}
	inversions := []string{}
	for i, e := range all {
		weight, low, high := value(t, e.Weight, "g/mol"), value(t, e.Low, "g/mol"), value(t, e.High, "g/mol")
		slack := value(t, e.Uncertainty, "g/mol")
		if !(low < high && weight >= low-slack && weight <= high+slack) {
			t.Errorf("%s: %v lies outside %v to %v", e.Symbol, e.Weight, e.Low, e.High)
		}
		if ratio := weight / float64(e.Number); e.Number > 1 && (ratio < 1.95 || ratio > 2.62) {
			t.Errorf("%s: %v is %.3f times its number", e.Symbol, e.Weight, ratio)
		}
		if i > 0 {
			if e.Number <= all[i-1].Number {
				t.Errorf("%s stands out of order", e.Symbol)
			}
			if weight < value(t, all[i-1].Weight, "g/mol") {
				inversions = append(inversions, all[i-1].Symbol+">"+e.Symbol)
			}
		}
	}
	if got := strings.Join(inversions, " "); got != "Ar>K Co>Ni Te>I Th>Pa" {
		t.Errorf("weights fall at %s; nature has Ar>K, Co>Ni, Te>I and Th>Pa", got)
	}
}

func TestFindElement(t *testing.T) {
	iron, err := FindElement("Fe")
	if err != nil || iron.Number != 26 || iron.Name != "iron" || value(t, iron.Weight, "g/mol") != 55.845 {
		t.Errorf("%+v (%v)", iron, err)
	}
	lead, err := FindElement("Pb")
	if err != nil || value(t, lead.Uncertainty, "g/mol") != 1.1 || value(t, lead.Low, "g/mol") != 206.14 {
		t.Errorf("%+v (%v)", lead, err)
	}
	for symbol, want := range map[string]string{
		"fe": "the symbol of iron is Fe", "FE": "is Fe", "Iron": "the symbol of iron is Fe", "Xx": "is no element",
		"": "is no element", "Ra": "no standard atomic weight",
	} {
		if _, err := FindElement(symbol); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: error %v, want one with %q", symbol, err, want)
		}
	}
}
