package rewrite

import (
	"errors"
	"fmt"
	"go/types"
	"strings"
	"testing"

	"cobber/kernel/diag"
	"cobber/kernel/session/check"
	"cobber/kernel/session/parse"
	"cobber/kernel/source"
	"cobber/stdlib/quantity"
)

// session runs cells through the front end as the kernel does, but for running
// them: every cell that checks is committed whole.
type session struct {
	state      *check.State
	dimensions map[string]quantity.Dimension
	count      int
}

func newSession() *session {
	return &session{state: check.NewState(source.NewSet()), dimensions: map[string]quantity.Dimension{}}
}

func (s *session) check(text string) (*check.Program, error) {
	s.count++
	cell, err := parse.Parse(s.state.Set, source.Cell{Name: fmt.Sprintf("cell %d", s.count), Count: s.count, Text: text})
	if err != nil {
		return nil, err
	}
	return Cell(s.state, cell, Options{Dimension: func(name string) (quantity.Dimension, bool) {
		d, ok := s.dimensions[name]
		return d, ok
	}})
}

func (s *session) run(t *testing.T, text string) *check.Program {
	t.Helper()
	p, err := s.check(text)
	if err != nil {
		t.Fatalf("cell %q:\n%v", text, err)
	}
	s.state.Commit(p, p.Statements)
	return p
}

func resultTypes(p *check.Program) string {
	var names []string
	for _, r := range p.Results {
		names = append(names, types.TypeString(r.Type(), func(pkg *types.Package) string { return pkg.Name() }))
	}
	return strings.Join(names, ", ")
}

// Cells, and the types that the last expression of the last one has. "" is
// nothing to show.
func TestResultTypes(t *testing.T) {
	tests := []struct {
		name  string
		cells []string
		want  string
	}{
		{"number", []string{"1 + 2"}, "int"},
		{"rune", []string{"'a'"}, "rune"},
		{"comparison", []string{"1 < 2"}, "bool"},
		{"nothing", []string{"x := 1"}, ""},
		{"nil", []string{"nil"}, ""},
		{"no value", []string{"func f() {}\nf()"}, ""},
		{"two values", []string{"func f() (int, error) { return 1, nil }\nf()"}, "int, error"},
		{"two values of a method", []string{"type T struct{}\nfunc (T) f() (int, string) { return 1, \"\" }\nT{}.f()"}, "int, string"},
		{"method without a value", []string{"type T struct{}\nfunc (T) f() {}\nT{}.f()"}, ""},
		{"print", []string{"import \"fmt\"\nfmt.Println(1)"}, ""},
		{"print, session import", []string{"import \"fmt\"", "fmt.Printf(\"a\")"}, ""},
		{"values of a package's function", []string{"import \"strconv\"\nstrconv.Atoi(\"1\")"}, "int, error"},
		{"comma-ok has one value", []string{"m := map[string]int{}\nm[\"a\"]"}, "int"},
		{"receive has one value", []string{"c := make(chan int, 1)\nc <- 1\n<-c"}, "int"},
		{"builtin", []string{"len(\"abc\")"}, "int"},
		{"builtin without a value", []string{"m := map[int]int{}\nclear(m)"}, ""},
		{"function", []string{"func f(int) {}\nf"}, "func(int)"},
		{"session variable", []string{"x := 2.5", "x"}, "float64"},
		{"other type when run again", []string{"x := 1", "x := \"a\"", "x"}, "string"},
		{"type from a later function", []string{"x := f()\nfunc f() float64 { return 1 }\nx"}, "float64"},
		{"function sees a name of the cell", []string{"func f() float64 { return x }\nx := 1.5\nf()"}, "float64"},
		{"error used again", []string{"func g() (int, error) { return 1, nil }\na, err := g()\nb, err := g()\na + b"}, "int"},
		{"comma-ok", []string{"m := map[string]float64{}\nv, ok := m[\"a\"]\nok", "v"}, "float64"},
		{"comma-ok of an assertion", []string{"var x any = 1\nn, ok := x.(int)\nok", "n"}, "int"},
		{"receive", []string{"c := make(chan string, 1)\nc <- \"a\"\nv, ok := <-c\nok", "v"}, "string"},
		{"var with values", []string{"var a, b int = 1, 2\na + b"}, "int"},
		{"var without values", []string{"var a, b []float64\nb"}, "[]float64"},
		{"var group", []string{"var (\n a = 1\n b = float64(a)\n)\nb"}, "float64"},
		{"var with blank", []string{"func f() (int, string) { return 1, \"\" }\nvar _, s = f()\ns"}, "string"},
		{"earlier value on the right", []string{"x := 1", "x := float64(x) + 0.5", "x"}, "float64"},
		{"earlier value before the definition", []string{"x := 1", "y := x\nx := \"a\"\ny", "x"}, "string"},
		{"variable named like its package", []string{"import \"strings\"", "strings := strings.ToUpper(\"a\")", "strings"}, "string"},
		{"package of the library hidden", []string{"size := 3\nsize"}, "int"},
		{"import persists", []string{"import \"math\"", "1", "math.Pi"}, "float64"},
		{"import with a name", []string{"import m \"math\"", "m.Sqrt(2)"}, "float64"},
		{"dot import", []string{"import . \"math\"", "Sqrt(2)"}, "float64"},
		{"unused import", []string{"import \"os\"\n1"}, "int"},
		{"generic function of a cell", []string{"func first[T any](x []T) T { return x[0] }", "first([]string{\"a\"})"}, "string"},
		{"generic type of a cell", []string{"type Pair[K comparable, V any] struct { k K; v V }", "Pair[string, int]{\"a\", 1}"}, "main.Pair[string, int]"},
		{"unkeyed literal of an earlier struct", []string{"type p struct { a, b int }", "p{1, 2}"}, "main.p"},
		{"unkeyed literals inside", []string{"type p struct { a, b int }", "[]*p{{1, 2}, {3, 4}}"}, "[]*main.p"},
		{"unexported members", []string{"type p struct { a int }\nfunc (x p) get() int { return x.a }\nv := p{3}", "v.get() + v.a"}, "int"},
		{"constants", []string{"const (\n a = iota\n b\n)", "b"}, "int"},
		{"slices run from source", []string{"import \"slices\"\nslices.Max([]float64{1, 2})"}, "float64"},
		{"overlay", []string{"import \"sync\"\nsync.OnceValue(func() int { return 1 })()"}, "int"},
		{"define behind a label", []string{"l:\n\tx := 1\n\tif x > 3 { goto l }\nx"}, "int"},
		{"quantity", []string{"36.5`t/h`"}, "quantity.Quantity"},
		{"product of quantities", []string{"feed := 36.5`t/h`\nfeed * 24`h`"}, "quantity.Quantity"},
		{"number and quantity", []string{"x := 2.5\nx * 3`t`"}, "quantity.Quantity"},
		{"numbers deep in a formula", []string{"x, n := 2.5, 3\n1`t` * x + 2`t` * (x + 1) / n - 1`t`*n"}, "quantity.Quantity"},
		{"numbers through variables", []string{"x := 2.5\na := x * 1`t`\nb := a * x\nc := x + b/1`t`\nc*x"}, "quantity.Quantity"},
		{"numbers in functions", []string{"func f(x float64, q quantity.Quantity) quantity.Quantity {\n r := x * q\n r *= x\n return r / x }\nf(2, 1`t`)"}, "quantity.Quantity"},
		{"number that hides the name", []string{"quantity := 2.0", "quantity * 1`t`"}, "quantity.Quantity"},
		{"comparison of quantities", []string{"1`t` < 2`kg`"}, "bool"},
		{"comparison with a number", []string{"x := 1.0\n1`%` < x"}, "bool"},
		{"generic over quantities", []string{"func sum[T ~float64](xs ...T) T { var s T; for _, x := range xs { s += x }; return s }\nsum(1`t`, 2`kg`)"}, "quantity.Quantity"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s := newSession()
			var p *check.Program
			for _, text := range test.cells {
				p = s.run(t, text)
			}
			if got := resultTypes(p); got != test.want {
				t.Errorf("result is of type %q, want %q", got, test.want)
			}
		})
	}
}

func TestPrograms(t *testing.T) {
	s := newSession()
	p := s.run(t, "package main\n\nimport \"fmt\"\n\nvar x = f()\n\nfunc f() int { return 3 }\n\nfunc init() {}\n\nfunc main() { fmt.Println(x) }")
	if p.Entry != "main" || !p.RunInit || len(p.Info.InitOrder) != 1 {
		t.Errorf("entry %q, init %v, %d initial values; want main, true, 1", p.Entry, p.RunInit, len(p.Info.InitOrder))
	}
	if got := resultTypes(s.run(t, "f() + x")); got != "int" {
		t.Errorf("f() + x is of type %q", got)
	}
	if p := s.run(t, "fmt.Sprint(x)"); resultTypes(p) != "string" {
		t.Error("the import of the program is not known")
	}
}

func TestSameVariableIfSameType(t *testing.T) {
	s := newSession()
	s.run(t, "x := 1\nfunc f() int { return x }")
	p := s.run(t, "x := 2")
	if len(p.Reuse) != 1 {
		t.Errorf("x of the same type: %d variables share memory, want 1", len(p.Reuse))
	}
	p = s.run(t, "x := 2.5")
	if len(p.Reuse) != 0 {
		t.Errorf("x of another type: %d variables share memory, want none", len(p.Reuse))
	}
	p = s.run(t, "func f() int { return 7 }")
	if len(p.Replaces) != 1 {
		t.Errorf("f of the same signature replaces %d functions, want 1", len(p.Replaces))
	}
	p = s.run(t, "func f() float64 { return 7 }")
	if len(p.Replaces) != 0 {
		t.Errorf("f of another signature replaces %d functions, want none", len(p.Replaces))
	}
}

func TestCommitOfAHalfRunCell(t *testing.T) {
	s := newSession()
	p, err := s.check("a := 1\nb := float64(a) / 0.5\nfunc f() float64 { return b }\nc := b")
	if err != nil {
		t.Fatal(err)
	}
	s.state.Commit(p, 1)
	for name, want := range map[string]bool{"a": true, "b": false, "c": false, "f": true} {
		if _, ok := s.state.Lookup(name); ok != want {
			t.Errorf("%s known: %v, want %v", name, ok, want)
		}
	}
}

func TestFailedCheckChangesNothing(t *testing.T) {
	s := newSession()
	s.run(t, "x := 1")
	if _, err := s.check("x := 2.5\nimport \"math\"\ny := undefinedName"); err == nil {
		t.Fatal("no error")
	}
	if got := resultTypes(s.run(t, "x")); got != "int" {
		t.Errorf("x is of type %s after a failed cell, want int", got)
	}
	for _, name := range []string{"y", "math"} {
		if _, ok := s.state.Lookup(name); ok {
			t.Errorf("%s is known after a failed cell", name)
		}
	}
}

func TestStateCopy(t *testing.T) {
	s := newSession()
	for i := range 300 {
		s.run(t, fmt.Sprintf("v%d := %d", i, i))
	}
	before := s.state.Copy()
	s.run(t, "v7 := \"other\"\nlast := 1")
	if n, _ := before.Lookup("v7"); n.Object.Type() != types.Typ[types.Int] {
		t.Errorf("the copy sees a later v7 of type %v", n.Object.Type())
	}
	if _, ok := before.Lookup("last"); ok {
		t.Error("the copy sees a later name")
	}
	if got := len(s.state.Names()); got != 301 {
		t.Errorf("%d names, want 301", got)
	}
}

func TestRefusalExamples(t *testing.T) {
	for _, r := range check.Refusals {
		s := newSession()
		last := len(r.Example) - 1
		for _, text := range r.Example[:last] {
			s.run(t, text)
		}
		_, err := s.check(r.Example[last])
		var list diag.List
		if !errors.As(err, &list) || len(list) != 1 || list[0].Code != r.Code {
			t.Errorf("%s: %q gives %v", r.Code, r.Example, err)
			continue
		}
		if list[0].Detail == "" || strings.Contains(list[0].String(), "%!") || strings.Contains(list[0].String(), "float64 type") {
			t.Errorf("%s: text is not in order:\n%v", r.Code, err)
		}
	}
}

// The cost of a cell must be that of its own text, however long the session.
func BenchmarkCell(b *testing.B) {
	for _, names := range []int{10, 10000} {
		b.Run(fmt.Sprintf("%d names", names), func(b *testing.B) {
			s := newSession()
			for i := range names {
				p, err := s.check(fmt.Sprintf("v%d := %d.5`t`", i, i))
				if err != nil {
					b.Fatal(err)
				}
				s.state.Commit(p, p.Statements)
			}
			b.ReportAllocs()
			b.ResetTimer()
			for range b.N {
				p, err := s.check("sum := v1 + v2*3\nsum / v3")
				if err != nil {
					b.Fatal(err)
				}
				s.state.Commit(p, p.Statements)
			}
		})
	}
}
