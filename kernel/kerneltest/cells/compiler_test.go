package cells

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"time"
)

// standIn is the package name that programs built into one binary have in
// place of main, which cannot be imported. It has main's length, so that
// nothing shifts, and is turned back in what the program prints.
const standIn = "mqzn"

// A reference holds the compiled programs of the stories.
type reference struct {
	folder string // of binaries
	alone  map[string]bool
}

// compileStories builds all programs with one go build. They lie, by overlay,
// inside this module, so that they can import the library.
func compileStories(stories []*story, folder string) (*reference, error) {
	root, err := filepath.Abs("../../..")
	if err != nil {
		return nil, err
	}
	ref := &reference{folder: folder, alone: map[string]bool{}}
	overlay := map[string]string{}
	virtual := filepath.Join(root, "kernel", "kerneltest", "cells", "programs")
	place := func(dir, text string) error {
		real := filepath.Join(folder, "source", dir+".go")
		overlay[filepath.Join(virtual, dir, "program.go")] = real
		return os.WriteFile(real, []byte(text), 0o644)
	}
	if err := os.MkdirAll(filepath.Join(folder, "source"), 0o755); err != nil {
		return nil, err
	}
	all := "package main\n\nimport (\n\"os\"\n"
	table := "var programs = map[string]func(){\n"
	targets := []string{"./kernel/kerneltest/cells/programs/all"}
	for i, one := range stories {
		text := one.program
		if text == "" {
			if text, err = convert(one.cells); err != nil {
				return nil, fmt.Errorf("%s: %v", one.name, err)
			}
		}
		if mustStandAlone(text) {
			ref.alone[one.name] = true
			targets = append(targets, "./kernel/kerneltest/cells/programs/"+one.name)
		} else {
			text = asPackage(text)
			all += fmt.Sprintf("p%d \"cobber/kernel/kerneltest/cells/programs/%s\"\n", i, one.name)
			table += fmt.Sprintf("%q: p%d.Main,\n", one.name, i)
		}
		if err := place(one.name, text); err != nil {
			return nil, err
		}
	}
	if err := place("all", all+")\n\n"+table+"}\n\nfunc main() { programs[os.Args[1]]() }\n"); err != nil {
		return nil, err
	}
	return ref, build(root, folder, overlay, targets)
}

func build(root, folder string, overlay map[string]string, targets []string) error {
	text, err := json.Marshal(map[string]any{"Replace": overlay})
	if err != nil {
		return err
	}
	overlayFile := filepath.Join(folder, "overlay.json")
	if err := os.WriteFile(overlayFile, text, 0o644); err != nil {
		return err
	}
	binaries := filepath.Join(folder, "bin") + string(filepath.Separator)
	args := append([]string{"build", "-overlay", overlayFile, "-trimpath", "-o", binaries}, targets...)
	command := exec.Command("go", args...)
	command.Dir = root
	if report, err := command.CombinedOutput(); err != nil {
		return fmt.Errorf("go build: %v\n%s", err, report)
	}
	return nil
}

var (
	packageClause = regexp.MustCompile(`(?m)^package main$`)
	mainFunction  = regexp.MustCompile(`(?m)^func main\(\)`)
	initFunction  = regexp.MustCompile(`(?m)^func init\(\)`)
)

// mustStandAlone says whether a program does something before main, and so
// must not share a binary with others.
func mustStandAlone(text string) bool { return initFunction.MatchString(text) }

func asPackage(text string) string {
	text = packageClause.ReplaceAllString(text, "package "+standIn)
	return mainFunction.ReplaceAllString(text, "func Main()")
}

func (ref *reference) run(one *story) (result, error) {
	name, args := "all", []string{one.name}
	if ref.alone[one.name] {
		name, args = one.name, nil
	}
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second)
	defer cancel()
	command := exec.CommandContext(ctx, filepath.Join(ref.folder, "bin", name), args...)
	var stdout, stderr bytes.Buffer
	command.Stdout, command.Stderr = &stdout, &stderr
	err := command.Run()
	got := result{output: asMain(stdout.String())}
	if err == nil {
		return got, nil
	}
	got.panic = panicOf(asMain(stderr.String()))
	if got.panic == "" {
		return got, fmt.Errorf("the program ended with %v and wrote\n%s", err, stderr.String())
	}
	return got, nil
}

// asMain turns back the names of types: by package, and by the import path
// that stands in the names of instances.
func asMain(text string) string {
	text = importPath.ReplaceAllString(text, "main.")
	return strings.ReplaceAll(text, standIn+".", "main.")
}

var (
	importPath = regexp.MustCompile(`cobber/kernel/kerneltest/cells/programs/[-a-z0-9]+\.`)
	panicText  = regexp.MustCompile(`(?s)^panic: (.*?)\n\ngoroutine`)
	signalLine = regexp.MustCompile(`(?m)^\[signal .*\]\n?`)
	cellPlace  = regexp.MustCompile(`cell (\d+):(\d+)`)
)

// panicOf reads what the Go runtime writes on an uncaught panic: the message,
// and the innermost line of a cell on the stack.
func panicOf(stderr string) string {
	match := panicText.FindStringSubmatchIndex(stderr)
	if match == nil {
		return ""
	}
	message := signalLine.ReplaceAllString(stderr[match[2]:match[3]]+"\n", "")
	place := cellPlace.FindStringSubmatch(stderr[match[1]:])
	if place == nil {
		return message
	}
	return fmt.Sprintf("%scell %s, line %s\n", message, place[1], place[2])
}
