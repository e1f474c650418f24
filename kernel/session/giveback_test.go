package session

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"cobber/kernel/source"
)

// What cells leave behind is given back, and what still is in use is not.
func TestEarlierMeaningsStayWhereTheyAreUsed(t *testing.T) {
	for _, c := range []struct {
		name        string
		cells, want []string
	}{
		{"a function keeps the variable it was written with",
			[]string{"x := 2.5", "func f() float64 { return x }", "x := \"text\"", "f()", "f()"},
			[]string{"", "", "", "=> 2.5", "=> 2.5"}},
		{"a generic function that is first used after its variable was redefined",
			[]string{"x := 2.5", "func f[T any](t T) float64 { return x }", "x := \"text\"", "f(1)", "f(\"a\")"},
			[]string{"", "", "", "=> 2.5", "=> 2.5"}},
		{"a generic function that calls a function redefined since",
			[]string{"func g() int { return 1 }", "func f[T any](t T) int { return g() }", "func g() int { return 2 }", "f(1)", "func g() int { return 3 }", "f(\"a\") + f(1)"},
			[]string{"", "", "", "=> 2", "", "=> 6"}},
		{"a caller of a function that was redefined twice",
			[]string{"func g() int { return 1 }", "func f() int { return g() }", "func g() int { return 2 }", "func g() int { return 3 }", "f()"},
			[]string{"", "", "", "", "=> 3"}},
		{"a function literal of a cell that is gone",
			[]string{"k := 3\nadd := func(x int) int { return x + k }", "k := \"text\"", "add(4)"},
			[]string{"", "", "=> 7"}},
		{"a name that is defined from its earlier meaning, again and again",
			[]string{"x := 1", "x := x + 1", "x := float64(x) + 0.5", "x := fmt.Sprint(x, x)", "x"},
			[]string{"", "", "", "", "=> 2.5 2.5"}},
		{"methods of a type whose name means something else",
			[]string{"type a struct{ n int }\nfunc (v a) String() string { return fmt.Sprint(\"a\", v.n) }\nv := any(a{4})", "type a int", "fmt.Sprint(v)", "v.(fmt.Stringer).String()"},
			[]string{"", "", "=> a4", "=> a4"}},
		{"a goroutine of a cell that is gone",
			[]string{"c, d := make(chan int), make(chan int)\ngo func() { for v := range c { d <- 2 * v } }()", "c <- 21\n<-d", "e := c\nc := 4", "e <- c\n<-d"},
			[]string{"", "=> 42", "", "=> 8"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := New()
			defer s.Close()
			for i := range c.cells {
				c.cells[i] = "import \"fmt\"\nvar _ = fmt.Sprint\n" + c.cells[i]
			}
			if got := tell(t, s, c.cells...); !slices.Equal(got, c.want) {
				t.Errorf("cells said %q, want %q", got, c.want)
			}
		})
	}
}

// Forty values of 8 MB, each bound to the same names and shown, must not stand in memory together.
func TestLargeValuesAreGivenBack(t *testing.T) {
	for name, cell := range map[string]string{
		"the same type again":  "large := make([]float64, 1<<20, 1<<20+%d)\nlarge",
		"another type":         "type big struct{ v []float64; n%d int }\nlarge := big{v: make([]float64, 1<<20)}\nlarge",
		"used by a function":   "type big struct{ v []float64; n%d int }\nlarge := big{v: make([]float64, 1<<20)}\nfunc f() int { return len(large.v) }\nf()",
		"only shown":           "make([]float64, 1<<20+%d)",
		"held by a closure":    "big := make([]float64, 1<<20+%d)\nf := func() int { return len(big) }\nf()",
		"a failure after that": "big := make([]float64, 1<<20+%d)\npanic(\"no\")",
	} {
		t.Run(name, func(t *testing.T) {
			s := New()
			defer s.Close()
			before := heap()
			for i := range 40 {
				s.Run(context.Background(), source.Cell{Name: "cell", Count: i + 1, Text: fmt.Sprintf(cell, i)}, silent{})
			}
			if grown := heap() - before; grown > 5*8<<20 {
				t.Errorf("%.0f MB are held after forty cells of 8 MB each", grown/(1<<20))
			}
		})
	}
}
