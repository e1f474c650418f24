package session

import (
	"context"
	"strings"
	"testing"

	"cobber/kernel/notebook/page/maths"
	"cobber/kernel/source"
	"cobber/stdlib/show"
)

// workingOf runs cells and returns the working that the last one shows.
func workingOf(t *testing.T, cells ...string) (text, latex string) {
	t.Helper()
	s := New()
	defer s.Close()
	var p *page
	for i, cell := range cells {
		p = &page{}
		o := s.Run(context.Background(), source.Cell{Name: "cell", Count: i + 1, Text: cell}, p)
		if o.Err != nil && !strings.Contains(cell, "fails") {
			t.Fatalf("%s\n%v", cell, o.Err)
		}
	}
	for _, e := range p.events {
		if e.Kind == show.KindDisplay {
			shown := e.Values[0].(interface {
				String() string
				LaTeX() string
			})
			return shown.String(), shown.LaTeX()
		}
	}
	return "", ""
}

func TestWorking(t *testing.T) {
	for _, c := range []struct {
		name  string
		cells []string
		want  string
	}{
		{"formula, numbers, result", []string{"//cobber:working\nfeed := 40`t/h` // weighed\ngrade := 5`%`\nmetal := feed * grade"},
			"feed  = 40 t/h    (weighed)\ngrade = 5 %\nmetal = feed · grade = 40 t/h · 5 % = 2 t/h"},
		{"remark above", []string{"//cobber:working\n// What is left\nx := 3.0\ny := x - 5"},
			"What is left\nx = 3\ny = x - 5 = 3 - 5 = -2"},
		{"values of other cells", []string{"a, b := 7.0, 2`m`", "//cobber:working\nc := b * a"},
			"c = b · a = 2 m · 7 = 14 m"},
		{"the value at its time", []string{"//cobber:working\nx := 1.0\ny := x + 1\nx = 10\nz := x + y"},
			"x = 1\ny = x + 1 = 1 + 1 = 2\nx = 10\nz = x + y = 10 + 2 = 12"},
		{"a variable that a call changes first", []string{"//cobber:working\na := 1`t`\nfunc bump() quantity.Quantity { a = 10`t`; return 2`t` }\nb := 3`t`\nx := bump() + a + b"},
			"a = 1 t\nb = 3 t\nx = bump() + a + b = bump() + a + 3 t = 15 t"},
		{"one that a function of an earlier cell changes", []string{"a := 1\nfunc bump() int { a = 10; return 2 }", "//cobber:working\nx := bump() + a\ny, z := bump(), a"},
			"x = bump() + a = 12\ny = bump() = 2\nz = a = 10"},
		{"a condition whose call changes what it reads", []string{"//cobber:working\na := 1\nfunc bump() int { a = 10; return 0 }\nif a > bump() {\n\tx := 2 * a\n\t_ = x\n}"},
			"a   = 1\nsince a > bump():\n  x = 2 · a = 2 · 10 = 20"},
		{"a place that moves with the statement", []string{"//cobber:working\nl := []int{1, 2}\ni := 0\ni, l[i] = 1, 5\nx := l[0]"},
			"l = (1, 2)\ni = 0\ni = 1\nx = l[0] = 5"},
		{"what a conversion cuts off", []string{"//cobber:working\nx := 2.75\nn := int(x)\ny := float64(n)"},
			"x = 2.75\nn = int(x) = int(2.75) = 2\ny = n = 2"},
		{"what a division of whole numbers drops", []string{"//cobber:working\nboxes := 7\neach := boxes / 2\nboxes /= 3\nshare := 7.0 / 2\nrest := boxes % 2"},
			"boxes = 7\neach  = int(boxes / 2) = int(7 / 2) = 3\nboxes = int(boxes / 3) = int(7 / 3) = 2\nshare = 7 / 2 = 3.5\nrest  = boxes mod 2 = 2 mod 2 = 0"},
		{"on into the next case", []string{"//cobber:working\nq := 5\nswitch {\ncase q > 3:\n\tq = 1\n\tfallthrough\ncase q > 100:\n\tq = q + 7\n}"},
			"q   = 5\nsince q > 3, 5 > 3:\n  q = 1\nin the case q > 100:\n  q = q + 7 = 1 + 7 = 8"},
		{"brackets", []string{"//cobber:working\na, b := -2.0, 3.0\nc := a - (b - a)*b/(a*b)\nd := -(a + b)\ne := 2 - a\nf := a / b / a"},
			"a = -2\nb = 3\nc = a - (b - a) · b / (a · b)\n  = -2 - (3 - (-2)) · 3 / (-2 · 3)\n  = 0.5\n" +
				"d = -(a + b) = -(-2 + 3) = -1\ne = 2 - a = 2 - (-2) = 4\nf = a / b / a = -2 / 3 / (-2) = 0.3333"},
		{"functions", []string{"import \"math\"", "//cobber:working\nx := 2.25\ny := math.Sqrt(x) + math.Pow(x, 2) + math.Exp(-x) + math.Log(x) + math.Abs(-x)"},
			"x = 2.25\ny = √(x) + x^2 + exp(-x) + ln(x) + |-x|\n  = √(2.25) + 2.25^2 + exp(-2.25) + ln(2.25) + |-2.25|\n  = 9.729"},
		{"quantities in functions", []string{"import \"math\"", "//cobber:working\nk := 0.5`1/min`\nleft := math.Exp(-k * 4`min`)"},
			"k    = 0.5 min⁻¹\nleft = exp(-k · 4 min) = exp(-0.5 min⁻¹ · 4 min) = 0.1353"},
		{"methods of quantities", []string{"//cobber:working\na := 9`m2`\nb := a.Sqrt().To(\"cm\")\nc := b.Pow(3, 2).Abs()"},
			"a = 9 m²\nb = √(a) = √(9 m²) = 300 cm\nc = |b^(3 / 2)| = |(300 cm)^(3 / 2)| = 5196 cm^(3/2)"},
		{"branch", []string{"//cobber:working\nx := 3`t`\nif x > 5`t` {\n\tx = 5`t`\n} else if x > 2`t` {\n\tx = 2`t`\n}"},
			"x   = 3 t\nsince x > 2 t, 3 t > 2 t:\n  x = 2 t"},
		{"else", []string{"//cobber:working\nx := 3\nif x > 5 {\n\tx = 5\n} else {\n\tx = 0\n}"},
			"x   = 3\nsince not x > 5, 3 > 5:\n  x = 0"},
		{"loop", []string{"//cobber:working\nleft := 100.0\nfor pass := range 3 {\n\tleft *= 0.7\n\t_ = pass\n}"},
			"left   = 100\nin the last of 3 passes, pass = 2:\n  left = left · 0.7 = 49 · 0.7 = 34.3\n  pass  left\n     0    70\n     1    49\n     2  34.3"},
		{"long loop", []string{"//cobber:working\nsum := 0\nfor i := 0; i < 5000; i++ {\n\tsum += i\n}"},
			"sum   = 0\nin the last of 5000 passes, i = 4999:\n  sum = sum + i = 12492501 + 4999 = 12497500"},
		{"last pass takes no branch", []string{"//cobber:working\nn := 0\nfor i := range 3 {\n\tif i < 2 {\n\t\tn += i\n\t}\n}"},
			"n = 0\nin the last of 3 passes, i = 2:"},
		{"function, expanded once", []string{"//cobber:working expand\nfunc twice(x float64) float64 {\n\ty := 2 * x\n\treturn y + 0*x\n}\na := twice(3) + twice(4)"},
			"a       = twice(3) + twice(4) = 14\n  in twice(x) with x = 3:\n  y     = 2 · x = 2 · 3 = 6\n  twice = y + 0 · x = 6 + 0 · 3 = 6"},
		{"function of an earlier cell", []string{"const g = 9.81\nfunc speed(h float64) float64 {\n\t// from free fall\n\tv := 2 * g * h\n\treturn v // squared\n}", "//cobber:working expand\na := speed(3) + speed(4)"},
			"a       = speed(3) + speed(4) = 137.34\n  in speed(h) with h = 3:\n  from free fall\n  v     = 2 · g · h = 2 · 9.81 · 3 = 58.86\n  speed = v = 58.86    (squared)"},
		{"function whose names mean something else", []string{"k := 2.0\nfunc twice(x float64) float64 { return k * x }", "k := \"other\"", "//cobber:working expand\na := twice(3)"},
			"a = twice(3) = 6"},
		{"function declared anew", []string{"func twice(x float64) float64 { return 2 * x }", "func twice(x float64) float64 { return x + x }", "//cobber:working expand\na := twice(3)"},
			"a       = twice(3) = 6\n  in twice(x) with x = 3:\n  twice = x + x = 3 + 3 = 6"},
		{"recursion", []string{"func sum(n int) int {\n\tif n == 0 {\n\t\treturn n\n\t}\n\treturn n + sum(n-1)\n}", "//cobber:working expand\na := sum(3)"},
			"a     = sum(3) = 6\n  in sum(n) with n = 3:\n  sum = n + sum(n - 1) = 3 + sum(3 - 1) = 6"},
		{"function, not expanded", []string{"//cobber:working\nfunc twice(x float64) float64 { return 2 * x }\na := twice(3)"},
			"a = twice(3) = 6"},
		{"fields and elements", []string{"type lot struct{ mass quantity.Quantity }", "//cobber:working\nl := lot{3`t`}\nx := []float64{1, 2.5}\nm := l.mass * x[1]"},
			"x = (1, 2.5)\nm = l.mass · x[1] = 3 t · 2.5 = 7.5 t"},
		{"errors are left out", []string{"//cobber:working\nflow, err := quantity.New(3, \"t/h\")"}, "flow = New(3, \"t/h\") = 3 t/h"},
		{"uncertain", []string{"//cobber:working\nflow := quantity.Must(quantity.Uniform(40`t/h`, 44`t/h`))\nday := flow * 24`h`"},
			"flow = Uniform(40 t/h, 44 t/h) = 42.0 ± 1.2 t/h\nday  = flow · 24 h = (42.0 ± 1.2 t/h) · 24 h = 1008 ± 28 t"},
		{"long product", []string{"//cobber:working\nmill_power, hours_per_year, availability, price_of_energy := 1200.0, 8766.0, 0.92, 0.11\ncost := mill_power * hours_per_year * availability * price_of_energy * (1 + availability)"},
			"mill_power      = 1200\nhours_per_year  = 8766\navailability    = 0.92\nprice_of_energy = 0.11\n" +
				"cost            = mill_power · hours_per_year · availability · price_of_energy\n                    · (1 + availability)\n" +
				"                = 1200 · 8766 · 0.92 · 0.11 · (1 + 0.92)\n                = 2043923"},
		{"long sum", []string{"//cobber:working\nfirst_product, second_product, third_product := 1.0, 2.0, 3.0\nall := first_product*second_product - second_product*third_product - (third_product - first_product)"},
			"first_product  = 1\nsecond_product = 2\nthird_product  = 3\n" +
				"all            = first_product · second_product - second_product · third_product\n                   - (third_product - first_product)\n" +
				"               = 1 · 2 - 2 · 3 - (3 - 1)\n               = -6"},
		{"as far as it came", []string{"//cobber:working\nx := []float64{1}\ny := x[0] + 1\nz := x[y2()] // fails\nw := 3\nfunc y2() int { return 7 }"},
			"x = (1)\ny = x[0] + 1 = 1 + 1 = 2"},
		{"nothing to tell", []string{"//cobber:working\nf := func() {}\nf()"}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			text, latex := workingOf(t, c.cells...)
			if text != c.want {
				t.Errorf("the working is\n%s\nwant\n%s", text, c.want)
			}
			typesetAll(t, latex)
		})
	}
}

// A copy of a function leaves no name in the session, and fails in its own place.
func TestShownFunctionsLeaveNothing(t *testing.T) {
	s := New()
	defer s.Close()
	said := tell(t, s,
		"func at(x []int, i int) int {\n\treturn x[i]\n}",
		"//cobber:working expand\na := at([]int{1, 2}, 1)",
		"//cobber:working expand\nb := at([]int{1, 2}, 2)",
		"for _, n := range bound.Names() {\n\tprintln(n.Name)\n}",
		"at([]int{3}, 0)",
	)
	if !strings.Contains(said[2], "cell 1, line 2") || !strings.Contains(said[2], "called at") || strings.Contains(said[2], "·") {
		t.Errorf("the failure is %s", said[2])
	}
	if said[3] != "a\nat" || said[4] != "=> 3" {
		t.Errorf("said %q", said[3:])
	}
}

// typesetAll typesets every formula.
func typesetAll(t *testing.T, latex string) {
	t.Helper()
	var typeset maths.Typesetter
	for i, formula := range strings.Split(latex, "$$") {
		if i%2 == 0 {
			if strings.TrimSpace(formula) != "" {
				t.Errorf("outside of formulas: %q", formula)
			}
			continue
		}
		if _, err := typeset.HTML(formula, true); err != nil {
			t.Errorf("%v\n%s", err, formula)
		}
	}
}

func TestSymbols(t *testing.T) {
	for code, want := range map[string]string{
		"d80 := 1.0":           `{d_{80} &= 1}`,
		"feed_grade := 1.0":    `{\mathrm{feed}_{\mathrm{grade}} &= 1}`,
		"feedGrade := 1.0":     `{\mathrm{feed}_{\mathrm{grade}} &= 1}`,
		"rho_s := 1.0":         `{\rho _{\mathrm{s}} &= 1}`,
		"alpha := 1.0":         `{\alpha  &= 1}`,
		"ρ2 := 1.0":            `{\rho _{2} &= 1}`,
		"feedSiO2 := 1.0":      `{\mathrm{feed}_{\mathrm{SiO2}} &= 1}`,
		"Delta := 1.0":         `{\Delta  &= 1}`,
		"x := 1.0 / 4":         `{x &= \frac{1}{4} = 0.25}`,
		"y := 2`t` / 4`h`":     `{y &= \frac{2\,\mathrm{t}}{4\,\mathrm{h}} = 0.5\,\mathrm{t/h}}`,
		"z := 1 // 50 % of_it": `{z &= 1 \qquad \textit{50 \% of\_it}}`,
	} {
		_, latex := workingOf(t, "//cobber:working\n"+code)
		got := strings.TrimSuffix(strings.TrimPrefix(latex, "$$\\begin{aligned}\n"), "\n\\end{aligned}$$")
		if "{"+got+"}" != want {
			t.Errorf("%s is %s, want %s", code, got, want)
		}
		typesetAll(t, latex)
	}
}

// What a loop costs that notes its values.
func BenchmarkWorking(b *testing.B) {
	for _, head := range []string{"//cobber:working\n", ""} {
		b.Run("directive "+strings.TrimSpace(head), func(b *testing.B) {
			s := New()
			defer s.Close()
			for b.Loop() {
				s.Run(context.Background(), source.Cell{Name: "cell", Text: head + "sum := 0.0\nfor i := 0; i < 100000; i++ {\n\tsum += 0.5\n}"}, &page{})
			}
		})
	}
}

// showing runs one cell and returns the text of what it shows first.
func showing(t *testing.T, s *Session, text string) string {
	t.Helper()
	p := &page{}
	if o := s.Run(context.Background(), source.Cell{Name: "cell", Text: text}, p); o.Err != nil || len(p.events) == 0 {
		t.Fatalf("error %v, %d events", o.Err, len(p.events))
	}
	return p.events[0].Values[0].(interface{ String() string }).String()
}
