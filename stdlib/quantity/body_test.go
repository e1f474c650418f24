package quantity

import (
	"math"
	"math/rand/v2"
	"sync"
	"testing"
)

// Random arithmetic on uncertain quantities, deep and with results used again, is
// for each sample what the same arithmetic on certain quantities gives, whenever
// it is looked at.
func TestPutOffArithmeticIsTheSame(t *testing.T) {
	Seed(1)
	r := rand.New(rand.NewPCG(4, 4))
	inputs := []Quantity{Must(Normal(Of(40, "t/h"), Of(2, "t/h"))), Must(Uniform(Of(2, "t/h"), Of(3, "t/h"))), Must(Lognormal(Of(700, "kg/h"), 1.2))}
	for range 60 {
		pool := append([]Quantity{Of(5, "t/h")}, inputs...)
		const watched = 77 // any sample
		certain := make([]Quantity, len(pool))
		for i, q := range pool {
			certain[i] = q.Certain()
			if q.IsUncertain() {
				certain[i] = q.Unit().Quantity(q.Samples()[watched])
			}
		}
		for range 50 {
			i, j := r.IntN(len(pool)), r.IntN(len(pool))
			kind := r.IntN(7)
			step := func(a, b Quantity) Quantity {
				switch kind {
				case 0:
					return a.Add(b)
				case 1:
					return a.Sub(b)
				case 2:
					return a.Mul(b.Div(Of(9, "t/h"))).To("t/h")
				case 3:
					return Of(9, "t/h").Div(a.Div(b))
				case 4:
					return a.Neg().To("kg/h")
				case 5:
					return Hypot(a, b)
				}
				return Exp(a.Div(Of(-1e4, "t/h"))).Mul(b)
			}
			pool, certain = append(pool, step(pool[i], pool[j])), append(certain, step(certain[i], certain[j]))
			if r.IntN(4) == 0 {
				_ = pool[r.IntN(len(pool))].Shown() // somebody looks
			}
		}
		for i, q := range pool {
			if !q.IsUncertain() {
				continue
			}
			got, want := q.Samples()[watched], certain[i].Shown()
			if got != want && !(relativeError(got, want) < 1e-9) && !(got != got && want != want) {
				t.Fatalf("result %d: sample %v, want %v", i, got, want)
			}
			largest := 0.0
			for _, v := range q.Samples() {
				largest = max(largest, math.Abs(v))
			}
			if m := mean(q.Samples()); math.Abs(m-q.Shown()) > 1e-12*largest {
				t.Fatalf("result %d: mean %v, want %v", i, q.Shown(), m)
			}
		}
	}
}

// What is put off stays bounded: a long sum is done in pieces.
func TestLongSums(t *testing.T) {
	Seed(1)
	x := Must(Normal(Of(1, "t"), Of(0.1, "t")))
	var total Quantity
	for range 1000 {
		total = total.Add(x)
		if steps := total.cloud.body.steps(); steps > mostSteps {
			t.Fatalf("%d steps are put off", steps)
		}
	}
	within(t, "sum", total.Shown(), 1000, 1e-6)
	within(t, "deviation", total.StdDev().Shown(), 100, 0.1)
	if total.cloud.body.formula.Load() != nil {
		t.Error("a finished result keeps its formula, and all it was made from")
	}
}

// Several goroutines look at results of the same inputs at once.
func TestLookingFromManySides(t *testing.T) {
	Seed(1)
	useSamples(t, 20_000)
	x, y := Must(Normal(Of(40, "t/h"), Of(2, "t/h"))), Must(Uniform(Of(2, "t/h"), Of(3, "t/h")))
	shared := x.Add(y).Mul(y).Div(x)
	results := make([]float64, 16)
	var group sync.WaitGroup
	for i := range results {
		group.Go(func() { results[i] = shared.Mul(Number(2)).Sub(shared).Shown() })
	}
	group.Wait()
	for _, got := range results {
		within(t, "result", got, shared.Shown(), 1e-12)
	}
}
