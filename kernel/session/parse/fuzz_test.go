package parse

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"cobber/kernel/diag"
	"cobber/kernel/source"
)

// checkFaults compares faults with their wanted beginnings, "line:column text".
func checkFaults(t *testing.T, err error, want []string) {
	t.Helper()
	var list diag.List
	if !errors.As(err, &list) {
		t.Fatalf("error is %v, want a list of faults %q", err, want)
	}
	var got []string
	for _, d := range list {
		got = append(got, fmt.Sprintf("%d:%d %s", d.Pos.Line, d.Pos.Column, d.Summary))
	}
	if len(got) != len(want) {
		t.Fatalf("got %q, want %q", got, want)
	}
	for i := range want {
		if !strings.HasPrefix(got[i], want[i]) {
			t.Errorf("fault %d is %q, want %q", i, got[i], want[i])
		}
	}
}

// Whatever the text: no panic, every tree and every fault inside the cell.
func FuzzParse(f *testing.F) {
	for _, seed := range []string{
		"", "x", "x := 36.5`t/h`\nx", "for i := 0; i < 3; i++ {\n}; y", "func (a T) m() {}", "}{)(", "1``", "1`\n`",
		"package main\nfunc main() {}", "import (\"fmt\"; m \"math\")", "l: m: for {}", "/*", "`", "\"", "\xff\x00", "\uFEFF1`\uFEFF`",
		"//cobber:x\n1", "x[1`t`:2`t`]", "if f := func() bool { return true }; f() {}", "//line a:1\nx)", "type T[P any] struct{}", "\r\n\r",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		set := source.NewSet()
		c, err := Parse(set, source.Cell{Name: "cell 1", Text: text})
		if err == nil {
			checkPositions(t, c)
		}
		var list diag.List
		if errors.As(err, &list) {
			for _, d := range list {
				if d.Pos.Line < 1 || d.Pos.Line > 1+strings.Count(text, "\n") || d.Pos.Column < 1 {
					t.Errorf("fault outside the cell: %v", d)
				}
			}
		}
		if status, _ := IsComplete(text); status == "complete" && err != nil {
			t.Errorf("complete, but %v", err)
		}
	})
}

func BenchmarkParseSmallCell(b *testing.B) {
	b.ReportAllocs()
	for range b.N {
		if _, err := Parse(source.NewSet(), source.Cell{Text: "feed := 36.5`t/h`\nhours := 24`h`\nfeed * hours"}); err != nil {
			b.Fatal(err)
		}
	}
}
