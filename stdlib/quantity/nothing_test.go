package quantity

import (
	"math"
	"sync"
	"testing"
)

// The zero Quantity is nothing of whatever it meets, an uncertain quantity too.
func TestNothingMeetsUncertain(t *testing.T) {
	feed := Must(Normal(Of(10, "t/h"), Of(1, "t/h")))
	var nothing Quantity
	for _, c := range []struct {
		says string
		got  Quantity
		want float64
	}{
		{"nothing ÷ feed", nothing.Div(feed), 0},
		{"nothing × feed", nothing.Mul(feed), 0},
		{"feed × nothing", feed.Mul(nothing), 0},
		{"feed ÷ nothing", feed.Div(nothing), math.Inf(1)},
		{"an infinity × feed", Quantity{value: math.Inf(1)}.Mul(feed), math.Inf(1)},
		{"feed × an infinity", feed.Mul(Quantity{value: math.Inf(1)}), math.Inf(1)},
	} {
		if got := c.got.Shown(); got != c.want {
			t.Errorf("%s is %v, want %v", c.says, got, c.want)
		}
	}
}

// Goroutines that look at results of one piece of put-off arithmetic at once come
// to what one alone comes to; the race detector looks at how.
func TestGoroutinesShareArithmetic(t *testing.T) {
	all := func() []Quantity {
		x := Must(Normal(Of(10, "t/h"), Of(1, "t/h")))
		y := Must(Uniform(Of(1, "h"), Of(2, "h")))
		list := []Quantity{x.Mul(y)}
		for i := range 40 {
			last := list[i]
			list = append(list, last.Mul(Number(0.9)).Add(x.Mul(y).Abs()))
		}
		return list
	}
	list := all()
	var wait sync.WaitGroup
	means := [8][]float64{}
	for w := range means {
		wait.Go(func() {
			for k := range list {
				q := list[(k*(w+3))%len(list)]
				sum := q.Add(list[len(list)-1-k]) // makes new users of what is being worked out
				means[w] = append(means[w], q.Shown(), sum.Shown(), sum.Samples()[7])
			}
		})
	}
	wait.Wait()
	for w := range means {
		for k := range list {
			q := list[(k*(w+3))%len(list)]
			a, b := q.Samples(), list[len(list)-1-k].Samples()
			if got := means[w][3*k]; got != q.Shown() {
				t.Fatalf("goroutine %d saw the mean %v, and it is %v", w, got, q.Shown())
			}
			if got := means[w][3*k+2]; got != a[7]+b[7] {
				t.Fatalf("goroutine %d saw the sample %v, and it is %v", w, got, a[7]+b[7])
			}
		}
	}
}
