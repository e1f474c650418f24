package session

import (
	"context"
	"fmt"
	"testing"

	"cobber/kernel/source"
)

// BenchmarkAssist asks for help while typing in a session of 500 names: variables of numbers, of
// quantities and of a type with methods, and functions.
//
//	go test ./kernel/session -run '^$' -bench Assist
func BenchmarkAssist(b *testing.B) {
	s := New()
	defer s.Close()
	s.Run(context.Background(), source.Cell{Name: "cell 1", Count: 1,
		Text: "type stream struct{ name string; mass quantity.Quantity }\nfunc (s stream) double() quantity.Quantity { return 2 * s.mass }"}, silent{})
	for i := range 125 {
		cell := fmt.Sprintf("number%[1]d := %[1]d * 2.5\nfeed%[1]d := %[1]d`t/h`\nstream%[1]d := stream{\"feed\", feed%[1]d}\nfunc rate%[1]d(x float64) float64 { return x * %[1]d }", i)
		if o := s.Run(context.Background(), source.Cell{Name: fmt.Sprintf("cell %d", i+2), Count: i + 2, Text: cell}, silent{}); o.Err != nil {
			b.Fatal(o.Err)
		}
	}
	const unfinished = "total := 0`t/h`\nfor i := range 10 {\n\ttotal += "
	for _, c := range []struct{ name, text string }{
		{"any-name", unfinished},
		{"name", unfinished + "fe"},
		{"method", unfinished + "stream77."},
		{"package", unfinished + "plot.Dr"},
		{"unit", "feed := 36.5`t/"},
	} {
		b.Run("complete/"+c.name, func(b *testing.B) {
			if found := s.Complete(c.text, len([]rune(c.text))); len(found.Matches) == 0 {
				b.Fatalf("nothing completes %q", c.text)
			}
			for b.Loop() {
				s.Complete(c.text, len([]rune(c.text)))
			}
		})
	}
	for _, c := range []struct{ name, text string }{
		{"variable", unfinished + "feed77"},
		{"method", unfinished + "stream77.double"},
		{"function", "rate77"},
		{"library", "plot.Draw"},
		{"method-of-the-library", unfinished + "feed77.Quantile"},
		{"standard-library", "import \"strings\"\nstrings.Repeat"},
	} {
		b.Run("inspect/"+c.name, func(b *testing.B) {
			if _, ok := s.Inspect(c.text, len([]rune(c.text))); !ok {
				b.Fatalf("nothing is known of %q", c.text)
			}
			for b.Loop() {
				s.Inspect(c.text, len([]rune(c.text)))
			}
		})
	}
}
