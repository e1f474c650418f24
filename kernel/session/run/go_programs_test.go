package run

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"
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

var goPrograms = flag.Bool("goprograms", false, "report how many programs of Go's own test folder run")

// TestGoPrograms reports, with -goprograms, how many of the run programs in Go's own test folder end as
// they should. It is a report and no gate: many of them need what cells refuse, such as package unsafe.
func TestGoPrograms(t *testing.T) {
	if !*goPrograms {
		t.Skip("a report of some minutes: ask for it with -goprograms")
	}
	var paths []string
	root := filepath.Join(runtime.GOROOT(), "test")
	filepath.WalkDir(root, func(path string, _ fs.DirEntry, err error) error {
		if text, readErr := os.ReadFile(path); err == nil && readErr == nil && bytes.HasPrefix(text, []byte("// run\n")) {
			paths = append(paths, path)
		}
		return nil
	})
	if len(paths) == 0 {
		t.Fatalf("no programs in %s", root)
	}
	var mu sync.Mutex
	var wait sync.WaitGroup
	missed := 0
	slots := make(chan struct{}, runtime.NumCPU())
	for _, path := range paths {
		wait.Go(func() {
			slots <- struct{}{}
			defer func() { <-slots }()
			if why := goProgram(path); why != "" {
				mu.Lock()
				defer mu.Unlock()
				missed++
				t.Logf("%s: %s", strings.TrimPrefix(path, root), why)
			}
		})
	}
	wait.Wait()
	t.Logf("%d of %d programs end as they should", len(paths)-missed, len(paths))
}

// goProgram runs a program in a process of its own and says what is wrong, or nothing.
func goProgram(path string) string {
	ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
	defer cancel()
	command := exec.CommandContext(ctx, os.Args[0])
	command.Env = append(os.Environ(), "COBBER_TEST_PROGRAM="+path, "GOMEMLIMIT=1GiB")
	command.Dir = os.TempDir()
	said, err := command.CombinedOutput()
	if err != nil {
		lines := strings.Split(strings.TrimSpace(string(said)), "\n")
		return fmt.Sprintf("%v: %s", err, lines[len(lines)-1])
	}
	want, err := os.ReadFile(strings.TrimSuffix(path, ".go") + ".out")
	if err == nil && string(want) != string(said) {
		return "prints something else"
	}
	return ""
}
