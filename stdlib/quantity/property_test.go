package quantity

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sync"
	"testing"
)

// sampleUnits are multiplied and divided at random by the property tests.
var sampleUnits = []string{"", "%", "ppm", "g/t", "ozt/st", "t", "kg", "lb", "st", "g", "h", "min", "s", "d", "t/h", "kg/s", "kWh/t",
	"kW", "hp_mech", "kWh", "J", "W", "N", "lbf", "psi", "Pa", "bar", "m", "mm", "ft", "µm", "m2", "m3", "L", "gpm", "m3/h", "kg/L",
	"t/m3", "lb/ft3", "m/s2", "g0", "Hz", "1/min", "rpm", "rad/s", "deg", "USD/t", "EUR/h", "USD/ozt", "T", "Oe", "A/m", "emu/g",
	"K", "W/(m2·°C)", "Δ°F", "%/h", "mol/L", "wt%", "vol%", "L/m3", "A·m2/kg", "V", "km^(1/2)", "cfm", "MUSD/a"}

func random(r *rand.Rand) Quantity {
	value := (r.Float64() - 0.3) * math.Pow(10, float64(r.IntN(7)-3))
	q := Of(value, sampleUnits[r.IntN(len(sampleUnits))])
	switch r.IntN(3) {
	case 0:
		return q.Mul(Of(1+r.Float64(), sampleUnits[r.IntN(len(sampleUnits))]))
	case 1:
		return q.Div(Of(1+r.Float64(), sampleUnits[r.IntN(len(sampleUnits))]))
	}
	return q
}

// close reports whether two SI values agree to the rounding of a few operations.
func close(a, b, scale float64) bool {
	return math.Abs(a-b) <= 1e-13*max(math.Abs(a), math.Abs(b), scale)
}

// marksOf and angleOf are what must be conserved beside the dimension.
func conserved(a, b, product Quantity, sign int) bool {
	want := joinSame(append(append([]term{}, a.unit.terms...), raiseTerms(b.unit.terms, whole(sign))...))
	u := newUnit(want)
	return product.unit.marks == u.marks && product.unit.angle == u.angle && product.Dimension() == u.dimension
}

const rounds = 6000

// However the unit of a product is chosen, the product must be that of the SI
// values, and dimension, currency and angle must be kept.
func TestProductsKeepValueAndDimension(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range rounds {
		q, s := random(r), random(r)
		p, d := q.Mul(s), q.Div(s)
		if !close(p.SI(), q.SI()*s.SI(), 0) || !conserved(q, s, p, 1) {
			t.Fatalf("%+v × %+v = %+v: SI %v, want %v", q, s, p, p.SI(), q.SI()*s.SI())
		}
		if !close(d.SI(), q.SI()/s.SI(), 0) || !conserved(q, s, d, -1) {
			t.Fatalf("%+v ÷ %+v = %+v: SI %v, want %v", q, s, d, d.SI(), q.SI()/s.SI())
		}
		if back := s.Mul(q); !close(back.SI(), p.SI(), 0) || !back.Unit().Compatible(p.Unit()) {
			t.Fatalf("%+v × %+v is %+v, the other way round %+v", q, s, p, back)
		}
	}
}

func TestAlgebra(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range rounds {
		a, b := random(r), random(r)
		c, d := random(r), Quantity{value: (r.Float64() - 0.5) * 10, unit: a.unit}
		if x, y := a.Mul(b).Mul(c), a.Mul(b.Mul(c)); !close(x.SI(), y.SI(), 0) || x.Dimension() != y.Dimension() {
			t.Fatalf("(%+v × %+v) × %+v is %+v or %+v", a, b, c, x, y)
		}
		x, y := b.Mul(a.Add(d)), b.Mul(a).Add(b.Mul(d))
		scale := math.Abs(b.SI()) * (math.Abs(a.SI()) + math.Abs(d.SI()))
		if !close(x.SI(), y.SI(), scale) {
			t.Fatalf("%+v × (%+v + %+v) is %+v or %+v", b, a, d, x, y)
		}
		if z := a.Sub(a); z.value != 0 || z.unit != a.unit {
			t.Fatalf("%+v less itself is %+v", a, z)
		}
		if one := a.Div(a); a.value != 0 && (!close(one.SI(), 1, 0) || !one.Dimension().IsOne()) {
			t.Fatalf("%+v by itself is %+v", a, one)
		}
		if square := a.Mul(a); !close(square.SI(), a.Pow(2, 1).SI(), 0) || square.Unit() != a.Pow(2, 1).Unit() {
			t.Fatalf("%+v squared is %+v or %+v", a, square, a.Pow(2, 1))
		}
		if root := a.Mul(a).Sqrt(); !close(root.SI(), math.Abs(a.SI()), 0) || root.Dimension() != a.Dimension() {
			t.Fatalf("root of the square of %+v is %+v", a, root)
		}
	}
}

// What is printed in full reads back as the same value in the same unit.
func TestPrintedReadsBack(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range rounds {
		q := random(r)
		text := fmt.Sprintf("%+v", q)
		back, err := Parse(text)
		if err != nil || back.value != q.value || back.Unit().Symbol() != q.Unit().Symbol() || back.Dimension() != q.Dimension() {
			t.Fatalf("%s reads back as %+v, %v", text, back, err)
		}
		if !back.Equal(q) && !q.IsNaN() {
			t.Fatalf("%s reads back as %+v", text, back)
		}
		short, err := Parse(q.String())
		if err != nil || math.Abs(short.value-q.value) > 5.1e-4*math.Abs(q.value) {
			t.Fatalf("%s reads back as %+v, %v", q, short, err)
		}
	}
}

// Conversion there and back changes at most the last digits, and order does
// not depend on the unit.
func TestConversionsAreConsistent(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	converted := 0
	for range 5 * rounds {
		q, s := random(r), random(r)
		if !q.Unit().Compatible(s.Unit()) {
			continue
		}
		converted++
		there, err := q.InUnit(s.Unit())
		if err != nil {
			t.Fatal(err)
		}
		back, err := there.InUnit(q.Unit())
		if err != nil || !close(back.value, q.value, 0) || !close(there.SI(), q.SI(), 0) || !there.Equal(q) {
			t.Fatalf("%+v is %+v and back %+v, %v", q, there, back, err)
		}
		if q.Compare(s) != there.Compare(s) || q.Compare(s) != -s.Compare(q) {
			t.Fatalf("%+v and %+v compare as %d, in one unit as %d", q, s, q.Compare(s), there.Compare(s))
		}
		if sum := q.Add(s); !close(sum.SI(), q.SI()+s.SI(), math.Abs(q.SI())+math.Abs(s.SI())) {
			t.Fatalf("%+v + %+v = %+v", q, s, sum)
		}
	}
	if converted < 100 {
		t.Errorf("only %d pairs were compatible", converted)
	}
}

// Units are made and looked up from several goroutines at once; run with -race.
func TestConcurrentUse(t *testing.T) {
	var group sync.WaitGroup
	for worker := range 8 {
		group.Go(func() {
			r := rand.New(rand.NewPCG(9, uint64(worker)))
			for range 500 {
				q, s := random(r), random(r)
				if p := q.Mul(s); p.Dimension() != q.Dimension().Mul(s.Dimension()) {
					t.Errorf("%v × %v = %v", q, s, p)
				}
				if err := Declare(fmt.Sprintf("lot%d", worker%2), "3 t"); err != nil {
					t.Error(err)
				}
			}
		})
	}
	group.Wait()
}
