package mineral

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

func assay(t *testing.T, names []string, shares []quantity.Quantity) Composition {
	t.Helper()
	c, err := NewComposition(names, shares)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func phases(t *testing.T, texts ...string) []Phase {
	t.Helper()
	out, err := Phases(texts...)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func fit(t *testing.T, c Composition, all ...Phase) Proportions {
	t.Helper()
	p, err := FitProportions(c, all...)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A cement clinker of 66.6 % CaO, of which 1.0 % is free, 21.5 % SiO2, 5.2 %
// Al2O3 and 3.0 % Fe2O3 consists of 64.4 % C3S, 13.0 % C2S, 8.7 % C3A and 9.1 %
// C4AF by R.H. Bogue's equations, the form of ASTM C150 (worked example at
// cementops.io, Bogue calculator). The equations solve for the same four
// minerals with older atomic weights and coefficients of four digits.
func TestClinkerByBogue(t *testing.T) {
	clinker := assay(t, []string{"CaO", "SiO2", "Al2O3", "Fe2O3"}, of("%", 66.6-1.0, 21.5, 5.2, 3.0))
	p := fit(t, clinker, phases(t, "3CaO·SiO2", "2CaO·SiO2", "3CaO·Al2O3", "4CaO·Al2O3·Fe2O3")...)
	for i, want := range []float64{64.4, 13.0, 8.7, 9.1} {
		if got := value(t, p.Shares()[i], "%"); math.Abs(got-want) > 0.12 {
			t.Errorf("%s: %.2f %%, published %v", p.Names()[i], got, want)
		}
	}
	for i, left := range p.Unexplained() {
		if math.Abs(value(t, left, "%")) > 1e-10 {
			t.Errorf("%v of %s are unexplained", left, clinker.Names()[i])
		}
	}
}

// Equal masses of MgO and SiO2 make forsterite and enstatite, 5 mol of each from
// 15 and 10 mol in round numbers, and no quartz (J.B. Brady, Smith College,
// Igneous Rocks, figure 10.02, with 40 and 60 g/mol): 58.3 and 41.7 %. The exact
// weights shift that by one per cent.
func TestNormOfTwoOxides(t *testing.T) {
	p := fit(t, assay(t, []string{"MgO", "SiO2"}, of("%", 50, 50)), phases(t, "forsterite", "enstatite")...)
	for i, want := range []float64{58.3, 41.7} {
		if got := value(t, p.Shares()[i], "%"); math.Abs(got-want) > 1 {
			t.Errorf("%s: %.2f %%, published %v", p.Names()[i], got, want)
		}
	}
	if total := value(t, p.Total(), "%"); math.Abs(total-100) > 1e-9 {
		t.Errorf("the phases make %v %%", total)
	}
}

// What a mixture is made of must be found again, whatever the mixture, and what
// is not in it must come out as nothing.
func TestProportionsOfMixturesComeBack(t *testing.T) {
	names := []string{"ilmenite", "anorthite", "forsterite", "fayalite", "corundum", "troilite", "apatite", "rutile"}
	all := phases(t, names...)
	components := []string{"Ti", "Fe", "Ca", "Al", "Si", "Mg", "S", "P", "O", "F"}
	random := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		mixture := make([]float64, len(names))
		sum := 0.0
		for j := range mixture {
			if random.IntN(3) > 0 {
				mixture[j] = random.Float64()
			}
			sum += mixture[j]
		}
		if sum == 0 {
			continue
		}
		shares := make([]quantity.Quantity, len(components))
		for i, symbol := range components {
			total := 0.0
			for j, name := range names {
				m, _ := Find(name)
				total += mixture[j] / sum * m.Formula.share(symbol)
			}
			shares[i] = percent(total)
		}
		p := fit(t, assay(t, components, shares), all...)
		for j, share := range p.Shares() {
			if got := value(t, share, "1"); math.Abs(got-mixture[j]/sum) > 1e-9 {
				t.Fatalf("%s: %v, in the mixture %v", names[j], got, mixture[j]/sum)
			}
		}
	}
}

// 2 FeTiO3 + 2 MgSiO3 = Fe2SiO4 + 2 TiO2 + Mg2SiO4: five minerals that no
// assay of their elements can tell apart.
func TestMineralsBoundByAReaction(t *testing.T) {
	rock := assay(t, []string{"Fe", "Ti", "Mg", "Si", "O"}, of("%", 15, 12, 12, 14, 42))
	_, err := FitProportions(rock, phases(t, "ilmenite", "enstatite", "fayalite", "rutile", "forsterite")...)
	if err == nil || !strings.Contains(err.Error(), "cannot tell") {
		t.Errorf("error %v", err)
	}
}

// Ferrous and ferric iron apart: 10 % magnetite and 20 % ilmenite by hand are
// 3.1030 + 9.4713 % FeO, 6.8970 % Fe2O3 and 10.5287 % TiO2.
func TestIronAssayedApart(t *testing.T) {
	names := []string{"FeO", "Fe2O3", "TiO2"}
	ore := assay(t, names, of("%", 3.1030+9.4713, 6.8970, 10.5287))
	p := fit(t, ore, phases(t, "magnetite", "FeO·TiO2", "Fe2O3")...)
	for i, want := range []float64{10, 20, 0} {
		if got := value(t, p.Shares()[i], "%"); math.Abs(got-want) > 2e-3 {
			t.Errorf("%s: %v %%, want %v", p.Names()[i], got, want)
		}
	}
	if _, err := FitProportions(ore, phases(t, "magnetite", "ilmenite")...); err == nil || !strings.Contains(err.Error(), "write its formula in parts") {
		t.Errorf("error %v", err)
	}
	measured := Phase{"ilmenite", assay(t, []string{"FeO", "Fe2O3", "TiO2", "MgO"}, of("%", 45, 2, 50, 3))}
	p = fit(t, ore, append(phases(t, "magnetite"), measured)...)
	if left := value(t, p.Unexplained()[0], "%"); math.Abs(left) < 0.01 {
		t.Errorf("an ilmenite of another composition leaves %v %% FeO unexplained; too little to be true", left)
	}
}

func TestUncertainAssayGivesUncertainShares(t *testing.T) {
	uncertain := func(x, deviation float64) quantity.Quantity {
		return quantity.Must(quantity.Normal(quantity.Of(x, "%"), quantity.Of(deviation, "%")))
	}
	// One component and one phase: the share is the assay times 1/w, and so is its
	// deviation.
	lead := fit(t, assay(t, []string{"Pb"}, []quantity.Quantity{uncertain(5, 0.1)}), phases(t, "galena")...)
	share := lead.Shares()[0]
	near(t, "galena", value(t, share, "%"), 5/0.866004, 1e-5)
	near(t, "deviation", value(t, share.StdDev(), "%"), 0.1/0.866004, 0.01)
	// More components than phases: the residuals are those of the weights.
	ore := assay(t, []string{"Pb", "S"}, []quantity.Quantity{uncertain(8.66004, 0.1), uncertain(1.5, 0.1)})
	p := fit(t, ore, phases(t, "galena")...)
	chi, freedom, err := p.ChiSquare()
	if err != nil || freedom != 1 {
		t.Fatalf("%v of %d (%v)", chi, freedom, err)
	}
	// By hand: x = (a·b)/(a·a) with a = (.866004, .133996), b = (8.66004, 1.5).
	x := (0.866004*8.66004 + 0.133996*1.5) / (0.866004*0.866004 + 0.133996*0.133996)
	left := []float64{8.66004 - 0.866004*x, 1.5 - 0.133996*x}
	near(t, "share", value(t, p.Shares()[0], "%"), x, 1e-4)
	near(t, "chi square", chi, (left[0]*left[0]+left[1]*left[1])/0.01, 1e-3)
	for _, want := range []string{"± share (%)", "± unexplained (%)"} {
		if !strings.Contains(p.String(), want) {
			t.Errorf("the tables lack %q:\n%s", want, p)
		}
	}
	mixed := assay(t, []string{"Pb", "S"}, []quantity.Quantity{uncertain(8, 0.1), quantity.Of(1.5, "%")})
	if _, err := FitProportions(mixed, phases(t, "galena")...); err == nil || !strings.Contains(err.Error(), "S is assayed without uncertainty") {
		t.Errorf("error %v", err)
	}
	certain := fit(t, assay(t, []string{"Pb"}, of("%", 5)), phases(t, "galena")...)
	if _, _, err := certain.ChiSquare(); err == nil {
		t.Error("a certain assay has no chi square")
	}
}

func TestProportionsRefused(t *testing.T) {
	iron := assay(t, []string{"Fe"}, of("%", 30))
	tests := []struct {
		assay  Composition
		phases []Phase
		want   string
	}{
		{Composition{}, phases(t, "Fe2O3"), "nothing in the assay"}, {iron, nil, "one phase at least"},
		{iron, phases(t, "Fe2O3", "FeO"), "cannot tell Fe2O3, FeO apart"}, {iron, phases(t, "Fe2O3", "Fe2O3"), "a name of its own"},
		{iron, phases(t, "SiO2"), "holds none of Fe"}, {assay(t, []string{"LOI"}, of("%", 3)), phases(t, "Fe2O3"), "element or oxide"},
		{assay(t, []string{"FeTiO3"}, of("%", 3)), phases(t, "Fe2O3"), "must stand for one element"},
		{iron, []Phase{{"slag", assay(t, []string{"Fe", "rest"}, of("%", 3, 97))}}, "phase slag"},
	}
	for _, test := range tests {
		if _, err := FitProportions(test.assay, test.phases...); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%v: error %v, want one with %q", test.assay.Names(), err, test.want)
		}
	}
}

// How much of the iron is metal: a highland soil of 5 % FeO and 0.7 % metal
// (the largest share of metal in R.V. Morris, 1980, NTRS 19820038811) holds
// 3.886 + 0.7 % iron, so 15.3 % of it are metal.
func TestDeportment(t *testing.T) {
	oxide, err := Content("Fe", "FeO")
	if err != nil {
		t.Fatal(err)
	}
	d, err := NewDeportment("Fe", Carrier{"metal", quantity.Of(0.7, "%"), quantity.Of(100, "%")},
		Carrier{"oxide and silicates", quantity.Of(5, "%"), oxide})
	if err != nil {
		t.Fatal(err)
	}
	metal, err := d.Part("metal")
	if err != nil {
		t.Fatal(err)
	}
	near(t, "metal", value(t, metal, "%"), 100*0.7/(0.7+5*0.777309), 1e-6)
	near(t, "total", value(t, d.Total(), "%"), 0.7+5*0.777309, 1e-6)
	missing, err := d.Against(quantity.Of(5, "%"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "unexplained", value(t, missing, "%"), 100*(5-0.7-5*0.777309)/5, 1e-5)
	sum := quantity.Sum(d.Parts()...)
	near(t, "parts", value(t, sum, "%"), 100, 1e-14)
	for _, want := range []string{"part of Fe (%)", "metal", "all"} {
		if !strings.Contains(d.String(), want) {
			t.Errorf("the table lacks %q:\n%s", want, d)
		}
	}
	tonnes, err := NewDeportment("Fe", Carrier{"a", quantity.Of(3, "t/h"), quantity.Of(10, "%")}, Carrier{"b", quantity.Of(1000, "kg/h"), quantity.Of(70, "%")})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "flow", value(t, tonnes.Total(), "t/h"), 1, 1e-12)
	near(t, "b", value(t, tonnes.Parts()[1], "%"), 70, 1e-12)
	if _, err := tonnes.Against(quantity.Of(3, "%")); err == nil {
		t.Error("a share is held against a flow")
	}
}

func TestDeportmentRefused(t *testing.T) {
	carrier := func(name string, amount, grade quantity.Quantity) Carrier { return Carrier{name, amount, grade} }
	pc := func(x float64) quantity.Quantity { return quantity.Of(x, "%") }
	for _, test := range []struct {
		carriers []Carrier
		want     string
	}{
		{nil, "at least one carrier"}, {[]Carrier{carrier("", pc(1), pc(1))}, "a name of its own"},
		{[]Carrier{carrier("a", pc(1), pc(1)), carrier("a", pc(1), pc(1))}, "a name of its own"},
		{[]Carrier{carrier("a", pc(-1), pc(1))}, "cannot be"}, {[]Carrier{carrier("a", pc(1), pc(101))}, "between 0 and 100"},
		{[]Carrier{carrier("a", pc(1), pc(1)), carrier("b", quantity.Of(1, "t"), pc(1))}, "not of one kind"},
		{[]Carrier{carrier("a", pc(1), pc(0))}, "has no deportment"}, {[]Carrier{carrier("a", quantity.Of(1, "vol%"), pc(1))}, "share of volume"},
		{[]Carrier{carrier("a", pc(1), quantity.Of(5, "vol%"))}, "share of mass"},
	} {
		if _, err := NewDeportment("Fe", test.carriers...); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%v: error %v, want one with %q", test.carriers, err, test.want)
		}
	}
}

// An uncertain assay of six components is solved for every sample.
func BenchmarkFitUncertainProportions(b *testing.B) {
	names := []string{"SiO2", "TiO2", "Al2O3", "FeO", "MgO", "CaO"}
	var shares []quantity.Quantity
	for _, x := range []float64{42.2, 7.8, 13.6, 15.3, 7.8, 11.9} {
		shares = append(shares, quantity.Must(quantity.Normal(quantity.Of(x, "%"), quantity.Of(x/50, "%"))))
	}
	soil, err := NewComposition(names, shares)
	if err != nil {
		b.Fatal(err)
	}
	minerals, err := Phases("ilmenite", "anorthite", "diopside", "forsterite", "fayalite")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := FitProportions(soil, minerals...); err != nil {
			b.Fatal(err)
		}
	}
}
