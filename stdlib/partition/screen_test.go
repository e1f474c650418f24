package partition

import (
	"testing"

	"cobber/stdlib/quantity"
)

// Identities that hold for any screen.
func TestScreenIdentities(t *testing.T) {
	for _, test := range [][3]float64{{40, 5, 90}, {35, 8, 95}, {53, 15, 80.5}, {50, 0, 100}} {
		s, err := Screen(pc(test[0]), pc(test[1]), pc(test[2]))
		if err != nil {
			t.Fatal(err)
		}
		get := func(q quantity.Quantity) float64 { return value(t, q, nil, "1") }
		f, o, u := test[0]/100, test[1]/100, test[2]/100
		under := get(s.Undersize())
		near(t, "fines close", under*u+(1-under)*o, f, 1e-12)
		near(t, "recovery of fines", get(s.FinesRecovery()), under*u/f, 1e-12)
		near(t, "recovery of coarse", get(s.CoarseRecovery()), (1-under)*(1-o)/(1-f), 1e-12)
		near(t, "Newton", get(s.NewtonEfficiency()), under*u/f-under*(1-u)/(1-f), 1e-12)
		misplaced := (1-get(s.FinesRecovery()))*f + (1-get(s.CoarseRecovery()))*(1-f)
		if got := get(s.Misplaced()); got-misplaced > 1e-12 || misplaced-got > 1e-12 {
			t.Errorf("misplaced %v, want %v", got, misplaced)
		}
		if u == 1 {
			near(t, "clean undersize", get(s.FinesRemoval()), get(s.FinesRecovery()), 1e-12)
		}
	}
}

func TestScreenRefuses(t *testing.T) {
	for _, test := range []struct {
		name    string
		f, o, u quantity.Quantity
		want    string
	}{
		{"feed below", pc(5), pc(10), pc(90), "look at the three sievings"},
		{"products swapped", pc(40), pc(90), pc(5), "look at the three sievings"},
		{"plain percent", quantity.Number(40), pc(5), pc(90), "fines in the feed"},
		{"a mass", pc(40), quantity.Of(5, "kg"), pc(90), "fines in the oversize"},
	} {
		_, err := Screen(test.f, test.o, test.u)
		refused(t, test.name, err, test.want)
	}
}

func TestUncertainScreen(t *testing.T) {
	feed := quantity.Must(quantity.Normal(pc(40), pc(1)))
	s, err := Screen(feed, pc(5), pc(90))
	if err != nil {
		t.Fatal(err)
	}
	// d(U/F)/df = 1/(u − o)
	near(t, "deviation", value(t, s.Undersize().StdDev(), nil, "%"), 1/0.85, 0.03)
}
