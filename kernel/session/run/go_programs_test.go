package run

import (
	"errors"
	"strings"
	"testing"
)

// TestFailures: what ends a program has Go's own message, and the line where it happened.
func TestFailures(t *testing.T) {
	for _, c := range []struct{ name, body, message, place string }{
		{"division", "a := 0\n\t_ = 1 / a", "runtime error: integer divide by zero", "main.go:4"},
		{"index", "var s []int\n\ti := 3\n\t_ = s[i]", "runtime error: index out of range [3] with length 0", "main.go:5"},
		{"nil map", "var m map[string]int\n\tm[\"a\"] = 1", "assignment to entry in nil map", "main.go:4"},
		{"nil pointer", "var p *struct{ n int }\n\tprintln(p.n)", "runtime error: invalid memory address or nil pointer dereference", "main.go:4"},
		{"assertion", "var v any = 1\n\t_ = v.(string)", "interface conversion: interface {} is int, not string", "main.go:4"},
		{"of the user's", "panic(\"no feed\")", "no feed", "main.go:3"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorld()
			err := w.run("main.go", "package main\nfunc main() {\n\t"+c.body+"\n}\n")
			var failed *Failure
			if !errors.As(err, &failed) {
				t.Fatalf("ended with %v", err)
			}
			if failed.Message != c.message {
				t.Errorf("says %q, want %q", failed.Message, c.message)
			}
			if place := w.fset.Position(failed.Calls[0].Pos).String(); !strings.HasPrefix(place, c.place+":") {
				t.Errorf("at %s, want %s", place, c.place)
			}
		})
	}
}
