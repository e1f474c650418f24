package server_test

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"cobber/kernel/kerneltest"
	"cobber/kernel/server"
)

// keeping starts a session that keeps its cells in a file, runs some, and ends.
func keeping(t *testing.T, file string, cells ...string) *kerneltest.FrontEnd {
	f := kerneltest.NewFrontEndOf(t, &fakeSession{}, server.About{History: file})
	for _, c := range cells {
		f.Run(c)
	}
	return f
}

func told(f *kerneltest.FrontEnd, request object) string {
	return fmt.Sprint(f.Ask(server.Shell, "history_request", request).Reply().Content["history"])
}

func TestHistoryOfEarlierSessions(t *testing.T) {
	file := filepath.Join(t.TempDir(), "a folder", "history.jsonl")
	keeping(t, file, "value 1", "print a\nprint µ")
	f := keeping(t, file, "value 2")
	f.Run("value 3", "store_history", false)
	f.Run("value 4", "silent", true)
	f = keeping(t, file, "value 5")
	for _, c := range []struct {
		request object
		want    string
	}{
		{object{"hist_access_type": "tail", "n": 99}, "[[1 1 value 1] [1 2 print a\nprint µ] [2 1 value 2] [3 1 value 5]]"},
		{object{"hist_access_type": "tail", "n": 2, "output": true}, `[[2 1 [value 2 <nil>]] [3 1 [value 5 "5"]]]`},
		{object{"hist_access_type": "range", "session": 0, "start": 0}, "[[3 1 value 5]]"},
		{object{"hist_access_type": "range", "session": -2, "start": 2}, "[[1 2 print a\nprint µ]]"},
		{object{"hist_access_type": "range", "session": 2, "start": 0}, "[[2 1 value 2]]"},
		{object{"hist_access_type": "range", "session": -9, "start": 0}, "[]"},
		{object{"hist_access_type": "search", "pattern": "*µ"}, "[[1 2 print a\nprint µ]]"},
	} {
		if got := told(f, c.request); got != c.want {
			t.Errorf("%v:\ngot  %s\nwant %s", c.request, got, c.want)
		}
	}
	about, err := os.Stat(file)
	if err != nil {
		t.Fatal(err)
	}
	if runtime.GOOS != "windows" && about.Mode().Perm() != 0o600 {
		t.Errorf("others may read the file: %v", about.Mode())
	}
	folder, err := os.Stat(filepath.Dir(file))
	if err != nil || runtime.GOOS != "windows" && folder.Mode().Perm() != 0o700 {
		t.Errorf("others may look into the folder: %v, %v", folder, err)
	}
}

// A file that another program has spoiled, and cells that are too long for it.
func TestHistoryFileIsBounded(t *testing.T) {
	file := filepath.Join(t.TempDir(), "history.jsonl")
	if err := os.WriteFile(file, []byte("no line of ours\n{\"session\":\"a\",\"line\":1,\"input\":\"old\"}\n{\"sess"), 0o600); err != nil {
		t.Fatal(err)
	}
	f := keeping(t, file)
	if got := told(f, object{"hist_access_type": "tail", "n": 9}); got != "[[1 1 old]]" {
		t.Errorf("got %s", got)
	}
	f = keeping(t, file, "")
	filler := strings.Repeat("x", 30<<10)
	for i := range 80 {
		f.Run(fmt.Sprintf("value %d %s", i, filler))
	}
	f.Run("value " + strings.Repeat("y", 40<<10))
	about, err := os.Stat(file)
	if err != nil || about.Size() > 1<<20 || about.Size() < 1<<19 {
		t.Fatalf("the file has %d bytes (%v)", about.Size(), err)
	}
	if runtime.GOOS != "windows" && about.Mode().Perm() != 0o600 {
		t.Errorf("others may read the file that was cut: %v", about.Mode())
	}
	text, err := os.ReadFile(file)
	if err != nil || !strings.Contains(string(text), "value 79 ") || strings.Contains(string(text), "value 0 ") || strings.Contains(string(text), "yyy") {
		t.Errorf("the newest are not what is left, or a cell is there that is too long (%v)", err)
	}
	if left, err := filepath.Glob(filepath.Join(filepath.Dir(file), "*")); err != nil || len(left) != 1 {
		t.Errorf("beside the file there is %v, %v", left, err)
	}
}

func TestHistoryWithoutPlace(t *testing.T) {
	folder := t.TempDir()
	file := filepath.Join(folder, "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	f := keeping(t, filepath.Join(file, "history.jsonl"), "value 1", "value 2")
	if got := told(f, object{"hist_access_type": "tail", "n": 9}); got != "[[1 1 value 1] [1 2 value 2]]" {
		t.Errorf("got %s", got)
	}
}
