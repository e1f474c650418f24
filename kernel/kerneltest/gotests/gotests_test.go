package gotests

import (
	"bufio"
	"bytes"
	"context"
	"flag"
	"fmt"
	"go/build/constraint"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

// programTime is more than any of the programs needs, on a machine that has other things to do; those
// that are listed as misses get less.
const (
	programTime = 90 * time.Second
	missTime    = 10 * time.Second
)

var sample = flag.Int("sample", 1, "run every `n`th program only, and hold no list of misses to be complete")

var folder = flag.String("folder", "", "take the programs from `dir`, where the Go that runs this test has no test folder")

// TestPrograms runs the programs of Go's own test folder as cells.
func TestPrograms(t *testing.T) {
	if testing.Short() {
		t.Skip("running a thousand programs takes minutes: not in -short runs")
	}
	root := testFolder(t)
	found, elsewhere := programs(t, root)
	wanted := readMisses(t, found)
	if *sample > 1 {
		var kept []string
		for i := 0; i < len(found); i += *sample {
			kept = append(kept, found[i])
		}
		found = kept
	}
	results := runAll(root, found, wanted)
	right := 0
	for _, name := range found {
		why, reason := results[name], wanted[name]
		switch {
		case why == "":
			right++
			if reason != "" {
				t.Errorf("%s ends as it should, but misses.txt lists it (%s): take it out", name, reason)
			}
		case reason == "":
			t.Errorf("%s: %s", name, why)
		default:
			t.Logf("%s: %s: %s", name, reason, firstLine(why))
		}
	}
	t.Logf("%d of %d programs end as they should (%.1f %%); %d more are not for this platform without C, or parts of others",
		right, len(found), 100*float64(right)/float64(len(found)), elsewhere)
}

// testFolder finds the folder, which some distributions of Go leave out.
func testFolder(t *testing.T) string {
	t.Helper()
	if *folder != "" {
		return *folder
	}
	out, err := exec.Command("go", "env", "GOROOT").Output()
	root := filepath.Join(strings.TrimSpace(string(out)), "test")
	if err == nil {
		if _, err = os.Stat(filepath.Join(root, "helloworld.go")); err == nil {
			return root
		}
	}
	if os.Getenv("CI") == "true" {
		t.Fatalf("the test folder of Go is missing (%v): install Go from go.dev", err)
	}
	t.Skipf("the test folder of Go is missing (%v): install Go from go.dev to run its programs", err)
	return ""
}

// programs lists the programs that have only to be run, by their names in the folder, and counts those
// that this platform leaves out and those that are parts of others.
func programs(t *testing.T, root string) (found []string, elsewhere int) {
	t.Helper()
	err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, ".go") {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		if first, _, _ := strings.Cut(string(text), "\n"); strings.TrimSpace(first) != "// run" {
			return nil
		}
		if strings.HasSuffix(filepath.Dir(path), ".dir") || !forThisPlatform(text) {
			elsewhere++
			return nil
		}
		name, err := filepath.Rel(root, path)
		found = append(found, filepath.ToSlash(name))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(found) < 900 {
		t.Fatalf("only %d programs in %s", len(found), root)
	}
	slices.Sort(found)
	return found, elsewhere
}

// forThisPlatform evaluates the build constraints of a program, for a Go without C, as cells are.
func forThisPlatform(text []byte) bool {
	lines := bufio.NewScanner(bytes.NewReader(text))
	for lines.Scan() && !strings.HasPrefix(lines.Text(), "package ") {
		if !constraint.IsGoBuild(lines.Text()) {
			continue
		}
		expression, err := constraint.Parse(lines.Text())
		if err != nil {
			return false
		}
		return expression.Eval(func(tag string) bool {
			switch tag {
			case runtime.GOOS, runtime.GOARCH, "gc":
				return true
			case "unix":
				return runtime.GOOS != "windows" && runtime.GOOS != "js" && runtime.GOOS != "plan9"
			}
			return strings.HasPrefix(tag, "go1.")
		})
	}
	return true
}

// readMisses reads the list: a line that begins with = is the reason of the names that follow.
func readMisses(t *testing.T, found []string) map[string]string {
	t.Helper()
	text, err := os.ReadFile("misses.txt")
	if err != nil {
		t.Fatal(err)
	}
	reasons := map[string]string{}
	reason := ""
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSpace(line)
		switch {
		case line == "" || strings.HasPrefix(line, "#"):
		case strings.HasPrefix(line, "= "):
			reason = line[2:]
		case reason == "" || reasons[line] != "":
			t.Errorf("misses.txt: %s has no reason, or is listed twice", line)
		default:
			reasons[line] = reason
		}
	}
	for name := range reasons {
		if !slices.Contains(found, name) {
			t.Logf("misses.txt: %s is not among the programs of this Go", name)
		}
	}
	return reasons
}

func runAll(root string, names []string, misses map[string]string) map[string]string {
	var mu sync.Mutex
	var wait sync.WaitGroup
	results := map[string]string{}
	slots := make(chan struct{}, runtime.NumCPU())
	for _, name := range names {
		slots <- struct{}{}
		wait.Go(func() {
			defer func() { <-slots }()
			limit := programTime
			if misses[name] != "" {
				limit = missTime
			}
			why := runOne(root, name, limit)
			mu.Lock()
			defer mu.Unlock()
			results[name] = why
		})
	}
	wait.Wait()
	return results
}

// runOne says what is wrong with how a program ended, or nothing.
func runOne(root, name string, limit time.Duration) string {
	path := filepath.Join(root, filepath.FromSlash(name))
	ctx, cancel := context.WithTimeout(context.Background(), limit)
	defer cancel()
	said, err := command(ctx, root, path).CombinedOutput()
	if ctx.Err() != nil {
		return fmt.Sprintf("did not end in %v", limit)
	}
	if err != nil {
		return fmt.Sprintf("%v: %s", err, tail(string(said)))
	}
	want, err := os.ReadFile(strings.TrimSuffix(path, ".go") + ".out")
	if err == nil && string(want) != string(said) {
		return "prints\n" + tail(string(said))
	}
	return ""
}

// command is this test's own program, told to run another, with bounded memory.
func command(ctx context.Context, root, path string) *exec.Cmd {
	self, err := os.Executable()
	if err != nil {
		self = os.Args[0]
	}
	c := exec.CommandContext(ctx, self)
	if sh, err := exec.LookPath("sh"); err == nil && !underRace && runtime.GOOS == "linux" {
		c = exec.CommandContext(ctx, sh, "-c", `ulimit -v 12000000; exec "$0"`, self)
	}
	c.Env = append(os.Environ(), programVariable+"="+path, "GOMEMLIMIT=2GiB")
	c.Dir = root
	c.WaitDelay = 5 * time.Second
	return c
}

func tail(text string) string {
	text = strings.TrimSpace(text)
	if len(text) > 1500 {
		return text[:700] + "\n...\n" + text[len(text)-700:]
	}
	return text
}

func firstLine(text string) string {
	first, _, _ := strings.Cut(text, "\n")
	return first
}
