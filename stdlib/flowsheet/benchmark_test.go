package flowsheet

import (
	"fmt"
	"testing"

	"cobber/stdlib/stream"
)

// A six-unit circuit with a recycle, 12 sizes × 8 classes, solved 1,000 times.
func BenchmarkThousandSolves(b *testing.B) {
	sheet := sixUnits(b, grid(b, 12, 8))
	for b.Loop() {
		for range 1000 {
			if _, err := sheet.Solve(); err != nil {
				b.Fatal(err)
			}
		}
	}
}

func BenchmarkClasses(b *testing.B) {
	for _, size := range [][2]int{{6, 4}, {12, 8}, {24, 8}, {24, 16}, {30, 32}} {
		b.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(b *testing.B) {
			sheet := sixUnits(b, grid(b, size[0], size[1]))
			for b.Loop() {
				if _, err := sheet.Solve(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A bank of cleaners, each sending its tailings one back: one recycle for each
// unit, all in one group.
func BenchmarkUnits(b *testing.B) {
	for _, count := range []int{2, 4, 8, 16} {
		b.Run(fmt.Sprintf("%d", count), func(b *testing.B) {
			sheet := bank(b, count)
			for b.Loop() {
				if _, err := sheet.Solve(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func bank(t testing.TB, count int) *Flowsheet {
	steps := make([]Step, count)
	for u := range steps {
		before := "ore"
		if u > 0 {
			before = fmt.Sprintf("cell %d.up", u)
		}
		steps[u] = Do(fmt.Sprintf("cell %d", u+1), sorter(0.2, 0.6), before)
		if u+1 < count {
			steps[u].From = append(steps[u].From, fmt.Sprintf("cell %d.down", u+2))
		}
	}
	return must[*Flowsheet](t)(New("bank", []stream.Stream{ore(t, grid(t, 12, 8))}, steps...))
}

func TestBankCloses(t *testing.T) {
	for _, count := range []int{2, 5, 9} {
		r := must[*Result](t)(bank(t, count).Solve())
		settled(t, r)
		if m := r.Loops()[0].Method; m != "class by class" {
			t.Errorf("%d cells: %s", count, m)
		}
	}
}

func TestSmallShares(t *testing.T) {
	for share, want := range map[float64]string{0: "0", 4e-16: "< 1e-12", 2.34e-9: "2.3e-09", 0.02: "2.0e-02"} {
		if got := small(share); got != want {
			t.Errorf("%v shows as %q, want %q", share, got, want)
		}
	}
}
