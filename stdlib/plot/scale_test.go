package plot

import (
	"math"
	"strings"
	"testing"
)

func labels(s scale) string {
	var texts []string
	for _, tick := range s.ticks {
		if tick.Label != "" {
			texts = append(texts, tick.Label)
		}
	}
	return strings.Join(texts, " ")
}

func TestTicks(t *testing.T) {
	tests := []struct {
		axis    Axis
		numbers []float64
		want    string
	}{
		{Axis{}, []float64{0.9, 99.8}, "0 20 40 60 80 100"},
		{Axis{}, []float64{0, 100}, "0 20 40 60 80 100"},
		{Axis{}, []float64{62, 91}, "60 65 70 75 80 85 90 95"},
		{Axis{Zero: true}, []float64{62, 91}, "0 20 40 60 80 100"},
		{Axis{Zero: true}, []float64{-8, -3}, "−8 −6 −4 −2 0"},
		{Axis{}, []float64{5, 5}, "2 3 4 5 6 7 8"},
		{Axis{}, []float64{1e9, 1e9 + 1e-6}, "4e8 6e8 8e8 1e9 1.2e9 1.4e9 1.6e9"},
		{Axis{}, []float64{0, 0}, "−1.0 −0.5 0.0 0.5 1.0"},
		{Axis{}, []float64{-0.003, 0.001}, "−0.003 −0.002 −0.001 0.000 0.001"},
		{Axis{}, []float64{1e7, 3e7}, "1e7 1.5e7 2e7 2.5e7 3e7"},
		{Axis{Log: true}, []float64{63, 500}, "70 100 200 300 400 500"},
		{Axis{Log: true}, []float64{45, 11200}, "50 100 200 500 1000 2000 5000 10000 20000"},
		{Axis{Log: true}, []float64{0.02, 2}, "0.02 0.05 0.1 0.2 0.5 1 2"},
		{Axis{Log: true}, []float64{1e-3, 1e3}, "0.001 0.01 0.1 1 10 100 1000"},
		{Axis{Log: true}, []float64{7, 7}, "3 4 5 7 10 20"},
	}
	for _, test := range tests {
		s := newScale(test.axis, test.numbers)
		if got := labels(s); got != test.want {
			t.Errorf("%v, logarithmic %v: ticks %s, want %s", test.numbers, test.axis.Log, got, test.want)
		}
		for _, x := range test.numbers {
			if x < s.low || x > s.high {
				t.Errorf("%v: %v lies outside the axis, %v to %v", test.numbers, x, s.low, s.high)
			}
		}
	}
}

// Whatever the numbers, an axis holds them and has ticks one can read.
func FuzzScale(f *testing.F) {
	f.Add(1.0, 2.0, false)
	f.Add(1e-300, 1e300, true)
	f.Add(-5.0, 5.0, false)
	f.Fuzz(func(t *testing.T, a, b float64, log bool) {
		usable := func(x float64) bool {
			return math.Abs(x) < 1e300 && (math.Abs(x) > 1e-300 || x == 0 && !log) && (x > 0 || !log)
		}
		if !usable(a) || !usable(b) {
			return
		}
		s := newScale(Axis{Log: log}, []float64{a, b})
		spread := math.Abs(s.high-s.low) * 1e-6
		for _, x := range []float64{a, b} {
			if !(x >= s.low-spread && x <= s.high+spread) {
				t.Errorf("%v to %v: the axis runs from %v to %v", a, b, s.low, s.high)
			}
		}
		if len(s.ticks) < 2 || len(s.ticks) > 6000 {
			t.Errorf("%v to %v: %d ticks", a, b, len(s.ticks))
		}
	})
}

// Whatever the shares, a scale of shares holds them, between 0 and 100 %, and has
// two labels at least.
func FuzzShareScale(f *testing.F) {
	f.Add(0.5, 0.5, true)
	f.Add(1e-9, 0.999999999, false)
	f.Add(0.3, 0.31, true)
	f.Fuzz(func(t *testing.T, a, b float64, probability bool) {
		if !(a > 1e-12 && a < 1-1e-12 && b > 1e-12 && b < 1-1e-12) {
			return
		}
		kind := choose(probability, Probability, RosinRammler)
		s := newScale(Axis{Scale: kind, Unit: "%"}, []float64{100 * a, 100 * b})
		for _, x := range []float64{100 * a, 100 * b} {
			at := s.Normalize(s.low, s.high, x)
			if !(at >= -1e-6 && at <= 1+1e-6) {
				t.Errorf("%v stands at %v of an axis from %v to %v", x, at, s.low, s.high)
			}
		}
		if s.low <= 0 || s.high >= 100 || len(s.ticks) < 2 {
			t.Errorf("%v and %v: from %v to %v with %d ticks", a, b, s.low, s.high, len(s.ticks))
		}
	})
}
