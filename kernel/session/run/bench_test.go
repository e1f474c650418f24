package run

import (
	"bytes"
	"embed"
	"os/exec"
	"path"
	"strconv"
	"strings"
	"testing"
)

// The programs of testdata/speed come in pairs that do the same work: NAME.go.txt has a function main,
// NAME.py a function main. Each result must be as fast as CPython's or faster:
//
//	go test ./kernel/session/run -run '^$' -bench Speed
//
//go:embed testdata/speed
var speedPrograms embed.FS

func BenchmarkSpeed(b *testing.B) {
	entries, err := speedPrograms.ReadDir("testdata/speed")
	if err != nil {
		b.Fatal(err)
	}
	python, missing := exec.LookPath("python3")
	for _, e := range entries {
		text, err := speedPrograms.ReadFile(path.Join("testdata/speed", e.Name()))
		if err != nil {
			b.Fatal(err)
		}
		switch name, kind, _ := strings.Cut(e.Name(), "."); kind {
		case "go.txt":
			b.Run(name+"/cell", func(b *testing.B) { benchmarkCell(b, string(text)) })
		case "py":
			if missing != nil {
				b.Log("python3 is not here: nothing to compare with")
				continue
			}
			b.Run(name+"/python", func(b *testing.B) { benchmarkPython(b, python, string(text)) })
		}
	}
}

func benchmarkCell(b *testing.B, text string) {
	w := newWorld()
	built, err := w.ready("speed.go", text)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := w.machine.Call(NewRun(), built.Func("main")); err != nil {
			b.Fatal(err)
		}
	}
}

// benchmarkPython reports the time that main takes, without the start of the interpreter.
func benchmarkPython(b *testing.B, python, text string) {
	const timing = "\nimport sys, time\nt = time.perf_counter_ns()\nfor _ in range(int(sys.argv[1])): main()\nprint(time.perf_counter_ns() - t)\n"
	out, err := exec.Command(python, "-c", text+timing, strconv.Itoa(b.N)).Output()
	if err != nil {
		b.Fatal(err)
	}
	total, err := strconv.ParseFloat(string(bytes.TrimSpace(out)), 64)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(total/float64(b.N), "ns/op")
}
