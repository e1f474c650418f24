package cells

import (
	"errors"
	"strings"
	"testing"
)

// TestWorkingChangesNothing runs each story again with the directive that shows
// the working of its cells: what they print, and how they fail, must stay. Only
// the lines are others, as the directive has one of its own.
func TestWorkingChangesNothing(t *testing.T) {
	if testing.Short() {
		t.Skip("slow: the whole corpus again")
	}
	for _, one := range readStories(t) {
		if one.refused != "" || strings.Contains(one.cells[0], "package main") {
			continue
		}
		if text := one.text(); strings.Contains(text, "runtime.Caller") || strings.Contains(text, "log.Lshortfile") {
			continue // prints numbers of lines, which the directive moves
		}
		t.Run(one.name, func(t *testing.T) {
			again := *one
			again.cells = nil
			for _, text := range one.cells {
				if !strings.HasPrefix(text, "\ufeff") {
					text = "//cobber:working expand\n" + text
				}
				again.cells = append(again.cells, text)
			}
			got, err := runInSession(&again)
			var refusal *refusedError
			if errors.As(err, &refusal) {
				t.Fatalf("refused with the directive: %s\n%s", refusal.text, one.text())
			}
			if err != nil {
				t.Fatalf("%v\n%s", err, one.text())
			}
			message, _, _ := strings.Cut(got.panic, "\n")
			want, _, _ := strings.Cut(one.golden.panic, "\n")
			if got.output != one.golden.output || message != want {
				t.Errorf("with the directive the cells print\n%s%s\nand without it\n%s%s\n%s", got.output, message, one.golden.output, want, one.text())
			}
		})
	}
}
