package quantity

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"cobber/stdlib/published/python"
)

//go:embed testdata/reference/requirements.txt
var referenceLibraries string

// Random conversions and expressions are worked out here and by general
// libraries of Python: units by pint, uncertainty to first order by
// uncertainties, samples by numpy. Both get the same cases, with the names that
// each has for the units, and neither sees the other's results.

// referenceCase is what the script in testdata/reference reads.
type referenceCase struct {
	Kind        string      `json:"kind"`
	Value       float64     `json:"value,omitempty"`
	From        []namedUnit `json:"from,omitempty"`
	To          []namedUnit `json:"to"`
	Scale       []string    `json:"scale,omitempty"`
	Program     [][]any     `json:"program,omitempty"`
	Inputs      [][]any     `json:"inputs,omitempty"`
	Correlation [][]float64 `json:"correlation,omitempty"`
	Seed        int         `json:"seed,omitempty"`

	text string   // for people
	ours Quantity // what is held to the reference
	to   Unit     // in which it is compared
	off  float64  // how far it may be, relative to size
	size float64  // of the largest term, where terms cancel; 0 for the result
}

// namedUnit is a unit by its name in pint, and a power.
type namedUnit struct {
	name  string
	power int
}

func (u namedUnit) MarshalJSON() ([]byte, error) { return json.Marshal([]any{u.name, u.power}) }

type referenceResult struct {
	Value, Uncertainty float64
	Quantiles          []float64
}

func runReference(t *testing.T, cases []referenceCase) []referenceResult {
	t.Helper()
	program := python.With(t, "quantity", referenceLibraries)
	input, err := json.Marshal(cases)
	if err != nil {
		t.Fatal(err)
	}
	command := exec.Command(program, "testdata/reference/reference.py")
	command.Stdin = bytes.NewReader(input)
	var complaints bytes.Buffer
	command.Stderr = &complaints
	output, err := command.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, complaints.String())
	}
	var results []referenceResult
	if err := json.Unmarshal(output, &results); err != nil {
		t.Fatal(err)
	}
	if len(results) != len(cases) {
		t.Fatalf("%d results for %d cases", len(results), len(cases))
	}
	return results
}

// sorts are units that measure the same, ours beside pint's.
var sorts = [][][2]string{
	{{"m", "meter"}, {"mm", "millimeter"}, {"µm", "micrometer"}, {"km", "kilometer"}, {"in", "inch"}, {"ft", "foot"}, {"yd", "yard"}, {"mi", "mile"}, {"ftUS", "survey_foot"}},
	{{"kg", "kilogram"}, {"g", "gram"}, {"mg", "milligram"}, {"t", "metric_ton"}, {"kt", "kilometric_ton"}, {"lb", "pound"}, {"st", "short_ton"}, {"lt", "long_ton"}, {"ozt", "troy_ounce"}, {"gr", "grain"}, {"slug", "slug"}},
	{{"s", "second"}, {"min", "minute"}, {"h", "hour"}, {"d", "day"}, {"wk", "week"}, {"a_julian", "year"}, {"ms", "millisecond"}},
	{{"J", "joule"}, {"kWh", "kilowatt_hour"}, {"MJ", "megajoule"}, {"cal_th", "calorie"}, {"Btu_IT", "international_british_thermal_unit"}, {"erg", "erg"}, {"eV", "electron_volt"}},
	{{"W", "watt"}, {"kW", "kilowatt"}, {"hp_mech", "horsepower"}, {"hp_metric", "metric_horsepower"}},
	{{"Pa", "pascal"}, {"kPa", "kilopascal"}, {"psi", "psi"}, {"bar", "bar"}, {"atm", "standard_atmosphere"}, {"torr", "torr"}, {"inHg", "inHg"}},
	{{"N", "newton"}, {"kN", "kilonewton"}, {"lbf", "pound_force"}, {"kgf", "kilogram_force"}, {"dyn", "dyne"}},
	{{"A", "ampere"}, {"mA", "milliampere"}, {"kA", "kiloampere"}},
	{{"T", "tesla"}, {"mT", "millitesla"}, {"µT", "microtesla"}},
	{{"L", "liter"}, {"mL", "milliliter"}, {"USgal", "gallon"}, {"impgal", "imperial_gallon"}, {"bbl", "oil_barrel"}},
	{{"K", "kelvin"}, {"mK", "millikelvin"}, {"°R", "degree_Rankine"}},
	{{"mol", "mole"}, {"kmol", "kilomole"}},
}

// randomUnit is a product of one to three powers; other measures the same.
func randomUnit(r *rand.Rand) (ours, pint, oursToo, pintToo []namedUnit) {
	for _, s := range r.Perm(len(sorts))[:1+r.IntN(3)] {
		power := []int{1, 1, 1, -1, -1, 2, -2, 3}[r.IntN(8)]
		a, b := sorts[s][r.IntN(len(sorts[s]))], sorts[s][r.IntN(len(sorts[s]))]
		ours, pint = append(ours, namedUnit{a[0], power}), append(pint, namedUnit{a[1], power})
		oursToo, pintToo = append(oursToo, namedUnit{b[0], power}), append(pintToo, namedUnit{b[1], power})
	}
	return ours, pint, oursToo, pintToo
}

func spelled(t *testing.T, parts []namedUnit) Unit {
	t.Helper()
	var words []string
	for _, p := range parts {
		words = append(words, fmt.Sprintf("%s^%d", p.name, p.power))
	}
	u, err := ParseUnit(strings.Join(words, "·"))
	if err != nil {
		t.Fatal(err)
	}
	return u
}

func randomValue(r *rand.Rand) float64 {
	return math.Round((0.1+9.9*r.Float64())*1e4) / 1e4 * math.Pow(10, float64(r.IntN(5)-2))
}

func conversionCases(t *testing.T, r *rand.Rand, count int) []referenceCase {
	var cases []referenceCase
	for range count {
		ours, pint, oursToo, pintToo := randomUnit(r)
		from, to := spelled(t, ours), spelled(t, oursToo)
		value := randomValue(r)
		cases = append(cases, referenceCase{Kind: "convert", Value: value, From: pint, To: pintToo,
			text: fmt.Sprintf("%v %v in %v", value, from, to), ours: from.Quantity(value), to: to, off: 1e-13})
	}
	scales := [][2]string{{"°C", "degree_Celsius"}, {"°F", "degree_Fahrenheit"}, {"K", "kelvin"}, {"°R", "degree_Rankine"}}
	for range count / 10 {
		a, b := scales[r.IntN(4)], scales[r.IntN(4)]
		value := math.Round(1e3*r.Float64()) / 10
		cases = append(cases, referenceCase{Kind: "convert", Value: value, Scale: []string{a[1], b[1]},
			text: fmt.Sprintf("%v %v in %v", value, a[0], b[0]), ours: Of(value, a[0]), to: Of(1, b[0]).Unit(), off: 1e-12, size: 1000})
	}
	return cases
}

// expressionCases are (a ± b) × c ÷ d and the like, with powers, roots,
// exponentials and logarithms of what has no dimension.
func expressionCases(t *testing.T, r *rand.Rand, count int) []referenceCase {
	var cases []referenceCase
	for range count {
		ours, pint, oursToo, pintToo := randomUnit(r)
		more, morePint, _, _ := randomUnit(r)
		a, b, c := spelled(t, ours).Quantity(randomValue(r)), spelled(t, oursToo).Quantity(randomValue(r)), spelled(t, more).Quantity(randomValue(r))
		quantity := func(q Quantity, parts []namedUnit) []any { return []any{"q", q.Shown(), parts} }
		program := [][]any{quantity(a, pint), quantity(b, pintToo)}
		k := referenceCase{Kind: "expression", off: 1e-12, to: Unit{}}
		switch r.IntN(6) {
		case 0:
			k.ours, k.text = a.Add(b).Mul(c), fmt.Sprintf("(%v + %v) × %v", a, b, c)
			k.Program = append(program, []any{"+"}, quantity(c, morePint), []any{"*"})
		case 1:
			k.ours, k.text = a.Add(b).Div(c), fmt.Sprintf("(%v + %v) ÷ %v", a, b, c)
			k.Program = append(program, []any{"+"}, quantity(c, morePint), []any{"/"})
		case 2:
			k.ours, k.text = a.Div(b).Mul(c), fmt.Sprintf("%v ÷ %v × %v", a, b, c)
			k.Program = append(program, []any{"/"}, quantity(c, morePint), []any{"*"})
		case 3:
			k.ours, k.text = a.Mul(b).Sqrt().Div(c), fmt.Sprintf("√(%v × %v) ÷ %v", a, b, c)
			k.Program = append(program, []any{"*"}, []any{"sqrt"}, quantity(c, morePint), []any{"/"})
		case 4:
			k.ours, k.text = a.Pow(2, 1).Mul(c).Div(b), fmt.Sprintf("%v² × %v ÷ %v", a, c, b)
			k.Program = [][]any{quantity(a, pint), {"pow", 2, 1}, quantity(c, morePint), {"*"}, quantity(b, pintToo), {"/"}}
		case 5:
			k.ours, k.text = Log(Number(1).Add(a.Div(b))).Mul(c), fmt.Sprintf("ln(1 + %v ÷ %v) × %v", a, b, c)
			k.Program = [][]any{{"q", 1.0, []namedUnit{}}, quantity(a, pint), quantity(b, pintToo), {"/"}, {"+"}, {"log"}, quantity(c, morePint), {"*"}}
		}
		k.To = baseUnits(k.ours)
		cases = append(cases, k)
	}
	return cases
}

// baseUnits are the SI units of a result, in pint's names.
func baseUnits(q Quantity) []namedUnit {
	names := [baseCount]string{"meter", "kilogram", "second", "ampere", "kelvin", "mole", "candela", ""}
	parts := []namedUnit{}
	for i, e := range q.Dimension().power {
		n, d := e.parts()
		if n == 0 {
			continue
		}
		// Halves are of squares: pint takes whole powers of roots too.
		if d != 1 {
			parts = append(parts, namedUnit{names[i] + "**0.5", n * 2 / d})
			continue
		}
		parts = append(parts, namedUnit{names[i], n})
	}
	return parts
}

func TestAgainstPint(t *testing.T) {
	r := rand.New(rand.NewPCG(2026, 1))
	cases := append(conversionCases(t, r, 1200), expressionCases(t, r, 900)...)
	if len(cases) < 2000 {
		t.Fatalf("only %d cases", len(cases))
	}
	for i, result := range runReference(t, cases) {
		c := cases[i]
		got := c.ours.SI()
		if c.Kind == "convert" {
			q, err := c.ours.InUnit(c.to)
			if err != nil {
				t.Errorf("%s: %v", c.text, err)
				continue
			}
			got = q.Shown()
		}
		if math.Abs(got-result.Value) > c.off*max(math.Abs(result.Value), c.size) {
			t.Errorf("%s is %.17g; pint has %.17g", c.text, got, result.Value)
		}
	}
	t.Logf("%d conversions and expressions agree", len(cases))
}

// useSamples sets how many samples inputs have, until the test ends.
func useSamples(t *testing.T, count int) {
	t.Helper()
	if err := SetSamples(count); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := SetSamples(DefaultSamples); err != nil {
			t.Error(err)
		}
		Seed(1)
	})
}

// numberProgram is what both sides do to the inputs.
type numberProgram struct {
	text  string
	steps [][]any
	do    func(x []Quantity) Quantity
}

var numberPrograms = []numberProgram{
	{"x0 x1 / x2", [][]any{{"x", 0}, {"x", 1}, {"*"}, {"x", 2}, {"/"}},
		func(x []Quantity) Quantity { return x[0].Mul(x[1]).Div(x[2]) }},
	{"(x0 - x1) / (x0 + x2)", [][]any{{"x", 0}, {"x", 1}, {"-"}, {"x", 0}, {"x", 2}, {"+"}, {"/"}},
		func(x []Quantity) Quantity { return x[0].Sub(x[1]).Div(x[0].Add(x[2])) }},
	{"√(x0² + x1²) - x2", [][]any{{"x", 0}, {"pow", 2, 1}, {"x", 1}, {"pow", 2, 1}, {"+"}, {"sqrt"}, {"x", 2}, {"-"}},
		func(x []Quantity) Quantity { return Hypot(x[0], x[1]).Sub(x[2]) }},
	{"x0 exp(x1 / x2)", [][]any{{"x", 0}, {"x", 1}, {"x", 2}, {"/"}, {"exp"}, {"*"}},
		func(x []Quantity) Quantity { return x[0].Mul(Exp(x[1].Div(x[2]))) }},
	{"ln(x0 x1) + sin(x2)", [][]any{{"x", 0}, {"x", 1}, {"*"}, {"log"}, {"x", 2}, {"sin"}, {"+"}},
		func(x []Quantity) Quantity { return Log(x[0].Mul(x[1])).Add(Sin(x[2])) }},
	{"x0^(2/3) tanh(x1 / x2)", [][]any{{"x", 0}, {"pow", 2, 3}, {"x", 1}, {"x", 2}, {"/"}, {"tanh"}, {"*"}},
		func(x []Quantity) Quantity { return x[0].Pow(2, 3).Mul(Tanh(x[1].Div(x[2]))) }},
	{"x0 x0 / x0 - x1 + x2 x1", [][]any{{"x", 0}, {"x", 0}, {"*"}, {"x", 0}, {"/"}, {"x", 1}, {"-"}, {"x", 2}, {"x", 1}, {"*"}, {"+"}},
		func(x []Quantity) Quantity { return x[0].Mul(x[0]).Div(x[0]).Sub(x[1]).Add(x[2].Mul(x[1])) }},
}

func withInputs(p numberProgram, kind string) referenceCase {
	return referenceCase{Kind: kind, Program: p.steps, text: p.text}
}

func TestAgainstUncertainties(t *testing.T) {
	useSamples(t, 500) // first order needs none
	r := rand.New(rand.NewPCG(2026, 2))
	var cases []referenceCase
	var firsts []FirstOrder
	for round := range 420 {
		Seed(uint64(round))
		p := numberPrograms[round%len(numberPrograms)]
		x := make([]Quantity, 3)
		for i := range x {
			middle := 1 + 9*r.Float64()
			x[i] = Must(Normal(Number(middle), Number(middle*(0.001+0.05*r.Float64()))))
		}
		c := withInputs(p, "first order")
		if round%2 == 1 {
			c.Correlation = [][]float64{{1, 0.6, -0.2}, {0.6, 1, 0.3}, {-0.2, 0.3, 1}}
			correlated, err := Correlate(c.Correlation, x...)
			if err != nil {
				t.Fatal(err)
			}
			x = correlated
		}
		for _, q := range x {
			c.Inputs = append(c.Inputs, []any{q.Shown(), q.StdDev().Shown()})
		}
		cases = append(cases, c)
		firsts = append(firsts, p.do(x).FirstOrder())
	}
	for i, want := range runReference(t, cases) {
		name := fmt.Sprintf("%s, case %d: ", cases[i].text, i)
		within(t, name+"value", firsts[i].Value.Shown(), want.Value, 1e-11*math.Abs(want.Value)+1e-12)
		within(t, name+"uncertainty", firsts[i].Uncertainty.Shown(), want.Uncertainty, 1e-8*want.Uncertainty)
	}
}

// numpy draws 400,000 at random and we 50,000 by strata; quantiles at the ends
// scatter by some 0.4 % of the deviation for both.
func TestAgainstNumpy(t *testing.T) {
	useSamples(t, 50_000)
	r := rand.New(rand.NewPCG(2026, 3))
	var cases []referenceCase
	var ours []Quantity
	for round := range 21 {
		Seed(uint64(round))
		p := numberPrograms[round%len(numberPrograms)]
		c := withInputs(p, "sampled")
		c.Seed = round + 1
		x := make([]Quantity, 3)
		for i := range x {
			a := 1 + 4*r.Float64()
			b := a * (1.05 + 0.3*r.Float64())
			switch (i + round) % 4 {
			case 0:
				x[i], c.Inputs = Must(Normal(Number(a), Number(a*0.05))), append(c.Inputs, []any{"normal", a, a * 0.05, 0})
			case 1:
				x[i], c.Inputs = Must(Uniform(Number(a), Number(b))), append(c.Inputs, []any{"uniform", a, b, 0})
			case 2:
				x[i], c.Inputs = Must(Triangular(Number(a), Number(b), Number(2*b-a))), append(c.Inputs, []any{"triangular", a, b, 2*b - a})
			case 3:
				x[i], c.Inputs = Must(Lognormal(Number(a), 1.1)), append(c.Inputs, []any{"lognormal", a, 1.1, 0})
			}
		}
		cases = append(cases, c)
		ours = append(ours, p.do(x))
	}
	for i, want := range runReference(t, cases) {
		name := fmt.Sprintf("%s, case %d: ", cases[i].text, i)
		u := want.Uncertainty
		within(t, name+"mean", ours[i].Shown(), want.Value, 0.01*u)
		within(t, name+"deviation", ours[i].StdDev().Shown(), u, 0.01*u)
		x := slices.Sorted(slices.Values(ours[i].Samples()))
		for k, p := range []float64{0.025, 0.5, 0.975} {
			within(t, fmt.Sprintf("%squantile %g", name, p), quantileOf(x, p), want.Quantiles[k], 0.04*u)
		}
	}
}
