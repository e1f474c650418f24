package quantity

import (
	"fmt"
	"math"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"cobber/stdlib/published/python"
)

var (
	result Quantity
	truth  bool
	text   string
)

func BenchmarkAdd(b *testing.B) {
	q, r := Of(1, "t"), Of(2, "t")
	b.ReportAllocs()
	for b.Loop() {
		result = q.Add(r)
	}
}

func BenchmarkAddOtherUnit(b *testing.B) {
	q, r := Of(1, "t"), Of(2, "kg")
	b.ReportAllocs()
	for b.Loop() {
		result = q.Add(r)
	}
}

func BenchmarkMul(b *testing.B) {
	q, r := Of(1, "t/h"), Of(2, "h")
	b.ReportAllocs()
	for b.Loop() {
		result = q.Mul(r)
	}
}

func BenchmarkMulOtherUnit(b *testing.B) {
	q, r := Of(1, "t/h"), Of(2, "min")
	b.ReportAllocs()
	for b.Loop() {
		result = q.Mul(r)
	}
}

func BenchmarkMulNumber(b *testing.B) {
	q, r := Of(1, "t/h"), Number(2)
	b.ReportAllocs()
	for b.Loop() {
		result = q.Mul(r)
	}
}

func BenchmarkDiv(b *testing.B) {
	q, r := Of(1, "kW"), Of(2, "t/h")
	b.ReportAllocs()
	for b.Loop() {
		result = q.Div(r)
	}
}

func BenchmarkSqrt(b *testing.B) {
	q := Of(2, "m2/s2")
	b.ReportAllocs()
	for b.Loop() {
		result = q.Sqrt()
	}
}

func BenchmarkLess(b *testing.B) {
	q, r := Of(1, "t"), Of(2, "kg")
	b.ReportAllocs()
	for b.Loop() {
		truth = q.Less(r)
	}
}

func BenchmarkOf(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		result = Of(3, "kWh/t")
	}
}

func BenchmarkValue(b *testing.B) {
	q := Of(3, "kWh/t")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := q.Value("kWh/st"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkString(b *testing.B) {
	q := Of(36.5, "t/h")
	b.ReportAllocs()
	for b.Loop() {
		text = q.String()
	}
}

func BenchmarkSprintf(b *testing.B) {
	q := Of(36.5, "t/h")
	b.ReportAllocs()
	for b.Loop() {
		text = fmt.Sprintf("%.2f", q)
	}
}

// BenchmarkMulParallel is the table of products under use from all cores.
func BenchmarkMulParallel(b *testing.B) {
	q, r := Of(1, "t/h"), Of(2, "h")
	b.RunParallel(func(pb *testing.PB) {
		for pb.Next() {
			if q.Mul(r).IsNaN() {
				b.Fail()
			}
		}
	})
}

// BenchmarkTable is reading the table of units, once in the life of a program.
func BenchmarkTable(b *testing.B) {
	for b.Loop() {
		r := &registry{atoms: map[string]*atom{}, prefixed: map[string]*atom{}, refused: map[string]refusal{}}
		if err := r.load(unitsText); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkTenOperations is ten operations on 100,000 samples each, and the mean
// of what comes out; the same by numpy with pint, where Python can be had. Both
// give the fastest of some rounds, in turns, as what else the machine does slows
// them: compare the two figures named fastest-ns.
func BenchmarkTenOperations(b *testing.B) {
	if err := SetSamples(100_000); err != nil {
		b.Fatal(err)
	}
	defer func() {
		if err := SetSamples(DefaultSamples); err != nil {
			b.Fatal(err)
		}
	}()
	x, y := Must(Normal(Of(40, "t/h"), Of(2, "t/h"))), Must(Uniform(Of(2, "t/h"), Of(3, "t/h")))
	b.Run("quantity", func(b *testing.B) {
		fastest := math.Inf(1)
		rounds := 0
		for start := time.Now(); b.Loop(); rounds++ {
			if rounds > 0 && rounds%20 == 0 {
				fastest = min(fastest, float64(time.Since(start))/20)
				start = time.Now()
			}
			p := x.Add(y).Mul(y).Div(x)
			result = Number(p.Sub(y).Add(x).Mul(x).Div(y).Add(p).Sub(x).Add(y).Shown())
		}
		b.ReportMetric(fastest, "fastest-ns")
	})
	b.Run("pint", func(b *testing.B) {
		output, err := exec.Command(python.With(b, "quantity", referenceLibraries), "testdata/reference/speed.py", "30").Output()
		if err != nil {
			b.Fatal(err)
		}
		fastest, err := strconv.ParseFloat(strings.TrimSpace(string(output)), 64)
		if err != nil {
			b.Fatal(err)
		}
		for b.Loop() { // the work is Python's
		}
		b.ReportMetric(fastest, "fastest-ns")
	})
}
