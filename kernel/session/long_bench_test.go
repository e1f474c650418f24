package session

import (
	"context"
	"fmt"
	"runtime"
	"testing"
	"time"

	"cobber/kernel/source"
	"cobber/stdlib/show"
)

// BenchmarkLong runs sessions of many cells and reports, beside the time of a cell, what a cell leaves
// in the heap and how the last tenth of the cells compares with the first:
//
//	go test ./kernel/session -run '^$' -bench Long -benchtime 1x
func BenchmarkLong(b *testing.B) {
	for _, bench := range []struct {
		name  string
		cells int
		cell  func(i int) string
	}{
		{"new-names", 1000, func(i int) string { return fmt.Sprintf("x%d := %d * 2.5\nx%d + 1", i, i, i) }},
		{"one-cell-again", 10000, func(i int) string { return "total := 0.0\nfor i := range 10 {\n\ttotal += float64(i)\n}\ntotal" }},
		{"quantities-again", 1000, func(i int) string { return "feed := 36.5`t/h`\nfeed * 8`h`" }},
		{"function-again", 1000, func(i int) string {
			return fmt.Sprintf("func f(x float64) float64 { return x * %d }\nf(2)", i)
		}},
		{"type-again", 1000, func(i int) string {
			return "type stream struct{ name string; mass float64 }\nfunc (s stream) double() float64 { return 2 * s.mass }\ns := stream{\"feed\", 3}\ns.double()"
		}},
		{"large-value-again", 200, func(i int) string { return "large := make([]float64, 1<<20)\nlarge[5]" }},
		{"large-value-of-new-type-again", 200, func(i int) string {
			return fmt.Sprintf("type big struct{ v []float64; n%d int }\nlarge := big{v: make([]float64, 1<<20)}\nlarge.n%d", i, i)
		}},
		{"compiled-packages", 1000, func(i int) string { return fmt.Sprintf("import \"strings\"\nstrings.Repeat(\"x\", %d%%9)", i) }},
		{"wrong", 1000, func(i int) string { return "nothing + 1" }},
	} {
		b.Run(bench.name, func(b *testing.B) {
			for range b.N {
				long(b, bench.cells, bench.cell)
			}
		})
	}
}

type silent struct{}

func (silent) Stream(name, text string) {}
func (silent) Event(show.Event)         {}

func long(b *testing.B, cells int, cell func(i int) string) {
	s := New()
	defer s.Close()
	step := func(from, to int) time.Duration {
		start := time.Now()
		for i := from; i < to; i++ {
			s.Run(context.Background(), source.Cell{Name: fmt.Sprintf("cell %d", i+1), Count: i + 1, Text: cell(i)}, silent{})
		}
		return time.Since(start)
	}
	tenth := cells / 10
	step(0, tenth/2) // what is loaded once
	before := heap()
	start := time.Now()
	first := step(tenth/2, tenth+tenth/2)
	step(tenth+tenth/2, cells-tenth)
	last := step(cells-tenth, cells)
	b.ReportMetric(float64(time.Since(start).Microseconds())/float64(cells-tenth/2), "us/cell")
	b.ReportMetric((heap()-before)/float64(cells-tenth/2), "B/cell")
	b.ReportMetric(float64(last)/float64(first), "last/first")
	b.ReportMetric(0, "ns/op")
}

func heap() float64 {
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return float64(m.HeapAlloc)
}
