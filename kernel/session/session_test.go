package session

import (
	"context"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"cobber/kernel/source"
	"cobber/stdlib/show"
)

// page collects what a cell prints.
type page struct {
	mu     sync.Mutex
	text   strings.Builder
	events []show.Event
}

func (p *page) Stream(name, text string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.text.WriteString(text)
}

func (p *page) Event(e show.Event) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.events = append(p.events, e)
}

func (p *page) String() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.text.String()
}

// tell runs cells one after the other and writes down what each said.
func tell(t *testing.T, s *Session, cells ...string) []string {
	t.Helper()
	var said []string
	for i, text := range cells {
		p := &page{}
		o := s.Run(context.Background(), source.Cell{Name: fmt.Sprintf("cell %d", i+1), Count: i + 1, Text: text}, p)
		line := p.String()
		for _, v := range o.Values {
			line += fmt.Sprintf("=> %v\n", v)
		}
		if o.Err != nil {
			line += "error: " + o.Err.Error() + "\n"
		}
		said = append(said, strings.TrimRight(line, "\n"))
	}
	return said
}

func TestCells(t *testing.T) {
	for _, c := range []struct {
		name  string
		cells []string
		want  []string
	}{
		{"a value", []string{"1 + 1"}, []string{"=> 2"}},
		{"names stay", []string{"x := 20", "x + 1", "x = 3\nx"}, []string{"", "=> 21", "=> 3"}},
		{"another type", []string{"x := 20", `x := "a"`, "x"}, []string{"", "", "=> a"}},
		{"imports stay", []string{`import "fmt"`, `fmt.Println("hello")`}, []string{"", "hello"}},
		{"two values", []string{`import "strconv"`, `strconv.Atoi("12")`}, []string{"", "=> 12\n=> <nil>"}},
		{"quantities", []string{"feed := 36.5`t/h`", "feed * 2`h`", "n := 3\nfeed * n"}, []string{"", "=> 73 t", "=> 109.5 t/h"}},
		{"a call that may fail", []string{"q := show.Must(quantity.New(3, \"t\"))\nq", "q = show.Must(quantity.Parse(\"3 furlongs and a half\"))"},
			[]string{"=> 3 t", "error: cell 2, line 1, column 14: there is no unit \"furlongs\" in \"3 furlongs and a half\"\n" +
				"    q = show.Must(quantity.Parse(\"3 furlongs and a half\"))\n                 ^"}},
		{"no gravity", []string{"p := place.Earth()", "p.Gravity = 0", "p.Gravity = 0`m/s²`\np.Gravity"},
			[]string{"", "error: cell 2, line 1, column 13: Gravity: 0 has no unit: the field would count as one that was never set\n" +
				"    p.Gravity = 0\n                ^\n    Write 0 with its unit, such as 0`m/s²` or 0`%`, or leave the field out.", "=> 0 m/s²"}},
		{"redefined", []string{"func f() int { return 1 }", "func g() int { return f() }\ng()", "func f() int { return 2 }", "g()"},
			[]string{"", "=> 1", "", "=> 2"}},
		{"a return at the top", []string{"x := 1\nif x == 1 {\n\treturn\n}\ny := 2", "x", "y"},
			[]string{"", "=> 1", "error: cell 3, line 1, column 1: undefined: y\n    y\n    ^"}},
		{"half-way", []string{"a := 1\nvar m map[string]int\nm[\"k\"] = 1\nb := 2", "a", "b"},
			[]string{"error: cell 1, line 3, column 2: assignment to entry in nil map\n    m[\"k\"] = 1\n     ^\n    Bound before it stopped: a, m.", "=> 1",
				"error: cell 3, line 1, column 1: undefined: b\n    b\n    ^"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := New()
			defer s.Close()
			for i, got := range tell(t, s, c.cells...) {
				if got != c.want[i] {
					t.Errorf("cell %d: got\n%s\nwant\n%s", i+1, got, c.want[i])
				}
			}
		})
	}
}

// TestSameSamples holds sessions of one process to the same samples.
func TestSameSamples(t *testing.T) {
	var first string
	for i, before := range []string{"", "quantity.Seed(7)\nx := show.Must(quantity.Uniform(1`t`, 2`t`))", "show.Check(quantity.SetSamples(200))"} {
		s := New()
		said := tell(t, s, "q := show.Must(quantity.Normal(12`%`, 3`%`)) * show.Must(quantity.Uniform(1`t`, 2`t`))\nq.Samples()[17]", before)
		s.Close()
		if i == 0 {
			first = said[0]
		}
		if said[0] != first || !strings.HasPrefix(first, "=> ") {
			t.Errorf("session %d draws %s, the first drew %s", i, said[0], first)
		}
	}
}

func TestInterrupt(t *testing.T) {
	for _, text := range []string{
		"for {\n}", "for i := 0; ; i++ {\n\tfor j := range 10 {\n\t\t_ = j\n\t}\n}", "select {}",
		"ch := make(chan int)\n<-ch", "import \"time\"\ntime.Sleep(time.Hour)",
		"import \"sync\"\nvar mu sync.Mutex\nmu.Lock()\nmu.Lock()",
		"import \"sync\"\nvar wg sync.WaitGroup\nwg.Add(1)\nwg.Wait()",
		"import \"sort\"\nxs := make([]int, 100)\nsort.Slice(xs, func(i, j int) bool {\n\tfor {\n\t}\n})",
	} {
		t.Run(text, func(t *testing.T) {
			s := New()
			defer s.Close()
			tell(t, s, "kept := 7\nf := func() int { return kept }")
			ctx, cancel := context.WithTimeout(context.Background(), 50*time.Millisecond)
			defer cancel()
			done := make(chan Outcome)
			go func() { done <- s.Run(ctx, source.Cell{Name: "cell 2", Text: text}, &page{}) }()
			select {
			case o := <-done:
				if o.Err == nil || !strings.Contains(o.Err.Error(), "interrupted") {
					t.Errorf("ended with %v", o.Err)
				}
			case <-time.After(10 * time.Second):
				t.Fatal("was not interrupted")
			}
			if got := tell(t, s, "kept + f()"); got[0] != "=> 14" {
				t.Errorf("after the interrupt: %s", got[0])
			}
		})
	}
}

// TestRecursion: a recursion without end is an error in a moment, and the session goes on.
func TestRecursion(t *testing.T) {
	s := New()
	defer s.Close()
	said := tell(t, s, "func f(n int) int { return n * f(n) }\nf(3)", "1 + 1")
	for _, part := range []string{"stack overflow", "cell 1, line 2, column 2: called f, which had called itself"} {
		if !strings.Contains(said[0], part) {
			t.Errorf("%q is missing in\n%s", part, said[0])
		}
	}
	if said[1] != "=> 2" {
		t.Errorf("afterwards: %s", said[1])
	}
}
