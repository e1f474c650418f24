package comminution

import (
	"testing"

	"cobber/stdlib/quantity"
)

// TestUncertainImpacts holds results to carry what is uncertain of impacts and openings.
func TestUncertainImpacts(t *testing.T) {
	m := Impact{Most: percent(0.5), Ease: quantity.Of(0.9, "t/kWh")}
	impacts := quantity.Must(quantity.Uniform(quantity.Number(1), quantity.Number(3)))
	if p, err := m.Probability(mm(10), quantity.Of(0.5, "kWh/t"), impacts); err != nil || !p.IsUncertain() {
		t.Errorf("the share broken is %v (%v), and the number of impacts is uncertain", p, err)
	}
	f, err := TruncatedRosinRammler(num(0.7))
	if err != nil {
		t.Fatal(err)
	}
	r := mill(t).Rotor
	opening := quantity.Must(quantity.Uniform(mm(1), mm(2)))
	certain, err := r.Passing(Struck, m, f, mm(10), num(1), mm(1.5))
	if err != nil || certain.IsUncertain() {
		t.Fatal(certain, err)
	}
	p, err := r.Passing(Struck, m, f, mm(10), num(1), opening)
	if err != nil || !p.IsUncertain() {
		t.Fatalf("the share passing is %v (%v), and the opening is uncertain", p, err)
	}
	low, high, err := p.Interval(0.95)
	if err != nil || !low.Less(certain) || !certain.Less(high) {
		t.Errorf("from %v to %v does not hold %v", low, high, certain)
	}
}
