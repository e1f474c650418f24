package main

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"cobber/kernel/server"
)

func TestCheck(t *testing.T) {
	folder(t, map[string][]string{"a.ipynb": {"one 1.5", "two"}, "bare.ipynb": {"one"}})
	if code, _, stderr := cobber("run", "-o", "a.ipynb", "a.ipynb"); code != ok {
		t.Fatal(stderr)
	}
	code, stdout, _ := cobber("check", "a.ipynb")
	if code != ok || stdout != "a.ipynb: as saved\n" {
		t.Errorf("code %d, %q", code, stdout)
	}

	data, err := os.ReadFile("a.ipynb")
	if err != nil {
		t.Fatal(err)
	}
	changed := strings.Replace(string(data), `"one 1.5\n"`, `"one 1.6\n"`, 1)
	if changed == string(data) {
		t.Fatal("the saved output was not found")
	}
	if err := os.WriteFile("a.ipynb", []byte(changed), 0o666); err != nil {
		t.Fatal(err)
	}
	code, stdout, _ = cobber("check", "a.ipynb")
	if code != failed || !strings.Contains(stdout, "a.ipynb: cell 1, output 1, stdout: “one 1.6” was saved, and now it is “one 1.5” (1.6 and 1.5, 6.3 % apart)") {
		t.Errorf("code %d, %q", code, stdout)
	}
	if code, stdout, _ = cobber("check", "-tolerance", "0.1", "a.ipynb"); code != ok {
		t.Errorf("code %d within the tolerance, %q", code, stdout)
	}
	if now, _ := os.ReadFile("a.ipynb"); string(now) != changed {
		t.Error("check changed the notebook")
	}
	if code, _, stderr := cobber("check", "bare.ipynb"); code != failed || !strings.Contains(stderr, "saved without outputs") {
		t.Errorf("code %d without outputs, %q", code, stderr)
	}
	if code, _, _ := cobber("check"); code != misused {
		t.Errorf("code %d without a notebook", code)
	}
	if code, _, _ := cobber("check", "-tolerance", "-1", "a.ipynb"); code != misused {
		t.Errorf("code %d with a negative tolerance", code)
	}
}

func TestCheckOfAFailingCell(t *testing.T) {
	folder(t, map[string][]string{"a.ipynb": {"one", "fail"}})
	if code, _, _ := cobber("run", "-o", "a.ipynb", "a.ipynb"); code != failed {
		t.Fatalf("code %d", code)
	}
	if code, stdout, stderr := cobber("check", "a.ipynb"); code != failed || strings.Contains(stdout, "as saved") || !strings.Contains(stderr, "cell 2 failed") {
		t.Errorf("code %d, %q, %q", code, stdout, stderr)
	}
}

func TestCheckSetsTheInputsAgain(t *testing.T) {
	folder(t, map[string][]string{"a.ipynb": {"//cobber:inputs\nfeed := 36.5`t/h`\nname := \"a b\"", "feed * 2", "name"}})
	var stdout, stderr bytes.Buffer
	p := &program{stdout: &stdout, stderr: &stderr, newSession: func() (server.Session, error) { return newSession() }}
	if code := p.main([]string{"run", "-o", "a.ipynb", "-set", "feed=40 t/h", "-set", "name=c d", "a.ipynb"}); code != ok {
		t.Fatal(stderr.String())
	}
	if code := p.main([]string{"check", "a.ipynb"}); code != ok || stdout.String() != "a.ipynb: as saved\n" {
		t.Errorf("code %d, %s%s", code, stdout.String(), stderr.String())
	}
}
