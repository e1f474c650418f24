package sampling

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"cobber/stdlib/internal/expect"
	"cobber/stdlib/quantity"
)

func pc(x float64) quantity.Quantity { return quantity.Of(x, "%") }

var value, near, refused = expect.Value, expect.Near, expect.Refused

// An invented tin ore.
func ore() Material {
	return Material{
		TopSize: quantity.Of(10, "mm"), Grade: pc(1), Mineral: quantity.Of(7, "g/cm³"),
		Gangue: quantity.Of(2.7, "g/cm³"), Liberation: quantity.Of(0.1, "mm"),
	}
}

var endless quantity.Quantity

func TestConstantByHand(t *testing.T) {
	g, err := ore().Gy()
	if err != nil {
		t.Fatal(err)
	}
	// f g l m = 0.5·0.25·√(0.01)·99·(0.99·7 + 0.01·2.7)
	near(t, "C", value(t, g.Constant(), nil, "g/cm³"), 0.125*0.1*99*(6.93+0.027), 1e-12)
	free := ore()
	free.TopSize = quantity.Of(0.05, "mm") // below the liberation size l is 1
	g, err = free.Gy()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "C, free", value(t, g.Constant(), nil, "g/cm³"), 0.125*99*(6.93+0.027), 1e-12)
	made, err := ore().Factors()
	if err != nil || !strings.Contains(made.String(), "8.609 g/cm³") {
		t.Errorf("factors (%v):\n%v", err, made)
	}
}

// Mass, error and top size are inverses of one another.
func TestInverses(t *testing.T) {
	m := ore()
	g, err := m.Gy()
	if err != nil {
		t.Fatal(err)
	}
	for _, lot := range []quantity.Quantity{endless, quantity.Of(50, "kg"), quantity.Of(3, "t")} {
		for _, wanted := range []float64{0.5, 2, 10} {
			mass, err := g.MinimumMass(pc(wanted), lot)
			if err != nil {
				t.Fatal(err)
			}
			s, err := g.Error(mass, lot)
			near(t, fmt.Sprintf("error of %v from %v, %%", mass, lot), value(t, s, err, "%"), wanted, 1e-9)
		}
	}
	for _, grams := range []float64{0.002, 1, 200, 40000} { // below and above the liberation size
		size, err := m.TopSizeFor(quantity.Of(grams, "g"), pc(2))
		if err != nil {
			t.Fatal(err)
		}
		crushed := m
		crushed.TopSize = size
		g, err := crushed.Gy()
		if err != nil {
			t.Fatal(err)
		}
		s, err := g.Error(quantity.Of(grams, "g"), endless)
		near(t, fmt.Sprintf("crushed to %v, %%", size), value(t, s, err, "%"), 2, 1e-9)
	}
	whole, err := g.Error(quantity.Of(50, "kg"), quantity.Of(50, "kg"))
	if s := value(t, whole, err, "%"); s != 0 {
		t.Errorf("the whole lot as its sample has an error of %v %%", s)
	}
	line, err := SafetyLine(quantity.Of(1, "cm"))
	near(t, "safety line", value(t, line, err, "kg"), 125, 1e-12)
	all, err := Together(pc(3), pc(4), quantity.Number(0.12))
	near(t, "3, 4, 12 together", value(t, all, err, "%"), 13, 1e-12)
}

func TestUncertainMaterial(t *testing.T) {
	m := ore()
	m.Liberation = quantity.Must(quantity.Lognormal(m.Liberation, 1.2))
	g, err := m.Gy()
	if err != nil {
		t.Fatal(err)
	}
	mass, err := g.MinimumMass(pc(1), endless)
	if err != nil || !mass.IsUncertain() {
		t.Fatalf("%v (%v)", mass, err)
	}
	near(t, "relative spread", mass.StdDev().SI()/mass.SI(), math.Log(1.2)/2, 0.05) // M goes with √L
}

func TestGyRefuses(t *testing.T) {
	for name, change := range map[string]func(*Material){
		"the grade is a share":    func(m *Material) { m.Grade = quantity.Number(5) },
		"the top size is":         func(m *Material) { m.TopSize = quantity.Of(1, "kg") },
		"liberation size":         func(m *Material) { m.Liberation = endless },
		"density of the gangue":   func(m *Material) { m.Gangue = quantity.Of(-1, "g/cm³") },
		"the shape factor":        func(m *Material) { m.Shape = quantity.Number(2) },
		"density of the mineral ": func(m *Material) { m.Mineral = pc(7) },
	} {
		m := ore()
		change(&m)
		_, err := m.Gy()
		refused(t, name, err, strings.TrimSpace(name))
	}
	g, err := Constant(quantity.Of(22.5, "g/cm³"), quantity.Of(2, "mm"))
	if err != nil {
		t.Fatal(err)
	}
	_, err = g.Error(quantity.Of(2, "kg"), quantity.Of(1, "kg"))
	refused(t, "large sample", err, "larger than its lot")
	_, err = g.MinimumMass(quantity.Number(15), endless)
	refused(t, "plain percent", err, "write a percentage")
	_, err = Constant(quantity.Number(22.5), quantity.Of(2, "mm"))
	refused(t, "constant without unit", err, "sampling constant")
	_, err = Together()
	refused(t, "nothing", err, "no errors")
	_, err = Together(pc(-1))
	refused(t, "negative", err, "0 or more")
	for _, test := range []struct{ d95, d05, want float64 }{{10, 1, 0.25}, {10, 2.5, 0.5}, {10, 6, 0.75}, {10, 10, 1}} {
		f, err := SizeFactor(quantity.Of(test.d95, "mm"), quantity.Of(test.d05, "mm"))
		near(t, "g", value(t, f, err, "1"), test.want, 0)
	}
	_, err = SizeFactor(quantity.Of(1, "mm"), quantity.Of(2, "mm"))
	refused(t, "sizes swapped", err, "not below")
}

// The figures of the example are invented.
func ExampleMaterial_Gy() {
	ore := Material{
		TopSize: quantity.Of(12, "mm"), Grade: quantity.Of(4, "%"), Mineral: quantity.Of(5, "g/cm³"),
		Gangue: quantity.Of(2.7, "g/cm³"), Liberation: quantity.Of(100, "µm"),
	}
	g, err := ore.Gy()
	if err != nil {
		fmt.Println(err)
		return
	}
	var lot quantity.Quantity // without bound
	mass, err := g.MinimumMass(quantity.Of(2, "%"), lot)
	fmt.Println(mass, err)
	// Output: 5.807 kg <nil>
}
