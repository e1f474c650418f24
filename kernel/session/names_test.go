package session

import (
	"slices"
	"strings"
	"testing"
)

func TestWhatIsBound(t *testing.T) {
	s := New()
	defer s.Close()
	said := tell(t, s,
		"feed := 36.5`t/h`\nassays := make([]float64, 1000)",
		"type stream struct{ name string; parts []float64 }\nfunc (s stream) mass() float64 { return s.parts[0] }\nconst losses = 0.02",
		"import \"math\"\nfunc area(r float64) float64 { return math.Pi * r * r }\nstreams := []stream{{\"concentrate\", []float64{1, 2}}, {\"tailings\", nil}}\nkeep := area",
		"import \"time\"\nassays := 5\nat := map[string]time.Time{\"start\": {}}\nany1 := any(stream{\"four\", nil})\nnext := &streams[0]\nwhen := time.Time{}",
		"for _, n := range bound.Names() {\n\tprintln(n.Name, n.Kind, n.Type, n.Bytes, n.Cell)\n}",
	)
	got := strings.Split(said[4], "\n")
	want := []string{
		"any1 variable any 60 cell 4", // 16 of the interface, 40 of the struct, 4 of its text
		"area function func(r float64) float64 0 cell 3",
		"assays variable int 8 cell 4",
		"at variable map[string]time.Time 48 cell 4",
		"feed variable quantity.Quantity 24 cell 1",
		"keep variable func(r float64) float64 8 cell 3",
		"losses constant untyped float 0 cell 2",
		"math import math 0 ",
		"next variable *stream 75 cell 4", // 8, 40 of the struct, 11 of its text, 16 of its numbers
		"stream type struct{name string; parts []float64} 0 cell 2",
		"streams variable []stream 139 cell 3", // 24, two structs of 40, 19 of texts, 16 of numbers
		"time import time 0 ",
		"when variable time.Time 24 cell 4",
	}
	if !slices.Equal(got, want) {
		t.Errorf("bound:\n%s\nwant:\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if said := tell(t, s, "bound.Names()"); !strings.Contains(said[0], "bound in") || !strings.Contains(said[0], "quantity.Quantity") {
		t.Errorf("the table is %s", said[0])
	}
}

func TestForget(t *testing.T) {
	s := New()
	defer s.Close()
	said := tell(t, s,
		"x, y, plot := 1, 2, 3\nfunc f() int { return x }",
		"bound.Forget(\"x\", \"nothing\")",
		"x + f() + plot",
		"bound.Forget(\"x\", \"plot\")\nx + 1",
		"f() + y",
		"x + 1",
		"len([]plot.Points{})",
		"x := \"again\"\nx",
		"x := 7\nbound.Forget(\"x\")",
		"for _, n := range bound.Names() {\n\tprintln(n.Name)\n}",
	)
	for i, want := range []string{
		"", "=> no cell has bound nothing: nothing was forgotten; bound.Names() lists what is bound", "=> 5", "=> 2", "=> 3",
		"error: cell 6, line 1, column 1: undefined: x", "=> 0", "=> again", "=> <nil>", "f\nx\ny",
	} {
		if !strings.HasPrefix(said[i], want) || want == "" && said[i] != "" {
			t.Errorf("cell %d said %q, want %q", i+1, said[i], want)
		}
	}
}
