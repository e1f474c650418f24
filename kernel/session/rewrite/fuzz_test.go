package rewrite

import (
	"os"
	"path/filepath"
	"testing"
)

// Whatever the text: no panic, and a cell that checks can be built.
func FuzzCell(f *testing.F) {
	files, err := filepath.Glob("../../../testdata/cells/*.txt")
	if err != nil || len(files) == 0 {
		f.Fatalf("%d stories found, error %v", len(files), err)
	}
	for i, file := range files {
		if i%10 != 0 {
			continue // the stories have a test of their own
		}
		text, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		for _, cell := range cellsOf(string(text)) {
			f.Add(cell)
		}
	}
	for _, seed := range []string{"x := x*3`t`\nx", "var a, _ = 1, 2", "f := 2.0 * q", "type T T", "func (t T) m() {}\ntype T struct{}", "p{1, 2}", "q++"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s := newSession()
		before := s.run(t, "q := 3`t`\nx := 1.5\ntype p struct{ a, b int }\nfunc f() (int, error) { return 1, nil }")
		b := newBuilder(s.state)
		b.build(before)
		p, err := s.check(text)
		if err != nil {
			return
		}
		b.build(p)
		s.state.Commit(p, p.Statements)
	})
}
