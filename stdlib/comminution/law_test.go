package comminution

import (
	"math"
	"testing"

	"cobber/stdlib/internal/expect"
	"cobber/stdlib/quantity"
)

var value, near, refused = expect.Value, expect.Near, expect.Refused

func mm(x float64) quantity.Quantity  { return quantity.Of(x, "mm") }
func um(x float64) quantity.Quantity  { return quantity.Of(x, "µm") }
func kwh(x float64) quantity.Quantity { return quantity.Of(x, "kWh/t") }
func num(x float64) quantity.Quantity { return quantity.Number(x) }

func general(t *testing.T, n float64) Law {
	t.Helper()
	law, err := GeneralLaw(num(n), kwh(3), mm(1))
	if err != nil {
		t.Fatal(err)
	}
	return law
}

// In two steps a reduction takes as much as in one, whatever the exponent, and the
// product that an energy gives takes that energy.
func TestLawsAddUpAndInvert(t *testing.T) {
	for _, n := range []float64{0.5, 1, 1 + 1e-9, 1.3, 1.5, 2, 3} {
		law := general(t, n)
		whole, err := law.Energy(mm(40), mm(0.3))
		all := value(t, whole, err, "kWh/t")
		first, err := law.Energy(mm(40), mm(5))
		a := value(t, first, err, "kWh/t")
		second, err := law.Energy(mm(5), mm(0.3))
		near(t, "two steps", a+value(t, second, err, "kWh/t"), all, 1e-12)
		size, err := law.Product(mm(40), whole)
		near(t, "product", value(t, size, err, "mm"), 0.3, 1e-9)
		same, err := LawThrough(num(n), whole, mm(40), mm(0.3))
		if err != nil {
			t.Fatal(err)
		}
		again, err := same.Energy(mm(40), mm(5))
		near(t, "law through one point", value(t, again, err, "kWh/t"), a, 1e-9)
	}
}

// Near n = 1 the general law runs into Kick's without a step.
func TestGeneralLawIsKicksInTheLimit(t *testing.T) {
	kick, err := Kick(kwh(3))
	if err != nil {
		t.Fatal(err)
	}
	want, err := kick.Energy(mm(100), mm(1))
	for _, n := range []float64{1 - 1e-12, 1 + 1e-12} {
		got, err := general(t, n).Energy(mm(100), mm(1))
		near(t, "energy", value(t, got, err, "kWh/t"), value(t, want, err, "kWh/t"), 1e-9)
	}
	near(t, "3·ln 100", value(t, want, err, "kWh/t"), 3*math.Log(100), 1e-12)
}

// A fit finds the law that made the reductions, and says so by its error.
func TestFitOfALaw(t *testing.T) {
	law := general(t, 1.7)
	var all []Reduction
	for i, pair := range [][2]float64{{50, 10}, {10, 1}, {2, 0.2}, {0.5, 0.05}, {5, 0.1}} {
		e, err := law.Energy(mm(pair[0]), mm(pair[1]))
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, Reduction{e.Mul(num(1 + 0.02*float64(1-2*(i%2)))), mm(pair[0]), mm(pair[1])})
	}
	fit, err := FitLaw(all...)
	if err != nil {
		t.Fatal(err)
	}
	n, deviation := fit.Law.Exponent().SI(), fit.ExponentDeviation.SI()
	if math.Abs(n-1.7) > 3*deviation || deviation > 0.03 || fit.Scatter.SI() > 0.04 {
		t.Errorf("n = %v ± %v, scatter %v", n, deviation, fit.Scatter)
	}
	_, err = FitLaw(all[0], all[0], all[0])
	refused(t, "one reduction thrice", err, "exponent")
}

// Energy per short ton and per tonne stay what they are.
func TestWorkIndexKeepsItsTon(t *testing.T) {
	perShort, err := Bond(quantity.Of(10, "kWh/st"), um(10000), um(100))
	if err != nil {
		t.Fatal(err)
	}
	if perShort.String() != "9 kWh/st" {
		t.Errorf("10 kWh/st from 10 mm to 0.1 mm: %v, want 9 kWh/st", perShort)
	}
	near(t, "per tonne", value(t, perShort, nil, "kWh/t"), 9*1.1023113, 1e-7)
	_, err = Bond(num(10), um(10000), um(100))
	refused(t, "a plain number", err, "short tons")
	_, err = Bond(kwh(10), um(100), um(200))
	refused(t, "a coarser product", err, "not finer")
}

func TestUncertainWorkIndex(t *testing.T) {
	wi := quantity.Must(quantity.Normal(kwh(12), kwh(0.6)))
	w, err := Bond(wi, mm(10), um(100))
	near(t, "relative spread", value(t, w.StdDev(), err, "kWh/t")/w.SI()*3600, 0.05, 0.02)
}

func TestFactorsAreOneForBondsMill(t *testing.T) {
	f, err := Duty{WorkIndex: quantity.Of(13, "kWh/st"), Feed: mm(2), Product: um(150)}.Factors()
	if err != nil {
		t.Fatal(err)
	}
	if !f.Required.Equal(f.Bond) {
		t.Errorf("required %v, Bond %v: %v", f.Required, f.Bond, f)
	}
}

func TestFactors(t *testing.T) {
	duty := Duty{WorkIndex: quantity.Of(13, "kWh/st"), Feed: mm(2), Product: um(150)}
	for name, test := range map[string]struct {
		change func(*Duty)
		which  int
		want   float64
	}{
		"dry":            {func(d *Duty) { d.Dry = true }, 0, 1.3},
		"open":           {func(d *Duty) { d.OpenCircuit = percent(0.85) }, 1, 1.30},
		"small":          {func(d *Duty) { d.Diameter = mm(1220) }, 2, math.Pow(2, 0.2)},
		"large":          {func(d *Duty) { d.Diameter = mm(6000) }, 2, 0.914},
		"coarse feed":    {func(d *Duty) { d.Feed = mm(8) }, 3, 1 + 6.0/(8000.0/150)},
		"fine product":   {func(d *Duty) { d.Product = um(45) }, 4, 55.3 / 51.525},
		"little to do":   {func(d *Duty) { d.Feed = um(450) }, 6, 1 + 0.13/1.65},
		"rods, 1.5 long": {func(d *Duty) { d.Media, d.RodLength, d.Product = Rods, mm(3660), um(100) }, 5, 1 + (20-15.5)*(20-15.5)/150},
		"feed of rods":   {func(d *Duty) { d.Media, d.RodLength, d.RodFeed = Rods, mm(3660), num(1.4) }, 7, 1.4},
	} {
		d := duty
		test.change(&d)
		f, err := d.Factors()
		if err != nil {
			t.Fatal(name, err)
		}
		near(t, name, f.Values[test.which].SI(), test.want, 1e-9)
	}
	duty.Feed = um(160)
	_, err := duty.Factors()
	refused(t, "reduction ratio near 1", err, "1.35")
}

func TestEveryMaterialHasASource(t *testing.T) {
	all := Materials()
	if len(all) < 55 {
		t.Errorf("%d materials", len(all))
	}
	for _, m := range all {
		wi := value(t, m.WorkIndex, nil, "kWh/st")
		if m.Source == "" || !(wi > 2 && wi < 140) {
			t.Errorf("%s: %v, source %q", m.Name, m.WorkIndex, m.Source)
		}
		if found, err := FindMaterial(m.Name); err != nil || found.Name != m.Name {
			t.Errorf("%s is not found: %v", m.Name, err)
		}
	}
	_, err := FindMaterial("iron")
	refused(t, "a part of a name", err, "iron ore")
	if WorkIndices().Rows() != len(all) {
		t.Error("the table lacks rows")
	}
}
