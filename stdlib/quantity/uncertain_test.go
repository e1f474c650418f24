package quantity

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// Every input is a Latin hypercube, and no two of the first move together.
func TestInputsAreNotCorrelated(t *testing.T) {
	if coordinates != 19 {
		t.Fatalf("%d coordinates", coordinates)
	}
	for _, seed := range []uint64{1, 7} {
		Seed(seed)
		var all [][]float64
		for range 30 {
			all = append(all, Must(Uniform(Number(0), Number(1))).Samples())
			sorted := slices.Clone(all[len(all)-1])
			slices.Sort(sorted)
			if sorted[0] != 0.5/DefaultSamples || sorted[5000] != 5000.5/DefaultSamples {
				t.Fatalf("strata begin %v", sorted[:2])
			}
		}
		for i, x := range all {
			for j, y := range all[:i] {
				if r := correlation(x, y); math.Abs(r) > 0.001 {
					t.Errorf("seed %d: inputs %d and %d have correlation %.4f", seed, j, i, r)
				}
			}
		}
	}
	Seed(1)
}

// The quantiles are held to gonum's distributions.
func TestQuantilesAgreeWithGonum(t *testing.T) {
	ps := []float64{0.00005, 0.01, 0.3, 0.5, 0.8, 0.99, 0.99995}
	for _, c := range []struct {
		name string
		got  []float64
		want func(float64) float64
	}{
		{"t 1", studentQuantiles(1, ps), distuv.StudentsT{Sigma: 1, Nu: 1}.Quantile},
		{"t 4", studentQuantiles(4, ps), distuv.StudentsT{Sigma: 1, Nu: 4}.Quantile},
		{"t 50", studentQuantiles(50, ps), distuv.StudentsT{Sigma: 1, Nu: 50}.Quantile},
		{"gamma 1", gammaQuantiles(1, ps), distuv.Gamma{Alpha: 1, Beta: 1}.Quantile},
		{"gamma 13", gammaQuantiles(13, ps), distuv.Gamma{Alpha: 13, Beta: 1}.Quantile},
		{"gamma 5000", gammaQuantiles(5000, ps), distuv.Gamma{Alpha: 5000, Beta: 1}.Quantile},
		{"beta 1 1", betaQuantiles(1, 1, ps), distuv.Beta{Alpha: 1, Beta: 1}.Quantile},
		{"beta 4 18", betaQuantiles(4, 18, ps), distuv.Beta{Alpha: 4, Beta: 18}.Quantile},
		{"beta 300 1", betaQuantiles(300, 1, ps), distuv.Beta{Alpha: 300, Beta: 1}.Quantile},
	} {
		for i, p := range ps {
			if want := c.want(p); math.Abs(c.got[i]-want) > 1e-5*math.Abs(want)+1e-9 {
				t.Errorf("%s at %v: %v, gonum %v", c.name, p, c.got[i], want)
			}
		}
	}
	for _, p := range ps {
		within(t, "normal", normalQuantile(p), distuv.UnitNormal.Quantile(p), 1e-9)
	}
}

func TestMomentsOfDistributions(t *testing.T) {
	Seed(1)
	tph := func(x float64) Quantity { return Of(x, "t/h") }
	s := math.Log(1.2)
	for _, c := range []struct {
		name      string
		q         Quantity
		mean, dev float64
	}{
		{"normal", Must(Normal(tph(40), tph(2))), 40, 2},
		{"±", Must(PlusMinus(tph(40), tph(1.959964*2), 0.95)), 40, 2},
		{"other unit", Must(Normal(tph(40), Of(2000, "kg/h"))), 40, 2},
		{"lognormal", Must(Lognormal(tph(40), 1.2)), 40 * math.Exp(s*s/2), 40 * math.Exp(s*s/2) * math.Sqrt(math.Exp(s*s)-1)},
		{"uniform", Must(Uniform(tph(30), tph(50))), 40, 20 / math.Sqrt(12)},
		{"arcsine", Must(ArcSine(tph(30), tph(50))), 40, 10 / math.Sqrt2},
		{"triangular", Must(Triangular(tph(30), tph(36), tph(54))), 40, math.Sqrt((30*30 + 36*36 + 54*54 - 30*36 - 30*54 - 36*54) / 18.0)},
		{"count", Must(Count(99)), 100, 10},
		{"proportion", Must(Proportion(3, 18)), 4.0 / 20, math.Sqrt(4 * 16 / (20. * 20 * 21))},
		{"empirical", Must(Empirical(tph(30), tph(50))), 40, 10},
		{"discrete", Must(Discrete([]Quantity{tph(30), tph(50)}, []float64{1, 3})), 45, math.Sqrt(75)},
		{"student", Must(Student(tph(40), tph(2), 10)), 40, 2 * math.Sqrt(10.0/8)},
	} {
		within(t, c.name+" mean", c.q.Shown(), c.mean, 1e-4*c.mean)
		within(t, c.name+" deviation", c.q.StdDev().Shown(), c.dev, 1.5e-3*c.dev)
	}
}

func TestCorrelationIsKept(t *testing.T) {
	Seed(1)
	x := Must(Normal(Of(40, "t/h"), Of(2, "t/h")))
	y := Must(Normal(Of(10, "t/h"), Of(1, "t/h")))
	for name, q := range map[string]Quantity{
		"x - x":       x.Sub(x),
		"x - x in kg": x.Sub(x.To("kg/s")),
		"x+y-y - x":   x.Add(y).Sub(y).Sub(x),
		"x/x - 1":     x.Div(x).Sub(Number(1)),
		"√x² - x":     x.Mul(x).Sqrt().Sub(x),
		"-x + x":      x.Neg().Add(x),
		"|x| - x":     x.Abs().Sub(x),
		"max - max":   Max(x, y).Sub(Max(y, x)),
	} {
		if q.StdDev().Shown() > 1e-13 || math.Abs(q.Shown()) > 1e-13 || q.FirstOrder().Uncertainty.Shown() > 1e-12 {
			t.Errorf("%s is %+v, to first order %v", name, q, q.FirstOrder())
		}
	}
	var total Quantity
	if total = total.Add(x); !slices.Equal(total.Samples(), x.Samples()) {
		t.Error("nothing + x is not x")
	}
	within(t, "sum of variances", x.Add(y).StdDev().Shown(), math.Sqrt(5), 0.01)
	within(t, "chance", x.ChanceAbove(Of(42, "t/h")), 0.1587, 0.001)
	within(t, "chance of two", x.ChanceBelow(y.Mul(Number(4))), 0.5, 0.01)
	both := Chance(func(v []Quantity) bool { return v[0].Less(Of(40, "t/h")) && v[1].Less(Of(10, "t/h")) }, x, y)
	within(t, "joint chance", both, 0.25, 0.005)
}

// Scalars go through the formulas that samples go through, so each sample of a
// result is what the scalars give.
func TestSamplesAreScalarResults(t *testing.T) {
	Seed(1)
	q, r := Must(Uniform(Of(10, "t/h"), Of(20, "t/h"))), Must(Uniform(Of(1, "kg/s"), Of(2, "kg/s")))
	three := Of(3, "kg/s")
	for name, f := range map[string]func(a, b Quantity) Quantity{
		"add": Quantity.Add, "sub": Quantity.Sub, "mul": Quantity.Mul, "div": Quantity.Div,
		"power": func(a, b Quantity) Quantity { return a.Pow(3, 2).Div(b.Pow(-2, 1)) },
		"max":   func(a, b Quantity) Quantity { return Max(a, b.Mul(Number(2.5))) },
		"min":   func(a, b Quantity) Quantity { return Min(a, b.Mul(Number(2.5))) },
	} {
		for _, operands := range [][2]Quantity{{q, r}, {q, three}, {three, r}} {
			got := f(operands[0], operands[1])
			i := 0
			eachSample(operands[:], func(v []Quantity) {
				want, sample := f(v[0], v[1]), Quantity{value: got.cloud.samples()[i], unit: got.unit}
				if i++; !close(sample.SI(), want.SI(), 0) {
					t.Fatalf("%s: sample %d is %+v, want %+v", name, i, sample, want)
				}
			})
		}
	}
}

func TestCorrelate(t *testing.T) {
	Seed(1)
	a, b := Must(Normal(Number(1), Number(1))), Must(Uniform(Number(0), Number(1)))
	for _, r := range []float64{-1, -0.8, 0, 0.5, 1} {
		joined, err := CorrelateRanks([][]float64{{1, r}, {r, 1}}, a, b)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "rank correlation", RankCorrelation(joined[0], joined[1]), r, 0.01)
		within(t, "deviation", joined[1].StdDev().Shown(), b.StdDev().Shown(), 1e-12)
	}
	for what, f := range map[string]func() ([]Quantity, error){
		"asymmetric": func() ([]Quantity, error) { return Correlate([][]float64{{1, 0.5}, {0.4, 1}}, a, b) },
		"above one":  func() ([]Quantity, error) { return Correlate([][]float64{{1, 2}, {2, 1}}, a, b) },
		"ragged":     func() ([]Quantity, error) { return Correlate([][]float64{{1, 0.5}, {0.5}}, a, b) },
		"empty row":  func() ([]Quantity, error) { return CorrelateRanks([][]float64{{1, 0.5}, nil}, a, b) },
		"a result":   func() ([]Quantity, error) { return Correlate([][]float64{{1, 0}, {0, 1}}, a, a.Add(b)) },
		"twice":      func() ([]Quantity, error) { return Correlate([][]float64{{1, 0}, {0, 1}}, a, a) },
		"certain":    func() ([]Quantity, error) { return Correlate([][]float64{{1, 0}, {0, 1}}, a, Number(1)) },
		"contradiction": func() ([]Quantity, error) {
			return Joint([]Quantity{Number(1), Number(1), Number(1)}, []Quantity{Number(1), Number(1), Number(1)}, [][]float64{{1, 0.9, -0.9}, {0.9, 1, 0.9}, {-0.9, 0.9, 1}})
		},
	} {
		if _, err := f(); err == nil {
			t.Errorf("%s correlations are not refused", what)
		}
	}
}

func TestInfluencesByName(t *testing.T) {
	Seed(1)
	feed := Must(Normal(Of(40, "t/h"), Of(2, "t/h"))).Named("feed")
	grade := Must(Normal(Of(5, "%"), Of(0.5, "%"))).Named("grade")
	metal := feed.Mul(grade)
	in := metal.Influences()
	if len(in) != 2 || in[0].Name != "grade" || in[1].Name != "feed" {
		t.Fatalf("influences %v", in)
	}
	// By hand: relative uncertainties 10 % and 5 %, so shares 0.8 and 0.2.
	within(t, "share", in[0].Share, 0.8, 0.002)
	within(t, "sum", in[0].Share+in[1].Share, 1, 1e-12)
	if in[0].RankCorrelation < 0.85 || in[0].RankCorrelation > 0.92 {
		t.Errorf("rank correlation %v", in[0].RankCorrelation)
	}
	through, err := Through(func(a []Quantity) (Quantity, error) { return a[0].Mul(a[1]), nil }, feed, grade)
	if err != nil || !slices.Equal(through.Samples(), metal.Samples()) {
		t.Errorf("Through gives %v, %v", through, err)
	}
	within(t, "derivatives", through.FirstOrder().Uncertainty.Shown(), metal.FirstOrder().Uncertainty.Shown(), 1e-6)
}

func TestSeedAndSets(t *testing.T) {
	defer Seed(1)
	make := func() Quantity { return Must(Uniform(Number(0), Number(1))) }
	Seed(5)
	a := make()
	Seed(5)
	b := make()
	Seed(6)
	c := make()
	if !slices.Equal(a.Samples(), b.Samples()) || slices.Equal(a.Samples(), c.Samples()) {
		t.Error("samples do not follow the seed")
	}
	defer func() {
		var mixed *SampleError
		if err, ok := recover().(error); !ok || !errors.As(err, &mixed) {
			t.Errorf("two sets mix: %v", err)
		}
	}()
	a.Add(c)
}

func TestRefusedDistributions(t *testing.T) {
	Seed(1)
	t1, t2, kW := Of(1, "t"), Of(2, "t"), Of(1, "kW")
	u := Must(Uniform(t1, t2))
	for name, f := range map[string]func() (Quantity, error){
		"no width":    func() (Quantity, error) { return Normal(t1, Of(0, "t")) },
		"other":       func() (Quantity, error) { return Normal(t1, kW) },
		"level":       func() (Quantity, error) { return PlusMinus(t1, t1, 95) },
		"falling":     func() (Quantity, error) { return Uniform(t2, t1) },
		"uncertain":   func() (Quantity, error) { return Normal(u, t1) },
		"nothing":     func() (Quantity, error) { return Normal(Quantity{}, t1) },
		"not finite":  func() (Quantity, error) { return Uniform(t1, Of(math.Inf(1), "t")) },
		"outside":     func() (Quantity, error) { return Triangular(t1, Of(3, "t"), t2) },
		"factor":      func() (Quantity, error) { return Lognormal(t1, 1) },
		"count":       func() (Quantity, error) { return Count(-1) },
		"proportion":  func() (Quantity, error) { return Proportion(3, 2) },
		"one reading": func() (Quantity, error) { return Readings(t1) },
		"none":        func() (Quantity, error) { return Empirical() },
		"weights":     func() (Quantity, error) { return Discrete([]Quantity{t1}, []float64{-1}) },
		"freedom":     func() (Quantity, error) { return Student(t1, t1, 0.5) },
	} {
		if q, err := f(); err == nil {
			t.Errorf("%s: %v is not refused", name, q)
		}
	}
	if _, err := json.Marshal(u); err == nil {
		t.Error("an uncertain quantity is written as if it were certain")
	}
}

func TestUncertainText(t *testing.T) {
	Seed(1)
	feed := Must(Normal(Of(36.5, "t/h"), Of(1.2, "t/h")))
	for _, c := range []struct{ got, want string }{
		{feed.String(), "36.5 ± 1.2 t/h (95 %: 34.1 to 38.9)"},
		{fmt.Sprintf("%.2f", feed), "36.50 ± 1.20 t/h"},
		{feed.To("kg/h").String(), "36500 ± 1200 kg/h (95 %: 34100 to 38900)"},
		{feed.HTML(), "36.5&nbsp;±&nbsp;1.2&nbsp;t/h <small>(95&nbsp;%:&nbsp;34.1&nbsp;to&nbsp;38.9)</small>"},
		{feed.LaTeX(), `$(36.5 \pm 1.2)\,\mathrm{t/h}\;(95\,\%:\; 34.1\text{ to }38.9)$`},
		{feed.Markdown(), "36.5 ± 1.2 t/h (95 %: 34.1 to 38.9)"},
		{feed.FirstOrder().String(), "36.5 ± 1.2 t/h"},
		{Must(Normal(Of(20, "°C"), Of(0.5, "K"))).StdDev().String(), "0.5 K"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
	claim, err := feed.Against(Of(40, "t/h"))
	if err != nil || claim.Agrees || !strings.HasPrefix(claim.String(), "differs from the claim") {
		t.Errorf("%v, %v", claim, err)
	}
	if claim, err = feed.Against(Of(36000, "kg/h")); err != nil || !claim.Agrees {
		t.Errorf("%v, %v", claim, err)
	}
}
