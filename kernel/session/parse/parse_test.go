package parse

import (
	"go/ast"
	"go/printer"
	"go/token"
	"strings"
	"testing"

	"cobber/kernel/source"
)

// shape prints what a cell fell into, one part a line.
func shape(c *Cell) string {
	var b strings.Builder
	line := func(kind string, node any) {
		var text strings.Builder
		_ = printer.Fprint(&text, token.NewFileSet(), node)
		b.WriteString(kind + ": " + strings.Join(strings.Fields(text.String()), " ") + "\n")
	}
	for _, x := range c.Imports {
		line("import", x)
	}
	for _, x := range c.Decls {
		line("decl", x)
	}
	for _, x := range c.Statements {
		line("stmt", x)
	}
	if c.Final != nil {
		line("final", c.Final)
	}
	return strings.TrimSuffix(b.String(), "\n")
}

func TestShapes(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"blank", "", ""},
		{"only blanks", " \n\t\n", ""},
		{"only comments", "// a\n/* b */", ""},
		{"expression", "1 + 2", "final: 1 + 2"},
		{"expression with comment behind", "x // the value", "final: x"},
		{"expression with semicolon", "x;", "final: x"},
		{"define and show", "x := 1\nx", "stmt: x := 1\nfinal: x"},
		{"semicolons on a line", "x := 1; y := 2; x + y", "stmt: x := 1\nstmt: y := 2\nfinal: x + y"},
		{"for header", "for i := 0; i < 3; i++ { f(i) }\nx", "stmt: for i := 0; i < 3; i++ { f(i) }\nfinal: x"},
		{"for, then on the same line", "for i := 0; i < 3; i++ { f(i) }; x", "stmt: for i := 0; i < 3; i++ { f(i) }\nfinal: x"},
		{"if header", "if x := f(); x > 0 { g() } else { h() }", "stmt: if x := f(); x > 0 { g() } else { h() }"},
		{"if with a function literal in the header", "if f := func() bool { return true }; f() { g() }; x",
			"stmt: if f := func() bool { return true }; f() { g() }\nfinal: x"},
		{"switch header", "switch x := f(); x { case 1: g() }", "stmt: switch x := f(); x { case 1: g() }"},
		{"type switch", "switch y := x.(type) { case int: g(y) }", "stmt: switch y := x.(type) { case int: g(y) }"},
		{"range over a literal", "for _, v := range []int{1, 2} { f(v) }", "stmt: for _, v := range []int{1, 2} { f(v) }"},
		{"select", "select { case <-c: default: }", "stmt: select { case <-c: default: }"},
		{"label", "outer:\nfor i := 0; i < 3; i++ { continue outer }", "stmt: outer: for i := 0; i < 3; i++ { continue outer }"},
		{"block", "{ x := 1; f(x) }", "stmt: { x := 1 f(x) }"},
		{"function", "func f(a int) int { return a }\nf(1)", "decl: func f(a int) int { return a }\nfinal: f(1)"},
		{"functions on a line", "func f() {}; func g() {}", "decl: func f() { }\ndecl: func g() { }"},
		{"method", "func (t T) m() {}", "decl: func (t T) m() { }"},
		{"generic function", "func f[T any](x T) T { return x }", "decl: func f[T any](x T) T { return x }"},
		{"method of a generic type", "func (t *T[K, V]) m(k K) V { return t.v[k] }", "decl: func (t *T[K, V]) m(k K) V { return t.v[k] }"},
		{"function literal called", "func() { f() }()", "final: func() { f() }()"},
		{"function literal with parameters", "func(x int) int { return x }(3)", "final: func(x int) int { return x }(3)"},
		{"function literal with a generic result", "func(x int) T[int] { return g(x) }(3)", "final: func(x int) T[int] { return g(x) }(3)"},
		{"composite literal", "P{1, 2}", "final: P{1, 2}"},
		{"slice literal", "[]int{1,\n2,\n}", "final: []int{1, 2}"},
		{"generic type", "type Pair[K comparable, V any] struct { k K; v V }", "decl: type Pair[K comparable, V any] struct { k K v V }"},
		{"grouped constants", "const (\n a = iota\n b\n)\nb", "decl: const ( a = iota b )\nfinal: b"},
		{"variables", "var x, y int = 1, 2\nx", "stmt: var x, y int = 1, 2\nfinal: x"},
		{"import after statements", "x := 1\nimport \"fmt\"\nfmt.Println(x)", "import: \"fmt\"\nstmt: x := 1\nfinal: fmt.Println(x)"},
		{"imports", "import (\n \"fmt\"\n m \"math\"\n)", "import: \"fmt\"\nimport: m \"math\""},
		{"chain over lines", "a.\n b().\n c()", "final: a.b().c()"},
		{"CRLF", "x := 1\r\ny := `a\r\nb`\r\ny\r\n", "stmt: x := 1\nstmt: y := `a b`\nfinal: y"},
		{"byte order mark", "\uFEFFx := 1\nx", "stmt: x := 1\nfinal: x"},
		{"quantity", "x := 36.5`t/h`", "stmt: x := quantity·.Of(36.5, `t/h`)"},
		{"negative quantity", "-184`kg/h`", "final: -quantity·.Of(184, `kg/h`)"},
		{"quantity in a call", "f(2`h`.In(\"min\"), 3)", "final: f(quantity·.Of(2, `h`).In(\"min\"), 3)"},
		{"quantity in a literal", "[]Q{1`t`, 2`kg`}", "final: []Q{quantity·.Of(1, `t`), quantity·.Of(2, `kg`)}"},
		{"quantity as key and value", "m[1`t`] = 2`kg`", "stmt: m[quantity·.Of(1, `t`)] = quantity·.Of(2, `kg`)"},
		{"quantity deferred", "defer f(1`t`)", "stmt: defer f(quantity·.Of(1, `t`))"},
		{"raw string apart", "f(1, `t/h`)", "final: f(1, `t/h`)"},
		{"unit of many bytes", "1`µm` + 2`m³/h`", "final: quantity·.Of(1, `µm`) + quantity·.Of(2, `m³/h`)"},
		{"program", "package main\n\nimport \"fmt\"\n\nvar x = 1`t`\n\nfunc main() { fmt.Println(x) }",
			"import: \"fmt\"\ndecl: var x = quantity·.Of(1, `t`)\ndecl: func main() { fmt.Println(x) }"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			c, err := Parse(source.NewSet(), source.Cell{Name: "cell 1", Text: test.text})
			if err != nil {
				t.Fatalf("Parse: %v", err)
			}
			if got := shape(c); got != test.want {
				t.Errorf("got\n%s\nwant\n%s", got, test.want)
			}
		})
	}
}

// Every name and literal of a tree must stand in the cell's text at its position.
func TestPositionsAreThoseOfTheText(t *testing.T) {
	texts := []string{
		"x := 1\n\ty := \"µm\" + z // µ\nµ := y\nfunc f(a int) { g(a) }\nimport \"fmt\"\nfmt.Println(x, µ)",
		"\uFEFFfeed := 36.5`t/h`\r\ntails := -12`µm³`\r\nfeed/tails",
		"package main\nfunc main() { println(\"ü\", x) }",
	}
	for _, text := range texts {
		set := source.NewSet()
		set.Add(source.Cell{Text: "another cell"})
		c, err := Parse(set, source.Cell{Name: "cell 2", Text: text})
		if err != nil {
			t.Fatal(err)
		}
		checkPositions(t, c)
	}
}

func checkPositions(t *testing.T, c *Cell) {
	t.Helper()
	inspect := func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.Ident:
			if n.Name != Quantities && n.Name != "Of" && !strings.HasPrefix(c.Source.Text[c.Offset(n.Pos()):], n.Name) {
				t.Errorf("name %s does not stand at offset %d of %q", n.Name, c.Offset(n.Pos()), c.Source.Text)
			}
		case *ast.BasicLit:
			text := strings.ReplaceAll(c.Source.Text[c.Offset(n.Pos()):], "\r", "")
			if !strings.HasPrefix(text, n.Value) {
				t.Errorf("literal %s does not stand at offset %d of %q", n.Value, c.Offset(n.Pos()), c.Source.Text)
			}
		}
		return true
	}
	for _, x := range c.Imports {
		ast.Inspect(x, inspect)
	}
	for _, x := range c.Decls {
		ast.Inspect(x, inspect)
	}
	for _, x := range c.Statements {
		ast.Inspect(x, inspect)
	}
	if c.Final != nil {
		ast.Inspect(c.Final, inspect)
	}
}

func TestErrors(t *testing.T) {
	tests := []struct {
		name, text string
		want       []string // "line:column text", in order
	}{
		{"operand missing", "x := 1\ny := +\n", []string{"2:7 expected operand, found newline"}},
		{"several", "x := )\ny := 1 2\nz := 3", []string{"1:6 unexpected )", "2:8 expected"}},
		{"closing bracket too many", "f()\n}\nx", []string{"2:1 unexpected }"}},
		{"bracket not closed", "f(1\ny := 2", []string{"1:4 missing ','"}},
		{"string not terminated", "µ := \"abc", []string{"1:6 string literal not terminated"}},
		{"comment not terminated", "x /* abc", []string{"1:3 comment not terminated"}},
		{"only a comment, not terminated", "/* abc", []string{"1:1 comment not terminated"}},
		{"illegal character", "x := 1\n#", []string{"2:1 "}},
		{"bytes that are no text", "x := \"\xff\"", []string{"1:7 illegal UTF-8 encoding"}},
		{"no unit", "x := 3``", []string{"1:6 there is no unit"}},
		{"unit over lines", "x := 3`t\n`", []string{"1:7 the unit of a quantity must be on one line"}},
		{"octal quantity", "x := 010`t`", []string{"1:6 the number 010 starts with 0"}},
		{"blank before the unit", "x := 3 `t`", []string{"1:8 "}},
		{"directive", "//cobber:show\nx := 1", []string{"1:1 unknown directive //cobber:show"}},
		{"directive below code", "x := 1\n//cobber:inputs", []string{"2:1 a directive stands at the head of its cell"}},
		{"argument of a directive", "//cobber:working expnd\nx := 1", []string{"1:18 //cobber:working knows no argument \"expnd\""}},
		{"another package", "package size\nfunc f() {}", []string{"1:9 only package main"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := Parse(source.NewSet(), source.Cell{Name: "cell 1", Text: test.text})
			checkFaults(t, err, test.want)
		})
	}
}

func TestWordsBehindADirective(t *testing.T) {
	cell, err := Parse(source.NewSet(), source.Cell{Text: "//cobber:figure curves: The sizes of both\n//cobber:table\nx := 1"})
	if err != nil || len(cell.Directives) != 2 || cell.Directives[0].Arguments != "curves: The sizes of both" {
		t.Errorf("error %v, directives %v", err, cell.Directives)
	}
}

func TestIsComplete(t *testing.T) {
	tests := []struct{ text, status, indent string }{
		{"", "complete", ""},
		{"x", "complete", ""},
		{"x := 1 // done", "complete", ""},
		{"x +", "incomplete", "\t"},
		{"x :=", "incomplete", "\t"},
		{"a,", "incomplete", "\t"},
		{"f(1,", "incomplete", "\t"},
		{"func f() {", "incomplete", "\t"},
		{"for {\n\tif x {", "incomplete", "\t\t"},
		{"fmt.Println([]int{", "incomplete", "\t"},
		{"func f() {\n}", "complete", ""},
		{"s := `abc", "incomplete", ""},
		{"/* abc", "incomplete", ""},
		{"\"abc", "invalid", ""},
		{"x)", "invalid", ""},
		{"x y", "invalid", ""},
		{"36.5`t/h", "incomplete", ""},
		{"x;", "complete", ""},
	}
	for _, test := range tests {
		status, indent := IsComplete(test.text)
		if status != test.status || indent != test.indent {
			t.Errorf("IsComplete(%q) = %q, %q; want %q, %q", test.text, status, indent, test.status, test.indent)
		}
	}
}
