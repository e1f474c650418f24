package chart

import (
	"math"
	"slices"
	"strings"
	"testing"

	"cobber/stdlib/balance"
	"cobber/stdlib/partition"
	"cobber/stdlib/plot"
	"cobber/stdlib/quantity"
	"cobber/stdlib/size"
)

// The lines of equal efficiency and yield pass through the separations that
// package balance says have that efficiency and yield.
func TestIsoLinesAgreeWithTheBalance(t *testing.T) {
	pure := quantity.Of(78.8, "%")
	for _, grades := range [][3]float64{{1.1, 42, 0.3}, {1.1, 12, 0.15}, {5, 60, 2}} {
		f, c, tail := quantity.Of(grades[0], "%"), quantity.Of(grades[1], "%"), quantity.Of(grades[2], "%")
		b := must(balance.Grades(f, c, tail))(t)
		recovery := must(b.Recovery().Value("1"))(t)
		efficiency := must(must(b.SeparationEfficiency(pure))(t).Value("1"))(t)
		yield := must(b.Yield().Value("1"))(t)
		for lines, level := range map[Iso]float64{EqualEfficiency: efficiency, EqualYield: yield} {
			got, ok := isoGrade(f, pure, lines, level, recovery)
			if !ok || math.Abs(got.Shown()-grades[1]) > 1e-9 {
				t.Errorf("feed %v: the line passes the recovery at %v, want %v", f, got, c)
			}
		}
	}
}

// 0.4 + 0.25x = 1.1 + 0.12x at x = 0.7/0.13 = 5.385.
func TestBreakEvenPoint(t *testing.T) {
	a := Alternative{"trucks", of("km", 0, 5, 10), of("USD/t", 0.4, 1.65, 2.9)}
	b := Alternative{"belt", of("km", 0, 4000.0/1000, 10), of("USD/t", 1.1, 1.58, 2.3)}
	marks := must(crossings(a, b))(t)
	if len(marks) != 1 {
		t.Fatalf("%d places", len(marks))
	}
	note := marks[0].(plot.Note)
	if math.Abs(note.X.Shown()-0.7/0.13) > 1e-9 || math.Abs(note.Y.Shown()-(0.4+0.25*0.7/0.13)) > 1e-9 || note.Text != "equal at 5.38 km" {
		t.Errorf("%q at %v and %v", note.Text, note.X, note.Y)
	}
	never := Alternative{"sledge", of("km", 0, 10), of("USD/t", 5, 9)}
	if marks := must(crossings(a, never))(t); len(marks) != 0 {
		t.Errorf("lines that do not meet meet at %v", marks)
	}
}

func TestWaterfallShowsWhatIsMissing(t *testing.T) {
	start, end := Entry{"feed", quantity.Of(100, "kg")}, Entry{"product", quantity.Of(0.07, "t")}
	open := must(Waterfall("", "tin", start, []Entry{{"tailing", quantity.Of(20, "kg")}}, end))(t)
	if svg := string(open.SVG()); !strings.Contains(svg, ">−10<") || !strings.Contains(open.String(), "difference") {
		t.Error("10 kg are missing and no bar shows it")
	}
	closed := must(Waterfall("", "tin", start, []Entry{{"tailing", quantity.Of(30, "kg")}}, end))(t)
	if strings.Contains(closed.String(), "difference") {
		t.Error("a balance that closes has a difference")
	}
}

// Every sample is in one class or outside; 95 % lie within the interval.
func TestClassesHoldEverySample(t *testing.T) {
	quantity.Seed(3)
	for name, q := range map[string]quantity.Quantity{
		"normal": normal(10, 2, "t/h", "x"), "uniform": quantity.Must(quantity.Uniform(quantity.Of(1, "m"), quantity.Of(2, "m"))),
		"long tail": quantity.Must(quantity.Lognormal(quantity.Of(1, "kg"), 6)), "one of two": quantity.Must(quantity.Discrete(of("h", 1, 2), []float64{1, 1})),
	} {
		samples := q.Samples()
		slices.Sort(samples)
		edges, outside := classes(samples)
		sum := outside
		for i := range edges[1:] {
			sum += count(samples, edges[i], edges[i+1], i == len(edges)-2)
		}
		if sum != len(samples) || outside > len(samples)/400 {
			t.Errorf("%s: %d of %d samples in %d classes, %d outside", name, sum, len(samples), len(edges)-1, outside)
		}
		if _, err := Histogram("", "x", q, quantity.Quantity{}); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The bars of Influences are the standard uncertainties of the inputs times the
// derivatives: for a product of 3 ± 0.3 and 5 ± 0.1, 5·0.3 and 3·0.1.
func TestInfluencesAreFirstOrderEffects(t *testing.T) {
	quantity.Seed(4)
	product := normal(3, 0.3, "m", "length").Mul(normal(5, 0.1, "m", "width"))
	f := must(Influences("", "area", product))(t)
	svg := string(f.SVG())
	for _, words := range []string{">13.5<", ">16.5<", ">14.7<", ">15.3<"} {
		if !strings.Contains(svg, words) {
			t.Errorf("the tornado lacks %s", words)
		}
	}
	if strings.Index(svg, ">length (") > strings.Index(svg, ">width (") {
		t.Error("the greatest effect does not stand above")
	}
}

func TestLedgerIsSortedAndShared(t *testing.T) {
	svg := string(must(Ledger("", "power", Entry{"small", quantity.Of(25, "kW")}, Entry{"large", quantity.Of(0.075, "MW")}))(t).SVG())
	if !strings.Contains(svg, ">75 (75.0 %)<") || !strings.Contains(svg, ">25 (25.0 %)<") || strings.Index(svg, ">large<") > strings.Index(svg, ">small<") {
		t.Error("the ledger is not sorted, or its shares are wrong")
	}
}

// A model on its own scale is straight: the drawn stroke has one direction.
func TestSizeScales(t *testing.T) {
	model := must(size.RosinRammler(quantity.Of(150, "µm"), quantity.Number(1.3)))(t)
	for _, scale := range []plot.Scale{plot.Linear, plot.Logarithmic, plot.Probability, plot.RosinRammler} {
		f := must(SizeDistributions("", scale, SizeCurve{Name: "model", Fitted: model, Percent: 50}))(t)
		if !strings.Contains(f.String(), "d50 = ") {
			t.Errorf("%v: %s", scale, f)
		}
	}
	d := must(size.New(of("µm", 200, 100), of("g", 0, 4, 6)))(t)
	f := must(SizeDistributions("sand", plot.Probability, SizeCurve{Name: "a", Measured: d}))(t)
	if !strings.Contains(f.String(), "1 sieve at 0 or 100 % off this scale") {
		t.Errorf("a point is left out in silence: %s", f)
	}
}

func TestChartsRefuse(t *testing.T) {
	feed, pure, none := quantity.Of(1, "%"), quantity.Of(70, "%"), quantity.Quantity{}
	curve := GradeCurve{"a", of("%", 50), of("%", 75)}
	rising := Alternative{"a", of("km", 1, 2), of("h", 1, 2)}
	for want, attempt := range map[string]func() (*plot.Figure, error){
		"no size distribution":       func() (*plot.Figure, error) { return SizeDistributions("", plot.Linear) },
		"neither a measurement":      func() (*plot.Figure, error) { return SizeDistributions("", plot.Linear, SizeCurve{}) },
		"no assay \"Au\"":            func() (*plot.Figure, error) { return AssayBySize("", sand(t), "Au") },
		"no grade and recovery":      func() (*plot.Figure, error) { return GradeRecovery("", "Sn", feed, pure, NoLines) },
		"75 % lies above the pure":   func() (*plot.Figure, error) { return GradeRecovery("", "Sn", feed, pure, NoLines, curve) },
		"need the grade of the feed": func() (*plot.Figure, error) { return GradeRecovery("", "Sn", none, pure, EqualYield, curve) },
		"need the grade of the pure": func() (*plot.Figure, error) { return GradeRecovery("", "Sn", feed, none, EqualEfficiency, curve) },
		"has no points":              func() (*plot.Figure, error) { return Partition("", partition.Curve{}) },
		"two densities or more":      func() (*plot.Figure, error) { return Washability("", "ash", partition.Washability{}, nil) },
		"needs steps":                func() (*plot.Figure, error) { return Waterfall("", "", Entry{"a", feed}, nil, Entry{"b", feed}) },
		"1 m, is not measured as a": func() (*plot.Figure, error) {
			return Waterfall("", "", Entry{"a", feed}, []Entry{{"x", quantity.Of(1, "m")}}, Entry{"b", feed})
		},
		"needs entries":            func() (*plot.Figure, error) { return Ledger("", "") },
		"a share of the sum needs": func() (*plot.Figure, error) { return Ledger("", "", Entry{"a", quantity.Of(-1, "kW")}) },
		"all 0":                    func() (*plot.Figure, error) { return Ledger("", "", Entry{"a", quantity.Of(0, "kW")}) },
		"two alternatives or more": func() (*plot.Figure, error) { return BreakEven("", plot.Axis{}, plot.Axis{}, rising) },
		"X must rise": func() (*plot.Figure, error) {
			return BreakEven("", plot.Axis{}, plot.Axis{}, rising, Alternative{"b", of("km", 2, 1), of("h", 1, 2)})
		},
		"2 values of X and 1 of Y": func() (*plot.Figure, error) {
			return BreakEven("", plot.Axis{}, plot.Axis{}, rising, Alternative{"b", of("km", 2, 3), of("h", 1)})
		},
		"and 1 % is certain": func() (*plot.Figure, error) { return Histogram("", "", feed, none) },
		"1 kg is claimed":    func() (*plot.Figure, error) { return Histogram("", "", normal(1, 0.1, "%", "x"), quantity.Of(1, "kg")) },
		"needs effects":      func() (*plot.Figure, error) { return Tornado("", "", feed) },
		"gives 1 kg and 2 %": func() (*plot.Figure, error) {
			return Tornado("", "", feed, Effect{"a", quantity.Of(1, "kg"), quantity.Of(2, "%")})
		},
		"no input matters": func() (*plot.Figure, error) { return Influences("", "", feed) },
	} {
		if _, err := attempt(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one with %q", err, want)
		}
	}
}

// TestEndWords holds a tornado to words that do not stand on one another.
func TestEndWords(t *testing.T) {
	for _, c := range []struct {
		low, high, base float64
		lowWord         string
		highWord        string
	}{
		{8, 12, 10, "8", "12"},
		{12, 8, 10, "12", "8"},
		{10, 12, 10, "10", "12"},
		{11, 14, 10, "", "low 11, high 14"},
		{4, 7, 10, "low 4, high 7", ""},
	} {
		low, high := endWords(c.low, c.high, c.base)
		if low != c.lowWord || high != c.highWord {
			t.Errorf("from %v to %v and %v: %q and %q, want %q and %q", c.base, c.low, c.high, low, high, c.lowWord, c.highWord)
		}
	}
}
