package claims

import (
	"math"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

func of(x float64, unit string) quantity.Quantity { return quantity.Of(x, unit) }

func ledger(t *testing.T, entries ...Entry) *Ledger {
	t.Helper()
	l := New("an invented report")
	for _, e := range entries {
		if e.Where == "" {
			e.Where = "p. 1"
		}
		if err := l.State(e); err != nil {
			t.Fatal(err)
		}
	}
	return l
}

func verdict(t *testing.T) func(v Verdict, err error) Verdict {
	return func(v Verdict, err error) Verdict {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// Hematite, Fe2O3, holds 69.94 % Fe, and ilmenite, FeTiO3, 52.65 % TiO2: values of
// every handbook of minerals.
func TestPurity(t *testing.T) {
	for _, test := range []struct {
		grade          float64
		symbol, of     string
		want           Kind
		found, nearest float64
	}{
		{69.9, "Fe", "hematite", Possible, 69.94, 0.01}, {72, "Fe", "hematite", Impossible, 69.94, 0.01},
		{70, "Fe", "Fe2O3", Possible, 69.94, 0.01}, // 70 to the percent may be 69.5
		{53, "TiO2", "ilmenite", Possible, 52.65, 0.01}, {54, "TiO2", "ilmenite", Impossible, 52.65, 0.01},
	} {
		l := ledger(t, Entry{Name: "grade", Value: of(test.grade, "%")})
		v := verdict(t)(l.Purity("grade", test.symbol, test.of))
		found, err := v.Found.Value("%")
		if err != nil || v.Kind != test.want || math.Abs(found-test.found) > test.nearest {
			t.Errorf("%v %% %s in %s: %v", test.grade, test.symbol, test.of, v)
		}
	}
}

// The figures 0.8, 25 and 0.15 % give a yield of 0.65/24.85 = 2.616 % and a
// recovery of 81.74 % by hand.
func TestTwoProduct(t *testing.T) {
	grades := []Entry{{Name: "feed", Value: of(0.8, "%"), Rounding: of(0.005, "%")}, {Name: "concentrate", Value: of(25, "%"), Rounding: of(0.05, "%")}, {Name: "tailing", Value: of(0.15, "%")}}
	names := Separation{Feed: "feed", Concentrate: "concentrate", Tailing: "tailing", Yield: "yield", Recovery: "recovery"}
	l := ledger(t, append(grades, Entry{Name: "yield", Value: of(2.6, "%")}, Entry{Name: "recovery", Value: of(90, "%")})...)
	verdicts, err := l.TwoProduct(names, quantity.Number(0))
	if err != nil {
		t.Fatal(err)
	}
	want := []struct {
		kind  Kind
		found float64
	}{{Possible, 25.05}, {Possible, 0.145}, {Agrees, 2.6157}, {Differs, 81.25}, {Differs, 81.741}}
	if len(verdicts) != len(want) {
		t.Fatalf("%d verdicts: %v", len(verdicts), verdicts)
	}
	for i, v := range verdicts {
		found, err := v.Found.Value("%")
		if err != nil || v.Kind != want[i].kind || math.Abs(found-want[i].found) > 0.005 {
			t.Errorf("verdict %d: %v, found %v, want %v and %v", i+1, v, v.Found, want[i].kind, want[i].found)
		}
	}
	if r := verdicts[4].Ratio; math.Abs(r-90/81.741) > 1e-3 {
		t.Errorf("ratio %v", r)
	}
}

// A published table of the magnetic separation of a roasted limonite: yield
// 61.31 %, iron 38.12 % in the feed, 50.78 and 18.06 % in the products, recovery
// 81.67 % (results as reprinted on a page on the beneficiation of limonite). The
// published figures imply one another.
func TestPublishedSeparationAgrees(t *testing.T) {
	l := ledger(t, Entry{Name: "f", Value: of(38.12, "%")}, Entry{Name: "c", Value: of(50.78, "%")}, Entry{Name: "t", Value: of(18.06, "%")},
		Entry{Name: "Y", Value: of(61.31, "%")}, Entry{Name: "R", Value: of(81.67, "%")})
	verdicts, err := l.TwoProduct(Separation{"f", "c", "t", "Y", "R"}, quantity.Number(0))
	if err != nil || len(verdicts) != 5 {
		t.Fatalf("%v (%v)", verdicts, err)
	}
	for _, v := range verdicts {
		if v.Kind != Agrees && v.Kind != Possible {
			t.Errorf("%v", v)
		}
	}
}

func TestTwoProductSaysWhatIsMissing(t *testing.T) {
	l := ledger(t, Entry{Name: "feed", Value: of(0.8, "%")}, Entry{Name: "recovery", Value: of(90, "%")})
	verdicts, err := l.TwoProduct(Separation{Feed: "feed", Recovery: "recovery"}, quantity.Number(0))
	if err != nil || len(verdicts) != 1 || verdicts[0].Kind != Open {
		t.Fatalf("%v (%v)", verdicts, err)
	}
	if got := verdicts[0].String(); got != "recovery cannot be checked: missing: the grade of the concentrate, the grade of the tailing" {
		t.Errorf("%q", got)
	}
	poor := ledger(t, Entry{Name: "feed", Value: of(4, "%")}, Entry{Name: "concentrate", Value: of(2, "%")})
	verdicts, err = poor.TwoProduct(Separation{Feed: "feed", Concentrate: "concentrate"}, quantity.Number(0))
	if err != nil || len(verdicts) != 1 || verdicts[0].Kind != Impossible {
		t.Errorf("a feed richer than its concentrate: %v (%v)", verdicts, err)
	}
}

// A figure is known to half a unit of its last digit.
func TestRoundingIsAllowedFor(t *testing.T) {
	for _, test := range []struct {
		stated, computed float64
		want             Kind
	}{{12.5, 12.549, Agrees}, {12.5, 12.551, Differs}, {12.5, 12.451, Agrees}, {120, 120.4, Agrees}, {120, 120.6, Differs}} {
		l := ledger(t, Entry{Name: "flow", Value: of(test.stated, "t/h")})
		if v := verdict(t)(l.Against("flow", of(test.computed, "t/h"), "", quantity.Number(0))); v.Kind != test.want {
			t.Errorf("%v stated, %v computed: %v", test.stated, test.computed, v)
		}
		if v := verdict(t)(l.Against("flow", of(test.computed*1000, "kg/h"), "", of(1, "%"))); v.Kind != Agrees {
			t.Errorf("%v stated, %v computed, within 1 %%: %v", test.stated, test.computed, v)
		}
	}
}

// An uncertain value agrees with what lies in its interval of 95 %.
func TestUncertaintyIsAllowedFor(t *testing.T) {
	quantity.Seed(5)
	computed := quantity.Must(quantity.Normal(of(80, "%"), of(2, "%"))) // 76.1 to 83.9 %
	for stated, want := range map[float64]Kind{80: Agrees, 84.3: Agrees, 84.6: Differs, 76: Agrees, 75: Differs} {
		l := ledger(t, Entry{Name: "recovery", Value: of(stated, "%"), Rounding: of(0.5, "%")})
		v := verdict(t)(l.Against("recovery", computed, "model", quantity.Number(0)))
		if v.Kind != want {
			t.Errorf("%v %%: %v", stated, v)
		}
		if !strings.Contains(v.Reason, "would agree") {
			t.Errorf("the reason does not say what would agree: %s", v.Reason)
		}
	}
}

// What follows from rounded figures is known no better than they are: 3 t/h of 2 %
// is 2.5 to 3.5 t/h of 1.5 to 2.5 %, 37.5 to 87.5 kg/h.
func TestImpliedAllowsForTheRoundingOfItsSources(t *testing.T) {
	product := func(q []quantity.Quantity) (quantity.Quantity, error) { return q[0].Mul(q[1]).In("kg/h") }
	for stated, want := range map[float64]Kind{37: Agrees, 36: Differs, 60: Agrees, 88: Agrees, 89: Differs} {
		l := ledger(t, Entry{Name: "flow", Value: of(3, "t/h")}, Entry{Name: "grade", Value: of(2, "%")}, Entry{Name: "metal", Value: of(stated, "kg/h")})
		if v := verdict(t)(l.Implied("metal", product, "flow times grade", quantity.Number(0), "flow", "grade")); v.Kind != want {
			t.Errorf("%v kg/h: %v", stated, v)
		}
	}
	l := ledger(t, Entry{Name: "metal", Value: of(60, "kg/h")})
	if v := verdict(t)(l.Implied("metal", product, "flow times grade", quantity.Number(0), "flow", "grade")); v.Kind != Open || strings.Join(v.Missing, " ") != "flow grade" {
		t.Errorf("without its sources: %v", v)
	}
}

func TestMetalOutIsNoMoreThanMetalIn(t *testing.T) {
	entries := []Entry{{Name: "feed", Value: of(100, "t/h")}, {Name: "feed grade", Value: of(1.2, "%")}, {Name: "concentrate", Value: of(1.8, "t/h")}}
	in, out := []Carried{{"feed", "feed grade"}}, []Carried{{"concentrate", "concentrate grade"}}
	for grade, want := range map[float64]Kind{60: Possible, 68: Possible, 80: Impossible} {
		l := ledger(t, append(entries, Entry{Name: "concentrate grade", Value: of(grade, "%")})...)
		v := verdict(t)(l.Conserved("tin", in, out))
		if v.Kind != want || math.Abs(v.Ratio-1.8*grade/120) > 1e-9 {
			t.Errorf("%v %%: %v, ratio %v", grade, v, v.Ratio)
		}
	}
	if v := verdict(t)(ledger(t, entries...).Conserved("tin", in, out)); v.Kind != Open || v.Missing[0] != "concentrate grade" {
		t.Errorf("without a grade: %v", v)
	}
	if v := verdict(t)(ledger(t, entries...).Conserved("solids", []Carried{{"feed", ""}}, []Carried{{"concentrate", ""}})); v.Kind != Possible {
		t.Errorf("solids: %v", v)
	}
}

// To lift 1 t by 100 m on Earth takes 1000 kg × 9.80665 m/s² × 100 m = 0.2724 kWh.
func TestEnergyBelowTheLeast(t *testing.T) {
	least := of(1, "t").Mul(of(9.80665, "m/s2")).Mul(of(100, "m")).Div(of(1, "t")).To("kWh/t")
	for stated, want := range map[float64]Kind{0.2: Impossible, 0.3: Possible} {
		l := ledger(t, Entry{Name: "hoisting", Value: of(stated, "kWh/t"), Rounding: of(0.005, "kWh/t")})
		v := verdict(t)(l.AtLeast("hoisting", least, "weight times height"))
		if v.Kind != want || math.Abs(v.Found.Shown()-0.27241) > 1e-4 {
			t.Errorf("%v kWh/t: %v, found %v", stated, v, v.Found)
		}
	}
	l := ledger(t, Entry{Name: "recovery", Value: of(104, "%")}, Entry{Name: "grade", Value: of(-1, "%")}, Entry{Name: "yield", Value: of(30, "%")})
	for name, want := range map[string]Kind{"recovery": Impossible, "grade": Impossible, "yield": Possible} {
		if v := verdict(t)(l.Share(name)); v.Kind != want {
			t.Errorf("%v", v)
		}
	}
}

// The long ton is 2240 lb, 1016.0469 kg; the short ton 2000 lb, 907.18474 kg
// (NIST SP 811, B.8); a pennyweight is 1/20 troy ounce, 1.555174 g.
func TestFiguresOfOldPapers(t *testing.T) {
	l := New("an invented old paper")
	for name, figure := range map[string]string{"a": "250 long tons per day", "b": "85 per cent.", "c": "12.0 %", "d": "3 dwt/st"} {
		if err := l.Read(name, figure, "p. 3"); err != nil {
			t.Fatal(err)
		}
	}
	for name, want := range map[string]quantity.Quantity{"a": of(254.0117, "t/d"), "b": of(0.85, "1"), "d": of(3*1.555174/0.90718474, "g/t")} {
		e, err := l.Entry(name)
		if err != nil {
			t.Fatal(err)
		}
		if got := e.Value.SI(); math.Abs(got/want.SI()-1) > 1e-6 {
			t.Errorf("%s is %v, want %v", name, e.Value, want)
		}
	}
	if e, _ := l.Entry("c"); math.Abs(e.Rounding.Shown()-0.05) > 1e-12 {
		t.Errorf("12.0 %% is known to %v", e.Rounding)
	}
	if err := l.Read("e", "4 tons", "p. 3"); err == nil || !strings.Contains(err.Error(), "e:") {
		t.Errorf("an ambiguous ton is read: %v", err)
	}
}

func TestShown(t *testing.T) {
	l := ledger(t, Entry{Name: "grade", Value: of(72, "% "[:1]), Where: "p. 4, table 2", Rests: "assays"},
		Entry{Name: "recovery", Value: of(90, "%"), Where: "abstract", Rests: "a mass balance that is not given"},
		Entry{Name: "power", Value: of(3, "kW"), Where: "p. 9"}, Entry{Name: "life", Value: of(10, "a"), Where: "p. 10"})
	verdict(t)(l.Purity("grade", "Fe", "hematite"))
	verdict(t)(l.Missing("recovery", "the mass of the concentrate"))
	verdict(t)(l.Against("power", of(3, "kW"), "torque times speed", quantity.Number(0)))
	const want = "4 figures, 3 checks, 1 agrees, 1 impossible, 1 cannot be checked, 1 not checked"
	if got := l.Summary(); got != want {
		t.Errorf("%q, want %q", got, want)
	}
	text := l.Text()
	for _, part := range []string{"1. grade (p. 4, table 2): 72 %, from assays\n   Impossible, Fe in pure hematite: ratio 1.03; the most it can be is 69.9 %.",
		"   Cannot be checked: missing: the mass of the concentrate.", "4. life (p. 10): 10 a\n   Not checked."} {
		if !strings.Contains(text, part) {
			t.Errorf("no %q in\n%s", part, text)
		}
	}
	if !strings.Contains(text, "3. power (p. 9): 3 kW\n   Agrees, torque times speed: ratio 1.") {
		t.Errorf("the power is not told in\n%s", text)
	}
	for _, form := range []string{l.String(), l.HTML(), l.Markdown(), l.LaTeX()} {
		for _, part := range []string{"72", "impossible", "cannot be checked", "not checked", "table 2"} {
			if !strings.Contains(form, part) {
				t.Errorf("no %q in\n%s", part, form)
			}
		}
	}
	first := l.Verdicts()[0]
	if got, want := first.HTML(), "<b>grade impossible</b>: ratio 1.03; the most it can be is 69.9 %"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := first.Markdown(), "**grade impossible**: ratio 1.03; the most it can be is 69.9 %"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if !strings.Contains(l.Markdown(), "**impossible: ") || strings.Contains(l.Markdown(), "**agrees") {
		t.Error("what must not be missed does not stand out alone")
	}
}

func TestRefusals(t *testing.T) {
	l := ledger(t, Entry{Name: "flow", Value: of(3, "t/h")}, Entry{Name: "grade", Value: of(3, "%")})
	same := func(q []quantity.Quantity) (quantity.Quantity, error) { return q[0], nil }
	none := quantity.Number(0)
	drop := func(_ Verdict, err error) error { return err }
	for want, err := range map[string]error{
		"needs a name":               l.State(Entry{Value: of(1, "t"), Where: "p. 1"}),
		"where it stands":            l.State(Entry{Name: "x", Value: of(1, "t")}),
		"in the ledger already":      l.State(Entry{Name: "flow", Value: of(1, "t"), Where: "p. 1"}),
		"has no value":               l.State(Entry{Name: "x", Where: "p. 1"}),
		"its rounding 1 m":           l.State(Entry{Name: "x", Value: of(1, "t"), Where: "p. 1", Rounding: of(1, "m")}),
		"rounding below 0":           l.State(Entry{Name: "x", Value: of(1, "t"), Where: "p. 1", Rounding: of(-1, "t")}),
		"holds flow, grade":          drop(l.Against("x", of(1, "t"), "", none)),
		"cannot be held against":     drop(l.Against("flow", of(1, "m"), "", none)),
		"is not a number":            drop(l.Against("flow", of(math.NaN(), "t/h"), "", none)),
		"a share of 0 or more":       drop(l.Against("flow", of(1, "t/h"), "", of(1, "t"))),
		"name the figures":           drop(l.Implied("flow", same, "", none)),
		"which 3 % cannot be":        drop(l.Implied("flow", same, "", none, "grade")),
		"which is no share":          drop(l.Share("flow")),
		"no share of mass":           drop(l.Purity("flow", "Fe", "hematite")),
		"claims: grade":              drop(l.Purity("grade", "Xx", "hematite")),
		"say what is missing":        drop(l.Missing("flow")),
		"what enters and what":       drop(l.Conserved("tin", nil, nil)),
		"they cannot be added":       drop(l.Conserved("tin", []Carried{{"flow", ""}}, []Carried{{"grade", ""}})),
		"the ledger holds no figure": drop(New("").Missing("x", "y")),
	} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one with %q", err, want)
		}
	}
	if _, err := l.TwoProduct(Separation{Feed: "grade"}, none); err == nil {
		t.Error("one figure is held against itself")
	}
	if len(l.Verdicts()) != 0 {
		t.Errorf("refusals left verdicts: %v", l.Verdicts())
	}
}
