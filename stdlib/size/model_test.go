package size

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

func model(t *testing.T) func(Model, error) Model {
	return func(m Model, err error) Model {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
}

func models(t *testing.T) []Model {
	must := model(t)
	return []Model{
		must(RosinRammler(quantity.Of(120, "µm"), quantity.Number(1.1))),
		must(GatesGaudinSchuhmann(quantity.Of(400, "µm"), quantity.Number(0.7))),
		must(LogNormal(quantity.Of(80, "µm"), quantity.Number(2.3))),
		must(Swebrec(quantity.Of(600, "µm"), quantity.Of(110, "µm"), quantity.Number(2.2))),
	}
}

// Figures of the tests of the fluids library (CalebBell/fluids, 091070e9) for the
// two laws it has, and of a laboratory manual for coal dust that leaves 32 % on
// 75 µm and 12 % on 150 µm, to which n = 0.895926 and x' = 64.8316 µm belong.
func TestModelsAgainstPrintedFigures(t *testing.T) {
	must := model(t)
	schuhmann := must(GatesGaudinSchuhmann(quantity.Of(1, "mm"), quantity.Number(2.3)))
	share, err := schuhmann.Passing(quantity.Of(0.2, "mm"))
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "Gates–Gaudin–Schuhmann", value(t, share, "1"), 0.024681354508800397, 1e-15)
	// 1 − exp(−200·d²) with d in metres.
	rosin := must(RosinRammler(quantity.Of(1/math.Sqrt(200), "m"), quantity.Number(2)))
	share, err = rosin.Passing(quantity.Of(50, "mm"))
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "Rosin–Rammler", value(t, share, "1"), 0.3934693402873667, 1e-14)
	dust := must(RosinRammler(quantity.Of(64.8316, "µm"), quantity.Number(0.895926)))
	for opening, left := range map[float64]float64{75: 32, 150: 12} {
		share, err := dust.Passing(quantity.Of(opening, "µm"))
		if err != nil {
			t.Fatal(err)
		}
		closeTo(t, "left on the sieve", 100-value(t, share, "%"), left, 1e-3)
	}
}

// What the symbols mean: 63.2 % passes x', everything passes k and xmax, half
// passes a median, 84.13 % passes σ times the log-normal one. The slope of the
// Swebrec function at its median is b/(4·x50·ln(xmax/x50)) (F. Ouchterlony 2005).
func TestWhatTheParametersMean(t *testing.T) {
	all := models(t)
	for _, test := range []struct {
		model Model
		size  float64
		share float64
	}{
		{all[0], 120, 1 - math.Exp(-1)}, {all[1], 400, 1}, {all[1], 500, 1}, {all[2], 80, 0.5}, {all[2], 80 * 2.3, 0.8413447460685429},
		{all[3], 110, 0.5}, {all[3], 600, 1}, {all[3], 700, 1},
	} {
		share, err := test.model.Passing(quantity.Of(test.size, "µm"))
		if err != nil {
			t.Fatal(err)
		}
		closeTo(t, test.model.Name(), value(t, share, "1"), test.share, 1e-12)
	}
	slope, err := all[3].Density(quantity.Of(110, "µm"))
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "slope at the median", value(t, slope, "1/µm"), 2.2/(4*110*math.Log(600.0/110)), 1e-12)
}

func TestModelsInvertAndDifferentiate(t *testing.T) {
	for _, m := range models(t) {
		for _, percent := range []float64{1, 10, 50, 80, 99} {
			size, err := m.D(percent)
			if err != nil {
				t.Fatal(err)
			}
			share, err := m.Passing(size)
			if err != nil {
				t.Fatal(err)
			}
			closeTo(t, m.Name(), value(t, share, "%"), percent, 1e-9)
			x := value(t, size, "µm")
			passing := func(x float64) float64 {
				share, err := m.Passing(quantity.Of(x, "µm"))
				if err != nil {
					t.Fatal(err)
				}
				return value(t, share, "%")
			}
			density, err := m.Density(size)
			if err != nil {
				t.Fatal(err)
			}
			want := (passing(x*1.0001) - passing(x*0.9999)) / (x * 0.0002)
			closeTo(t, m.Name()+": density", value(t, density, "%/µm")/want, 1, 1e-5)
		}
	}
}

func TestModelsRefuse(t *testing.T) {
	um, one := quantity.Of(100, "µm"), quantity.Number(1)
	for _, test := range []struct {
		make func() (Model, error)
		want string
	}{
		{func() (Model, error) { return RosinRammler(one, one) }, "is a length"},
		{func() (Model, error) { return RosinRammler(um, um) }, "a plain number"},
		{func() (Model, error) { return RosinRammler(um, quantity.Number(0)) }, "above 0"},
		{func() (Model, error) { return GatesGaudinSchuhmann(um.Neg(), one) }, "above 0"},
		{func() (Model, error) { return LogNormal(um, one) }, "above 1"},
		{func() (Model, error) { return Swebrec(um, um, one) }, "below the top size"},
		{func() (Model, error) { return Swebrec(um, quantity.Of(math.NaN(), "µm"), one) }, "below the top size"},
	} {
		if _, err := test.make(); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("error %v, want one with %q", err, test.want)
		}
	}
	m := models(t)[0]
	for _, percent := range []float64{0, 100, -1, math.NaN()} {
		if _, err := m.D(percent); err == nil {
			t.Errorf("d%v: no error", percent)
		}
	}
	for _, size := range []quantity.Quantity{quantity.Of(0, "µm"), one} {
		if _, err := m.Passing(size); err == nil {
			t.Errorf("passing %v: no error", size)
		}
	}
	if _, err := (Model{}).D(50); err == nil || (Model{}).String() != "no model" {
		t.Error("the empty model says something")
	}
}

var wide = []float64{500, 425, 300, 212, 150, 106, 75, 53, 38, 25, 10}

// A distribution made of a model must give the model back, and among all models
// that one must be preferred.
func TestFitsFindTheModelAgain(t *testing.T) {
	for _, want := range models(t) {
		d, err := want.Distribution(of("µm", wide...))
		if err != nil {
			t.Fatal(err)
		}
		fits, err := FitModels(d)
		if err != nil {
			t.Fatal(err)
		}
		best := fits[0].Model()
		if best.Name() != want.Name() || len(fits) != 4 {
			t.Errorf("%s is taken for %s:\n%s", want.Name(), best.Name(), fits)
			continue
		}
		for i, p := range best.Parameters() {
			got, unit := p.Shown(), p.Unit().String()
			if unit == "" {
				unit = "1"
			}
			closeTo(t, want.Name(), got/value(t, want.values[i], unit), 1, 1e-6)
		}
		if value(t, fits[0].Scatter(), "%") > 1e-6 || fits[0].RSquared() < 1-1e-9 {
			t.Errorf("%s", fits[0])
		}
	}
}

// Ten sieves of a coarse product and what is left on each, to which a nonlinear
// fit of the shares by Rosin and Rammler's law gives k = 27.0236 and n = 0.5946
// (I. Brezani, Technical University of Košice, example of 2011).
func TestFitAgainstAPublishedFit(t *testing.T) {
	openings := []float64{40, 16, 12.5, 8, 6.3, 4, 2, 1.25, 0.5, 0.08}
	left := []float64{23.95, 49.91, 55.4, 63.21, 66.98, 73.28, 79.78, 82.45, 87.71, 95.61}
	passing := make([]float64, len(left))
	for i := range left {
		passing[i] = 100 - left[i]
	}
	d, err := FromPassing(of("mm", openings...), of("%", passing...))
	if err != nil {
		t.Fatal(err)
	}
	f, err := FitRosinRammler(d)
	if err != nil {
		t.Fatal(err)
	}
	p := f.Model().Parameters()
	closeTo(t, "k, mm", value(t, p[0], "mm"), 27.0236, 1e-4)
	closeTo(t, "n", value(t, p[1], "1"), 0.5946, 1e-4)
}

// The standard errors must be what repeated sieving shows: 400 distributions
// with 0.5 % scatter in each share passing.
func TestStandardErrorsAreThoseOfRepetition(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 10))
	for _, want := range models(t) {
		exact, err := want.Distribution(of("µm", wide...))
		if err != nil {
			t.Fatal(err)
		}
		n := len(want.values)
		var sum, square, stated [3]float64
		const times = 400
		count := 0.0
		for range times {
			noisy := make([]float64, len(wide))
			for i, share := range exact.passing() {
				noisy[i] = min(max(100*share+0.5*random.NormFloat64(), 0), 100)
			}
			for i := 1; i < len(noisy); i++ {
				noisy[i] = min(noisy[i], noisy[i-1])
			}
			d, err := FromPassing(of("µm", wide...), of("%", noisy...))
			if err != nil {
				t.Fatal(err)
			}
			f, err := fitLaw(want.law, d)
			if err != nil {
				t.Fatal(err)
			}
			count++
			for j := range n {
				x := math.Log(f.fitted.Parameters[j])
				sum[j], square[j] = sum[j]+x, square[j]+x*x
				stated[j] += f.fitted.Deviations[j] / f.fitted.Parameters[j]
			}
		}
		for j := range n {
			seen := math.Sqrt((square[j] - sum[j]*sum[j]/count) / (count - 1))
			if ratio := stated[j] / count / seen; ratio < 0.75 || ratio > 1.35 {
				t.Errorf("%s, %s: stated %.4g, seen %.4g", want.Name(), want.law.parameters[j].name, stated[j]/count, seen)
			}
		}
	}
}

func TestFitsRefuseAndShow(t *testing.T) {
	few := build(t, of("µm", 300, 150), of("g", 10, 50, 40))
	if _, err := FitRosinRammler(few); err == nil || !strings.Contains(err.Error(), "3 are needed") {
		t.Errorf("error %v", err)
	}
	if _, err := FitModels(few); err == nil {
		t.Error("two sieves carry a model")
	}
	fits, err := FitModels(sand(t))
	if err != nil {
		t.Fatal(err)
	}
	for i := 1; i < len(fits); i++ {
		if fits[i].Criterion() < fits[i-1].Criterion() {
			t.Errorf("the fits are not in order:\n%s", fits)
		}
	}
	f, err := FitRosinRammler(sand(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Rosin–Rammler", "exponent n", "scatter of passing", "through 7 sieves"} {
		if !strings.Contains(f.String(), want) {
			t.Errorf("the fit lacks %q:\n%s", want, f)
		}
	}
	if rows := f.Residuals().Rows(); rows != 7 {
		t.Errorf("%d residuals", rows)
	}
	uncertain, err := f.Uncertain()
	if err != nil {
		t.Fatal(err)
	}
	size, err := uncertain.D(80)
	if err != nil || !size.IsUncertain() {
		t.Fatalf("%v (%v)", size, err)
	}
	certain, _ := f.Model().D(80)
	closeTo(t, "d80", value(t, size.Certain(), "mm")/value(t, certain, "mm"), 1, 0.1)
}

func TestEachFitIsOfItsOwnLaw(t *testing.T) {
	d := sand(t)
	for name, fit := range map[string]func(Distribution) (Fit, error){
		"Rosin–Rammler": FitRosinRammler, "Gates–Gaudin–Schuhmann": FitGatesGaudinSchuhmann, "log-normal": FitLogNormal, "Swebrec": FitSwebrec,
	} {
		f, err := fit(d)
		if err != nil {
			t.Error(err)
			continue
		}
		if f.Model().Name() != name {
			t.Errorf("%s is fitted for %s", f.Model().Name(), name)
		}
		for form, text := range map[string]string{"text": f.String(), "HTML": f.HTML(), "Markdown": f.Markdown(), "LaTeX": f.LaTeX(),
			"model": f.Model().String(), "model as HTML": f.Model().HTML(), "model as Markdown": f.Model().Markdown(), "model as LaTeX": f.Model().LaTeX()} {
			if !strings.Contains(strings.ReplaceAll(text, "--", "–"), name) {
				t.Errorf("%s lacks the name: %s", form, text)
			}
		}
	}
	fits, err := FitModels(d)
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{fits.HTML(), fits.Markdown(), fits.LaTeX()} {
		if !strings.Contains(text, "Swebrec") || !strings.Contains(text, "scatter") {
			t.Errorf("the comparison lacks a model: %s", text)
		}
	}
}
