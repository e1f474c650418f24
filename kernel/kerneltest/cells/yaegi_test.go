package cells

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/traefik/yaegi/interp"
	"github.com/traefik/yaegi/stdlib"
)

var (
	yaegiReport = flag.Bool("yaegi", false, "report what yaegi alone makes of the stories")
	yaegiStory  = flag.String("yaegistory", "", "run one story by yaegi alone and print what it gives; used by the report")
)

// TestYaegiAlone is a report, not a gate: it gives the programs of the stories
// to yaegi and counts what comes out right, what stops with an error that Go would not
// give, and what is wrong without a word. The figures in README.md are of this kind.
func TestYaegiAlone(t *testing.T) {
	if *yaegiStory != "" {
		runByYaegi(t, *yaegiStory)
		return
	}
	if !*yaegiReport {
		t.Skip("a report, made with -yaegi")
	}
	var right, failed, silent []string
	for _, one := range readStories(t) {
		if strings.Contains(one.program, "cobber/stdlib") {
			continue
		}
		switch got, err := yaegiInChild(one.name); {
		case err == nil && got == one.golden.output+panicMessage(one.golden.panic):
			right = append(right, one.name)
		case err != nil || strings.Contains(got, panicMark):
			failed = append(failed, one.name)
		default:
			silent = append(silent, one.name)
		}
	}
	t.Logf("yaegi alone: %d stories right, %d failed with an error, %d silently wrong", len(right), len(failed), len(silent))
	t.Logf("failed: %s", strings.Join(failed, " "))
	t.Logf("silently wrong: %s", strings.Join(silent, " "))
}

const panicMark = "yaegi stopped: "

// panicMessage is a story's panic without its place, as a child prints it.
func panicMessage(golden string) string {
	if golden == "" {
		return ""
	}
	lines := strings.Split(strings.TrimSuffix(golden, "\n"), "\n")
	if last := len(lines) - 1; strings.HasPrefix(lines[last], "cell ") {
		lines = lines[:last]
	}
	return panicMark + strings.Join(lines, "\n") + "\n"
}

// yaegiInChild runs a story in a process of its own, which it may kill or hang.
func yaegiInChild(name string) (string, error) {
	ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
	defer cancel()
	command := exec.CommandContext(ctx, os.Args[0], "-test.run=^TestYaegiAlone$", "-yaegistory="+name)
	var stdout bytes.Buffer
	command.Stdout = &stdout
	err := command.Run()
	text, _, _ := strings.Cut(stdout.String(), "PASS\n")
	return text, err
}

func runByYaegi(t *testing.T, name string) {
	stories := readStories(t)
	one := stories[slices.IndexFunc(stories, func(s *story) bool { return s.name == name })]
	text := one.program
	if text == "" {
		var err error
		if text, err = convert(one.cells); err != nil {
			t.Fatal(err)
		}
	}
	i := interp.New(interp.Options{})
	if err := i.Use(stdlib.Symbols); err != nil {
		t.Fatal(err)
	}
	_, err := i.Eval(text)
	var stopped interp.Panic
	if errors.As(err, &stopped) {
		fmt.Printf("%s%v\n", panicMark, stopped.Value)
	} else if err != nil {
		t.Fatal(err)
	}
}
