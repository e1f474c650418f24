package kerneltest

import (
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestDoctor goes the way of a user: nothing installed, installed, program
// moved away, mended.
func TestDoctor(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the program: not in -short runs")
	}
	program := buildKernel(t)
	home := t.TempDir()
	first, second := filepath.Join(home, "first", "cobber"), filepath.Join(home, "second", "cobber")
	copyProgram(t, program, first)
	copyProgram(t, program, second)
	say := func(program string, args ...string) (string, int) {
		command := exec.Command(program, args...)
		command.Dir = home
		command.Env = []string{"HOME=" + home, "PATH=" + t.TempDir(), "JUPYTER_DATA_DIR=" + filepath.Join(home, "data")}
		text, err := command.CombinedOutput()
		if failure, is := errors.AsType[*exec.ExitError](err); is {
			return string(text), failure.ExitCode()
		}
		if err != nil {
			t.Fatal(err)
		}
		return string(text), 0
	}
	expect := func(code, wantCode int, text string, parts ...string) {
		t.Helper()
		if code != wantCode {
			t.Errorf("exit code %d, want %d:\n%s", code, wantCode, text)
		}
		for _, part := range parts {
			if !strings.Contains(text, part) {
				t.Errorf("%q is not said in:\n%s", part, text)
			}
		}
	}
	text, code := say(first, "doctor")
	expect(code, 1, text, "Jupyter does not know of cobber. Say: cobber install", "1 + 1", "stop ")
	text, code = say(first, "install")
	expect(code, 0, text, filepath.Join(home, "data", "kernels", "cobber"))
	text, code = say(first, "doctor")
	expect(code, 0, text, "All is well.", "starts "+first)
	text, code = say(second, "doctor")
	expect(code, 0, text, "Jupyter starts another program than this one")
	if err := os.Remove(first); err != nil {
		t.Fatal(err)
	}
	text, code = say(second, "doctor")
	expect(code, 1, text, "broken: there is no program "+first, `"cobber install -user" to mend it`)
	text, code = say(second, "install")
	expect(code, 0, text)
	text, code = say(second, "doctor")
	expect(code, 0, text, "All is well.", "starts "+second)
}

func copyProgram(t *testing.T, from, to string) {
	t.Helper()
	in, err := os.Open(from)
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
		t.Fatal(err)
	}
	out, err := os.OpenFile(to, os.O_CREATE|os.O_WRONLY, 0o755)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := io.Copy(out, in); err != nil {
		t.Fatal(err)
	}
	if err := out.Close(); err != nil {
		t.Fatal(err)
	}
}
