package kinetics

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"cobber/stdlib/internal/expect"
	"cobber/stdlib/quantity"
)

func pc(x float64) quantity.Quantity { return quantity.Of(x, "%") }

func of(unit string, values ...float64) []quantity.Quantity {
	all := make([]quantity.Quantity, len(values))
	for i, x := range values {
		all[i] = quantity.Of(x, unit)
	}
	return all
}

var value, near, refused = expect.Value, expect.Near, expect.Refused

func models(t *testing.T) []Model {
	t.Helper()
	var all []Model
	for _, form := range forms {
		m, err := NewModel(form, pc(90), quantity.Of(0.8, "1/min"))
		if form == FastSlow {
			m, err = NewFastSlow(pc(90), quantity.Of(1.5, "1/min"), quantity.Of(0.1, "1/min"), pc(30))
		}
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, m)
	}
	return all
}

// Every form begins at 0, rises, ends at the ultimate recovery; Time is the
// inverse of Recovery, BankTime that of InBank.
func TestModelsAreRecoveries(t *testing.T) {
	for _, m := range models(t) {
		last := -1.0
		for _, minutes := range []float64{0, 0.01, 0.1, 1, 5, 30, 1e3, 1e7} {
			r, err := m.Recovery(quantity.Of(minutes, "min"))
			x := value(t, r, err, "%")
			if x < last || minutes == 0 && x != 0 {
				t.Errorf("%v: %v %% after %v min, %v before", m, x, minutes, last)
			}
			last = x
		}
		near(t, m.String()+" in the end", last, 90, 1e-5)
		time, err := m.Time(pc(60))
		if err != nil {
			t.Fatal(err)
		}
		r, err := m.Recovery(time)
		near(t, m.String()+": there and back", value(t, r, err, "%"), 60, 1e-9)
		for _, cells := range []int{1, 4, 12} {
			time, err := m.BankTime(cells, pc(60))
			if err != nil {
				t.Fatal(err)
			}
			r, err := m.InBank(cells, time)
			near(t, fmt.Sprintf("%v: %d cells", m, cells), value(t, r, err, "%"), 60, 1e-8)
		}
		_, err = m.Time(pc(95))
		refused(t, "beyond the ultimate", err, "never reached")
		_, err = m.InBank(0, quantity.Of(1, "min"))
		refused(t, "no cells", err, "from 1 to 1000")
		_, err = m.Recovery(quantity.Of(1, "kg"))
		refused(t, "no time", err, "a time is")
	}
}

// A bank of many cells is a batch of their whole time, one cell recovers less;
// and the integral over residence times gives what the closed forms give.
func TestBankLimits(t *testing.T) {
	for _, m := range models(t) {
		batch, err := m.Recovery(quantity.Of(6, "min"))
		if err != nil {
			t.Fatal(err)
		}
		many, err := m.InBank(1000, quantity.Of(6.0/1000, "min"))
		near(t, m.String()+": many cells", value(t, many, err, "%"), value(t, batch, nil, "%"), 2e-3)
		few, err := m.InBank(3, quantity.Of(2, "min"))
		one, err2 := m.InBank(1, quantity.Of(6, "min"))
		if a, b := value(t, one, err2, "%"), value(t, few, err, "%"); !(a < b && b < value(t, batch, nil, "%")) {
			t.Errorf("%v: one cell %v, three %v, batch %v", m, a, b, batch)
		}
	}
	// Second order is the mean of first order over exponential rates: what stays in
	// one cell is ∫e^-s/(1 + a·s)ds = e^(1/a)·E1(1/a)/a; with a = 1 that is
	// e·E1(1) = 0.596347362323194 (Gompertz's constant).
	m, err := NewModel(SecondOrder, pc(100), quantity.Of(0.5, "1/min"))
	if err != nil {
		t.Fatal(err)
	}
	r, err := m.InBank(1, quantity.Of(2, "min"))
	near(t, "Gompertz", value(t, r, err, "1"), 1-0.596347362323194, 1e-9)
}

func TestModelRefuses(t *testing.T) {
	k := quantity.Of(1, "1/min")
	_, err := NewModel(FastSlow, pc(90), k)
	refused(t, "one rate", err, "NewFastSlow")
	_, err = NewModel(FirstOrder, quantity.Number(90), k)
	refused(t, "plain percent", err, "write a percentage")
	_, err = NewModel(FirstOrder, pc(90), quantity.Of(1, "min"))
	refused(t, "a time", err, "as in 1/min")
	_, err = NewModel(Form(9), pc(90), k)
	refused(t, "form", err, "no form 9")
	_, err = NewFastSlow(pc(90), k, quantity.Of(2, "1/min"), pc(30))
	refused(t, "slow above fast", err, "above the fast one")
}

func TestUncertainModel(t *testing.T) {
	k := quantity.Must(quantity.Normal(quantity.Of(0.5, "1/min"), quantity.Of(0.01, "1/min")))
	m, err := NewModel(FirstOrder, pc(90), k)
	if err != nil {
		t.Fatal(err)
	}
	r, err := m.Recovery(quantity.Of(2, "min"))
	if err != nil || !r.IsUncertain() {
		t.Fatalf("%v (%v)", r, err)
	}
	near(t, "deviation", value(t, r.StdDev(), nil, "1"), 0.9*2*math.Exp(-1)*0.01, 0.05)
}

// Readings on a model are fitted by it exactly.
func TestFitFindsTheModel(t *testing.T) {
	for _, m := range models(t) {
		times := of("min", 0.25, 0.5, 1, 2, 4, 8, 16, 32)
		var recoveries []quantity.Quantity
		for _, time := range times {
			r, err := m.Recovery(time)
			if err != nil {
				t.Fatal(err)
			}
			recoveries = append(recoveries, r)
		}
		test, err := NewTest(times, recoveries)
		if err != nil {
			t.Fatal(err)
		}
		f, err := Fit(test, m.Form())
		if err != nil {
			t.Errorf("%v: %v", m, err)
			continue
		}
		near(t, m.String()+": ultimate", f.Model.Ultimate().SI(), m.Ultimate().SI(), 1e-5)
		near(t, m.String()+": rate", value(t, f.Model.Rate(), nil, "1/min"), value(t, m.Rate(), nil, "1/min"), 1e-4)
		slow, share := f.Model.Slow()
		wantSlow, wantShare := m.Slow()
		near(t, m.String()+": slow rate", value(t, slow, nil, "1/min"), value(t, wantSlow, nil, "1/min"), 1e-3)
		if math.Abs(share.SI()-wantShare.SI()) > 1e-4 {
			t.Errorf("%v: slow share %v", m, share)
		}
		if f.AtLimit {
			t.Errorf("%v: held at 100 %%", m)
		}
	}
}

func TestFitHoldsAt100(t *testing.T) {
	test, err := NewTest(of("min", 1, 2, 4, 8), of("%", 20, 38, 66, 97)) // nearly straight
	if err != nil {
		t.Fatal(err)
	}
	f, err := Fit(test, FirstOrder)
	if err != nil || !f.AtLimit || f.Model.Ultimate().SI() != 1 {
		t.Errorf("ultimate %v, held %v (%v)", f.Model.Ultimate(), f.AtLimit, err)
	}
	if text := f.String(); !strings.Contains(text, "held") {
		t.Errorf("the table does not say so:\n%s", text)
	}
	_, err = Fit(test, Form(8))
	refused(t, "form", err, "no form 8")
	short, err := NewTest(of("min", 0, 1, 2), of("%", 0, 20, 30))
	if err != nil {
		t.Fatal(err)
	}
	_, err = Fit(short, FastSlow)
	refused(t, "too few readings", err, "more readings are needed")
	all, err := Compare(test)
	if err != nil || all.Rows() < 4 {
		t.Errorf("comparison (%v):\n%v", err, all)
	}
}

func TestTestRefuses(t *testing.T) {
	for _, test := range []struct {
		name              string
		times, recoveries []quantity.Quantity
		want              string
	}{
		{"lengths", of("min", 1, 2), of("%", 1), "2 times and 1 recoveries"},
		{"no time", of("kg", 1, 2), of("%", 1, 2), "is no time"},
		{"times fall", of("min", 2, 1), of("%", 1, 2), "reading 2: times rise"},
		{"recoveries fall", of("min", 1, 2), of("%", 10, 9), "does not fall"},
		{"begins above 0", of("min", 0, 2), of("%", 10, 19), "begins with 0"},
		{"plain percent", of("min", 1, 2), of("1", 10, 19), "write a percentage"},
	} {
		_, err := NewTest(test.times, test.recoveries)
		refused(t, test.name, err, test.want)
	}
}

func TestFromProducts(t *testing.T) {
	test, err := FromProducts(of("min", 1, 3),
		[]Product{{quantity.Of(50, "g"), pc(20)}, {quantity.Of(0.05, "kg"), pc(6)}}, Product{quantity.Of(900, "g"), pc(0.3)})
	if err != nil {
		t.Fatal(err)
	}
	// metal 10, 3 and 2.7 g
	near(t, "first", value(t, test.Recoveries()[0], nil, "1"), 10/15.7, 1e-12)
	near(t, "second", value(t, test.Recoveries()[1], nil, "1"), 13/15.7, 1e-12)
	_, err = FromProducts(of("min", 1), []Product{{quantity.Of(-1, "g"), pc(20)}}, Product{quantity.Of(900, "g"), pc(0.3)})
	refused(t, "negative mass", err, "concentrate 1")
	_, err = FromProducts(of("min", 1), []Product{{quantity.Of(1, "g"), pc(0)}}, Product{quantity.Of(900, "g"), pc(0)})
	refused(t, "no metal", err, "nothing of what was assayed")
}

// The figures of the example are invented.
func ExampleFit() {
	test, err := NewTest(of("min", 0.5, 1, 2, 4, 8), of("%", 38, 58, 77, 86, 88.5))
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := Fit(test, FirstOrder)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(f)
	bank, err := f.Model.InBank(6, quantity.Of(1, "min"))
	fmt.Printf("six cells of a minute: %.3g %v\n", bank, err)
	// Output:
	// first order
	// parameter              value        standard error
	// ─────────────────────  ───────────  ──────────────
	// ultimate recovery      87.57 %      0.7071 %
	// rate                   1.096 min⁻¹  0.02986 min⁻¹
	// root mean square miss  0.9909 %     –
	// six cells of a minute: 86.5 % <nil>
}
